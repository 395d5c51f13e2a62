"""Slips with what is in the tube, by calculation and answer, each from the job's numbers."""

from __future__ import annotations

from msgspec.structs import replace

from trainer.calc.trig import round_down, round_up, sqrt
from trainer.problems.facts import fact

FILL = {name: fact(f"raceway.fill.{name}") / 100 for name in ("one", "two", "over_two", "nipple")}
BUNDLES = sorted({fact(f"ampacity.bundling.rows.{row}.1") for row in range(3)})


def whole_sizes(job):
    return sorted((group.size for group in job.conductors), key=int)


PERCENT = {
    "left the ground out": lambda job: job.again(conductors=job.conductors[:-1]).percent,
    "gave the part of what is allowed": lambda job: 100 * job.area / job.allowed_area,
    "took all as the small ones": lambda job: (
        job.again(conductors=tuple(replace(group, size=whole_sizes(job)[-1]) for group in job.conductors)).percent
    ),
    "took all as the large ones": lambda job: (
        job.again(conductors=tuple(replace(group, size=whole_sizes(job)[0]) for group in job.conductors)).percent
    ),
}


def by_share(job, share):
    """As many as another share holds, rounded down and by the rule of eight tenths."""
    room = FILL[share] * job.raceway_area / job.right.area
    return round_down(room), round_down(room + 0.2)


FITS = {
    "rounded down whatever the rest": lambda job: round_down(
        job.allowed_percent / 100 * job.raceway_area / job.right.area
    ),
    "rounded up whatever the rest": lambda job: round_up(job.allowed_percent / 100 * job.raceway_area / job.right.area),
    "filled the whole bore": lambda job: round_down(job.raceway_area / job.right.area),
    "took the other kind of piece": lambda job: job.again(nipple=not job.nipple).count,
    "took the share of one conductor": lambda job: by_share(job, "one"),
    "took the share of two conductors": lambda job: by_share(job, "two"),
}


def factors(job):
    return job.ambient_percent, job.bundling_percent


CORRECTED = {
    "left the heat out": lambda job: job.table_ampacity * job.bundling_percent / 100,
    "left the neighbors out": lambda job: job.table_ampacity * job.ambient_percent / 100,
    "corrected for nothing": lambda job: job.table_ampacity if max(factors(job)) < 100 else None,
    "added the losses": lambda job: job.table_ampacity * (job.ambient_percent + job.bundling_percent - 100) / 100,
    "began with the column of the terminals": lambda job: (
        job.terminal_limit * job.ambient_percent / 100 * job.bundling_percent / 100
    ),
    "gave what is lost to the neighbors": lambda job: (
        job.table_ampacity * job.ambient_percent / 100 * (100 - job.bundling_percent) / 100
    ),
    "divided by the factor": lambda job: job.table_ampacity * 100 / job.ambient_percent * 100 / job.bundling_percent,
    "took the next row of the heat table": lambda job: [
        job.again(ambient=job.ambient + step).corrected for step in (5, -5) if job.ambient > 30
    ],
    "took another row of the bundling table": lambda job: [
        job.table_ampacity * job.ambient_percent / 100 * share / 100 for share in BUNDLES if job.bundling_percent < 100
    ],
}

DROP = {
    "counted the way there only": lambda job: job.drop / 2 if job.phases == 1 else None,
    "doubled twice": lambda job: job.drop * 2 if job.phases == 1 else None,
    "took the other number of phases": lambda job: job.again(phases=4 - job.phases).drop,
    "took the constant of aluminum": lambda job: job.again(material="aluminum").drop,
    "left the factor out": lambda job: job.drop / sqrt(3) if job.phases == 3 else None,
    "took three for three conductors": lambda job: job.drop * sqrt(3) if job.phases == 3 else None,
}

DROP_PERCENT = {
    "counted the way there only": lambda job: job.percent / 2,
    "gave the volts": lambda job: job.drop,
    "divided by 120": lambda job: job.again(volts=120.0).percent,
    "took the other number of phases": lambda job: job.again(phases=4 - job.phases).percent,
    "took the constant of aluminum": lambda job: job.again(material="aluminum").percent,
}


def mils(size):
    return next(fact(f"conductors.properties.rows.{row}.1") for row in range(9) if SIZES[row] == size)


SIZES = ("14", "12", "10", "8", "6", "4", "3", "2", "1")

GROUND = {
    "took the size of the table": lambda job: mils(job.table_size),
    "turned the proportion round": lambda job: mils(job.table_size) ** 2 / job.needed,
    "made it as large as the circuit conductors": lambda job: mils(job.installed_phase_size),
    "began one row too high": lambda job: (
        job.needed * mils(SIZES[SIZES.index(job.table_size) - 1]) / mils(job.table_size)
    ),
}

ROOM_LEFT = {
    "gave what is filled": lambda job: job.right.area,
    "gave what may be filled in all": lambda job: job.allowed_area,
    "counted on the whole bore": lambda job: job.raceway_area - job.right.area,
    "left the ground out": lambda job: job.again(conductors=job.conductors[:-1]).area_left,
    "took the share of one or of two": lambda job: [
        FILL[share] * job.raceway_area - job.right.area for share in ("one", "two")
    ],
    "took the bare ground as insulated": lambda job: (
        job.again(conductors=(*job.conductors[:-1], replace(job.conductors[-1], insulation="THHN"))).area_left
    ),
    "took each size once": lambda job: (
        job.again(conductors=tuple(replace(group, count=1) for group in job.conductors)).area_left
    ),
    "took forty percent of what is left": lambda job: FILL["over_two"] * (job.raceway_area - job.right.area),
}

SHARE = {
    "took the share of over two": lambda job: FILL["over_two"] * job.raceway_area,
    "took the share of one": lambda job: FILL["one"] * job.raceway_area,
    "took the share of two": lambda job: FILL["two"] * job.raceway_area,
    "took the share of a nipple": lambda job: FILL["nipple"] * job.raceway_area,
    "gave the whole bore": lambda job: job.raceway_area,
    "gave what must stay free": lambda job: job.raceway_area - job.allowed_area,
}

AREA = {
    "left the ground out": lambda job: job.again(conductors=job.conductors[:-1]).area,
    "took the ground as a small one": lambda job: (
        job.again(conductors=(*job.conductors[:-1], replace(job.conductors[-1], size="12"))).area
    ),
    "took all as the small ones": lambda job: job.again(conductors=all_of(job, "12")).area,
    "took all as the large ones": lambda job: job.again(conductors=all_of(job, "10")).area,
    "exchanged the sizes": lambda job: (
        job.again(
            conductors=tuple(replace(group, size={"12": "10", "10": "12"}[group.size]) for group in job.conductors)
        ).area
    ),
    "took each size once": lambda job: (
        job.again(conductors=tuple(replace(group, count=1) for group in job.conductors[:2])).area
    ),
}


def all_of(job, size):
    return tuple(replace(group, size=size) for group in job.conductors)


WIRE = {
    ("raceway_fill", "percent"): PERCENT,
    ("max_conductors", "count"): FITS,
    ("ampacity", "corrected"): CORRECTED,
    ("voltage_drop", "drop"): DROP,
    ("voltage_drop", "percent"): DROP_PERCENT,
    ("ground_size", "needed"): GROUND,
    ("raceway_fill", "area_left"): ROOM_LEFT,
    ("raceway_fill", "allowed_area"): SHARE,
    ("raceway_size", "area"): AREA,
}
