"""The bender put on its tube in a browser: in every state, and by the keyboard alone."""

from __future__ import annotations

#: Sends the form of the page of practice for a family.
ASK = """(family) => {
    const form = [...document.forms].find(one => one.getAttribute('action') === '/practice');
    form.append(Object.assign(document.createElement('input'), {type: 'hidden', name: 'family', value: family}));
    form.submit();
}"""
SLIP = {"mark": 0, "reference": 1, "hook": 0, "roll": 0}
RIGHT = {"mark": 0, "reference": 0, "hook": 0, "roll": 0}


def choose(screen, places):
    """Go through the groups with the keys alone, and take in each the choice at its place."""
    keyboard = screen.page.keyboard
    for group, place in places.items():
        radios = screen.page.locator(f"input[name=answer-{group}]")
        chosen = radios.evaluate_all("all => all.findIndex(one => one.checked)")
        radios.nth(max(chosen, 0)).focus()
        if chosen < 0:
            keyboard.press("Space")
        for _ in range(abs(place - max(chosen, 0))):
            keyboard.press("ArrowDown" if place > max(chosen, 0) else "ArrowUp")
        assert radios.nth(place).is_checked()


def test_the_bender_is_set_by_keys_and_every_state_can_be_used(screen, people):
    screen.sign_in(people["apprentice"])
    screen.page.goto(screen.base + "/practice")
    with screen.page.expect_navigation(url="**/problems/**"):
        screen.page.evaluate(ASK, "back-to-back-bender")
    screen.look()
    screen.press("Send the answer")
    assert screen.page.get_by_text("Choose one of each group.").first.is_visible()
    choose(screen, SLIP)
    screen.press("Send the answer")
    assert screen.page.get_by_role("heading", name="Not right: a known mistake").is_visible()
    assert screen.page.locator("svg.fig").count() == 2
    choose(screen, RIGHT)
    screen.press("Send the answer")

    assert screen.page.get_by_role("heading", name="Right", exact=True).is_visible()
    assert screen.page.get_by_role("heading", name="How the bender sits").is_visible()
