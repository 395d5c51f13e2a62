"""Every component in every state, and the pages of errors, as a browser shows them."""

from __future__ import annotations


def test_every_component_can_be_used_by_everybody(screen):
    screen.open("/look")

    assert screen.heading == "Components, in every state"


def test_a_page_that_is_not_there_looks_like_the_site(screen):
    screen.open("/nowhere")

    assert screen.heading == "There is no such page"


def test_the_tape_has_an_inch_of_96_px_with_sixteen_divisions(desk):
    desk.open("/look")

    tile = desk.page.evaluate("getComputedStyle(document.querySelector('.tape'), '::before').maskSize")

    assert tile == "96px 14px"


def test_equal_signs_of_worked_steps_stand_under_each_other(screen):
    screen.open("/look")

    lefts = screen.page.eval_on_selector_all(
        ".steps__equals", "signs => signs.map(sign => Math.round(sign.getBoundingClientRect().left))"
    )

    assert len(lefts) > 10
    assert len(set(lefts)) == 1


def test_the_main_action_stays_under_the_thumb_on_a_long_page(phone):
    phone.open("/look")
    button = phone.page.locator(".actions--low .button")
    phone.page.locator("#plain").scroll_into_view_if_needed()

    box = button.bounding_box()

    assert box["y"] > 844 / 2
    assert box["y"] + box["height"] <= 844


def test_colours_follow_the_theme(screens):
    grounds = []
    for scheme in ("light", "dark"):
        screen = screens("phone", scheme)
        screen.open("/sign-in")
        grounds.append(screen.page.evaluate("getComputedStyle(document.querySelector('main')).backgroundColor"))

    assert len(set(grounds)) == 2


def test_on_paper_there_is_nothing_to_press_and_the_tape_stays(desk):
    desk.open("/look")
    desk.page.emulate_media(media="print")

    assert not desk.page.locator(".actions").first.is_visible()
    assert not desk.page.locator(".skip").is_visible()
    assert desk.page.locator("main .tape").first.is_visible()
