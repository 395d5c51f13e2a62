"""Letters in a drawing followed to their boxes and ticked by keys alone, in every state of the page."""

from __future__ import annotations

import pytest

#: Sends the form of the page of practice for a family.
ASK = """(family) => {
    const form = [...document.forms].find(one => one.getAttribute('action') === '/practice');
    form.append(Object.assign(document.createElement('input'), {type: 'hidden', name: 'family', value: family}));
    form.submit();
}"""


@pytest.mark.parametrize("family", ["straps-up-and-over", "the-fault-up-and-over", "tick-every-fault"])
def test_a_letter_leads_to_its_box_and_keys_tick_it(screen, people, family):
    screen.sign_in(people["apprentice"])
    screen.page.goto(screen.base + "/practice")
    with screen.page.expect_navigation(url="**/problems/**"):
        screen.page.evaluate(ASK, family)
    screen.look()
    letter = screen.page.locator("svg a").first
    box = letter.get_attribute("href")
    letter.focus()
    screen.page.keyboard.press("Enter")
    assert screen.page.url.endswith(box)
    screen.page.locator(box).focus()
    screen.page.keyboard.press("Space")
    assert screen.page.locator(box).is_checked()
    screen.press("Send the answer")
    if screen.page.get_by_role("button", name="Give up and show me the steps").count():
        screen.press("Give up and show me the steps")

    assert not screen.page.locator("svg a").count()
