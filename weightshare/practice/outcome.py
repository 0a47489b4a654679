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
from weightshare.practice.prompt import name_of, why
from weightshare.practice.screen import Figure
from weightshare.practice.words import is_inside, whole_percent
from weightshare.state import Snapshot
from weightshare.task import Goal, Settings
from weightshare.tongue import mark, number, plural, say

NONE = "\u2013"
"""In place of a figure that cannot be had."""
MOST_LINES = 4
LOWER_PART = 0.9
"""Under this part of the mean of the set's first raises one is called lower than before."""
FIRST_FEW = 3
HALF_PERCENT = 50.0
"""Who was in the corridor for less than this part of the way down was beside it."""
FELL_PERCENT, FELL_POINTS = 10.0, 5.0
"""From here on a change within a set is told: less is within what a person varies by (common practice, no source)."""


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
    exercise = settings.exercise
    if exercise is not None and exercise.is_single:
        asked = "" if goal.to_exhaustion else say("of {repetitions}", repetitions=goal.repetitions)
        count = Figure(name_of(settings), str(outcome.count), "", asked)
        return count, _lowering_time(outcome), _height(outcome) or _corridor(outcome, settings)
    if exercise in (Exercise.SQUAT, Exercise.SIT_TO_STAND):
        up = _share(
            say("on the {injured} foot, going up", injured=settings.injured), rise_share_percent(outcome), settings
        )
        return _corridor(outcome, settings), up, _lowering_time(outcome)
    height = _height(outcome) or Figure(say("height of the heel"), NONE, "", say("not measured"))
    return _corridor(outcome, settings), _lowering_time(outcome), height


def lines(outcome: Outcome, settings: Settings, goal: Goal) -> tuple[str, ...]:
    """Return what else there is to say of a set, what matters most first."""
    said = [
        _say_count(outcome, settings, goal),
        say_thirds(outcome, settings),
        _say_supported(outcome),
        _say_lower(outcome, settings),
        _say_rejected(outcome, settings),
        _say_change(outcome),
        _say_incomplete(outcome),
        _say_basis(outcome),
    ]
    return tuple(line for line in said if line)[:MOST_LINES]


def thirds_percent(outcome: Outcome) -> tuple[float, float, float] | None:
    """Return the injured side's mean share in the upper, middle and lower third of the way down, percent.

    Only of repetitions of which all three are known; None where there is none.
    """
    each = [one.share_lowering_thirds_percent for one in outcome.repetitions]
    known = [thirds for thirds in each if thirds is not None and None not in thirds]
    if not known:
        return None
    upper, middle, lower = (fmean(third for third in part if third is not None) for part in zip(*known, strict=True))
    return upper, middle, lower


def say_thirds(outcome: Outcome, settings: Settings) -> str:
    """Return the share by thirds of the way down where they stray: a mean of 75 made of 91 and 60 is not 75.

    They stray where one of them lies outside the band, or under half of the way down was in it.
    """
    thirds, own = thirds_percent(outcome), settings.for_leg(outcome.result.working)
    if thirds is None or own.target_percent is None:
        return ""
    part = outcome.result.lowering_in_band_percent
    if all(is_inside(third, own) for third in thirds) and (part is None or part >= HALF_PERCENT):
        return ""
    upper, middle, lower = (whole_percent(third, own) for third in thirds)
    return say(
        "Going down: {upper} % in the upper part, {middle} % in the middle, {lower} % in the lower part.",
        upper=upper,
        middle=middle,
        lower=lower,
    )


def say_change(outcome: Outcome) -> str:
    """Return how far height, share and tempo changed from the set's first repetitions to its last; empty: nowhere."""
    fatigue = outcome.result.fatigue
    if fatigue is None:
        return ""
    changes = (
        (
            fatigue.height_fall_percent,
            FELL_PERCENT,
            mark("height {fall:.0f} % lower"),
            mark("height {fall:.0f} % higher"),
        ),
        (
            fatigue.share_fall_points,
            FELL_POINTS,
            mark("share going down {fall:.0f} points lower"),
            mark("share going down {fall:.0f} points higher"),
        ),
        (fatigue.tempo_fall_percent, FELL_PERCENT, mark("{fall:.0f} % slower"), mark("{fall:.0f} % quicker")),
    )
    return ", ".join(
        say(less if fall > 0 else more, fall=abs(fall))
        for fall, least, less, more in changes
        if fall is not None and abs(fall) >= least
    )


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


def say_rejected(rejected: Iterable[Rejected], settings: Settings) -> str:
    """Return why lifts were not counted, as `2 not counted: the heels were too low, 1 not counted: too short`."""
    counted = Counter(one.reason for one in rejected).most_common()
    return ", ".join(
        say("{count} not counted: {why}", count=count, why=why(reason, settings)) for reason, count in counted
    )


def _share(label: str, percent: float | None, settings: Settings) -> Figure:
    return Figure(label, _whole(percent), "" if percent is None else "%", _aim(settings))


def _corridor(outcome: Outcome, settings: Settings) -> Figure:
    """Return the part of the way down in the corridor, the mean beside it; where that is not known, the mean alone."""
    result, label = outcome.result, say("on the {injured} foot, going down", injured=settings.injured)
    mean, part = result.share_lowering_percent, result.lowering_in_band_percent
    if part is None:
        return _share(label, mean, settings)
    beside = _join("" if mean is None else say("mean {mean:.0f} %", mean=mean), _aim(settings))
    return Figure(say("in the corridor, going down"), _whole(part), "%", beside)


def _lowering_time(outcome: Outcome) -> Figure:
    """Return how long going down took. Nothing asked stands beside it: a phase is measured from 90 to 10 % of the way,
    a metronome's lasts from standstill to standstill."""
    lowering_s = outcome.lowering_s
    if lowering_s is None:
        return Figure(say("time going down"), NONE)
    return Figure(say("time going down"), number(lowering_s, ".1f"), "s")


def _height(outcome: Outcome) -> Figure | None:
    """Return the height that was kept, else the mean height; None where none was measured."""
    kept, result = kept_percent(outcome), outcome.result
    if kept is not None and result.fatigue is not None:
        each = result.fatigue.repetitions_each
        return Figure(say("height kept"), _whole(kept), "%", say("last {each} to first {each}", each=each))
    return None if result.height_mm is None else Figure(say("height of the heel"), _whole(result.height_mm), "mm")


def _say_count(outcome: Outcome, settings: Settings, goal: Goal) -> str:
    if goal.to_exhaustion:
        return say("{count} {raises} counted.", count=outcome.count, raises=name_of(settings, outcome.count))
    if outcome.count < goal.repetitions:
        return say(
            "{count} of {asked} {raises} counted.",
            count=outcome.count,
            asked=goal.repetitions,
            raises=name_of(settings, goal.repetitions),
        )
    return ""


def _say_supported(outcome: Outcome) -> str:
    supported = sum(bool(one.supported) for one in outcome.repetitions)
    if not supported:
        return ""
    return plural(
        "{n} of {count} was with a hand on the rail.",
        "{n} of {count} were with a hand on the rail.",
        supported,
        count=outcome.count,
    )


def _say_lower(outcome: Outcome, settings: Settings) -> str:
    first = find_lower(outcome, settings)
    if first is None:
        return ""
    last = outcome.count
    if first == last:
        return say("{raised:C} {last} was lower than the first ones.", raised=name_of(settings, 1), last=last)
    several = (
        mark("{raises:C} {first} and {last} were lower than the first ones.")
        if last == first + 1
        else mark("{raises:C} {first} to {last} were lower than the first ones.")
    )
    return say(several, raises=name_of(settings), first=first, last=last)


def _say_rejected(outcome: Outcome, settings: Settings) -> str:
    return f"{say_rejected(outcome.rejected, settings)}." if outcome.rejected else ""


def _say_change(outcome: Outcome) -> str:
    said, fatigue = say_change(outcome), outcome.result.fatigue
    if not said or fatigue is None:
        return ""
    each = fatigue.repetitions_each
    return say("The last {each} against the first {each}: {said}.", each=each, said=said)


def _say_incomplete(outcome: Outcome) -> str:
    count = sum(one.incomplete_return for one in outcome.repetitions)
    return say("{count} rose again before the heel was down.", count=count) if count else ""


def _say_basis(outcome: Outcome) -> str:
    bases = {one.basis for one in outcome.repetitions}
    if Basis.PACED in bases:
        return say("Counted by the metronome: whether the heels rose was not measured.")
    return say("Height was not measured.") if Basis.FORCE in bases else ""


def _aim(settings: Settings) -> str:
    return "" if settings.target_percent is None else say("aim {target:g}", target=settings.target_percent)


def _join(*parts: str) -> str:
    return ", ".join(part for part in parts if part)


def _whole(figure: float | None) -> str:
    return NONE if figure is None else f"{figure:.0f}"
