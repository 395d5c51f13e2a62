"""
Style sheets, drawings and the one script, served by WhiteNoise under an address that changes with their content.

One hash stands for the whole folder, so that a style sheet can name its neighbours by relative addresses; the folder
is small enough to be fetched anew as a whole. What stands under such an address never changes and is kept for ever.
"""

from __future__ import annotations

import hashlib
from functools import partial
from pathlib import Path

from flask import Flask
from whitenoise import WhiteNoise

__all__ = ["MissingAssetError", "serve_statics"]

FOLDER = Path(__file__).parent / "static"


class MissingAssetError(LookupError):
    """A template names a static file that is not there."""


def serve_statics(app: Flask, *, development: bool) -> None:
    """
    Serve `static/` and give templates `asset(path)`, the address of a file in it.

    In development a file is looked for at each request and never kept, so that a changed one shows at once.
    """
    prefix = "/static/now" if development else f"/static/{folder_hash(FOLDER)}"
    # Flask's own way to put something around an application, whose attribute the types call a method.
    app.wsgi_app = WhiteNoise(  # type: ignore[method-assign]
        app.wsgi_app,
        root=FOLDER,
        prefix=prefix,
        autorefresh=development,
        max_age=0 if development else None,
        immutable_file_test=lambda path, url: not development,  # noqa: ARG005 - WhiteNoise passes both.
        add_headers_function=_add_headers,
        allow_all_origins=False,
    )
    app.jinja_env.globals["asset"] = partial(asset, prefix)


def asset(prefix: str, path: str) -> str:
    """
    Address of a static file.

    Raises:
        MissingAssetError: When there is no such file; a page must not be sent that asks for it.
    """
    if not (FOLDER / path).is_file():
        raise MissingAssetError(f"no static file {path!r} in {FOLDER}")
    return f"{prefix}/{path}"


def folder_hash(folder: Path) -> str:
    """Twelve hexadecimal digits that change when a file in the folder is added, moved or changed."""
    digest = hashlib.sha256()
    for file in sorted(file for file in folder.rglob("*") if file.is_file()):
        digest.update(file.relative_to(folder).as_posix().encode() + b"\0" + file.read_bytes() + b"\0")
    return digest.hexdigest()[:12]


def _add_headers(headers: dict[str, str], path: str, url: str) -> None:
    del path, url
    headers["X-Content-Type-Options"] = "nosniff"
    headers["Cross-Origin-Resource-Policy"] = "same-origin"
    # An SVG opened by itself is a document; it needs no script and no neighbours.
    headers["Content-Security-Policy"] = "default-src 'none'; style-src 'self'"
