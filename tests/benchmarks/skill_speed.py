"""Processor time of one update and of one choice, and whether the same history gives the same bits."""

from __future__ import annotations

import json
import time
from datetime import datetime, timedelta
from random import Random
from statistics import median

from skill_learners import START

from trainer.progress.choose import next_problem
from trainer.progress.constants import CURRENT
from trainer.progress.effect import Try, effect_of
from trainer.progress.lapse import with_lapse
from trainer.progress.skill import SkillState, fresh, update
from trainer.progress.standing import FamilyLine, Standing

TURNS = 9
RIGHT, WRONG = effect_of("right", Try.FIRST), effect_of("wrong", Try.FIRST)


def median_seconds(call, times):
    """Of one call: median of nine turns of so many."""
    turns = []
    for _ in range(TURNS):
        begun = time.process_time()
        for _ in range(times):
            call()
        turns.append((time.process_time() - begun) / times)
    return median(turns)


def seconds_of_update(times=20_000):
    state = SkillState(0.8, 0.6, 5.0, 9, START)
    use = {"difficulty": 0.2, "days": 3.0, "lucky": CURRENT.lucky_typed, "now": START + timedelta(days=3)}
    return median_seconds(lambda: update(state, RIGHT, **use), times)


def seconds_of_lapse(times=20_000):
    """Of the look at an answer whether what was shown has lapsed, which stands beside the update."""
    before = SkillState(2.8, 0.3, 25.0, 30, START)
    use = {"difficulty": 0.2, "days": 3.0, "lucky": CURRENT.lucky_typed, "now": START + timedelta(days=3)}
    after = update(before, RIGHT, **use)
    return median_seconds(lambda: with_lapse(before, after), times)


def seconds_of_choice(skills=100, families=8, times=100):
    random = Random(1)
    lines = [
        Standing(
            f"skill-{nth}",
            f"Skill {nth}",
            SkillState(random.gauss(0.8, 0.8), 0.6, 5.0, 12, START),
            days=3.0,
            waiting=nth + 1,
            recent=("a", "b", "c"),
        )
        for nth in range(skills)
    ]
    shelf = {
        line.skill: [
            FamilyLine(f"{line.skill}-{nth}", random.gauss(0, 0.5), 0.02, frozenset({"m"})) for nth in range(families)
        ]
        for line in lines
    }
    return median_seconds(lambda: next_problem(lines, shelf), times)


def history(answers, seed):
    """What the record keeps of so many answers, as text, the way it leaves and enters a database."""
    random, days = Random(seed), 0.0
    kept = []
    for _ in range(answers):
        gap = random.choice((0.0, 0.0, 0.7, 3.3, 20.0))
        days += gap
        now = START + timedelta(days=days)
        kept.append([random.random() < 0.7, random.gauss(0, 0.7), gap, random.choice((0.02, 0.25)), now.isoformat()])
    return json.dumps(kept)


def folded(kept):
    """The state after a history, and its numbers bit by bit."""
    state = fresh()
    for right, difficulty, days, lucky, now in json.loads(kept):
        use = {"difficulty": difficulty, "days": days, "lucky": lucky, "now": datetime.fromisoformat(now)}
        state = update(state, RIGHT if right else WRONG, **use)
    return state, (state.level.hex(), state.variance.hex(), state.holding_days.hex())


def same_bits(answers=5000, seed=1):
    """Whether a history, and what is written down of it and read again, end in the same bits."""
    kept = history(answers, seed)
    return folded(kept)[1] == folded(json.dumps(json.loads(kept)))[1]
