"""The screen between two sets: a clock, the three figures of the set that matter, and what else there is to say."""

from __future__ import annotations

from weightshare.exercise import Basis
from weightshare.model import Side
from weightshare.practice import prompt, words
from weightshare.practice.frame import Frame, broken_words, hints, trouble_words, warnings, worst_link
from weightshare.practice.outcome import lines, main_figures, outcomes
from weightshare.practice.screen import Rest, Screen, Shape, Step
from weightshare.practice.view import LinkState, LiveView
from weightshare.tongue import mark, say


def rest_screen(view: LiveView, frame: Frame) -> Screen:
    """Return the screen of a rest. What a set came to stays on it while no data come: it is not of now."""
    link = worst_link(view)
    rest = _rest(view, frame)
    headline, state, shape = _words(rest, view, frame)
    if view.stale:
        (headline, state), shape = broken_words(link, Step.REST), Shape.CROSS
    return Screen(
        step=Step.REST,
        headline=say(words.ASK_TO_END) if frame.asking else headline,
        state=state,
        shape=shape,
        injured=frame.settings.injured,
        rest=rest,
        note=_note(view, frame),
        hint=hints(frame),
        warnings=warnings(view, frame),
        source=words.source_words(frame.source),
        key=say(words.GO_ON) if frame.asking else say(words.NEXT_SET),
        trouble=trouble_words(link, LinkState.REFUSED),
        age_s=view.age_s,
    )


def _words(rest: Rest, view: LiveView, frame: Frame) -> tuple[str, str, Shape]:
    if rest.over:
        return words.state_headline(view.snapshot.state, frame.settings), say("the rest is over"), Shape.RING
    settings, goal = frame.settings, frame.goal
    single = settings.exercise is not None and settings.exercise.is_single and goal.to_exhaustion
    headline = rest_headline(
        _left_s(view, frame),
        len(view.sets.spans) + 1,
        goal.sets,
        next_leg=settings.working_side if single else None,
        paced=view.snapshot.basis is Basis.PACED,
    )
    return headline, say("rest"), Shape.RING


def rest_headline(left_s: float, number: int, asked: int, *, next_leg: Side | None = None, paced: bool = False) -> str:
    """Return what to do in a rest with `left_s` to go until set `number` of `asked`.

    The set is open from then on, and waits for the person; where the metronome leads (`paced`) it begins. `next_leg` is
    the one that works alone in it, where the legs take turns.
    """
    if left_s <= words.GET_READY_S:
        if next_leg is None:
            return say("Set {number} of {asked}: get ready.", number=number, asked=asked)
        return say("Set {number} of {asked}, {leg} foot: get ready.", number=number, asked=asked, leg=next_leg)
    if next_leg is None:
        waits, begins = (
            mark("Rest. When this clock runs out, set {number} waits for you."),
            mark("Rest. When this clock runs out, set {number} begins."),
        )
        return say(begins if paced else waits, number=number)
    waits = mark("Rest. When this clock runs out, set {number}, on the {leg} foot, waits for you.")
    begins = mark("Rest. When this clock runs out, set {number}, on the {leg} foot, begins.")
    return say(begins if paced else waits, number=number, leg=next_leg)


def _note(view: LiveView, frame: Frame) -> str:
    """Say beforehand that there will be nothing on the screen."""
    return say(words.NEXT_BLIND) if len(view.sets.spans) + 1 in frame.goal.blind_sets else ""


def _left_s(view: LiveView, frame: Frame) -> float:
    until_s, now_s = view.sets.rest_until_s(frame.goal), view.now_s
    return 0.0 if until_s is None or now_s is None else max(0.0, until_s - now_s)


def _rest(view: LiveView, frame: Frame) -> Rest:
    settings, goal, spans = frame.settings, frame.goal, view.sets.spans
    left_s = _left_s(view, frame)
    # the frame is of the set that comes next
    settings = settings.for_leg(spans[-1].working)
    newest = outcomes(view.snapshot, spans[-1:], settings)[-1]
    return Rest(
        title=say("{set} is done", set=prompt.set_words(spans[-1], goal)),
        left=words.minutes(left_s),
        left_fraction=min(1.0, left_s / goal.rest_s) if goal.rest_s else 0.0,
        figures=main_figures(newest, settings, goal),
        lines=lines(newest, settings, goal),
        over=left_s == 0.0,
    )
