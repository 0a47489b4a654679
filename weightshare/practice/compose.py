"""From the newest view to the screen of practice: pure functions."""

from __future__ import annotations

from weightshare.exercise import Exercise
from weightshare.pipeline.endurance import Verdict
from weightshare.practice import prompt, words
from weightshare.practice.coach import find_verdict, own_repetitions
from weightshare.practice.figure import missing_figures, practise_figures
from weightshare.practice.frame import (
    BROKEN,
    Frame,
    broken_words,
    hints,
    shape_of,
    trouble_words,
    warnings,
    worst_link,
)
from weightshare.practice.message import retell
from weightshare.practice.path import Aids, empty_path, is_blind, practise_path
from weightshare.practice.screen import Figures, Path, Screen, Shape, Step
from weightshare.practice.view import LinkState, LiveView
from weightshare.state import Snapshot, State
from weightshare.task import Settings
from weightshare.tongue import say

TOLD_S = 4.0
"""How long it is said that a lift was not counted, s."""


_AT_REST = {Exercise.SQUAT: str(State.STANDING), Exercise.SIT_TO_STAND: words.SEATED}
"""Between repetitions; of heel raises that is at the bottom."""


def practise_screen(view: LiveView, frame: Frame, step: Step = Step.PRACTISE, aids: Aids | None = None) -> Screen:
    """Return the screen of practice, or of READY before it. Without fresh data nothing measured is on it."""
    if view.stale:
        return _lost_screen(view, frame, step)
    if is_blind(view, step):
        return _blind_screen(view, frame)
    snapshot, settings = view.snapshot, frame.settings
    aids = aids or Aids()
    path = practise_path(view, frame, step, aids)
    verdict = _find_verdict(view, frame)
    neutral = _neutral_words(snapshot, settings)
    return Screen(
        step=step,
        headline=say(words.ASK_TO_END) if frame.asking else _headline(view, frame, step, path, verdict),
        state=neutral or words.state_words(snapshot.state),
        shape=Shape.RING if neutral else shape_of(snapshot.state, settings.injured),
        injured=settings.injured,
        figures=practise_figures(view, frame, step),
        path=path,
        phase=snapshot.phase,
        pulse=aids.pulse,
        note=_note(snapshot, frame, step),
        hint=hints(frame, *_keys(view, frame, step)),
        warnings=warnings(view, frame, in_set=_is_in_set(view, frame, step)),
        source=words.source_words(frame.source),
        key=_key(frame, step, verdict),
        age_s=view.age_s,
    )


def _is_in_set(view: LiveView, frame: Frame, step: Step) -> bool:
    """Return whether a set, or a hold, is under way: then nothing else is to be read."""
    under_way = view.sets.under_way is not None if frame.lifts else view.snapshot.holding
    return step is Step.PRACTISE and under_way


def _find_verdict(view: LiveView, frame: Frame) -> Verdict | None:
    """Return whether a set to exhaustion should be stopped now; None where no such set is under way."""
    span = view.sets.under_way
    if not frame.goal.to_exhaustion or span is None:
        return None
    return find_verdict(span, view.snapshot, view.sets, frame.settings)


def _neutral_words(snapshot: Snapshot, settings: Settings) -> str:
    """Return the state in words where that of the load would tell off who does as asked; else nothing."""
    if prompt.is_seated(snapshot, settings):
        # who sits and is about to stand up is not absent, and leans on no rail
        return say(words.SEATED)
    if snapshot.state is State.AT_BOTTOM and settings.exercise in _AT_REST:
        return say(_AT_REST[settings.exercise])
    if prompt.is_back_down(snapshot, settings):
        return say(State.AT_BOTTOM)
    # who is quicker, or slower, than a band that moves itself does nothing wrong
    outside = snapshot.state in (State.TOO_LITTLE, State.TOO_MUCH)
    return say(words.SHIFTING) if outside and prompt.is_bending(snapshot, settings) else ""


def _headline(view: LiveView, frame: Frame, step: Step, path: Path, verdict: Verdict | None) -> str:
    snapshot, settings, goal = view.snapshot, frame.settings, frame.goal
    if step is Step.READY and frame.clash:
        return say(words.CLASH_HEADLINE)
    if verdict is not None and verdict.reason is not None:
        return words.stop_headline(verdict.reason)
    if frame.lifts:
        span = view.sets.under_way if step is Step.PRACTISE else None
        opening = ""
        if span is not None and not own_repetitions(span, snapshot):
            opening = prompt.set_words(span, goal)
        waits = path.ahead is None or path.ahead.waits
        lead_s = _lead_s(view)
        return prompt.lift_headline(snapshot, settings, waits=waits, opening=opening, lead_s=lead_s)
    if step is Step.PRACTISE and snapshot.holding and snapshot.held_s >= goal.hold_s:
        up = settings.exercise is Exercise.HEEL_HOLD
        return words.hold_done_headline(snapshot.holds_done(goal.hold_s), goal.holds, heels_up=up)
    return words.state_headline(snapshot.state, settings)


def _lead_s(view: LiveView) -> float | None:
    """Return how long the metronome still leads in, s; None where it does not."""
    span, now_s = view.sets.under_way, view.now_s
    return None if span is None or span.paced_from_s is None or now_s is None else span.paced_from_s - now_s


def _key(frame: Frame, step: Step, verdict: Verdict | None) -> str:
    if frame.asking:
        return say(words.GO_ON)
    if step is Step.READY:
        return "" if frame.clash else say(words.START)
    return say(words.END_SET) if verdict is not None and verdict.reason is not None else ""


def _keys(view: LiveView, frame: Frame, step: Step) -> tuple[str, ...]:
    """Return what keys offer in a set; nothing where none is under way, or a question stands."""
    if step is not Step.PRACTISE or not frame.lifts or frame.asking or view.sets.under_way is None:
        return ()
    return (say(words.SET_HINT), say(words.FAULT_HINT)) if frame.goal.to_exhaustion else (say(words.SET_HINT),)


def _note(snapshot: Snapshot, frame: Frame, step: Step) -> str:
    if step is Step.READY and frame.clash:
        return f"{retell(frame.clash)}."
    elsewhere = snapshot.supported and not frame.settings.is_supported
    if elsewhere and snapshot.state is not State.ELSEWHERE and not prompt.is_seated(snapshot, frame.settings):
        return say(words.SUPPORTED)
    if frame.settings.exercise is Exercise.HEEL_HOLD and not snapshot.heels_seen:
        return say(words.LOAD_ONLY)
    if frame.lifts and snapshot.basis is None and snapshot.body_weight_N is not None:
        return say(words.NOT_COUNTED)
    not_counted = prompt.reject_note(snapshot, TOLD_S, frame.settings) if frame.lifts and step is Step.PRACTISE else ""
    return not_counted or (say(words.TRYING_OUT) if step is Step.READY else "")


def _blind_screen(view: LiveView, frame: Frame) -> Screen:
    """Return the screen of a set without it: what to do, and nothing of how it goes."""
    snapshot, settings, span = view.snapshot, frame.settings, view.sets.under_way
    verdict = _find_verdict(view, frame)
    assert span is not None
    broken = snapshot.state in BROKEN
    return Screen(
        step=Step.PRACTISE,
        headline=say(words.ASK_TO_END) if frame.asking else prompt.blind_headline(snapshot, settings, frame.goal),
        state=words.state_words(snapshot.state) if broken else words.blind_words(span.number, frame.goal.sets),
        shape=Shape.CROSS if broken else Shape.NONE,
        injured=settings.injured,
        figures=Figures(),
        path=Path(hidden=True, solid=False, cued=False),
        hint=hints(frame, *_keys(view, frame, Step.PRACTISE)),
        warnings=warnings(view, frame, in_set=True),
        source=words.source_words(frame.source),
        key=_key(frame, Step.PRACTISE, verdict),
        age_s=view.age_s,
    )


def _lost_screen(view: LiveView, frame: Frame, step: Step) -> Screen:
    link = worst_link(view)
    headline, state = broken_words(link, step)
    return Screen(
        step=step,
        headline=say(words.ASK_TO_END) if frame.asking else headline,
        state=state,
        shape=Shape.CROSS,
        injured=frame.settings.injured,
        figures=missing_figures(frame),
        path=empty_path(frame.settings),
        blank=True,
        warnings=warnings(view, frame),
        source=words.source_words(frame.source),
        key=say(words.GO_ON) if frame.asking else "",
        trouble=trouble_words(link, LinkState.REFUSED),
        age_s=view.age_s,
    )
