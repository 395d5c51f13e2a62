"""Assigned work on paper: a sheet for each learner, and the answers by the code of the sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from zoneinfo import ZoneInfo

from flask import url_for

from trainer.accounts.actor import Actor
from trainer.calc.cautions import cautions_for
from trainer.calc.message import Message, Quantity
from trainer.groups.sheets import Sheet, SheetLine, WorkSheets
from trainer.paper import (
    Blanks,
    Block,
    Cautions,
    Choices,
    Column,
    Document,
    Facts,
    Heading,
    Prose,
    Room,
    Table,
    Together,
    Words,
)
from trainer.paper import Sheet as SheetPages
from trainer.problems.bender import combinations, grouped
from trainer.problems.codes import spoken_code
from trainer.problems.model import CHOOSING, SEVERAL, AnswerKind, Problem
from trainer.problems.placing import accepted_places
from trainer.problems.worked import cautions, drawing
from trainer.text.formats import behind, quantity
from trainer.text.words import say
from trainer.web.language import gettext, language, ngettext
from trainer.web.moments import moment
from trainer.web.papers.readable import readable_code
from trainer.web.papers.sheet import document, figure

__all__ = ["answers_paper", "sheets_paper"]

#: Lines of caution of the work itself on a sheet, before the one that holds everywhere.
MOST_CAUTIONS = 3
#: Inches of squared paper below a question that is worked out, and below one that is chosen.
ROOM_TO_WORK = 1.5
DRAWING_SHARE = 0.62


def sheets_paper(found: WorkSheets, reader: Actor) -> Document:
    """One sheet for each learner, in the order of their names."""
    blocks = [_pages(sheet, found) for sheet in found.sheets]
    below = f"{found.work.group.name}, {found.work.group.organisation.name}"
    return document(found.work.title, below, blocks, reader)


def answers_paper(found: WorkSheets, reader: Actor) -> Document:
    """The answers, sheet by sheet, for who corrects by hand."""
    title = gettext("Answers: %(work)s") % {"work": found.work.title}
    below = f"{found.work.group.name}, {found.work.group.organisation.name}"
    said = (
        gettext("Not for learners. Each sheet has numbers of its own; its code stands at its top.")
        if found.work.shared_seed is None
        else gettext("Not for learners. All sheets have the same numbers; each has a code of its own at its top.")
    )
    blocks = [Words(said)]
    return document(title, below, [*blocks, *(_answers(sheet) for sheet in found.sheets)], reader)


def _pages(sheet: Sheet, found: WorkSheets) -> SheetPages:
    code = spoken_code(sheet.code)
    words = gettext("Sheet %(code)s, page {page} of {pages}") % {"code": code}
    return SheetPages(sheet.display_name, code, words, tuple(_sheet(sheet, found)))


def _sheet(sheet: Sheet, found: WorkSheets) -> Iterator[Block]:
    work, zone = found.work, ZoneInfo(found.work.group.organisation.time_zone)
    yield Heading(work.title, 0)
    address = url_for("learn.sheet", code=sheet.code, _external=True)
    given = ngettext("%(num)d question", "%(num)d questions", len(sheet.lines)) % {"num": len(sheet.lines)}
    yield Facts(
        (
            (gettext("Name"), sheet.display_name),
            (gettext("Class") if work.group.kind == "class" else gettext("Crew"), work.group.name),
            (gettext("Sheet"), spoken_code(sheet.code)),
            (gettext("Asks"), given),
            (gettext("Rules"), f"NFPA 70-{work.edition}"),
            (gettext("Due"), moment(work.due_at, zone)),
            (gettext("To type it in"), gettext("open the code with a phone's camera, signed in as yourself")),
        ),
        code=readable_code(address, gettext("Code that leads to the page where the answers are typed in")),
    )
    yield Cautions(gettext("Before the steel is touched"), _cautions(sheet))
    for line in sheet.lines:
        yield from _question(line, sheet)


def _cautions(sheet: Sheet) -> tuple[str, ...]:
    """Some of what can hurt in the work that is asked about, and that this is training."""

    def said(some: Iterable[Message]) -> list[str]:
        return [say(one, language()) for one in some]

    everywhere = said(cautions_for(""))
    own = dict.fromkeys(one for line in sheet.lines for one in said(cautions(line.family)) if one not in everywhere)
    return (*list(own)[:MOST_CAUTIONS], everywhere[0])


def _question(line: SheetLine, sheet: Sheet) -> Iterator[Block]:
    """Question, drawing and the place to answer stay together."""
    problem, place = line.problem, line.family.job
    title = place.title if place else line.family.title
    if problem is None:
        said = gettext(
            "This one goes on with your own numbers: it is asked on the phone, when the one before is typed in."
        )
        yield Together((Heading(f"{line.position}. {title}"), Words(said)))
        return
    asked: list[Block] = [Heading(f"{line.position}. {title}"), Prose(problem.text)]
    drawn = drawing(line.family, problem, solved=False, language=language(), key=f"{sheet.code}-{line.position}")
    if drawn:
        asked.append(figure(drawn, share=DRAWING_SHARE))
    asked += _options(problem)
    if problem.kind not in CHOOSING:
        asked.append(Room(ROOM_TO_WORK))
    asked.append(Blanks(((gettext("Answer %(nth)d") % {"nth": line.position}, _how(problem)),)))
    yield Together(tuple(asked))


def _options(problem: Problem) -> Iterator[Block]:
    """What can be chosen by its letters; of the bender on its tube group by group."""
    asked: dict[str, list[tuple[str, str]]] = {}
    for at, option in enumerate(problem.options):
        legend = grouped(problem, option.id).get("legend")
        said = "" if legend is None else say(legend, language())
        asked.setdefault(said, []).append((f"{letter(at)})", option.text))
    for said, rows in asked.items():
        if said:
            yield Words(said)
        yield Choices(tuple(rows))


def letter(at: int) -> str:
    """The letter of an option by its place, from 0; a phone takes it as an answer too."""
    return chr(ord("a") + at)


def _how(problem: Problem) -> str:
    """What is written on the line of the answer."""
    if problem.kind is AnswerKind.ORDER:
        return gettext("letters in their order")
    if problem.kind is AnswerKind.BENDER:
        return gettext("one letter of each group")
    if problem.kind in SEVERAL:
        return gettext("all letters that apply")
    if problem.kind in CHOOSING:
        return gettext("one letter")
    return gettext("in inches or feet and inches") if problem.unit == "in" else behind(problem.unit).strip()


def _answers(sheet: Sheet) -> Block:
    heads = (
        Column(gettext("No."), 0.3, is_number=True),
        Column(gettext("Question"), 2.4),
        Column(gettext("Right answer"), 2),
    )
    rows = tuple(
        (
            str(line.position),
            line.family.job.title if line.family.job else line.family.title,
            _right(line.problem) if line.problem else gettext("by the learner's own numbers"),
        )
        for line in sheet.lines
    )
    return Together((Heading(f"{spoken_code(sheet.code)}  {sheet.display_name}"), Table(heads, rows)))


def _right(problem: Problem) -> str:
    """The accepted answers as they are written: numbers with their units and how near is right, else letters."""
    if problem.kind is AnswerKind.PLACES:
        return gettext(" or ").join(list(accepted_places(problem))[:3])
    if problem.kind is AnswerKind.BENDER:
        return gettext(" or ").join(_letters(problem, one) for one in combinations(problem)[:3])
    said = []
    for key in problem.keys:
        if isinstance(key.value, int | float):
            said.append(quantity(Quantity(key.value, problem.unit), language()))
        else:
            said.append(_letters(problem, key.value))
    right = gettext(" or ").join(dict.fromkeys(said))
    if not problem.tolerance:
        return right
    within = quantity(Quantity(problem.tolerance, problem.unit), language())
    return gettext("%(right)s, within %(tolerance)s") % {"right": right, "tolerance": within}


def _letters(problem: Problem, value: str | tuple[str, ...]) -> str:
    """Ids of options by the letters that a sheet gives them; only an order keeps its own."""
    letters = {option.id: letter(at) for at, option in enumerate(problem.options)}
    ids = (value,) if isinstance(value, str) else value
    shown = [letters[one] for one in ids]
    return ", ".join(shown if problem.kind is AnswerKind.ORDER else sorted(shown))
