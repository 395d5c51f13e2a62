"""Files that every start reads are held against structs, and refused in the words of all other files."""

from __future__ import annotations

import tomllib
from typing import Annotated

import pytest
from msgspec import Meta, Struct

from trainer.problems.errors import ContentError
from trainer.problems.shaping import model_of, shaped
from trainer.problems.struct_shaping import Finite, shaped_struct


class Entry(Struct, forbid_unknown_fields=True):
    id: Annotated[str, Meta(pattern=r"^[a-z]+\Z", max_length=4)]
    says: Annotated[str, Meta(min_length=1)] = "nothing"


class Whole(Struct, forbid_unknown_fields=True):
    entry: list[Entry]
    values: dict[Annotated[str, Meta(pattern=r"^[a-z]+\Z")], Finite] = {}


class Counted(Struct):
    count: int


ENTRY = '[[entry]]\nid = "ab"\n'


def read(text):
    return shaped_struct("a.toml", text, tomllib.loads(text), Whole)


def test_a_sound_file_is_read_with_what_it_leaves_out_and_the_line_of_each_key():
    whole, lines = read(f'{ENTRY}says = "b"\n{ENTRY}[values]\na = 1\nb = 0.5\n')

    assert whole == Whole([Entry("ab", "b"), Entry("ab")], {"a": 1.0, "b": 0.5})
    assert lines["entry", 1, "id"] == 5


@pytest.mark.parametrize(
    ("text", "line", "key", "given", "accepted"),
    [
        ("", 1, "entry", "nothing", "field required"),
        ("entry = 1\n", 1, "entry", "1", "input should be a valid list"),
        ('[[entry]]\nsays = "a"\n', 1, "entry.0.id", "nothing", "field required"),
        ('[[entry]]\nid = "abcde"\n', 2, "entry.0.id", "'abcde'", "string should have at most 4 characters"),
        ('[[entry]]\nid = "A"\n', 2, "entry.0.id", "'A'", "string should match pattern '^[a-z]+$'"),
        ('[[entry]]\nid = "a\\n"\n', 2, "entry.0.id", "'a\\n'", "string should match pattern '^[a-z]+$'"),
        (f'{ENTRY}says = ""\n', 3, "entry.0.says", "''", "string should have at least 1 character"),
        (
            f"{ENTRY}says = 1979-05-27\n",
            3,
            "entry.0.says",
            "datetime.date(1979, 5, 27)",
            "input should be a valid string",
        ),
        (f"{ENTRY}more = 1\n", 3, "entry.0.more", "1", "no such key"),
        (f"{ENTRY}[values]\na = inf\n", 4, "values.a", "inf", "input should be a finite number"),
        (f"{ENTRY}[values]\na = nan\n", 4, "values.a", "nan", "input should be a finite number"),
        (f"{ENTRY}[values]\nA = 1\n", 4, "values.A.[key]", "'A'", "string should match pattern '^[a-z]+$'"),
    ],
)
def test_what_is_amiss_is_told_in_the_words_of_all_files(text, line, key, given, accepted):
    with pytest.raises(ContentError) as refused:
        read(text)

    found = refused.value
    assert (found.file, found.line, found.key, found.given, found.accepted) == ("a.toml", line, key, given, accepted)


def test_everything_that_is_amiss_is_told_at_once():
    with pytest.raises(ContentError) as refused:
        read('more = 1\n[[entry]]\nid = 1\n[[entry]]\nsays = ""\n')

    assert [(one.line, one.key) for one in refused.value.every] == [
        (1, "more"),
        (3, "entry.0.id"),
        (4, "entry.1.id"),
        (5, "entry.1.says"),
    ]


def test_a_number_in_quotes_is_taken_as_everywhere():
    text = f'{ENTRY}[values]\na = "10"\n'

    assert read(text)[0] == Whole([Entry("ab")], {"a": 10.0})
    assert shaped("a.toml", text, tomllib.loads(text), model_of(Whole))[0].model_dump()["values"] == {"a": 10.0}


@pytest.mark.parametrize("shape", [Counted, int])
def test_a_shape_that_could_not_be_told_about_is_refused(shape):
    with pytest.raises(TypeError):
        model_of(shape)
