"""The path of practice: the band that is measured against now and before, the one to come, the puck, the trail."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from weightshare.exercise import Phase
from weightshare.model import Bools, Floats, Side
from weightshare.practice import words
from weightshare.practice.frame import BROKEN, HOLLOW, Frame
from weightshare.practice.metronome import beat
from weightshare.practice.preview import find_edges, look_ahead
from weightshare.practice.screen import Heels, Path, Pulse, Step
from weightshare.practice.support import across, middle_words, place_percent
from weightshare.practice.view import LiveView
from weightshare.state import Snapshot
from weightshare.task import Settings

_EMPTY: Floats = np.empty(0)


@dataclass(frozen=True, slots=True)
class Aids:
    """What views gather to be shown beside the path: stretches that counted, the heels, the metronome."""

    paved: tuple[tuple[float, float], ...] = ()
    heels: Heels | None = None
    pulse: Pulse | None = None


def settings_now(snapshot: Snapshot, settings: Settings) -> Settings:
    """Return `settings` with the target where the middle of the band is now."""
    aim = snapshot.aim_percent
    return settings if aim is None or aim == settings.target_percent else replace(settings, target_percent=aim)


def empty_path(settings: Settings) -> Path:
    """Return a path with nothing on it that is measured."""
    low, high = _edges(settings)
    return Path(reach_points=_reach(settings), middle=middle_words(settings), low=low, high=high, solid=False)


def practise_path(view: LiveView, frame: Frame, step: Step, aids: Aids) -> Path:
    """Return the path of a fresh view."""
    snapshot, settings = view.snapshot, frame.settings
    share, trail = snapshot.share_percent, view.trail_share_percent
    middle, reach = middle_words(settings), _reach(settings)
    if settings.load_N is not None:
        share = None if snapshot.injured_N is None else float(place_percent(np.array(snapshot.injured_N), settings))
        settings, reach = across(settings), 50.0
    now = settings_now(snapshot, settings)
    low, high = _edges(now)
    on_right, span = settings.injured is Side.RIGHT, view.sets.under_way
    ahead = look_ahead(snapshot, settings, None if span is None else span.paced_from_s)
    trail_low, trail_high = (_EMPTY, _EMPTY) if ahead is None else _trail_edges(view, settings)
    return Path(
        reach_points=reach,
        middle=middle,
        low=low,
        high=high,
        place=None if share is None else share if on_right else 100.0 - share,
        inside=share is not None and words.is_inside(share, now),
        counts=snapshot.in_band,
        solid=snapshot.state not in (*HOLLOW, *BROKEN),
        now_s=view.now_s,
        trail_time_s=view.trail_time_s,
        trail_place=trail if on_right else 100.0 - trail,
        trail_inside=_find_inside(view, settings),
        paved=aids.paved,
        to_goal_s=_to_goal_s(snapshot, frame, step),
        trail_low=trail_low,
        trail_high=trail_high,
        ahead=ahead,
        heels=aids.heels,
        beat=None if aids.pulse is None else beat(aids.pulse),
        hidden=is_blind(view, step),
        cued=_is_cued(snapshot, settings),
    )


def is_blind(view: LiveView, step: Step) -> bool:
    """Return whether a set without the screen is under way."""
    span = view.sets.under_way
    return step is Step.PRACTISE and span is not None and span.blind


def _reach(settings: Settings) -> float:
    """Return half of the drawn width in points: the band is always on it, with room beside it."""
    if settings.target_percent is None:
        return 50.0
    return min(50.0, max(30.0, abs(settings.target_percent - 50.0) + settings.tolerance_percent + 15.0))


def _edges(settings: Settings) -> tuple[float | None, float | None]:
    """Return the band's edges as places across the path; None without a target."""
    if settings.target_percent is None:
        return None, None
    low, high = find_edges(settings, np.array([settings.target_percent]))
    return float(low[0]), float(high[0])


def _trail_edges(view: LiveView, settings: Settings) -> tuple[Floats, Floats]:
    aim = view.trail_aim_percent
    return find_edges(settings, aim) if aim.size == view.trail_time_s.size else (_EMPTY, _EMPTY)


def _find_inside(view: LiveView, settings: Settings) -> Bools:
    """Return whether each share of the trail lies in the band of its time, shape (n,); NaN does not."""
    share, aim = view.trail_share_percent, view.trail_aim_percent
    if settings.target_percent is None:
        return np.zeros(share.shape, dtype=np.bool_)
    off = share - (aim if aim.size == share.size else settings.target_percent)
    inside: Bools = off >= -settings.tolerance_percent
    return inside if settings.one_sided else inside & (off <= settings.tolerance_percent)


def _to_goal_s(snapshot: Snapshot, frame: Frame, step: Step) -> float | None:
    if step is not Step.PRACTISE or frame.lifts:
        return None
    return max(0.0, frame.goal.hold_s - snapshot.held_s) or None


def _is_cued(snapshot: Snapshot, settings: Settings) -> bool:
    """Return whether the band stands still under a repetition: where it turns, losing it says nothing."""
    exercise = settings.exercise
    if exercise is None or not exercise.is_repeated:
        return True
    if exercise.turns:
        return snapshot.phase is Phase.LOWERING
    return snapshot.phase not in (None, Phase.BOTTOM)
