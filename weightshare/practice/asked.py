"""What a person is asked to do, in plain words: for the line above the practice, and for the list of stages."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, replace

from weightshare.exercise import Exercise, Surface, Tempo
from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.pipeline.aim import EVEN_PERCENT
from weightshare.programme.prescription import Prescription, goal_of, prescribe
from weightshare.programme.stage import Knee, Lock, Stage
from weightshare.task import Goal, Settings
from weightshare.tongue import mark, say

LOCK_WORDS = {
    Lock.ONE_LEG: mark("the injured leg stands alone"),
    Lock.STEP: mark("the heels are over a step"),
    Lock.BELOW_LEVEL: mark("the heels go below the level of standing"),
    Lock.STAGE: mark("the programme asks for it"),
}
"""Why a stage is locked."""
FREES = mark("The treating clinician frees it, and the surgeon's protocol goes first.")

DID = {
    Exercise.HOLD: mark("stand and hold"),
    Exercise.HEEL_HOLD: mark("hold, heels up"),
    Exercise.RAISE: mark("heel raises, two legs"),
    Exercise.LOWERING: mark("up even, lower to target"),
    Exercise.SINGLE_LOWERING: mark("up on two, down on one"),
    Exercise.SINGLE_RAISE: mark("heel raises, one leg"),
    Exercise.SQUAT: mark("squats"),
    Exercise.SIT_TO_STAND: mark("sit to stand"),
}
"""What each exercise is called within a sentence."""

_WAYS = {
    Exercise.HOLD: mark("Stand with {share}, and hold."),
    Exercise.HEEL_HOLD: mark("Both heels up with {share}, and hold."),
    Exercise.RAISE: mark("Heels up and down with {share}."),
    Exercise.LOWERING: mark("Heels up evenly, then down with {share}."),
    Exercise.SINGLE_LOWERING: mark("Heels up on both legs, down on the {leg} leg alone."),
    Exercise.SINGLE_RAISE: mark("Heel up and down on the {leg} leg alone."),
    Exercise.SQUAT: mark("Squat with {share}."),
    Exercise.SIT_TO_STAND: mark("Stand up and sit down with {share}."),
}


def say_asked(settings: Settings, goal: Goal, knee: Knee | None = None) -> str:
    """Return in plain words what is asked for."""
    return " ".join(_sentences(settings, goal, knee))


def say_stage(stage: Stage, injured: Side) -> str:
    """Return in plain words what `stage` asks of somebody whose `injured` side it is."""
    return say_asked(prescribe(stage, injured), goal_of(stage), stage.knee)


def _sentences(settings: Settings, goal: Goal, knee: Knee | None) -> Iterator[str]:
    exercise = settings.exercise or Exercise.HOLD
    each = goal.to_exhaustion and exercise.is_single
    leg = say("one", "leg") if each else settings.working_side
    yield say(_WAYS[exercise], share=say_share(settings), leg=leg)
    if each:
        yield say("The legs take turns.")
    yield _say_amount(exercise, goal)
    if settings.tempo is not None:
        yield _say_tempo(settings.tempo)
    if knee is not None:
        yield say("Knees {knee}.", knee=knee)
    if settings.surface is Surface.STEP:
        yield say("Heels over a step.")
    if settings.added_weight_N:
        yield say("With {added_weight:.3g} kg added.", added_weight=settings.added_weight_N / STANDARD_GRAVITY)
    if settings.ceiling is not None:
        yield say(
            "Never over {limit} on the {injured} side.",
            limit=_spaced(str(settings.ceiling)),
            injured=settings.injured,
        )


def say_share(settings: Settings) -> str:
    """Return how much is asked for on which side; in supported work a load, and never a share."""
    side, target = settings.injured, settings.target_percent
    if settings.load is not None:
        load = _spaced(str(settings.load))
        return say("{load} on the {side} foot, the rest on crutches or frame", load=load, side=side)
    if target is None:
        return say("your weight as you like")
    if target == EVEN_PERCENT and not settings.one_sided:
        return say("the same weight on both feet")
    if settings.one_sided:
        return say("at least {target:g} % on the {side} foot", target=target, side=side)
    return say("{target:g} % on the {side} foot", target=target, side=side)


def _spaced(load: str) -> str:
    return load.replace("kg", " kg").replace("%", say(" % of body weight"))


def _say_amount(exercise: Exercise, goal: Goal) -> str:
    if not exercise.is_repeated:
        many = say("Once") if goal.holds == 1 else say("{holds} times", holds=goal.holds)
        return say("{many} for {hold:g} s.", many=many, hold=goal.hold_s)
    sets = say("One set") if goal.sets == 1 else say("{sets} sets", sets=goal.sets)
    return (
        say("{sets}, as many as you can.", sets=sets)
        if goal.to_exhaustion
        else say("{sets} of {repetitions}.", sets=sets, repetitions=goal.repetitions)
    )


def _say_tempo(tempo: Tempo) -> str:
    parts = (
        (mark("{seconds:g} s up"), tempo.rise_s),
        (mark("{seconds:g} s at the top"), tempo.top_s),
        (mark("{seconds:g} s down"), tempo.lowering_s),
    )
    return ", ".join(say(words, seconds=seconds) for words, seconds in parts if seconds) + "."


_TASK = ("exercise", "working", "surface", "load")
SHOWN_ALIKE = 0.05
"""Fields have one decimal."""
_NOT_SET = ("counting_from_s", "body_weight_N", "filter_Hz")
"""What is no part of what is prescribed."""


def revise(prescription: Prescription | None, settings: Settings, goal: Goal) -> Prescription | None:
    """Return the prescription with what was set otherwise by hand, one line each; None where it is another task."""
    if prescription is None:
        return None
    bare = prescribe(prescription.stage, settings.injured)
    if any(getattr(bare, name) != getattr(settings, name) for name in _TASK):
        return None
    asked = goal_of(prescription.stage)
    if goal.to_exhaustion != asked.to_exhaustion:
        return None
    return replace(prescription, changed=(*_changes(bare, settings), *_changes(asked, goal)))


def _changes(before: Settings | Goal, after: Settings | Goal) -> Iterator[str]:
    for field in fields(before):
        old, new = getattr(before, field.name), getattr(after, field.name)
        if field.name not in _NOT_SET and not _is_same(old, new):
            yield f"{field.name} {_say(new)}, not {_say(old)}"


def _is_same(old: object, new: object) -> bool:
    """Return whether a field with one decimal would show both alike: whoever only looked has set nothing."""
    if isinstance(old, float) and isinstance(new, float):
        return abs(old - new) <= SHOWN_ALIKE
    return old == new


def _say(value: object) -> str:
    if isinstance(value, tuple):
        return ",".join(map(str, value)) or "none"
    return f"{value:g}" if isinstance(value, float) else "none" if value is None else str(value)
