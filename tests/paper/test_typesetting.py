"""Documents become PDF: what people wrote is text, the same document the same bytes, and nothing gets out or hangs."""

from __future__ import annotations

import socket
from datetime import timedelta
from io import BytesIO
from threading import Event, Thread

import pytest
from pypdf import PdfReader

from trainer.paper import (
    Blanks,
    Cautions,
    Column,
    Facts,
    Figure,
    Heading,
    NewPage,
    Prose,
    Room,
    Sheet,
    Signature,
    Table,
    Together,
    TypesettingError,
    Words,
    typeset,
)
from trainer.paper.typesetting import compile_file

HOSTILE = (
    '#read("/etc/passwd")',
    "#panic()",
    "$ 1/0 $",
    "*bold* _it_ `raw`",
    "@nobody <label>",
    r"back\slash \u{41} \#",
    "// gone /* gone */",
    "= Heading - item + item / term",
    '"quoted" [content] {code}',
    "~ -- --- ...",
)


@pytest.mark.parametrize("words", HOSTILE)
def test_what_people_wrote_comes_out_as_it_was_written(sheet, pages, words, moment):
    everywhere = sheet(
        Heading(words),
        Words(words),
        Facts(((words, words),)),
        Table((Column(words),), ((words,),)),
        Blanks(((words, words),)),
        Signature((words,)),
        Cautions(words, (words,)),
        title=words,
        below=words,
        mark=words,
        foot=words,
    )

    pdf = typeset(everywhere, moment=moment)

    said = "".join(pages(pdf)).replace("\n", "").replace(" ", "")
    assert said.count(words.replace(" ", "")) == 15
    assert "root:" not in said


def test_a_word_longer_than_its_column_is_broken_rather_than_set_over_the_next_one(sheet, pages, moment):
    word = "W" * 70
    (page,) = pages(
        typeset(sheet(Table((Column("A"), Column("B"), Column("C")), ((word, "next", word),))), moment=moment)
    )

    parts = [line.replace("\u200b", "") for line in page.splitlines()]
    assert max(part.count("W") for part in parts) < 30
    assert "".join(parts).count("W") == 140


def test_an_address_can_be_copied_from_the_file(sheet, pages, moment):
    address = "https://training.local-union.example.org/join/7K3MB9QY"
    (page,) = pages(typeset(sheet(Words(address), Facts((("Address", address),))), moment=moment))

    assert page.split().count(address) == 2


def test_the_pages_of_each_person_begin_on_the_front_of_a_leaf_and_are_counted_alone(sheet, pages, moment):
    people = (("Ana", 1), ("Bo", 9), ("Kim", 1))
    blocks = [Sheet(name, name, "{page} of {pages}", tuple(Room(2) for _ in range(rooms))) for name, rooms in people]

    pdf = typeset(sheet(*blocks), moment=moment)

    said = [" ".join(page.split()) for page in pages(pdf)]
    assert [page[-6:] for page in said] == ["1 of 1", "", "1 of 3", "2 of 3", "3 of 3", "", "1 of 1"]
    assert ["Ana" in said[0], "Bo" in said[2], "Kim" in said[6]] == [True] * 3
    assert b"pdfuaid" in pdf


def test_the_steps_of_a_list_are_counted_on(sheet, pages, moment):
    (page,) = pages(typeset(sheet(Prose("1. Saw\n2. Ream\n\nThen:\n\n1. Push")), moment=moment))

    said = " ".join(page.split())
    assert ["1. Saw" in said, "2. Ream" in said, "1. Push" in said] == [True] * 3


def test_prose_keeps_what_is_strong_and_reads_no_other_markup(sheet, pages, moment):
    (page,) = pages(typeset(sheet(Prose("Cut **12 in** of #12.\n\n- one $x$\n- two\n\n1. first")), moment=moment))

    assert "Cut 12 in of #12." in page
    assert "• one $x$" in page
    assert "1. first" in page


def test_the_same_document_and_moment_give_the_same_bytes(sheet, moment):
    document = sheet(Words("Twice."), Table((Column("N", is_number=True),), (("1",),)))

    first = typeset(document, moment=moment)

    assert typeset(document, moment=moment) == first
    assert typeset(document, moment=moment + timedelta(days=1)) != first


@pytest.mark.parametrize("name", ["王伟", "김", "😀 Ana"])
def test_a_name_in_any_script_leaves_the_sheet_in_one_piece(sheet, pages, moment, name):
    document = sheet(Words(f"Signed by {name}."), Words("All else stands."), title=name)

    first = typeset(document, moment=moment)

    reader = PdfReader(BytesIO(first))
    assert reader.metadata.title == name
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert "All else stands." in "".join(pages(first))
    assert typeset(document, moment=moment) == first


def test_signs_that_nobody_can_see_are_left_out(sheet, pages, moment):
    hidden = "A\x00n\x07a \x1bL\ufeffe\ufffee\ud800"

    pdf = typeset(sheet(Words(hidden), Table((Column(hidden),), ((hidden,),)), title=hidden), moment=moment)

    assert PdfReader(BytesIO(pdf)).metadata.title == "Ana Lee"
    assert "".join(pages(pdf)).count("Ana Lee") == 4


def test_pages_are_counted_and_carry_mark_and_foot(sheet, pages, moment):
    document = sheet(Words("One."), NewPage(), Words("Two."), mark="Invented", foot="Printed today", language="en-US")

    found = pages(typeset(document, moment=moment))

    assert len(found) == 2
    assert all("Invented" in page and "Printed today" in page for page in found)
    assert "2 of 2" in found[1]


def test_what_stays_together_begins_a_page_rather_than_being_cut(sheet, pages, moment):
    filler = [Words(f"Line {line}.") for line in range(34)]
    kept = Together(tuple(Words(f"Kept {line}.") for line in range(12)))

    found = pages(typeset(sheet(*filler, kept), moment=moment))

    assert len(found) == 2
    assert "Kept 0." in found[1]


def test_a_screen_reader_finds_title_language_and_what_a_drawing_shows(sheet, moment):
    square = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><rect width="9" height="9"/></svg>'

    reader = PdfReader(BytesIO(typeset(sheet(Figure(square, "A square.")), moment=moment)))

    assert reader.metadata.title == "A sheet"
    assert reader.trailer["/Root"]["/Lang"] == "en"
    assert "A square." in alternatives(reader.trailer["/Root"]["/StructTreeRoot"])


def alternatives(node):
    """Every text that stands for a drawing, in the tree of a tagged file."""
    node = node.get_object() if hasattr(node, "get_object") else node
    if isinstance(node, list):
        return [text for one in node for text in alternatives(one)]
    if not isinstance(node, dict):
        return []
    return ([str(node["/Alt"])] if "/Alt" in node else []) + alternatives(node.get("/K", []))


def test_a_drawing_that_cannot_be_read_is_a_clear_error(sheet, moment):
    with pytest.raises(TypesettingError, match=r"'A sheet' could not be set: .*SVG"):
        typeset(sheet(Figure("no drawing", "Nothing")), moment=moment)


def test_a_template_that_never_ends_is_stopped(tmp_path, moment):
    endless = tmp_path / "endless.typ"
    endless.write_text("#let n = 0\n#while true { n = calc.rem(n + 1, 7); if n == 8 { break } }", encoding="utf-8")

    with pytest.raises(TypesettingError, match=r"longer than 0\.5 s|infinite"):
        compile_file(endless, {}, moment=moment, seconds=0.5)


def test_a_template_reads_nothing_outside_of_its_folder(tmp_path, moment):
    inner = tmp_path / "templates"
    inner.mkdir()
    (tmp_path / "secret.txt").write_text("secret", encoding="utf-8")
    for path in ("../secret.txt", "/../secret.txt", str(tmp_path / "secret.txt"), "/etc/passwd"):
        (inner / "main.typ").write_text(f'#read("{path}")', encoding="utf-8")

        with pytest.raises(TypesettingError):
            compile_file(inner / "main.typ", {}, moment=moment)


def test_nothing_is_fetched(tmp_path, monkeypatch, moment):
    """Not even by a proxy that the environment names: the sheet's process is told of none."""
    asked = Event()
    with socket.create_server(("127.0.0.1", 0)) as server:
        server.settimeout(30)
        Thread(target=lambda: _wait_for_somebody(server, asked), daemon=True).start()
        for name in ("HTTPS_PROXY", "https_proxy", "ALL_PROXY"):
            monkeypatch.setenv(name, f"http://127.0.0.1:{server.getsockname()[1]}")
        main = tmp_path / "main.typ"
        main.write_text('#import "@preview/anything:0.1.0"', encoding="utf-8")

        with pytest.raises(TypesettingError, match="package"):
            compile_file(main, {}, moment=moment)

    assert not asked.is_set()


def _wait_for_somebody(server, asked):
    try:
        server.accept()
    except OSError:
        return
    asked.set()
