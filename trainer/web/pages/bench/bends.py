"""The bends of the bench in trade words: what each asks for, and which calculation answers."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from msgspec import Struct, field

from trainer.calc.calculation import Calculation
from trainer.calc.catalogue import CATALOGUE
from trainer.calc.inputs import Input, Kind
from trainer.web.language import Later

__all__ = ["BENDS", "Asked", "BenchBend"]


class Asked(Struct, frozen=True):
    """
    One thing that a bend asks for.

    Args:
        name: The calculation's input.
        label: What it is called on the page.
        hint: Where to measure it, "" where the label says it.
        usual: What stands in the field at first.
        choices: Value and words of each, where it is one of a few.
        optional: Whether it may be left empty.
    """

    name: str
    label: Later
    hint: Later | str = ""
    usual: str = ""
    choices: tuple[tuple[str, Later], ...] = ()
    optional: bool = False


class BenchBend(Struct, frozen=True):
    """
    A bend as the bench offers it.

    Args:
        id: Its name in addresses.
        title: What the trade calls it.
        about: What it is for, in a line.
        name: Of the calculation that answers.
        asked: What it asks for, in order.
        sketch: Path data of a tube bent so, in a field of 48 x 28.
        found_by: Of what came out wrong: the diagnosis' input for each thing that is asked for; empty for a bend that
            it does not know.
        diagnosed_as: The diagnosis' word for the bend.
        shoe_as: Fields of a shoe by the input that takes each, where the calculation takes no whole shoe.
    """

    id: str
    title: Later
    about: Later
    name: str
    asked: tuple[Asked, ...]
    sketch: str
    shoe_as: Mapping[str, str] = field(default_factory=dict)
    found_by: Mapping[str, str] = field(default_factory=dict)
    diagnosed_as: str = ""

    @property
    def calculation(self) -> Calculation:
        """The calculation."""
        return CATALOGUE[self.name]

    def input(self, asked: Asked) -> Input:
        """The calculation's input for something that is asked for."""
        return self.calculation.input(asked.name)

    def is_length(self, asked: Asked) -> bool:
        """Whether it is read off a tape."""
        return self.input(asked).kind is Kind.LENGTH


_ANGLE_HINT = Later("Most benders carry lines for 10, 22.5, 30, 45 and 60.")
_ANGLE = Asked("angle", Later("Angle of each bend"), _ANGLE_HINT, "30")
_HOOK = Asked(
    "hook",
    Later("Hook toward"),
    Later("Toward the far end the offset is finished before the obstacle and clears it."),
    "far-end",
    (("far-end", Later("the far end")), ("measured-end", Later("the end you measure from"))),
)

_ALL = (
    BenchBend(
        "stub-up",
        Later("Stub-up"),
        Later("One 90 with its short leg at a height."),
        "stub_up",
        (
            Asked(
                "stub_height", Later("Height of the stub"), Later("From the end of the tube to the back of the bend.")
            ),
        ),
        "M12 4v12a6 6 0 0 0 6 6h22",
        {"trade_size": "trade_size", "take_up": "take_up"},
        found_by={"stub_height": "wanted"},
        diagnosed_as="stub-up",
    ),
    BenchBend(
        "back-to-back",
        Later("Back-to-back"),
        Later("Two 90s, both stubs the same way."),
        "back_to_back",
        (
            Asked("distance", Later("Back to back"), Later("Over the outsides of both bends.")),
            Asked("stub", Later("Height of the first stub"), Later("From its end to the back of the bend.")),
            Asked(
                "way",
                Later("Second mark"),
                "",
                "by-back-mark",
                (
                    ("by-back-mark", Later("on the bent piece, by the back-of-bend mark")),
                    ("by-take-up", Later("on the bent piece, by the take-up mark")),
                    ("on-straight-stick", Later("both marks on the straight stick")),
                ),
            ),
        ),
        "M6 4v14a4 4 0 0 0 4 4h28a4 4 0 0 0 4-4V8",
        found_by={"distance": "wanted", "stub": "stub", "way": "way"},
        diagnosed_as="back-to-back",
    ),
    BenchBend(
        "offset",
        Later("Offset"),
        Later("Past a step or an obstacle, and on in parallel."),
        "offset",
        (
            Asked(
                "depth", Later("Depth of the offset"), Later("From the bottom of one leg to the bottom of the other.")
            ),
            Asked(
                "distance", Later("To the obstacle"), Later("From the end where you start measuring to its near edge.")
            ),
            _ANGLE,
            _HOOK,
        ),
        "M4 22h12L30 7h14",
        found_by={"depth": "wanted", "distance": "distance", "angle": "angle", "hook": "hook"},
        diagnosed_as="offset",
    ),
    BenchBend(
        "box-offset",
        Later("Box offset"),
        Later("From the wall up to a knockout."),
        "box_offset",
        (
            Asked(
                "knockout", Later("Middle of the knockout off the wall"), Later("From the wall that the tube lies on.")
            ),
            Asked(
                "standoff",
                Later("What the straps hold the tube off (optional)"),
                Later("Leave it empty where the tube lies on the wall."),
                optional=True,
            ),
            Asked("angle", Later("Angle of each bend"), _ANGLE_HINT, "10"),
            Asked(
                "near_mark",
                Later("First mark, from the end at the box"),
                Later("Leave room for the connector, and for the bend: it forms on the box side of the mark."),
                "2-1/2",
            ),
        ),
        "M4 5h9v18H4zM13 10h6l10 10h15",
    ),
    BenchBend(
        "kick",
        Later("Kick"),
        Later("One small bend that lifts an end, or a 90, off the line."),
        "kick",
        (
            Asked("rise", Later("How far off the line")),
            Asked("angle", Later("Angle of the kick"), _ANGLE_HINT, "30"),
            Asked(
                "measured_from",
                Later("Measured from"),
                "",
                "measured-end",
                (
                    ("measured-end", Later("the end that is lifted")),
                    ("back-of-first-bend", Later("the back of the 90 that is bent already")),
                ),
            ),
            Asked(
                "turn",
                Later("Before the kick, behind a 90"),
                Later("Seen from the end with the 90."),
                "clockwise",
                (
                    ("clockwise", Later("roll the tube a quarter clockwise")),
                    ("counterclockwise", Later("roll it a quarter counterclockwise")),
                    ("none", Later("leave it as it lies")),
                ),
            ),
        ),
        "M4 9l16 12h24",
        found_by={"rise": "wanted", "angle": "angle"},
        diagnosed_as="kick",
    ),
    BenchBend(
        "three-point-saddle",
        Later("Three-point saddle"),
        Later("Over a pipe, and on in the same line."),
        "three_point_saddle",
        (
            Asked(
                "height",
                Later("Height of the saddle"),
                Later("Measure across the pipe: it is thicker than its trade size says."),
            ),
            Asked("distance", Later("To the middle of the pipe"), Later("From the end where you start measuring.")),
            Asked(
                "centre_angle",
                Later("Angle of the middle bend"),
                Later("Usually 45; each outer bend takes half."),
                "45",
            ),
        ),
        "M4 20h8l12-11 12 11h8",
        found_by={"height": "wanted", "distance": "distance", "centre_angle": "angle"},
        diagnosed_as="three-point-saddle",
    ),
    BenchBend(
        "four-point-saddle",
        Later("Four-point saddle"),
        Later("Over something wide, and on in the same line."),
        "four_point_saddle",
        (
            Asked("height", Later("Height of the saddle")),
            Asked("width", Later("Width of the obstacle")),
            Asked("distance", Later("To its near edge"), Later("From the end where you start measuring.")),
            Asked("clearance", Later("Room before and behind it (optional)"), "", "", (), optional=True),
            _ANGLE,
            _HOOK,
        ),
        "M4 21h6L18 8h12l8 13h6",
    ),
    BenchBend(
        "rolling-offset",
        Later("Rolling offset"),
        Later("Up and over at once."),
        "rolling_offset",
        (
            Asked("rise", Later("How far up")),
            Asked("roll", Later("How far over")),
            Asked(
                "distance", Later("To the obstacle"), Later("From the end where you start measuring to its near edge.")
            ),
            _ANGLE,
            _HOOK,
        ),
        "M3 24h11L28 10h9M28 10l9-6",
    ),
    BenchBend(
        "parallel-offsets",
        Later("Offsets side by side"),
        Later("The next tube of a rack, evenly spaced through the offset."),
        "parallel_offset",
        (
            Asked("centre_spacing", Later("Between the middles of the tubes")),
            Asked("neighbour", Later("Which neighbour of the first tube"), Later("1 is the one beside it."), "1"),
            Asked("depth", Later("Depth of the offset")),
            Asked("distance", Later("To the obstacle, on the first tube")),
            _ANGLE,
            Asked(
                "plane",
                Later("The rack jumps"),
                "",
                "in-rack",
                (("in-rack", Later("sideways, in its own plane")), ("away-from-rack", Later("away from the wall"))),
            ),
            Asked(
                "side",
                Later("This tube lies on the side that the rack"),
                "",
                "toward-turn",
                (("toward-turn", Later("turns toward")), ("from-turn", Later("turns away from"))),
            ),
            _HOOK,
        ),
        "M4 16h11L27 4h17M4 24h14L30 12h14",
    ),
    BenchBend(
        "wide-bend",
        Later("Wide bend in small shots"),
        Later("A large radius made of many small bends."),
        "segment_bend",
        (
            Asked("radius", Later("Radius of the whole bend"), Later("To the middle of the tube.")),
            Asked("angle", Later("Angle of the whole bend"), "", "90"),
            Asked("shots", Later("Number of shots"), "", "15"),
            Asked("distance", Later("To the corner"), Later("From the end where you start measuring.")),
        ),
        "M6 4v4l2 6 4 5 6 3 6 1h20",
    ),
)

#: The bends by their names in addresses; one whose calculation the core lacks is not offered.
BENDS: Mapping[str, BenchBend] = MappingProxyType({bend.id: bend for bend in _ALL if bend.name in CATALOGUE})
