"""From the newest view to what the screen shows: pure functions, one for each kind of step."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from weightshare.model import Floats, Goal, Settings, Side, Snapshot, State
from weightshare.practice import words
from weightshare.practice.check import SideCheck, Verdict
from weightshare.practice.screen import Figures, Path, Screen, Shape, Soles, Step, Summary
from weightshare.practice.view import LinkState, LinkView, LiveView

MAX_STONES = 30
_WORST_FIRST = (LinkState.REFUSED, LinkState.LOST, LinkState.CONNECTING, LinkState.ENDED, LinkState.SAMPLING)
_HOLLOW = (State.ONE_FOOT_OFF, State.ELSEWHERE)
_BROKEN = (State.NO_READING, State.OVERLOAD)


@dataclass(frozen=True, slots=True)
class Frame:
    """What holds whatever the view brings: settings, goal, source, and the questions that stand."""

    settings: Settings
    goal: Goal
    source: str = ""
    asking: bool = False
    """Whether to end is being asked."""
    unchecked: bool = False
    """Left and right were passed over."""


def practise_screen(
    view: LiveView, frame: Frame, step: Step = Step.PRACTISE, paved: tuple[tuple[float, float], ...] = ()
) -> Screen:
    """Return the screen of practice, or of READY before it. Without fresh data nothing measured is on it."""
    if view.stale:
        return _lost_screen(view, frame, step)
    snapshot, settings = view.snapshot, frame.settings
    reached = step is Step.PRACTISE and snapshot.holding and snapshot.held_s >= frame.goal.hold_s
    headline = words.practise_headline(snapshot.state, settings.injured)
    if reached:
        headline = words.hold_done_headline(snapshot.holds_done(frame.goal.hold_s), frame.goal.holds)
    return Screen(
        step=step,
        headline=words.ASK_TO_END if frame.asking else headline,
        state=words.state_words(snapshot.state),
        shape=shape_of(snapshot.state, settings.injured),
        injured=settings.injured,
        figures=_figures(snapshot, frame, step),
        path=_path(view, frame, step, paved),
        note=_note(snapshot, step),
        hint=_hints(frame),
        warnings=_warnings(view, frame),
        source=words.source_words(frame.source),
        key=words.GO_ON if frame.asking else words.START if step is Step.READY else "",
        age_s=view.age_s,
    )


def prepare_screen(view: LiveView, frame: Frame, step: Step, check: SideCheck | None = None) -> Screen:
    """Return the screen of the steps before practice: link, zero, weighing, the check of left and right."""
    link = worst_link(view)
    trouble = link.words if link is not None and link.state in (LinkState.REFUSED, LinkState.LOST) else ""
    if view.stale and (step is not Step.CONNECT or trouble):
        (headline, state), note = _broken_words(link, step), ""
        shape, soles = Shape.CROSS, Soles()
    else:
        headline, state, note, shape = _prepare_words(view.snapshot, step, check)
        soles = _soles(view.snapshot, step, check)
    swapped = check is not None and check.verdict is Verdict.SWAPPED and step is Step.CHECK
    return Screen(
        step=step,
        headline=words.ASK_TO_END if frame.asking else headline,
        state=state,
        shape=shape,
        injured=frame.settings.injured,
        soles=soles,
        blank=view.stale,
        note=note,
        hint=_prepare_hint(view, frame, step, bool(trouble)),
        warnings=_warnings(view, frame),
        source=words.source_words(frame.source),
        key=words.GO_ON if frame.asking else words.CHECK_AGAIN if swapped else "",
        trouble=trouble,
        age_s=view.age_s,
    )


def summary_screen(
    snapshot: Snapshot,
    frame: Frame,
    messages: tuple[str, ...] = (),
    place: str = "",
    course: tuple[Floats, Floats] | None = None,
) -> Screen:
    """Return what the session came to, from the last `snapshot` of its practice and the `course` of its share."""
    goal, settings = frame.goal, frame.settings
    time_s, share = course or (np.empty(0), np.empty(0))
    target, tolerance = settings.target_percent, settings.tolerance_percent
    held_s = snapshot.held_each_s + ((snapshot.held_s,) if snapshot.holding else ())
    done = snapshot.holds_done(goal.hold_s)
    counted = f"{done} of {goal.holds} holds of {goal.hold_s:g} s"
    in_band = f"{snapshot.time_in_band_s:.0f} s in the band in all"
    kept = (f"Kept in {place}",) if place else ()
    return Screen(
        step=Step.DONE,
        headline=words.summary_headline(done, goal.holds),
        state="done",
        shape=Shape.NONE,
        injured=frame.settings.injured,
        summary=Summary(
            held_s=held_s,
            goal_s=goal.hold_s,
            lines=(counted, in_band, *kept),
            course_time_s=time_s,
            course_percent=share,
            band_percent=None if target is None else (max(0.0, target - tolerance), min(100.0, target + tolerance)),
        ),
        figures=Figures(holds=f"{done} of {goal.holds}", holds_done=done, holds_asked=goal.holds),
        warnings=messages + ((words.NOT_CHECKED,) if frame.unchecked else ()),
        source=words.source_words(frame.source),
        key=words.NEW,
    )


def worst_link(view: LiveView) -> LinkView | None:
    """Return the link that most needs someone's help; None where there is none yet."""
    return min(view.links, key=lambda link: _WORST_FIRST.index(link.state), default=None)


def shape_of(state: State, injured: Side) -> Shape:
    """Return the mark that says `state`; an arrowhead points to where the weight belongs."""
    more = injured if state is State.TOO_LITTLE else injured.other
    if state in (State.TOO_LITTLE, State.TOO_MUCH):
        return Shape.TO_RIGHT if more is Side.RIGHT else Shape.TO_LEFT
    if state is State.IN_BAND:
        return Shape.DISC
    return Shape.CROSS if state in _BROKEN else Shape.DIAMOND if state in _HOLLOW else Shape.RING


def _lost_screen(view: LiveView, frame: Frame, step: Step) -> Screen:
    link = worst_link(view)
    headline, state = _broken_words(link, step)
    return Screen(
        step=step,
        headline=words.ASK_TO_END if frame.asking else headline,
        state=state,
        shape=Shape.CROSS,
        injured=frame.settings.injured,
        figures=Figures(share_label=_share_label(frame.settings.injured), held_label="held"),
        path=_empty_path(frame.settings),
        blank=True,
        warnings=_warnings(view, frame),
        source=words.source_words(frame.source),
        key=words.GO_ON if frame.asking else "",
        trouble=link.words if link is not None and link.state is LinkState.REFUSED else "",
        age_s=view.age_s,
    )


def _broken_words(link: LinkView | None, step: Step) -> tuple[str, str]:
    if link is not None and link.state is LinkState.REFUSED:
        return words.REFUSED_HEADLINE, "no reading"
    return (words.UNREACHED_HEADLINE if step is Step.CONNECT else words.LOST_HEADLINE), words.LINK_LOST


def _prepare_words(snapshot: Snapshot, step: Step, check: SideCheck | None) -> tuple[str, str, str, Shape]:
    if step is Step.CONNECT:
        return words.practise_headline(State.WAITING, Side.LEFT), str(State.WAITING), "", Shape.RING
    if step is Step.ZERO:
        return words.practise_headline(State.ZEROING, Side.LEFT), str(State.ZEROING), "", Shape.RING
    if step is Step.CHECK and check is not None:
        headline, note = words.check_words(check.verdict, check.named)
        shape = Shape.CROSS if check.verdict is Verdict.SWAPPED else _arrow(check.named)
        return headline, words.CHECKING, note, Shape.RING if check.verdict is Verdict.SETTLING else shape
    headline = words.practise_headline(snapshot.state, Side.LEFT)
    return headline, words.state_words(snapshot.state), "", shape_of(snapshot.state, Side.LEFT)


def _arrow(side: Side) -> Shape:
    return Shape.TO_RIGHT if side is Side.RIGHT else Shape.TO_LEFT


def _soles(snapshot: Snapshot, step: Step, check: SideCheck | None) -> Soles:
    if step is Step.CHECK and check is not None:
        asked = check.verdict in (Verdict.ASKING, Verdict.SWAPPED)
        return Soles(True, check.named if asked else None, check.verdict is Verdict.SWAPPED)
    return Soles(feet=step is Step.WEIGH)


def _prepare_hint(view: LiveView, frame: Frame, step: Step, trouble: bool) -> str:
    if trouble:
        return words.RETRY_HINT
    hints = [words.SKIP_HINT] if step is Step.CHECK else []
    if step in (Step.WEIGH, Step.CHECK):
        hints += [words.ZERO_HINT] if view.snapshot.zero_taken is False else []
    return _hints(frame, *hints)


def _note(snapshot: Snapshot, step: Step) -> str:
    if snapshot.supported and snapshot.state is not State.ELSEWHERE:
        return words.SUPPORTED
    return words.TRYING_OUT if step is Step.READY else ""


def _hints(frame: Frame, *hints: str) -> str:
    steered = (words.STEER_HINT,) if words.is_steered(frame.source) else ()
    return "  \u00b7  ".join((*hints, *steered))


def _warnings(view: LiveView, frame: Frame) -> tuple[str, ...]:
    link = worst_link(view)
    said = (_link_words(link),) if view.stale and link is not None else ()
    lost = (view.recording,) if view.recording else ()
    told = tuple(dict.fromkeys((*view.messages, *view.snapshot.warnings)))
    return said + lost + told[-2:] + ((words.NOT_CHECKED,) if frame.unchecked else ())


def _link_words(link: LinkView) -> str:
    return words.RECONNECTING if link.state is LinkState.SAMPLING else link.words or str(link.state)


def _share_label(injured: Side) -> str:
    return f"on the {injured} foot"


def _figures(snapshot: Snapshot, frame: Frame, step: Step) -> Figures:
    settings, goal = frame.settings, frame.goal
    held_s = snapshot.held_s if step is Step.PRACTISE else 0.0
    done = snapshot.holds_done(goal.hold_s) if step is Step.PRACTISE else 0
    share, injured_N, weight_N = snapshot.share_percent, snapshot.injured_N, snapshot.body_weight_N
    return Figures(
        share="" if share is None else words.whole_percent(share, settings),
        share_label=_share_label(settings.injured),
        aim=words.band_words(settings),
        held=words.seconds(held_s),
        held_label="held",
        held_goal=f"of {goal.hold_s:g} s",
        held_fraction=min(1.0, held_s / goal.hold_s),
        stones=min(MAX_STONES, math.ceil(goal.hold_s)),
        holds=f"{min(done, goal.holds)} of {goal.holds}",
        holds_done=min(done, goal.holds),
        holds_asked=goal.holds,
        load_label=f"load, {settings.injured} foot",
        load_kg="" if injured_N is None else words.load_kg(injured_N),
        load_percent="" if injured_N is None or not weight_N else words.body_percent(injured_N, weight_N),
    )


def _reach(settings: Settings) -> float:
    """Return half of the drawn width in points: the band is always on it, with room beside it."""
    if settings.target_percent is None:
        return 50.0
    return min(50.0, max(30.0, abs(settings.target_percent - 50.0) + settings.tolerance_percent + 15.0))


def _edges(settings: Settings) -> tuple[float | None, float | None]:
    target, tolerance = settings.target_percent, settings.tolerance_percent
    if target is None:
        return None, None
    if settings.injured is Side.LEFT:
        target = 100.0 - target
    return max(0.0, target - tolerance), min(100.0, target + tolerance)


def _empty_path(settings: Settings) -> Path:
    low, high = _edges(settings)
    return Path(reach_points=_reach(settings), low=low, high=high, solid=False)


def _path(view: LiveView, frame: Frame, step: Step, paved: tuple[tuple[float, float], ...]) -> Path:
    snapshot, settings = view.snapshot, frame.settings
    low, high = _edges(settings)
    target, share, trail = settings.target_percent, snapshot.share_percent, view.trail_share_percent
    if target is None:
        inside, trail_inside = False, np.zeros(trail.shape, dtype=np.bool_)
    else:
        inside = share is not None and abs(share - target) <= settings.tolerance_percent
        trail_inside = np.abs(trail - target) <= settings.tolerance_percent
    on_right = settings.injured is Side.RIGHT
    to_goal_s = max(0.0, frame.goal.hold_s - snapshot.held_s) if step is Step.PRACTISE else 0.0
    return Path(
        reach_points=_reach(settings),
        low=low,
        high=high,
        place=None if share is None else share if on_right else 100.0 - share,
        inside=inside,
        counts=snapshot.in_band,
        solid=snapshot.state not in (*_HOLLOW, *_BROKEN),
        now_s=None if snapshot.time_s is None else snapshot.time_s + view.age_s,
        trail_time_s=view.trail_time_s,
        trail_place=trail if on_right else 100.0 - trail,
        trail_inside=trail_inside,
        paved=paved,
        to_goal_s=to_goal_s or None,
    )
