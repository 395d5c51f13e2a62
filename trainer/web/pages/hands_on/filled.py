"""The form of a check as it was sent: tape readings, yes or no for each step, a remark."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field

from trainer.calc.message import InputError
from trainer.problems.hands_on import Reading, Sheet, read_measured
from trainer.web.forms import refusal
from trainer.web.language import gettext

__all__ = ["FilledSheet", "measure_field", "read_filled", "step_field"]

LONGEST = 400


class FilledSheet(Struct, frozen=True):
    """Texts as typed by field, sentences by field where something has to be looked at again, and what was read."""

    typed: Mapping[str, str] = field(default_factory=dict)
    errors: Mapping[str, str] = field(default_factory=dict)
    measured: Mapping[str, Reading] = field(default_factory=dict)
    steps: Mapping[str, bool] = field(default_factory=dict)

    @property
    def remark(self) -> str:
        """What the judge adds."""
        return self.typed.get("remark", "")


def measure_field(id_: str) -> str:
    """Name of the field of a measured value."""
    return f"measured-{id_}"


def step_field(id_: str) -> str:
    """Name of the field of a step."""
    return f"step-{id_}"


def read_filled(sheet: Sheet, sent: Mapping[str, str]) -> FilledSheet:
    """The form as it was sent; whatever could not be used has a sentence, and all of it is kept."""
    typed = {"remark": sent.get("remark", "")[:LONGEST]}
    errors: dict[str, str] = {}
    measured: dict[str, Reading] = {}
    steps: dict[str, bool] = {}
    for one in sheet.measured:
        name = measure_field(one.id)
        typed[name] = sent.get(name, "")[:LONGEST]
        try:
            measured[one.id] = read_measured(one, typed[name])
        except InputError as error:
            errors[name] = f"{one.label}: {refusal(error)}"
    for step in sheet.steps:
        name = step_field(step.id)
        typed[name] = sent.get(name, "")
        if typed[name] in {"yes", "no"}:
            steps[step.id] = typed[name] == "yes"
        else:
            errors[name] = gettext("Say yes or no: %(step)s") % {"step": step.say}
    return FilledSheet(typed, errors, measured, steps)
