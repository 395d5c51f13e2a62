"""
A validated question file compiled: names, formulas, templates and amounts are looked at, and every finding is kept, so
that one reading tells an author everything.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from trainer.calc.calculation import Calculation
from trainer.calc.catalogue import CATALOGUE
from trainer.calc.strap_run import SLIPS
from trainer.calc.units import UNITS
from trainer.figures.catalogue import FIGURES
from trainer.problems.compiling_bender import bender_ask, bender_slips
from trainer.problems.errors import ContentError
from trainer.problems.facts import fact
from trainer.problems.findings import Findings
from trainer.problems.lines import KeyPath
from trainer.problems.model import CHOOSING, FINDING, AnswerKind
from trainer.problems.ordering import orders
from trainer.problems.parameters import ShapeError, amount, parameter
from trainer.problems.parts import Family, KnownMistake, Parameter, Statement, WorkStep
from trainer.problems.shape import FamilyShape, MistakeShape
from trainer.text.template import Template

__all__ = ["compile_family"]

#: What a mistake's `when` and `say`, and a statement's `why`, may call its own value.
VALUE = "value"
FEWEST_STEPS = 3
#: Right orders that a family may have; with more the order hardly matters.
MOST_ORDERS = 24


def compile_family(
    file: str, body: str, shape: FamilyShape, lines: Mapping[KeyPath, int], carried: tuple[str, ...] = ()
) -> Family:
    """
    Compile a family; `carried` are the names of numbers that a part of a job takes over from parts before it.

    Raises:
        ContentError: With every further finding in `also`.
    """
    findings = Findings(file, lines)
    calculation = CATALOGUE.get(shape.calculation)
    if calculation is None:
        findings.fail(("calculation",), shape.calculation, f"one of {', '.join(CATALOGUE)}")
        raise ContentError.of(findings.errors)
    family = _Compiler(shape, calculation, findings, carried).family(body)
    if findings.errors:
        raise ContentError.of(findings.errors)
    return family


class _Compiler:
    """One reading of one file."""

    def __init__(
        self, shape: FamilyShape, calculation: Calculation, findings: Findings, carried: tuple[str, ...] = ()
    ) -> None:
        self.shape = shape
        self.carried = carried
        self.calculation = calculation
        self.findings = findings
        self.fail = findings.fail
        self.outputs = {output.name: output for output in calculation.outputs}
        self.words: Mapping[str, tuple[float | str, ...]] = {}

    def family(self, body: str) -> Family:
        parameters, facts, answers = self.parameters(), self.facts(), self.answers()
        drawn = [*(name for entry in parameters for name in entry.names), *self.carried]
        self.words = {
            name: tuple(row[at] for row in entry.rows) for entry in parameters for at, name in enumerate(entry.names)
        }
        self.check_names(drawn, facts)
        self.check_kind()
        self.check_figure()
        self.findings.phrased = self.shape.phrases.keys()
        self.findings.told = drawn
        inputs = self.inputs(drawn)
        self.findings.names = [*drawn, *facts, *self.outputs]
        self.findings.told = set(self.findings.names) - {output for _, output in answers}
        return Family(
            file=self.findings.file,
            body=body,
            shape=self.shape,
            lines=self.findings.lines,
            calculation=self.calculation,
            unit=self.unit(answers),
            tolerance=self.tolerance(),
            parameters=parameters,
            facts=facts,
            inputs=inputs,
            keep=self.findings.formulas(("draw", "keep"), self.shape.draw.keep),
            answers=answers,
            text=self.findings.template(("ask", "text"), self.shape.ask.text),
            statements=self.statements(),
            steps=self.steps(),
            orders=self.orders(),
            mistakes=self.mistakes(),
            hints=self.hints(),
            bender=bender_ask(self.shape, self.outputs, self.findings),
        )

    def parameters(self) -> tuple[Parameter, ...]:
        found = []
        for name, entry in self.shape.draw.parameters.items():
            try:
                found.append(parameter(name, entry))
            except ShapeError as error:
                self.fail(("draw", name, *error.path), repr(error.given), error.accepted)
        return tuple(found)

    def facts(self) -> Mapping[str, float]:
        """Numbers of the core's tables by the names that the file gives them."""
        found = {}
        for name, path in self.shape.facts.items():
            value = self.shape.local.get(path, fact(path))
            if value is None:
                self.fail(("facts", name), path, 'a number in a table of the core, "support.emt.max_spacing"')
            else:
                found[name] = value
        return found

    def check_names(self, drawn: list[str], facts: Iterable[str]) -> None:
        for name in drawn:
            if name in {*self.outputs, VALUE} or drawn.count(name) > 1:
                self.fail(("draw", name), name, "a name that is drawn once and is no output of the calculation")
        for name in facts:
            if name in {*self.outputs, *drawn, VALUE}:
                self.fail(("facts", name), name, "a name that stands for nothing else")
        for name in self.shape.phrases:
            if name not in drawn:
                self.fail(("phrases", name), name, f"one of the drawn names {', '.join(drawn)}")

    def check_figure(self) -> None:
        figures = [name for name, figure in FIGURES.items() if figure.calculation == self.calculation.name]
        if self.shape.figure and self.shape.figure not in figures:
            self.fail(
                ("figure",), self.shape.figure, f"a figure of the calculation: {', '.join(figures) or 'none yet'}"
            )

    def inputs(self, drawn: list[str]) -> Mapping[str, Template]:
        known = [given.name for given in self.calculation.inputs]
        for name in self.shape.inputs:
            if name not in known or name in drawn:
                self.fail(("inputs", name), name, f"an input that is not drawn under its own name: {', '.join(known)}")
        for name in self.calculation.required_inputs:
            if name not in drawn and name not in self.shape.inputs:
                self.fail(("draw",), "nothing", f"a value for the input {name!r}, drawn or under [inputs]")
        return {name: self.findings.template(("inputs", name), text) for name, text in self.shape.inputs.items()}

    def answers(self) -> tuple[tuple[str, str], ...]:
        """Basis and output of each accepted answer; a basis has its own output by the core's suffix."""
        asked = self.shape.ask.answer
        if asked is None:
            return ()
        plain = (asked in self.outputs and self.outputs[asked].basis) or "sharp-corner"
        names = [(basis, asked if basis == plain else f"{asked}_{basis}") for basis in self.shape.basis]
        answers = tuple(names or [("", asked)])
        for basis, name in answers:
            output = self.outputs.get(name)
            if output is None or not output.unit:
                numbers = [output.name for output in self.outputs.values() if output.unit]
                self.fail(("ask", "answer"), name, f"an output that is a number: {', '.join(numbers)}")
            elif output.basis != basis:
                wanted = f'basis = ["{output.basis}", ...]' if output.basis else "no basis: there is only one"
                self.fail(("ask", "answer"), f"{name} on the basis of {basis or 'nothing'}", wanted)
        return answers

    def check_kind(self) -> None:
        """Each kind has keys that it needs and keys that it can't use."""
        ask = self.shape.ask
        if ask.kind is AnswerKind.BENDER:
            self.refuse_keys("answer", "tolerance", "options", "statements", "show", "steps", "free")
            if self.shape.figure:
                self.fail(("figure",), self.shape.figure, "no figure: the bender on its tube is drawn")
            return
        self.refuse_keys("bender")
        if ask.kind is AnswerKind.ORDER:
            self.refuse_keys("answer", "tolerance", "options", "statements", "show")
            return
        self.refuse_keys("steps", "free")
        if ask.kind is AnswerKind.PLACES:
            self.refuse_keys("answer", "tolerance", "options", "statements", "show")
            if self.calculation.name != "strap_places":
                self.fail(("calculation",), self.calculation.name, "strap_places, which judges places on a run")
            return
        if ask.kind in CHOOSING:
            if (ask.options is None) == (not ask.statements):
                self.fail(("ask",), f"kind {ask.kind}", "either ask.options or ask.statements")
            self.refuse_keys("answer", "tolerance")
            if ask.kind in FINDING:
                self.refuse_keys("options", "show")
                figure = FIGURES.get(self.shape.figure or "")
                if figure is None or not figure.lettered:
                    wanted = ", ".join(name for name, one in FIGURES.items() if one.lettered)
                    self.fail(("figure",), self.shape.figure or "nothing", f"one with letters: {wanted}")
            return
        self.refuse_keys("options", "statements", "show")
        if ask.answer is None:
            self.fail(("ask",), "no answer", "answer = the name of an output")
        if (ask.tolerance is None) != (ask.kind is AnswerKind.COUNT):
            wanted = "no tolerance: counting has none" if ask.kind is AnswerKind.COUNT else 'a tolerance, "1/16 in"'
            self.fail(("ask", "tolerance"), ask.tolerance or "nothing", wanted)

    def refuse_keys(self, *keys: str) -> None:
        for key in keys:
            if getattr(self.shape.ask, key):
                self.fail(("ask", key), getattr(self.shape.ask, key), f"no such key for a {self.shape.ask.kind}")

    def unit(self, answers: Iterable[tuple[str, str]]) -> str:
        """The unit of the answer, which is the core's: a length in inches, a count of something, degrees."""
        own = [self.outputs[name].unit for _, name in answers if name in self.outputs]
        if not own or self.shape.ask.kind in CHOOSING:
            return ""
        if (self.shape.ask.kind is AnswerKind.LENGTH) != (UNITS[own[0]].quantity == "length"):
            self.fail(("ask", "kind"), self.shape.ask.kind, f"a kind that fits an answer in {own[0]}")
        return own[0]

    def tolerance(self) -> float:
        given = self.shape.ask.tolerance
        try:
            return float(amount(given)) if given is not None else 0.0
        except ShapeError as error:
            self.fail(("ask", "tolerance"), repr(error.given), error.accepted)
            return 0.0

    def statements(self) -> tuple[Statement, ...]:
        found = []
        for at, entry in enumerate(self.shape.ask.statements):
            path = ("ask", "statements", at)
            text = self.findings.template((*path, "text"), entry.text)
            right = self.findings.formula((*path, "right"), entry.right)
            value = self.findings.formula((*path, "value"), entry.value) if entry.value else None
            why = self.findings.template((*path, "why"), entry.why, *([VALUE] if value else []))
            found.append(Statement(entry.id, text, right, why, entry.at or "", value))
            if bool(entry.at) != (self.shape.ask.kind in FINDING):
                wanted = "the place of its letter" if self.shape.ask.kind in FINDING else "no such key"
                self.fail((*path, "at"), entry.at or "nothing", wanted)
        self.findings.check_unique(("ask", "statements"), [statement.id for statement in found])
        return tuple(found)

    def steps(self) -> tuple[WorkStep, ...]:
        found = []
        for at, entry in enumerate(self.shape.ask.steps):
            path = ("ask", "steps", at)
            text = self.findings.template((*path, "text"), entry.text)
            found.append(WorkStep(entry.id, text, self.findings.template((*path, "why"), entry.why)))
        self.findings.check_unique(("ask", "steps"), [step.id for step in found])
        return tuple(found)

    def orders(self) -> tuple[tuple[str, ...], ...]:
        """Every right order; there are steps enough to go wrong, and not every order is right."""
        ask = self.shape.ask
        if ask.kind is not AnswerKind.ORDER:
            return ()
        ids = [step.id for step in ask.steps]
        for at, pair in enumerate(ask.free):
            if not set(pair) <= set(ids) or pair[0] == pair[1]:
                self.fail(("ask", "free"), pair, f"two of the steps {', '.join(ids)} (pair {at + 1})")
        if len(ids) < FEWEST_STEPS:
            self.fail(("ask", "steps"), f"{len(ids)} steps", f"{FEWEST_STEPS} or more")
            return ()
        found = orders(ids, ask.free)
        if len(found) > MOST_ORDERS:
            self.fail(("ask", "free"), f"{len(found)} right orders", f"at most {MOST_ORDERS}")
        return found

    def check_before(self, path: KeyPath, before: tuple[str, str] | None) -> None:
        """The pair of a mistake stands the other way round in the right order, and its order matters."""
        ids = [step.id for step in self.shape.ask.steps]
        if before is None or not set(before) <= set(ids):
            self.fail((*path, "before"), before or "nothing", f"two of the steps {', '.join(ids)}")
        elif ids.index(before[0]) <= ids.index(before[1]) or any(
            set(before) == set(pair) for pair in self.shape.ask.free
        ):
            self.fail((*path, "before"), before, "a step and one that must come before it")

    def mistakes(self) -> tuple[KnownMistake, ...]:
        found = tuple(self.mistake(at, entry) for at, entry in enumerate(self.shape.mistakes))
        self.findings.check_unique(("mistakes",), [mistake.id for mistake in found])
        return found

    def mistake(self, at: int, entry: MistakeShape) -> KnownMistake:
        path = ("mistakes", at)
        choosing = self.shape.ask.kind in CHOOSING
        ordering = self.shape.ask.kind is AnswerKind.ORDER
        if ordering:
            self.check_before(path, entry.before)
        elif self.shape.ask.kind is AnswerKind.BENDER:
            self.check_only_chose(path, entry)
        elif self.shape.ask.kind is AnswerKind.PLACES:
            if entry.shows not in SLIPS:
                self.fail((*path, "shows"), entry.shows or "nothing", f"one of {', '.join(SLIPS)}")
        elif (entry.option is None) == choosing or (entry.value is None) != choosing:
            self.fail(
                path, entry.id, "option = the id of an option" if choosing else "value = a formula, and no option"
            )
        statements = {statement.id for statement in self.shape.ask.statements}
        if statements and entry.option not in statements:
            self.fail((*path, "option"), entry.option, f"one of {', '.join(sorted(statements))}")
        texts = [entry.value] if isinstance(entry.value, str) else entry.value or []
        return KnownMistake(
            id=entry.id,
            values=self.findings.formulas((*path, "value"), texts),
            option=entry.option,
            before=entry.before,
            chose=bender_slips(self.shape, entry, path, self.findings),
            shows=entry.shows,
            when=self.findings.formula((*path, "when"), entry.when, VALUE) if entry.when else None,
            where=self.where(path, entry),
            say=self.findings.template((*path, "say"), entry.say, VALUE),
        )

    def check_only_chose(self, path: KeyPath, entry: MistakeShape) -> None:
        if entry.option or entry.value or entry.before or not entry.chose:
            self.fail(path, entry.id, "chose = the wrong choice of a group, and no value, option or before")

    def where(self, path: KeyPath, entry: MistakeShape) -> Mapping[str, tuple[str, ...]]:
        for name, words in entry.where.items():
            drawn = [word for word in self.words.get(name, ()) if isinstance(word, str)]
            if not set(words) <= set(drawn):
                self.fail((*path, "where"), f"{name} = {words}", f"words that are drawn for {name}: {', '.join(drawn)}")
        return {name: tuple(words) for name, words in entry.where.items()}

    def hints(self) -> tuple[Template, ...]:
        return tuple(self.findings.template(("hints", at, "say"), hint.say) for at, hint in enumerate(self.shape.hints))
