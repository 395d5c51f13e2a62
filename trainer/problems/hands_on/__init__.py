"""
Hands-on checks: a task at the bench with a learner's own numbers, what is looked at, what is measured and how near.

A kind is one TOML file in `kinds/` (its form: `shape.py`). A seed and a trade size give a sheet (`draw.py`): numbers, the
marks that the core works out, limits. What a judge saw and measured is held against the sheet in `judge.py`.
"""

from __future__ import annotations

from trainer.problems.hands_on.draw import HandsOnDrawError, draw_sheet, pictured
from trainer.problems.hands_on.judge import FORGIVEN_STEPS, Judgement, Reading, agreement, judge, read_measured
from trainer.problems.hands_on.kind import Kind
from trainer.problems.hands_on.kinds import KINDS
from trainer.problems.hands_on.sheet import MarkLine, Measure, Sheet, StepLine

__all__ = [
    "FORGIVEN_STEPS",
    "KINDS",
    "HandsOnDrawError",
    "Judgement",
    "Kind",
    "MarkLine",
    "Measure",
    "Reading",
    "Sheet",
    "StepLine",
    "agreement",
    "draw_sheet",
    "judge",
    "pictured",
    "read_measured",
]
