"""Sheets as they are read back: the text of a PDF, page by page."""

from __future__ import annotations

from datetime import UTC, datetime
from io import BytesIO

import pytest
from pypdf import PdfReader

from trainer.paper import Document


@pytest.fixture
def moment():
    """The time that sheets are dated with."""
    return datetime(2026, 11, 28, 15, 0, tzinfo=UTC)


@pytest.fixture
def sheet():
    """A document with these blocks."""

    def made(*blocks, **more):
        held = {"title": "A sheet", "below": "", "mark": "", "foot": "", "page_words": "{page} of {pages}"}
        return Document(**{**held, **more}, blocks=blocks)

    return made


@pytest.fixture
def pages():
    """The text of each page of a PDF."""
    return lambda pdf: [page.extract_text() for page in PdfReader(BytesIO(pdf)).pages]
