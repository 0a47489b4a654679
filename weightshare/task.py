"""What is asked of a person, and what it is measured against. Frozen values."""

from __future__ import annotations

from dataclasses import dataclass, replace

from weightshare.errors import OptionError, check_range
from weightshare.exercise import Basis, Ceiling, Exercise, Load, Surface, Tempo
from weightshare.model import STANDARD_GRAVITY, Side

DEFAULT_FILTER_HZ = 6.0
"""The live low-pass's cut-off where none is asked for."""
FULL_RAISE_MM = (30.0, 300.0)
"""The least and the greatest height of a full heel raise."""


STAND_S = (3.0, 120.0)
"""The shortest and the longest warm-up stand."""


@dataclass(frozen=True, slots=True)
class Settings:
    """What is measured against: the injured side and the band.

    Raises OptionError, which names the option, where a value is out of its range.
    """

    injured: Side
    target_percent: float | None = None
    tolerance_percent: float = 5.0
    grace_s: float = 1.0
    filter_Hz: float | None = DEFAULT_FILTER_HZ
    body_weight_N: float | None = None
    added_weight_N: float = 0.0
    counting_from_s: float | None = None
    """Holds count from this sample time on (a session's practice begins after its checks); None: from the start."""
    exercise: Exercise | None = None
    """None: nothing is known of it; the band stands still, and repetitions are looked for as well as can be."""
    surface: Surface = Surface.FLOOR
    basis: Basis | None = None
    """What repetitions rest on; None: the best that is measured."""
    reference_height_mm: float | None = None
    """The stage's height of a full raise; None: that of the raises so far."""
    tempo: Tempo | None = None
    """None: the person's own."""
    working: Side | None = None
    """The leg that works in single-leg work; None: the injured one."""
    one_sided: bool = False
    """The band has no upper edge."""
    ceiling: Ceiling | None = None
    load: Load | None = None
    """Supported work: the load that is asked for on the injured side. Then there is no share: a part is elsewhere."""
    load_tolerance_N: float = 5.0 * STANDARD_GRAVITY
    """How far it may be from that."""
    stand_s: float | None = None
    """How long the warm-up stand is, on both feet before practice; None: as long as weighing takes."""

    def __post_init__(self) -> None:
        check_range("--target", self.target_percent, 0.0, 100.0, "percent")
        check_range("--tolerance", self.tolerance_percent, 0.1, 50.0, "points")
        check_range("--grace", self.grace_s, 0.0, 60.0, "s")
        check_range("--filter", self.filter_Hz, 0.1, 1000.0, "Hz, or none")
        check_range("--body-weight-N", self.body_weight_N, 50.0, 4000.0, "N")
        check_range("--added-weight-N", self.added_weight_N, 0.0, 4000.0, "N")
        check_range("--reference-height-mm", self.reference_height_mm, *FULL_RAISE_MM, "mm")
        check_range("--load-tolerance-kg", self.load_tolerance_N / STANDARD_GRAVITY, 0.1, 200.0, "kg")
        check_range("--stand", self.stand_s, *STAND_S, "s")
        if self.load is not None and self.target_percent is not None:
            raise OptionError("--load goes without --target: where a part is elsewhere, the share tells nothing")

    @property
    def is_supported(self) -> bool:
        """Whether crutches, a frame or a rail carry a part: a load is asked for, and no share is told."""
        return self.load is not None

    @property
    def has_band(self) -> bool:
        """Whether a share or a load is asked for."""
        return self.target_percent is not None or self.load is not None

    @property
    def load_N(self) -> float | None:
        """The load that is asked for, N; None where none is, or body weight is needed for it and not given."""
        return None if self.load is None else self.load.limit_N(self.body_weight_N)

    @property
    def is_repeated(self) -> bool:
        """Whether an exercise was chosen that is made of repetitions rather than of holds."""
        return self.exercise is not None and self.exercise.is_repeated

    @property
    def is_single(self) -> bool:
        """Whether an exercise was chosen in a part of which the working leg stands alone."""
        return self.exercise is not None and self.exercise.is_single

    @property
    def working_side(self) -> Side:
        """The side whose heel is followed: the working leg in single-leg work, else the injured one."""
        return self.working if self.is_single and self.working is not None else self.injured

    def for_leg(self, working: Side | None) -> Settings:
        """Return the settings of a set on the leg `working`: on the other one its own share is what is asked for.

        None, and work on both legs: these settings.
        """
        if working is None or not self.is_single or working is self.working_side:
            return self
        target = None if self.target_percent is None else 100.0 - self.target_percent
        return replace(self, working=working, target_percent=target)

    @property
    def band_percent(self) -> tuple[float, float] | None:
        """The band's edges as a person is told them, percent of the load, cut at 0 and 100; None without a target."""
        if self.target_percent is None:
            return None
        return self.band_about(self.target_percent)

    def band_about(self, aim_percent: float) -> tuple[float, float]:
        """Return the edges of the band about `aim_percent`, percent of the load, cut at 0 and 100."""
        high = 100.0 if self.one_sided else min(100.0, aim_percent + self.tolerance_percent)
        return max(0.0, aim_percent - self.tolerance_percent), high


def check_together(settings: Settings) -> Settings:
    """Return `settings`. Raises OptionError, which names the option, where one does not go with the exercise."""
    exercise, basis = settings.exercise, settings.basis
    if settings.working is not None and not settings.is_single:
        raise OptionError("--working goes with one leg: --stage single-lowering or single-raise")
    if settings.one_sided and settings.working_side is not settings.injured:
        raise OptionError("--one-sided goes with the injured leg: where the other works, it would ask for nothing")
    for option, value in (("--tempo", settings.tempo), ("--basis", basis)):
        if value is not None and exercise is not None and not exercise.is_repeated:
            raise OptionError(f"{option} goes with a stage of repetitions: {exercise} is none")
    if settings.surface is Surface.STEP and exercise is not None and not exercise.lifts_heels:
        raise OptionError(f"--surface step goes with a stage that lifts the heels: {exercise} does not")
    if basis not in (None, Basis.FORCE) and exercise in (Exercise.SQUAT, Exercise.SIT_TO_STAND):
        raise OptionError(f"--basis {basis}: repetitions of {exercise} rest on force")
    if settings.is_supported:
        _check_supported(settings)
    if basis is Basis.FORCE and settings.surface is Surface.STEP:
        raise OptionError("--basis force: on a step the load is on the forefoot all the time; take height or paced")
    if basis is Basis.PACED and (settings.tempo is None or exercise is None):
        raise OptionError("--basis paced needs --stage and --tempo: the metronome's phases are what counts")
    return settings


def _check_supported(settings: Settings) -> None:
    if settings.exercise not in (None, Exercise.HOLD, Exercise.HEEL_HOLD):
        raise OptionError(
            f"--load goes with hold and heel-hold: what {settings.exercise} measures needs all of the weight"
        )
    needs_weight = [
        f"{option} {load}"
        for option, load in (("--load", settings.load), ("--ceiling", settings.ceiling))
        if load is not None and load.percent is not None and settings.body_weight_N is None
    ]
    if needs_weight:
        raise OptionError(f"{needs_weight[0]}: give --body-weight-N too; with support no scale can weigh anybody")
    limit_N = None if settings.ceiling is None else settings.ceiling.limit_N(settings.body_weight_N)
    if limit_N is not None and settings.load_N is not None and settings.load_N > limit_N:
        raise OptionError(f"--load {settings.load} is over --ceiling {settings.ceiling}; change one of them")


@dataclass(frozen=True, slots=True)
class Goal:
    """What is asked of the patient: `holds` holds of `hold_s` seconds each, or `sets` sets of `repetitions` each."""

    hold_s: float = 30.0
    holds: int = 3
    sets: int = 3
    repetitions: int = 10
    rest_s: float = 60.0
    """From the end of one set to the next."""
    blind_sets: tuple[int, ...] = ()
    """Numbers of the sets that are done without corridor, figures and sound."""
    to_exhaustion: bool = False
    """A set goes on until a stopping rule is met: how many can be done."""

    def __post_init__(self) -> None:
        check_range("--hold-goal", self.hold_s, 1.0, 3600.0, "s")
        check_range("--holds", self.holds, 1, 100, "holds")
        check_range("--sets", self.sets, 1, 20, "sets")
        check_range("--repetitions", self.repetitions, 1, 100, "repetitions")
        check_range("--rest", self.rest_s, 0.0, 1800.0, "s")
