"""Files that claim to be photographs."""

from __future__ import annotations

from io import BytesIO
from zipfile import ZipFile

import pytest
from PIL import Image

from trainer.calc.message import InputError
from trainer.groups.photographs import read_photograph

SCRIPT = b"<html><script>zq()</script></html>"
SVG = b'<svg xmlns="http://www.w3.org/2000/svg" onload="zq()"><script>zq()</script></svg>'


def picture(kind="JPEG", **more):
    held = BytesIO()
    Image.new("RGB", (40, 30), "gray").save(held, kind, **more)
    return held.getvalue()


def archive():
    held = BytesIO()
    with ZipFile(held, "w") as book:
        book.writestr("zq.html", SCRIPT)
    return held.getvalue()


@pytest.mark.parametrize(
    "sent",
    [
        SVG,
        b"<?xml version='1.0'?>" + SVG,
        SCRIPT,
        picture("GIF"),
        picture("TIFF"),
        picture("BMP"),
        b"GIF89a/*" + SCRIPT,
        b"%PDF-1.7\n" + SCRIPT,
        archive(),
        picture()[:200],
        b"\xff\xd8\xff\xe0" + SCRIPT,
        b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n",
    ],
)
def test_what_is_no_photograph_is_refused(sent):
    with pytest.raises(InputError):
        read_photograph(sent)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_nothing_but_the_picture_is_kept(kind):
    kept = read_photograph(picture(kind) + SCRIPT + archive()).image

    assert kept.startswith(b"\xff\xd8\xff")
    assert kept.endswith(b"\xff\xd9")
    assert b"script" not in kept
    assert b"zq" not in kept
    assert b"PK\x03\x04" not in kept


def test_a_remark_inside_the_file_is_not_kept():
    assert b"zq()" not in read_photograph(picture(comment=b"*/zq()/*")).image


def test_a_photograph_is_served_as_a_picture_and_nothing_else(site):
    own = site.ids["own"]
    answer = site.visit(
        "instructor", "GET", f"/groups/{own['group_id']}/people/{own['person_id']}/findings/{own['photo_id']}.jpg"
    )

    assert answer.headers["Content-Type"] == "image/jpeg"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert "private" in answer.headers["Cache-Control"]


def test_a_file_that_is_no_photograph_changes_nothing(site):
    own = site.ids["own"]
    path = f"/groups/{own['group_id']}/checks/{own['check_id']}/photos"

    answer = site.visit("instructor", "POST", path, {"photo": (BytesIO(SVG), "photo.jpg"), "shows": "The rise."})

    assert answer.status == 422
    assert not answer.changed
