"""What the application loads before it takes its first request."""

from __future__ import annotations

import inspect

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.trace import compile_steps


def test_worked_steps_need_no_source_once_the_application_stands(app, monkeypatch):
    assert app.extensions["trainer.library"]

    def gone(function):
        raise OSError(f"the source of {function!r} was read after the start")

    monkeypatch.setattr(inspect, "getsourcelines", gone)

    for calculation in CATALOGUE.values():
        result, steps = calculation.trace(calculation.read(calculation.example_inputs))

        assert result == calculation.solve(calculation.read(calculation.example_inputs))
        assert steps


def test_a_function_that_does_not_say_its_steps_is_refused():
    with pytest.raises(TypeError, match="mark it with @steps"):
        compile_steps(plain)


def plain():
    """Says no steps."""
