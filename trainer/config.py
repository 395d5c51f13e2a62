"""
Settings of a site, read from the environment: one table, each with a default and a plain error.

`settings_from(environ)` reads them all and writes nothing; `secret_key(settings)` alone makes a file, and only on a
site's first start.
"""

from __future__ import annotations

import difflib
import os
import re
import secrets
from collections.abc import Callable, Mapping
from datetime import timedelta
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from msgspec import Struct

__all__ = [
    "KEY_FILE",
    "LOOPBACK",
    "SETTINGS",
    "Setting",
    "Settings",
    "SettingsError",
    "secret_key",
    "settings_from",
    "told",
]

PREFIX = "TRAINER_"
#: Variables with this prefix steer the tests and belong to nobody here.
TEST_PREFIX = "TRAINER_TEST_"
LOOPBACK = ("127.0.0.1", "localhost", "[::1]")
YES_NO = {"yes": True, "true": True, "on": True, "1": True, "no": False, "false": False, "off": False, "0": False}
LEVELS = ("debug", "info", "warning", "error")
SECRET_KEY_LENGTH = 32
KEY_FILE = "secret_key"
"""File of the instance folder with the key, where none is set."""
#: What stands before and after the password in an address: up to the last @, as a password may hold one.
PASSWORD_IN_ADDRESS = re.compile(r"(:/*[^:/@?]*:).*(@)")
LONGEST_TEXT = 200
SPAN = re.compile(r"([0-9]{1,5})([hd])")
HOUR, DAY = timedelta(hours=1), timedelta(days=1)
#: A working life; nothing is kept for longer but what is kept without end.
LONGEST_KEPT = timedelta(days=50 * 365)


class SettingsError(ValueError):
    """
    A setting in the environment cannot be used. The message says what was given and what is accepted.

    Attributes:
        name: The variable.
    """

    def __init__(self, name: str, message: str) -> None:
        super().__init__(f"{name}: {message}")
        self.name = name


class Settings(Struct, frozen=True):
    """
    What a site can be told from outside.

    Args:
        instance: Folder of the site's own data.
        database: SQLAlchemy URL.
        content: Folder that holds `lessons/` and `questions/`; None for the ones that came with the program.
        secret_key: Signs the form tokens; None to keep one in the instance folder.
        development: Shows the page of components, and errors in full.
        secure_cookies: Cookies travel over https only.
        hosts: Host names under which the site answers.
        proxies: How many reverse proxies in front are believed about address and scheme.
        largest_request: Largest request that is read [KiB].
        log_level: Least important level that is logged.
        metrics_token: Who shows it may read `/metrics`; None for nobody.
        oidc_issuer: Site whose accounts sign in here; None where no other's do.
        oidc_client: What this site is called there.
        oidc_secret_file: File with the secret by which this site is known there.
        oidc_label: What people call an account there.
        oidc_newcomers: Whether somebody whom nobody here knows gets an account.
        sign_in_idle: A sign-in that is not used ends after this time.
        sign_in_longest: One that is used ends this long after it began.
        keep_ended: How long what has ended, or was begun and never finished, is kept.
        keep_looks: How long the notes are kept who looked at whose record; None without end.
        keep_log: How long all other notes are kept that belong to no record; None without end.
    """

    instance: Path
    database: str
    content: Path | None = None
    secret_key: str | None = None
    development: bool = False
    secure_cookies: bool = True
    hosts: tuple[str, ...] = LOOPBACK
    proxies: int = 0
    largest_request: int = 256
    log_level: str = "info"
    metrics_token: str | None = None
    oidc_issuer: str | None = None
    oidc_client: str | None = None
    oidc_secret_file: Path | None = None
    oidc_label: str = "another account"
    oidc_newcomers: bool = False
    sign_in_idle: timedelta = timedelta(days=14)
    sign_in_longest: timedelta = timedelta(days=60)
    keep_ended: timedelta = timedelta(days=7)
    keep_looks: timedelta | None = timedelta(days=3 * 365)
    keep_log: timedelta | None = timedelta(days=7 * 365)


class Setting(Struct, frozen=True):
    """
    One row of the table of settings.

    Args:
        name: The variable.
        field: The field of `Settings` that it fills.
        accepted: What it takes, in words.
        example: One value that is taken.
        about: What it does, in one line.
        read: Turns the text into the value; ValueError for text that cannot be used.
        default: What holds without it, in words.
        secret: Whether its value is shown to nobody, neither in an error nor in the table.
    """

    name: str
    field: str
    accepted: str
    example: str
    about: str
    read: Callable[[str], Any]
    default: str
    secret: bool = False

    def shown(self, text: str) -> str:
        """A value as it may be printed: a secret by its length, an address of a database without its password."""
        if self.secret:
            return f"a text of {len(text)} characters"
        return PASSWORD_IN_ADDRESS.sub(r"\1***\2", text)


def _folder(text: str) -> Path:
    if not text.isprintable():
        raise ValueError(text)
    return Path(text).expanduser().absolute()


def _existing_folder(text: str) -> Path:
    folder = _folder(text)
    if not folder.is_dir():
        raise ValueError(text)
    return folder


def _database(text: str) -> str:
    if not text.startswith(("sqlite:///", "postgresql://", "postgresql+psycopg://")):
        raise ValueError(text)
    return text.replace("postgresql://", "postgresql+psycopg://", 1)


def _long_enough(text: str) -> str:
    if len(text) < SECRET_KEY_LENGTH:
        raise ValueError(text)
    return text


def _yes_no(text: str) -> bool:
    if text.lower() not in YES_NO:
        raise ValueError(text)
    return YES_NO[text.lower()]


def _hosts(text: str) -> tuple[str, ...]:
    names = tuple(name.strip() for name in text.split(",") if name.strip())
    if not names or any("/" in name or " " in name for name in names):
        raise ValueError(text)
    return names


def _whole(least: int, most: int) -> Callable[[str], int]:
    def read(text: str) -> int:
        # isascii first: isdigit alone takes digits of every script, and superscripts that int() refuses.
        if not (text.isascii() and text.isdigit() and len(text) <= 9 and least <= int(text) <= most):
            raise ValueError(text)
        return int(text)

    return read


def _span(least: timedelta, most: timedelta) -> Callable[[str], timedelta]:
    """Reads "12h" and "14d"."""

    def read(text: str) -> timedelta:
        found = SPAN.fullmatch(text)
        span = int(found[1]) * {"h": HOUR, "d": DAY}[found[2]] if found else None
        if span is None or not least <= span <= most:
            raise ValueError(text)
        return span

    return read


def _kept(least: timedelta) -> Callable[[str], timedelta | None]:
    """Reads the same, and "always"."""
    span = _span(least, LONGEST_KEPT)
    return lambda text: None if text.lower() == "always" else span(text)


def _issuer(text: str) -> str:
    parts = urlsplit(text)
    here = parts.hostname is not None and parts.hostname in {"127.0.0.1", "localhost", "::1"}
    plain = not (parts.query or parts.fragment or parts.username or parts.password)
    if not (plain and parts.hostname and (parts.scheme == "https" or (parts.scheme == "http" and here))):
        raise ValueError(text)
    return text


def _client(text: str) -> str:
    if not (len(text) <= LONGEST_TEXT and text.isascii() and text.isprintable()):
        raise ValueError(text)
    return text


def _label(text: str) -> str:
    if not (len(text) <= LONGEST_TEXT and text.isprintable() and any(letter.isalpha() for letter in text)):
        raise ValueError(text)
    return text


def _absolute(text: str) -> Path:
    if not text.startswith("/"):
        raise ValueError(text)
    return Path(text)


def _level(text: str) -> str:
    if text.lower() not in LEVELS:
        raise ValueError(text)
    return text.lower()


SETTINGS: tuple[Setting, ...] = (
    Setting(
        "TRAINER_INSTANCE",
        "instance",
        "a folder that the site may write to",
        "/srv/trainer",
        "Where the site keeps its own data",
        _folder,
        "instance/ in the folder where it is started",
    ),
    Setting(
        "TRAINER_DATABASE",
        "database",
        "the address of an SQLite file or a PostgreSQL database",
        "postgresql://trainer@127.0.0.1/trainer",
        "Where the records are",
        _database,
        "the SQLite file trainer.sqlite in the instance folder",
    ),
    Setting(
        "TRAINER_CONTENT",
        "content",
        "a folder that is there, with lessons/ and questions/ in it",
        "/srv/trainer-content",
        "Where lessons and questions are read from",
        _existing_folder,
        "those that came with the program",
    ),
    Setting(
        "TRAINER_SECRET_KEY",
        "secret_key",
        f"at least {SECRET_KEY_LENGTH} characters that nobody can guess",
        "$(openssl rand -hex 32)",
        "Signs the forms; codes at sign-in hang on it, so keep it: a new one makes everybody's app wrong",
        _long_enough,
        "the file secret_key in the instance folder, made on the first start",
        secret=True,
    ),
    Setting(
        "TRAINER_DEVELOPMENT",
        "development",
        "yes or no",
        "yes",
        "Shows the page of components and logs errors in full",
        _yes_no,
        "no",
    ),
    Setting(
        "TRAINER_SECURE_COOKIES",
        "secure_cookies",
        "yes or no",
        "no",
        "Whether cookies travel over https only; no for a site on plain http",
        _yes_no,
        "yes, and no in development",
    ),
    Setting(
        "TRAINER_HOSTS",
        "hosts",
        "host names with commas between, without scheme or path",
        "training.example.org",
        "Names under which the site answers; any other is refused",
        _hosts,
        "this machine only: " + ", ".join(LOOPBACK),
    ),
    Setting(
        "TRAINER_PROXIES",
        "proxies",
        "a whole number from 0 to 5",
        "1",
        "How many reverse proxies in front of it are believed about address and scheme",
        _whole(0, 5),
        "0",
    ),
    Setting(
        "TRAINER_LARGEST_REQUEST",
        "largest_request",
        "a whole number of KiB from 16 to 102400",
        "256",
        "Largest request that is read, but for one with a photograph, which has a limit of its own",
        _whole(16, 102_400),
        "256",
    ),
    Setting(
        "TRAINER_LOG_LEVEL",
        "log_level",
        "one of " + ", ".join(LEVELS),
        "warning",
        "Least important lines that are logged",
        _level,
        "info",
    ),
    Setting(
        "TRAINER_METRICS_TOKEN",
        "metrics_token",
        f"at least {SECRET_KEY_LENGTH} characters that nobody can guess",
        "$(openssl rand -hex 32)",
        "Turns /metrics on, for who sends this as bearer token",
        _long_enough,
        "nobody may read /metrics",
        secret=True,
    ),
    Setting(
        "TRAINER_OIDC_ISSUER",
        "oidc_issuer",
        "the https address by which an OpenID Connect provider calls itself",
        "https://sign-in.school.example",
        "Site whose accounts sign in here too; needs the next two, and the extra `oidc`",
        _issuer,
        "no other site's accounts sign in",
    ),
    Setting(
        "TRAINER_OIDC_CLIENT",
        "oidc_client",
        f"1 to {LONGEST_TEXT} plain letters, digits and signs",
        "tubing-trainer",
        "What that site calls this one (client id)",
        _client,
        "none",
    ),
    Setting(
        "TRAINER_OIDC_SECRET_FILE",
        "oidc_secret_file",
        "the whole path of a file, from / on, with the secret in it and nothing else",
        "/etc/trainer/oidc_secret",
        "By which that site knows this one (client secret)",
        _absolute,
        "none",
    ),
    Setting(
        "TRAINER_OIDC_LABEL",
        "oidc_label",
        f"1 to {LONGEST_TEXT} characters, letters among them",
        "your school account",
        "What people call an account there",
        _label,
        "another account",
    ),
    Setting(
        "TRAINER_OIDC_NEWCOMERS",
        "oidc_newcomers",
        "yes or no",
        "yes",
        "Whether somebody from there whom nobody here knows gets an account",
        _yes_no,
        "no",
    ),
    Setting(
        "TRAINER_SIGN_IN_IDLE",
        "sign_in_idle",
        "hours or days from 1h to 365d",
        "12h",
        "After how long without use a browser is signed out",
        _span(HOUR, 365 * DAY),
        "14d",
    ),
    Setting(
        "TRAINER_SIGN_IN_LONGEST",
        "sign_in_longest",
        "hours or days from 1h to 365d",
        "30d",
        "How long after signing in a browser is signed out, used or not; for those who sign in from then on",
        _span(HOUR, 365 * DAY),
        "60d",
    ),
    Setting(
        "TRAINER_KEEP_ENDED",
        "keep_ended",
        "hours or days from 24h to 365d",
        "30d",
        "How long ended sign-ins and calendar addresses, and apps for codes never set up to the end, are kept",
        _span(DAY, 365 * DAY),
        "7d",
    ),
    Setting(
        "TRAINER_KEEP_LOOKS",
        "keep_looks",
        "hours or days from 720h to 18250d, or always",
        "730d",
        "How long the notes are kept who looked at whose record; `trainer tidy` removes older ones",
        _kept(30 * DAY),
        "1095d",
    ),
    Setting(
        "TRAINER_KEEP_LOG",
        "keep_log",
        "hours or days from 720h to 18250d, or always",
        "always",
        "How long all other notes of who did what are kept, but for those that belong to a record, which stay",
        _kept(30 * DAY),
        "2555d",
    ),
)


def settings_from(environ: Mapping[str, str]) -> Settings:
    """
    Read the settings.

    Args:
        environ: Variables by name, as `os.environ`. An empty variable counts as left out.

    Returns:
        The settings, each one left out at its default.

    Raises:
        SettingsError: When one cannot be used, or when a variable that starts with TRAINER_ is none of them.
    """
    _refuse_unknown(environ)
    read = {setting.field: _read(setting, environ[setting.name]) for setting in SETTINGS if environ.get(setting.name)}
    instance = read.setdefault("instance", Path("instance").absolute())
    read.setdefault("database", f"sqlite:///{instance / 'trainer.sqlite'}")
    read.setdefault("secure_cookies", not read.get("development", False))
    return Settings(**read)


def told(environ: Mapping[str, str]) -> list[tuple[Setting, str, str]]:
    """
    The table of settings as it holds now: each with its present value as it may be printed, and where that is from.

    Args:
        environ: Variables by name. One whose value cannot be used is told like any other; `settings_from` refuses it.
    """
    return [
        (row, row.shown(environ[row.name]), "environment") if environ.get(row.name) else (row, row.default, "default")
        for row in SETTINGS
    ]


def secret_key(settings: Settings) -> str:
    """
    The key that signs form tokens: the one that was set, else the one in the instance folder, made when there is none.

    Raises:
        SettingsError: When the folder or the file cannot be written or read.
    """
    if settings.secret_key:
        return settings.secret_key
    file = settings.instance / KEY_FILE
    try:
        settings.instance.mkdir(parents=True, exist_ok=True)
        _write_once(file, secrets.token_urlsafe(SECRET_KEY_LENGTH))
    except OSError as error:
        raise _key_error(
            f"cannot be kept in {file} ({error.strerror}); name a folder that the site may write to"
        ) from None
    try:
        return _long_enough(file.read_text(encoding="ascii").strip())
    except OSError as error:
        raise _key_error(f"in {file} cannot be read ({error.strerror}); let the site's own user read it") from None
    except ValueError:
        # Not `from error`, which holds what stands in the file.
        raise _key_error(
            f"in {file} is damaged: it has at least {SECRET_KEY_LENGTH} plain characters. Put it back from a backup; or "
            "remove it and run trainer init --new-key, and every app for codes has to be set up anew"
        ) from None


def _key_error(what: str) -> SettingsError:
    return SettingsError("TRAINER_INSTANCE", f"the secret key {what}")


def _write_once(file: Path, text: str) -> None:
    """Write a file that only the owner may read, whole or not at all; leave one that is there as it is."""
    if file.exists():
        return
    draft = file.with_name(f"{file.name}.{secrets.token_hex(4)}")
    try:
        with os.fdopen(os.open(draft, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "w", encoding="ascii") as stream:
            stream.write(text)
        # A link is made at once or refused: of two workers that start together one wins and both read its key.
        os.link(draft, file)
    except FileExistsError:
        pass
    finally:
        draft.unlink(missing_ok=True)


def _read(setting: Setting, text: str) -> Any:
    try:
        return setting.read(text.strip())
    except ValueError:
        # The message goes into logs.
        given = setting.shown(text) if setting.secret else repr(setting.shown(text))
        message = f"{given} cannot be used; it takes {setting.accepted}, for example {setting.name}={setting.example}"
        # Not `from error`, which holds what was given.
        raise SettingsError(setting.name, message) from None


def _refuse_unknown(environ: Mapping[str, str]) -> None:
    known = [setting.name for setting in SETTINGS]
    for name in environ:
        if name.startswith(PREFIX) and not name.startswith(TEST_PREFIX) and name not in known:
            near = difflib.get_close_matches(name, known, n=1)
            meant = f"did you mean {near[0]}? The settings are" if near else "the settings are"
            raise SettingsError(name, f"there is no such setting; {meant} {', '.join(known)}")
