"""One problem as a slip sees it: the numbers of the job by name, the right result, and the core to ask again."""

from __future__ import annotations

from trainer.problems.given import calculation_values


class Job:
    """
    `job.depth` is what was drawn or given, else what the core works out; `job.again(angle=30)` is the core's result with
    something taken otherwise; `job.fact("support.emt.max_spacing")` is a number of its tables.
    """

    def __init__(self, family, problem):
        self.family = family
        self.calculation = family.calculation
        typed = calculation_values(family, problem.numbers, problem.edition)
        self.given = {one.name: one.value(typed[one.name]) for one in self.calculation.inputs if one.name in typed}
        self.drawn = dict(problem.numbers)
        self.right = self.calculation.solve(self.given)

    def __getattr__(self, name):
        for place in (self.given, self.drawn):
            if name in place:
                return place[name]
        return getattr(self.right, name)

    def again(self, **otherwise):
        return self.calculation.solve({**self.given, **otherwise})

    def others(self, name, choices):
        """Results with each of the other choices of an input."""
        return [self.again(**{name: choice}) for choice in choices if choice != self.given[name]]
