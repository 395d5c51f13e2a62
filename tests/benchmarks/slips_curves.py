"""Slips with box offsets, kicks behind a 90, wide bends and runs in space: by calculation and answer, from the job's numbers."""

from __future__ import annotations

from math import pi

from slips_bends import SADDLES, of_others, on_both
from slips_cuts import by_name

from trainer.calc.shoes import DEFAULT_SHOES
from trainer.calc.trig import acos, asin, sin

BOX_ANGLES = (5, 10, 15, 22.5, 30)
KICK_ANGLES = (15, 22.5, 30, 45, 60)
HALF_INCH = DEFAULT_SHOES["1/2"].outside_diameter
SMALL = tuple(shoe.outside_diameter for shoe in DEFAULT_SHOES.values())[:2]


def size(job):
    return job.drawn.get("size", "1/2")


BOX_DEPTH = {
    "took the whole tube off": lambda job: job.knockout - DEFAULT_SHOES[size(job)].outside_diameter - job.standoff,
    "took the knockout alone": lambda job: job.knockout,
    "left the strap out": lambda job: job.depth + job.standoff,
    "added the strap": lambda job: job.depth + 2 * job.standoff,
    "forgot half the tube": lambda job: job.knockout - job.standoff,
    "added half the tube": lambda job: 2 * (job.knockout - job.standoff) - job.depth,
    "took the trade size for the diameter": lambda job: job.knockout - by_name(size(job)) / 2 - job.standoff,
    "took the tube of the other size": lambda job: [job.knockout - across / 2 - job.standoff for across in SMALL],
}

BOX_FAR_MARK = {
    "gave the spacing": on_both(lambda job, far: far - job.near_mark, "far_mark"),
    "took the spacing off": on_both(lambda job, far: 2 * job.near_mark - far, "far_mark"),
    "took the knockout for the depth": on_both(
        lambda job, spacing: job.near_mark + job.knockout * spacing / job.depth, "spacing"
    ),
    "took the whole tube off": on_both(
        lambda job, spacing: job.near_mark + (job.knockout - HALF_INCH) * spacing / job.depth, "spacing"
    ),
    "multiplied by the sine": lambda job: job.near_mark + job.depth * sin(job.given["angle"]),
    "took the depth for the spacing": lambda job: job.near_mark + job.depth,
    "took the multiplier of another angle": of_others("far_mark", "angle", BOX_ANGLES),
}


def half_tube(job):
    return job.corner - job.travel


KICK_CORNER = {
    "forgot half the tube": on_both(lambda _, travel: travel, "travel"),
    "took half the tube off": on_both(lambda job, travel: travel - half_tube(job), "travel"),
    "added the whole tube": on_both(lambda job, travel: travel + 2 * half_tube(job), "travel"),
    "multiplied by the sine": lambda job: job.rise * sin(job.given["angle"]) + half_tube(job),
    "took the length along the run": lambda job: job.advance + half_tube(job),
    "took the rise": lambda job: job.rise + half_tube(job),
    "took the multiplier of another angle": of_others("corner", "angle", KICK_ANGLES),
}

HEIGHT = {
    "added up and down": lambda job: job.drawn["rise"] + job.drawn["drop"],
    "left the way down out": lambda job: job.drawn["rise"],
    "gave the way down": lambda job: job.drawn["drop"],
    "added the last leg": lambda job: job.up + job.last,
    "added all legs": lambda job: sum(leg.length for leg in job.legs),
    "counted the level legs in": lambda job: sum(leg.length for leg in job.legs) - 2 * job.drawn["drop"],
}

DEVELOPED = {
    "took the radius for the diameter": lambda job: job.developed_length / 2,
    "took the diameter for the radius": lambda job: job.developed_length * 2,
    "took the whole circle": lambda job: 2 * pi * job.radius,
    "took a quarter of the circle": lambda job: pi / 2 * job.radius,
    "gave the two legs to the corner": lambda job: 2 * job.setback,
    "gave the straight way across": lambda job: 2 * job.radius * sin(job.angle / 2),
    "gave one leg to the corner": lambda job: job.setback,
}


def from_corner(change):
    return lambda job: job.distance + change(job)


FIRST_SHOT = {
    "began where the curve begins": from_corner(lambda job: -job.setback),
    "took the half shot off": from_corner(lambda job: -job.setback - job.first_shot),
    "added a whole shot": from_corner(lambda job: -job.setback + 2 * job.first_shot),
    "went back by the radius": from_corner(lambda job: -job.radius + job.first_shot),
    "gave the corner": from_corner(lambda _: 0.0),
    "left the set-back out": from_corner(lambda job: job.first_shot),
    "added the set-back": from_corner(lambda job: job.setback + job.first_shot),
    "went back by half the curve": from_corner(lambda job: -job.developed_length / 2 + job.first_shot),
    "went back by the whole curve": from_corner(lambda job: -job.developed_length + job.first_shot),
}

SHOTS = {
    "divided by one shot fewer": lambda job: job.developed_length / (job.shots - 1),
    "divided by one shot more": lambda job: job.developed_length / (job.shots + 1),
    "took the radius for the diameter": lambda job: job.shot_spacing / 2,
    "took the diameter for the radius": lambda job: job.shot_spacing * 2,
    "took the whole circle": lambda job: 2 * pi * job.own_radius / job.shots,
    "took a quarter of the circle": lambda job: pi / 2 * job.own_radius / job.shots,
    "gave the degrees of a shot": lambda job: job.shot_angle,
    "took the radius of the innermost tube": lambda job: job.shot_spacing * job.radius / job.own_radius,
    "took one tube too few": lambda job: job.shot_spacing * (1 - job.centre_spacing / job.own_radius),
    "took one tube too many": lambda job: job.shot_spacing * (1 + job.centre_spacing / job.own_radius),
    "took the spacing of the tubes off": lambda job: (
        job.shot_spacing * (2 * job.radius - job.own_radius) / job.own_radius
    ),
}

LEAN = {
    "turned rise and roll round": lambda job: 90 - job.roll_angle,
    "took the inverse sine": lambda job: asin(job.rise / job.roll),
    "took the inverse cosine": lambda job: acos(job.rise / job.roll),
    "gave the angle of the bends": lambda job: job.angle,
    "took the share of ninety": lambda job: 90 * job.rise / (job.rise + job.roll),
    "gave the slope in percent": lambda job: 100 * job.rise / job.roll,
}

SADDLE_SHRINK = {
    "counted one slope only": on_both(lambda _, shrink: shrink, "shrink_to_centre"),
    "doubled it twice": on_both(lambda _, shrink: 2 * shrink, "total_shrink"),
    "did not multiply by the height": on_both(lambda job, shrink: shrink / job.height, "total_shrink"),
    "gave the spacing": on_both(lambda _, spacing: spacing, "outer_spacing"),
    "gave the height": lambda job: job.height,
    "took the shrink of the other saddle": of_others("total_shrink", "centre_angle", SADDLES),
}

CURVES = {
    ("box_offset", "depth"): BOX_DEPTH,
    ("box_offset", "far_mark"): BOX_FAR_MARK,
    ("kick", "corner"): KICK_CORNER,
    ("run_in_space", "up"): HEIGHT,
    ("segment_bend", "developed_length"): DEVELOPED,
    ("segment_bend", "first_mark"): FIRST_SHOT,
    ("segment_bend", "shot_spacing"): SHOTS,
    ("rolling_offset", "roll_angle"): LEAN,
    ("three_point_saddle", "total_shrink"): SADDLE_SHRINK,
}
