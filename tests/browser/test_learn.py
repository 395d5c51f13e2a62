"""The learner's way in a browser: each page and state as it looks, and the whole of it with one thumb, keys, no script."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from trainer.calc.length import write_length
from trainer.library.shelf import Library
from trainer.problems.model import AnswerKind
from trainer.problems.shelf import content_root
from trainer.progress.sitting import sit_down
from trainer.records.engine import Database
from trainer.records.models import Answer, Problem

#: Every family is looked at; in shares, so that not all of it falls to the end of one of the processes that test.
SHARES = 6
#: Sends a form of the page with another value, as one of its buttons would.
POST = """([action, name, value]) => {
    const form = [...document.forms].find(one => one.getAttribute('action') === action);
    const field = Object.assign(document.createElement('input'), {type: 'hidden', name, value});
    form.append(field);
    form.submit();
}"""
#: Whether a thing lies on the screen without scrolling, above whatever is fixed at its lower edge.
IN_SIGHT = """(one) => {
    const box = one.getBoundingClientRect();
    const low = Math.min(innerHeight, ...[...document.querySelectorAll('.places, .onward, .actions--low')]
        .filter(bar => !bar.contains(one) && ['fixed', 'sticky'].includes(getComputedStyle(bar).position))
        .map(bar => bar.getBoundingClientRect().top));
    return box.top >= 0 && box.bottom <= low;
}"""


@pytest.fixture(scope="module")
def library():
    return Library(content_root())


@pytest.fixture
def records(site, tmp_path):
    """The records of the site that is served."""
    assert site
    opened = Database(f"sqlite:///{tmp_path / 'site.db'}")
    yield opened
    opened.close()


@pytest.fixture
def key(records, library):
    """What is right for a problem, and what somebody types who makes a known mistake."""

    def look_up(path, mistake=""):
        with records.read() as session:
            row = session.scalars(select(Problem).where(Problem.public_id == path.rsplit("/", 1)[1])).one()
            drawn = sit_down(session, library, row.person_id, row.public_id).problem
        value = next(one.value for one in drawn.mistakes if one.id == mistake) if mistake else drawn.keys[0].value
        return write_length(value) if drawn.kind is AnswerKind.LENGTH else value

    return look_up


@pytest.fixture
def typed_on_record(records):
    """Texts of the answers to a problem."""

    def look_up(path):
        with records.read() as session:
            query = select(Answer.typed).join(Problem, Problem.id == Answer.problem_id).order_by(Answer.attempt)
            return session.scalars(query.where(Problem.public_id == path.rsplit("/", 1)[1])).all()

    return look_up


#: A page in all its states is looked at where it is narrow and light, and where it is wide and dark.
narrow_and_wide = pytest.mark.parametrize("screen", ["phone-light", "desk-dark"], indirect=True)


@pytest.fixture
def apprentice(people):
    return people["apprentice"]


def ask(screen, family):
    """Have a problem of this family issued."""
    screen.page.goto(screen.base + "/practice")
    with screen.page.expect_navigation(url="**/problems/**"):
        screen.page.evaluate(POST, ["/practice", "family", family])
    screen.look()
    return screen.path


def send(screen, text):
    screen.page.fill("#answer", text)
    screen.press("Send the answer")


def go(page, selector):
    with page.expect_navigation():
        page.click(selector)


def in_sight(screen, selector):
    return screen.page.locator(selector).first.evaluate(IN_SIGHT)


@pytest.mark.parametrize("path", ["/today", "/lessons", "/practice", "/record", "/work", "/record/bends.offset"])
def test_each_page_can_be_used_by_everybody(screen, apprentice, path):
    screen.sign_in(apprentice)
    screen.open(path)


@narrow_and_wide
def test_each_lesson_can_be_read_by_everybody(screen, apprentice, library):
    screen.sign_in(apprentice)
    for lesson in library.lessons:
        screen.open(f"/lessons/{lesson}")


@narrow_and_wide
def test_a_typed_answer_in_every_state(screen, apprentice, key):
    screen.sign_in(apprentice)
    problem = ask(screen, "offset-far-mark")
    send(screen, "about 4 1/0")
    assert screen.page.evaluate("document.activeElement.id") == "answer"
    send(screen, key(problem, "no-shrink"))
    assert screen.page.get_by_role("heading", name="Not right: a known mistake").is_visible()
    screen.press("Hint 1 of 2")
    send(screen, "30 deg")
    screen.press("Give up and show me the steps")
    assert screen.page.locator(".fig-wrong").count()
    screen.press("Again with new numbers")
    send(screen, key(screen.path))

    assert screen.page.get_by_role("heading", name="Right", exact=True).is_visible()


@narrow_and_wide
@pytest.mark.parametrize("family", ["connector-for-the-job", "fittings-that-belong"])
def test_a_choice_in_every_state(screen, apprentice, family, key):
    screen.sign_in(apprentice)
    right = key(ask(screen, family))
    screen.press("Send the answer")
    assert screen.page.evaluate("document.activeElement.className") == "errors"
    chosen = right if isinstance(right, tuple) else (right,)
    wrong = screen.page.locator(".choice input").evaluate_all("all => all.map(one => one.value)")
    screen.page.check(f"[value='{next(one for one in wrong if one not in chosen)}']")
    screen.press("Send the answer")
    for box in screen.page.locator(".choice input[type=checkbox]:checked").all():
        box.uncheck()
    for option in chosen:
        screen.page.check(f"[value='{option}']")
    screen.press("Send the answer")

    assert screen.page.get_by_role("heading", name="Right", exact=True).is_visible()


@pytest.mark.parametrize("share", range(SHARES))
def test_every_family_open_and_closed(phone, apprentice, library, share):
    phone.sign_in(apprentice)
    for family in [*library.families][share::SHARES]:
        ask(phone, family)
        phone.press("Give up and show me the steps")


@narrow_and_wide
def test_assigned_work_from_line_to_line(screen, apprentice, key):
    screen.sign_in(apprentice)
    screen.open("/work")
    with screen.page.expect_navigation():
        screen.page.locator("main .ways a").first.click()
    screen.look()
    with screen.page.expect_navigation():
        screen.page.locator(".lines button").first.click()
    screen.look()
    if screen.page.locator("#answer").count():
        right = key(screen.path)
        if screen.page.locator("#answer[type=text]").count():
            send(screen, str(right))

    assert screen.page.locator(".back").inner_text().endswith(("question 1 of 3", "Practice"))


def test_the_main_thing_to_do_is_in_sight_on_a_phone(phone, apprentice, key):
    phone.sign_in(apprentice)
    phone.open("/today")
    assert in_sight(phone, ".first h2")
    assert in_sight(phone, ".onward .button")
    phone.open("/practice")
    assert in_sight(phone, "main .button")
    problem = ask(phone, "offset-far-mark")
    assert in_sight(phone, "#answer")
    assert in_sight(phone, ".actions--low .button")
    send(phone, key(problem))
    assert in_sight(phone, ".verdict h2")
    assert in_sight(phone, ".onward .button")


def test_the_two_ways_on_share_the_width_of_a_phone(phone, apprentice, key):
    phone.sign_in(apprentice)
    phone.open("/lessons/offset-bends")
    with phone.page.expect_navigation():
        phone.page.click("#try-offset-shrink button")
    send(phone, key(phone.path))
    widths = phone.page.locator(".onward .button").evaluate_all("all => all.map(one => one.offsetWidth)")

    assert len(widths) == 2
    assert abs(widths[0] - widths[1]) <= 1


@pytest.mark.parametrize("size", ["phone", "desk"])
def test_it_all_works_without_script(screens, apprentice, size, key, typed_on_record):
    screen = screens(size, script=False)
    page = screen.page
    page.goto(screen.base + "/sign-in")
    page.fill("[name=sign_in_name]", apprentice.sign_in_name)
    page.fill("[name=password]", apprentice.password)
    go(page, "main button")
    page.goto(screen.base + "/lessons/offset-bends")
    go(page, "#try-offset-shrink button")
    problem = screen.path
    page.fill("#answer", "half")
    go(page, "text=Hint 1 of 2")
    assert page.input_value("#answer") == "half"
    go(page, "text=Send the answer")
    assert page.locator(".field__error").is_visible()
    page.fill("#answer", key(problem))
    go(page, "text=Send the answer")
    assert page.get_by_role("heading", name="Right", exact=True).is_visible()
    go(page, "text=Back to the lesson")

    assert screen.path == "/lessons/offset-bends#try-offset-shrink"
    assert typed_on_record(problem) == [key(problem)]


def test_a_keyboard_is_enough_to_answer(desk, apprentice, key):
    desk.sign_in(apprentice)
    problem = ask(desk, "offset-spacing")
    keys = desk.page.keyboard
    keys.press("Tab")
    keys.press("Enter")
    for _ in range(3):
        keys.press("Tab")
        if desk.page.evaluate("document.activeElement.id") == "answer":
            break
    keys.type(key(problem))
    with desk.page.expect_navigation():
        keys.press("Enter")
    assert desk.page.get_by_role("heading", name="Right", exact=True).is_visible()

    for _ in range(12):
        keys.press("Tab")
        if desk.page.evaluate("document.activeElement.textContent.trim()") == "Next problem":
            break
    with desk.page.expect_navigation():
        keys.press("Enter")
    assert desk.path.startswith("/problems/")
    assert desk.path != problem


def test_a_choice_is_made_with_keys(desk, apprentice, key):
    desk.sign_in(apprentice)
    right = key(ask(desk, "connector-for-the-job"))
    desk.page.focus("#answer")
    keys = desk.page.keyboard
    keys.press("Space")
    while desk.page.evaluate("document.activeElement.value") != right:
        keys.press("ArrowDown")
    with desk.page.expect_navigation():
        keys.press("Enter")

    assert desk.page.get_by_role("heading", name="Right", exact=True).is_visible()


def test_a_connection_that_breaks_while_sending_loses_nothing(phone, apprentice, key, typed_on_record):
    phone.sign_in(apprentice)
    problem = ask(phone, "offset-spacing")
    question = phone.page.locator(".job__question").inner_text()
    phone.page.context.set_offline(True)
    phone.page.fill("#answer", key(problem))
    with phone.page.expect_event("requestfailed"):
        phone.page.click("text=Send the answer")
    phone.page.context.set_offline(False)
    phone.faults.clear()

    phone.open("/today")
    phone.press("Go on with it")

    assert phone.path == problem
    assert phone.page.locator(".job__question").inner_text() == question
    assert typed_on_record(problem) == []
    send(phone, key(problem))
    assert typed_on_record(problem) == [key(problem)]


def test_going_back_after_an_answer_shows_what_came_of_it(phone, apprentice, key, typed_on_record):
    phone.sign_in(apprentice)
    problem = ask(phone, "offset-spacing")
    send(phone, key(problem))
    phone.page.go_back()
    phone.page.goto(phone.base + problem)

    assert phone.page.get_by_role("heading", name="Right", exact=True).is_visible()
    assert len(typed_on_record(problem)) == 1
