"""Hands-on checks on the pages: setting, signing, bench night, the own ones, signers, registrations."""

from __future__ import annotations

import re
from io import BytesIO

import pytest
from sqlalchemy import update

from trainer.problems.hands_on import KINDS
from trainer.progress.hands_on import own_checks
from trainer.records.models import Problem
from trainer.web.measured import inches


@pytest.fixture
def night(world):
    return f"/groups/{world.groups['class']}/checks"


@pytest.fixture
def sheet_of(app, world):
    """The sheet of a learner's newest check."""

    def find(who="learner"):
        with app.extensions["trainer.database"].read() as session:
            return own_checks(session, world.people[who])[0].sheet

    return find


def filled(sheet, missed=(), **typed):
    measured = {f"measured-{one.id}": typed.get(one.id, f"{one.value:.12g}") for one in sheet.measured}
    return measured | {f"step-{one.id}": "no" if one.id in missed else "yes" for one in sheet.steps}


def post(browser, path, data, page=None):
    token = browser.get(page or path).value("csrf_token")
    return browser.post(path, {"csrf_token": token, **data})


@pytest.fixture
def signed(client_of, given, night, sheet_of):
    """A check that the owner has signed, with a burr left."""
    path = f"{night}/{given.check()}"
    assert post(client_of("owner"), path, filled(sheet_of(), ["burrs"])).location == night
    return path


def test_the_instructor_sets_a_check_for_who_is_ticked(client_of, given, night, sheet_of):
    instructor = client_of("instructor")
    assert "No check is open" in instructor.get(night).words

    data = {"kind": "stub-up", "size": "3/4", "people": [given.public_id("learner")]}
    assert post(instructor, night, data).location == night

    page = instructor.get(night)
    assert "One check set." in page.text
    assert "Learner Person Stub-up, 3/4" in page.words
    assert "1 stick of 3/4 EMT" in page.words
    assert (sheet_of().kind, sheet_of().trade_size) == ("stub-up", "3/4")
    assert post(instructor, night, data).location == night
    assert "All of them have this check open already." in instructor.get(night).text


@pytest.mark.parametrize(
    ("data", "field", "said"),
    [
        ({"kind": "three-point-saddle", "size": "1"}, "size", "not set in this size"),
        ({"kind": "juggling"}, "kind", "no such kind"),
        ({"people": []}, "people", "nobody was chosen"),
    ],
)
def test_what_cannot_be_set_is_told_and_kept(client_of, given, night, data, field, said):
    usual = {"kind": "stub-up", "size": "3/4", "people": [given.public_id("learner")]}
    page = post(client_of("instructor"), night, usual | data)

    assert page.status == 422
    assert said in page.errors[field].lower()


def test_a_check_is_filled_in_and_signed_on_a_phone(client_of, given, night, sheet_of):
    check = given.check()
    owner, sheet = client_of("owner"), sheet_of()
    page = owner.get(f"{night}/{check}")
    assert "Depth of the offset" in page.words
    assert "give or take 1/8 in" in page.words
    assert "The marks, worked out" in page.words
    assert "CAUTION" in page.words

    data = filled(sheet, depth=f"{sheet.measured[0].value + 0.0625:g}") | {"remark": "clean"}
    assert post(owner, f"{night}/{check}", data).location == night

    assert "Learner Person, Offset, passed" in owner.get(night).text
    page = owner.get(f"{night}/{check}")
    for said in ("Signed by Owner Person, Journeyman, Ohio, 4711", "Remark: clean", "Passed"):
        assert said in page.words
    assert "Sign" not in [one.text for one in page.tree.iter("button")]


def test_bad_input_is_told_kindly_and_nothing_is_lost(client_of, given, night, sheet_of):
    check = given.check()
    data = filled(sheet_of(), depth="about six") | {"remark": "tape slipped", "step-burrs": ""}
    page = post(client_of("owner"), f"{night}/{check}", data)

    assert page.status == 422
    assert "Depth of the offset" in page.errors["measured-depth"]
    assert "Say yes or no" in page.errors["step-burrs"]
    assert page.value("measured-depth") == "about six"
    assert page.value("measured-dog-leg") == data["measured-dog-leg"]
    assert "tape slipped" in page.text
    checked = [one.get("name") for one in page.tree.iter("input") if "checked" in one.attrib]
    assert len(checked) == len(sheet_of().steps) - 1


def test_who_is_not_named_reads_why_and_cannot_sign(client_of, given, night, sheet_of):
    check = given.check()
    page = client_of("instructor").get(f"{night}/{check}")
    assert "Only who is named for this kind of check may sign it" in page.words

    assert post(client_of("instructor"), f"{night}/{check}", filled(sheet_of())).status == 403


@pytest.mark.usefixtures("signed")
def test_bench_night_ends_with_what_was_missed(client_of, night):
    words = client_of("instructor").get(night).words

    assert "Learner Person Offset, 1/2: Not passed" in words
    assert "No burr left, inside or out, at any cut end. Offset 1 of 1" in words


def test_the_learner_reads_numbers_before_and_all_of_it_after(client_of, given, night, sheet_of):
    check = given.check()
    learner = client_of("learner")
    assert f"/checks/{check}" in learner.get("/checks").links()
    page = learner.get(f"/checks/{check}")
    assert "give or take 1/8 in" in page.words
    assert "The marks, worked out" not in page.words

    post(client_of("owner"), f"{night}/{check}", filled(sheet_of(), ["burrs"]))

    words = learner.get(f"/checks/{check}").words
    for said in ("The marks, worked out", "Not passed", "no: fails the check", "Signed by Owner Person"):
        assert said in words
    assert (
        "A hands-on check of yours was signed in Tuesday evening: Offset, 1/2. By Owner Person."
        in learner.get("/account/held").words
    )


def test_the_marks_stay_closed_while_a_proof_run_asks(client_of, signed, given, app):
    check = signed.rpartition("/")[2]
    given.problem()
    with app.extensions["trainer.database"].write() as session:
        session.execute(update(Problem).values(context="proof"))

    assert "The marks, worked out" not in client_of("learner").get(f"/checks/{check}").words


def test_a_signed_check_is_withdrawn_with_a_reason(client_of, signed):
    owner = client_of("owner")
    assert post(owner, f"{signed}/withdraw", {"reason": " "}).errors["reason"]
    assert post(owner, f"{signed}/withdraw", {"reason": "The wrong piece."}).location == signed

    assert "Withdrawn" in owner.get(signed).words
    assert "Owner Person: The wrong piece." in owner.get(signed).words
    assert owner.get(f"{signed}/withdraw").status == 404


def test_an_open_check_is_put_aside(client_of, given, night):
    check = given.check()
    assert post(client_of("instructor"), f"{night}/{check}/aside", {}, f"{night}/{check}").location == night

    assert "No check is open" in client_of("instructor").get(night).words


def test_cards_hold_each_learner_s_own_numbers(client_of, given, night):
    for kind in KINDS:
        given.check(kind=kind)
    page = client_of("instructor").get(f"{night}/cards")

    assert page.words.count("Came out") == len(KINDS)
    assert "Learner Person: Four-bend run to a drawing" in page.words


def test_cards_on_paper_count_the_sticks_first(client_of, given, night, sheet_of):
    given.check()
    sheet, instructor = sheet_of(), client_of("instructor")
    page = instructor.get(f"{night}/cards.pdf")

    cover, card = page.paper.splitlines()
    assert page.headers["Content-Disposition"] == 'attachment; filename="bench-night-tuesday-evening.pdf"'
    assert "1 new stick" in cover
    assert "Wear eye protection" in cover
    assert f"Learner Person: {sheet.title}" in card
    assert f"card {re.search(r'card ([A-Z2-9]{4} [A-Z2-9]{4})', instructor.get(night).words)[1]}" in card
    assert all(one.say in card for one in sheet.marks)
    assert "give or take" in card
    assert "Caution" in card
    assert not any(inches(value) in card for one in sheet.marks for _, value in one.values)


def test_the_count_of_straps_is_left_to_the_learner_until_it_is_signed(client_of, given, night):
    check = given.check(kind="strap-a-run")
    given.signer(kinds=("strap-a-run",))

    instructor = client_of("instructor")
    for said in (
        instructor.get(f"{night}/cards.pdf").paper,
        instructor.get(f"{night}/cards").words,
        client_of("learner").get(f"/checks/{check}").words,
    ):
        assert "Straps on the run" in said
        assert not re.search(r"at least \d+ straps", said)
    assert re.search(r"at least \d+ straps", client_of("owner").get(f"{night}/{check}").words)


def test_the_cover_says_so_when_nothing_is_open(client_of, night):
    assert "No check is open." in client_of("instructor").get(f"{night}/cards.pdf").paper


def test_the_list_takes_no_more_queries_for_more_checks(client_of, given, night):
    given.check(kind="offset")
    few = len(client_of("instructor").get(night).queries)
    for kind in [one for one in KINDS if one != "offset"]:
        given.check(kind=kind)

    assert len(client_of("instructor").get(night).queries) == few


def test_the_owner_names_and_ends(client_of, given, world):
    path = f"/organisations/{world.organisations['school']}/signers"
    owner = client_of("owner")
    assert path in owner.get(f"/organisations/{world.organisations['school']}/staff").links()
    assert "Nobody is named yet" in owner.get(path).words
    data = {
        "person": given.public_id("instructor"),
        "kinds": ["offset", "stub-up"],
        "licence": "Master, Ohio, 9",
        "expires_on": "2027-06-30",
    }
    wrong = post(owner, path, data | {"expires_on": "soon"})
    assert "Type the last day as year-month-day" in wrong.errors["expires_on"]
    assert wrong.value("licence") == "Master, Ohio, 9"

    assert post(owner, path, data).location == path
    page = owner.get(path)
    assert "Instructor Person: Offset" in page.words
    assert "last day Wed, Jun 30, 2027" in page.words
    end = next(one.get("action") for one in page.tree.iter("form") if one.get("action").endswith("/end"))
    owner.submit(path, action=end)
    assert "ended" in owner.get(path).words


def test_an_ended_naming_shows_beside_the_signature(client_of, signed, world):
    owner = client_of("owner")
    path = f"/organisations/{world.organisations['school']}/signers"
    end = next(one.get("action") for one in owner.get(path).tree.iter("form") if one.get("action").endswith("/end"))
    owner.submit(path, action=end)

    assert "Signed while named; the naming ended on Wed, Nov 25, 2026." in owner.get(signed).words


def test_a_registration_is_entered_and_taken_away(client_of, given, world):
    learner, path = client_of("learner"), "/account/registrations"
    assert path in learner.get("/account").links()
    data = {"what": "registration", "words": "Apprentice, Ohio, 815", "expires_on": "2027-01-31"}
    assert "Type" in post(learner, path, data | {"words": ""}).errors["words"]
    assert post(learner, path, data).location == path
    page = learner.get(path)
    assert "Apprentice, Ohio, 815" in page.words
    member = f"/groups/{world.groups['class']}/people/{given.public_id('learner')}"
    assert f"{member}/registrations" in client_of("owner").get(member).links()
    assert f"{member}/registrations" not in client_of("instructor").get(member).links()
    assert "Apprentice, Ohio, 815" in client_of("owner").get(f"{member}/registrations").words
    end = next(one.get("action") for one in page.tree.iter("form") if one.get("action").endswith("/end"))
    learner.submit(path, action=end)
    assert "None entered yet" in learner.get(path).words


def test_the_owner_enters_one_for_a_member(client_of, given, world):
    path = f"/groups/{world.groups['class']}/people/{given.public_id('learner')}/registrations"
    data = {"what": "licence", "words": "Journeyman, Ohio, 5", "expires_on": "2027-01-31"}
    assert post(client_of("owner"), path, data | {"expires_on": "2020-01-01"}).errors["expires_on"]
    assert post(client_of("owner"), path, data).location == path

    assert "entered by Owner Person" in client_of("learner").get("/account/registrations").words


def send_photo(browser, path, file, shows="The rise, with the tape on it."):
    data = {"csrf_token": browser.get(path).value("csrf_token"), "shows": shows, "photo": (BytesIO(file), "IMG_1.jpg")}
    return browser.post(path, data, content_type="multipart/form-data")


def pictures(page):
    return [(one.get("src"), one.get("alt")) for one in page.tree.iter("img")]


def test_a_photograph_of_a_check_is_sent_seen_by_all_who_see_the_check_and_taken_away(client_of, signed, picture):
    instructor, learner = client_of("instructor"), client_of("learner")
    photos = f"{signed}/photos"
    assert photos in instructor.get(signed).links()
    assert send_photo(instructor, photos, picture()).location == photos

    ((address, told),) = pictures(instructor.get(signed))
    assert told == "The rise, with the tape on it."
    assert pictures(client_of("owner").get(signed)) == [(address, told)]
    own = f"/checks/{signed.rpartition('/')[2]}"
    assert "Added by Instructor Person." in learner.get(own).words
    ((own_address, _),) = [one for one in pictures(learner.get(own)) if one[1] == told]
    assert learner.get(own_address).sent == instructor.get(address).sent
    assert learner.get(address).status == 403
    assert "Photographs of your work 1" in learner.get("/account/held").words
    assert "A photograph was added to a hands-on check of yours" in learner.get("/account/held").words

    remove = f"{photos}/{address.rpartition('/')[2].removesuffix('.jpg')}/remove"
    assert instructor.submit(photos, action=remove).location == photos
    assert instructor.get(address).status == learner.get(own_address).status == 404


def test_what_is_no_photograph_of_a_check_is_told_kindly(client_of, signed):
    page = send_photo(client_of("instructor"), f"{signed}/photos", b"MZ")

    assert page.status == 422
    assert "This file is not a picture" in page.errors["photo"]
    assert page.value("shows") == "The rise, with the tape on it."


def test_a_check_that_counts_no_longer_takes_no_photograph(client_of, given, signed):
    owner = client_of("owner")
    given.check_photo(signed.rpartition("/")[2])
    owner.submit(f"{signed}/withdraw", {"reason": "The wrong piece."})

    page = owner.get(f"{signed}/photos")
    assert "takes no more photographs" in page.words
    assert len(pictures(page)) == 1
    assert owner.post(f"{signed}/photos", {"csrf_token": page.value("csrf_token")}).status == 403
