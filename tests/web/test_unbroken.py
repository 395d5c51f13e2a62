from __future__ import annotations

import pytest
from markupsafe import Markup

from trainer.web.unbroken import unbroken


@pytest.mark.parametrize("length", ["12-3/8", "12-3/8 in", "3/8 in", "3 ft 4-1/2 in", "40.5 in", "1028 mm", "1.028 m"])
def test_a_length_is_kept_together(length):
    assert unbroken(f"at {length}.") == f'at <span class="whole">{length}</span>.'


@pytest.mark.parametrize("text", ["3 inches", "12 of 40", "358.24(B)", "22.5°", "1/2 EMT", "in 4"])
def test_other_numbers_are_left_alone(text):
    assert unbroken(text) == text


def test_what_stands_in_a_tag_is_left_alone():
    html = Markup('<a href="/x?at=12-3/8 in">here</a>')

    assert unbroken(html) == html


def test_a_line_full_of_digits_can_still_break():
    kept = unbroken("9" * 400 + " in")

    assert len(kept.split('"whole">')[1]) < 30


def test_text_that_is_not_marked_as_clean_is_escaped():
    assert unbroken("<b>4 in</b>") == '&lt;b&gt;<span class="whole">4 in</span>&lt;/b&gt;'
