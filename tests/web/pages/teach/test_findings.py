"""Reporting from the job on a page, withdrawing it, and what the learner reads."""

from io import BytesIO

import pytest
from werkzeug.datastructures import FileStorage
from werkzeug.test import encode_multipart


@pytest.fixture
def path(world, given):
    return f"/groups/{world.groups['class']}/people/{given.public_id('learner')}/findings"


TROUBLE = {"kind": "scrapped", "skill": "bends.offset", "note": "Four pieces of 3/4 in the bin."}


def test_a_leader_reports_and_the_learner_reads_it(client_of, path):
    sent = client_of("instructor").submit(path, TROUBLE)
    assert sent.location == path

    learner = client_of("learner")
    words = learner.get("/record/findings").words
    assert "Scrapped pieces" in words
    assert "Four pieces of 3/4 in the bin." in words
    assert "only after a proof run that begins after this finding" in words
    assert "Pieces were scrapped" in learner.get("/record/bends.offset/proof").words
    assert "Pieces were scrapped" in learner.get("/record/bends.offset").words
    assert "/record/findings" in learner.get("/record").links()
    assert "reported what the job showed" in learner.get("/account/held").words


def test_a_form_with_something_missing_is_shown_again(client_of, path):
    page = client_of("instructor").submit(path, {"kind": "dog-leg"})

    assert page.status == 422
    assert set(page.errors) == {"skill", "note"}


def test_what_is_not_on_the_list_is_refused(client_of, path):
    page = client_of("instructor").submit(path, TROUBLE | {"kind": "magic"})

    assert page.status == 422
    assert "kind" in page.errors


def test_the_member_page_leads_there_and_a_skill_can_be_chosen_beforehand(client_of, path):
    leader = client_of("instructor")
    assert path in leader.get(path.removesuffix("/findings")).links()

    chosen = [
        one.get("value")
        for one in leader.get(f"{path}?skill=bends.offset").tree.iter("option")
        if "selected" in one.attrib
    ]
    assert chosen == ["bends.offset"]


def test_who_reported_withdraws_with_a_reason(client_of, given, path):
    finding = given.finding()
    leader = client_of("instructor")
    withdraw = f"{path}/{finding}/withdraw"
    assert withdraw in leader.get(path).links()
    assert leader.submit(withdraw).status == 422

    assert leader.submit(withdraw, {"reason": "It was another run."}).location == path
    assert "Withdrawn, so it changes nothing: It was another run." in client_of("learner").get("/record/findings").words
    assert leader.get(withdraw).status == 403


def test_the_owner_reads_it_and_cannot_withdraw_what_the_instructor_wrote(client_of, given, path):
    finding = given.finding()

    page = client_of("owner").get(path)
    assert "Two offsets lean." in page.words
    assert f"{path}/{finding}/withdraw" not in page.links()


@pytest.fixture
def photos(path, given):
    return f"{path}/{given.finding()}/photos"


def send(browser, photos, file, shows="Two offsets, one leaning.", name="IMG_1.jpg"):
    token = browser.get(photos).value("csrf_token")
    data = {"csrf_token": token, "shows": shows, "photo": (BytesIO(file), name)}
    return browser.post(photos, data, content_type="multipart/form-data")


def pictures(page):
    return [(one.get("src"), one.get("alt")) for one in page.tree.iter("img")]


def test_a_photograph_is_sent_seen_and_taken_away(client_of, path, photos, picture):
    leader, learner = client_of("instructor"), client_of("learner")
    assert photos in leader.get(path).links()
    assert send(leader, photos, picture()).location == photos

    ((address, told),) = pictures(leader.get(path))
    assert told == "Two offsets, one leaning."
    assert leader.get(address).headers["Content-Type"] == "image/jpeg"
    ((own, _),) = pictures(learner.get("/record/findings"))
    assert learner.get(own).sent == leader.get(address).sent
    assert learner.get(address).status == 403
    assert client_of("stranger").get(own).status == 404
    assert "Photographs of your work 1" in learner.get("/account/held").words

    remove = f"{photos}/{address.rpartition('/')[2].removesuffix('.jpg')}/remove"
    assert leader.submit(photos, action=remove).location == photos
    assert leader.get(address).status == 404
    assert pictures(learner.get("/record/findings")) == []


def test_a_photograph_larger_than_a_form_is_read_and_no_other_page_reads_as_much(client_of, path, photos, picture):
    leader = client_of("instructor")
    large = picture("PNG", (1700, 1700)) + bytes(400 * 1024)

    assert send(leader, photos, large).location == photos
    assert send(leader, path, large).status in {413, 422, 400}


@pytest.mark.parametrize(
    ("file", "said"),
    [(b"", "No photograph was chosen."), (b"MZ\x90", "This file is not a picture that can be read here.")],
)
def test_what_is_no_photograph_is_told_kindly_and_what_was_typed_stays(client_of, photos, file, said):
    page = send(client_of("instructor"), photos, file)

    assert page.status == 422
    assert said in page.errors["photo"]
    assert "JPEG, PNG or WebP, up to 12 MB" in page.errors["photo"]
    assert page.value("shows") == "Two offsets, one leaning."


def report_with_photo(browser, path, file, **more):
    data = TROUBLE | {"csrf_token": browser.get(path).value("csrf_token"), "shows": "Four pieces in the bin."} | more
    boundary, body = encode_multipart(data | {"photo": FileStorage(BytesIO(file), "IMG_2.jpg")})
    return browser.post(path, body, content_type=f"multipart/form-data; boundary={boundary}")


def test_a_finding_and_its_photograph_go_in_one_form(client_of, path, picture):
    leader = client_of("instructor")
    assert report_with_photo(leader, path, picture()).location == path

    page = leader.get(path)
    assert "Four pieces of 3/4 in the bin." in page.words
    ((_, told),) = pictures(page)
    assert told == "Four pieces in the bin."


@pytest.mark.parametrize(
    ("file", "more", "wrong"),
    [
        (b"MZ\x90", {}, "photo"),
        (b"x" * (13 * 2**20), {}, "photo"),
        (b"", {}, "photo"),
        (None, {"shows": " "}, "shows"),
    ],
)
def test_a_bad_photograph_loses_nothing_that_was_typed(client_of, path, picture, file, more, wrong):
    leader = client_of("instructor")
    page = report_with_photo(leader, path, picture() if file is None else file, **more)

    assert page.status == 422
    assert set(page.errors) == {wrong}
    assert page.value("shows").strip() == more.get("shows", "Four pieces in the bin.").strip()
    assert "Four pieces of 3/4 in the bin." in page.text
    assert "Nothing was reported yet." in leader.get(path).words
