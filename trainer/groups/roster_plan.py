"""
What a class list would do, line by line, before it does it: who is new, who is in the class already, who comes back.

A line is the same person as a member whom the list named so before, or who is called so; a number or a sign-in name
tells two people of one name apart. So the same list twice, or a longer one later, adds nobody a second time, also where
somebody has changed the name that others read.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping, Sequence
from enum import StrEnum

from msgspec import Struct
from msgspec.structs import replace
from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from trainer.accounts.names import LONGEST, SHORTEST, fold_sign_in_name, read_display_name, read_sign_in_name
from trainer.accounts.refs import GroupRef
from trainer.calc.message import InputError, Message
from trainer.groups.roster_columns import ListedPerson, fold_name
from trainer.records.models import Membership, Person

__all__ = ["Fate", "PlannedLine", "plan"]

LONGEST_NUMBER = 40
#: So many people of one name get a counted sign-in name.
MOST_ALIKE = 40
#: Letters that are no plain letter with an accent.
NO_ACCENT = str.maketrans({"ł": "l", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i"})


class Fate(StrEnum):
    """What a line does."""

    NEW = "new"
    JOINS = "joins"
    AGAIN = "again"
    THERE = "there"
    KEPT = "kept"
    BAD = "bad"


class PlannedLine(Struct, frozen=True):
    """
    One line of the list.

    Args:
        line: Its number in the file.
        name: The name that others will read.
        fate: What becomes of it.
        number: Number of the person; "" for none.
        sign_in: What the person signs in with, or will; "" where the line cannot be used.
        why: Why a line is left as it is, or what is wrong with it.
        person_id: The key of a person who is known already.
    """

    line: int
    name: str
    fate: Fate
    number: str = ""
    sign_in: str = ""
    why: Message | None = None
    person_id: int | None = None


class _Known(Struct, frozen=True):
    """Somebody who is or was in the class, or in its school under a sign-in name that the list gives."""

    person_id: int
    sign_in: str
    names: frozenset[str]
    number: str
    learns_here: bool
    learned_here: bool
    learns_nearby: bool
    elsewhere: bool
    leads: bool


def plan(session: Session, group: GroupRef, people: Sequence[ListedPerson]) -> list[PlannedLine]:
    """What each line of a list does to a group; a handful of queries, however long the list."""
    checked = _one_sign_in_each([_checked(one) for one in people])
    known = _known(session, group, {one.sign_in for one in people if one.sign_in})
    matched = _matched([one for one in checked if one.fate is Fate.NEW], known)
    lines = [matched.get(one.line, one) for one in checked]
    return _named(session, lines)


def _checked(one: ListedPerson) -> PlannedLine:
    """The line by itself: new as far as it can be read, else what is wrong with it."""
    if why := _unusable(one):
        return PlannedLine(one.line, one.name, Fate.BAD, one.number[:LONGEST_NUMBER], why=why)
    sign_in = read_sign_in_name(one.sign_in) if one.sign_in else ""
    return PlannedLine(one.line, read_display_name(one.name), Fate.NEW, one.number, sign_in)


def _unusable(one: ListedPerson) -> Message | None:
    if not one.name:
        return Message("groups.roster-no-name")
    if len(one.number) > LONGEST_NUMBER:
        return Message("groups.roster-number-long", {"most": LONGEST_NUMBER})
    try:
        read_display_name(one.name)
        if one.sign_in:
            read_sign_in_name(one.sign_in)
    except InputError as error:
        return error.reason
    return None


def _one_sign_in_each(lines: Sequence[PlannedLine]) -> list[PlannedLine]:
    """The lines; of two that give the same sign-in name only the first can be used."""
    first: dict[str, PlannedLine] = {}
    kept = []
    for line in lines:
        before = first.setdefault(line.sign_in, line)
        if not line.sign_in or before is line:
            kept.append(line)
        elif fold_name(before.name) == fold_name(line.name):
            kept.append(_same_again(line, before.line))
        else:
            why = Message("groups.roster-sign-in-twice", {"name": line.sign_in, "line": before.line})
            kept.append(replace(line, fate=Fate.BAD, why=why))
    return kept


def _known(session: Session, group: GroupRef, sign_ins: set[str]) -> list[_Known]:
    """Everybody who ever belonged to the group, and whoever signs in with a name of the list."""
    wanted = {fold_sign_in_name(one) for one in sign_ins}
    here = select(Membership.person_id).where(Membership.group_id == group.id)
    query = (
        select(Person, Membership)
        .outerjoin(Membership, Membership.person_id == Person.id)
        .where(Person.deleted_at.is_(None), or_(Person.id.in_(here), Person.sign_in_name.in_(wanted)))
        .order_by(Person.id, Membership.id)
    )
    rows: defaultdict[int, list[Membership]] = defaultdict(list)
    people: dict[int, Person] = {}
    for person, membership in session.execute(query):
        people[person.id] = person
        rows[person.id] += [membership] if membership is not None else []
    known = [_of_person(people[key], of, group) for key, of in rows.items()]
    return sorted(known, key=lambda one: (not one.learns_here, one.person_id))


def _of_person(person: Person, memberships: Sequence[Membership], group: GroupRef) -> _Known:
    here = [one for one in memberships if one.group_id == group.id and one.role == "learner"]
    still = [one for one in memberships if one.ended_at is None]
    open_ones = [one for one in still if one.organisation_id == group.organisation.id]
    called = {person.display_name, *(one.roster_name for one in here if one.roster_name)}
    return _Known(
        person_id=person.id,
        sign_in=person.sign_in_name or "",
        names=frozenset(map(fold_name, called)),
        number=next((one.roster_number for one in reversed(here) if one.roster_number), ""),
        learns_here=any(one.ended_at is None for one in here),
        learned_here=bool(here),
        learns_nearby=any(one.role == "learner" for one in open_ones),
        elsewhere=len(still) > len(open_ones),
        leads=any(one.role != "learner" for one in open_ones) or person.is_site_administrator,
    )


def _matched(lines: Sequence[PlannedLine], known: Sequence[_Known]) -> dict[int, PlannedLine]:
    """Each line with the person whom it means, where there is one; by its number in the file."""
    by_sign_in = {one.sign_in: one for one in known}
    found: dict[int, PlannedLine] = {}
    taken: dict[int, int] = {}

    def settle(line: PlannedLine, person: _Known) -> None:
        first = taken.setdefault(person.person_id, line.line)
        found[line.line] = _same_again(line, first) if first != line.line else _fate(line, person)

    for line in lines:
        if line.sign_in in by_sign_in:
            settle(line, by_sign_in[line.sign_in])
    alike: defaultdict[str, list[PlannedLine]] = defaultdict(list)
    for line in lines:
        alike[fold_name(line.name)].append(line)
    for name, of_name in alike.items():
        here = [one for one in known if one.learned_here and name in one.names and one.person_id not in taken]
        for line, person in _pairs([line for line in of_name if line.line not in found], here, len(of_name) == 1):
            settle(line, person)
        found |= _twice(of_name, found)
    return found


def _pairs(
    lines: Sequence[PlannedLine],
    here: Sequence[_Known],
    only_one: bool,
) -> list[tuple[PlannedLine, _Known]]:
    """Lines of one name with members of that name: by number first, then those without one in their order."""
    left = list(here)
    pairs, rest = [], []
    for line in lines:
        same = next((one for one in left if line.number and one.number == line.number), None)
        if same is None:
            rest.append(line)
        else:
            left.remove(same)
            pairs.append((line, same))
    for line in rest:
        # A single line of a name is its one member even where the number differs: many lists count their lines. Who
        # has left is not: another number may be somebody else's.
        fits = [one for one in left if not (line.number and one.number) or (only_one and one.learns_here)]
        if fits:
            person = fits[0]
            left.remove(person)
            pairs.append((line, person))
    return pairs


def _twice(lines: Sequence[PlannedLine], found: Mapping[int, PlannedLine]) -> dict[int, PlannedLine]:
    """Of lines with one name, those that nothing tells apart from an earlier one are left as they are."""
    left: dict[int, PlannedLine] = {}
    seen: dict[str, int] = {}
    for line in lines:
        mark = line.number or line.sign_in
        is_told = not seen or (mark and mark not in seen and "" not in seen)
        if line.line in found or is_told:
            seen.setdefault(mark, line.line)
        else:
            left[line.line] = _same_again(line, seen.get(mark, next(iter(seen.values()))))
    return left


def _same_again(line: PlannedLine, first: int) -> PlannedLine:
    why = Message("groups.roster-twice", {"line": first})
    return replace(line, fate=Fate.KEPT, why=why, sign_in="")


def _fate(line: PlannedLine, person: _Known) -> PlannedLine:
    """What a line does that means somebody known."""
    same = replace(line, sign_in=person.sign_in, person_id=person.person_id)
    if person.learns_here:
        return replace(same, fate=Fate.THERE)
    if person.leads:
        return replace(same, fate=Fate.KEPT, why=Message("groups.roster-leads"))
    if person.learned_here and person.elsewhere:
        return replace(line, fate=Fate.KEPT, why=Message("groups.roster-left"))
    if person.learned_here:
        return replace(same, fate=Fate.AGAIN)
    if person.learns_nearby:
        return replace(same, fate=Fate.JOINS)
    why = Message("groups.roster-elsewhere", {"name": person.sign_in})
    return replace(line, fate=Fate.BAD, why=why)


def _named(session: Session, lines: Sequence[PlannedLine]) -> list[PlannedLine]:
    """The lines with a sign-in name for everybody who is new and was given none."""
    stems = {line.line: _stem(line.name) for line in lines if line.fate is Fate.NEW and not line.sign_in}
    wanted = {name for stem in stems.values() for name in _counted(stem)}
    used = set(session.scalars(select(Person.sign_in_name).where(Person.sign_in_name.in_(wanted)))) if wanted else set()
    used |= {line.sign_in for line in lines if line.fate is Fate.NEW and line.sign_in}
    return [_with_name(line, stems, used) if line.line in stems else line for line in lines]


def _with_name(line: PlannedLine, stems: Mapping[int, str], used: set[str | None]) -> PlannedLine:
    free = next((name for name in _counted(stems[line.line]) if name not in used), None)
    if free is None:
        return replace(line, fate=Fate.BAD, why=Message("groups.roster-no-sign-in"))
    used.add(free)
    return replace(line, sign_in=free)


def _counted(stem: str) -> list[str]:
    return [stem, *(f"{stem}.{nth}" for nth in range(2, MOST_ALIKE))]


def _stem(name: str) -> str:
    """
    What somebody of this name signs in with, unless somebody else does: first and last name, as that is typed on a
    phone; in a script without Latin letters "learner".

    >>> _stem("José M. Ruiz-Peña"), _stem("O'Neil, Bo"), _stem("Li"), _stem("李明")
    ('jose.ruiz-pena', 'oneil.bo', 'li.learner', 'learner')
    """
    folded = re.sub(r"['’`.]", "", fold_sign_in_name(name).translate(NO_ACCENT))
    parts = ["-".join(re.findall(r"[a-z0-9]+", word)) for word in folded.split()]
    parts = [part for part in parts if part[:1].isalpha()]
    stem = ".".join(dict.fromkeys([*parts[:1], *parts[-1:]]))[: LONGEST - 3].rstrip(".-")
    if not stem:
        return "learner"
    return stem if len(stem) >= SHORTEST else f"{stem}.learner"
