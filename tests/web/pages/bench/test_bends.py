"""The bench: numbers in, marks out; bad ones told beside their fields; the slip; closed while a proof run is open."""

from __future__ import annotations

from urllib.parse import urlencode

import pytest
from sqlalchemy import update

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.layout_compare import COMPARE
from trainer.calc.marks import End
from trainer.records.models import Organisation, Problem
from trainer.web.pages.bench.bends import BENDS

NUMBERS = {
    "stub-up": {"stub_height": "12"},
    "back-to-back": {"distance": "40", "stub": "12"},
    "offset": {"depth": "6", "distance": "52-3/8", "angle": "30"},
    "box-offset": {"knockout": "1-1/8", "angle": "10", "near_mark": "3"},
    "kick": {"rise": "6", "angle": "30"},
    "three-point-saddle": {"height": "4-1/2", "distance": "52-3/8", "centre_angle": "45"},
    "four-point-saddle": {"height": "4", "width": "12", "distance": "52-3/8", "angle": "30"},
    "rolling-offset": {"rise": "6", "roll": "8", "distance": "52-3/8", "angle": "30"},
    "parallel-offsets": {
        "centre_spacing": "2",
        "neighbour": "1",
        "depth": "6",
        "distance": "52-3/8",
        "angle": "30",
    },
    "wide-bend": {"radius": "30", "angle": "90", "shots": "15", "distance": "60"},
}


def address(bend, **more):
    return f"/bench/{bend}?{urlencode(NUMBERS[bend] | {'shoe': '3/4'} | more)}"


def positions(page):
    return [
        "".join(one.itertext()).replace("\u00a0", " ").replace("\u2011", "-").replace("\u2060", "")
        for one in page.tree.iter("p")
        if one.get("class") == "mark__position"
    ]


def with_basis(app, basis):
    with app.extensions["trainer.database"].write() as session:
        session.execute(update(Organisation).values(basis=basis))


def test_it_offers_every_bend_in_trade_words(client_of):
    page = client_of("learner").get("/bench")

    assert page.heading == "Bench"
    assert [f"/bench/{bend}" for bend in NUMBERS] == [link for link in page.links() if link.startswith("/bench/")][:-1]
    assert set(NUMBERS) == set(BENDS)


@pytest.mark.parametrize("bend", NUMBERS)
def test_each_bend_asks_for_what_its_calculation_needs(bend):
    asked = {one.name for one in BENDS[bend].asked} | set(BENDS[bend].shoe_as)

    assert set(BENDS[bend].calculation.required_inputs) <= asked
    assert BENDS[bend].name in COMPARE


@pytest.mark.parametrize("bend", NUMBERS)
def test_an_empty_form_asks_and_says_nothing_wrong(client_of, bend):
    page = client_of("learner").get(f"/bench/{bend}")

    assert (page.status, page.errors, positions(page)) == (200, {}, [])


@pytest.mark.parametrize("basis", ["handbook", "sharp-corner", "arc"])
@pytest.mark.parametrize("bend", NUMBERS)
def test_each_bend_gives_its_marks_as_full_instructions(client_of, bend, basis):
    page = client_of("learner").get(address(bend, basis=basis))

    found = positions(page)
    assert page.status == 200
    assert found
    for words in ("On it", "Hook toward", "Bend to"):
        assert page.words.count(words) >= len(found)
    assert page.text.count('class="mark__drawing"') == min(len(found), 1 if bend == "wide-bend" else 6)


def test_the_marks_are_those_of_the_core(client_of):
    core = CATALOGUE["offset"].solve({"depth": 6.0, "distance": 52.375, "angle": 30.0})

    page = client_of("learner").get(address("offset", basis="handbook", shoe="1/2"))

    assert [round(mark.position, 3) for mark in core.marks_handbook] == [53.875, 41.875]
    assert positions(page) == ["53-7/8 in", "41-7/8 in"]
    assert "Sharp corner: 54 in, 42 in." in page.words.replace("\u2060", "").replace("\u00a0", " ")


def test_a_box_offset_begins_at_the_box_with_the_hook_on_straight_tube(client_of):
    core = CATALOGUE["box_offset"].solve({"knockout": 0.875, "angle": 10.0, "near_mark": 2.5})

    page = client_of("learner").get(
        address("box-offset", knockout="7/8", near_mark="2-1/2", shoe="1/2", basis="handbook")
    )

    assert [(round(mark.position, 3), mark.hook_toward, mark.order) for mark in core.marks_handbook] == [
        (2.5, End.FAR, 1),
        (5.632, End.FAR, 2),
    ]
    assert positions(page) == ["2-1/2 in", "5-5/8 in"]
    assert page.words.count("Hook toward the far end") == 2


@pytest.mark.parametrize(
    ("field", "text"), [("knockout", "3/8"), ("knockout", ""), ("standoff", "1"), ("angle", "45"), ("near_mark", "1")]
)
def test_a_box_offset_that_cannot_be_is_told_beside_its_field(client_of, field, text):
    page = client_of("learner").get(address("box-offset", **{field: text}))

    assert page.status == 422
    assert list(page.errors) == ["knockout" if field == "standoff" else field]
    assert page.value(field) == text


def test_what_straps_hold_off_makes_a_box_offset_flatter(client_of):
    browser = client_of("learner")
    on_the_wall, held_off = (
        positions(browser.get(address("box-offset", basis="arc", standoff=off))) for off in ("", "1/4")
    )

    assert on_the_wall[0] == held_off[0] == "3 in"
    assert on_the_wall[1] > held_off[1]


def test_a_length_may_be_typed_in_every_form_of_the_trade(client_of):
    same = ["52-3/8", '52 3/8"', "4' 4-3/8\"", "52.375 in", "1330.325 mm"]

    found = {tuple(positions(client_of("learner").get(address("offset", distance=text)))) for text in same}

    assert found == {("53-7/8 in", "41-7/8 in")}


def test_the_basis_of_the_shop_goes_first(app, client_of):
    marks = {}
    for basis in ("handbook", "sharp-corner", "arc"):
        with_basis(app, basis)
        marks[basis] = tuple(positions(client_of("learner").get(address("offset"))))

    assert len(set(marks.values())) == 3
    assert marks["arc"] == tuple(positions(client_of("learner").get(address("offset", basis="arc"))))


def test_an_address_shows_the_same_whatever_the_shop_reckons_by(app, client_of):
    with_basis(app, "sharp-corner")
    sent = client_of("learner").get(address("offset", basis="handbook"))

    assert positions(sent) == ["53-7/8 in", "41-7/8 in"]


def test_what_a_basis_has_no_marks_for_is_reckoned_by_the_arc_and_said(client_of):
    page = client_of("learner").get(address("offset", angle="27", basis="handbook"))

    assert "By handbook there are no marks for this; these are by the arc of the shoe." in page.words


def test_it_says_what_comes_off_the_bender(client_of):
    rounded = client_of("learner").get(address("three-point-saddle", basis="handbook"))
    exact = client_of("learner").get(address("three-point-saddle", basis="arc"))

    assert "Bent by them on this shoe, expect" in rounded.words
    assert "Height of the saddle 4-1/2 in" in rounded.words.replace("\u2060", "").replace("\u00a0", " ")
    assert "it comes out as asked, within 1/32 in" in exact.words


def test_a_page_with_marks_leads_to_its_slip_and_to_what_went_wrong(client_of):
    browser = client_of("learner")
    links = browser.get(address("offset", job="Pump room")).links()

    slip = next(link for link in links if link.startswith("/bench/offset/slip?"))
    wrong = next(link for link in links if link.startswith("/bench/offset/wrong?"))
    assert positions(browser.get(slip)) == ["53-7/8 in", "41-7/8 in"]
    assert "Pump room" in browser.get(slip).words
    assert browser.get(wrong).heading == "Offset: it came out wrong"


@pytest.mark.parametrize("bend", NUMBERS)
def test_the_slip_has_all_marks_and_the_numbers(client_of, bend):
    page = client_of("learner").get(address(bend).replace("?", "/slip?"))

    assert page.heading.startswith("Slip: ")
    assert positions(page) == positions(client_of("learner").get(address(bend)))
    assert "3/4, usual hand bender" in page.words


def test_a_slip_without_numbers_is_the_form(client_of):
    assert client_of("learner").get("/bench/offset/slip").heading == "Offset"


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("depth", "banana"),
        ("depth", "-3"),
        ("distance", ""),
        ("distance", "6'' 12'"),
        ("angle", "95"),
        ("angle", "30 in"),
        ("depth", "1e5"),
        ("hook", "sideways"),
        ("shoe", "no-such-shoe"),
        ("distance", "5"),
    ],
)
def test_what_cannot_be_used_is_told_beside_its_field_and_nothing_is_lost(client_of, field, text):
    page = client_of("learner").get(address("offset", **{field: text}))

    assert page.status == 422
    assert list(page.errors) == [field]
    assert positions(page) == []
    kept = {"depth": "6", "distance": "52-3/8", "angle": "30"} | (
        {field: text} if field not in {"hook", "shoe"} else {}
    )
    assert {name: page.value(name) for name in ("depth", "distance", "angle")} == {
        name: kept[name] for name in ("depth", "distance", "angle")
    }


def test_signs_that_no_page_may_hold_do_no_harm(client_of):
    page = client_of("learner").get(address("offset", depth="6\x00\x1b<script>", job="<b>x</b>\x07"))

    assert page.status == 422
    assert page.value("depth") == "6<script>"
    assert page.value("job") == "<b>x</b>"


def test_a_bend_that_there_is_not_is_not_found(client_of):
    assert client_of("learner").get("/bench/pretzel").status == 404
    assert client_of("learner").get("/bench/pretzel/slip").status == 404
    assert client_of("learner").get("/bench/pretzel/wrong").status == 404


def test_odd_names_in_the_address_do_no_harm(client_of):
    page = client_of("learner").get(address("offset") + "&_external=1&bend_id=x&_anchor=y")

    assert page.status == 200
    assert not any("_external" in link for link in page.links())


def test_the_shop_s_own_shoe_goes_first(client_of, given):
    kept = given.shoe()
    page = client_of("learner").get("/bench/offset?" + urlencode(NUMBERS["offset"]))

    options = [one.get("value") for one in page.tree.iter("option")]
    assert "3/4, yellow handle (3/4)" in page.words
    assert options.index(kept) < options.index("1/2")


def test_the_marks_are_those_of_the_shoe_in_hand(client_of, given):
    kept = given.shoe(radius=6.0, take_up=7.0)
    browser = client_of("learner")

    own = positions(browser.get(address("offset", shoe=kept, basis="arc")))
    assert own != positions(browser.get(address("offset", basis="arc")))
    assert positions(browser.get(address("stub-up", shoe=kept))) == ["5 in"]


def test_a_shoe_of_another_shop_is_none_of_yours(client_of, given):
    kept = given.shoe("foreman", "shop")
    page = client_of("learner").get(address("offset", shoe=kept))

    assert list(page.errors) == ["shoe"]
    assert "yellow handle" not in page.words


def test_an_address_with_a_shoe_that_was_measured_again_still_shows_its_marks(client_of, given):
    old = given.shoe(take_up=6.0)
    before = positions(client_of("learner").get(address("stub-up", shoe=old)))
    given.shoe(take_up=6.5)

    page = client_of("learner").get(address("stub-up", shoe=old))

    assert positions(page) == before == ["6 in"]
    assert "has been measured again since" in page.words


@pytest.mark.parametrize(
    "path", ["/bench", "/bench/offset", "/bench/offset/slip", "/bench/offset/wrong", "/bench/shoes", address("offset")]
)
def test_while_a_question_of_a_proof_run_is_open_the_bench_is_closed(app, client_of, given, path):
    problem = given.problem()
    with app.extensions["trainer.database"].write() as session:
        session.execute(update(Problem).where(Problem.public_id == problem).values(context="proof"))

    page = client_of("learner").get(path)
    assert (page.status, page.heading) == (409, "The bench is closed for now")
    assert positions(page) == []
    assert client_of("other-learner").get("/bench").status == 200


def test_who_belongs_nowhere_bends_with_a_usual_shoe(client_of):
    page = client_of("stranger").get("/bench/stub-up?stub_height=12")

    assert positions(page) == ["7 in"]


def test_the_whole_run_gives_its_material(client_of):
    core = CATALOGUE["material_list"]
    result = core.solve(core.read({"run": "12 in + 40 ft + 12 in", "shoe": "3/4"}))
    path = address("stub-up", run="12 in + 40 ft + 12 in")

    for page in (client_of("learner").get(path), client_of("learner").get(path.replace("?", "/slip?"))):
        told = page.words.replace("\u2060", "").replace("\u00a0", " ")
        assert f"Sticks {result.sticks} Couplings {result.couplings} Connectors 2 Straps {result.straps}" in told
        assert "Stick of 120 in" in told


@pytest.mark.parametrize("run", ["banana", "12 in +", "1 in + 2 in", "10 ft + 10 ft + 10 ft + 10 ft + 10 ft + 10 ft"])
def test_a_run_that_cannot_be_is_told_beside_its_field(client_of, run):
    page = client_of("learner").get(address("stub-up", run=run))

    assert (page.status, list(page.errors)) == (422, ["run"])
    assert (page.value("run"), page.value("stub_height")) == (run, "12")


def test_what_it_is_for_is_kept_and_told_when_the_slip_has_no_room_for_it(client_of):
    page = client_of("learner").get(address("offset", depth="6", job="Panel B, " * 10))

    assert (page.status, list(page.errors)) == (422, ["job"])
    assert page.value("job") == ("Panel B, " * 10)
    assert "80" in page.errors["job"]
    assert "90" in page.errors["job"]
