"""
Simulated learners: the truth about them, which is hidden, and what the program believes, by its own functions.

The truths stand in skill_truths.py. Learners have good and bad days, people and skills of their own, questions that are
harder than others, slips and lucky answers unlike the model's.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from math import sqrt
from random import Random
from typing import NamedTuple

from trainer.progress.choose import family_for, next_problem
from trainer.progress.constants import CURRENT
from trainer.progress.difficulty import centred, learned, tells
from trainer.progress.effect import Try, effect_of
from trainer.progress.skill import chance, days_since, fresh, sigmoid, start_level, update
from trainer.progress.standing import FamilyLine, Standing

START = datetime(2026, 1, 5, 18, 0, tzinfo=UTC)
YEAR = 360
GAPS = (1, 1, 1, 2, 2, 3, 4, 7, 14)
#: Spread of the questions of a skill, of people, of skills, of a person's skills, of days; all in logits.
QUESTIONS, PEOPLE, SKILLS, OWN, DAYS = 0.54, 0.6, 0.3, 0.5, 0.4
#: True slips and lucky answers; one family of five lets choose from four.
SLIP, LUCK_TYPED, LUCK_CHOICE = 0.03, 0.01, 0.28
CHOICE = 0.25
#: Days that stand for all days in a mean: three points that keep mean, spread and third moment of a bell curve.
MOODS = ((1 / 6, -sqrt(3) * DAYS), (2 / 3, 0.0), (1 / 6, sqrt(3) * DAYS))


class Answered(NamedTuple):
    """One first try: who, on what, when, what came of it, and what the program expected before."""

    person: int
    skill: str
    family: str
    day: float
    right: bool
    expected: float


class School:
    """The questions of some skills as they truly are, and what the program has learned of their difficulty."""

    def __init__(self, skills: int, random: Random, families: int = 5) -> None:
        self.names = [f"skill-{nth:03}" for nth in range(skills)]
        self.lead = {skill: random.gauss(0, SKILLS) for skill in self.names}
        self.hard: dict[str, float] = {}
        self.lucky: dict[str, float] = {}
        self.of_skill = {skill: [f"{skill}-{nth}" for nth in range(families)] for skill in self.names}
        for own in self.of_skill.values():
            drawn = [random.gauss(0, QUESTIONS) for _ in own]
            for nth, family in enumerate(own):
                self.hard[family] = centred(drawn[nth], drawn)
                self.lucky[family] = CHOICE if nth == families - 1 else CURRENT.lucky_typed
        self.learnt = dict.fromkeys(self.hard, (0.0, 0))
        self.lines = {skill: self.read(skill) for skill in self.names}

    def read(self, skill):
        own = self.of_skill[skill]
        all_of_it = [self.learnt[family][0] for family in own]
        return [
            FamilyLine(family, centred(self.learnt[family][0], all_of_it), self.lucky[family], frozenset())
            for family in own
        ]

    def hear(self, skill, family, counted, *, right, expected):
        """What the program learns of a family from an honest first try."""
        if tells(counted, first_honest_try=True):
            difficulty, times = self.learnt[family]
            self.learnt[family] = (learned(difficulty, times, right=right, expected=expected), times + 1)
            self.lines[skill] = self.read(skill)


class Learner:
    """A person: the truth, which is hidden, and what the program keeps of it."""

    def __init__(self, number: int, school: School, truths: dict, random: Random) -> None:
        self.number, self.school, self.truths, self.random = number, school, truths, random
        self.states, self.recent, self.turn = {}, dict.fromkeys(truths, ()), {}
        self.issued, self.mood = 0, 0.0

    def new_day(self):
        self.mood = self.random.gauss(0, DAYS)

    def state(self, skill):
        return self.states.get(skill) or fresh(start_level(self.states.values()))

    def line(self, skill, day):
        state = self.state(skill)
        waiting = self.issued - self.turn[skill] if skill in self.turn else None
        days = days_since(state.last_at, moment(day))
        return Standing(skill, skill, state, days, waiting, self.recent[skill])

    def answer(self, skill, family: FamilyLine, day) -> Answered:
        """Let him answer, and the program take it in."""
        before, now = self.state(skill), moment(day)
        level = self.truths[skill].meet(day) + self.mood
        right = self.random.random() < self.truly(family.id, level)
        self.truths[skill].practised(day)
        use = {"days": days_since(before.last_at, now), "difficulty": family.difficulty, "lucky": family.lucky}
        expected = chance(before, **use)
        self.states[skill] = update(before, effect_of("right" if right else "wrong", Try.FIRST), now=now, **use)
        self.issued += 1
        self.turn[skill], self.recent[skill] = self.issued, (*self.recent[skill], family.id)[-CURRENT.family_memory :]
        self.school.hear(skill, family.id, before.counted, right=right, expected=expected)
        return Answered(self.number, skill, family.id, day, right, expected)

    def truly(self, family, level):
        luck = LUCK_CHOICE if self.school.lucky[family] == CHOICE else LUCK_TYPED
        return luck + (1 - luck - SLIP) * sigmoid(level - self.school.hard[family])

    def true_skill(self, skill, day):
        """Share right over the skill's questions, good and bad days alike."""
        own, parts = self.school.of_skill[skill], self.truths[skill].parts(day)
        return sum(
            share * weight * self.truly(family, level + mood) / len(own)
            for family in own
            for share, level in parts
            for weight, mood in MOODS
        )


def moment(day):
    return START + timedelta(days=day)


def learner(number: int, school: School, kind: Callable, seed) -> Learner:
    random = Random(f"{seed} {number}")
    lead = random.gauss(0, PEOPLE)
    truths = {skill: kind(random, lead + school.lead[skill] + random.gauss(0, OWN)) for skill in school.names}
    return Learner(number, school, truths, random)


def by_chooser(learner: Learner, day):
    """The program's own choice."""
    lines, families = [learner.line(skill, day) for skill in learner.truths], learner.school.lines
    choice = next_problem(lines, families)
    return choice.skill, next(family for family in families[choice.skill] if family.id == choice.family_id)


def by_turns(learner: Learner, day):
    return of_skill(learner, learner.school.names[learner.issued % len(learner.truths)], day)


def at_random(learner: Learner, day):
    return of_skill(learner, learner.random.choice(learner.school.names), day)


def of_skill(learner: Learner, skill, day):
    return skill, family_for(learner.line(skill, day), learner.school.lines[skill])[0]


def sit(learner: Learner, day, problems, choose=by_chooser):
    """One sitting: some problems, two minutes each."""
    learner.new_day()
    times = (day + nth / 720 for nth in range(problems))
    return [learner.answer(*choose(learner, time), time) for time in times]


def months(
    people: int, kind: Callable, seed, *, skills: int = 8, answers: int = 200, choose=by_chooser
) -> list[Answered]:
    """People who begin on different days and practise in sittings with gaps; their answers in order of time."""
    random = Random(seed)
    school = School(skills, random)
    class_of = [learner(number, school, kind, seed) for number in range(people)]
    plan = []
    for number in range(people):
        day, left = float(random.randrange(YEAR)), answers
        while left > 0:
            problems = min(left, random.randint(6, 16))
            plan.append((day, number, problems))
            day, left = day + random.choice(GAPS), left - problems
    return [one for day, number, problems in sorted(plan) for one in sit(class_of[number], day, problems, choose)]
