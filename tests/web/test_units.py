from __future__ import annotations

from types import SimpleNamespace

from trainer.web.units import UNITS, by_unit


def test_every_unit_of_the_shelf_has_a_title_and_they_stand_in_the_order_of_the_trade(app):
    library = app.extensions["trainer.library"]
    taught = list(dict.fromkeys(skill.unit for skill in library.skills.values()))

    assert taught == list(UNITS)
    assert {lesson.unit for lesson in library.lessons.values()} <= set(UNITS)


def test_things_stand_under_their_units_in_the_order_of_the_trade_and_unknown_ones_last():
    things = [SimpleNamespace(unit=unit, n=n) for n, unit in enumerate(("signs", "bends", "cutting", "bends"))]

    assert [(title, [one.n for one in members]) for title, members in by_unit(things)] == [
        ("Cutting", [2]),
        ("Bends", [1, 3]),
        ("Signs", [0]),
    ]
