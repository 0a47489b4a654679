"""What came of a set, for the person who did it: three figures that matter, and what else there is to say, plainly."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import inf
from statistics import fmean

from weightshare.exercise import Basis, Exercise, Rejected, Repetition, SetSpan
from weightshare.pipeline.sets import SetResult, sum_up
from weightshare.practice.heel import repetition_height_mm
from weightshare.practice.prompt import WHY, name_of
from weightshare.practice.screen import Figure
from weightshare.state import Snapshot
from weightshare.task import Goal, Settings

NONE = "\u2013"
"""In place of a figure that cannot be had."""
MOST_LINES = 4
LOWER_PART = 0.9
"""Under this part of the mean of the set's first raises one is called lower than before."""
FIRST_FEW = 3
FELL_PERCENT, FELL_POINTS = 10.0, 5.0
"""From here on a fall within a set is told: less is within what a person varies by (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """One set: its figures, its repetitions in order, and what was not counted in it."""

    result: SetResult
    repetitions: tuple[Repetition, ...]
    rejected: tuple[Rejected, ...]

    @property
    def count(self) -> int:
        """How many repetitions counted."""
        return len(self.repetitions)

    @property
    def lowering_s(self) -> float | None:
        """The mean time of the way down, s; a metronome's phases are no measure of it."""
        paced = any(one.basis is Basis.PACED for one in self.repetitions)
        return None if paced else self.result.lowering_duration_s

    def own_times_s(self, times_s: Iterable[float]) -> tuple[float, ...]:
        """Return those sample times (s) that lie within the set."""
        result = self.result
        return tuple(at for at in times_s if result.from_s <= at < (inf if result.to_s is None else result.to_s))


def outcomes(snapshot: Snapshot, spans: Sequence[SetSpan], settings: Settings) -> tuple[Outcome, ...]:
    """Return what came of each set, by the same table as the analysis of the session."""
    return tuple(
        Outcome(
            result,
            tuple(snapshot.repetitions[place] for place in result.repetitions),
            tuple(one for one in snapshot.rejected if result.from_s <= one.start_s < (result.to_s or inf)),
        )
        for result in sum_up(snapshot.repetitions, spans, settings)
    )


def main_figures(outcome: Outcome, settings: Settings, goal: Goal) -> tuple[Figure, Figure, Figure]:
    """Return the three figures of a set that matter in this exercise."""
    exercise, result = settings.exercise, outcome.result
    down = _share(f"on the {settings.injured} foot, going down", result.share_lowering_percent, settings)
    time = _lowering_time(outcome, settings)
    if exercise is not None and exercise.is_single:
        asked = "" if goal.to_exhaustion else f"of {goal.repetitions}"
        return Figure(name_of(settings), str(outcome.count), "", asked), time, _height(outcome)
    if exercise in (Exercise.SQUAT, Exercise.SIT_TO_STAND):
        up = _share(f"on the {settings.injured} foot, going up", rise_share_percent(outcome), settings)
        return down, up, time
    return down, time, _height(outcome)


def lines(outcome: Outcome, settings: Settings, goal: Goal) -> tuple[str, ...]:
    """Return what else there is to say of a set, what matters most first."""
    said = [
        _say_count(outcome, settings, goal),
        _say_supported(outcome),
        _say_lower(outcome, settings),
        _say_rejected(outcome),
        _say_fallen_share(outcome),
        _say_incomplete(outcome),
        _say_basis(outcome),
    ]
    return tuple(line for line in said if line)[:MOST_LINES]


def kept_percent(outcome: Outcome) -> float | None:
    """Return the height of the set's last raises in percent of its first ones; None where that is not known."""
    fatigue = outcome.result.fatigue
    return None if fatigue is None or fatigue.height_fall_percent is None else 100.0 - fatigue.height_fall_percent


def rise_share_percent(outcome: Outcome) -> float | None:
    """Return the injured side's mean share on the way up; None where it is known of no repetition."""
    known = [one.share_rise_percent for one in outcome.repetitions if one.share_rise_percent is not None]
    return fmean(known) if known else None


def find_lower(outcome: Outcome, settings: Settings) -> int | None:
    """Return from which repetition on, counted from 1, all were lower than the first ones; None where none were."""
    heights = [repetition_height_mm(one, settings) for one in outcome.repetitions]
    known = [height for height in heights if height is not None]
    if len(known) != len(heights) or len(known) <= FIRST_FEW:
        return None
    least = LOWER_PART * fmean(known[:FIRST_FEW])
    above = [place for place, height in enumerate(known) if height >= least]
    first = above[-1] + 1 if above else 0
    return first + 1 if FIRST_FEW <= first < len(known) else None


def say_why(rejected: Iterable[Rejected]) -> str:
    """Return why lifts were not counted, as `2 the heels were too low, 1 a foot left the plates`."""
    counted = Counter(one.reason for one in rejected).most_common()
    return ", ".join(f"{count} {WHY.get(reason, reason)}" for reason, count in counted)


def ordinal(number: int) -> str:
    """Return `number` as 1st, 2nd, 3rd, 4th."""
    ending = "th" if 10 <= number % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}"


def _share(label: str, percent: float | None, settings: Settings) -> Figure:
    aim = "" if settings.target_percent is None else f"aim {settings.target_percent:g}"
    return Figure(label, _whole(percent), "" if percent is None else "%", aim)


def _lowering_time(outcome: Outcome, settings: Settings) -> Figure:
    lowering_s = outcome.lowering_s
    asked = "" if settings.tempo is None else f"asked {settings.tempo.lowering_s:g}"
    if lowering_s is None:
        return Figure("time going down", NONE, "", asked)
    return Figure("time going down", f"{lowering_s:.1f}", "s", asked)


def _height(outcome: Outcome) -> Figure:
    """Return the height that was kept, else the mean height; where none was measured, the time in the band."""
    kept, result = kept_percent(outcome), outcome.result
    if kept is not None and result.fatigue is not None:
        each = result.fatigue.repetitions_each
        return Figure("height kept", _whole(kept), "%", f"last {each} to first {each}")
    if result.height_mm is not None:
        return Figure("height of the heel", _whole(result.height_mm), "mm")
    percent = result.lowering_in_band_percent
    return Figure("in the corridor, going down", _whole(percent), "" if percent is None else "%")


def _say_count(outcome: Outcome, settings: Settings, goal: Goal) -> str:
    if goal.to_exhaustion:
        return f"{outcome.count} {name_of(settings, outcome.count)}"
    if outcome.count < goal.repetitions:
        return f"{outcome.count} of {goal.repetitions} {name_of(settings, goal.repetitions)}"
    return ""


def _say_supported(outcome: Outcome) -> str:
    supported = sum(bool(one.supported) for one in outcome.repetitions)
    if not supported:
        return ""
    return f"{supported} of {outcome.count} {'was' if supported == 1 else 'were'} with a hand on the rail"


def _say_lower(outcome: Outcome, settings: Settings) -> str:
    number = find_lower(outcome, settings)
    return "" if number is None else f"from the {ordinal(number)} on lower than before"


def _say_rejected(outcome: Outcome) -> str:
    return f"not counted: {say_why(outcome.rejected)}" if outcome.rejected else ""


def _say_fallen_share(outcome: Outcome) -> str:
    fatigue = outcome.result.fatigue
    if fatigue is None or fatigue.share_fall_points is None or fatigue.share_fall_points < FELL_POINTS:
        return ""
    return f"the weight going down fell by {fatigue.share_fall_points:.0f} points"


def _say_incomplete(outcome: Outcome) -> str:
    count = sum(one.incomplete_return for one in outcome.repetitions)
    return f"{count} rose again before the heel was down" if count else ""


def _say_basis(outcome: Outcome) -> str:
    bases = {one.basis for one in outcome.repetitions}
    if Basis.PACED in bases:
        return "by the metronome: times and height were not measured"
    return "height was not measured" if Basis.FORCE in bases else ""


def _whole(figure: float | None) -> str:
    return NONE if figure is None else f"{figure:.0f}"
