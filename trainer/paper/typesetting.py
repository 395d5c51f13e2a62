"""
Documents become PDF in a process of their own, which ends with its sheet.

The typesetter keeps what it laid out and has no time limit; so each sheet gets a fresh process, a limit of time and
memory, only the folder of our own templates to read, no way out to the network, and no fonts but its own, unless
somebody's name has a letter that they lack.
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

from msgspec import to_builtins

from trainer.paper.blocks import Block, Choices, Document, Prose, Sheet, Text, Together
from trainer.paper.prose import paragraphs, paragraphs_of_html

__all__ = ["TypesettingError", "compile_file", "typeset"]

TEMPLATES = Path(__file__).parent / "templates"
WORKER = Path(__file__).parent / "worker.py"
MOST_SECONDS = 20.0
_MOST_TOLD = 600
#: What no face has and nobody can read: control signs but tab and line ends, and code points that are no letters.
_UNSEEN = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufdd0-\ufdef\ufeff\ufffe\uffff]")
#: A proxy that nobody serves: what would want to fetch something fails at once. Nothing else of the environment goes along.
_NOWHERE = "http://127.0.0.1:9"
_ENVIRONMENT = dict.fromkeys(("http_proxy", "https_proxy", "all_proxy", "HTTPS_PROXY", "ALL_PROXY"), _NOWHERE)


class TypesettingError(RuntimeError):
    """A sheet could not be set: the message says what was set, and what the typesetter said or how long it took."""


def typeset(document: Document, *, moment: datetime, seconds: float = MOST_SECONDS) -> bytes:
    """
    A document as PDF.

    Args:
        document: What it holds.
        moment: The time that the file is dated with; the same document and moment give the same bytes
            on one host.
        seconds: How long it may take.

    Raises:
        TypesettingError: When it cannot be set, or takes too long.
    """
    data = to_builtins(document) | {"blocks": [_block(one) for one in document.blocks]}
    try:
        return compile_file(TEMPLATES / "document.typ", data, moment=moment, seconds=seconds)
    except TypesettingError as error:
        raise TypesettingError(f"{document.title!r} could not be set: {error}") from error


def compile_file(main: Path, data: Mapping[str, Any], *, moment: datetime, seconds: float = MOST_SECONDS) -> bytes:
    """
    A template with its data as PDF.

    Args:
        main: The template; it can read nothing outside of its own folder.
        data: What it finds as JSON in `sys.inputs.data`.
        moment: The time that the file is dated with.
        seconds: How long it may take.

    Raises:
        TypesettingError: When it cannot be set, or takes too long.
    """
    order = {
        "main": str(main),
        "root": str(main.parent),
        "data": json.dumps(_seen(data), ensure_ascii=False),
        "moment": int(moment.timestamp()),
    }
    try:
        done = subprocess.run(  # noqa: S603 - our own file, by our own interpreter; what people wrote is on its input.
            [sys.executable, "-I", str(WORKER)],
            input=json.dumps(order).encode(),
            capture_output=True,
            env=_ENVIRONMENT,
            timeout=seconds,
            check=False,
        )
    except subprocess.TimeoutExpired as error:
        raise TypesettingError(f"it took longer than {seconds:g} s") from error
    if done.returncode or not done.stdout.startswith(b"%PDF"):
        said = done.stderr.decode(errors="replace").strip()[-_MOST_TOLD:]
        raise TypesettingError(said or f"the typesetter ended with status {done.returncode}")
    return done.stdout


def _seen(held: Any) -> Any:
    """The data without signs that cannot be set."""
    if isinstance(held, str):
        return _UNSEEN.sub("", held)
    if isinstance(held, Mapping):
        return {key: _seen(one) for key, one in held.items()}
    return [_seen(one) for one in held] if isinstance(held, list | tuple) else held


def _block(block: Block) -> dict[str, Any]:
    """A block as JSON takes it, named by its kind."""
    kind = {"kind": type(block).__name__.lower()}
    if isinstance(block, Together):
        return kind | {"blocks": [_block(one) for one in block.blocks]}
    if isinstance(block, Choices):
        rows = [(letter, [to_builtins(one) for one in paragraphs(words)]) for letter, words in block.rows]
        return kind | {"rows": rows, "longest": max((len(words) for _, words in block.rows), default=0)}
    if isinstance(block, Sheet):
        inside = {"blocks": [_block(one) for one in block.blocks]}
        return kind | {"name": block.name, "code": block.code, "page_words": block.page_words} | inside
    if isinstance(block, Prose):
        return kind | {"paragraphs": [to_builtins(one) for one in paragraphs(block.markdown)]}
    if isinstance(block, Text):
        return {"kind": "prose", "paragraphs": [to_builtins(one) for one in paragraphs_of_html(block.html)]}
    fields: dict[str, Any] = to_builtins(block)
    return kind | fields
