"""The first tries from which a question is judged: without a hint, outside of lessons, by real people."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from sqlalchemy import Select, select

from trainer.progress.evidence import answered_by_real_people, as_graded
from trainer.progress.question_counts import FirstTry
from trainer.records.models import Answer, Grading, Problem

__all__ = ["LESSON", "first_tries", "tries_among", "try_of"]

LESSON = "lesson"


def first_tries() -> Select[Any]:
    """First tries without a hint, outside of lessons, by real people, as `tries_among` reads them."""
    columns = (
        Problem.content_version_id,
        Answer.person_id,
        Grading.verdict,
        Grading.mistakes,
        Answer.value_read,
        Answer.typed,
        Answer.chance_before,
        Answer.start_level,
        Problem.drawn,
    )
    return as_graded(select(*columns)).where(
        Answer.attempt == 1,
        Answer.hints_seen == 0,
        Answer.steps_seen.is_(False),
        Problem.context != LESSON,
        answered_by_real_people(),
    )


def tries_among(rows: Iterable[Any]) -> Iterator[tuple[int, FirstTry]]:
    """The first tries that `first_tries` found, each with the id of its content version."""
    for version_id, *of_try in rows:
        yield version_id, _first_try(tuple(of_try))


def try_of(answer: Answer, grading: Grading, problem: Problem) -> FirstTry:
    """The same from rows at hand."""
    judged = answer.person_id, grading.verdict, grading.mistakes
    return _first_try(
        (*judged, answer.value_read, answer.typed, answer.chance_before, answer.start_level, problem.drawn)
    )


def _first_try(of_try: tuple[int, str, list[str], object, str, float, float, Mapping[str, Any]]) -> FirstTry:
    person_id, verdict, mistakes, value, typed, expected, level, drawn = of_try
    keys, options = drawn["keys"], drawn["options"]
    accepted = _accepted(keys) if options else set()
    return FirstTry(
        person_id,
        verdict,
        tuple(mistakes),
        value,
        typed,
        expected,
        level,
        keys[0]["value"] if keys else None,
        drawn["numbers"],
        tuple(option["id"] for option in options if option["id"] not in accepted),
    )


def _accepted(keys: Iterable[Mapping[str, Any]]) -> set[str]:
    """Ids of options that an accepted answer holds; none where numbers are typed."""
    values = [key["value"] for key in keys]
    return {one for value in values for one in (value if isinstance(value, list) else (value,)) if isinstance(one, str)}
