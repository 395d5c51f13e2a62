"""Steps numbered in a browser: in every state, and by the keyboard alone."""

from __future__ import annotations

#: Sends the form of the page of practice for a family.
ASK = """(family) => {
    const form = [...document.forms].find(one => one.getAttribute('action') === '/practice');
    form.append(Object.assign(document.createElement('input'), {type: 'hidden', name: 'family', value: family}));
    form.submit();
}"""
SLIP = ("mark", "clamp", "saw", "push", "ream", "tighten")
RIGHT = ("mark", "clamp", "saw", "ream", "push", "tighten")


def number(screen, order):
    """Choose the number of each step by keys alone, in the order in which they stand on the page."""
    selects = screen.page.locator("select[name=answer]")
    steps = selects.evaluate_all("all => all.map(one => one.options[1].value.split(':')[1])")
    selects.first.focus()
    for step in steps:
        screen.page.keyboard.type(str(order.index(step) + 1))
        screen.page.keyboard.press("Tab")


def test_steps_are_put_in_order_by_keys_and_every_state_can_be_used(screen, people):
    screen.sign_in(people["apprentice"])
    screen.page.goto(screen.base + "/practice")
    with screen.page.expect_navigation(url="**/problems/**"):
        screen.page.evaluate(ASK, "order-of-a-cut")
    screen.look()
    screen.press("Send the answer")
    assert screen.page.get_by_text("Give each step a number").first.is_visible()
    number(screen, SLIP)
    screen.press("Send the answer")
    assert screen.page.get_by_role("heading", name="Not right: a known mistake").is_visible()
    number(screen, RIGHT)
    screen.press("Send the answer")

    assert screen.page.get_by_role("heading", name="Right", exact=True).is_visible()
