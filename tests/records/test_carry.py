"""Backups, and what comes back from them, on both engines; a site carried from one to the other."""

from __future__ import annotations

import json
import random
import resource
import shutil
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from zipfile import ZipFile
from zoneinfo import ZoneInfo

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from sqlalchemy import delete, func, select, text, update

from trainer.records.carry import copying
from trainer.records.carry.archive import opened
from trainer.records.carry.backup import back_up
from trainer.records.carry.copying import copy_site
from trainer.records.carry.errors import CarryError, DamagedBackupError, UnreadableRowError
from trainer.records.carry.lines import line_of, row_of
from trainer.records.carry.places import new_sqlite_file
from trainer.records.carry.reading import lines_of, tally_of
from trainer.records.carry.restore import restore
from trainer.records.carry.tables import Kind, Shape, as_table, shapes_of
from trainer.records.engine import Database
from trainer.records.migrate import current, head, revisions
from trainer.records.models import AuditLine, Base, Person, SignInSession
from trainer.records.revision import DatabaseVersionError

NOW = datetime(2026, 11, 28, 20, 15, tzinfo=UTC)
LATER = datetime(2026, 11, 29, 6, 0, tzinfo=UTC)
ENDED_BY_RESTORING = {"sign_in_session", "half_sign_in"}


def url_of(file):
    return f"sqlite:///{file}"


def tallies(url):
    """Rows and digest of every table."""
    with closing(Database(url)) as database, database.read() as session:
        connection = session.connection()
        return {shape.name: tally_of(lines_of(connection, shape)) for shape in shapes_of(connection)}


def backed_up(url, target, files=None, now=NOW):
    return back_up(url, files or {}, target, program_version="0.1.0", now=now)


@pytest.fixture(scope="module")
def backup_file(site_of_examples, tmp_path_factory):
    """A backup of the site of examples, with a secret key in it. To be read, or copied."""
    folder = tmp_path_factory.mktemp("kept")
    (folder / "secret_key").write_text("a key that nobody can guess, of enough signs")
    backed_up(url_of(site_of_examples), folder / "site.zip", {"secret_key": folder / "secret_key"})
    return folder / "site.zip"


@pytest.fixture
def site(site_of_examples, tmp_path):
    """A copy of the site of examples, to be changed."""
    folder = tmp_path / "instance"
    folder.mkdir()
    return shutil.copyfile(site_of_examples, folder / "trainer.sqlite")


def add_person(session):
    """A new person's id, which the database gives."""
    person = Person(sign_in_name="somebody.new", display_name="Somebody New", created_at=LATER)
    session.add(person)
    session.flush()
    return person.id


def put_back(backup, url, folder, *, replace=False):
    return restore(backup, url, folder, replace=replace, now=LATER)


def test_every_column_of_the_models_has_the_same_kind_on_both_engines(any_database):
    with any_database.read() as session:
        found = {shape.name: shape for shape in shapes_of(session.connection())}

    assert found.keys() == Base.metadata.tables.keys()
    for table in Base.metadata.tables.values():
        read_by = as_table(found[table.name])
        assert {column.name: column.type.python_type for column in table.columns} == {
            column.name: column.type.python_type for column in read_by.columns
        }


ROW = Shape(
    "row",
    {
        "at": Kind.MOMENT,
        "day": Kind.DAY,
        "done": Kind.YES_NO,
        "drawn": Kind.DOCUMENT,
        "image": Kind.BYTES,
        "level": Kind.NUMBER,
        "seed": Kind.INTEGER,
        "typed": Kind.TEXT,
    },
)
#: One o'clock on the night on which it comes twice in Chicago.
TWICE = datetime(1999, 10, 31, 1, tzinfo=ZoneInfo("America/Chicago"))
DOCUMENTS = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(),
    lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner),
    max_leaves=6,
)


@settings(max_examples=60)
@given(
    st.tuples(
        st.datetimes(timezones=st.sampled_from([UTC, ZoneInfo("America/Chicago"), ZoneInfo("Asia/Kathmandu")])).filter(
            lambda at: 1 < at.year < 9999
        ),
        st.dates(),
        st.booleans(),
        DOCUMENTS,
        st.binary(),
        st.floats(allow_nan=False),
        st.integers(-(2**63), 2**63 - 1),
        st.text(),
    )
)
@example((TWICE, TWICE.date(), False, None, b"", 0.0, 0, ""))
@example((TWICE.replace(fold=1), TWICE.date(), False, None, b"", -0.0, 0, ""))
def test_a_row_reads_back_from_its_line_to_the_last_bit(row):
    line = line_of(ROW, row)
    back = row_of(ROW, line)

    assert line.count(b"\n") == 1
    # Compared in UTC: in an hour that comes twice, Python takes a moment of one zone to equal none of another.
    assert tuple(back.values()) == (row[0].astimezone(UTC), *row[1:])
    assert repr(back["level"]) == repr(row[5])
    assert line_of(ROW, tuple(back.values())) == line


def test_a_line_does_not_tell_the_zone_in_which_a_moment_was_given():
    shape = Shape("row", {"at": Kind.MOMENT})
    in_chicago = datetime.fromisoformat("2026-11-28T14:15:00-06:00")

    assert line_of(shape, [in_chicago]) == line_of(shape, [NOW]) == b'["2026-11-28T20:15:00.000000+00:00"]\n'


def test_a_document_that_is_a_number_reads_the_same_from_both_engines(any_database):
    """An answer as it was read is one: SQLite gives 12 for 12.0, PostgreSQL gives what it was given."""
    for value in (12.0, 15.678757, -3, "12", [12.0], True, None, 1e300):
        with any_database.write() as session:
            session.connection().execute(delete(AuditLine))
            session.add(AuditLine(at=NOW, what="test", detail=value))
        with any_database.read() as session:
            connection = session.connection()
            shape = next(shape for shape in shapes_of(connection) if shape.name == "audit_line")
            (line,) = lines_of(connection, shape)
        assert json.loads(line)[list(shape.columns).index("detail")] == value
        assert b"12.0," not in line


@pytest.mark.parametrize(
    ("kind", "value"), [(Kind.INTEGER, 1.5), (Kind.NUMBER, "1"), (Kind.TEXT, b"x"), (Kind.MOMENT, "now"), (Kind.DAY, 3)]
)
def test_a_value_that_is_none_of_its_column_is_named(kind, value):
    with pytest.raises(UnreadableRowError, match=r"A row of answer holds .* as its typed, which is no "):
        line_of(Shape("answer", {"typed": kind}), [value])


def test_the_example_rows_reach_every_kind_of_column(backup_file):
    with opened(backup_file) as backup:
        kinds = {kind for table in backup.manifest.tables if table.rows for kind in table.columns.values()}

    assert kinds == set(Kind)


def test_a_backup_comes_back_table_by_table_on_either_engine(site_of_examples, backup_file, any_empty_url, tmp_path):
    put_back(backup_file, any_empty_url, tmp_path)
    again = backed_up(any_empty_url, tmp_path / "again.zip")

    before, after = tallies(url_of(site_of_examples)), tallies(any_empty_url)
    changed = {name for name in before if before[name] != after[name]}
    assert changed == ENDED_BY_RESTORING
    assert before["sign_in_session"].rows == after["sign_in_session"].rows
    assert current(any_empty_url) == head()
    assert (tmp_path / "secret_key").read_text() == (backup_file.parent / "secret_key").read_text()
    assert (tmp_path / "secret_key").stat().st_mode & 0o077 == 0
    # What the other engine writes of the same rows is the same.
    with opened(backup_file) as backup:
        assert {table.name for table in backup.manifest.tables if table not in again.tables} == ENDED_BY_RESTORING
    with closing(Database(any_empty_url)) as database, database.write() as session:
        assert session.scalar(select(func.count()).where(SignInSession.revoked_at.is_(None))) == 0
        highest = session.scalar(select(func.max(Person.id)))
        assert add_person(session) > highest


def test_a_site_of_an_older_version_is_backed_up_as_it_is_and_restored_as_a_new_one(build_examples, tmp_path):
    revision = revisions()[3]
    old = build_examples(tmp_path / "old.db", revision)
    manifest = backed_up(url_of(old), tmp_path / "old.zip")
    new = url_of(tmp_path / "new.db")
    put_back(tmp_path / "old.zip", new, tmp_path)

    assert manifest.revision == revision != head()
    assert current(new) == head()
    after = tallies(new)
    assert {table.name: table.rows for table in manifest.tables} == {
        table.name: after[table.name].rows for table in manifest.tables
    }


def test_a_backup_is_for_its_owner_alone_and_leaves_nothing_beside_it(backup_file):
    assert backup_file.stat().st_mode & 0o777 == 0o600
    assert {file.name for file in backup_file.parent.iterdir()} == {"site.zip", "secret_key"}


def test_a_file_that_is_there_is_never_written_over(site_of_examples, tmp_path):
    (tmp_path / "site.zip").write_text("the only copy")

    with pytest.raises(CarryError, match=r"site\.zip is there already"):
        backed_up(url_of(site_of_examples), tmp_path / "site.zip")

    assert (tmp_path / "site.zip").read_text() == "the only copy"


def test_a_folder_that_is_not_there_is_said_so(site_of_examples, tmp_path):
    with pytest.raises(CarryError, match=r"There is no folder .*usb"):
        backed_up(url_of(site_of_examples), tmp_path / "usb" / "site.zip")


@contextmanager
def files_no_larger_than(limit):
    """As on a disk that is full."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (limit, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)


def test_a_backup_without_room_leaves_nothing_behind(site_of_examples, tmp_path):
    large = tmp_path / "large"
    large.write_bytes(random.Random(1).randbytes(600_000))
    target = tmp_path / "full" / "site.zip"
    target.parent.mkdir()

    with files_no_larger_than(300_000), pytest.raises(CarryError, match="cannot be written: File too large"):
        backed_up(url_of(site_of_examples), target, {"large": large})

    assert list(target.parent.iterdir()) == []


def test_there_must_be_a_site_to_back_up(tmp_path):
    with pytest.raises(DatabaseVersionError, match="trainer init"):
        backed_up(url_of(tmp_path / "none.db"), tmp_path / "site.zip")


def test_a_backup_that_does_not_read_back_is_not_kept(site_of_examples, tmp_path, monkeypatch):
    monkeypatch.setattr(
        "trainer.records.carry.archive.tally_of", lambda lines: tally_of(line for line in lines if b"2023" not in line)
    )

    with pytest.raises(CarryError, match="does not read back as it was written"):
        backed_up(url_of(site_of_examples), tmp_path / "site.zip")

    assert list(tmp_path.iterdir()) == []


def test_a_flipped_byte_is_noticed_wherever_it_matters(backup_file, tmp_path):
    whole, file = backup_file.read_bytes(), tmp_path / "flipped.zip"
    with opened(backup_file) as backup:
        manifest = backup.manifest
    draw, refusals = random.Random(7), []

    for place in draw.sample(range(len(whole)), 80):
        flipped = bytearray(whole)
        flipped[place] ^= 1 << draw.randrange(8)
        file.write_bytes(flipped)
        try:
            with opened(file) as backup:
                backup.verify()
                # Dates and rights that ZIP keeps of its members mean nothing here.
                assert backup.manifest == manifest
        except DamagedBackupError as error:
            refusals.append(str(error))
    assert len(refusals) > 60
    assert all("flipped.zip" in refusal for refusal in refusals)


def test_a_backup_that_was_cut_off_or_is_none_is_refused(backup_file, any_empty_url, tmp_path):
    whole = backup_file.read_bytes()
    for content in (whole[: len(whole) // 2], whole[:-30], b"", b"no backup"):
        (tmp_path / "cut.zip").write_bytes(content)
        with pytest.raises(DamagedBackupError, match=r"cut\.zip is damaged, or no backup of this program"):
            put_back(tmp_path / "cut.zip", any_empty_url, tmp_path)
    with pytest.raises(DamagedBackupError, match="No such file"):
        put_back(tmp_path / "gone.zip", any_empty_url, tmp_path)

    assert current(any_empty_url) is None


def rewritten(backup, target, change):
    """The backup with another list."""
    with ZipFile(backup) as old, ZipFile(target, "w") as new:
        for name in old.namelist():
            content = old.read(name)
            if name == "manifest.json":
                told = json.loads(content)
                change(told)
                content = json.dumps(told)
            new.writestr(name, content)
    return target


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (lambda told: told.update(format=2), "written by a newer version"),
        (lambda told: told.update(revision="fromthefuture"), "from a newer version of the program"),
        (lambda told: told["tables"][2].update(rows=9999), "where the list says 9999"),
        (lambda told: told["tables"][2].update(rows=-1), r"wrong at tables\.2\.rows"),
        (lambda told: told["tables"].pop(), "not those of the version that it names"),
        (lambda told: told["files"][0].update(digest="0" * 64), "the file secret_key is another one"),
        (lambda told: told["files"][0].update(name="../../etc/passwd"), r"wrong at files\.0\.name"),
        (lambda told: told["tables"].append({**told["tables"][0], "name": "other"}), "no item named"),
    ],
)
def test_a_list_that_does_not_fit_is_refused_and_nothing_is_restored(backup_file, tmp_path, change, says):
    file = rewritten(backup_file, tmp_path / "other.zip", change)
    (tmp_path / "instance").mkdir()

    with pytest.raises(CarryError, match=says):
        put_back(file, url_of(tmp_path / "instance" / "trainer.sqlite"), tmp_path / "instance")

    assert list((tmp_path / "instance").iterdir()) == []


def test_a_site_that_is_there_is_left_alone(backup_file, site):
    before = tallies(url_of(site))

    with pytest.raises(CarryError, match=r"There are records already in .*--replace"):
        put_back(backup_file, url_of(site), site.parent)

    assert tallies(url_of(site)) == before


def test_postgresql_must_be_empty_even_to_replace(backup_file, postgres_url, tmp_path):
    with pytest.raises(CarryError, match="Make a new, empty database"):
        put_back(backup_file, postgres_url, tmp_path, replace=True)


def test_what_is_replaced_is_kept_aside_whole(backup_file, site):
    with closing(Database(url_of(site))) as database, database.write() as session:
        session.execute(update(Person).values(display_name="Since the backup"))
    (site.parent / "secret_key").write_text("another key that nobody can guess at all")
    before = tallies(url_of(site))

    done = put_back(backup_file, url_of(site), site.parent, replace=True)

    old_site, old_key = done.kept_aside
    assert (old_site.name, old_key.name) == (
        "trainer.sqlite.before-20261129T060000Z",
        "secret_key.before-20261129T060000Z",
    )
    assert tallies(url_of(site))["person"] != before["person"]
    assert tallies(url_of(old_site)) == before
    assert old_key.read_text().startswith("another key")


def test_a_site_that_runs_is_not_replaced_under_its_feet(backup_file, site):
    with closing(Database(url_of(site))) as running:
        with running.read() as session:
            session.scalars(select(Person.id)).all()
        # The pool of a server keeps its connection open between requests.
        with pytest.raises(CarryError, match=r"is in use\. Stop the site first"):
            put_back(backup_file, url_of(site), site.parent, replace=True)
        with running.write() as session:
            session.execute(update(Person).values(display_name="Still here"))

    assert {file.name for file in site.parent.iterdir()} == {"trainer.sqlite"}


def test_a_file_that_is_beyond_reading_is_replaced_too_with_all_that_lies_beside_it(site):
    site.write_bytes(b"lightning" * 2000)
    beside = site.with_name("trainer.sqlite-wal")
    beside.write_bytes(b"thunder")

    with (
        new_sqlite_file(site, LATER, keep=True) as new,
        closing(Database(new.url)) as database,
        database.write() as write,
    ):
        write.execute(text("CREATE TABLE told (id INTEGER)"))

    (aside,) = new.kept_aside
    assert aside.read_bytes().startswith(b"lightning")
    assert aside.with_name(aside.name + "-wal").read_bytes() == b"thunder"
    assert tallies(url_of(site)).keys() == {"told"}
    assert not beside.exists()


def test_a_new_file_does_not_take_its_place_when_it_could_not_be_built(site):
    before = tallies(url_of(site))

    def fail():
        with new_sqlite_file(site, LATER, keep=True):
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        fail()
    assert tallies(url_of(site)) == before
    assert [file.name for file in site.parent.iterdir()] == ["trainer.sqlite"]


@pytest.mark.postgres
def test_a_site_goes_to_postgresql_and_back_and_a_copy_that_fails_leaves_nothing(site, empty_postgres_url, tmp_path):
    before, there, back = url_of(site), empty_postgres_url, url_of(tmp_path / "back.db")
    with closing(Database(before)) as database, database.write() as session:
        name = session.scalars(select(Person.display_name).where(Person.id == 1)).one()
        session.execute(update(Person).where(Person.id == 1).values(display_name="a\0b"))

    with pytest.raises(CarryError, match=r"refuses one of rows \d+ to \d+ of person: .*NUL"):
        copy_site(before, there)
    assert current(there) is None
    with closing(Database(before)) as database, database.write() as session:
        session.execute(update(Person).where(Person.id == 1).values(display_name=name))
    forth = copy_site(before, there)
    copy_site(there, back)

    assert forth.tables == tallies(before) == tallies(there) == tallies(back)
    assert forth.changed == ()
    assert current(there) == current(back) == head()
    with closing(Database(there)) as database, database.write() as session:
        add_person(session)


def test_a_copy_is_whole_or_nothing_and_what_is_written_meanwhile_is_told(site, tmp_path, monkeypatch):
    source, target = url_of(site), url_of(tmp_path / "copy.db")
    before, real_fill, real_end = tallies(source), copying.fill, copying.set_sequences

    def one_lost(connection, shape, lines):
        real_fill(connection, shape, list(lines)[shape.name == "grading" :])

    def meanwhile(*arguments):
        with closing(Database(source)) as database, database.write() as session:
            add_person(session)
        return real_end(*arguments)

    monkeypatch.setattr(copying, "fill", one_lost)
    with pytest.raises(CarryError, match="grading reads back otherwise"):
        copy_site(source, target)
    assert current(target) is None
    monkeypatch.setattr(copying, "fill", real_fill)
    monkeypatch.setattr(copying, "set_sequences", meanwhile)
    copied = copy_site(source, target)

    assert copied.tables == before == tallies(target)
    assert copied.changed == ("person",)
    with pytest.raises(CarryError, match="There are records already in"):
        copy_site(source, target)


def test_a_damaged_row_is_named_and_no_backup_is_made_of_it(site, tmp_path):
    with closing(Database(url_of(site))) as database, database.write() as session:
        session.execute(text("UPDATE problem SET drawn = '{\"numbers\": '"))

    with pytest.raises(UnreadableRowError, match="A row of problem cannot be read"):
        backed_up(url_of(site), tmp_path / "site.zip")
    assert [file.name for file in tmp_path.iterdir()] == ["instance"]
