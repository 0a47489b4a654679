"""What a person is told to do next in a repetition: one short line for each phase, for as long as the phase lasts.

Nobody is asked to stand on one leg but in an exercise on one leg.
"""

from __future__ import annotations

import math

from weightshare.exercise import (
    CUT_OFF,
    FOOT_LEFT,
    HALF_WAY,
    LEAN,
    LOW,
    SHORT,
    STRUCK,
    TOO_LITTLE_LOAD,
    UNREAD,
    Basis,
    Exercise,
    Phase,
    SetSpan,
)
from weightshare.model import Side
from weightshare.pipeline.weight import PRESENT_N
from weightshare.practice import words
from weightshare.state import Snapshot, State
from weightshare.task import Goal, Settings
from weightshare.tongue import mark, plural, say

SHIFTED_POINTS = 0.5
"""So close to the target the band counts as having come to it, points."""
JUST_SO = mark("Good, just so.")
BOTH_DOWN = mark("Rest, both feet down if you like.")
SLOW_S = 1.5
"""A way down that is asked to take at least so long is called slow, s."""
FIRST = (
    State.WAITING,
    State.ZEROING,
    State.WEIGHING,
    State.NOBODY,
    State.ONE_FOOT_OFF,
    State.ELSEWHERE,
    State.NO_READING,
    State.OVERLOAD,
)
"""What comes first in these states is not the phase."""
_BLIND_FIRST = (State.NOBODY, State.ONE_FOOT_OFF, State.NO_READING, State.OVERLOAD)
WHY = {
    LOW: mark("the heels were too low"),
    SHORT: mark("too short"),
    FOOT_LEFT: mark("a foot left the plates"),
    HALF_WAY: mark("stopped half-way"),
    TOO_LITTLE_LOAD: mark("too much weight was elsewhere"),
    UNREAD: mark("readings were missing"),
    CUT_OFF: mark("cut off at the end"),
    LEAN: mark("the heels stayed down"),
    STRUCK: mark("the clinician struck it"),
}
"""Why a lift was not counted, by its reason, in words that a patient can act on, whatever their number."""
_LOW_OF = {Exercise.SQUAT: mark("not deep enough"), Exercise.SIT_TO_STAND: mark("not all the way up")}


def why(reason: str, settings: Settings | None) -> str:
    """Return why something was not counted, in words for what is done."""
    exercise = None if settings is None else settings.exercise
    of_it = _LOW_OF.get(exercise) if exercise is not None and reason == LOW else None
    return say(of_it or WHY.get(reason, reason))


def name_of(settings: Settings | None, count: int = 2) -> str:
    """Return what is counted, in the plural where `count` is not 1."""
    exercise = settings.exercise if settings is not None else None
    if exercise is Exercise.SQUAT:
        return plural("squat", "squats", count)
    return plural("stand", "stands", count) if exercise is Exercise.SIT_TO_STAND else plural("raise", "raises", count)


def set_words(span: SetSpan, goal: Goal) -> str:
    """Return which set this is, as `Set 2 of 3`."""
    return say("Set {number} of {sets}", number=span.number, sets=goal.sets)


def is_seated(snapshot: Snapshot, settings: Settings) -> bool:
    """Return whether somebody sits there, feet on the plates, as before standing up: the chair carries the rest."""
    left_N, right_N = snapshot.left_N, snapshot.right_N
    if settings.exercise is not Exercise.SIT_TO_STAND or left_N is None or right_N is None:
        return False
    seat = snapshot.state in (State.NOBODY, State.ELSEWHERE) and snapshot.phase in (None, Phase.BOTTOM)
    return seat and snapshot.body_weight_N is not None and left_N + right_N >= PRESENT_N


def is_back_down(snapshot: Snapshot, settings: Settings) -> bool:
    """Return whether somebody has just come down on one leg, as was asked, and stands on it still."""
    single = settings.exercise is not None and settings.exercise.is_single
    return single and snapshot.state is State.ONE_FOOT_OFF and snapshot.phase is Phase.BOTTOM


def lift_headline(
    snapshot: Snapshot, settings: Settings, *, waits: bool, opening: str = "", lead_s: float | None = None
) -> str:
    """Return what to do now. `waits`: nothing moves before the person begins; `opening`: what is said before that.

    `lead_s`: so many seconds until the metronome's first repetition; None where it does not lead in.
    """
    if is_back_down(snapshot, settings):
        other = settings.working_side.other
        return (
            say("{other:C} foot back on. Rest a moment.", other=other)
            if settings.exercise is Exercise.SINGLE_LOWERING
            else say(BOTH_DOWN)
        )
    if snapshot.state in FIRST and not is_seated(snapshot, settings):
        return words.state_headline(snapshot.state, settings)
    if snapshot.phase in (None, Phase.BOTTOM):
        if waits:
            return f"{opening}. {_begin(settings)}" if opening else _begin(settings)
        return _lead_in(settings, lead_s) if snapshot.basis is Basis.PACED and opening else _pause(settings)
    if snapshot.phase is Phase.RISE:
        return _rise(snapshot.state, settings)
    return _top(snapshot, settings) if snapshot.phase is Phase.TOP else _down(snapshot.state, settings)


def blind_headline(snapshot: Snapshot, settings: Settings, goal: Goal) -> str:
    """Return what to do in a set without the screen; nothing of how it goes is told."""
    if snapshot.state in _BLIND_FIRST:
        return words.state_headline(snapshot.state, settings)
    if goal.to_exhaustion:
        return say("Do as many {raises} as you can, as you practised them.", raises=name_of(settings))
    return say(
        "Do {count} {raises}, as you practised them.",
        count=goal.repetitions,
        raises=name_of(settings, goal.repetitions),
    )


def is_bending(snapshot: Snapshot, settings: Settings) -> bool:
    """Return whether the band is on its way from even to the target, at the top."""
    aim, target = snapshot.aim_percent, settings.target_percent
    turns = settings.exercise is not None and settings.exercise.turns and snapshot.phase is Phase.TOP
    return turns and aim is not None and target is not None and abs(aim - target) > SHIFTED_POINTS


def reject_note(snapshot: Snapshot, told_s: float, settings: Settings | None = None) -> str:
    """Return why the newest lift was not counted, for `told_s` after it; else nothing."""
    if not snapshot.rejected or snapshot.time_s is None:
        return ""
    newest = snapshot.rejected[-1]
    last_s = max((one.end_s or 0.0 for one in snapshot.repetitions[-1:]), default=0.0)
    fresh = newest.end_s > last_s and snapshot.time_s - newest.end_s < told_s
    return say("Not counted: {why}.", why=why(newest.reason, settings)) if fresh else ""


def _begin(settings: Settings) -> str:
    exercise = settings.exercise
    if exercise is Exercise.SINGLE_RAISE:
        return say("A hand by the rail. Rise on your {working_side} foot.", working_side=settings.working_side)
    if exercise is Exercise.SQUAT:
        return say("Bend your knees when you are ready.")
    return (
        say("Stand up when you are ready.")
        if exercise is Exercise.SIT_TO_STAND
        else say("Rise on both feet when ready.")
    )


def _lead_in(settings: Settings, lead_s: float | None) -> str:
    beats, soon = {
        Exercise.SQUAT: (mark("Count the beats: four, then go down."), mark("Go down in {left}.")),
        Exercise.SIT_TO_STAND: (mark("Count the beats: four, then stand up."), mark("Stand up in {left}.")),
    }.get(settings.exercise or Exercise.RAISE, (mark("Count the beats: four, then rise."), mark("Rise in {left}.")))
    return say(beats) if lead_s is None or lead_s <= 0.0 else say(soon, left=math.ceil(lead_s))


def _pause(settings: Settings) -> str:
    if settings.exercise is Exercise.SINGLE_RAISE:
        return say(BOTH_DOWN)
    posture = {Exercise.SQUAT: say("Stand tall"), Exercise.SIT_TO_STAND: say("Stay seated")}
    return say("{posture}. Rest a moment.", posture=posture.get(settings.exercise or Exercise.RAISE, say("Heels down")))


def _rise(state: State, settings: Settings) -> str:
    exercise = settings.exercise
    if exercise is Exercise.SINGLE_RAISE:
        return say("Up on your {working_side} foot.", working_side=settings.working_side)
    verb = {Exercise.SIT_TO_STAND: say("Stand up"), Exercise.SQUAT: say("Up again")}.get(
        exercise or Exercise.RAISE, say("Up")
    )
    if state in (State.TOO_LITTLE, State.TOO_MUCH):
        return f"{verb}. {_correct(state, settings)}"
    if exercise is not None and exercise.turns:
        return say("{verb}, evenly on both feet.", verb=verb)
    return f"{verb}, {_lean(settings)}."


def _top(snapshot: Snapshot, settings: Settings) -> str:
    exercise, hold = settings.exercise, say("Hold.")
    if exercise is Exercise.SINGLE_LOWERING:
        return say("Hold. All your weight on the {working_side} foot.", working_side=settings.working_side)
    if exercise is Exercise.SIT_TO_STAND:
        hold = say("Stand tall.")
    turns = exercise is Exercise.LOWERING and _leans(settings)
    if turns and (is_bending(snapshot, settings) or snapshot.aim_percent is None):
        return say("Hold. Shift to your {heavier} foot.", heavier=_heavier(settings))
    if exercise is Exercise.SINGLE_RAISE or snapshot.state not in (State.TOO_LITTLE, State.TOO_MUCH):
        return f"{hold} {say(JUST_SO)}" if turns and snapshot.state is State.IN_BAND else hold
    return f"{hold} {_correct(snapshot.state, settings)}"


def _down(state: State, settings: Settings) -> str:
    exercise, slow = settings.exercise, settings.tempo is None or settings.tempo.lowering_s >= SLOW_S
    down = say("Slowly down") if slow else say("Down")
    if exercise is Exercise.SIT_TO_STAND:
        down = say("Sit down slowly") if slow else say("Sit down")
    if state is State.IN_BAND:
        return f"{down}. {say(JUST_SO)}"
    if state is State.TOO_MUCH:
        return f"{down}. {_correct(state, settings)}"
    if exercise is not None and exercise.is_single:
        alone = mark("{down} on your {side} foot alone.") if exercise.turns else mark("{down} on your {side} foot.")
        return say(alone, down=down, side=settings.working_side)
    if state is State.TOO_LITTLE:
        return f"{down}. {_correct(state, settings)}"
    return f"{down}." if exercise is Exercise.SIT_TO_STAND else f"{down}, {_lean(settings)}."


def _correct(state: State, settings: Settings) -> str:
    """Return what brings the load back into the band: never more for a foot that has too much."""
    if state is State.TOO_MUCH:
        return say("Ease a little weight off your {injured} foot.", injured=settings.injured)
    return say("More weight on your {injured} foot.", injured=settings.injured)


def _lean(settings: Settings) -> str:
    return (
        say("more weight on your {heavier} foot", heavier=_heavier(settings))
        if _leans(settings)
        else say("evenly on both feet")
    )


def _leans(settings: Settings) -> bool:
    target = settings.target_percent
    return target is not None and abs(target - 50.0) > settings.tolerance_percent / 2


def _heavier(settings: Settings) -> Side:
    target = settings.target_percent or 50.0
    return settings.injured if target > 50.0 else settings.injured.other
