"""
It came out wrong: which slip makes a piece like that, and what saves it. Inches and degrees.

Every slip is bent in `layout` by the marks that it leads to, and the bent tube is measured as the learner measured his;
nothing is guessed from differences. One slip is looked for, not two at once.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from trainer.calc.back_to_back import BACK_TO_BACK
from trainer.calc.calculation import Calculation, Output
from trainer.calc.diagnosis_job import HELD_ANGLE, HELD_DOG_LEG, HELD_LENGTH, Bent, Figures, Job, misses, off_by
from trainer.calc.diagnosis_mend import Mend, mends
from trainer.calc.diagnosis_slips import Slip, tried
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.offset import OFFSET
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.calc.trace import note, steps

__all__ = ["BEND_DIAGNOSIS", "BendDiagnosis", "LikelySlip", "bend_diagnosis"]

BEND = Input("bend", Kind.CHOICE, "offset", choices=tuple(Bent))
WANTED = Input("wanted", Kind.LENGTH, "6 in", "in", above=0)
MEASURED = Input("measured", Kind.LENGTH, "6-3/4 in", "in", above=0)
ANGLE = Input("angle", Kind.ANGLE, "30", "deg", optional=True, above=0, most=120)
MEASURED_ANGLE = Input("measured_angle", Kind.ANGLE, "33", "deg", optional=True, above=0, below=180)
DISTANCE = Input("distance", Kind.LENGTH, "40 in", "in", optional=True, above=0)
MEASURED_DISTANCE = Input("measured_distance", Kind.LENGTH, "38-3/8 in", "in", optional=True, above=0)
DOG_LEG = Input("dog_leg", Kind.LENGTH, "1/2 in", "in", optional=True, least=0, below=12)
STUB = Input("stub", Kind.LENGTH, "12 in", "in", optional=True, above=0)
BASIS = Input("basis", Kind.CHOICE, "handbook", optional=True, choices=("handbook", "sharp-corner", "arc"))
SHOE, HOOK, WAY = OFFSET.input("shoe"), OFFSET.input("hook"), BACK_TO_BACK.input("way")

_SUFFIXES = {"handbook": "_handbook", "sharp-corner": "", "arc": "_arc"}
#: A difference that no tape shows [in].
_A_HAIR = 1 / 32
#: Slips that are told, at most.
_TOLD = 5
#: What a back-to-back is taken to begin with where nothing is said [in].
_A_STUB = 24.0


class LikelySlip(Struct, frozen=True):
    """
    A slip, how well it fits, and what saves the piece.

    Args:
        kind: Its name; "as-marked" where nothing slipped and the marks themselves lead there.
        size: What the size comes out at with it [in].
        angle: What the bend comes out at [deg].
        distance: Where it comes to stand [in]; None where no distance was given.
        difference: Between these and what was measured, the largest of lengths [in].
        fits: Whether all figures agree to what a piece is held to.
        amount: The slip's own figure: an angle, a take-up, how far; None where it has none.
        mends: What saves the piece, in the order of doing it; nothing where it does not fit.
    """

    kind: str
    size: float
    angle: float | None
    distance: float | None
    difference: float
    fits: bool
    amount: Quantity | None
    mends: tuple[Mend, ...]

    def message(self) -> Message:
        """The slip as a sentence, with what saves the piece."""
        what = Message(f"slip.{self.kind}", {"amount": self.amount} if self.amount else {})
        place = Message("bend_diagnosis.size", {"size": Quantity(self.size, "in")})
        if self.distance is not None:
            sizes = {"size": Quantity(self.size, "in"), "distance": Quantity(self.distance, "in")}
            place = Message("bend_diagnosis.size-and-distance", sizes)
        params: dict[str, object] = {"what": what, "place": place, "difference": Quantity(self.difference, "in")}
        if not self.fits:
            return Message("bend_diagnosis.does-not-fit", params)
        near = "just" if self.difference < _A_HAIR else "within"
        params |= {"near": Message(f"bend_diagnosis.{near}", params), "mend": [mend.message() for mend in self.mends]}
        single = self.mends[0].kind
        return Message(f"bend_diagnosis.{single}" if single in {"none", "scrap"} else "bend_diagnosis.fits", params)


class BendDiagnosis(Struct, frozen=True):
    """
    What may have gone wrong.

    Args:
        good: Whether the piece is as it was wanted, to what such pieces are held to.
        likely: Name of the likeliest slip; "as-marked" where the marks lead there, "none" where the piece is good,
            "unknown" where no single slip fits.
        difference: How far its piece is from what was measured, the largest of lengths [in]; None where no tube could
            have been bent so.
        slips: The likeliest first, five at most; only such as fit, or else the nearest three.
        mends: What saves the piece by the likeliest.
    """

    good: bool
    likely: str
    difference: float | None
    slips: tuple[LikelySlip, ...]
    mends: tuple[Mend, ...]


@steps()
def bend_diagnosis(
    bend: str,
    wanted: float,
    measured: float,
    *,
    angle: float | None = None,
    measured_angle: float | None = None,
    distance: float | None = None,
    measured_distance: float | None = None,
    dog_leg: float | None = None,
    stub: float | None = None,
    shoe: Shoe = DEFAULT_SHOE,
    hook: str = "far-end",
    way: str = "by-back-mark",
    basis: str = "handbook",
) -> BendDiagnosis:
    """
    Find the slip that makes a bend like the one that was measured.

    Args:
        bend: What was bent: "stub-up", "offset", "kick", "back-to-back" or "three-point-saddle".
        wanted: Its size as it should be: height of the stub to the back, depth, rise, distance over the backs, height
            [in].
        measured: The same on the bent piece [in].
        angle: Of the bends of an offset or a kick, of the middle bend of a saddle [deg]; the others have 90.
        measured_angle: The same on the bent piece; of a back-to-back the last bend [deg].
        distance: From the end where measuring starts to the obstacle of an offset, or to the middle of that of a saddle
            [in].
        measured_distance: From that end, along the first leg, to the corner of the far bend, or to the middle of the
            saddle [in].
        dog_leg: How far the last leg leaves the plane of the first bend, for each foot of it [in].
        stub: Of a back-to-back, to the back of its first bend [in].
        shoe: The bender's shoe.
        hook: End that the hook was to point at, of an offset or a kick.
        way: How the second mark of a back-to-back was to be made.
        basis: The convention of the marks; another one where it has none for this angle.

    Raises:
        InputError: When one lies outside its range, the angle is missing, or the bend that was wanted can't be marked.

    Source: the bend calculations, and their marks with each slip bent in `layout`; what pieces are held to is common
    practice.

    >>> bend_diagnosis("stub-up", 12, 17).likely
    'take-up-not-taken-off'
    """
    named = {BEND: bend, WANTED: wanted, MEASURED: measured, ANGLE: angle, MEASURED_ANGLE: measured_angle}
    named |= {DISTANCE: distance, MEASURED_DISTANCE: measured_distance, DOG_LEG: dog_leg, STUB: stub}
    for given, value in {**named, HOOK: hook, WAY: way, BASIS: basis}.items():
        given.check(value)
    asked = Figures(wanted, _angle(bend, angle), distance, None if dog_leg is None else 0.0)
    found = Figures(measured, measured_angle, measured_distance if distance else None, dog_leg)
    job = _job(Bent(bend), asked, shoe=shoe, hook=hook, way=way, basis=basis, stub=stub)
    good = off_by(found, asked) <= 1
    slips = () if good else _ranked(job, found)
    note("slips", "bend_diagnosis.held", **_held())
    for slip in slips:
        line = slip.message()
        note("slips", line.id, **line.params)
    if len([slip for slip in slips if slip.fits]) > 1:
        note("slips", "bend_diagnosis.tell-apart")
    if good:
        note("likely", "bend_diagnosis.good")
        return BendDiagnosis(True, "none", 0.0, (), (Mend("none"),))
    if not slips or not slips[0].fits:
        note("likely", "bend_diagnosis.unknown")
        return BendDiagnosis(False, "unknown", slips[0].difference if slips else None, slips, ())
    return BendDiagnosis(False, slips[0].kind, slips[0].difference, slips, slips[0].mends)


def _angle(bend: str, angle: float | None) -> float:
    if bend in {Bent.STUB_UP, Bent.BACK_TO_BACK}:
        return 90.0
    if angle is None:
        raise ANGLE.refuse(Message("bend_diagnosis.angle"), "")
    if bend != Bent.SADDLE:
        OFFSET.input("angle").check(angle)
    return angle


def _job(kind: Bent, asked: Figures, *, shoe: Shoe, hook: str, way: str, basis: str, stub: float | None) -> Job:
    """The job with marks of the convention that was asked for, or of the first other one that has any."""
    suffixes = (_SUFFIXES[basis], *_SUFFIXES.values())
    jobs = (Job(kind, asked, shoe, hook, suffix, way, stub or _A_STUB) for suffix in suffixes)
    return next(job for job in jobs if _marks(job))  # Sharp corners have marks for every bend that is not refused.


def _marks(job: Job) -> object:
    """The marks as they should have been; a refusal names the input of the diagnosis."""
    names = {
        "stub_height": WANTED,
        "depth": WANTED,
        "rise": WANTED,
        "height": WANTED,
        "centre_angle": ANGLE,
        "stub": STUB,
    }
    own = {**names, "distance": WANTED if job.kind == Bent.BACK_TO_BACK else DISTANCE}
    try:
        return job.marks()
    except InputError as error:
        given = own.get(error.field or "", BEND)
        raise InputError(
            error.reason, given=error.given, accepted=error.accepted, example=given.example, field=given.name
        ) from None


def _ranked(job: Job, found: Figures) -> tuple[LikelySlip, ...]:
    """Those that fit, the plain ones first, then how near they come; the nearest three where none does."""
    judged = sorted(_judged(job, found), key=lambda one: one[0])
    fitting = [one for one in judged if one[0][0] <= 0]
    chosen = fitting[:_TOLD] or judged[:3]
    return tuple(_told(job, slip, got, found, fits=bool(fitting)) for _, slip, got in chosen)


def _judged(job: Job, found: Figures) -> Iterator[tuple[tuple[float, int, float], Slip, Figures]]:
    """Each slip with its rank: by how many tolerances it fails to fit, whether it is fitted, how far it is off."""
    for slip in tried(job, found):
        try:
            got = job.measured_on(job.bent(slip.marks))
        except InputError:
            continue  # With this slip the tube could not have been bent at all.
        off = off_by(got, found)
        kept = 0 if slip.kind == "as-marked" else 2 if slip.fitted else 1
        yield (max(0.0, off - 1), kept, off), slip, got


def _told(job: Job, slip: Slip, got: Figures, found: Figures, *, fits: bool) -> LikelySlip:
    lengths = [abs(miss) for name, miss in misses(got, found).items() if name in {"size", "distance"}]
    saved = mends(job, slip, found) if fits else ()
    place = None if job.wanted.distance is None else got.distance
    return LikelySlip(slip.kind, got.size, got.angle, place, max(lengths), fits, slip.amount, saved)


def _held() -> dict[str, object]:
    return {
        "length": Quantity(HELD_LENGTH, "in"),
        "angle": Quantity(HELD_ANGLE, "deg"),
        "dog_leg": Quantity(HELD_DOG_LEG, "in"),
    }


BEND_DIAGNOSIS = Calculation(
    name="bend_diagnosis",
    function=bend_diagnosis,
    inputs=(
        *(BEND, WANTED, MEASURED, ANGLE, MEASURED_ANGLE, DISTANCE, MEASURED_DISTANCE, DOG_LEG, STUB),
        *(SHOE, HOOK, WAY, BASIS),
    ),
    outputs=(
        Output("good"),
        Output("likely"),
        Output("difference", "in", "arc", True),
        Output("slips", "", "arc"),
        Output("mends", "", "arc"),
    ),
    sources=(
        "marks: the calculation of each bend; with each slip bent on the shoe's true arc",
        "what pieces are held to, and how far a bend is opened or closed: common practice, no source",
    ),
    area="bending",
    example_inputs={
        "bend": "offset",
        "wanted": "6 in",
        "measured": "6 in",
        "angle": "30",
        "distance": "40 in",
        "measured_distance": "37-1/8 in",
    },
)
