"""Putting the web application together."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import datetime
from typing import Any

from flask import Flask

from trainer.accounts.passwords import SITE_PASSWORDS, Passwords
from trainer.config import Settings, secret_key, settings_from
from trainer.records.engine import Database
from trainer.records.fence import keep_to_own_tables
from trainer.web.content import keep_content
from trainer.web.errors import explain_errors
from trainer.web.language import speak
from trainer.web.logs import log_error, write_log_lines
from trainer.web.metrics import keep_metrics
from trainer.web.pages import (
    account,
    bench,
    calendar,
    crew,
    devices,
    evidence,
    hands_on,
    health,
    home,
    hours,
    jobs,
    joining,
    learn,
    linking,
    local_rules,
    look,
    metrics,
    outside,
    second_factor,
    sharing,
    sign_in_rules,
    site,
    tables,
    teach,
)
from trainer.web.provider import know_provider
from trainer.web.routes import LateRule
from trainer.web.security import secure
from trainer.web.sessions import know_readers
from trainer.web.statics import serve_statics
from trainer.web.templating import equip_templates
from trainer.web.transactions import keep_records, utc_now
from trainer.web.troubles import explain_troubles
from trainer.web.typed import read_what_is_typed
from trainer.web.visitors import admit, refuse_unnamed

__all__ = ["TrainerApp", "build"]


class TrainerApp(Flask):
    """A Flask application that takes no route whose view does not say who may call it."""

    url_rule_class = LateRule

    def add_url_rule(
        self,
        rule: str,
        endpoint: str | None = None,
        view_func: Callable[..., Any] | None = None,
        *args: Any,
        **options: Any,
    ) -> None:
        """As Flask's; raises UnnamedVisitorsError for a view without `@visitors(...)`."""
        refuse_unnamed(rule, view_func)
        super().add_url_rule(rule, endpoint, view_func, *args, **options)

    def log_exception(self, exc_info: Any) -> None:
        """Log an error that nobody caught; Flask's own line would name the address, which may hold a join code."""
        log_error(exc_info)


def build(
    settings: Settings | None = None,
    *,
    clock: Callable[[], datetime] = utc_now,
    passwords: Passwords = SITE_PASSWORDS,
) -> Flask:
    """
    Build the application.

    Args:
        settings: Settings of the site; read from the environment when left out.
        clock: Gives this moment in UTC.
        passwords: How the site stores passwords.

    Raises:
        SettingsError: When a setting cannot be used.
        DatabaseUrlError: When the address of the database cannot be used.
        ContentRootError: When lessons and questions are not where they should be.
        ContentError: When one of their files cannot be used.
        UnnamedVisitorsError: When a view does not say who may call it.
    """
    settings = settings or settings_from(os.environ)
    app = TrainerApp("trainer.web", static_folder=None)
    app.secret_key = secret_key(settings)
    # The order is that in which a request meets them: its log line, who is asking, whether he may.
    write_log_lines(app, settings)
    secure(app, settings)
    records = Database(settings.database)
    keep_to_own_tables(records.engine)
    keep_records(app, records, clock)
    keep_metrics(app, settings, records)
    keep_content(app, settings)
    know_readers(app, settings, passwords)
    know_provider(app, settings)
    admit(app)
    explain_errors(app)
    explain_troubles(app)
    read_what_is_typed(app)
    speak(app)
    equip_templates(app)
    serve_statics(app, development=settings.development)
    add_pages(app, settings)
    return app


def add_pages(app: Flask, settings: Settings) -> None:
    """Add the pages, each subject's as a blueprint."""
    for pages in (
        account,
        bench,
        calendar,
        crew,
        devices,
        evidence,
        hands_on,
        health,
        home,
        hours,
        jobs,
        joining,
        learn,
        linking,
        local_rules,
        metrics,
        outside,
        second_factor,
        sharing,
        sign_in_rules,
        site,
        tables,
        teach,
    ):
        app.register_blueprint(pages.blueprint)
    if settings.development:
        app.register_blueprint(look.blueprint)
