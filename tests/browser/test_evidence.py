"""The pages of evidence, as a browser shows them."""

from __future__ import annotations

import pytest


@pytest.fixture
def reading(screen, people):
    """A window of somebody who learns."""
    screen.sign_in(people["apprentice"])
    return screen


@pytest.mark.parametrize("name", ["offset", "max_conductors", "fitting_choice"])
def test_the_evidence_can_be_read_on_a_phone_and_at_a_desk(reading, name):
    reading.open(f"/calculations/{name}")

    assert reading.heading.startswith("Evidence: ")


def test_the_list_leads_to_the_evidence_and_its_form_to_other_numbers(reading):
    reading.open("/calculations")
    reading.page.get_by_role("link", name="Stub up").click()
    reading.fill(stub_height="14")
    reading.page.select_option("[name=trade_size]", "3/4")
    reading.press("Show the evidence")

    assert "14 in" in reading.page.inner_text("#second-method")


def test_what_cannot_be_used_leads_back_to_its_field(reading):
    reading.open("/calculations/stub_up")
    reading.fill(stub_height="14 1/0")
    reading.press("Show the evidence")

    assert reading.page.locator(".errors a").get_attribute("href") == "#stub_height"
