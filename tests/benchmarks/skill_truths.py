"""
Two kinds of truth about one person in one skill; both follow other formulas than the program's model.

*Gradual*: every past answer leaves a trace that wears off as a power of its age; the level grows with the logarithm of the
sum of traces. *Sudden*: a person knows the way or doesn't; it dawns on him at some problem, and is forgotten with time.
"""

from __future__ import annotations

from math import exp, log
from random import Random

from trainer.progress.skill import sigmoid

#: The level grows by GAIN for each unit of ln(1 + traces / TRACES), a trace wearing off by a power of its age: about the
#: model's own pace over the first 20 answers, for the form is on trial here, while the pace is fitted to real answers.
GAIN, TRACES, WEAR = 1.3, 8.0, (0.2, 0.5)


class Gradual:
    """Traces of past answers, each worn off by a power of its age."""

    def __init__(self, random: Random, lead: float, mean: float = 0.3) -> None:
        self.start = mean + lead
        self.gain = GAIN * exp(random.gauss(0, 0.3))
        self.wear = random.uniform(*WEAR)
        self.past: list[float] = []

    def parts(self, day):
        """Shares of a person and the level of each share [logit]."""
        traces = sum((1 + day - then) ** -self.wear for then in self.past)
        return [(1.0, self.start + self.gain * log(1 + traces / TRACES))]

    def meet(self, day):
        return self.parts(day)[0][1]

    def practised(self, day):
        self.past.append(day)


class Sudden:
    """Knows the way or not; dawns on a person at some problem, and fades at one blow, later the more it was used."""

    def __init__(self, random: Random, lead: float) -> None:
        self.random = random
        self.known = random.random() < sigmoid(-0.4 + lead)
        self.low, self.high = -1.0 + lead / 2, 2.3 + lead / 2
        self.dawns = 0.10 * exp(random.gauss(0, 0.4))
        self.uses, self.last = 0, 0.0

    def parts(self, day):
        keeps = exp(-max(0.0, day - self.last) / (40 * (1 + 0.2 * self.uses))) if self.known else 0.0
        return [(keeps, self.high), (1 - keeps, self.low)]

    def meet(self, day):
        self.known = self.random.random() < self.parts(day)[0][0]
        self.last = day
        return self.high if self.known else self.low

    def practised(self, _day):
        self.uses = self.uses + 1 if self.known else 0
        self.known = self.known or self.random.random() < self.dawns
