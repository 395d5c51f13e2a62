"""Commands for those who work on the program: all checks in one word."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import click

from trainer.text.prose import brand_hash

__all__ = ["dev"]

FLOOR = 95
"""Branch coverage of the pure layers and of progress (listed in pyproject.toml), in percent."""

UNTRACED = ("accounts", "browser", "cli", "demo", "faults", "packaging", "records", "security", "web")
"""
Folders of tests that go through pages, commands and tables: they run without tracing, which would double their time. What
must be covered is covered by the tests of its own layer.
"""


@click.group()
def dev() -> None:
    """For those who work on the program itself (needs the extra `dev`)."""


@dev.command()
@click.option("--quick", is_flag=True, help="Leave out the browser tests and the coverage floor.")
@click.option("--workers", default=2, show_default=True, help="Test processes at a time.")
def check(quick: bool, workers: int) -> None:
    """Run everything that must hold before a change lands: style, types, layers, content, tests, coverage."""
    root = project_root()
    tests = [sys.executable, "-m", "pytest", "-n", str(workers), "--dist", "worksteal"]
    steps: list[tuple[str, Sequence[str]]] = [
        ("style", tool("ruff", "check", ".")),
        ("format", tool("ruff", "format", "--check", ".")),
        ("types", tool("mypy")),
        ("layers", tool("lint-imports")),
        ("content", tool("trainer", "check-content", "--workers", str(workers))),
    ]
    if quick:
        steps.append(("tests", [*tests, "-m", "not browser"]))
    else:
        traced = [f"--ignore={folder}" for folder in untraced(root)]
        steps += [
            ("tests of pages, commands and tables", [*tests, *untraced(root)]),
            ("all other tests", [*tests, *traced, "--cov", "--cov-report="]),
            ("coverage", tool("coverage", "report", f"--fail-under={FLOOR}")),
        ]
    failed = [name for name, command in steps if not passes(name, command, root)]
    if failed:
        raise click.ClickException(f"not clean: {', '.join(failed)}")
    click.echo("All checks passed.")


def project_root() -> Path:
    """The checkout that this program runs from; a plain error when it is an installed copy."""
    root = Path(__file__).resolve().parents[2]
    if not (root / "pyproject.toml").is_file() or not (root / "tests").is_dir():
        raise click.ClickException("`trainer dev` works in a checkout; this is an installed copy without tests.")
    return root


def untraced(root: Path) -> list[str]:
    """The folders of tests that run without tracing, of those that are there."""
    return [f"tests/{name}" for name in UNTRACED if (root / "tests" / name).is_dir()]


def tool(name: str, *arguments: str) -> list[str]:
    """The command line of a tool that is installed beside this Python."""
    beside = Path(sys.executable).with_name(name)
    if not beside.exists():
        raise click.ClickException(f"{name} is not installed here; install the extra: pip install -e '.[dev]'")
    return [str(beside), *arguments]


def passes(name: str, command: Sequence[str], root: Path) -> bool:
    """Run one check with its output shown, and say how it went."""
    click.secho(f"== {name}", bold=True)
    started = time.monotonic()
    done = subprocess.run(command, cwd=root, check=False).returncode == 0  # noqa: S603 - our own tools by full path
    click.echo(f"-- {name}: {'passed' if done else 'FAILED'} in {time.monotonic() - started:.1f} s")
    return done


@dev.command("forbid-word")
@click.argument("word")
def forbid_word(word: str) -> None:
    """Put a brand's name of one or two words on the list of what lessons and questions may not say; its hash is kept."""
    file = project_root() / "trainer" / "text" / "english" / "brand_hashes.txt"
    said = file.read_text("utf-8").splitlines()
    about, hashes = [line for line in said if line.startswith("#")], {line for line in said if not line.startswith("#")}
    file.write_text("\n".join([*about, *sorted(hashes | {brand_hash(word)})]) + "\n", "utf-8")
    click.echo(f"{word!r} is on the list; `trainer check-content` refuses it.")
