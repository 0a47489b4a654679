"""Where the centre of mass is at rest with the heels down: before a stay of the load on the forefoot, and after it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

import numpy as np

from weightshare.model import Floats
from weightshare.pipeline.figure import Rows
from weightshare.pipeline.forefoot import Stay
from weightshare.pipeline.tape import Tape, integrate
from weightshare.pipeline.travel import integrate_twice

LEAD_S = 0.2
"""The load goes forward so long before the heels leave, or longer: who stands still is taken to rest until then."""
PAUSE_S = 0.6
"""Between stays with less of a pause the rest is but an instant, where the speed turns from down to up."""
LANDING_S = 0.6
"""The load is back on the whole foot so long after it was half-way back."""
LANDED_PART = 0.25
LEVEL_S = 5.0
"""The force that carries the weight is the mean over so long before a stay ..."""
CYCLES_S = (2.0, 12.0)
"""... or since an instant of rest so long ago, for between two of them the force's mean is the weight."""
LEAST_S = 1.0
AROUND_S = 0.25
HALF_PART = 0.5


class ForceRows(IntEnum):
    """What the tape holds, row by row; from INJURED_N on as by height."""

    SIGNAL = 0
    """What the finder looks at: for heel raises the front part of the load, 0 to 1; NaN where nothing can be told."""
    TOTAL_N = 1
    INJURED_N = Rows.INJURED_N
    UNINJURED_N = Rows.UNINJURED_N
    PLATES_PERCENT = Rows.PLATES_PERCENT
    WEIGHT_N = Rows.WEIGHT_N
    PRESENT = Rows.PRESENT
    MISSING = Rows.MISSING
    SHARE_PERCENT = Rows.SHARE_PERCENT


@dataclass(slots=True)
class Raised:
    """What may be one raise: from the rest before it on. Times in s, of samples; forces in N."""

    first_s: float
    """Where the load is on the forefoot."""
    rest_s: float
    level_N: float
    """The force that carries the weight."""
    stay: Stay
    continues: bool = False
    """The load has been on the forefoot since the raise before."""
    last_s: float | None = None
    """Where the load is back, or the heels go up again; None while it lasts."""
    down_s: float | None = None
    """Where the heels are down again, where that was seen."""
    upwards: float = 1.0
    """-1 where going down is what is looked for."""
    lost: bool = False
    """The total force went where no centre of mass goes: it tells nothing."""


def find_level_N(tape: Tape, rests_s: list[float], rest_s: float, settled_s: float, weight_N: float) -> float:
    """Return the force (N) that carries the weight up to `rest_s`: by the earlier instants of rest, or by standing.

    Neither reaches beyond `settled_s`; where that is too little, it is `weight_N`.
    """
    least_s, most_s = CYCLES_S
    cycles = [earlier for earlier in rests_s if rest_s - most_s <= earlier <= rest_s - least_s]
    from_s = max(cycles[0] if cycles else rest_s - LEVEL_S, settled_s)
    if rest_s - max(from_s, float(tape.time_s[0])) < LEAST_S:
        return weight_N
    sums, read_s = integrate(*_part(tape, ForceRows.TOTAL_N, from_s, rest_s))
    return float(sums[0]) / read_s if read_s >= LEAST_S else weight_N


def find_course(tape: Tape, raised: Raised, mass_kg: float, until_s: float) -> tuple[Floats, Floats, Floats]:
    """Return times (n,), speed (m/s) and place (m), shape (n,) each, of the centre of mass since its rest."""
    time_s, values = _part(tape, ForceRows.TOTAL_N, raised.rest_s, until_s)
    known = ~np.isnan(values[0])
    time_s = time_s[known]
    return time_s, *integrate_twice(time_s, raised.upwards * (values[0, known] - raised.level_N) / mass_kg)


@dataclass(frozen=True, slots=True)
class Low:
    """Where the centre of mass turns up (s), how high it was before (m), and what part of that is left at the turn."""

    turn_s: float
    high_m: float = 0.0
    part: float = 1.0


def find_low(tape: Tape, raised: Raised, mass_kg: float, window: tuple[float, float]) -> Low:
    """Return where in `window` (s) the centre of mass turns up.

    Where it is down by half or more, the drift of its speed is taken off by its place there against that of the rest.
    """
    time_s, speed, place = find_course(tape, raised, mass_kg, window[1])
    first = int(time_s.searchsorted(window[0]))
    if time_s.size - first < 2:
        return Low(window[0])
    turn_s = _cross_up(time_s[first:], speed[first:])
    if turn_s is None:
        lowest = first + int(np.argmin(place[first:]))
        turn_s = float(time_s[lowest])
    since_s = time_s - raised.rest_s
    at = max(int(time_s.searchsorted(turn_s)), 1)
    level = place - 0.5 * since_s**2 * speed[at] / since_s[at]
    high_m = float(level[: at + 1].max())
    if high_m <= 0.0 or level[at] >= HALF_PART * high_m:
        return Low(turn_s)
    # after standing still the speed drifts with the weight's error; in a chain of raises it also begins with one
    drift = np.full(since_s.shape, 1.0 / since_s[at]) if raised.continues else 2.0 * since_s / since_s[at] ** 2
    better_s = _cross_up(time_s[first:], (speed - place[at] * drift)[first:])
    return Low(turn_s if better_s is None else better_s, high_m, float(level[at]) / high_m)


def _cross_up(time_s: Floats, values: Floats) -> float | None:
    """Return the last instant at which `values` (n,) come up through 0; None where there is none."""
    turns = np.flatnonzero((values[:-1] < 0.0) & (values[1:] >= 0.0))
    if not turns.size:
        return None
    at = int(turns[-1])
    return float(time_s[at] - values[at] * (time_s[at + 1] - time_s[at]) / (values[at + 1] - values[at]))


def find_landed_s(tape: Tape, last_s: float, until_s: float) -> float:
    """Return when the load is back on the whole foot after `last_s`, at the latest at `until_s`."""
    until_s = min(until_s, last_s + LANDING_S, float(tape.time_s[-1]))
    if until_s <= last_s:
        return last_s
    time_s, front = _part(tape, ForceRows.SIGNAL, last_s, until_s)
    known = ~np.isnan(front[0])
    if not known.any():
        return until_s
    level = front[0, known]
    landed = np.flatnonzero(level <= level.min() + LANDED_PART * (level[0] - level.min()))
    return float(min(time_s[known][landed[0]] + 0.05, until_s))


def _part(tape: Tape, row: int, from_s: float, to_s: float) -> tuple[Floats, Floats]:
    """Return times (n,) and one row (1, n) between two instants."""
    time_s, values = tape.between(from_s, to_s)
    return time_s, values[row : row + 1]
