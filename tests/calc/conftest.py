"""Fixtures of the core's tests."""

from __future__ import annotations

import pytest
from hypothesis import settings

from trainer.calc.message import InputError

# A slow machine fails no test.
settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")


@pytest.fixture
def refused():
    """Call something that must refuse its input; gives the InputError."""

    def call(function, *arguments, **named):
        with pytest.raises(InputError) as caught:
            function(*arguments, **named)
        return caught.value

    return call


@pytest.fixture(scope="session")
def outcome():
    """Call something that may refuse its input; gives its result, or the InputError."""

    def call(function, *arguments):
        try:
            return function(*arguments)
        except InputError as error:
            return error

    return call
