"""Slips with straps, sticks, boxes and their walls, by calculation and answer, each from the job's numbers."""

from __future__ import annotations

from msgspec.structs import replace

from trainer.calc.boxes_named import read_box
from trainer.calc.trig import round_down, round_up
from trainer.problems.facts import fact

STRAIGHT, TURNING = fact("pull_boxes.rule.straight"), fact("pull_boxes.rule.angle")
APART, FROM_END = fact("support.emt.max_spacing"), fact("support.emt.max_from_end")
STICK = fact("cutting.stick.length")
FORTY = fact("raceway.fill.over_two") / 100

STRAPS = {
    "took one strap every ten feet": lambda job: round_up(job.run_length / APART),
    "counted the gaps": lambda job: job.straps - 1,
    "added one to a strap every ten feet": lambda job: round_up(job.run_length / APART) + 1,
    "put one at each coupling too": lambda job: job.straps + round_up(job.run_length / STICK) - 1,
}


def stretches(job):
    return [getattr(leg, "length", leg) for leg in job.run]


STRAPS_OF_A_LIST = {
    "saw no boxes": lambda job: 1 + round_up((sum(stretches(job)) - 2 * FROM_END) / APART),
    "took one strap every ten feet": lambda job: round_up(sum(stretches(job)) / APART),
    "counted the gaps in each stretch": lambda job: job.right.straps - len(job.run),
    "let one strap do for both sides of a box": lambda job: job.right.straps - len(job.run) + 1,
}


def gaps(job):
    return [after - before for before, after in zip(job.straps, job.straps[1:], strict=False)]


WIDEST_GAP = {
    "took another gap": gaps,
    "gave a reading of the tape": lambda job: job.straps[1:],
    "shared the run out evenly": lambda job: (job.run_length - job.straps[0]) / (len(job.straps) - 1),
    "borrowed ten for a foot": lambda job: [
        job.widest_gap - 2
        for gap, strap in zip(gaps(job), job.straps, strict=False)
        if gap == job.widest_gap and (strap + gap) % 12 < strap % 12
    ],
}


def each_long_alone(job):
    """Sticks when what is left of one is thrown away: every length by itself."""
    lengths = dict.fromkeys(job.pieces)
    return sum(
        round_up(job.pieces.count(length) / round_down((STICK + job.kerf) / (length + job.kerf))) for length in lengths
    )


STICKS = {
    "forgot the saw cut": lambda job: job.again(kerf=0.0).sticks,
    "took all lengths as one sum": lambda job: round_up(sum(job.pieces) / STICK),
    "rounded down": lambda job: job.sticks - 1,
    "took a stick for each piece": lambda job: len(job.pieces) - len(job.given.get("offcuts", ())),
    "threw the leftovers away": each_long_alone,
}

WASTE = {
    "took all lengths as one sum": lambda job: round_up(sum(job.pieces) / STICK) * STICK - sum(job.pieces),
    "left the sawdust out": lambda job: job.waste - job.cut_count * job.kerf,
    "counted the sawdust twice": lambda job: job.waste + job.cut_count * job.kerf,
    "gave the last stick only": lambda job: (
        STICK - sum(job.cuts[-1].pieces) if hasattr(job.cuts[-1], "pieces") else None
    ),
}


def entries(job, *, turning):
    """Sizes on the left wall: the largest and the others; None where the other kind of pull decides."""
    sizes = sorted((entry.inches for entry in job.entries if entry.wall == "left"), reverse=True)
    straight = abs(job.width - STRAIGHT * sizes[0]) < 1e-9
    return (sizes[0], sizes[1:]) if straight != turning else None


def of_a_pull(function, *, turning):
    def with_sizes(job):
        sizes = entries(job, turning=turning)
        return None if sizes is None else function(*sizes)

    return with_sizes


WALL = {
    "straight: took the times of an angle pull": of_a_pull(lambda big, _: TURNING * big, turning=False),
    "straight: added the others": of_a_pull(lambda big, others: STRAIGHT * big + sum(others), turning=False),
    "straight: multiplied all": of_a_pull(lambda big, others: STRAIGHT * (big + sum(others)), turning=False),
    "straight: went by the smaller one": of_a_pull(lambda _, others: STRAIGHT * max(others), turning=False),
    "angle: left the others out": of_a_pull(lambda big, _: TURNING * big, turning=True),
    "angle: added only one of the others": of_a_pull(lambda big, others: TURNING * big + others[0], turning=True),
    "angle: took the times of a straight pull": of_a_pull(lambda big, _: STRAIGHT * big, turning=True),
    "angle: multiplied all": of_a_pull(lambda big, others: TURNING * (big + sum(others)), turning=True),
    "angle: straight times and the others": of_a_pull(lambda big, others: STRAIGHT * big + sum(others), turning=True),
}


def sizes_of(job):
    return sorted({entry.inches for entry in job.entries}, reverse=True)


APART_ENTRIES = {
    "added the others": lambda job: [job.spacing + size for size in sizes_of(job)],
    "took the times of a straight pull": lambda job: job.spacing * STRAIGHT / TURNING,
    "went by another pull": lambda job: [TURNING * size for size in sizes_of(job)],
}


def as_size(groups, size):
    return tuple(replace(group, size=size) for group in groups)


def largest(job):
    return min((group.size for group in (*job.conductors, *job.devices)), key=int)


BOX_VOLUME = {
    "counted the yoke once": lambda job: job.volume_required - job.device_volume / 2,
    "counted each clamp": lambda job: job.volume_required + (job.clamps - 1) * job.clamp_volume,
    "left the clamps out": lambda job: job.again(clamps=0).volume_required,
    "left the yoke out": lambda job: job.again(devices=()).volume_required,
    "left clamps and yoke out": lambda job: job.again(clamps=0, devices=()).volume_required,
    "left the grounds out": lambda job: job.again(equipment_grounds=()).volume_required,
    "counted all grounds as one": lambda job: (
        job.volume_required
        - job.ground_volume
        + job.again(equipment_grounds=(replace(job.equipment_grounds[0], count=1),)).ground_volume
    ),
    "counted each ground": lambda job: (
        job.volume_required
        - job.ground_volume
        + job.equipment_grounds[0].count
        * job.again(equipment_grounds=(replace(job.equipment_grounds[0], count=1),)).ground_volume
    ),
    "took all conductors as the largest": lambda job: (
        job.again(conductors=as_size(job.conductors, largest(job))).volume_required
    ),
}


def room(job):
    return read_box(job.family.inputs["box"].fill(job.drawn, {})).volume


BOX_COUNT = {
    "rounded up": lambda job: round_up(room(job) / job.allowance),
    "took all as the smallest": lambda job: job.again(conductor_size="14").count,
    "filled it to forty percent": lambda job: round_down(FORTY * room(job) / job.allowance),
    "took a cubic inch for each": lambda job: round_down(room(job)),
}


def in_a_row(job):
    """The raceways of the smaller size in the row that leaves at the bottom."""
    return sum(entry.wall == "bottom" for entry in job.entries)


HEIGHT = {
    "left the others out": lambda job: TURNING * job.s,
    "took the times of a straight pull": lambda job: STRAIGHT * job.s,
    "straight times and the others": lambda job: STRAIGHT * job.s + (in_a_row(job) - 1) * job.s,
    "multiplied all": lambda job: TURNING * in_a_row(job) * job.s,
    "went by the largest of the box": lambda job: [TURNING * job.b, TURNING * job.b + (in_a_row(job) - 1) * job.s],
    "took it for as wide as the box": lambda job: job.width,
}

COUNTS = {
    ("strap_count", "straps"): STRAPS,
    ("material_list", "straps"): STRAPS_OF_A_LIST,
    ("strap_check", "widest_gap"): WIDEST_GAP,
    ("cut_plan", "sticks"): STICKS,
    ("cut_plan", "waste"): WASTE,
    ("pull_box", "width"): WALL,
    ("pull_box", "spacing"): APART_ENTRIES,
    ("pull_box", "height"): HEIGHT,
    ("box_fill", "volume_required"): BOX_VOLUME,
    ("box_max_conductors", "count"): BOX_COUNT,
}
