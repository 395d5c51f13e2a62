"""What is typed comes to the pages without signs that nobody sees."""

from __future__ import annotations

from contextlib import closing
from io import BytesIO

import pytest
from werkzeug.test import EnvironBuilder

from trainer.web.typed import TypedRequest


def asked(**options):
    with closing(EnvironBuilder(**options)) as built:
        return TypedRequest(built.get_environ())


def test_ends_of_lines_stay_in_a_text_area_and_nothing_hidden_does():
    form = asked(method="POST", data={"note": "Two\x00 bends\x1b[31m\r\nlean\u202e.\x0bOne\tdoes not.\x85"}).form

    assert form["note"] == "Two bends[31m\nlean.\nOne\tdoes not.\n"


def test_a_name_in_an_address_is_read_the_same_way(client):
    page = client.get("/join/AB%07CD%E2%80%AE")

    assert "\x07" not in page.text
    assert "\u202e" not in page.text


def test_what_stands_behind_the_question_mark_is_read_the_same_way():
    assert asked(query_string="q=3%2F4%01+EMT&q=%E2%80%AEb&page=1").args.getlist("q") == ["3/4 EMT", "b"]


@pytest.mark.parametrize("name", ["password", "old_password", "new_password", "once_more"])
def test_a_password_is_taken_as_it_is(name):
    assert asked(method="POST", data={name: "a\x07b\u202e"}).form[name] == "a\x07b\u202e"


def test_a_file_comes_as_it_is():
    data = {"photo": (BytesIO(b"\x00\x01\x02"), "a.jpg"), "about": "x\x01"}

    with asked(method="POST", data=data, content_type="multipart/form-data") as request:
        assert request.files["photo"].read() == b"\x00\x01\x02"
        assert request.form["about"] == "x"
