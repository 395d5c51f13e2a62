from __future__ import annotations

from importlib.resources import files

import pytest

from trainer.calc.shoes import DEFAULT_SHOES
from trainer.calc.tables import table


def test_a_table_is_read_once():
    assert table("bends") is table("bends")


def test_an_unknown_table_is_not_found():
    with pytest.raises(FileNotFoundError):
        table("moons")


def test_every_table_file_can_be_read():
    for file in files("trainer.calc.tables").iterdir():
        if file.name.endswith(".toml"):
            assert table(file.name.removesuffix(".toml"))


def test_the_usual_shoes_begin_their_arc_beyond_the_take_up_mark():
    for shoe in DEFAULT_SHOES.values():
        assert 0 < shoe.mark_to_arc < 1


def test_the_usual_shoes_radius_follows_from_the_handbook_gain():
    """Outside gain of a 90 = 0.4292 R + outside diameter; handbook gains 2-5/8, 3-1/4, 4, 5-5/8 (from memory)."""
    for size, gain in {"1/2": 2.625, "3/4": 3.25, "1": 4.0, "1-1/4": 5.625}.items():
        shoe = DEFAULT_SHOES[size]

        assert (gain - shoe.outside_diameter) / 0.4292 == pytest.approx(shoe.radius, abs=0.06)
