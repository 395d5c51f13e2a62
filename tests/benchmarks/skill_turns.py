"""What is left a month later: the program's choice of the next problem beside taking turns and beside chance."""

from __future__ import annotations

from random import Random
from statistics import fmean

from skill_learners import School, at_random, by_chooser, by_turns, learner, sit

EACH = 16
SITTING = 16
LATER = 30
GAPS = (1, 1, 2, 3)
POLICIES = {"chooser": by_chooser, "by turns": by_turns, "at random": at_random}


def left_over(people, kind, seed, skills, choose):
    """
    Mean over people of the mean and of the weakest true skill a month after the last sitting.

    Everybody has 16 problems a skill in all, 16 at a sitting; people, questions and days are the same for every way to choose.
    """
    school = School(skills, Random(seed))
    means, weakest = [], []
    for number in range(people):
        person, day, days = learner(number, school, kind, seed), 0.0, Random(f"days {seed} {number}")
        for _ in range(skills * EACH // SITTING):
            sit(person, day, SITTING, choose)
            day += days.choice(GAPS)
        later = [person.true_skill(skill, day + LATER) for skill in school.names]
        means.append(fmean(later))
        weakest.append(min(later))
    return fmean(means), fmean(weakest)


def turns(people, kind, seed, skills):
    """Mean and weakest by way to choose."""
    return {name: left_over(people, kind, seed, skills, choose) for name, choose in POLICIES.items()}
