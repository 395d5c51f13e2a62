"""`trainer mistakes` from the shell."""

from __future__ import annotations

from click.testing import CliRunner

from trainer.cli import main


def run(*arguments):
    return CliRunner().invoke(main, ["mistakes", *arguments])


def test_the_table_says_what_stands_alone_what_is_known_and_what_cannot_be_told():
    done = run("saddle-centre-mark", "--draws", "6")

    alone, known, untold = done.output.split("\n\n")[1:]
    assert done.exit_code == 0
    assert "doubled" in alone
    assert 'value = ["2 * centre_mark' in alone
    assert "total-shrink" in known
    assert "no-shrink" in known
    assert "shrink_to_centre: tangent rounded to tenths" in untold or "whole number first" in untold


def test_all_shows_the_rare_ones_too():
    short, everything = run("offset-near-mark", "--draws", "4"), run("offset-near-mark", "--draws", "4", "--all")

    assert "--all shows them" in short.output
    assert "--all shows them" not in everything.output
    assert len(everything.output) > len(short.output)


def test_a_family_of_choices_and_one_that_is_none_are_refused_kindly():
    assert "answered by choosing" in run("connector-for-the-job").output
    assert "Did you mean strap-count?" in run("strap-cout").output
