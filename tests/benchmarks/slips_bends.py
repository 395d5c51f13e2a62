"""Slips with bends, as those name them who have made them: by calculation and answer, each from the job's numbers."""

from __future__ import annotations

from trainer.calc.shoes import DEFAULT_SHOES
from trainer.calc.trig import acos, atan, cos, sin, sqrt, tan

ANGLES = (22.5, 30, 45)
SADDLES = (45, 60)


def multiplier(job):
    return job.spacing_handbook / job.depth


def on_both(function, *names):
    """A slip on the exact figures and on those of the bender; `function` takes one set of the named outputs."""

    def both(job):
        for suffix in ("", "_handbook"):
            values = [getattr(job, name + suffix) for name in names]
            if None not in values:
                yield function(job, *values)

    return both


def of_others(answer, name, choices):
    """The answer for another choice, with exact figures and with the bender's."""
    return lambda job: [
        value
        for result in job.others(name, choices)
        for value in (getattr(result, answer), getattr(result, f"{answer}_handbook", None))
        if value is not None
    ]


OFFSET_SPACING = {
    "multiplied by the sine": lambda job: job.depth * sin(job.angle),
    "took the cosine": lambda job: job.depth / cos(job.angle),
    "took the tangent: the length along the wall": lambda job: job.depth / tan(job.angle),
    "left the spacing as the depth": lambda job: job.depth,
    "took the multiplier of another angle": of_others("spacing", "angle", ANGLES),
    "gave the shrink": on_both(lambda _, shrink: shrink, "shrink"),
}

OFFSET_SHRINK = {
    "took the tangent of the whole angle": lambda job: job.depth * tan(job.angle),
    "gave the spacing": on_both(lambda _, spacing: spacing, "spacing"),
    "took it for each bend": on_both(lambda _, shrink: 2 * shrink, "shrink"),
    "did not multiply by the depth": on_both(lambda job, shrink: shrink / job.depth, "shrink"),
    "took the shrink of another angle": of_others("shrink", "angle", ANGLES),
    "took the depth off the spacing": on_both(lambda job, spacing: spacing - job.depth, "spacing"),
}

OFFSET_FAR_MARK = {
    "left the shrink out": lambda job: job.distance,
    "took the shrink off": on_both(lambda job, shrink: job.distance - shrink, "shrink"),
    "added the spacing": on_both(lambda job, spacing: job.distance + spacing, "spacing"),
    "added the depth": lambda job: job.distance + job.depth,
    "took the shrink of another angle": of_others("first_mark", "angle", ANGLES),
    "took the tangent of the whole angle": lambda job: job.distance + job.depth * tan(job.angle),
    "did not multiply the shrink by the depth": on_both(
        lambda job, shrink: job.distance + shrink / job.depth, "shrink"
    ),
    "gave the near mark": on_both(lambda _, near: near, "second_mark"),
}

OFFSET_NEAR_MARK = {
    "left the shrink out": on_both(lambda job, spacing: job.distance - spacing, "spacing"),
    "took the shrink off": on_both(lambda job, shrink, spacing: job.distance - shrink - spacing, "shrink", "spacing"),
    "measured the spacing outward": on_both(lambda _, first, spacing: first + spacing, "first_mark", "spacing"),
    "took the depth for the spacing": on_both(lambda job, first: first - job.depth, "first_mark"),
    "gave the far mark": on_both(lambda _, first: first, "first_mark"),
    "multiplied by the sine": on_both(lambda job, first: first - job.depth * sin(job.angle), "first_mark"),
    "took the multiplier of another angle": lambda job: [
        first - spacing
        for result in job.others("angle", ANGLES)
        for first, spacing in ((job.first_mark, result.spacing), (job.first_mark_handbook, result.spacing_handbook))
        if spacing is not None
    ],
}

SADDLE_CENTRE = {
    "left the shrink out": lambda job: job.distance,
    "took the shrink off": on_both(lambda job, shrink: job.distance - shrink, "shrink_to_centre"),
    "added the shrink of up and down": on_both(lambda job, shrink: job.distance + shrink, "total_shrink"),
    "gave an outer mark": on_both(lambda _, near: near, "near_mark"),
    "took the whole middle angle": lambda job: job.distance + job.height * tan(job.centre_angle / 2),
    "added the height": lambda job: job.distance + job.height,
    "took the shrink of the other saddle": of_others("centre_mark", "centre_angle", SADDLES),
}

SADDLE_SPACING = {
    "took the multiplier of the middle bend": lambda job: job.height / sin(job.centre_angle),
    "multiplied by the sine": lambda job: job.height * sin(job.centre_angle / 2),
    "gave the height": lambda job: job.height,
    "gave the distance of the outer marks": on_both(lambda _, spacing: 2 * spacing, "outer_spacing"),
    "gave the shrink": on_both(lambda _, shrink: shrink, "shrink_to_centre"),
    "went by the pipe's name": on_both(
        lambda job, spacing: (job.nominal + job.gap) * spacing / job.height, "outer_spacing"
    ),
    "left the clearance out": on_both(lambda job, spacing: job.across * spacing / job.height, "outer_spacing"),
}

WIDE_SADDLE = {
    "left the clearance out": on_both(lambda job, mark: mark + job.clearance, "near_outer_mark"),
    "added the clearance": on_both(lambda job, mark: mark + 2 * job.clearance, "near_outer_mark"),
    "left the shrink out": on_both(lambda _, mark, shrink: mark - shrink / 2, "near_outer_mark", "total_shrink"),
    "took the shrink off": on_both(lambda _, mark, shrink: mark - shrink, "near_outer_mark", "total_shrink"),
    "added the shrink of both slopes": on_both(
        lambda _, mark, shrink: mark + shrink / 2, "near_outer_mark", "total_shrink"
    ),
    "gave the inner mark": on_both(lambda _, mark: mark, "near_inner_mark"),
    "multiplied by the sine": on_both(lambda job, mark: mark - job.height * sin(job.angle), "near_inner_mark"),
    "took the height for the spacing": on_both(lambda job, mark: mark - job.height, "near_inner_mark"),
}

KICK_MARK = {
    "multiplied by the sine": lambda job: job.rise * sin(job.angle),
    "gave the length along the run": lambda job: job.advance,
    "gave the rise": lambda job: job.rise,
    "took the multiplier of thirty": lambda job: job.again(angle=30).mark,
    "multiplied by the tangent": lambda job: job.rise * tan(job.angle),
    "took the cosine": lambda job: job.rise / cos(job.angle),
}

KICK_ADVANCE = {
    "gave the length along the tube": on_both(lambda _, travel: travel, "travel"),
    "multiplied by the tangent": lambda job: job.rise * tan(job.angle),
    "took the cosine of the rise": lambda job: job.rise * cos(job.angle),
    "gave the rise": lambda job: job.rise,
}

KICK_ANGLE = {
    "took the tangent": lambda job: atan(job.rise / job.length),
    "took the cosine": lambda job: acos(job.rise / job.length),
    "gave the slope in percent": lambda job: 100 * job.rise / job.length,
    "took the share of ninety": lambda job: 90 * job.rise / job.length,
}

ROLLING_DEPTH = {
    "added rise and roll": lambda job: job.rise + job.roll,
    "took the larger one only": lambda job: max(job.rise, job.roll),
    "drew no root": lambda job: job.rise**2 + job.roll**2,
    "took the middle of both": lambda job: (job.rise + job.roll) / 2,
    "took the squares from each other": lambda job: sqrt(abs(job.rise**2 - job.roll**2)),
}

ROLLING_SPACING = {
    "took the rise only": on_both(lambda job, spacing: job.rise * spacing / job.true_offset, "spacing"),
    "took the roll only": on_both(lambda job, spacing: job.roll * spacing / job.true_offset, "spacing"),
    "added rise and roll": on_both(lambda job, spacing: (job.rise + job.roll) * spacing / job.true_offset, "spacing"),
    "gave the depth": lambda job: job.true_offset,
    "gave the length along the run": lambda job: job.advance,
    "multiplied by the sine": lambda job: job.true_offset * sin(job.angle),
    "took the multiplier of another angle": of_others("spacing", "angle", ANGLES),
}

RACK_SHIFT = {
    "took the tangent of the whole angle": lambda job: job.neighbour_shift / tan(job.angle / 2) * tan(job.angle),
    "shifted as far as the tubes are apart": lambda job: job.neighbour * job.centre_spacing,
    "shifted by one step only": lambda job: job.mark_shift,
    "took the sine of the angle": lambda job: job.neighbour * job.centre_spacing * sin(job.angle),
}

TAKE_UPS = tuple(shoe.take_up for shoe in DEFAULT_SHOES.values())

BACK_TO_BACK = {
    "forgot the take-up": lambda job: job.distance,
    "added the take-up": lambda job: job.distance + job.take_up,
    "took the take-up of another size": lambda job: [job.distance - take_up for take_up in TAKE_UPS],
    "took it off for both bends": lambda job: job.distance - 2 * job.take_up,
    "counted the stub in": lambda job: job.distance + job.stub - job.take_up,
}

STUB = {
    "added the take-up": lambda job: job.stub_height + job.right.take_up,
    "forgot the take-up": lambda job: job.stub_height,
    "took the take-up of another size": lambda job: [job.stub_height - take_up for take_up in TAKE_UPS],
    "took the test mark for the take-up": lambda job: job.stub_height - job.tried,
}

TOTAL = {
    "counted each offset once": lambda job: job.total - sum({angle for angle in job.angles if angle < 90}),
    "left the box offset out": lambda job: job.total - 2 * job.box_angle if job.box_angle in job.angles else None,
    "counted the offset once": lambda job: job.total - job.offset_angle,
    "began afresh at the coupling behind the nineties": lambda job: (
        job.total - 90 if job.box_angle in job.angles else None
    ),
    "counted the nineties only": lambda job: 90 * job.angles.count(90),
}

LEFT = {
    "gave the total": lambda job: job.total,
    "counted the offset once": lambda job: job.left + job.offset_angle,
    "counted the middle of the saddle only": lambda job: job.left + 45,
    "left the kick out": lambda job: job.left + job.kick_angle,
    "counted the nineties only": lambda job: job.left + job.total - 90 * job.angles.count(90),
}

BENDS = {
    ("offset", "spacing"): OFFSET_SPACING,
    ("offset", "shrink"): OFFSET_SHRINK,
    ("offset", "first_mark"): OFFSET_FAR_MARK,
    ("offset", "second_mark"): OFFSET_NEAR_MARK,
    ("three_point_saddle", "centre_mark"): SADDLE_CENTRE,
    ("three_point_saddle", "outer_spacing"): SADDLE_SPACING,
    ("four_point_saddle", "near_outer_mark"): WIDE_SADDLE,
    ("kick", "mark"): KICK_MARK,
    ("kick", "advance"): KICK_ADVANCE,
    ("kick", "angle"): KICK_ANGLE,
    ("rolling_offset", "true_offset"): ROLLING_DEPTH,
    ("rolling_offset", "spacing"): ROLLING_SPACING,
    ("parallel_offset", "neighbour_shift"): RACK_SHIFT,
    ("back_to_back", "by_take_up"): BACK_TO_BACK,
    ("stub_up", "mark"): STUB,
    ("bend_total", "total"): TOTAL,
    ("bend_total", "left"): LEFT,
}
