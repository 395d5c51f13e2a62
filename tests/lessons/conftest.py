"""A lesson as text, with parts to be replaced."""

from __future__ import annotations

import pytest

from trainer.lessons.read import load_lesson
from trainer.problems.shelf import content_root, load_families, load_skills

FRONT = """+++
id = "try-out"
title = "Trying out"
about = "For the tests."
unit = "bends"
skills = ["bends.offset"]
minutes = 4

[[sources]]
fact = "spacing"
source = "geometry"
checked = "computed"

[facts]
stick = { core = "cutting.stick.length" }
own = { value = 3, source = "common practice, no source", checked = "from memory" }

[examples.first]
calculation = "offset"
inputs = { depth = "6 in", angle = "30", distance = "50 in" }
text = "Depth {{ first_depth | length }}."

[examples.total]
calculation = "bend_total"
inputs = { angles = "90, 90, 30" }

[tables.constants]
caption = "For each inch"
calculation = "offset"
inputs = { depth = "1 in" }
vary = "angle"
over = ["25", "30"]
columns = [
  { name = "angle", heading = "Bend", format = "angle" },
  { name = "spacing_handbook", heading = "Multiplier", format = "number" },
]
+++
"""

PROSE = """
## Marks

Spacing {{ first_spacing | length }}, a stick {{ stick | feet }}, third bend {{ total_angles_3 | angle }}.

-> draw offset from first, yours first_mark = distance: Near mark {{ first_second_mark | length }}.

-> draw fitting set-screw

-> work first for first_mark

-> table constants

-> cautions bending, cutting

-> try offset-spacing
"""


@pytest.fixture
def text():
    """The text of a sound lesson; each pair replaces a part of it that stands there once at least."""

    def build(*replaced):
        whole = FRONT + PROSE
        for old, new in replaced:
            assert old in whole
            whole = whole.replace(old, new, 1)
        return whole

    return build


@pytest.fixture
def lesson(text):
    return lambda *replaced: load_lesson(text(*replaced), "lessons/try-out.md")


@pytest.fixture(scope="session")
def questions():
    return content_root() / "questions"


@pytest.fixture(scope="session")
def families(questions):
    return load_families(questions)


@pytest.fixture(scope="session")
def skills(questions):
    return load_skills(questions)
