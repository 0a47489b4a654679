"""The sets of a session as a table in words, with what there is to say of fatigue and of the ceiling."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from weightshare.exercise import Exercise
from weightshare.pipeline.endurance import judge
from weightshare.practice import words
from weightshare.practice.outcome import FELL_PERCENT, FELL_POINTS, NONE, Outcome, rise_share_percent, say_why
from weightshare.practice.prompt import name_of
from weightshare.practice.screen import SetRow
from weightshare.state import Snapshot
from weightshare.task import Goal, Settings

NOTHING_FELL = "Height, share and pace held from the first to the last."


def heads(settings: Settings) -> tuple[str, ...]:
    """Return the heads of the table's columns."""
    return ("set", name_of(settings), *(head for head, _cell in _columns(settings)), "notes")


def row(outcome: Outcome, settings: Settings, goal: Goal, faults_s: Sequence[float] = ()) -> SetRow:
    """Return one set as a row under `heads`."""
    figures = (cell(outcome) for _head, cell in _columns(settings))
    notes = "; ".join(_notes(outcome, settings, goal, faults_s))
    return SetRow((str(outcome.result.number), str(outcome.count), *figures, notes))


def say_fatigue(found: Sequence[Outcome]) -> tuple[str, ...]:
    """Return a line for each set that fell off towards its end; one that says so where none did."""
    said = [(outcome.result.number, _say_fall(outcome)) for outcome in found if outcome.result.fatigue is not None]
    fell = tuple(f"Set {number}: {fall} from the first to the last." for number, fall in said if fall)
    return fell or ((NOTHING_FELL,) if said else ())


def say_ceiling(snapshot: Snapshot, settings: Settings) -> tuple[str, ...]:
    """Return what came of the ceiling, where one is set: how often and how far it was crossed, when it was not read."""
    if settings.ceiling is None:
        return ()
    limit = "the limit" if snapshot.ceiling_N is None else f"the limit of {words.load_kg(snapshot.ceiling_N)}"
    over = [event for event in snapshot.ceiling_events if not event.unread]
    unread_s = sum(event.duration_s or 0.0 for event in snapshot.ceiling_events if event.unread)
    said = [f"Never over {limit}."]
    if over:
        peak_N = max((event.peak_N for event in over if event.peak_N is not None), default=None)
        most = "" if peak_N is None else f", at most {words.load_kg(peak_N)}"
        lasted_s = sum(event.duration_s or 0.0 for event in over)
        said = [f"Over {limit} {len(over)} {'time' if len(over) == 1 else 'times'}{most}, for {lasted_s:.1f} s in all."]
    return (*said, f"For {unread_s:.1f} s the load could not be read.") if unread_s else tuple(said)


def _columns(settings: Settings) -> tuple[tuple[str, Callable[[Outcome], str]], ...]:
    """Return heads and cells of what the exercise is about."""
    exercise = settings.exercise
    down = ("share down", lambda one: _unit(one.result.share_lowering_percent, " %"))
    up = ("share up", lambda one: _unit(rise_share_percent(one), " %"))
    band = ("in the band", lambda one: _unit(one.result.lowering_in_band_percent, " %"))
    time = ("time down", lambda one: _unit(one.lowering_s, " s", digits=1))
    height = ("height", lambda one: _unit(one.result.height_mm, " mm"))
    if exercise in (Exercise.SQUAT, Exercise.SIT_TO_STAND):
        return down, up, band, time
    return (time, height) if exercise is not None and exercise.is_single else (down, band, time, height)


def _notes(outcome: Outcome, settings: Settings, goal: Goal, faults_s: Sequence[float]) -> Iterator[str]:
    supported = sum(bool(one.supported) for one in outcome.repetitions)
    if outcome.result.blind:
        yield "without the screen"
    if supported:
        yield f"{supported} with a hand on the rail"
    if outcome.rejected:
        yield f"not counted: {say_why(outcome.rejected)}"
    if goal.to_exhaustion:
        verdict = judge(
            outcome.repetitions,
            settings.tempo,
            outcome.own_times_s(faults_s),
            outcome.rejected,
            injured_works=outcome.result.working is settings.injured,
        )
        if verdict.reason is not None:
            yield f"{verdict.count} until {verdict.reason}"


def _say_fall(outcome: Outcome) -> str:
    fatigue = outcome.result.fatigue
    if fatigue is None:
        return ""
    falls = (
        ("height fell by", fatigue.height_fall_percent, FELL_PERCENT, "%"),
        ("share going down fell by", fatigue.share_fall_points, FELL_POINTS, "points"),
        ("pace fell by", fatigue.tempo_fall_percent, FELL_PERCENT, "%"),
    )
    return ", ".join(
        f"{words_} {fall:.0f} {unit}" for words_, fall, least, unit in falls if fall is not None and fall >= least
    )


def _unit(figure: float | None, unit: str, digits: int = 0) -> str:
    return NONE if figure is None else f"{figure:.{digits}f}{unit}"
