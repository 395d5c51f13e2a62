from __future__ import annotations

import json
import subprocess
import sys

import pytest
from click.testing import CliRunner

from trainer.calc.catalogue import CATALOGUE
from trainer.cli import main


@pytest.fixture
def solve():
    """Run `trainer solve` with these words."""

    def run(*words):
        return CliRunner().invoke(main, ["solve", *words])

    return run


FIRST_BEND = (
    "Bend 1, 22.5°: tube as it lies; mark 41-3/16 in from the end where measuring starts, the bender's take-up mark on "
    "it, hook toward the far end."
)


def test_it_prints_results_steps_sources_and_cautions(solve):
    done = solve("offset", "depth=6 in", "angle=22.5", "distance=3' 4\"")

    assert done.exit_code == 0
    for line in (
        "offset: depth 6 in; angle 22.5°; distance 40 in",
        "  spacing = 15-11/16 in (15.6788)",
        "  spacing_handbook = 15-5/8 in (15.6)",
        "    " + FIRST_BEND,
        "  first_mark = distance + shrink = 40 + 1.1935 = 41.1935 in",
        "  Handbook multiplier for 22.5°: 2.6.",
        "  right-triangle geometry",
        "  Wear eye protection for every cut, file, drill and pull.",
    ):
        assert line in done.stdout.splitlines()


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (
            ("raceway_fill", "raceway=emt", "trade_size=1/2", "conductors=3 #12 THHN, 1 #10 THHN"),
            "raceway_fill: raceway emt; trade_size 1/2; conductors 3 #12 THHN, 1 #10 THHN",
        ),
        (
            ("pulling_tension", "sections=100 ft, 90 bend r 2 ft", "friction=0.5", "weight=1", "conductors=1 #4 THHN"),
            "pulling_tension: sections 100 ft straight, bend of 90°; friction 0.5; weight 1 lb/ft; conductors 1 #4 THHN",
        ),
    ],
)
def test_the_first_line_says_lists_as_they_are_read(words, line, solve):
    assert solve(*words).stdout.splitlines()[0] == line


def test_areas_and_volumes_have_the_decimals_of_their_tables(solve):
    filled = solve("box_fill", "conductors=8 #12", "devices=1 #12", "clamps=no", "equipment_grounds=5 #12").stdout

    assert "volume_required = 25.3125 cu in" in filled
    assert "area = 0.0133 sq in" in solve("max_conductors", *MAX_12).stdout


MAX_12 = ("raceway=emt", "trade_size=3/4", "insulation=THHN", "conductor_size=12")


def test_what_there_is_no_answer_to_is_left_out_for_people_and_null_in_json(solve):
    words = ("offset", "depth=6", "angle=33")

    assert "handbook =" not in solve(*words).stdout
    results = json.loads(solve(*words, "--json").stdout)["results"]
    assert results["spacing_handbook"] == {"value": None, "unit": "in", "text": "none"}


def test_json_holds_everything(solve):
    plain = json.loads(solve("offset", "depth=6", "angle=30", "distance=40", "--json").stdout)

    assert list(plain) == ["calculation", "inputs", "results", "steps", "sources", "cautions"]
    assert plain["calculation"] == "offset"
    assert plain["inputs"]["distance"] == {"value": 40.0, "unit": "in", "text": "40 in"}
    assert plain["results"]["spacing"] == {"value": 12.0, "unit": "in", "text": "12 in"}
    first = plain["results"]["marks"]["value"][0]
    assert first["position"] == pytest.approx(41.607695154587)
    assert (first["measured_from"], first["reference"], first["hook_toward"]) == (
        "measured-end",
        "take-up-mark",
        "far-end",
    )
    step = next(step for step in plain["steps"] if step["name"] == "spacing")
    assert (step["formula"], step["filled"], step["value"]) == ("depth / sin(angle)", "6 / sin(30)", 12.0)
    assert plain["sources"]
    assert plain["cautions"]


@pytest.mark.parametrize("name", list(CATALOGUE))
@pytest.mark.parametrize("form", [(), ("--json",)])
def test_every_example_of_the_list_runs(name, form, solve):
    listed = json.loads(solve("--list", "--json", name).stdout)["calculations"][0]
    inputs = [f"{given}={text}" for given, text in CATALOGUE[name].example_inputs.items()]

    done = solve(name, *inputs, *form)

    assert listed["example"].startswith(f"trainer solve {name} ")
    assert (done.exit_code, done.stderr) == (0, "")
    if form:
        plain = json.loads(done.stdout)
        assert list(plain["results"]) == [output["name"] for output in listed["outputs"]]
        assert all({"value", "unit", "text"} == set(valued) for valued in plain["results"].values())


def test_results_of_every_kind_can_be_read_by_people(solve):
    assert "within_limit = no" in solve("bend_total", "angles=4x90, 10").stdout
    assert "positions = 31-1/2 in, 136-1/2 in" in solve("strap_count", "run_length=14 ft").stdout
    assert (
        "Stick of 120 in: 70 in, 47 in; 2 cuts, 2-7/8 in left."
        in solve("cut_plan", "pieces=70, 47", "kerf=1/16").stdout
    )
    assert "compression connector listed for wet locations: " in solve("fitting_choice", "place=wet").stdout


def test_json_tells_reasons_in_words(solve):
    plain = json.loads(solve("fitting_choice", "place=wet", "--json").stdout)

    first = plain["results"]["suitable"]["value"][0]
    assert first["fitting"] == "compression-wet"
    assert first["reason"].startswith("Sealing ring on the tube")


def test_the_list_names_inputs_outputs_units_and_sources(solve):
    text = solve("--list").stdout

    for name, entry in CATALOGUE.items():
        assert name in text
        assert entry.example in text
        for source in entry.sources:
            assert f"source: {source}" in text
    assert "takes depth [in]: a length above 0 in. Example: 6 in" in text
    assert "takes [distance] [in]" in text
    assert "gives spacing_handbook [in], handbook" in text


def test_the_list_as_json(solve):
    listed = json.loads(solve("--list", "--json").stdout)["calculations"]

    assert [entry["name"] for entry in listed] == list(CATALOGUE)
    depth = listed[0]["inputs"][0]
    assert (depth["name"], depth["kind"], depth["unit"], depth["optional"]) == ("depth", "length", "in", False)


BAD = [
    (["offst", "depth=6"], "calculation: given “offst”", "“offset” is the nearest"),
    ([], "calculation: nothing given", "Say which calculation"),
    (["offset", "angle=30"], "depth: nothing given", "It is needed"),
    (["offset", "depth=6", "angel=30"], "angel: given “angel”", "“angle” is the nearest"),
    (["offset", "depth=4 1/0", "angle=30"], "depth: given “4 1/0”", "zero parts"),
    (["offset", "depth=3' 14\"", "angle=30"], "depth: given", "14 in would be another foot"),
    (["offset", "depth=6", "angle=90"], "angle: given “90”", "below 90°"),
    (["offset", "depth=6", "angle=30", "distance=5"], "distance: given “5 in”", "off the tube"),
    (["offset", "depth=6", "angle=30", "shoe=2"], "shoe: given “2”", "1/2, 3/4, 1, 1-1/4"),
    (["offset", "depth=1e9999999", "angle=30"], "depth: given “1e9999999”", "Powers of ten"),
    (["offset", "6", "angle=30"], "given “6”", "equals sign"),
    (["offset", "depth=6", "depth=7"], "given “depth=7”", "twice"),
    (["stub_up", "stub_height=6", "trade_size=1/2"], "stub_height: given “6 in”", "bend the stub long"),
    (["cut_plan", "pieces=47, 130"], "pieces: given “130 in”", "longer than the stick"),
    (["--list", "ofset"], "calculation: given “ofset”", "“offset” is the nearest"),
]


@pytest.mark.parametrize(("words", "what", "why"), BAD)
@pytest.mark.parametrize("form", [(), ("--json",), ("--explain",)])
def test_bad_input_is_one_line_on_standard_error_and_status_2(words, what, why, form, solve):
    done = solve(*words, *form)

    assert (done.exit_code, done.stdout) == (2, "")
    (line,) = done.stderr.splitlines()
    assert line.startswith(what)
    assert why in line
    assert "Accepted: " in line
    assert "Example: " in line


def test_explain_adds_second_method_published_figures_and_table_rows(solve):
    lines = solve("offset", "depth=6", "angle=45", "distance=40", "--explain").stdout.splitlines()

    for line in (
        "A second method",
        "  Bent in space by the arc marks, measured",
        "    depth: 6 in here, 6 in by it; residue 0: agrees",
        "    depth: 6 in here, 6.0766 in by it; residue +0.0766 in: known to differ",
        "Published",
        "  hand-bender instruction sheet, printed example (two sources)",
        "Table rows used",
        "  bends.offset_constants: published bender instruction sheets and training textbooks",
        "    angle 45, multiplier 1.4, shrink_per_inch 0.375 (two sources)",
        "    hook_needs 2 (from memory)",
    ):
        assert line in lines
    printed = next(line for line in lines if line.startswith("    first_mark: 22.25 in printed, 22.4853 in here"))
    assert "differs. The sheet takes 3/8 in of shrink" in printed


def test_explain_says_where_there_is_nothing_to_hold_against(solve):
    text = solve("fitting_choice", "place=wet", "--explain").stdout

    assert "None: the rule itself is all there is." in text
    assert "Nothing found that names its publisher." in text
    assert "332 more cells" in solve("max_conductors", *MAX_12, "--explain").stdout


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_explain_as_json_holds_the_evidence_for_every_example(name, solve):
    inputs = [f"{given}={text}" for given, text in CATALOGUE[name].example_inputs.items()]

    done = solve(name, *inputs, "--explain", "--json")
    plain = json.loads(done.stdout)

    assert (done.exit_code, done.stderr) == (0, "")
    assert list(plain)[-4:] == ["checks", "published", "published_elsewhere", "tables"]
    assert not any(check["agrees"] is False for check in plain["checks"])
    assert all(figure["agrees"] or figure["differs"] for figure in plain["published"])
    assert all(len(table["rows"]) == len(table["checked"]) for table in plain["tables"])
    assert "DOES NOT AGREE" not in solve(name, *inputs, "--explain").stdout


def test_what_a_terminal_would_obey_is_not_printed(solve):
    done = solve("offset", "depth=6 \x1b[31mred", "angle=30")

    assert done.exit_code == 2
    assert "\x1b" not in done.stderr
    assert len(done.stderr.splitlines()) == 1


def test_the_command_itself_works_from_a_shell():
    done = subprocess.run(
        [sys.executable, "-m", "trainer.cli", "solve", "stub_up", "stub_height=10", "trade_size=1/2"],
        capture_output=True,
        text=True,
        check=False,
    )

    assert (done.returncode, done.stderr) == (0, "")
    assert "mark = 5 in" in done.stdout


def test_help_lists_every_command_without_importing_any():
    code = (
        "import sys; from trainer.cli import main\n"
        "try: main(['--help'], standalone_mode=False)\n"
        "finally: assert not {'flask', 'sqlalchemy', 'trainer.calc', 'trainer.cli.solve'} & set(sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)

    assert (done.returncode, done.stderr) == (0, "")
    for command in ("solve", "problem", "sources", "demo", "init", "serve", "check-content", "dev"):
        assert f"\n  {command} " in done.stdout


@pytest.mark.parametrize("command", list(main.list_commands(None)))
def test_each_command_of_the_help_is_there_and_has_help_of_its_own(command):
    done = CliRunner().invoke(main, [command, "--help"])

    assert done.exit_code == 0
    assert "Usage: main " in done.stdout or "Usage: trainer " in done.stdout


def test_the_help_sorts_commands_by_what_they_are_for():
    text = CliRunner().invoke(main, ["--help"]).stdout

    assert text.index("Working things out:") < text.index("Running a site:") < text.index("Writing content and code:")


def test_an_unknown_command_is_refused():
    assert CliRunner().invoke(main, ["frobnicate"]).exit_code == 2
