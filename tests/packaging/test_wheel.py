"""The wheel carries lessons, questions, templates and migrations, and serves from there."""

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def installed(tmp_path_factory):
    """Folder into which a freshly built wheel was installed, with nothing of the checkout in reach."""
    built = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(built)],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    (wheel,) = built.glob("trainer-*.whl")
    target = tmp_path_factory.mktemp("installed")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(target)
    return target


def run_installed(installed, folder, *arguments, **environment):
    """Run the installed program from `folder`, with the installed copy first on the path."""
    return subprocess.run(
        [sys.executable, "-P", "-c", "from trainer.cli import main; main()", *arguments],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(installed), **environment},
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_wheel_holds_content_and_leaves_tests_and_site_data_out(installed):
    names = {path.relative_to(installed).as_posix() for path in installed.rglob("*") if path.is_file()}

    assert any(name.startswith("trainer/_content/lessons/") for name in names)
    assert any(name.startswith("trainer/_content/questions/") for name in names)
    assert any(name.startswith("trainer/records/migrations/versions/") for name in names)
    assert any(name.startswith("trainer/web/templates/") for name in names)
    assert "trainer/paper/templates/document.typ" in names
    assert not [name for name in names if name.startswith(("tests/", "instance/"))]


def test_it_runs_from_the_installed_copy_in_another_folder(installed, tmp_path):
    where = subprocess.run(
        [sys.executable, "-P", "-c", "import trainer; print(trainer.__file__)"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(installed)},
        capture_output=True,
        text=True,
        check=True,
    )
    assert where.stdout.strip().startswith(str(installed))

    solved = run_installed(installed, tmp_path, "solve", "offset", "depth=6 in", "angle=30")
    assert solved.returncode == 0, solved.stderr
    assert "12 in" in solved.stdout

    listed = run_installed(installed, tmp_path, "problem", "--list")
    assert listed.returncode == 0, listed.stderr
    assert listed.stdout == run_installed(ROOT, tmp_path, "problem", "--list").stdout

    checked = run_installed(installed, tmp_path, "check-content", "cutting", "--draws", "100")
    assert checked.returncode == 0, checked.stdout + checked.stderr


def test_it_serves_lessons_from_the_installed_copy(installed, tmp_path):
    """A site made and opened by the installed copy shows a lesson that came in the wheel."""
    story = """
from trainer.config import settings_from
import os, trainer, trainer.web.app
from trainer.demo import build_demo_site
settings = settings_from(os.environ)
people = build_demo_site(settings, weeks=0)
app = trainer.create_app(settings)
client = app.test_client()
page = client.get('/sign-in').get_data(as_text=True)
token = page.split('name="csrf_token"')[1].split('value="')[1].split('"')[0]
learner = next(person for person in people if person.role == 'apprentice')
answer = client.post('/sign-in', data=dict(csrf_token=token, sign_in_name=learner.sign_in_name, password=learner.password))
assert answer.status_code == 303, answer.status_code
assert client.get('/lessons/offset-bends').status_code == 200
print('served')
"""
    served = subprocess.run(
        [sys.executable, "-P", "-c", story],
        cwd=tmp_path,
        env={
            **os.environ,
            "PYTHONPATH": str(installed),
            "TRAINER_INSTANCE": str(tmp_path / "site"),
            "TRAINER_SECURE_COOKIES": "no",
        },
        capture_output=True,
        text=True,
        check=False,
    )
    assert served.stdout.strip().endswith("served"), served.stderr
