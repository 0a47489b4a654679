"""From the newest view to the screens of practice and of its end: pure functions."""

from __future__ import annotations

import math

import numpy as np

from weightshare.model import Bools, Floats, Side
from weightshare.practice import words
from weightshare.practice.frame import (
    BROKEN,
    HOLLOW,
    Frame,
    broken_words,
    hints,
    shape_of,
    trouble_words,
    warnings,
    worst_link,
)
from weightshare.practice.screen import Figures, Path, Screen, Shape, Step, Summary
from weightshare.practice.view import LinkState, LiveView
from weightshare.state import Snapshot, State
from weightshare.task import Settings

MAX_STONES = 30
LEAST_HOLD_S = 1.0
"""Holds under this held time are not listed, s: neither is one that was under way at the end."""


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
        hint=hints(frame),
        warnings=warnings(view, frame),
        source=words.source_words(frame.source),
        key=words.GO_ON if frame.asking else words.START if step is Step.READY else "",
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
    under_way = (snapshot.held_s,) if snapshot.holding and snapshot.held_s >= LEAST_HOLD_S else ()
    held_s = snapshot.held_each_s + under_way
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
            band_percent=settings.band_percent,
        ),
        figures=Figures(holds=f"{done} of {goal.holds}", holds_done=done, holds_asked=goal.holds),
        warnings=messages + ((words.NOT_CHECKED,) if frame.unchecked else ()),
        source=words.source_words(frame.source),
        key=words.NEW,
    )


def _lost_screen(view: LiveView, frame: Frame, step: Step) -> Screen:
    link = worst_link(view)
    headline, state = broken_words(link, step)
    return Screen(
        step=step,
        headline=words.ASK_TO_END if frame.asking else headline,
        state=state,
        shape=Shape.CROSS,
        injured=frame.settings.injured,
        figures=Figures(share_label=_share_label(frame.settings.injured), held_label="held"),
        path=_empty_path(frame.settings),
        blank=True,
        warnings=warnings(view, frame),
        source=words.source_words(frame.source),
        key=words.GO_ON if frame.asking else "",
        trouble=trouble_words(link, LinkState.REFUSED),
        age_s=view.age_s,
    )


def _share_label(injured: Side) -> str:
    return f"on the {injured} foot"


def _note(snapshot: Snapshot, step: Step) -> str:
    if snapshot.supported and snapshot.state is not State.ELSEWHERE:
        return words.SUPPORTED
    return words.TRYING_OUT if step is Step.READY else ""


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
    """Return the band's edges as places across the path: the right foot's share in percent."""
    low, high = settings.band_percent or (None, None)
    if low is None or high is None or settings.injured is Side.RIGHT:
        return low, high
    return 100.0 - high, 100.0 - low


def _find_inside(share: Floats, settings: Settings) -> Bools:
    """Return whether each share lies in the band, shape (n,); NaN does not."""
    if settings.target_percent is None:
        return np.zeros(share.shape, dtype=np.bool_)
    inside: Bools = np.abs(share - settings.target_percent) <= settings.tolerance_percent
    return inside


def _empty_path(settings: Settings) -> Path:
    low, high = _edges(settings)
    return Path(reach_points=_reach(settings), low=low, high=high, solid=False)


def _path(view: LiveView, frame: Frame, step: Step, paved: tuple[tuple[float, float], ...]) -> Path:
    snapshot, settings = view.snapshot, frame.settings
    low, high = _edges(settings)
    share, trail = snapshot.share_percent, view.trail_share_percent
    on_right = settings.injured is Side.RIGHT
    to_goal_s = max(0.0, frame.goal.hold_s - snapshot.held_s) if step is Step.PRACTISE else 0.0
    return Path(
        reach_points=_reach(settings),
        low=low,
        high=high,
        place=None if share is None else share if on_right else 100.0 - share,
        inside=share is not None and words.is_inside(share, settings),
        counts=snapshot.in_band,
        solid=snapshot.state not in (*HOLLOW, *BROKEN),
        now_s=None if snapshot.time_s is None else snapshot.time_s + view.age_s,
        trail_time_s=view.trail_time_s,
        trail_place=trail if on_right else 100.0 - trail,
        trail_inside=_find_inside(trail, settings),
        paved=paved,
        to_goal_s=to_goal_s or None,
    )
