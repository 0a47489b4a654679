"""Whether both sides read alike: the slope of the total against the share while the load goes slowly from side to side.

What stands there weighs the same wherever it stands. Let the left side read a part m higher than the right: then the
total T and the share s = left / T that are read obey 1 / T = A (1 - m / (1 + m) s), A a constant, and m follows from a
straight line through 1 / T over s. (Own derivation; an even error of both sides cannot be seen so, and needs masses.)
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from weightshare.metrology.estimate import Estimate
from weightshare.model import Floats

BLOCK_S = 0.5
"""Means over so long are what is fitted: the heart's beat and tremor lie above 1 Hz."""
LAGS = 6
"""So many blocks are taken to hang together: what is slower than 3 s is in the standard error."""
WIDTH = 7
BOB_COLUMN, INERTIA_S2 = 3, 0.01
"""By how much the total changes, as a part of it, where the share is sped up by 1 per s^2: its standard deviation from
one person to the next (judged; nobody was found who measured it)."""
LEAST_BLOCKS = 24
LEAST_POINTS = 10.0
"""So far the share has to go in all for the slope to be told, percentage points: a third of what is asked."""
REACH_PART = 0.7
"""Of the range that is asked for this part must have been covered."""
FAST_POINTS_PER_S2 = 12.0
"""A block in which the share is sped up by more is not used: the body bobs with it."""
UNREST_PART = 0.02
"""Nor is one in which the total's standard deviation is over this part of it: a bounce, a step."""
BAD_PART = 0.35
SPREAD_PART = 0.006
"""A fit that leaves more than this part of the total does not stand for one and the same load (common practice, no
source; quiet standing leaves 0.0005)."""
FLOOR_PERCENT = 0.05
"""What bobbing, creep and the filter leave of a mismatch, standard uncertainty (judged on virtual people)."""
U_LIMIT_PERCENT = 0.3
"""With a greater standard uncertainty nothing is decided."""
BEND_PART = 0.006
"""By how much a total may be bent over the share, as part of it, before somebody is taken to lean on something."""
LIMIT_PERCENT = 1.0
"""A mismatch that is allowed (common practice, no source)."""
IMPLAUSIBLE_PERCENT = 12.0
"""No scale is so far off; a hand that goes with the share is."""


class Verdict(StrEnum):
    """What came of the comparison of the two sides."""

    EVEN = "even"
    """Within the limit, with a probability of 95 % or more."""
    UNEVEN = "uneven"
    """Beyond the limit, likewise."""
    UNDECIDED = "undecided"
    """Too near to the limit for what is known."""
    UNTOLD = "cannot be told"
    """The load was not shifted in a way that tells anything."""


@dataclass(frozen=True, slots=True)
class Balance:
    """How much more the left side reads than the right, of one and the same load, percent of it.

    `mismatch` is None where it cannot be told; `reason` then says why, in words. `low_percent` and `high_percent` are
    the ends of the left side's share that were reached, `seconds` how much of the time was used.
    """

    verdict: Verdict
    mismatch: Estimate | None = None
    low_percent: float = math.nan
    high_percent: float = math.nan
    seconds: float = 0.0
    reason: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Blocks:
    """Means over BLOCK_S, all of shape (n,): time (s), left share (0 to 1), total (N), its unrest as a part of it."""

    time_s: Floats
    share: Floats
    total_N: Floats
    unrest: Floats

    def keep(self, where: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]) -> Blocks:
        """Return those blocks for which `where`, shape (n,), is true."""
        return Blocks(self.time_s[where], self.share[where], self.total_N[where], self.unrest[where])


def find_balance(
    time_s: Floats,
    left_N: Floats,
    right_N: Floats,
    *,
    asked_percent: tuple[float, float] = (35.0, 65.0),
    body_weight_N: float | None = None,
    limit_percent: float = LIMIT_PERCENT,
) -> Balance:
    """Return how the two sides compare, from forces (N, shape (n,)) at rising times (s) of one person who shifts.

    asked_percent: the ends of the left side's share that were asked for. body_weight_N: to tell whether a part of it
    lay elsewhere. Readings that are NaN are passed over.
    """
    blocks = cut_blocks(time_s, left_N, right_N)
    if blocks.time_s.size < LEAST_BLOCKS:
        return Balance(Verdict.UNTOLD, reason="there were too few readings of somebody who stands there")
    curve = accelerate(blocks)
    good = (np.abs(curve) <= FAST_POINTS_PER_S2 / 100.0) & (blocks.unrest <= UNREST_PART)
    if np.mean(~good) > BAD_PART or good.sum() < LEAST_BLOCKS:
        return Balance(Verdict.UNTOLD, reason="the load was shifted too fast, or not smoothly: go slowly")
    kept = blocks.keep(good)
    low, high = 100.0 * float(kept.share.min()), 100.0 * float(kept.share.max())
    reached = Balance(Verdict.UNTOLD, None, low, high, BLOCK_S * kept.share.size)
    reason = _range_reason(low, high, asked_percent) or _support_reason(kept, body_weight_N)
    return _untold(reached, reason) if reason else _judge(kept, curve[good], reached, limit_percent)


def cut_blocks(time_s: Floats, left_N: Floats, right_N: Floats) -> Blocks:
    """Return means of forces (N, shape (n,)) over whole blocks in which most readings are there and somebody stands."""
    known = np.isfinite(left_N) & np.isfinite(right_N)
    time_s, left_N, right_N = time_s[known], left_N[known], right_N[known]
    if not time_s.size:
        return Blocks(time_s, time_s, time_s, time_s)
    place = ((time_s - time_s[0]) / BLOCK_S).astype(np.int64)
    count = np.bincount(place).astype(np.float64)
    total = left_N + right_N
    some = np.maximum(count, 1.0)
    left, mean, middle_s, square = (
        np.bincount(place, weights=x) / some for x in (left_N, total, time_s, (total - total.mean()) ** 2)
    )
    unrest = np.sqrt(np.maximum(square - (mean - total.mean()) ** 2, 0.0)) / np.maximum(mean, 1.0)
    blocks = Blocks(middle_s, left / np.maximum(mean, 1.0), mean, unrest)
    return blocks.keep((count >= 0.6 * np.median(count[count > 0])) & (mean > 50.0))


def accelerate(blocks: Blocks) -> Floats:
    """Return how the share is sped up in each block, per s^2, shape (n,); NaN beside a gap.

    The ends take what is next to them. The second derivative of a parabola through WIDTH blocks (Savitzky and
    Golay, 1964): sway would drown a difference.
    """
    reach = WIDTH // 2
    place = np.arange(-reach, reach + 1, dtype=np.float64)
    parabola = np.linalg.pinv(np.column_stack((np.ones_like(place), place, 0.5 * place**2)))[2]
    inner = np.convolve(blocks.share, parabola[::-1], mode="valid") / BLOCK_S**2
    apart = np.abs(np.diff(blocks.time_s) - BLOCK_S) > 0.3 * BLOCK_S
    inner[np.convolve(apart, np.ones(WIDTH - 1), mode="valid") > 0.5] = np.nan
    return np.pad(inner, reach, mode="edge")


def _range_reason(low: float, high: float, asked: tuple[float, float]) -> str:
    if high - low >= max(LEAST_POINTS, REACH_PART * (asked[1] - asked[0])):
        return ""
    return f"the load went from {low:.0f} to {high:.0f} % on the left only: shift further, if you may"


def _support_reason(blocks: Blocks, body_weight_N: float | None) -> str:
    """Return in words whether a part of the weight was elsewhere: on a rail, a chair, the floor."""
    if body_weight_N is None or float(np.median(blocks.total_N)) >= 0.95 * body_weight_N:
        return ""
    return "a part of the weight was elsewhere: on a rail, a crutch or the floor"


def _judge(blocks: Blocks, curve: Floats, reached: Balance, limit_percent: float) -> Balance:
    """Fit, ask whether the fit stands, and decide."""
    inverse = float(np.median(blocks.total_N)) / blocks.total_N
    when = (blocks.time_s - blocks.time_s.mean()) / max(float(np.ptp(blocks.time_s)), BLOCK_S)
    middle = 0.5 * (reached.low_percent + reached.high_percent) / 100.0
    columns = np.column_stack((np.ones_like(when), blocks.share - middle, when, curve))
    plain = fit_line(columns, inverse, np.ones_like(when))
    line = fit_line(columns, inverse, soften(plain.left))
    mismatch, other = _mismatch_of(line, middle), _mismatch_of(plain, middle)
    reason = _fit_reason(columns, inverse, line.left) or _doubt_reason(mismatch, other.value)
    return _untold(reached, reason) if reason else _decide(reached, mismatch, limit_percent)


def _mismatch_of(line: Line, middle: float) -> Estimate:
    ratio = float(line.fit[1] / (line.fit[0] - line.fit[1] * middle))
    u_percent = 100.0 * float(line.u[1] / line.fit[0])
    return Estimate(100.0 * _from_ratio(ratio), math.hypot(u_percent, FLOOR_PERCENT), _dof(line.left))


def _from_ratio(ratio: float) -> float:
    """Return m where the line falls by `ratio` = m / (1 + m) from one side to the other; its sign turned."""
    return -ratio / (1.0 + ratio)


def _fit_reason(columns: Floats, inverse: Floats, left: Floats) -> str:
    """Return in words why the fit does not stand for one and the same load; nothing where it does."""
    if float(np.std(left)) > SPREAD_PART:
        return "the total was not steady: a hand on a rail, or bouncing"
    way = columns[:, 1]
    bent = fit_line(np.column_stack((columns, way * way)), inverse, np.ones_like(inverse))
    far = float(np.abs(way).max()) ** 2
    bend, u_bend = abs(float(bent.fit[-1])) * far, float(bent.u[-1]) * far
    if bend > BEND_PART and bend > 4.0 * u_bend:
        return "the total changed with the way the load went: somebody leaned on something at the ends"
    return ""


def _doubt_reason(mismatch: Estimate, other_percent: float) -> str:
    if mismatch.u > U_LIMIT_PERCENT:
        return f"it is known to {mismatch.expanded():.1f} % only: the total was not steady, or the way too short"
    if abs(mismatch.value - other_percent) > max(4.0 * mismatch.u, 0.4):
        return "single moments decide it: stand freely, and shift evenly"
    if abs(mismatch.value) > IMPLAUSIBLE_PERCENT:
        return "the total went with the share: somebody leaned on something on one side"
    return ""


def _decide(reached: Balance, mismatch: Estimate, limit_percent: float) -> Balance:
    inside = probability_within(mismatch, limit_percent)
    verdict = Verdict.EVEN if inside >= 0.95 else Verdict.UNEVEN if inside <= 0.05 else Verdict.UNDECIDED
    return Balance(verdict, mismatch, reached.low_percent, reached.high_percent, reached.seconds)


def _untold(reached: Balance, reason: str) -> Balance:
    return Balance(Verdict.UNTOLD, None, reached.low_percent, reached.high_percent, reached.seconds, reason)


def probability_within(estimate: Estimate, limit: float) -> float:
    """Return the probability that the value lies within `limit` of 0 (JCGM 106:2012, 7.4), by Student's t."""
    from scipy.special import ndtr, stdtr

    def below(edge: float) -> float:
        z = (edge - estimate.value) / estimate.u if estimate.u > 0 else math.copysign(math.inf, edge - estimate.value)
        return float(ndtr(z) if math.isinf(estimate.dof) else stdtr(estimate.dof, z))

    return below(limit) - below(-limit)


@dataclass(frozen=True, slots=True, eq=False)
class Line:
    """A fit: its coefficients and their standard errors, shape (k,), and what it leaves, shape (n,)."""

    fit: Floats
    u: Floats
    left: Floats


def fit_line(columns: Floats, value: Floats, weight: Floats) -> Line:
    """Return the least-squares fit of `columns` (n, k; 1, share, time, acceleration, ...) to `value` (n,) by weight.

    How much somebody bobs is held to what bodies do, INERTIA_S2 about none: who sways like a pendulum speeds up as the
    share goes, and the two could not be told apart. It is the mean of the posterior under that prior, with its spread;
    the residuals count as so much less as they hang together.
    """
    prior = np.zeros(columns.shape[1])
    plain = _solve(columns, value, weight, prior)
    prior[BOB_COLUMN] = long_variance(value - columns @ plain, columns.shape[1]) / INERTIA_S2**2
    fit = _solve(columns, value, weight, prior)
    left = value - columns @ fit
    inner = np.linalg.pinv(columns.T @ (columns * weight[:, None]) + np.diag(prior))
    return Line(fit, np.sqrt(long_variance(left, columns.shape[1]) * np.diag(inner)), left)


def _solve(columns: Floats, value: Floats, weight: Floats, prior: Floats) -> Floats:
    rows = np.vstack((columns * np.sqrt(weight)[:, None], np.diag(np.sqrt(prior))))
    goal = np.concatenate((value * np.sqrt(weight), np.zeros(len(prior))))
    return np.asarray(np.linalg.lstsq(rows, goal, rcond=None)[0], dtype=np.float64)


def long_variance(left: Floats, fitted: int) -> float:
    """Return the variance of residuals (n,), as if each told as much as one that hangs together with no other.

    Newey and West (1987), with Bartlett's weights over LAGS blocks; n / (n - fitted) for the coefficients.
    """
    count = len(left)
    whole = float(left @ left)
    for lag in range(1, min(LAGS, count - 1) + 1):
        whole += 2.0 * (1.0 - lag / (LAGS + 1.0)) * float(left[lag:] @ left[:-lag])
    return max(whole, float(left @ left)) / max(count - fitted, 1)


def soften(left: Floats) -> Floats:
    """Return Huber's weights of residuals, shape (n,): 1 within 1.345 of their spread (Huber, 1964; by the MAD)."""
    size = 1.4826 * float(np.median(np.abs(left - np.median(left)))) + 1e-12
    return np.minimum(1.0, 1.345 * size / np.maximum(np.abs(left), 1e-15))


def _dof(left: Floats) -> float:
    """Return how many residuals there are as if they did not hang together, less what was fitted (by their lag one)."""
    tied = float(np.clip((left[1:] @ left[:-1]) / max(float(left @ left), 1e-300), 0.0, 0.9))
    return max(len(left) * (1.0 - tied) / (1.0 + tied) - 4.0, 3.0)
