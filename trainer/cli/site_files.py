"""The files of a site, as `trainer check` looks at them: who owns them, who may read them, and what was left over."""

from __future__ import annotations

import pwd
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from trainer.accounts.site_key import is_other_key
from trainer.config import KEY_FILE, Settings, SettingsError, secret_key
from trainer.records.checking.finding import Finding
from trainer.records.engine import Database, is_unguarded, shown_url, sqlite_file

__all__ = ["key_of_site", "left_over", "rights", "way_to_database"]

OTHERS = 0o077
OWNER_READS_AND_WRITES = 0o600
#: What a restore or a backup that was killed leaves behind.
DRAFTS = ("*.restoring-*", "backups/.*.zip.*")
#: What SQLite and the servers keep beside the database.
BESIDE = ("", "-wal", "-shm", "-journal", "-serving")


def rights(settings: Settings) -> Iterator[Finding]:
    """Files that the site cannot use, and files that others can read."""
    folder = settings.instance
    files = [file for file in _files(settings) if file.exists()]
    owner = folder.stat().st_uid
    for file in files:
        found = file.stat()
        if found.st_uid != owner:
            yield Finding(
                f"{file.name} belongs to {_name(found.st_uid)} and its folder to {_name(owner)}.",
                str(file),
                f"Run the site and this program as one and the same user; now: chown {_name(owner)} {file}",
            )
        if found.st_mode & OWNER_READS_AND_WRITES != OWNER_READS_AND_WRITES:
            yield Finding(f"{file.name} cannot be written by its owner.", str(file), f"chmod u+rw {file}")
    if not folder.stat().st_mode & OTHERS:
        return
    for file in files:
        if file.stat().st_mode & OTHERS:
            yield Finding(
                f"{file.name} may be read by other users of this machine.",
                str(file),
                f"chmod 700 {folder}",
                is_damage=False,
            )


def _files(settings: Settings) -> Iterator[Path]:
    if database := sqlite_file(settings.database):
        yield from (database.with_name(database.name + ending) for ending in BESIDE)
    yield settings.instance / KEY_FILE
    yield from sorted(settings.instance.glob("backups/*.zip"))


def _name(user: int) -> str:
    try:
        return pwd.getpwuid(user).pw_name
    except KeyError:
        return f"the user {user}"


def left_over(settings: Settings) -> Iterator[Finding]:
    """What nobody will use again."""
    for pattern in DRAFTS:
        for file in sorted(settings.instance.glob(pattern)):
            yield Finding(
                "A restore or a backup was broken off and left its unfinished file.",
                str(file),
                "Remove it, unless one is running right now.",
                is_damage=False,
            )


def way_to_database(settings: Settings) -> Iterator[Finding]:
    """A database on another host that is reached without looking who it is."""
    if is_unguarded(settings.database):
        yield Finding(
            "The database is on another host, and its address does not ask it for a certificate.",
            f"TRAINER_DATABASE: {shown_url(settings.database)}",
            "Give the server a certificate, and add sslmode=verify-full and sslrootcert=system to the address.",
            is_damage=False,
        )


def key_of_site(settings: Settings) -> Iterator[Finding]:
    """Whether this host has the key that the site signs with; none is made here."""
    file = settings.instance / KEY_FILE
    where = str(file) if settings.secret_key is None else "TRAINER_SECRET_KEY"
    try:
        key = secret_key(settings) if settings.secret_key or file.exists() else ""
    except SettingsError as error:
        yield Finding("The secret key cannot be read.", where, f"Put it back from a backup. {error}")
        return
    with closing(Database(settings.database)) as database, database.read() as session:
        if not is_other_key(session, key):
            return
    yield Finding(
        "This host has another secret key than the site." if key else "The secret key of the site is gone.",
        where,
        f"Put it back, from a backup by: unzip -p FILE files/{KEY_FILE} > {file}. Where it is lost for good, run "
        "trainer init --new-key; second factors are then set up again.",
    )
