"""Tables to look things up in."""

import pytest

from trainer.calc.reference_tables import REFERENCE_TABLES
from trainer.text.cells import heading_text, rows_text, title_text

TABLES = pytest.mark.parametrize("table", REFERENCE_TABLES.values(), ids=REFERENCE_TABLES)


@TABLES
def test_it_has_words_source_check_and_a_cell_for_each_column(table):
    assert title_text(table)
    assert all(heading_text(heading) for heading in table.headings)
    assert table.source
    assert table.checked
    assert len(table.rows) > 1
    assert {len(row) for row in rows_text(table)} == {len(table.headings)}


@pytest.mark.parametrize(
    ("name", "row"),
    [
        ("sixteenths", ["3/16 in", "0.1875"]),
        ("offsets", ["30°", "2", "2", "1/4 in", "0.2679"]),
        ("offsets", ["5°", "11.4", "11.474", "–", "0.0437"]),
        ("strap-distances", ["between two straps", "10 ft"]),
        ("shares", ["1/2", "0.304", "0.1611", "0.0942", "0.1216", "0.1824"]),
        ("thhn-counts", ["#12", "9", "16", "26", "45"]),
        ("boxes", ["square", "4 x 2-1/8", "30.3"]),
        ("ampacity-copper", ["#12", "20", "25", "30"]),
        ("ampacity-aluminum", ["500 kcmil", "260", "310", "350"]),
        ("heat", ["40 °C (104 °F)", "0.82", "0.88", "0.91"]),
        ("caps", ["#12", "20 A", "15 A"]),
        ("caps", ["#14", "15 A", "–"]),
        ("neighbors", ["4 to 6", "80%"]),
        ("neighbors", ["41 and more", "35%"]),
        ("grounds", ["1,000 A", "#2/0", "#4/0"]),
        ("movement", ["steel", "0.78"]),
    ],
)
def test_rows_as_they_are_read(name, row):
    assert row in rows_text(REFERENCE_TABLES[name])


def test_a_size_without_any_value_has_no_row():
    assert "#14" not in {row[0] for row in rows_text(REFERENCE_TABLES["ampacity-aluminum"])}
