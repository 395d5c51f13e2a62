"""Question files of both kinds: one with a single family, and one with the parts of a job."""

from __future__ import annotations

from pathlib import Path

from trainer.problems.family import read_toml
from trainer.problems.parts import Family

__all__ = ["load_file"]


def load_file(source: Path | str, name: str = "") -> tuple[Family, ...]:
    """
    Read a question file.

    Args:
        source: A file, or the text of one.
        name: What errors call it; the file's path when left out.

    Returns:
        Its one family, or the parts of its job in their order.

    Raises:
        ContentError: With every further error of the file in `also`.
    """
    text = source.read_text("utf-8") if isinstance(source, Path) else source
    file = name or (str(source) if isinstance(source, Path) else "question file")
    data = read_toml(file, text)
    # With the first file that is compiled: the shapes and what compiles are a sixth of a start, and no start needs them.
    from trainer.problems.file_compiling import families_of  # noqa: PLC0415

    return families_of(data, file, text)
