"""What somebody does between repetitions that is none: false lifts, half-way returns, leans, stumbles, stepping off."""

from __future__ import annotations

from collections.abc import Iterator

from weightshare.exercise import Exercise
from weightshare.scales.rig.plan import AWAYS, FRONTS, HEELS, Deed, Lane, Move, Phase, step_off, step_on
from weightshare.scales.rig.profile import Extra
from weightshare.scales.rig.raising import Doer, Raiser

LEAN_FRONT = (0.56, 0.65)
FALSE_MM = (16.0, 30.0)
HALF_WAY_PART = (0.31, 0.45)


def do_extra(what: Extra, doer: Doer, begin_s: float, number: int) -> Iterator[Phase]:
    """Yield what is done from `begin_s` (s) on, in set `number`; the last phase ends with the person at rest again.

    Anybody can step off; all else is done by who raises the heels.
    """
    kinds = {
        Extra.FALSE_LIFT: _lift_falsely,
        Extra.HALF_WAY: _turn_back,
        Extra.LEAN: lean,
        Extra.STUMBLE: _stumble,
    }
    if what is Extra.STEP_OFF:
        yield from _leave(doer, begin_s, number)
        return
    assert isinstance(doer, Raiser), "others have no such habits"
    moves, end_s = kinds[what](doer, begin_s)
    yield Phase(end_s, tuple(moves), deed=Deed(str(what), begin_s, end_s, number))
    if what is Extra.STUMBLE:
        ready = doer.prepare(end_s)
        yield Phase(ready.to_s, tuple(ready.moves))


def lean(raiser: Raiser, begin_s: float) -> tuple[list[Move], float]:
    """Return the moves of leaning forward with the heels down, and when that is over."""
    rng = raiser.rng
    there_s, stay_s, back_s = rng.uniform(0.5, 1.0), rng.uniform(0.4, 1.5), rng.uniform(0.5, 1.0)
    front = rng.uniform(*LEAN_FRONT)
    moves = [Move(lane, begin_s, there_s, front) for lane in FRONTS]
    moves += [Move(lane, begin_s + there_s + stay_s, back_s, raiser.low_front) for lane in FRONTS]
    return moves, begin_s + there_s + stay_s + back_s


def _lift_falsely(raiser: Raiser, begin_s: float) -> tuple[list[Move], float]:
    height = raiser.rng.uniform(*FALSE_MM)
    return _up_and_down(raiser, begin_s, height, (0.4, 0.1, 0.4))


def _turn_back(raiser: Raiser, begin_s: float) -> tuple[list[Move], float]:
    rng = raiser.rng
    height = rng.uniform(*HALF_WAY_PART) * (raiser.top_mm - raiser.base_mm)
    return _up_and_down(raiser, begin_s, height, (0.7, rng.uniform(0.5, 0.9), 0.7))


def _up_and_down(
    raiser: Raiser, begin_s: float, height_mm: float, spans_s: tuple[float, float, float]
) -> tuple[list[Move], float]:
    """Return the moves of lifting both heels by `height_mm`: up, stay and down take `spans_s`."""
    up_s, stay_s, down_s = spans_s
    start_s = begin_s + 0.2
    low_s, end_s = start_s + up_s + stay_s, start_s + up_s + stay_s + down_s
    moves = [Move(lane, begin_s, 0.3, raiser.manner.front_part) for lane in FRONTS]
    for lane, part in zip(HEELS, (1.0, raiser.manner.good_part), strict=True):
        moves.append(Move(lane, start_s, up_s, raiser.base_mm + height_mm * part))
        moves.append(Move(lane, low_s, down_s, raiser.base_mm))
    moves += [Move(lane, end_s - 0.1, 0.3, raiser.low_front) for lane in FRONTS]
    return moves, end_s + 0.2


def _stumble(raiser: Raiser, begin_s: float) -> tuple[list[Move], float]:
    """A foot is set down anew: its load goes within a fifth of a second, the body dips, the load comes back."""
    if raiser.task.exercise is Exercise.SINGLE_RAISE:
        return _touch_down(raiser, begin_s)
    injured = bool(raiser.rng.random() < 0.5)
    place = 0 if injured else 1
    share = 0.0 if injured else 100.0
    away, front = AWAYS[place], FRONTS[1 - place]
    moves = [
        Move(Lane.SHARE, begin_s, 0.22, share),
        Move(Lane.PRESENCE, begin_s, 0.15, 0.93 - raiser.profile.rail_fraction),
        Move(Lane.PRESENCE, begin_s + 0.15, 0.2, 1.08 - raiser.profile.rail_fraction),
        Move(front, begin_s, 0.2, 0.66),
        Move(Lane.SHARE, begin_s + 0.45, 0.3, 50.0 + raiser.rng.normal(0.0, 4.0)),
        Move(Lane.PRESENCE, begin_s + 0.5, 0.3, 1.0 - raiser.profile.rail_fraction),
        Move(HEELS[place], begin_s + 0.15, 0.15, raiser.base_mm + raiser.rng.uniform(20.0, 40.0)),
        Move(HEELS[place], begin_s + 0.35, 0.15, raiser.base_mm),
        Move(away, begin_s + 0.22, 0.1, 5.0),
        Move(away, begin_s + 0.34, 0.1, 0.0),
        Move(front, begin_s + 0.6, 0.5, raiser.low_front),
        Move(Lane.SHARE, begin_s + 1.1, 0.7, 50.0),
    ]
    return sorted(moves, key=lambda move: move.start_s), begin_s + 1.8


def _touch_down(raiser: Raiser, begin_s: float) -> tuple[list[Move], float]:
    """On one leg the free foot comes down, and takes a part of the load."""
    free, alone = raiser.free_away, raiser.alone_percent
    moves = [
        Move(Lane.PRESENCE, begin_s, 0.15, 0.94 - raiser.profile.rail_fraction),
        Move(free, begin_s, 0.2, 0.0),
        Move(Lane.PRESENCE, begin_s + 0.15, 0.2, 1.06 - raiser.profile.rail_fraction),
        Move(Lane.SHARE, begin_s + 0.2, 0.2, alone + 0.45 * (100.0 - 2.0 * alone)),
        Move(Lane.PRESENCE, begin_s + 0.5, 0.3, 1.0 - raiser.profile.rail_fraction),
    ]
    return moves, begin_s + 1.5


def _leave(doer: Doer, begin_s: float, number: int) -> Iterator[Phase]:
    """Step off, come back, and go over the edge again where there is one."""
    gone = step_off(begin_s)
    back = step_on(begin_s + doer.rng.uniform(3.0, 5.0), 50.0)
    ready = doer.prepare(back.end_s + doer.rng.uniform(1.5, 2.5))
    end_s = max(ready.to_s, back.end_s + 1.5)
    yield Phase(gone.end_s, gone.moves, gone.event, gone.event_s, Deed(str(Extra.STEP_OFF), begin_s, end_s, number))
    yield back
    if doer.profile.rail_fraction:
        yield Phase(back.end_s + 0.5, (Move(Lane.PRESENCE, back.end_s, 0.5, 1.0 - doer.profile.rail_fraction),))
    yield Phase(end_s, tuple(ready.moves))
