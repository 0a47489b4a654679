"""The sets of a session as a table in words, with what there is to say of fatigue and of the ceiling."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from weightshare.exercise import Exercise
from weightshare.pipeline.endurance import judge
from weightshare.practice import words
from weightshare.practice.outcome import (
    NONE,
    Outcome,
    rise_share_percent,
    say_change,
    say_rejected,
    thirds_percent,
)
from weightshare.practice.prompt import name_of
from weightshare.practice.screen import SetRow
from weightshare.state import Snapshot
from weightshare.task import Goal, Settings
from weightshare.tongue import number, say


def heads(settings: Settings) -> tuple[str, ...]:
    """Return the heads of the table's columns."""
    return (say("set"), name_of(settings), *(head for head, _cell in _columns(settings)), say("notes"))


def row(outcome: Outcome, settings: Settings, goal: Goal, faults_s: Sequence[float] = ()) -> SetRow:
    """Return one set as a row under `heads`."""
    figures = (cell(outcome) for _head, cell in _columns(settings))
    notes = "; ".join(_notes(outcome, settings, goal, faults_s))
    notes = notes[:1].upper() + notes[1:]
    return SetRow((str(outcome.result.number), str(outcome.count), *figures, notes))


def say_fatigue(found: Sequence[Outcome]) -> tuple[str, ...]:
    """Return a line for each set that was done otherwise towards its end; one that says so where none was."""
    said = [(outcome, say_change(outcome)) for outcome in found if outcome.result.fatigue is not None]
    changed = tuple(_say_change(outcome, words_) for outcome, words_ in said if words_)
    return changed or tuple(_say_held([outcome for outcome, _words in said]))


def _say_change(outcome: Outcome, said: str) -> str:
    assert outcome.result.fatigue is not None
    each = outcome.result.fatigue.repetitions_each
    return say(
        "Set {number}, last {each} against first {each}: {said}.", number=outcome.result.number, each=each, said=said
    )


def _say_held(found: Sequence[Outcome]) -> Iterator[str]:
    """Yield what did not change, of what was measured in all sets."""
    each = [outcome.result.fatigue for outcome in found if outcome.result.fatigue is not None]
    names = (
        (say("height"), [one.height_fall_percent for one in each]),
        (say("share"), [one.share_fall_points for one in each]),
        (say("tempo"), [one.tempo_fall_percent for one in each]),
    )
    held = [name for name, falls in names if None not in falls]
    if each and held:
        listed = say(" and ").join(part for part in (", ".join(held[:-1]), held[-1]) if part)
        yield say("Little change from the first repetitions to the last: {listed}.", listed=listed)


def say_ceiling(snapshot: Snapshot, settings: Settings) -> tuple[str, ...]:
    """Return what came of the ceiling, where one is set: how often and how far it was crossed, when it was not read."""
    if settings.ceiling is None:
        return ()
    limit = (
        say("the limit")
        if snapshot.ceiling_N is None
        else say("the limit of {load}", load=words.load_kg(snapshot.ceiling_N))
    )
    over = [event for event in snapshot.ceiling_events if not event.unread]
    unread_s = sum(event.duration_s or 0.0 for event in snapshot.ceiling_events if event.unread)
    said = [say("Not seen over {limit}.", limit=limit) if unread_s else say("Never over {limit}.", limit=limit)]
    if over:
        peak_N = max((event.peak_N for event in over if event.peak_N is not None), default=None)
        most = "" if peak_N is None else say(", at most {load}", load=words.load_kg(peak_N))
        lasted_s = sum(event.duration_s or 0.0 for event in over)
        said = [
            say(
                "Over {limit} {times}{most}, for {lasted:.1f} s in all.",
                limit=limit,
                times=words.times(len(over)),
                most=most,
                lasted=lasted_s,
            )
        ]
    return (*said, say("For {unread:.1f} s the load could not be read.", unread=unread_s)) if unread_s else tuple(said)


def _columns(settings: Settings) -> tuple[tuple[str, Callable[[Outcome], str]], ...]:
    """Return heads and cells of what the exercise is about."""
    exercise = settings.exercise
    down = (say("share down"), lambda one: _unit(one.result.share_lowering_percent, " %"))
    up = (say("share up"), lambda one: _unit(rise_share_percent(one), " %"))
    band = (say("in the band"), lambda one: _unit(one.result.lowering_in_band_percent, " %"))
    time = (say("time down"), lambda one: _unit(one.lowering_s, " s", digits=1))
    height = (say("height"), lambda one: _unit(one.result.height_mm, " mm"))
    if exercise in (Exercise.SQUAT, Exercise.SIT_TO_STAND):
        return down, up, band, time
    if exercise is not None and exercise.is_single:
        return time, height
    return down, (say("in thirds"), lambda one: _thirds(one, settings)), band, time, height


def _notes(outcome: Outcome, settings: Settings, goal: Goal, faults_s: Sequence[float]) -> Iterator[str]:
    supported = sum(bool(one.supported) for one in outcome.repetitions)
    if outcome.result.blind:
        yield say("without the screen")
    if supported:
        yield say("{supported} with a hand on the rail", supported=supported)
    if outcome.rejected:
        yield say_rejected(outcome.rejected, settings)
    if goal.to_exhaustion:
        verdict = judge(
            outcome.repetitions,
            settings.tempo,
            outcome.own_times_s(faults_s),
            outcome.rejected,
            injured_works=outcome.result.working is settings.injured,
        )
        if verdict.reason is not None:
            yield say("{count} until {reason}", count=verdict.count, reason=say(verdict.reason))


def _thirds(outcome: Outcome, settings: Settings) -> str:
    thirds, own = thirds_percent(outcome), settings.for_leg(outcome.result.working)
    return NONE if thirds is None else " ".join(words.whole_percent(third, own) for third in thirds)


def _unit(figure: float | None, unit: str, digits: int = 0) -> str:
    return NONE if figure is None else f"{number(figure, f'.{digits}f')}{unit}"
