"""Simulated learners in one skill, from the first answer to "ready": practice until a proof run opens, runs, practice again."""

from __future__ import annotations

from random import Random
from typing import NamedTuple

from skill_learners import School, learner, of_skill

from trainer.progress.opening import OPENS_AT, OPENS_FROM
from trainer.progress.points import Line, rule_for
from trainer.progress.proof import ACROSS_DAYS, MOST_A_DAY
from trainer.progress.proof_families import next_family
from trainer.progress.skill import chance

ANSWERS = 180
GAPS = (1, 1, 2, 3)
FAMILIES = 6
BAR, ABLE = 0.80, 0.90


class Outcome(NamedTuple):
    """
    What became of one person in so many answers.

    `marked` is the true skill at the moment of being found ready, None for never; `at_end` is the true skill at the end,
    `answers` how many were given.
    """

    marked: float | None
    at_end: float
    answers: int


class Attempt:
    """A proof run on its way, decided as trainer/progress/proof_answer.py does."""

    def __init__(self, failed, name, lines):
        self.rule, self.name = rule_for(Line.STRICT, failed=failed), name
        self.difficulties = {line.id: line.difficulty for line in lines}
        self.points, self.asked, self.days = 0.0, [], set()

    def count(self, family, day, *, right):
        """Outcome of the run after one more answer: True for ready, False for not yet, None while undecided."""
        points = self.rule.points(self.difficulties[family.id], family.lucky)
        self.points += points.right if right else points.wrong
        self.asked.append(family.id)
        self.days.add(day)
        if self.points >= self.rule.ready_at and len(self.days) >= ACROSS_DAYS:
            return True
        return False if self.points <= self.rule.stop_at or len(self.asked) >= self.rule.most else None


def live(person):
    """Up to 180 answers, eight on a day; stops when found ready."""
    (skill,) = person.truths
    run, failed, practised, day, given = None, 0, 0, 0, 0
    while given < ANSWERS:
        day += person.random.choice(GAPS)
        person.new_day()
        for nth in range(min(MOST_A_DAY, ANSWERS - given)):
            time = day + nth / 720
            if run is None and opens(person.line(skill, time), practised):
                run = Attempt(failed, f"{person.number}:{failed}", person.school.lines[skill])
            given += 1
            if run is None:
                practised += 1
                person.answer(*of_skill(person, skill, time), time)
                continue
            family = next_family(person.school.lines[skill], run.asked, run.name)
            ready = run.count(family, day, right=person.answer(skill, family, time).right)
            if ready:
                true = person.true_skill(skill, time)
                return Outcome(true, true, given)
            if ready is False:
                run, failed, practised = None, failed + 1, 0
    return Outcome(None, person.true_skill(skill, day), given)


def opens(line, practised):
    """Whether a run opens: likely enough, answers enough, and practice since the last one."""
    likely = chance(line.state, days=line.days) >= OPENS_AT
    return likely and line.state.counted >= OPENS_FROM and practised >= OPENS_FROM


def lives(people, kind, seed, *, first=40):
    """Outcomes of so many people; the first ones only teach the program how hard the questions are."""
    school = School(1, Random(seed), FAMILIES)
    persons = [learner(number, school, kind, seed) for number in range(people + first)]
    return [live(one) for one in persons][first:]


def share(of, all_of):
    return sum(map(bool, of)) / len(all_of) if all_of else 0.0


def figures(outcomes):
    """Share of those found ready who were truly below 80 of 100, and of the able who were not found ready."""
    marked = [one.marked for one in outcomes if one.marked is not None]
    able = [one for one in outcomes if one.at_end >= ABLE]
    return {
        "marked": len(marked),
        "below": share([true < BAR for true in marked], marked),
        "able": len(able),
        "not marked": share([one.marked is None for one in able], able),
    }
