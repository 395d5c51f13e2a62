"""Photographs as people send them: what is refused and in which words, and what is left of a file that is taken."""

from __future__ import annotations

import random
import subprocess
import sys
from io import BytesIO

import pytest
from PIL import Image, ImageOps
from PIL.PngImagePlugin import PngInfo

from trainer.calc.message import InputError
from trainer.groups import photographs
from trainer.groups.photographs import LONGEST_SIDE, read_photograph

transposed = ImageOps.exif_transpose


def sent(picture, kind="JPEG", **more):
    held = BytesIO()
    picture.save(held, kind, **more)
    return held.getvalue()


def seen(photograph):
    return Image.open(BytesIO(photograph.image))


def refused(file):
    with pytest.raises(InputError) as error:
        read_photograph(file)
    assert error.value.field == "photo"
    return error.value.reason.id


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_each_format_becomes_a_jpeg_of_the_same_shape(kind):
    found = read_photograph(sent(Image.new("RGB", (64, 48), "red"), kind))

    assert (found.width, found.height) == (64, 48) == seen(found).size
    assert seen(found).format == "JPEG"


def test_of_a_phone_s_file_with_several_pictures_the_first_is_kept():
    second = Image.new("RGB", (32, 24), "blue")
    found = read_photograph(sent(Image.new("RGB", (64, 48), "red"), "MPO", save_all=True, append_images=[second]))

    assert (found.width, found.height) == (64, 48)


def test_a_large_picture_is_made_smaller():
    found = read_photograph(sent(Image.new("L", (4000, 3000))))

    assert (found.width, found.height) == (LONGEST_SIDE, 1200)


def test_place_time_camera_and_remarks_are_gone():
    exif = Image.Exif()
    exif[0x010F] = "A maker"
    exif[0x9003] = "2026:11:28 08:00:00"
    exif.get_ifd(0x8825)[2] = (41.0, 30.0, 0.0)
    found = read_photograph(
        sent(Image.new("RGB", (9, 9)), exif=exif, comment=b"at the back door", icc_profile=b"x" * 99)
    )

    assert not seen(found).getexif()
    assert not {"exif", "comment", "icc_profile", "xmp"} & set(seen(found).info)
    assert b"maker" not in found.image
    assert b"back door" not in found.image


def test_words_inside_a_png_are_gone():
    words = PngInfo()
    words.add_text("Author", "somebody")

    assert b"somebody" not in read_photograph(sent(Image.new("RGB", (9, 9)), "PNG", pnginfo=words)).image


def test_a_picture_is_turned_as_the_phone_was_held():
    exif = Image.Exif()
    exif[0x0112] = 6
    wide = Image.new("RGB", (80, 40), "white")
    wide.paste("black", (0, 0, 40, 40))

    found = read_photograph(sent(wide, exif=exif))

    assert (found.width, found.height) == (40, 80)
    assert seen(found).convert("L").getpixel((20, 5)) < 60
    assert seen(found).convert("L").getpixel((20, 75)) > 200


def test_what_is_clear_becomes_white():
    assert seen(read_photograph(sent(Image.new("RGBA", (9, 9), (0, 0, 0, 0)), "PNG"))).getpixel((4, 4)) == (
        255,
        255,
        255,
    )


def test_a_busy_picture_is_pressed_until_it_fits_the_table(monkeypatch):
    noise = Image.frombytes("RGB", (600, 600), random.Random(1).randbytes(600 * 600 * 3))
    first = len(read_photograph(sent(noise)).image)
    monkeypatch.setattr(photographs, "MOST_KEPT", first - 1)

    assert len(read_photograph(sent(noise)).image) < first


def test_nothing_and_no_picture_are_told_apart():
    assert refused(b"") == "photo.missing"
    assert refused(b"#!/bin/sh") == "photo.unreadable"
    assert refused(b"<svg xmlns='http://www.w3.org/2000/svg'/>") == "photo.unreadable"
    assert refused(sent(Image.new("RGB", (9, 9)), "GIF")) == "photo.unreadable"
    assert refused(sent(Image.new("RGB", (200, 200)))[:300]) == "photo.unreadable"


def test_a_file_that_is_too_large_is_not_opened(monkeypatch):
    monkeypatch.setattr(photographs, "MOST_BYTES", 100)

    assert refused(b"x" * 101) == "photo.too-large"


def test_too_many_pixels_are_refused_before_they_are_decoded(monkeypatch):
    bomb = sent(Image.new("1", (20_000, 20_000)), "PNG")
    monkeypatch.setattr(photographs, "_upright", lambda _opened: pytest.fail("decoded"))

    assert len(bomb) < 100_000
    assert refused(bomb) in {"photo.too-many-pixels", "photo.unreadable"}
    assert refused(sent(Image.new("1", (8000, 8000)), "PNG")) == "photo.too-many-pixels"


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_a_format_that_is_decoded_whole_may_have_fewer_pixels(monkeypatch, kind):
    monkeypatch.setattr(photographs, "_upright", lambda opened: opened.resize((9, 9)))

    assert read_photograph(sent(Image.new("L", (6000, 4000)), kind)).width == 9
    assert refused(sent(Image.new("L", (6001, 4000)), kind)) == "photo.too-many-pixels"
    assert read_photograph(sent(Image.new("L", (6001, 4000)))).width == 9


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_a_large_picture_is_made_smaller_before_it_is_turned(monkeypatch, kind):
    exif = Image.Exif()
    exif[0x0112] = 6
    turned = []
    monkeypatch.setattr(ImageOps, "exif_transpose", lambda one: turned.append(one.size) or transposed(one))

    found = read_photograph(sent(Image.new("L", (4000, 3000)), kind, exif=exif))

    assert turned == [(LONGEST_SIDE, 1200)]
    assert (found.width, found.height) == (1200, LONGEST_SIDE)


def test_a_process_that_reads_no_photograph_loads_no_decoder():
    loads = "import sys, trainer.groups.photographs; sys.exit('PIL' in sys.modules)"

    assert subprocess.run([sys.executable, "-c", loads], check=False).returncode == 0
