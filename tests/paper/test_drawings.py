"""Drawings on paper: the styles of the site's own sheets reach every shape, and nothing in them is left unresolved."""

from __future__ import annotations

import re
from pathlib import Path

from trainer.paper import Figure, for_print, typeset
from trainer.paper.drawings import told_by
from trainer.problems.hands_on import KINDS, draw_sheet, pictured

STYLES = Path(__file__).parents[2] / "trainer" / "web" / "static" / "css"
SHEETS = tuple((STYLES / name).read_text(encoding="utf-8") for name in ("figures.css", "print.css"))


def test_no_custom_property_and_no_rule_of_pages_is_left():
    printed = for_print('<svg class="fig"><rect class="fig-tube"/></svg>', *SHEETS)

    assert "var(" not in printed
    assert "--" not in printed
    assert "max-width" not in printed
    assert ":focus" not in printed


def test_the_tokens_of_print_hold():
    printed = for_print('<svg class="fig"><rect class="fig-tube"/></svg>', *SHEETS)

    assert "fill: #ddd" in re.search(r"\.fig \.fig-tube \{([^}]*)\}", printed)[1]
    assert "fill: #000" in re.search(r"\.fig text \{([^}]*)\}", printed)[1]


def test_a_drawing_carries_no_rule_for_what_is_not_in_it():
    sheet = ".fig .a, .fig .b { fill: red; } .fig .c .d { fill: blue; } .fig text { fill: black; }"
    printed = for_print('<svg class="fig"><path class="b c"/></svg>', sheet)

    assert ("red" in printed, "blue" in printed, "black" in printed) == (True, False, True)


def test_a_property_that_nobody_sets_falls_back():
    assert "fill: #123" in for_print("<svg></svg>", ".fig a { fill: var(--none, #123); }")


def test_what_a_drawing_tells_is_its_title_and_its_description():
    assert told_by("<svg><title>Offset</title><desc>Depth 6 in.</desc></svg>") == "Offset. Depth 6 in."
    assert not told_by("<svg></svg>")


def test_the_drawings_of_hands_on_checks_can_be_set_with_their_numbers_as_text(sheet, pages, moment):
    sheets = [draw_sheet(kind, kind.sizes[0], 7) for kind in KINDS.values()]
    drawn = [svg for svg in map(pictured, sheets) if svg]

    found = " ".join(
        pages(typeset(sheet(*(Figure(for_print(svg, *SHEETS), told_by(svg)) for svg in drawn)), moment=moment))
    )

    assert len(drawn) >= 4
    for svg in drawn:
        for label in re.findall(r"<text[^>]*>([^<]*\d in)</text>", svg):
            assert label in found
