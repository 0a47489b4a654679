"""What the movement asks of the load: the phase, the aim that follows it, and whether the heels are up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from weightshare.exercise import PHASES, Basis, Exercise, Phase, Rejected, Repetition, SetSpan, Surface
from weightshare.model import HEIGHT_COLUMNS, PART_COLUMNS, Bools, Floats
from weightshare.pipeline.aim import Aim
from weightshare.pipeline.height import FIRST_REFERENCE_MM, HeightCounter
from weightshare.pipeline.motion import BOTTOM, LOWERING, TOP, UNKNOWN, Counter, Ground, Motion, PhaseNumbers
from weightshare.pipeline.paced import PacedCounter
from weightshare.task import Settings

HEELS_UP_PART = 0.5
_LACKING: dict[Basis | None, str] = {
    None: "neither heel heights nor front and rear supports were measured",
    Basis.HEIGHT: "the heel's height was not measured",
    Basis.FORCE: "front and rear supports were not measured",
    Basis.PACED: "there was no tempo",
}
_ON_A_STEP = "on a step the load is on the forefoot all the time, so that heel heights or a metronome have to tell"


def choose_basis(settings: Settings, columns: tuple[str, ...]) -> Basis | None:
    """Return what repetitions can rest on, with what is measured; None where there are none to look for."""
    exercise = settings.exercise
    if exercise is not None and not exercise.is_repeated:
        return None
    if exercise in (Exercise.SQUAT, Exercise.SIT_TO_STAND):
        return Basis.FORCE
    has = {
        Basis.HEIGHT: HEIGHT_COLUMNS[("left", "right").index(settings.working_side)] in columns,
        # on a step the load is on the forefoot all the time
        Basis.FORCE: set(PART_COLUMNS) <= set(columns) and settings.surface is Surface.FLOOR,
        Basis.PACED: exercise is not None and settings.tempo is not None,
    }
    wanted = list(has) if settings.basis is None else [settings.basis]
    return next((basis for basis in wanted if has[basis]), None)


def make_counter(ground: Ground, basis: Basis | None) -> Counter | None:
    """Return what finds the repetitions of this exercise on this basis. Loads no more than is needed."""
    if basis is Basis.HEIGHT:
        return HeightCounter(ground)
    if basis is Basis.PACED:
        return PacedCounter(ground)
    return None if basis is None else _make_force_counter(ground)


def _make_force_counter(ground: Ground) -> Counter:
    if ground.settings.exercise is Exercise.SQUAT:
        from weightshare.pipeline.squat import SquatCounter

        return SquatCounter(ground)
    if ground.settings.exercise is Exercise.SIT_TO_STAND:
        from weightshare.pipeline.seat import SitStandCounter

        return SitStandCounter(ground)
    from weightshare.pipeline.force import ForceCounter

    return ForceCounter(ground)


@dataclass(frozen=True, slots=True, eq=False)
class Asked:
    """What is asked of each sample, shape (n,) each: phases as in PHASES, the aim in percent, whether it may count."""

    phases: PhaseNumbers
    aim_percent: Floats
    may_count: Bools
    on_one_leg: Bools
    """The working leg is to stand alone."""


class Movement:
    """Follows the movement of one exercise. Samples before `counting_from_s` are as if they had not been read."""

    def __init__(self, ground: Ground, columns: tuple[str, ...]) -> None:
        settings = ground.settings
        self._ground = ground
        self.basis = choose_basis(settings, columns)
        self._counter = make_counter(ground, self.basis)
        self._aim = Aim(settings)
        self._aim_percent = self._aim.percent
        self._mirrors: list[tuple[float, bool]] = []
        """From when on the aim is the other leg's, or is not."""
        self._rows = [row for row, name in enumerate(HEIGHT_COLUMNS) if name in columns]
        self._level_mm = np.full(2, np.inf)
        self._phase = BOTTOM if self._counter else UNKNOWN
        self.heels_seen = bool(self._rows)

    @property
    def repetitions(self) -> tuple[Repetition, ...]:
        """Those given out so far."""
        return tuple(self._counter.repetitions) if self._counter else ()

    @property
    def rejected(self) -> tuple[Rejected, ...]:
        """What was not counted so far."""
        return tuple(self._counter.rejected) if self._counter else ()

    @property
    def warnings(self) -> Sequence[str]:
        """Why figures of repetitions are not known."""
        exercise = self._ground.settings.exercise
        if self._counter is None and exercise is not None and exercise.is_repeated:
            settings = self._ground.settings
            on_step = settings.surface is Surface.STEP and settings.basis in (None, Basis.FORCE)
            return [f"repetitions are not known: {_ON_A_STEP if on_step else _LACKING[settings.basis]}"]
        return self._counter.warnings if self._counter else []

    @property
    def repeats(self) -> bool:
        """Whether an exercise was chosen that is made of repetitions, and they can be told."""
        exercise = self._ground.settings.exercise
        return self._counter is not None and exercise is not None and exercise.is_repeated

    @property
    def phase(self) -> Phase | None:
        """The newest sample's phase; None where it cannot be told."""
        return None if self._phase == UNKNOWN else PHASES[self._phase]

    @property
    def phase_since_s(self) -> float | None:
        """Since when it lasts, the filter's delay taken off."""
        known = self._phase != UNKNOWN and np.isfinite(self._aim.since_s)
        return self._aim.since_s - self._ground.delay_s if known else None

    @property
    def aim_percent(self) -> float | None:
        """The middle of the band at the newest sample; None without a target."""
        return None if np.isnan(self._aim_percent) else self._aim_percent

    def begin_set(self, span: SetSpan) -> None:
        """Note that a set begins. Where the other leg works than the settings say, its share is what is asked for."""
        if span.working is not None:
            self._mirrors.append((span.from_s, span.working is not self._ground.settings.working_side))
        if self._counter:
            self._counter.begin_set(span)

    def end_set(self, to_s: float) -> None:
        """Note that the newest set ends."""
        if isinstance(self._counter, PacedCounter):
            self._counter.end_set(to_s)

    def push(self, motion: Motion) -> Asked:
        """Take in samples, at least one; return what is asked of each."""
        from_s = self._ground.settings.counting_from_s
        start = 0 if from_s is None else int(motion.time_s.searchsorted(from_s))
        if not start:
            return self._follow(motion)
        phases = np.full(start, BOTTOM if self._counter else UNKNOWN, dtype=np.int8)
        none = np.zeros(start, dtype=np.bool_)
        early = Asked(phases, np.full(start, self._aim.percent), none, self._find_single(phases))
        if start == motion.time_s.size:
            return early
        late = self._follow(motion.cut(start))
        names = Asked.__slots__
        return Asked(*(np.concatenate((getattr(early, name), getattr(late, name))) for name in names))

    def finish(self) -> None:
        """The stream ends here."""
        if self._counter:
            self._counter.finish()

    def _follow(self, motion: Motion) -> Asked:
        phases = self._counter.push(motion) if self._counter else np.full(motion.time_s.size, UNKNOWN, dtype=np.int8)
        aim = self._mirror(motion.time_s, self._aim.push(motion.time_s, phases))
        self._aim_percent = float(aim[-1])
        self._phase = int(phases[-1])
        exercise, may_count = self._ground.settings.exercise, np.ones(motion.time_s.size, dtype=np.bool_)
        if exercise is Exercise.HEEL_HOLD and self._rows:
            may_count = self._find_heels(motion)
        elif exercise is not None and exercise.is_repeated:
            may_count = phases != BOTTOM
        return Asked(phases, aim, may_count, self._find_single(phases))

    def _mirror(self, time_s: Floats, aim_percent: Floats) -> Floats:
        exercise = self._ground.settings.exercise
        if exercise is None or not exercise.is_single:
            return aim_percent
        aim_percent = aim_percent.copy()
        begins = [int(time_s.searchsorted(from_s)) for from_s, _ in self._mirrors]
        for (_, mirrored), begin, end in zip(self._mirrors, begins, [*begins, time_s.size][1:], strict=True):
            if mirrored:
                aim_percent[begin:end] = 100.0 - aim_percent[begin:end]
        return aim_percent

    def _find_single(self, phases: PhaseNumbers) -> Bools:
        """Return where the working leg is to stand alone, shape (n,)."""
        exercise = self._ground.settings.exercise
        if exercise is Exercise.SINGLE_LOWERING:
            return np.isin(phases, (TOP, LOWERING))
        return np.full(phases.size, exercise is Exercise.SINGLE_RAISE)

    def _find_heels(self, motion: Motion) -> Bools:
        """Return whether the heels that are seen are over half of a full raise."""
        if motion.heights_mm is None or not self._rows:
            return np.zeros(motion.time_s.size, dtype=np.bool_)
        reference_mm = self._ground.settings.reference_height_mm or FIRST_REFERENCE_MM
        up = np.ones(motion.time_s.size, dtype=np.bool_)
        for row in self._rows:
            height = motion.heights_mm[row]
            up &= height - self._level(row, height, motion.present) > HEELS_UP_PART * reference_mm
        return up

    def _level(self, row: int, height: Floats, present: Bools) -> Floats:
        """Return the level of standing: the lowest height so far on a floor, the plate's own level on a step."""
        if self._ground.settings.surface is Surface.STEP:
            return np.zeros(height.shape)
        seen = np.where(present & ~np.isnan(height), height, np.inf)
        lowest = np.minimum.accumulate(np.concatenate((self._level_mm[row : row + 1], seen)))[1:]
        self._level_mm[row] = lowest[-1]
        return lowest
