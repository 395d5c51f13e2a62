"""
Practice in six steps: a problem is issued, shown, answered, helped with by hints, and closed by an answer or the steps.

This is the front door; each step stands in a module of its own.
"""

from __future__ import annotations

from trainer.progress.answering import AnswerResult, Outcome, answer, give_up, show_steps
from trainer.progress.hints import hint
from trainer.progress.issue import issue
from trainer.progress.jobs import leave_part, next_part
from trainer.progress.page import AttemptView, OptionView, ProblemPage
from trainer.progress.showing import show

__all__ = [
    "AnswerResult",
    "AttemptView",
    "OptionView",
    "Outcome",
    "ProblemPage",
    "answer",
    "give_up",
    "hint",
    "issue",
    "leave_part",
    "next_part",
    "show",
    "show_steps",
]
