"""
Which tables a calculation rests on, found in its own source: from its function through everything that this names.

Nothing is declared, so nothing can be forgotten; `tests/calc/test_sources_used.py` changes every other table and finds
the results as they were. A table is named as `table("boxes")["grounds"]["free"]`, at once or in steps.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache, lru_cache
from importlib.resources import files

from msgspec import Struct

from trainer.calc.calculation import Calculation
from trainer.calc.inputs import Kind
from trainer.calc.sources import Group, groups, is_own_word

__all__ = ["groups_used"]

#: Names of a table file, its group and what is in it; None where it is chosen as the program runs.
Path = tuple[str | None, ...]

#: A module of the core and a name in it.
Place = tuple[str, str]

#: Classes that know of every table and use none: what a calculation takes is followed by the kinds of its inputs.
_CLASSES = frozenset({"Input", "Kind", "Calculation"})

#: Lists of the names in a table, in which its numbers have no say.
_NAMES = frozenset({"SIZES", "TABLE_SIZES", "INSULATIONS", "TRADE_SIZES", "sizes_of"})

#: Modules that are kept parsed, of some seventy: all of them would take 7 MB, which a server's worker pays for.
MOST_PARSED = 16


class _Module(Struct, frozen=True):
    """What a module defines, and what it has from other modules of the core; "" for a module itself."""

    defined: dict[str, ast.AST]
    imported: dict[str, Place]


def groups_used(calculation: Calculation) -> tuple[Group, ...]:
    """The groups that the calculation, or the reading of its inputs, names; in the order of the tables."""
    read = {given.kind.name for given in calculation.inputs if not given.choices}
    starts = {_place(calculation.function)} | {("inputs", f"_READERS[{kind}]") for kind in read}
    paths = {path for start in starts for path in _paths_from(start)}
    return tuple(group for group in groups() if any(_leads_to(path, group) for path in paths))


def _place(function: object) -> Place:
    return getattr(function, "__module__", "").rpartition(".")[2], getattr(function, "__name__", "")


@cache
def _paths_from(start: Place) -> frozenset[Path]:
    """Every table path that can be reached from a definition."""
    found: set[Path] = set()
    seen, waiting = {start}, [start]
    while waiting:
        paths, named = _named_by(waiting.pop())
        found |= paths
        waiting += named - seen
        seen |= named
    return frozenset(found)


@cache
def _named_by(place: Place) -> tuple[frozenset[Path], frozenset[Place]]:
    """The table paths that one definition names, and the other definitions."""
    module, name = place
    node = _module(module).defined.get(name)
    if node is None or name in _CLASSES | _NAMES:
        return frozenset(), frozenset()
    paths, places = set[Path](), set[Place]()
    for part in _outermost(node, module):
        if path := _path_of(part, module):
            paths.add(path)
        elif there := _place_of(part, module):
            places.add(there)
    return frozenset(paths), frozenset(places)


def _outermost(node: ast.AST, module: str) -> Iterator[ast.AST]:
    """Every part of a definition, without the parts of a table path."""
    yield node
    if not _path_of(node, module):
        for part in ast.iter_child_nodes(node):
            yield from _outermost(part, module)


def _path_of(node: ast.AST, module: str) -> Path:
    """The table path that an expression is; () when it is none."""
    match node:
        case ast.Call(func=ast.Name(id="table"), args=[ast.Constant(value=str(name))]):
            return (name,)
        case ast.Subscript(value=value, slice=ast.Constant(value=str(key))) if outer := _path_of(value, module):
            return (*outer, key)
        case ast.Subscript(value=value) if outer := _path_of(value, module):
            return (*outer, None)
        case ast.Name() | ast.Attribute() if there := _place_of(node, module):
            defined = _module(there[0]).defined.get(there[1])
            return _path_of(defined, there[0]) if isinstance(defined, ast.expr) else ()
    return ()


def _place_of(node: ast.AST, module: str) -> Place | None:
    """Where a name of this module is defined; None for names from outside of the core."""
    known = _module(module)
    match node:
        case ast.Name(id=name) if name in known.defined:
            return module, name
        case ast.Name(id=name) if name in known.imported:
            return known.imported[name]
        case ast.Attribute(value=ast.Name(id=name), attr=attribute) if known.imported.get(name, ("", "-"))[1] == "":
            return known.imported[name][0], attribute
    return None


@lru_cache(maxsize=MOST_PARSED)
def _module(name: str) -> _Module:
    file = files("trainer.calc").joinpath(f"{name}.py")
    tree = ast.parse(file.read_text(encoding="utf-8") if file.is_file() else "")
    defined: dict[str, ast.AST] = {}
    imported: dict[str, Place] = {}
    for node in tree.body:
        match node:
            case ast.FunctionDef() | ast.ClassDef():
                defined[node.name] = node
            case ast.Assign(targets=[ast.Name(id=target)], value=value):
                defined[target] = value
            case ast.AnnAssign(target=ast.Name(id=target), value=ast.expr() as value):
                defined[target] = value
            case ast.ImportFrom(module=str(source)) if source.startswith("trainer.calc"):
                imported |= _imported(node, source)
    if name == "inputs":
        defined |= {f"_READERS[{kind.name}]": reader for kind, reader in _readers(defined["_READERS"])}
    return _Module(defined, imported)


def _imported(node: ast.ImportFrom, source: str) -> dict[str, Place]:
    """Names imported from a module, or modules from the package, each under the name that it has here."""
    if source == "trainer.calc":
        return {each.asname or each.name: (each.name, "") for each in node.names}
    return {each.asname or each.name: (source.rpartition(".")[2], each.name) for each in node.names}


def _readers(node: ast.AST) -> Iterator[tuple[Kind, ast.expr]]:
    """How each kind of input is read."""
    if isinstance(node, ast.Dict):
        for key, value in zip(node.keys, node.values, strict=True):
            if isinstance(key, ast.Attribute):
                yield Kind[key.attr], value


def _leads_to(path: Path, group: Group) -> bool:
    """Whether a table path names this group, a part of it, or something that it is a part of."""
    if any(step is not None and is_own_word(step) for step in path):
        return False  # What is said about a table decides no number.
    shared = zip(path, group.path, strict=False)
    rest = path[len(group.path) :]
    return all(step in {None, name} for step, name in shared) and (
        not rest or rest[0] is None or rest[0] in group.values
    )
