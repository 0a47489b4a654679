"""What a practice session is asked to be."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.errors import OptionError, check_range
from weightshare.exercise import Exercise
from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.pipeline.aim import EVEN_PERCENT
from weightshare.pipeline.weight import FOOT_PART
from weightshare.programme.prescription import Prescription
from weightshare.records.pair import Footwear
from weightshare.scales.source import DEFAULT_SOURCE, check_sources, may_be_pair
from weightshare.task import Goal, Settings

if TYPE_CHECKING:
    from weightshare.records.assessment import Elsewhere

LONGEST_S = 86_400.0
LEAST_PERCENT = 100.0 * FOOT_PART
"""Who has no more than this on one foot stands on the other alone, percent."""
ANY_WEIGHT_N = 700.0
"""Stands for a body weight where it makes no difference."""


def usual_percent(exercise: Exercise, *, injured_works: bool = True) -> float | None:
    """Return the injured side's share that is usual in `exercise`, percent; None: a hold has no usual one.

    Source: even work on two legs, and a lowering with more on the injured side, are common practice, no source.
    """
    if exercise.is_single:
        return 100.0 if injured_works else 0.0
    if exercise is Exercise.HOLD:
        return None
    return 75.0 if exercise is Exercise.LOWERING else 50.0


def check_practised(settings: Settings) -> Settings:
    """Return `settings`, where a person may be asked for what they ask. Raises OptionError, which names the option.

    A target that has one leg stand alone belongs to work on one leg, which is chosen as such; and none is asked for
    that a ceiling in percent of body weight forbids.
    """
    exercise, target = settings.exercise or Exercise.HOLD, settings.target_percent
    most = 100.0 - LEAST_PERCENT
    if target is not None and not exercise.is_single and not LEAST_PERCENT < target < most:
        words = f"on two legs it lies between {LEAST_PERCENT:g} and {most:g} %, more is standing on one leg"
        raise OptionError(f"--target {target:g}: {words}; for one leg choose --stage single-lowering or single-raise")
    # a limit in percent of body weight asks for no body weight
    needs_none = settings.ceiling is not None and settings.ceiling.percent is not None and not settings.added_weight_N
    clash = find_clash(settings, settings.body_weight_N or (ANY_WEIGHT_N if needs_none else None))
    if clash:
        raise OptionError(f"--target {target:g} --ceiling {settings.ceiling}: {clash}; change one of them")
    return settings


def asked_percent(settings: Settings) -> float | None:
    """Return the greatest share of the injured side that is asked for on purpose, percent; None without a target.

    What turns at the top is even on the way up, whatever its target.
    """
    target = settings.target_percent
    if target is None or settings.exercise is None or not settings.exercise.turns:
        return target
    return max(target, EVEN_PERCENT)


def find_clash(settings: Settings, body_weight_N: float | None) -> str:
    """Return in one line why the target cannot be reached under the ceiling; empty where it can, or nobody knows.

    All of the weight is taken to be on the plates, added weight with it.
    """
    limit_N = None if settings.ceiling is None else settings.ceiling.limit_N(body_weight_N)
    asked = asked_percent(settings)
    if limit_N is None or asked is None or body_weight_N is None:
        return ""
    asked_N = asked / 100.0 * (body_weight_N + settings.added_weight_N)
    if asked_N <= limit_N:
        return ""
    where = f"on the {settings.injured} foot"
    if settings.ceiling is not None and settings.ceiling.percent is not None:
        return f"{asked:g} % {where} is over the limit of {settings.ceiling.percent:g} % of body weight"
    asked_kg, limit_kg = asked_N / STANDARD_GRAVITY, limit_N / STANDARD_GRAVITY
    return f"{asked:g} % {where} is {asked_kg:.1f} kg, over the limit of {limit_kg:.1f} kg"


@dataclass(frozen=True, slots=True)
class PractiseOptions:
    """One session's options. Raises OptionError, which names the option, where one cannot be.

    `sources` are one, or two where two separate scales are one pair; `sides` the feet that the first and the second are
    under (None: as the scales say, else the first is the left one). `calibrations` are files given by hand. `seconds`:
    stop after so much sample time; None: when told to. `save`: the folder under which the session's own is made (None:
    the user's own place). `record`: whether it is saved at all. `unattended`: nobody presses a key; the first set of
    repetitions begins as soon as someone was weighed.
    """

    settings: Settings
    goal: Goal = field(default_factory=Goal)
    sources: tuple[str, ...] = (DEFAULT_SOURCE,)
    calibrations: tuple[Path, ...] = ()
    seconds: float | None = None
    save: Path | None = None
    record: bool = True
    unattended: bool = False
    checks_only: bool = False
    """Nobody practises: the plates are checked, which goes into the drift log though nothing is recorded."""
    sides: tuple[Side, Side] | None = None
    footwear: Footwear | None = None
    """What is worn on the scales, as it was told when they were set up; None: it was not."""
    prescription: Prescription | None = None
    """The stage of a programme that it is a session of; the session keeps it."""
    place: str = ""
    """The name or the whole path of that programme; empty: there is none."""
    elsewhere: Elsewhere | None = None
    """The days on which that stage was met before, where its sessions lie elsewhere."""
    cleared: bool = False
    """It was said that the injured leg may stand alone in what was set by hand."""
    code: str = ""
    """Whose session it is, of the store of patients; empty: nobody's."""

    @property
    def counts_holds(self) -> bool:
        """Whether the session is over with the last hold: a stage prescribes so many, and nobody told when to stop."""
        return self.unattended and self.prescription is not None and self.seconds is None

    def __post_init__(self) -> None:
        check_practised(self.settings)
        check_range("--seconds", self.seconds, 0.1, LONGEST_S, "s")
        check_sources(self.sources)
        most = 2 if may_be_pair(self.sources) else 1
        if len(self.calibrations) > most:
            files = "one file, that of the scale" if most == 1 else "two files at most, one for each scale"
            raise OptionError(f"--calibration: give {files}")
        if self.sides is not None and most == 1:
            raise OptionError("--sides goes with two separate scales: give --source twice")
        if self.sides is not None and sorted(self.sides) != list(Side):
            raise OptionError("--sides: one scale is under the left foot, the other under the right")
