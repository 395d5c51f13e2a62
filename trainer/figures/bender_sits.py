"""The bender as it sits for one named bend of a job: the right setting, or the same with the hook turned around."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from trainer.calc.back_to_back import Way, back_to_back
from trainer.calc.bender_settings import Setting, setting_job
from trainer.calc.kick import kick
from trainer.calc.marks import Datum, End, Mark, Reference
from trainer.calc.offset import offset
from trainer.calc.shoes import DEFAULT_SHOE
from trainer.calc.stub_up import stub_up
from trainer.calc.three_point_saddle import three_point_saddle
from trainer.figures.bend_on_mark import draw_bend_on_mark
from trainer.figures.words import Words

__all__ = ["SETTINGS", "draw_bender_sits"]

_STUB, _DISTANCE = 14.0, 40.0
_TURNED = "-hook-turned"


def _stub_mark() -> Mark:
    return stub_up(_STUB, DEFAULT_SHOE.trade_size).marks[0]


def _stub_by_the_back() -> Mark:
    """The back-of-bend mark on the full height."""
    job = setting_job({}, stub_up(_STUB, DEFAULT_SHOE.trade_size).marks, 1)
    return job.made(Setting(_STUB, Reference.BACK_OF_BEND, End.FAR))


def _stub_turned() -> Mark:
    job = setting_job({}, stub_up(_STUB, DEFAULT_SHOE.trade_size).marks, 1)
    return job.made(Setting(hook=End.FAR))


#: What can be shown, by the word for it.
SETTINGS: Mapping[str, Callable[[], Mark]] = MappingProxyType(
    {
        "stub-by-take-up": _stub_mark,
        "stub-by-back": _stub_by_the_back,
        f"stub{_TURNED}": _stub_turned,
        "second-90-by-take-up": lambda: back_to_back(_DISTANCE, _STUB, way=Way.TAKE_UP).marks[1],
        "second-90-by-back": lambda: back_to_back(_DISTANCE, _STUB).marks[1],
        "offset-second": lambda: offset(6, 30, _DISTANCE).marks[1],
        "saddle-middle": lambda: three_point_saddle(4, 45, _DISTANCE).marks_handbook[0],
        "saddle-outer": lambda: three_point_saddle(4, 45, _DISTANCE).marks_handbook[1],
        "kick-to-the-left": lambda: kick(6, 30, measured_from=Datum.BACK).marks_arc[0],
    }
)


def draw_bender_sits(setting: str, words: Words, key: str = "") -> str:
    """
    The bender on its pencil mark.

    Args:
        setting: A key of `SETTINGS`.
        words: Sentences.
        key: Tells apart equal figures on one page.
    """
    turned = setting.endswith(_TURNED)
    heading = words("sits.hook-turned") if turned else ""
    return draw_bend_on_mark(SETTINGS[setting](), DEFAULT_SHOE, words, key, heading, wrong=turned)
