"""The first two weeks of a new hire."""

from datetime import UTC, date, datetime

from trainer.progress.needs import CheckNeed, JobNeed, Shown, SkillNeed, SkillStanding
from trainer.progress.plan import DAYS, QUESTIONS_A_DAY, Todo, plan
from trainer.progress.points import Line
from trainer.progress.readiness import MOST_A_DAY, readiness
from trainer.progress.skill import fresh

NOW = datetime(2026, 11, 28, 12, 0, tzinfo=UTC)
SATURDAY = date(2026, 11, 28)
SKILLS = tuple(SkillNeed(f"bends.{name}", name, Line.STRICT) for name in ("stub", "offset", "saddle"))
CHECK = CheckNeed("offset", "3/4")


def planned(skills=SKILLS, days=DAYS):
    need = JobNeed("job", "Garage", "Somebody is there.", False, None, skills, (CHECK,))
    standings = {one.skill: SkillStanding(fresh(), families=4) for one in skills}
    lessons = {one.skill: [(f"lesson-{one.title}", one.title)] for one in skills}
    return plan(readiness(need, standings, Shown(), NOW), lessons, SATURDAY, days)


def test_it_begins_on_the_next_working_day_and_knows_no_weekend():
    days = [one.day for one in planned().days]

    assert days[0] == date(2026, 11, 30)
    assert all(day.weekday() < 5 for day in days)
    assert len(days) <= DAYS


def test_a_lesson_comes_before_its_practice_and_the_run_on_a_later_day():
    order = [(number, task) for number, day in enumerate(planned().days) for task in day.tasks]
    for need in SKILLS:
        own = [(number, task.todo) for number, task in order if task.need == need]
        assert own[0][1] is Todo.READ
        practised = max(number for number, todo in own if todo is Todo.PRACTISE)
        assert all(number > practised for number, todo in own if todo is Todo.RUN)


def test_no_day_asks_for_more_than_counts():
    for day in planned().days:
        assert sum(task.number for task in day.tasks) <= QUESTIONS_A_DAY
        assert all(task.number <= MOST_A_DAY for task in day.tasks if task.todo is Todo.RUN)


def test_three_skills_and_the_check_fit_into_two_weeks():
    found = planned()

    assert found.left == ()
    runs = [task.number for day in found.days for task in day.tasks if task.todo is Todo.RUN]
    assert sum(runs) == 3 * 29
    assert found.days[-1].tasks[-1].todo is Todo.CHECK


def test_what_does_not_fit_is_named():
    found = planned(days=2)

    assert SKILLS[-1] in found.left
