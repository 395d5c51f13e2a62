"""Files that spreadsheets write, read into rows."""

from __future__ import annotations

import csv
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.message import InputError
from trainer.text.separated import MOST_BYTES, MOST_ROWS, decoded, rows_of
from trainer.text.words import error_text

TEXT = "Name;Nr\nJosé Peña;7\n"


def cells(text):
    return [list(row.cells) for row in rows_of(text)]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
def test_every_encoding_of_a_spreadsheet_is_read(encoding):
    assert cells(decoded(TEXT.encode(encoding))) == [["Name", "Nr"], ["José Peña", "7"]]


def test_utf_16_with_the_big_end_first_and_its_mark():
    assert decoded("\ufeffAna\n".encode("utf-16-be")) == "Ana\n"


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_what_separates_the_cells_is_found(separator, end):
    lines = [separator.join(row) for row in (["Last", "First", "No."], ["Ruiz", "Ana", "1"], ["Lee", "Kim", "2"])]

    assert cells(end.join(lines))[1:] == [["Ruiz", "Ana", "1"], ["Lee", "Kim", "2"]]


def test_a_line_that_names_the_separator_is_believed_and_counted():
    first, second = rows_of("sep=;\nName;Town\nAna, the first;x,y\n")

    assert (first.line, second.line) == (2, 3)
    assert second.cells == ("Ana, the first", "x,y")


def test_quoted_cells_keep_commas_quotes_and_ends_of_lines():
    text = 'Name,Note\n"Ruiz, Ana","says ""hi""\nand more"\nKim Lee,\n'

    ana, kim = rows_of(text)[1:]

    assert ana.cells == ("Ruiz, Ana", 'says "hi" and more')
    assert (ana.line, kim.line) == (2, 4)


def test_empty_rows_are_left_out_and_the_others_keep_their_lines():
    assert [row.line for row in rows_of("Name\n\n,,\nAna Ruiz\n")] == [1, 4]


def test_one_column_needs_no_separator():
    assert cells("Ana Ruiz\nKim Lee") == [["Ana Ruiz"], ["Kim Lee"]]


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"PK\x03\x04 a workbook", "a workbook, a document or a picture"),
        (b"%PDF-1.7", "a workbook, a document or a picture"),
        (b"a" * (MOST_BYTES + 1), "larger than a class list"),
    ],
)
def test_what_is_no_list_is_refused(data, said):
    with pytest.raises(InputError) as refused:
        decoded(data)

    assert said in error_text(refused.value)
    assert "as CSV, which every spreadsheet can save" in error_text(refused.value)


@pytest.mark.parametrize(
    ("text", "said"),
    [("", "nothing in it"), (" ,\n,\n", "nothing in it"), ("a\n" * (MOST_ROWS + 2), "more than 300 lines")],
)
def test_what_cannot_be_a_list_is_told(text, said):
    with pytest.raises(InputError) as refused:
        rows_of(text)

    assert said in error_text(refused.value)


NAMES = st.text(
    st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Zl", "Zp", "Zs"]), min_size=1, max_size=20
)


@given(st.lists(st.tuples(NAMES, NAMES), min_size=1, max_size=20), st.sampled_from([",", ";", "\t"]))
def test_what_a_csv_writer_wrote_is_read_again(rows, separator):
    held = StringIO()
    writer = csv.writer(held, delimiter=separator, quoting=csv.QUOTE_ALL)
    writer.writerow(["Name", "Town"])
    writer.writerows(rows)

    assert cells(f"sep={separator}\r\n{held.getvalue()}")[1:] == [list(row) for row in rows]
