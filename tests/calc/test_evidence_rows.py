"""The table rows that are shown with a result, held against an experiment: all other rows changed, it stays the same."""

from __future__ import annotations

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.evidence_rows import rows_used
from trainer.calc.sources import groups


def used(name, **typed):
    calculation = CATALOGUE[name]
    values = calculation.read({**calculation.example_inputs, **typed})
    return {each.group.path: each for each in rows_used(calculation, values, calculation.solve(values))}


def nudged(value):
    """A number changed by little; whatever is in a list too. Small whole numbers are counts and stay."""
    if isinstance(value, list):
        return [nudged(part) for part in value]
    return value * 1.0001 if isinstance(value, float) or (isinstance(value, int) and value > 3) else value


def cells_of(row):
    return tuple(row.values()) if isinstance(row, dict) else tuple(row)


def shown(each, row):
    return any(
        set(map(repr, cells_of(row))) - {repr(each.group.checked)} <= set(map(repr, known)) | CHECKS
        for known in each.rows
    )


CHECKS = {repr(checked) for checked in ("two sources", "computed", "from memory")}


def change_row(row):
    """All but the first cell, by which it is found."""
    if isinstance(row, dict):
        first = next(iter(row))
        return {key: value if key == first else nudged(value) for key, value in row.items()}
    return [row[0], *map(nudged, row[1:])]


def with_other_rows_changed(name):
    """A change of the tables that leaves the rows shown for this calculation's example as they are."""
    known = used(name)

    def change(file, content):
        found = {group.path[1:]: group for group in groups() if group.file == file}
        return {key: inside(value, (key,), found) for key, value in content.items()}

    def inside(value, path, found):
        if not isinstance(value, dict):
            return value
        group = found.get(path)
        rows = {key: inside(part, (*path, key), found) for key, part in value.items()}
        if group is None or "rows" not in value:
            return rows
        each = known.get(group.path)
        kept = [row if each and shown(each, row) else change_row(row) for row in value["rows"]]
        return {**rows, "rows": kept}

    return change


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_no_other_row_has_a_say_in_the_result(name, example_with):
    calculation = CATALOGUE[name]

    assert example_with(name, with_other_rows_changed(name)) == repr(calculation.solve(calculation.example_inputs))


def test_the_experiment_does_change_rows():
    content = {"emt": {"rows": [{"trade_size": "1/2", "area": 0.304}, {"trade_size": "4", "area": 14.753}]}}

    changed = with_other_rows_changed("raceway_fill")("raceway", content)

    assert changed["emt"]["rows"][1]["area"] != 14.753


def test_rows_are_found_by_size_type_angle_and_box():
    fill = used("raceway_fill", conductors="3 #12 THHN, 1 #8 XHHW, 1 #10 bare")

    assert [row[0] for row in fill["raceway", "emt"].rows] == ["1/2"]
    assert fill["conductors", "dimensions", "THHN"].columns == ("size", "diameter", "area")
    assert ("8", 0.236, 0.0437) in fill["conductors", "dimensions", "XHHW"].rows
    assert ("10", 0.116, 0.011) in fill["conductors", "bare_stranded"].rows
    assert ("raceway", "rmc") not in fill
    assert ("raceway", "rmc") in used("raceway_fill", raceway="rmc")
    assert used("offset", angle="22.5")["bends", "offset_constants"].rows == ((22.5, 2.6, 0.1875),)
    assert ("bends", "offset_constants") not in used("offset", angle="33")
    assert used("box_fill", box="FS 2 gang")["boxes", "cast"].rows == (("FS", 13.5, 18.0),)
    assert ("boxes", "boxes") not in used("box_fill", box="FS 2 gang")


def test_a_distance_that_is_equal_to_an_angle_finds_no_row_of_it():
    assert used("offset", depth="10 in")["bends", "offset_constants"].rows == ((30.0, 2.0, 0.25),)


def test_the_row_of_a_table_by_limits_is_the_first_that_is_not_exceeded():
    ampacity = used("ampacity", ambient="38 C", current_carrying="7")

    assert ampacity["ampacity", "ambient"].rows == ((40, 0.82, 0.88, 0.91),)
    assert ampacity["ampacity", "bundling"].rows == ((9, 70),)
    assert used("pull_box", conductor_size="4")["pull_boxes", "back"].rows == (("3", 2.0),)
    assert ("pull_boxes", "back") not in used("pull_box", conductor_size="")


def test_what_was_not_chosen_is_left_out():
    steel = used("thermal_change", material="steel")["expansion", "coefficients"]

    assert steel.rows == (("steel", 6.5e-06),)
    assert used("ampacity", material="copper")["ampacity", "small_conductors"].rows == (("copper", {"12": 20}),)


def test_each_row_says_how_it_was_checked():
    assert used("thermal_change", material="pvc")["expansion", "coefficients"].checked == ("computed",)
    assert used("offset", angle="20")["bends", "offset_constants"].checked == ("from memory",)
    assert used("raceway_fill", conductors="1 #12 TW")["conductors", "dimensions", "THW"].checked == ("from memory",)
    assert "take_up: two sources" in used("offset")["bends", "hand_bender_shoe"].checked[0]


def test_the_usual_shoe_is_shown_where_none_is_named():
    assert used("offset")["bends", "hand_bender_shoe"].rows[0][0] == "1/2"
    assert used("offset", shoe="1")["bends", "hand_bender_shoe"].rows[0][0] == "1"
