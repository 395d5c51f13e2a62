"""What the page of a problem shows, as plain values."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct

from trainer.calc.message import Message, Quantity
from trainer.calc.step import Step
from trainer.problems.model import AnswerKind
from trainer.progress.job_view import JobView

__all__ = ["AcceptedAnswer", "AttemptView", "MistakeView", "OptionView", "ProblemPage", "RefusedOption"]


class OptionView(Struct, frozen=True):
    """
    One thing to choose.

    Args:
        id: What the form sends.
        letter: "a" for the first, and so on; taken as an answer too.
        html: What it says.
        chosen: Whether the last answer chose it.
        right: Whether it is an answer; None while the problem is open.
        why_html: Why it is or isn't one; "" while the problem is open.
        place: Of steps in order: which place the last answer gave it, from 1; 0 for none.
        belongs: Of steps in order: its place in a right order; 0 while the problem is open.
        group: Of the bender on its tube: the group that it belongs to; "" else.
        legend: What that group asks; None else.
    """

    id: str
    letter: str
    html: str
    chosen: bool
    right: bool | None
    why_html: str
    place: int = 0
    belongs: int = 0
    group: str = ""
    legend: Message | None = None


class MistakeView(Struct, frozen=True):
    """A known mistake that an answer shows: its id, what it is called, and what was done and what to do instead."""

    id: str
    called: str
    html: str


class RefusedOption(Struct, frozen=True):
    """Something that was chosen and doesn't belong: what it says, and why not."""

    html: str
    why_html: str


class AttemptView(Struct, frozen=True):
    """
    One answer to the problem.

    Args:
        nth: Which try, from 1.
        typed: As typed; ids of options with commas; "" when given up.
        verdict: "right", "rounded-too-far", "known-mistake", "wrong-unit", "wrong" or "gave-up".
        mistakes: Known mistakes that it shows; two may lead to the same value.
        reason: What to say about it, beyond the verdict; None without.
        refused: Why what was chosen and doesn't belong doesn't, where neither a mistake nor the reason says so.
        basis: Basis of the accepted answer that it met; "" where there is only one.
        hints: Hints seen before it.
        answered_at: When.
    """

    nth: int
    typed: str
    verdict: str
    mistakes: tuple[MistakeView, ...]
    reason: Message | None
    basis: str
    hints: int
    answered_at: datetime
    refused: tuple[RefusedOption, ...] = ()


class AcceptedAnswer(Struct, frozen=True):
    """One accepted number, not rounded, and the basis that it stands on ("" where there is only one)."""

    quantity: Quantity
    basis: str


class ProblemPage(Struct, frozen=True):
    """
    All that the page of a problem shows.

    Args:
        public_id: The problem in addresses.
        code: Its short code for people.
        context: "practice", "lesson", "assigned", "proof" or "placement".
        family_id: Its family: new numbers are issued from it.
        title: Title of the family.
        skill: Id of the skill.
        skill_title: Its title.
        lesson: Id of the lesson to read about it; "" where there is none.
        level: 1 one step, 2 several, 3 a job.
        later: Whether it is work of a later year.
        edition: Edition of the rules that it is asked by.
        why: Why it came; None when the family was asked for.
        text_html: The question.
        kind: How it is answered.
        unit: Unit in which a bare number is understood; "" for choices.
        options: What can be chosen, in the order shown.
        hints_html: Hints shown so far.
        hints_left: How many more there are.
        attempts: The answers so far.
        answer_key: A fresh key for the form.
        open: Whether it still takes answers.
        steps_shown: Whether it was closed by asking for the steps.
        figure: Drawing (SVG); once closed with the wrong value in it, if there was one. "" for none.
        answer_drawn: Whether the last wrong answer stands in the drawing.
        steps: The worked steps in these numbers; empty while it is open, and for an order, which is its own.
        accepted: The accepted numbers; empty while it is open and for choices.
        accepted_places: The accepted sets of places by their letters; empty while it is open and for all else.
        cautions: What can hurt in this work.
        sources: Where the rules and figures come from.
        job: Its place in a job; None for a question that stands for itself.
        combinations: Of the bender on its tube: every right combination, as ids of options; empty while it is open.
        line: Public id of the assigned work that it was issued for, and its place there; None for other problems.
        waits: Whether work in the room lasts: help comes when that is ended, and so do key and steps.
    """

    public_id: str
    code: str
    context: str
    family_id: str
    title: str
    skill: str
    skill_title: str
    lesson: str
    level: int
    later: bool
    edition: str
    why: Message | None
    text_html: str
    kind: AnswerKind
    unit: str
    options: tuple[OptionView, ...]
    hints_html: tuple[str, ...]
    hints_left: int
    attempts: tuple[AttemptView, ...]
    answer_key: str
    open: bool
    steps_shown: bool
    figure: str
    steps: tuple[Step, ...]
    accepted: tuple[AcceptedAnswer, ...]
    accepted_places: tuple[str, ...]
    cautions: tuple[Message, ...]
    sources: tuple[str, ...]
    job: JobView | None = None
    answer_drawn: bool = False
    combinations: tuple[tuple[str, ...], ...] = ()
    waits: bool = False
    line: tuple[str, int] | None = None

    @property
    def goes_on(self) -> bool:
        """Whether another part of its job comes after it."""
        return self.job is not None and not self.job.last

    @property
    def last(self) -> AttemptView | None:
        """The last answer."""
        return self.attempts[-1] if self.attempts else None
