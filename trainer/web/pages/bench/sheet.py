"""What was typed at the bench, field by field: values, or a sentence for each that cannot be used."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.runs import Legs, read_run
from trainer.calc.shoes import DEFAULT_SHOES, Shoe
from trainer.groups.shoes import Bench, KeptShoe
from trainer.web.forms import refusal
from trainer.web.language import Later, gettext
from trainer.web.pages.bench.bends import Asked, BenchBend

__all__ = ["BASES", "ReadSheet", "ShoeChoice", "basis_from", "read_sheet", "shoe_choices", "text_of"]

BASES: Mapping[str, Later] = {
    "handbook": Later("Handbook"),
    "sharp-corner": Later("Sharp corner"),
    "arc": Later("Arc of the shoe"),
}
_LONGEST = 400
_LONGEST_JOB = 80


class ShoeChoice(Struct, frozen=True):
    """A shoe as the form offers it: `kept` is None for a usual hand bender."""

    value: str
    shoe: Shoe
    kept: KeptShoe | None = None

    @property
    def words(self) -> str:
        """What it is called."""
        if self.kept is None:
            return gettext("%(size)s, usual hand bender") % {"size": self.shoe.trade_size}
        return f"{self.kept.name} ({self.shoe.trade_size})"


class ReadSheet(Struct, frozen=True):
    """
    The form as it was sent.

    Args:
        bend: What is bent.
        typed: The texts by field, as typed; the usual ones in a form that was not sent.
        sent: Whether it was.
        shoe: The shoe that was chosen.
        basis: The basis that was chosen.
        job: What it is for, in the person's own words.
        run: The whole run as typed, for a list of its material; "" for none.
        stretches: The run as it was read.
        values: What the calculation takes, without the shoe; complete when `errors` is empty.
        errors: What to look at again, by field.
    """

    bend: BenchBend
    typed: Mapping[str, str]
    sent: bool
    shoe: ShoeChoice
    basis: str
    job: str
    run: str
    stretches: tuple[Legs, ...]
    values: Mapping[str, object]
    errors: Mapping[str, str]

    @property
    def told(self) -> list[tuple[Later, Quantity]]:
        """The numbers that were typed, as they were read."""
        given = ((asked, self.values.get(asked.name)) for asked in self.bend.asked)
        return [
            (asked.label, Quantity(value, self.bend.input(asked).unit))
            for asked, value in given
            if isinstance(value, int | float)
        ]

    @property
    def address(self) -> dict[str, str]:
        """All of it for a link that shows the same again, whoever follows it."""
        return {**self.typed, "shoe": self.shoe.value, "basis": self.basis, "job": self.job, "run": self.run}

    @property
    def taken(self) -> dict[str, object]:
        """What the calculation takes, the shoe with it."""
        shoe: dict[str, object] = {"shoe": self.shoe.shoe}
        if self.bend.shoe_as:
            shoe = {given: getattr(self.shoe.shoe, figure) for given, figure in self.bend.shoe_as.items()}
        return {**self.values, **shoe}


def shoe_choices(bench: Bench) -> tuple[ShoeChoice, ...]:
    """The shop's own shoes first, then a usual hand bender of each trade size."""
    own = (ShoeChoice(kept.public_id, kept.shoe, kept) for kept in bench.used)
    return (*own, *(ShoeChoice(size, shoe) for size, shoe in DEFAULT_SHOES.items()))


def read_sheet(bend: BenchBend, sent: Mapping[str, str], bench: Bench) -> ReadSheet:
    """The form of a bend, from the address."""
    is_sent = any(asked.name in sent for asked in bend.asked)
    # A choice that the address leaves out is the usual one; a number is not guessed.
    typed = {
        asked.name: text_of(sent, asked.name, asked.usual if asked.choices or not is_sent else "")
        for asked in bend.asked
    }
    errors: dict[str, str] = {}
    values: dict[str, object] = {}
    for asked in bend.asked if is_sent else ():
        try:
            values |= _value(bend, asked, typed[asked.name])
        except InputError as error:
            errors[asked.name] = gettext("Choose one of these.") if asked.choices else refusal(error)
    shoe = _shoe(text_of(sent, "shoe"), bench)
    if shoe is None:
        errors["shoe"] = gettext("Choose one of these shoes: the one in the address is none of your shop's.")
    job = text_of(sent, "job")
    if len(job) > _LONGEST_JOB:
        errors["job"] = gettext("Say it in %(most)s signs, as a slip has room for; these are %(given)s.") % {
            "most": _LONGEST_JOB,
            "given": len(job),
        }
    run = text_of(sent, "run")
    stretches: tuple[Legs, ...] = ()
    try:
        stretches = read_run(run) if run.strip() else ()
    except InputError as error:
        errors["run"] = refusal(error)
    return ReadSheet(
        bend=bend,
        typed=typed,
        sent=is_sent,
        shoe=shoe or shoe_choices(bench)[0],
        basis=basis_from(sent, bench),
        job=job,
        run=run,
        stretches=stretches,
        values=values,
        errors=errors,
    )


def basis_from(sent: Mapping[str, str], bench: Bench) -> str:
    """The basis that the address names, else that of the shop."""
    wanted = sent.get("basis", "")
    return wanted if wanted in BASES else bench.basis


def text_of(sent: Mapping[str, str], name: str, usual: str = "") -> str:
    """A field as it was sent, and no longer than anybody types."""
    return sent.get(name, usual)[:_LONGEST]


def _value(bend: BenchBend, asked: Asked, text: str) -> dict[str, object]:
    given = bend.input(asked)
    if text.strip():
        return {asked.name: given.read(text)}
    if asked.optional:
        return {}
    raise given.refuse(Message("input.missing"), "")


def _shoe(wanted: str, bench: Bench) -> ShoeChoice | None:
    """The shoe that the address names, also one that is used no longer; the first of the list where it names none."""
    if not wanted:
        return shoe_choices(bench)[0]
    if wanted in DEFAULT_SHOES:
        return ShoeChoice(wanted, DEFAULT_SHOES[wanted])
    kept = bench.kept_shoe(wanted)
    return ShoeChoice(wanted, kept.shoe, kept) if kept else None
