"""
Rules of a place laid over question files: the number, the words and the source change together.

A file of `questions/local/` says in a sentence what holds there, where that comes from, which numbers of the core's
tables are other ones, and which inputs calculations get where a family leaves them out. A family that rests on any of
these becomes another family of the same id with hashes of its own, so that its statistics stay apart and its problems
can be shown and graded for ever.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Annotated, Any

import tomli_w
from msgspec import Meta, Struct

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.message import InputError
from trainer.problems.errors import ContentError
from trainer.problems.facts import fact
from trainer.problems.family import read_toml
from trainer.problems.job_file import load_file
from trainer.problems.lines import line_of
from trainer.problems.parts import Family
from trainer.problems.shelf import LOCAL_FOLDER
from trainer.problems.struct_shaping import Finite, shaped_struct

__all__ = [
    "LocalRule",
    "is_thinned",
    "laid_over",
    "lay_over",
    "lay_over_file",
    "load_local_rule",
    "load_local_rules",
    "touches",
]

HERE = "**Here:** "
"""What begins a rule's sentence in the text of a question that it is laid over."""


Id = Annotated[str, Meta(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*\Z", max_length=40)]
Name = Annotated[str, Meta(pattern=r"^[a-z][a-z0-9_]*\Z", max_length=40)]
Path_ = Annotated[str, Meta(pattern=r"^[a-z_]+(\.[A-Za-z0-9_]+)+\Z")]
Line = Annotated[str, Meta(min_length=1, max_length=300)]


class _Shape(Struct, frozen=True, forbid_unknown_fields=True):
    id: Id
    title: Annotated[str, Meta(min_length=1, max_length=80)]
    say: Line
    source: Line
    values: dict[Path_, Finite] = {}
    inputs: dict[Name, dict[Name, Line]] = {}


class LocalRule(Struct, frozen=True):
    """
    What holds at a place beside the code.

    Args:
        file: For errors.
        id: Kebab-case, unique; the file's name.
        title: For lists.
        say: What holds there, in a sentence that learners read.
        source: Where it comes from.
        values: Numbers of the core's tables that are other ones, by "file.group.key", in the core's units.
        inputs: Per calculation, the texts of inputs that a family leaves out.
    """

    file: str
    id: str
    title: str
    say: str
    source: str
    values: Mapping[str, float]
    inputs: Mapping[str, Mapping[str, str]]


def load_local_rules(folder: Path) -> Mapping[str, LocalRule]:
    """
    Every local rule of the folder `questions`, by id; none where it has no folder `local`.

    Raises:
        ContentError: With everything that was found wrong in all of the files.
    """
    rules: dict[str, LocalRule] = {}
    errors: list[ContentError] = []
    for path in sorted((folder / LOCAL_FOLDER).glob("*.toml")):
        name = f"{folder.name}/{LOCAL_FOLDER}/{path.name}"
        try:
            rule = load_local_rule(path.read_text("utf-8"), name)
        except ContentError as error:
            errors += error.every
            continue
        if rule.id != path.stem:
            errors.append(ContentError(name, 1, "id", repr(rule.id), f"{path.stem!r}, the file's name"))
        rules[rule.id] = rule
    if errors:
        raise ContentError.of(errors)
    return MappingProxyType(rules)


def load_local_rule(text: str, name: str = "a local rule") -> LocalRule:
    """
    Read one.

    Raises:
        ContentError: For a wrong shape, a number that the tables don't have, an input that a calculation doesn't take.
    """
    shape, lines = shaped_struct(name, text, read_toml(name, text), _Shape)
    found = [
        ContentError(name, line_of(lines, path), ".".join(path), given, accepted)
        for path, given, accepted in _unusable(shape)
    ]
    if found:
        raise ContentError.of(found)
    return LocalRule(name, shape.id, shape.title, shape.say, shape.source, shape.values, shape.inputs)


def _unusable(shape: _Shape) -> Iterator[tuple[tuple[str, ...], str, str]]:
    if not (shape.values or shape.inputs):
        yield ("values",), "nothing", "a number that is another one here, under [values] or [inputs]"
    for path in shape.values:
        if fact(path) is None:
            yield ("values", path), path, 'a number in a table of the core, "support.emt.max_spacing"'
    for name, texts in shape.inputs.items():
        if name not in CATALOGUE:
            yield ("inputs", name), name, f"one of {', '.join(CATALOGUE)}"
            continue
        optional = {given.name: given for given in CATALOGUE[name].inputs if given.optional}
        for key, text in texts.items():
            if key not in optional:
                yield ("inputs", name, key), key, f"an input that may be left out: {', '.join(optional) or 'none'}"
                continue
            try:
                optional[key].read(text)
            except InputError as error:
                yield ("inputs", name, key), repr(text), f"an input such as {error.example}"


def touches(rule: LocalRule, family: Family) -> bool:
    """Whether a family rests on anything that is another number under this rule."""
    return bool(
        rule.values.keys() & {*family.shape.facts.values()}
        or rule.inputs.get(family.calculation.name, {}).keys() - _given(family)
    )


def lay_over(family: Family, rules: Iterable[LocalRule]) -> Family:
    """
    The family as it is asked under these rules; the family itself where none of them touches it, or its job.

    Of two rules that set the same number the later one holds.

    Raises:
        ContentError: When the family can't be asked in that way.
    """
    return next(one for one in lay_over_file(family, rules) if one.id == family.id)


def lay_over_file(family: Family, rules: Iterable[LocalRule]) -> tuple[Family, ...]:
    """
    The same for everything that stands in a family's file: the family alone, or all parts of its job.

    Raises:
        ContentError: When one can't be asked in that way.
    """
    parts = family.job.parts if family.job else (family,)
    touching = [rule for rule in rules if any(touches(rule, part) for part in parts)]
    if not touching:
        return parts
    data = tomllib.loads(family.body)
    for rule in touching:
        for part, own in zip(parts, data["parts"] if family.job else [data], strict=True):
            if touches(rule, part):
                _lay(data, own, part, rule)
    names = ", ".join(rule.id for rule in touching)
    return load_file(tomli_w.dumps(data), f"{family.file} under {names}")


def laid_over(family: Family, rules: Iterable[LocalRule]) -> tuple[LocalRule, ...] | None:
    """
    The rules under which a family on record was asked, told by the numbers and inputs that they put into its file.

    Returns:
        None where one of them is not among these rules as it was: another number there by now, or gone.
    """
    parts = family.job.parts if family.job else (family,)
    laid = [(rule, part) for rule in rules for part in parts if HERE in part.shape.ask.text and _is_laid(rule, part)]
    said = sum(part.shape.ask.text.count(HERE) for part in parts)
    return tuple({rule.id: rule for rule, _ in laid}.values()) if len(laid) == said else None


def is_thinned(error: ContentError) -> bool:
    """Whether a finding only says that a stricter rule leaves fewer problems or known mistakes of a family."""
    return error.given.endswith(("different problems", "never happens"))


def _lay(data: dict[str, Any], own: dict[str, Any], family: Family, rule: LocalRule) -> None:
    """One rule laid over the plain values of a file; `own` are those of the family, or of the part of a job."""
    named = {path: value for path, value in rule.values.items() if path in family.shape.facts.values()}
    if named:
        data.setdefault("local", {}).update(named)
    for name, text in rule.inputs.get(family.calculation.name, {}).items():
        if name not in _given(family):
            own.setdefault("inputs", {})[name] = text
    own["ask"]["text"] = f"{own['ask']['text'].rstrip()}\n\n{HERE}{rule.say}\n"
    own["sources"] = [*own.get("sources", []), rule.source]


def _is_laid(rule: LocalRule, family: Family) -> bool:
    """Whether what a rule sets in a family stands in it."""
    named = {path: value for path, value in rule.values.items() if path in family.shape.facts.values()}
    texts = rule.inputs.get(family.calculation.name, {})
    filled = any(family.shape.inputs.get(name) == text for name, text in texts.items())
    return named.items() <= family.shape.local.items() and bool(named or filled)


def _given(family: Family) -> set[str]:
    """Inputs that the family itself draws or fills in."""
    return {*family.shape.inputs, *(name for parameter in family.parameters for name in parameter.names)}
