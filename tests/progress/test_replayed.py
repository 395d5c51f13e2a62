"""The kept record against the one that the answers give, from the shell too."""

from zoneinfo import ZoneInfo

import pytest
from click.testing import CliRunner
from sqlalchemy import update

from trainer.cli import main
from trainer.progress.proof import ProofState, view_proof
from trainer.progress.proof_run import begin, next_question
from trainer.progress.replayed import differences
from trainer.records.models import MistakeHistory, ProofRun, SkillState

ZONE = ZoneInfo("UTC")


@pytest.fixture
def recorded(desk):
    """A person with practice, a slip and some answers of a proof run."""
    proof = {"zone": ZONE}
    for _ in range(8):
        for family in ("offset-spacing", "offset-shrink", "offset-first-mark", "offset-second-mark"):
            desk.practise("right", family_id=family)
        desk.after(days=1)
    with desk.database.write() as session:
        view = view_proof(session, desk.library, desk.person_id, "bends.offset", now=desk.now, **proof)
        assert view.state is ProofState.OPEN
        begin(session, desk.library, desk.person_id, "bends.offset", now=desk.now, **proof)
    for typed in ("right", "1 in", "right"):
        with desk.database.write() as session:
            problem = next_question(
                session, desk.library, desk.person_id, "bends.offset", now=desk.now, edition="2023", **proof
            )
        desk.answer(problem, desk.right(problem) if typed == "right" else typed)
    desk.practise("shrink-left-out", family_id="offset-first-mark")
    return desk


@pytest.fixture
def replay(recorded, monkeypatch, tmp_path):
    monkeypatch.setenv("TRAINER_INSTANCE", str(tmp_path))
    monkeypatch.setenv("TRAINER_DATABASE", recorded.database.url.set(drivername="sqlite").render_as_string())
    return lambda *words: CliRunner().invoke(main, ["replay", *words])


def found(desk):
    with desk.database.read() as session:
        return differences(session, desk.person_id)


def change(desk, table, **values):
    with desk.database.write() as session:
        session.execute(update(table).where(table.person_id == desk.person_id).values(**values))


def test_an_untouched_record_is_the_same_to_the_last_bit(recorded):
    assert found(recorded) == []


@pytest.mark.parametrize(
    ("table", "values", "named"),
    [
        (SkillState, {"level": SkillState.level + 1e-12}, "bends.offset"),
        (MistakeHistory, {"bits": 63}, "shrink-left-out"),
        (ProofRun, {"points": ProofRun.points + 1e-9}, "proof run"),
        (ProofRun, {"counted": 2}, "from 2"),
    ],
)
def test_what_was_changed_behind_its_back_is_named(recorded, table, values, named):
    change(recorded, table, **values)

    assert any(named in line for line in found(recorded))


def test_from_the_shell_nothing_differs(replay):
    done = replay()

    assert done.stderr == ""
    assert (done.exit_code, done.stdout) == (0, "1 people replayed, 0 differences.\n")


def test_from_the_shell_a_difference_is_told_and_put_right_when_asked(replay, recorded):
    change(recorded, SkillState, level=SkillState.level + 0.5)
    told = replay()
    assert told.exit_code == 1
    assert "public-pat: bends.offset: kept" in told.stdout
    assert len(found(recorded)) == 1

    assert replay("--write").exit_code == 0
    assert found(recorded) == []
