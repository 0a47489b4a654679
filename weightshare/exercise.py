"""What is done on the plates, and what came of it: exercises, tempo, ceiling, repetitions. Frozen values."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar, TypeVar

from weightshare.errors import OptionError, check_range
from weightshare.model import STANDARD_GRAVITY, Side

_Load = TypeVar("_Load", bound="Load")


class Exercise(StrEnum):
    """What is done, by the names that the command line takes."""

    HOLD = "hold"
    """Stand, bring the share to the target, hold it."""
    HEEL_HOLD = "heel-hold"
    """The same with both heels up: time counts only while they are."""
    RAISE = "raise"
    """Heel raises on two legs, the same share on the way up and on the way down."""
    LOWERING = "lowering"
    """Up on two legs evenly, down with the target's share on the injured side."""
    SINGLE_LOWERING = "single-lowering"
    """Up on two legs evenly, down on the working leg alone."""
    SINGLE_RAISE = "single-raise"
    """Up and down on the working leg alone."""
    SQUAT = "squat"
    SIT_TO_STAND = "sit-to-stand"

    @property
    def is_repeated(self) -> bool:
        """Whether it is made of repetitions rather than of holds."""
        return self not in (Exercise.HOLD, Exercise.HEEL_HOLD)

    @property
    def lifts_heels(self) -> bool:
        """Whether the heels go up in it."""
        return self not in (Exercise.HOLD, Exercise.SQUAT, Exercise.SIT_TO_STAND)

    @property
    def is_single(self) -> bool:
        """Whether the working leg stands alone in a part of it."""
        return self in (Exercise.SINGLE_LOWERING, Exercise.SINGLE_RAISE)

    @property
    def turns(self) -> bool:
        """Whether the share that is asked for turns from even to the target at the top."""
        return self in (Exercise.LOWERING, Exercise.SINGLE_LOWERING)


class Surface(StrEnum):
    """What the heel is over: on a step it goes below the level of standing."""

    FLOOR = "floor"
    STEP = "step"


class Basis(StrEnum):
    """What a repetition and its phases rest on."""

    HEIGHT = "height"
    """The heel's height."""
    FORCE = "force"
    """The front share of the load and the total force; no height is certified."""
    PACED = "paced"
    """The metronome's phases."""


class Phase(StrEnum):
    """Where in a repetition the newest sample is; provisional until the repetition is given out."""

    BOTTOM = "bottom"
    RISE = "rise"
    TOP = "top"
    LOWERING = "lowering"


PHASES = tuple(Phase)
"""Phases by their number: per sample they are passed on as small integers, 0 for the bottom."""


@dataclass(frozen=True, slots=True)
class Tempo:
    """How long each phase of a repetition is asked to take, s; `pause_s` is spent at the bottom."""

    rise_s: float = 1.0
    top_s: float = 1.0
    lowering_s: float = 2.0
    pause_s: float = 1.0

    def __post_init__(self) -> None:
        check_range("--tempo", self.rise_s, 0.3, 20.0, "s for the rise")
        check_range("--tempo", self.top_s, 0.0, 60.0, "s at the top")
        check_range("--tempo", self.lowering_s, 0.3, 20.0, "s for the lowering")
        check_range("--tempo", self.pause_s, 0.0, 20.0, "s at the bottom")

    @property
    def cycle_s(self) -> float:
        """How long one repetition takes with its pause, s."""
        return self.rise_s + self.top_s + self.lowering_s + self.pause_s

    def __str__(self) -> str:
        return f"{self.rise_s:g}-{self.top_s:g}-{self.lowering_s:g}-{self.pause_s:g}"


def parse_tempo(words: str) -> Tempo:
    """Return the tempo that `RISE-TOP-LOWERING[-PAUSE]` says, in seconds. Raises OptionError."""
    parts = words.split("-")
    try:
        numbers = [float(part) for part in parts]
    except ValueError:
        numbers = []
    if len(numbers) not in (3, 4):
        raise OptionError(f"--tempo {words}: give seconds up, at the top, down (and at the bottom), as in 1-1-3-1")
    return Tempo(*numbers)


@dataclass(frozen=True, slots=True)
class Load:
    """A load on the injured side: `kg` kilograms, or `percent` of body weight. Exactly one is given."""

    kg: float | None = None
    percent: float | None = None

    _OPTION: ClassVar[str] = "--load"

    def __post_init__(self) -> None:
        if (self.kg is None) == (self.percent is None):
            raise OptionError(f"{self._OPTION}: {_GIVE_LOAD}")
        check_range(self._OPTION, self.kg, 1.0, 400.0, "kg")
        check_range(self._OPTION, self.percent, 1.0, 400.0, "percent of body weight")

    def limit_N(self, body_weight_N: float | None) -> float | None:
        """Return the load, N; None where it hangs on a body weight that is not known."""
        if self.kg is not None:
            return self.kg * STANDARD_GRAVITY
        return None if body_weight_N is None or self.percent is None else self.percent / 100.0 * body_weight_N

    def __str__(self) -> str:
        return f"{self.kg:g}kg" if self.kg is not None else f"{self.percent:g}%"


@dataclass(frozen=True, slots=True)
class Ceiling(Load):
    """A limit of load on the injured side.

    In kg it holds from the first calibrated sample on; in percent once body weight is known.
    """

    _OPTION: ClassVar[str] = "--ceiling"


_GIVE_LOAD = "give kilograms, as in 20kg, or percent of body weight, as in 25%"


def parse_load(words: str) -> Load:
    """Return the load that `20kg` or `25%` says. Raises OptionError."""
    return _parse_load(words, Load)


def parse_ceiling(words: str) -> Ceiling:
    """Return the ceiling that `20kg` or `25%` says. Raises OptionError."""
    return _parse_load(words, Ceiling)


def _parse_load(words: str, kind: type[_Load]) -> _Load:
    for unit, key in (("kg", "kg"), ("%", "percent")):
        if words.endswith(unit):
            try:
                return kind(**{key: float(words.removesuffix(unit))})
            except ValueError:
                break
    raise OptionError(f"{kind._OPTION} {words}: {_GIVE_LOAD}")


@dataclass(frozen=True, slots=True)
class Repetition:
    """One repetition that counts. Times in s (the filter's delay taken off); a figure that cannot be had is None.

    Shares are impulse shares of the injured side, percent. `share_lowering_thirds_percent` goes from the upper third of
    the way down to the lower one. In a squat the lowering comes first: `lowering_s` is `start_s`, and `top_s` is where
    the rise ends.
    """

    basis: Basis
    start_s: float | None
    top_s: float | None
    lowering_s: float | None
    end_s: float | None
    rise_duration_s: float | None = None
    top_duration_s: float | None = None
    lowering_duration_s: float | None = None
    share_rise_percent: float | None = None
    share_top_percent: float | None = None
    share_lowering_percent: float | None = None
    share_lowering_thirds_percent: tuple[float | None, float | None, float | None] | None = None
    lowering_in_band_percent: float | None = None
    lowering_least_N: float | None = None
    """The least load on the injured side in the lowering."""
    height_injured_mm: float | None = None
    height_uninjured_mm: float | None = None
    load_travel_injured_J: float | None = None
    """Mean force in the rise x the heel's height: load x heel travel, no joint work."""
    load_travel_uninjured_J: float | None = None
    top_height_sd_mm: float | None = None
    """Unsteadiness at the top: standard deviation of the working heel's height about a smooth course through it."""
    top_share_sd_points: float | None = None
    supported: bool | None = None
    """Under 95 % on the plates at some time in it; None where body weight was not known."""
    incomplete_return: bool = False
    """The heel came down below half of the height and went up again before it was down."""


@dataclass(frozen=True, slots=True)
class Rejected:
    """A lift that was not counted, and why: `reason` is one of the REASONS."""

    start_s: float
    end_s: float
    reason: str


LOW = "low"
SHORT = "short"
FOOT_LEFT = "a foot left the plates"
HALF_WAY = "a half-way pause and return"
TOO_LITTLE_LOAD = "too little on the plates"
UNREAD = "readings were missing"
CUT_OFF = "cut off at the end"
LEAN = "a forward lean"
STRUCK = "struck by the clinician"
"""It was counted, and the clinician took it back."""
REASONS = (LOW, SHORT, FOOT_LEFT, HALF_WAY, TOO_LITTLE_LOAD, UNREAD, CUT_OFF, LEAN, STRUCK)


@dataclass(frozen=True, slots=True)
class SetSpan:
    """A set of repetitions (or holds): sample times from which, and up to which, what is begun belongs to it.

    `working` is the leg that works in single-leg work. `paced_from_s` is the metronome's first beat.
    """

    number: int
    from_s: float
    to_s: float | None = None
    """None while it is under way."""
    working: Side | None = None
    blind: bool = False
    """Done without corridor, figures and sound."""
    paced_from_s: float | None = None


@dataclass(frozen=True, slots=True)
class CeilingEvent:
    """One crossing of the ceiling: when, for how long (s), and the greatest load in it (N). `unread`: no crossing was
    seen, but the load could not be read while the ceiling was armed."""

    start_s: float
    end_s: float | None
    """None while it lasts."""
    peak_N: float | None
    unread: bool = False

    @property
    def duration_s(self) -> float | None:
        """How long it lasted, s."""
        return None if self.end_s is None else self.end_s - self.start_s
