"""Job types and the board: the owner writes, the group's leaders read, the learner reads his own."""

from datetime import date

import pytest
from sqlalchemy import func, select, update

from trainer.accounts.actor import actor_of_person
from trainer.accounts.sharing import Shared, set_shared
from trainer.groups.joining import join
from trainer.groups.ready_made import ready_made
from trainer.records.models import AuditLine, Group, JobType, Organisation, Registration

GARAGE = tuple(ready_made()["exposed-garage"].skills)
WEEK = tuple(ready_made()["first-week"].skills)


@pytest.fixture
def types(world):
    return f"/organisations/{world.organisations['school']}/job-types"


@pytest.fixture
def board(world):
    return f"/groups/{world.groups['class']}/board"


@pytest.fixture
def owner(client_of):
    return client_of("owner")


@pytest.fixture
def shown(world, given):
    """The learner lets the leaders of the class see readiness."""
    with given.database.write() as session:
        group = session.scalars(select(Group.id).where(Group.public_id == world.groups["class"])).one()
        set_shared(session, world.people["learner"], group, Shared.READINESS, given.clock.now, shared=True)


def sent(page, action, **changes):
    """The form of a job type as a browser would send it, with changes."""
    ticked = {one.get("name"): one.get("value") for one in page.tree.iter("input") if "checked" in one.attrib}
    texts = {one.get("id"): one.text.strip("\n") for one in page.tree.iter("textarea")}
    chosen = {
        one.get("name"): next((way.get("value") for way in one.iter("option") if "selected" in way.attrib), "")
        for one in page.tree.iter("select")
    }
    return page.form(action) | ticked | texts | chosen | changes


def test_the_owner_copies_a_ready_made_one_and_edits_it(owner, types):
    page = owner.submit(types, action=f"{types}/copies/first-week")
    form = owner.get(page.location)
    assert form.heading == "First-week helper"

    kept = owner.post(page.location, sent(form, page.location, name="Monday helper", valid_days="90"))

    assert kept.location == types
    listed = owner.get(types)
    assert "Monday helper" in listed.words
    again = owner.get(page.location)
    assert again.value("valid_days") == "90"
    assert sent(again, page.location)["skill:cutting.ends"] == "strict"


def test_two_skills_are_too_few_and_what_was_typed_is_kept(owner, types, given):
    path = f"{types}/{given.job_type('first-week')}"
    form = owner.get(path)

    page = owner.post(path, sent(form, path, name="Half", **{"skill:cutting.ends": ""}))

    assert page.status == 422
    assert "Type 3 to 6 skills." in page.errors["skills"]
    assert page.value("name") == "Half"


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"name": " "}, "name"),
        ({"supervision": ""}, "supervision"),
        ({"valid_days": "a year"}, "valid_days"),
        ({"about": "x" * 401}, "about"),
        ({"checks": "three-point-saddle", "trade_sizes": "2"}, "trade_sizes"),
    ],
)
def test_what_cannot_be_used_is_refused_beside_its_field(owner, types, given, changes, field):
    job = given.job_type("first-week")
    path = f"{types}/{job}"

    page = owner.post(path, sent(owner.get(path), path, **changes))

    assert page.status == 422
    assert set(page.errors) == {field}


def test_one_name_stands_once(owner, types, given):
    given.job_type("first-week")
    page = owner.get(types)
    token = page.value("csrf_token")

    again = owner.post(f"{types}/copies/first-week", {"csrf_token": token})

    assert again.status == 422
    assert "a job type of this name is there already" in again.words.lower()


@pytest.mark.usefixtures("shown")
def test_taken_off_it_is_gone_from_the_board_and_its_name_is_free(owner, types, given, board):
    job = given.job_type("first-week")
    owner.submit(f"{types}/{job}", action=f"{types}/{job}/end")

    assert owner.get(f"{types}/{job}").status == 404
    assert "No job types yet" in owner.get(board).words
    assert given.job_type("first-week") != job


@pytest.mark.usefixtures("shown")
def test_the_board_shows_who_is_ready_under_what_and_who_is_not(owner, given, board):
    given.job_type("exposed-garage")
    week = given.job_type("first-week")
    given.found_ready(*WEEK)

    page = owner.get(board)

    assert "ready for this task under the supervision that your state requires" in page.words
    assert "alone" not in page.words.replace("left alone", "")
    assert "First-week helper Not yet Learner Person" in page.words
    person = owner.get(f"{board}/{week}/people/{given.public_id('learner')}")
    assert person.words.count("Ready Shown in a proof run") == len(WEEK)
    assert person.words.count("Still to be signed") == 4


def test_readiness_that_is_not_shared_is_not_shown(owner, given, board):
    job = given.job_type("first-week")
    given.found_ready(*WEEK)

    assert "Nobody shows it here" in owner.get(board).words
    assert owner.get(f"{board}/{job}/people/{given.public_id('learner')}").status == 403
    assert owner.get(f"{board}/{job}/people/{given.public_id('learner')}/plan").status == 403


@pytest.mark.usefixtures("shown")
def test_who_can_go_on_a_day_looks_ahead(owner, given, board):
    job = given.job_type("exposed-garage")
    given.found_ready(*GARAGE, watched_by="owner")

    soon = owner.get(f"{board}/{job}")
    later = owner.get(f"{board}/{job}?on=2027-06-07")

    assert "Who can go on Mon, Nov 30, 2026" in soon.words
    assert "Missing: By hand: offset" in soon.words
    assert "Missing: Offsets (due again)" in later.words


@pytest.mark.usefixtures("shown")
@pytest.mark.parametrize("day", ["tomorrow", "2020-01-01", "2099-01-01"])
def test_a_day_that_cannot_be_used_is_refused_in_words(owner, given, board, day):
    job = given.job_type("first-week")

    page = owner.get(f"{board}/{job}?on={day}")

    assert page.status == 422
    assert page.errors["on"].startswith("Type a day from today on")


@pytest.mark.usefixtures("shown")
def test_evidence_leads_down_to_the_single_answer(owner, given, board):
    job = given.job_type("first-week")
    problem = given.proof_question("supports.straps")
    given.answer(problem, given.right(problem))

    page = owner.get(f"{board}/{job}/people/{given.public_id('learner')}")

    link = next(link for link in page.links() if link.endswith(f"/problems/{problem}"))
    assert owner.get(link).status == 200


@pytest.mark.usefixtures("shown")
def test_what_goes_stale_and_what_helps_most_stand_on_the_board(owner, given, board):
    given.job_type("first-week")
    given.found_ready(*WEEK, days_ago=75)

    page = owner.get(board)

    assert "Due again within 30 days Learner Person, Lengths on the tape: from" in page.words
    assert "What would make the most people ready soonest By hand:" in page.words


@pytest.mark.usefixtures("shown")
def test_two_weeks_are_a_plan_with_dates(owner, given, board):
    job = given.job_type("exposed-garage")

    page = owner.get(f"{board}/{job}/people/{given.public_id('learner')}/plan")

    assert "Wed, Nov 25, 2026" in page.words
    assert "Practice: Offsets" in page.words
    assert "Proof run: Offsets, 8 questions, watched" in page.words


@pytest.mark.usefixtures("shown")
def test_who_looked_is_noted_for_the_learner(owner, given, board):
    given.job_type("first-week")
    owner.get(board)
    owner.get(board)

    with given.database.read() as session:
        assert session.scalar(select(func.count()).where(AuditLine.what == "looked.readiness")) == 1


def test_the_learner_reads_what_the_jobs_ask(client_of, given):
    learner = client_of("learner")
    assert "No job types" in learner.get("/jobs").words
    given.job_type("first-week")
    given.found_ready("supports.straps")

    page = learner.get("/jobs")

    assert "First-week helper" in page.words
    assert "Straps: how many and where: ready" in page.words
    assert "Cut ends: not yet" in page.words
    assert "/jobs" in learner.get("/record").links()


def test_another_organisations_owner_writes_nothing_here(client_of, given, types):
    with given.database.read() as session:
        before = session.scalar(select(func.count()).select_from(JobType))
    page = client_of("foreman").get(types)

    assert page.status in {403, 404}
    with given.database.read() as session:
        assert session.scalar(select(func.count()).select_from(JobType)) == before


def test_what_was_shown_and_fades_stands_on_today(client_of, given):
    given.found_ready("supports.straps", days_ago=88)
    assert (
        "Straps: how many and where To keep up. Found ready. Left alone it is due again in 2 days"
        in (client_of("learner").get("/today").words)
        or "it is due again in" in client_of("learner").get("/today").words
    )

    given.clock.forward(days=10)
    assert "Found ready before, and lapsed since." in client_of("learner").get("/today").words


@pytest.fixture
def carded(owner, types, given):
    """A job type that asks for a registration, with all else shown."""
    job = given.job_type("first-week")
    path = f"{types}/{job}"
    kept = owner.post(path, sent(owner.get(path), path, registration="registration"))
    assert kept.location == types
    given.found_ready(*WEEK)
    return job


@pytest.mark.usefixtures("shown")
def test_a_registration_that_is_asked_for_and_not_entered_is_missing(owner, board, carded, client_of):
    page = owner.get(f"{board}/{carded}")

    assert "Missing: Registration or license in date" in page.words
    own = client_of("learner").get("/jobs")
    assert "Registration or license in date: missing Not yet No registration or license is entered." in own.words
    assert "/account/registrations" in own.links()


@pytest.mark.usefixtures("shown")
def test_a_registration_that_runs_out_stands_among_what_is_due(client_of, given, board, carded, clock):
    given.registration()
    clock.forward(days=40)
    owner = client_of("owner")

    assert "Learner Person, Registration or license in date: last day Sun, Jan 31, 2027" in owner.get(board).words
    assert (
        "Its last day: Sun, Jan 31, 2027." in owner.get(f"{board}/{carded}/people/{given.public_id('learner')}").words
    )
    clock.forward(days=30)
    owner = client_of("owner")
    assert "Registration or license in date: run out" in owner.get(board).words
    assert "Registration or license in date (run out)" in owner.get(f"{board}/{carded}").words


@pytest.mark.usefixtures("carded")
def test_the_last_day_of_a_card_is_that_of_the_shop_s_own_calendar(client_of, given, world):
    """The learner belongs to a school in Chicago first; the job type is one of a shop in Honolulu."""
    given.registration()
    with given.database.write() as session:
        join(session, actor_of_person(session, world.people["learner"]), world.codes["crew"], given.clock.now)
        shop = session.scalars(select(Organisation).where(Organisation.public_id == world.organisations["shop"])).one()
        shop.time_zone = "Pacific/Honolulu"
        session.scalars(select(JobType)).one().organisation_id = shop.id

    assert "Its last day: Sun, Jan 31, 2027." in client_of("learner").get("/jobs").words


@pytest.mark.usefixtures("shown")
@pytest.mark.parametrize("last", [date.max, date(9999, 1, 1)])
@pytest.mark.parametrize("zone", ["America/Chicago", "Asia/Tokyo"])
def test_a_card_for_ever_that_was_entered_once_breaks_no_page(owner, client_of, given, board, carded, last, zone):
    """Cards are bounded today; one that stands there from before has a last day without an end in UTC."""
    given.registration()
    with given.database.write() as session:
        session.scalars(select(Registration)).one().expires_on = last
        session.execute(update(Organisation).values(time_zone=zone))
    person, learner = f"{board}/{carded}/people/{given.public_id('learner')}", client_of("learner")

    for page in (owner.get(board), owner.get(f"{board}/{carded}"), owner.get(person)):
        assert page.status == 200
    for path in ("/jobs", "/today", "/account/registrations", "/record/out.pdf", "/account/held"):
        assert learner.get(path).status == 200
    assert "9999" in learner.get("/jobs").words


def test_a_card_that_there_is_not_cannot_be_asked_for(owner, types, given):
    path = f"{types}/{given.job_type('first-week')}"
    page = owner.post(path, sent(owner.get(path), path, registration="diploma"))

    assert page.status == 422
    assert set(page.errors) == {"registration"}


@pytest.mark.usefixtures("shown")
def test_what_only_needs_to_be_watched_is_named_as_missing(owner, given, board):
    job = given.job_type("exposed-garage")
    given.found_ready("bends.offset")

    assert "Offsets (needs to be watched)" in owner.get(f"{board}/{job}").words


@pytest.mark.usefixtures("shown")
def test_the_evidence_takes_no_more_queries_with_all_there_is_behind_it(owner, given, board, carded):
    """A failed run, a run on its way, findings, signed checks and a card: within what every page may take."""
    given.registration()
    given.finding()
    given.failed_run("supports.straps")
    problem = given.proof_question("supports.straps")
    given.answer(problem, given.right(problem))
    path = f"{board}/{carded}/people/{given.public_id('learner')}"

    assert len(owner.get(path).queries) <= 16
    assert len(owner.get(board).queries) <= 16


def test_one_who_learns_in_two_places_takes_no_more_queries(client_of, given):
    given.job_type("exposed-garage")
    one = len(client_of("learner").get("/jobs").queries)
    given.joins("learner", "crew")
    given.shop_owner("foreman")
    given.job_type("first-week", "foreman", "shop")

    page = client_of("learner").get("/jobs")

    assert len(page.queries) == one
    assert "Riverside evening school" in page.words
    assert "Hill Street Electric" in page.words
