import pytest

from trainer.lessons.model import Cautions, Drawing, Prose, Table, TryIt, Work
from trainer.lessons.read import check_references, load_lesson, load_lessons
from trainer.problems.errors import ContentError


def error_of(build, *replaced):
    with pytest.raises(ContentError) as caught:
        build(*replaced)
    return caught.value


def line_with(text, part):
    return next(number for number, line in enumerate(text.splitlines(), 1) if part in line)


def test_a_lesson_has_its_blocks_in_the_order_of_the_file(lesson):
    blocks = lesson().blocks

    assert [type(block) for block in blocks] == [Prose, Drawing, Drawing, Work, Table, Cautions, TryIt]
    assert [block.line for block in blocks] == sorted(block.line for block in blocks)


def test_blocks_know_the_line_that_they_stand_on(lesson, text):
    blocks = lesson().blocks

    assert blocks[0].line == line_with(text(), "## Marks")
    assert blocks[-1].line == line_with(text(), "-> try")


def test_a_lesson_names_its_families_and_areas_once(lesson):
    twice = lesson(("-> draw fitting", "-> try offset-spacing\n\n-> draw fitting"))

    assert twice.families == ("offset-spacing",)
    assert twice.cautions == ("bending", "cutting")
    assert repr(twice) == "Lesson('try-out')"


@pytest.mark.parametrize(
    ("old", "new", "given", "accepted"),
    [
        ("-> try", "-> guess", "guess", "one of draw, work, table, cautions, try"),
        ("draw offset from first", "draw ofset from first", "ofset", "offset, stub_up"),
        ("draw offset from first", "draw offset from second", "second", "first, total"),
        ("draw offset from first", "draw stub_up from first", "stub_up", "a figure of offset"),
        ("draw fitting set-screw", "draw fitting glue", "glue", "set-screw"),
        ("draw fitting set-screw", "draw offset set-screw", "offset", "fitting"),
        ("draw fitting set-screw", "draw a fitting please", "a fitting please", "a figure from an example"),
        ("yours first_mark", "yours slope", "slope", "spacing"),
        ("= distance", "= distance *", "distance *", "a formula over"),
        ("= distance", "= lenght", "lenght", "a formula over depth"),
        ("work first for first_mark", "work first", "first", "an example and its outputs"),
        ("work first for first_mark", "work second for first_mark", "second", "an example of this lesson"),
        ("work first for first_mark", "work first for mark", "mark", "an output"),
        ("table constants", "table prices", "prices", "constants"),
        ("cautions bending, cutting", "cautions bending, swimming", "swimming", "an area"),
        ("try offset-spacing", "try Offset Spacing", "Offset Spacing", "the id of a problem family"),
        (
            "first_second_mark | length",
            "first_second_mark | lenght",
            "first_second_mark | lenght",
            "one of the formats",
        ),
        ("total_angles_3 | angle", "total_angles_3 |", "total_angles_3 |", "{{ name | format }}"),
        ("first_spacing | length", "first_spaces | length", "first_spaces", "known are"),
        ("first_depth | length", "first_deep | length", "first_deep", "known are"),
        ("first_depth | length", "first_hook | length", "first_hook", "known are"),
    ],
)
def test_a_broken_line_is_named_with_what_is_accepted(lesson, text, old, new, given, accepted):
    error = error_of(lesson, (old, new))

    assert error.file == "lessons/try-out.md"
    assert error.line == line_with(text((old, new)), new)
    assert given in error.given
    assert accepted in error.accepted


@pytest.mark.parametrize(
    ("old", "new", "key", "accepted"),
    [
        ('id = "try-out"\n', "", "id", "field required"),
        ("minutes = 4", "minutes = 400", "minutes", "less than or equal to 20"),
        ("minutes = 4", 'minutes = 4\nprice = "low"', "price", "no such key"),
        ("cutting.stick.length", "cutting.stick.colour", "facts.stick.core", "a number in a table of the core"),
        ('value = 3, source = "common practice, no source", ', "value = 3, ", "facts.own", "with source and checked"),
        ('calculation = "bend_total"', 'calculation = "bends"', "examples.total.calculation", "one of offset"),
        ('angle = "30"', 'angle = "95"', "examples.first.inputs", "an input that offset takes"),
        ('text = "Depth {{ first_depth | length }}."', 'text = "{{"', "examples.first.text", "in pairs"),
        ('format = "number"', 'format = "price"', "tables.constants.columns", "one of length"),
        ('name = "spacing_handbook"', 'name = "weight"', "tables.constants.columns", "one of angle"),
        ('inputs = { depth = "1 in" }', 'inputs = { deep = "1 in" }', "tables.constants.inputs.deep", "offset takes"),
        ('over = ["25", "30"]', 'over = ["25", "thirty"]', "tables.constants.over", "an input that offset takes"),
    ],
)
def test_broken_front_matter_is_named_with_line_and_key(lesson, text, old, new, key, accepted):
    error = error_of(lesson, (old, new))

    assert error.key.startswith(key)
    assert accepted in error.accepted
    changed = line_with(text(), old.split("\n")[0])
    # A key that is missing counts to the file's beginning, one inside a list to the list.
    assert error.line in {changed, changed + 1, changed - 2} or key == "id"


def test_a_table_of_no_calculation_is_refused(lesson):
    error = error_of(lesson, ('"For each inch"\ncalculation = "offset"', '"For each inch"\ncalculation = "off"'))

    assert error.key == "tables.constants.calculation"


def test_several_errors_are_told_at_once(lesson):
    error = error_of(lesson, ("-> try offset-spacing", "-> guess"), ("-> table constants", "-> table prices"))

    assert [one.given for one in error.every] == ["'prices'", "'guess'"]


@pytest.mark.parametrize(("old", "new"), [("## Marks", "## Mar\u202eks"), ('unit = "', 'unit = "\\u2066')])
def test_a_sign_that_nobody_sees_is_refused_with_its_line(lesson, text, old, new):
    error = error_of(lesson, (old, new))

    assert error.line == line_with(text(), old)
    assert error.accepted == "signs that can be seen"


def test_front_matter_that_is_no_toml_names_its_line(lesson, text):
    error = error_of(lesson, ("minutes = 4", "minutes = four"))

    assert error.line == line_with(text(), "minutes")


@pytest.mark.parametrize(
    ("body", "line", "accepted"),
    [("", 1, "a first line +++"), ("# Title\n", 1, "a first line +++"), ('+++\nid = "a"\n', 2, "a line +++ that ends")],
)
def test_a_lesson_without_front_matter_is_refused(body, line, accepted):
    error = error_of(lambda: load_lesson(body))

    assert (error.file, error.line) == ("lesson", line)
    assert accepted in error.accepted


def test_a_file_is_called_by_its_path(tmp_path, text):
    path = tmp_path / "try-out.md"
    path.write_text(text(), "utf-8")

    assert load_lesson(path).file == str(path)


def test_lessons_come_in_the_order_of_unit_and_place(tmp_path, text):
    folder = tmp_path / "lessons"
    folder.mkdir()
    for name, unit, order in (("a", "bends", 20), ("b", "bends", 10), ("c", "boxes", 1)):
        body = text(('id = "try-out"', f'id = "{name}"'), ('unit = "bends"', f'unit = "{unit}"\norder = {order}'))
        (folder / f"{name}.md").write_text(body, "utf-8")

    assert list(load_lessons(folder)) == ["b", "a", "c"]


def test_a_lesson_is_named_after_its_id(tmp_path, text):
    (tmp_path / "other.md").write_text(text(), "utf-8")

    error = error_of(load_lessons, tmp_path)

    assert error.given == "'try-out'"
    assert "'other'" in error.accepted


def test_try_its_and_skills_must_be_there(lesson, text, families, skills):
    check_references(lesson(), families, skills)

    error = error_of(
        check_references,
        lesson(("-> try offset-spacing", "-> try no-family"), ('"bends.offset"', '"bends.sideways"')),
        families,
        skills,
    )

    assert [one.given for one in error.every] == ["'bends.sideways'", "'no-family'"]
    assert [one.line for one in error.every] == [line_with(text(), "skills"), line_with(text(), "-> try")]
