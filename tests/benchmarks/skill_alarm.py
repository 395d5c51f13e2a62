"""
How soon a wrong key is heard among simulated learners, and how often a good one is in doubt.

Chances are those that the program has of learners at that moment. Two ways: *fixed*, the difficulty of the family stays
where it was (the alarm's own promise), and *learning*, where every wrong answer also makes the family look harder, as in
the program, so that the next wrong answer is less of a surprise.
"""

from __future__ import annotations

from collections import defaultdict
from random import Random
from statistics import median

from skill_learners import School, learner, of_skill

from trainer.progress.alarm import RAISED_AT, RIGHT_BY_LUCK, alarm_after
from trainer.progress.difficulty import centred, learned, tells
from trainer.progress.skill import chance

SOON, LONG = 10, 300
FAMILIES = 5
PRACTISED = (2, 40)


def moments(kind, seed, people=150):
    """Learners of one skill at some moment of their practice, in the program's eyes: their state and the days since."""
    random, found = Random(seed), []
    school = School(1, random, FAMILIES)
    (skill,) = school.names
    for number in range(people):
        person, day = learner(number, school, kind, seed), 0.0
        for nth in range(random.randint(*PRACTISED)):
            if nth % 4 == 0:
                day += random.choice((1, 2, 3))
                person.new_day()
            person.answer(*of_skill(person, skill, day), day)
        line = person.line(skill, day + random.choice((0, 1, 3)))
        found.append((line.state, line.days))
    return found


def heard_after(known, random, *, learning):
    """First tries by such learners until a wrong key is heard, at most 300; None for never."""
    difficulty, counted, alarm = 0.0, 0, 0.0
    for nth in range(1, LONG + 1):
        state, days = random.choice(known)
        own = centred(difficulty, [difficulty] + [0.0] * (FAMILIES - 1))
        expected = chance(state, days=days, difficulty=own)
        right = random.random() < RIGHT_BY_LUCK
        alarm = alarm_after(alarm, right=right, expected=expected)
        if alarm >= RAISED_AT:
            return nth
        if learning and tells(state.counted, first_honest_try=True):
            difficulty = learned(difficulty, counted, right=right, expected=expected)
            counted += 1
    return None


def wrong_key(kind, seed, keys=400, *, learning):
    """Share of wrong keys heard within ten first tries, and the median of the tries."""
    known, random = moments(kind, seed), Random(f"wrong {seed}")
    heard = [heard_after(known, random, learning=learning) for _ in range(keys)]
    return sum(nth is not None and nth <= SOON for nth in heard) / keys, median(nth or LONG for nth in heard)


def false_alarms(answers):
    """Share of the good keys that the answers of simulated learners ever raised an alarm on, and how many keys."""
    alarms = defaultdict(list)
    for one in answers:
        before = alarms[one.family][-1] if alarms[one.family] else 0.0
        alarms[one.family].append(alarm_after(before, right=one.right, expected=one.expected))
    return sum(max(sums) >= RAISED_AT for sums in alarms.values()), len(alarms)
