"""Slips with what is in the tube, by calculation and answer, each from the job's numbers."""

from __future__ import annotations

from dataclasses import replace

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

DEVICES = (15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125)
CAPS = {"14": 15, "12": 20, "10": 30}


def device_at_least(amperes):
    return next(size for size in DEVICES if size >= amperes - 1e-9)


CAP = {
    "went by the column of the insulation": lambda job: job.table_ampacity,
    "went by the corrected value": lambda job: [job.corrected, device_at_least(job.corrected)],
    "went by the column of the terminals": lambda job: job.terminal_limit,
    "took the cap of another size": lambda _: list(CAPS.values()),
    "took eighty percent of it": lambda job: 0.8 * job.overcurrent_device,
}

NEEDED = {
    "left the quarter more out": lambda job: job.continuous + job.noncontinuous,
    "took a quarter more of all": lambda job: 1.25 * (job.continuous + job.noncontinuous),
    "took the quarter more of the wrong load": lambda job: job.continuous + 1.25 * job.noncontinuous,
    "took eighty percent of the lasting load": lambda job: 0.8 * job.continuous + job.noncontinuous,
    "divided by 1.25": lambda job: (job.continuous + job.noncontinuous) / 1.25,
    "left the rest out": lambda job: 1.25 * job.continuous,
    "added a quarter only": lambda job: 0.25 * job.continuous + job.noncontinuous,
}

DEVICE = {
    "rounded down": lambda job: max(size for size in DEVICES if size < job.needed),
    "left the quarter more out": lambda job: device_at_least(job.steady + job.rest),
    "took a quarter more of all": lambda job: device_at_least(1.25 * (job.steady + job.rest)),
    "took the quarter more of the wrong load": lambda job: device_at_least(job.steady + 1.25 * job.rest),
    "gave the amperes themselves": lambda job: job.needed,
    "left the rest out": lambda job: device_at_least(1.25 * job.steady),
    "went one size further": lambda job: device_at_least(job.right.load_device + 0.5),
}

TERMINAL = {
    "went by the better terminal": lambda job: [
        job.again(terminals=max(job.breaker, job.machine)).ampacity,
        job.again(terminals=max(job.breaker, job.machine)).terminal_limit,
    ],
    "corrected the column of the terminals": lambda job: job.terminal_limit * job.bundling_percent / 100,
    "left the terminals out": lambda job: job.corrected,
    "gave the column of the insulation": lambda job: job.table_ampacity,
    "corrected the column of the better terminal": lambda job: (
        job.again(terminals=max(job.breaker, job.machine)).terminal_limit * job.bundling_percent / 100
    ),
    "left the neighbors out": lambda job: job.again(current_carrying=3).ampacity,
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
    "gave what the conductors take": lambda job: job.right.area,
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


BORES = ("1/2", "3/4", "1", "1-1/4")

BODY = {
    "gave the bore of the tube": lambda job: job.raceway_area,
    "took the bore of another size": lambda job: [job.again(trade_size=size).least_area for size in BORES],
    "took forty percent": lambda job: FILL["over_two"] * job.raceway_area,
    "doubled the diameter": lambda job: 4 * job.raceway_area,
    "took three times": lambda job: 3 * job.raceway_area,
}


def through(job, share, bore=None):
    one = conductor_area(job.conductor_size)
    return round_down(share * (bore or job.raceway_area) / one)


def conductor_area(size):
    return fact(f"conductors.dimensions.THHN.rows.{('14', '12', '10').index(size)}.2")


THROUGH = {
    "filled the whole bore": lambda job: through(job, 1.0),
    "went by the volume": lambda job: job.most_spliced,
    "took the area of another size": lambda job: [
        round_down(FILL["over_two"] * job.raceway_area / conductor_area(size)) for size in ("14", "12", "10")
    ],
    "took the share of one": lambda job: through(job, FILL["one"]),
    "took the share of two": lambda job: through(job, FILL["two"]),
    "rounded up": lambda job: through(job, FILL["over_two"]) + 1,
    "filled twice the bore": lambda job: through(job, FILL["over_two"], 2 * job.raceway_area),
}


def allowance(size):
    return fact(f"boxes.allowance.sizes.{size}")


SPLICED = {
    "rounded up": lambda job: round_up(job.marked_volume / allowance(job.conductor_size)),
    "gave what may go through": lambda job: job.most_through,
    "took the allowance of another size": lambda job: [
        round_down(job.marked_volume / allowance(size)) for size in ("14", "12", "10")
    ],
    "counted a splice as one": lambda job: 2 * job.most_spliced,
    "took a cubic inch for each": lambda job: round_down(job.marked_volume),
}

WIRE = {
    ("raceway_fill", "percent"): PERCENT,
    ("max_conductors", "count"): FITS,
    ("ampacity", "corrected"): CORRECTED,
    ("voltage_drop", "drop"): DROP,
    ("voltage_drop", "percent"): DROP_PERCENT,
    ("ground_size", "needed"): GROUND,
    ("ampacity", "overcurrent_device"): CAP,
    ("ampacity", "needed"): NEEDED,
    ("ampacity", "load_device"): DEVICE,
    ("ampacity", "ampacity"): TERMINAL,
    ("raceway_fill", "area_left"): ROOM_LEFT,
    ("raceway_fill", "allowed_area"): SHARE,
    ("raceway_size", "area"): AREA,
    ("conduit_body", "least_area"): BODY,
    ("conduit_body", "most_through"): THROUGH,
    ("conduit_body", "most_spliced"): SPLICED,
}
