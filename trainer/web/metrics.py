"""
Figures for Prometheus: requests, answers, errors and time in the database, by route and never by person.

They are kept only where the site has a token for `/metrics`; prometheus-client is loaded only then. Several workers of a
server put theirs into one folder (PROMETHEUS_MULTIPROC_DIR, which `trainer serve` makes), and any of them adds all up.
"""

from __future__ import annotations

import os
import time
from typing import Any

from flask import Flask, Response, current_app, g, has_app_context, request

from trainer.config import Settings
from trainer.problems.errors import ContentError
from trainer.records.engine import Database
from trainer.records.watched import watch

__all__ = ["MULTIPROCESS", "Metrics", "count_error", "count_throttled", "keep_metrics", "metrics"]

MULTIPROCESS = "PROMETHEUS_MULTIPROC_DIR"
EXTENSION = "trainer.metrics"
METHODS = ("GET", "HEAD", "POST", "OPTIONS")
#: Upper ends of the classes of durations [s]; the aims stand at 0.3 and 1.
BUCKETS = (0.01, 0.03, 0.1, 0.3, 1.0, 3.0, 10.0)


class Metrics:
    """The counters of this process; a route stands as the name of its view, as an address may hold a code."""

    def __init__(self) -> None:
        # Loaded where a site wants figures, and after serving has named the folder: it looks for that once.
        from prometheus_client import CollectorRegistry, Counter, Gauge, Histogram, Summary  # noqa: PLC0415

        self.registry = CollectorRegistry()
        on: dict[str, Any] = {"registry": self.registry}
        self.requests = Counter("trainer_requests", "Requests answered.", ["method", "endpoint", "status"], **on)
        self.seconds = Histogram("trainer_request_seconds", "Time to answer.", ["endpoint"], buckets=BUCKETS, **on)
        self.database = Summary("trainer_database_seconds", "Time a request spent in the database.", ["endpoint"], **on)
        self.answers = Counter("trainer_answers", "Answers on record, by their first verdict.", ["verdict"], **on)
        self.errors = Counter("trainer_errors", "Errors that became a page of 500 or 503.", ["error"], **on)
        self.content = Counter("trainer_content_errors", "Lessons and questions that could not be used.", **on)
        self.throttled = Counter("trainer_throttled", "Tries that were told to wait.", ["endpoint"], **on)
        self.workers = Gauge("trainer_workers", "Processes at work.", multiprocess_mode="livesum", **on)
        self.workers.set(1)

    def text(self) -> bytes:
        """All figures in Prometheus' format, of all workers of this server."""
        from prometheus_client import CollectorRegistry, generate_latest  # noqa: PLC0415
        from prometheus_client.multiprocess import MultiProcessCollector  # noqa: PLC0415

        if not os.environ.get(MULTIPROCESS):
            return generate_latest(self.registry)
        together = CollectorRegistry()
        MultiProcessCollector(together)  # type: ignore[no-untyped-call]
        return generate_latest(together)


def keep_metrics(app: Flask, settings: Settings, database: Database) -> None:
    """Count from now on, where the site has a token for reading it."""
    if settings.metrics_token is None:
        return
    kept = Metrics()
    app.extensions[EXTENSION] = kept
    watch(database, took=_took, graded=lambda verdict: kept.answers.labels(verdict).inc())
    app.before_request(_start)
    app.after_request(_finish)


def metrics() -> Metrics | None:
    """The figures of this process; None where none are kept."""
    found: Metrics | None = current_app.extensions.get(EXTENSION)
    return found


def count_error(error: BaseException | None) -> None:
    """Count an error that nobody caught, by its type."""
    if error is None or (kept := metrics()) is None:
        return
    kept.errors.labels(f"{type(error).__module__}.{type(error).__qualname__}").inc()
    if isinstance(error, ContentError):
        kept.content.inc()


def count_throttled() -> None:
    """Count somebody who was told to wait."""
    if (kept := metrics()) is not None:
        kept.throttled.labels(_endpoint()).inc()


def _start() -> None:
    g.metrics_began = time.perf_counter()
    g.metrics_database = 0.0


def _took(seconds: float) -> None:
    if has_app_context() and "metrics_database" in g:
        g.metrics_database += seconds


def _finish(response: Response) -> Response:
    kept = metrics()
    if kept is not None and "metrics_began" in g:
        endpoint = _endpoint()
        method = request.method if request.method in METHODS else "other"
        kept.requests.labels(method, endpoint, response.status_code).inc()
        kept.seconds.labels(endpoint).observe(time.perf_counter() - g.metrics_began)
        kept.database.labels(endpoint).observe(g.metrics_database)
    return response


def _endpoint() -> str:
    """The name of the view; one for all addresses that there are not."""
    return request.endpoint or "none"
