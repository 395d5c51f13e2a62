"""Whether the kept counts of each question are those that its answers give; and made anew where they are not."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.library.shelf import Library
from trainer.progress.question_counts import Count, Part
from trainer.progress.question_tally import count_anew, counts_from_answers, uncounted
from trainer.progress.regrading import lock_holders
from trainer.records.engine import Database
from trainer.records.models import ContentVersion, QuestionCount

__all__ = ["count_uncounted", "count_whole", "miscounted"]


def miscounted(session: Session, library: Library) -> dict[str, str]:
    """Questions whose kept counts are not what their answers give: family ids by rules. All first tries are read."""
    found = counts_from_answers(session, library)
    kept: dict[str, dict[Part, Count]] = defaultdict(dict)
    for row in session.scalars(select(QuestionCount).execution_options(yield_per=2_000)):
        kept[row.rules_hash][Part(row.what, row.name, row.value)] = Count(row.counted, row.hits)
    wrong = [rules for rules in kept.keys() | found.keys() if kept.get(rules) != found.get(rules)]
    version = ContentVersion
    query = select(version.rules_hash, version.content_id).where(version.rules_hash.in_(wrong))
    return dict.fromkeys(sorted(wrong), "") | dict(session.execute(query.order_by(version.content_id)).all())


def count_whole(database: Database, library: Library, questions: Iterable[str]) -> None:
    """Count the answers of questions anew, by the hashes of their rules; each in a transaction of its own."""
    for rules in questions:
        with database.write() as session:
            lock_holders(session, rules)
            count_anew(session, library, [rules])


def count_uncounted(database: Database, library: Library) -> None:
    """Count what was answered before there were counts."""
    with database.read() as session:
        waiting = uncounted(session)
    count_whole(database, library, waiting)
