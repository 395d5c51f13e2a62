"""Slips with loads, devices and conduit bodies, by calculation and answer, each from the job's numbers."""

from __future__ import annotations

from slips_wire import FILL

from trainer.calc.trig import round_down, round_up
from trainer.problems.facts import fact

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

LOADS = {
    ("ampacity", "overcurrent_device"): CAP,
    ("ampacity", "needed"): NEEDED,
    ("ampacity", "load_device"): DEVICE,
    ("ampacity", "ampacity"): TERMINAL,
    ("conduit_body", "least_area"): BODY,
    ("conduit_body", "most_through"): THROUGH,
    ("conduit_body", "most_spliced"): SPLICED,
}
