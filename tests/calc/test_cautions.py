from __future__ import annotations

import pytest

from trainer.calc.cautions import AREAS, cautions_for


def test_each_subject_has_its_own_lines_and_those_that_hold_everywhere():
    for area, lines in AREAS.items():
        assert len(cautions_for(area)) == lines + 5
        assert cautions_for(area)[lines:] == cautions_for("")


def test_an_unknown_subject_is_an_error():
    with pytest.raises(KeyError):
        cautions_for("dancing")
