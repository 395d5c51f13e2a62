"""A worker compiles the questions beside its requests, so that no answer waits for it."""

from __future__ import annotations

from pathlib import Path
from shutil import copytree

import pytest

from trainer.cli.serving import compile_ahead
from trainer.library.shelf import Library
from trainer.problems import heads
from trainer.problems.errors import ContentError

CONTENT = Path(__file__).parents[1] / "library" / "content"


@pytest.fixture
def compiled(monkeypatch):
    """The files that were compiled."""
    found, load = [], heads.load_file
    monkeypatch.setattr(heads, "load_file", lambda text, name: found.append(Path(name).stem) or load(text, name))
    return found


def test_every_question_is_compiled_before_anybody_asks(compiled):
    library = Library(CONTENT, checked=False)
    assert compiled == []

    compile_ahead(library, after=0, pause=0).join(60)

    assert sorted(compiled) == sorted({head.job or head.id for head in library.heads.values()})
    assert [family.id for family in library.families.values()] == [*library.heads]
    assert len(compiled) == len(set(compiled))


def test_a_file_that_cannot_be_used_is_told_to_whoever_asks_for_it_and_keeps_no_other_back(compiled, tmp_path):
    content = Path(copytree(CONTENT, tmp_path / "content"))
    spoilt = next((content / "questions").rglob("offset-spacing.toml"))
    spoilt.write_text(spoilt.read_text("utf-8").replace("[draw]", "[drawn]"), "utf-8")
    library = Library(content, checked=False)

    compile_ahead(library, after=0, pause=0).join(60)

    assert {head.job or head.id for head in library.heads.values()} == set(compiled)
    with pytest.raises(ContentError):
        library.families["offset-spacing"]
