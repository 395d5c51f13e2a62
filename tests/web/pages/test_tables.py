"""Tables to open while working."""

import pytest


def test_every_unit_with_tables_leads_to_them(client_of):
    page = client_of("learner").get("/tables")

    for unit in ("measuring", "bends", "supports", "fill", "boxes", "conductors", "wet"):
        assert f"/tables/{unit}" in page.links()


@pytest.mark.parametrize("unit", ["measuring", "bends", "supports", "fill", "boxes", "conductors", "wet"])
def test_a_units_tables_say_where_they_come_from(client_of, unit):
    page = client_of("learner").get(f"/tables/{unit}")

    tables = page.tree.findall(".//table")
    assert tables
    assert page.words.count("Source: ") == len(tables)


def test_a_problem_opens_them_beside_itself(client_of, given):
    problem = given.problem("learner")
    page = client_of("learner").get(f"/problems/{problem}")
    (link,) = [one for one in page.tree.iter("a") if (one.get("href") or "").startswith("/tables/bends")]

    assert link.get("target") == "_blank"


def test_a_lesson_leads_to_them(client_of):
    assert "/tables/bends" in client_of("learner").get("/lessons/offset-bends").links()
    assert not [
        link
        for link in client_of("learner").get("/lessons/cutting-and-deburring").links()
        if link and link.startswith("/tables/")
    ]
