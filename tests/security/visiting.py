"""One request of one visitor, whose every write is looked at and undone."""

from __future__ import annotations

import re
from contextlib import contextmanager
from dataclasses import dataclass

from sqlalchemy import event
from sqlalchemy.orm import sessionmaker

from trainer.records.append_only import keep_append_only
from trainer.web.transactions import keep_records

#: What anybody's request may write: when a browser was last used, how often somebody guessed, who looked at what.
BOOKKEEPING = {"throttle", "sign_in_session", "audit_line"}
WRITES = re.compile(r"\s*(?:INSERT INTO|UPDATE|DELETE FROM) \"?(\w+)", re.IGNORECASE)
TOKEN = re.compile(r'name="csrf_token"[^>]*value="([^"]+)"')


@dataclass(frozen=True)
class Answer:
    """What came back, and the tables of which rows were added, changed or removed meanwhile."""

    status: int
    text: str
    location: str
    headers: object
    changed: frozenset[str]
    sent: bytes = b""

    @property
    def outcome(self):
        """In one word: `in`, `no`, `sign-in`; an error of the program keeps its number."""
        if self.location.startswith("/sign-in"):
            return "sign-in"
        if self.status in {403, 404}:
            return "no"
        # 503 is how the site says that it is not ready yet: an answer too.
        return "in" if self.status < 400 or self.status in {422, 503} else str(self.status)


class Undone:
    """A database whose sessions all live in one transaction, which is rolled back at the end."""

    def __init__(self, connection):
        self.url, self.engine, self.connection = connection.engine.url, connection.engine, connection
        joined = {"bind": connection, "join_transaction_mode": "create_savepoint"}
        self.readers, self.writers = sessionmaker(autoflush=False, **joined), sessionmaker(**joined)
        keep_append_only(self.writers)

    @contextmanager
    def read(self):
        with self.readers() as session:
            yield session

    @contextmanager
    def glance(self):
        yield self.connection

    @contextmanager
    def write(self):
        with self.writers.begin() as session:
            yield session


class Site:
    """The populated site."""

    def __init__(self, app, database, clock, made):
        self.app, self.database, self.clock, self.made = app, database, clock, made
        self._cookies = {}

    @property
    def ids(self):
        return self.made.ids

    @contextmanager
    def undone(self):
        """What happens meanwhile leaves nothing behind; gives the set of tables that were changed."""
        changed = set()

        def note(_connection, cursor, statement, *_rest):
            # An insertion that gives its rows back does not count them.
            changed_some = cursor.rowcount or re.match(r"\s*INSERT.*RETURNING", statement, re.DOTALL)
            if (found := WRITES.match(statement)) and changed_some and found[1] not in BOOKKEEPING:
                changed.add(found[1])

        engine = self.database.engine
        with engine.connect() as connection:
            transaction = connection.begin()
            event.listen(engine, "after_cursor_execute", note)
            keep_records(self.app, Undone(connection), self.clock)
            try:
                yield changed
            finally:
                keep_records(self.app, self.database, self.clock)
                event.remove(engine, "after_cursor_execute", note)
                transaction.rollback()

    def visit(self, who, method, path, data=None, **more):
        """One request, undone at once. A POST carries the visitor's own form token."""
        with self.undone() as changed:
            return self.ask(who, method, path, data, changed=changed, **more)

    def ask(self, who, method, path, data=None, *, changed=(), headers=None, with_token=True, cookies=None):
        """One request. A form may come as pairs of names and values, or as the bytes of its body."""
        client = self.app.test_client(use_cookies=False)
        kept, token = self.cookies(who)
        options = {"headers": {"Cookie": kept if cookies is None else cookies} | (headers or {})}
        if method == "POST":
            if with_token:
                data = (
                    b"csrf_token=" + token.encode() + b"&" + data
                    if isinstance(data, bytes)
                    else {"csrf_token": token} | (data or {})
                )
            options["data"] = data
            if isinstance(data, bytes):
                options["content_type"] = "application/x-www-form-urlencoded"
        elif data:
            options["query_string"] = data.decode("ascii") if isinstance(data, bytes) else data
        response = client.open(path, method=method, buffered=True, **options)
        sent = response.get_data()
        text = sent.decode() if response.mimetype.startswith("text/") else ""
        location = response.headers.get("Location", "")
        return Answer(response.status_code, text, location, response.headers, frozenset(changed), sent)

    def cookies(self, who):
        """The cookies of a visitor's browser, and the token of its forms."""
        if who not in self._cookies:
            client = self.app.test_client()
            if who != "nobody":
                client.set_cookie("trainer-reader", self.made.tokens[who])
            page = client.get("/join")
            form = client.get_cookie("trainer-form")
            cookies = {"trainer-form": form.value} | (
                {} if who == "nobody" else {"trainer-reader": self.made.tokens[who]}
            )
            token = TOKEN.search(page.get_data(as_text=True))[1]
            self._cookies[who] = "; ".join(f"{name}={value}" for name, value in cookies.items()), token
        return self._cookies[who]
