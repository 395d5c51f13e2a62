from __future__ import annotations

from pathlib import Path

import pytest

from trainer.library.shelf import Library


@pytest.fixture(scope="session")
def content():
    """A small folder of content that only the tests use."""
    return Path(__file__).with_name("content")


@pytest.fixture(scope="session")
def library(content):
    return Library(content)
