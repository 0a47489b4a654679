"""How well two clocks agree, and what that does to the share: added up row by row."""

from __future__ import annotations

import math

import numpy as np

from weightshare.model import Floats, Side
from weightshare.pipeline.align import Aligner
from weightshare.pipeline.block import MISSING_FROM
from weightshare.pipeline.summary import Sums
from weightshare.state import Alignment, Results, ScaleClock

DOUBT_LIMIT_MS = 10.0
POINTS_LIMIT = 1.0
"""More than so much spoils a share: that is told. A sway is some tens of points a second, an aim five points."""
_ROOT3 = math.sqrt(3.0)
"""A limit that is all that is known is divided by it: a rectangular distribution (JCGM 100:2008, 4.3.7)."""


class Agreement:
    """Adds up squares of what is doubtful of two scales' times, and of how fast the share moved."""

    def __init__(self) -> None:
        self._doubts, self._rates = Sums(2), Sums(2)
        self._last_s, self._last_share = math.nan, math.nan
        self._doubt_now_s, self._rate_now = math.nan, 0.0

    def push_doubts(self, doubts_s: Floats) -> None:
        """Take in the doubt of both scales' times in each row, s either way, shape (2, n)."""
        square = (doubts_s * doubts_s).sum(axis=0) / _ROOT3**2
        known = np.isfinite(square)
        self._doubts.push(np.stack((square[known], np.ones(np.count_nonzero(known)))))
        if square.size:
            self._doubt_now_s = math.sqrt(square[-1])

    def push_share(self, interval_s: float, results: Results) -> None:
        """Take in the share, row by row; a step over missing rows tells nothing."""
        if not results.time_s.size:
            return
        step_s = np.diff(results.time_s, prepend=self._last_s)
        moved = np.diff(results.share_percent, prepend=self._last_share)
        self._last_s, self._last_share = float(results.time_s[-1]), float(results.share_percent[-1])
        told = np.isfinite(moved) & (step_s <= MISSING_FROM * interval_s)
        self._rates.push(np.stack((moved[told] ** 2 / step_s[told], step_s[told])))
        self._rate_now = abs(float(moved[-1] / step_s[-1])) if told[-1] else 0.0

    @property
    def points_now(self) -> float | None:
        """What the doubt of times does to the newest share, points; None where it is not known."""
        return self._doubt_now_s * self._rate_now if math.isfinite(self._doubt_now_s) else None

    def figures(self) -> tuple[float | None, float | None, float | None]:
        """Return the doubt of the left time against the right (ms), the share's rate (points/s), and their product."""
        doubt_s, rate = _root_mean(self._doubts), _root_mean(self._rates)
        points = None if doubt_s is None or rate is None else doubt_s * rate
        return None if doubt_s is None else 1e3 * doubt_s, rate, points


def _root_mean(sums: Sums) -> float | None:
    total, weight = sums.totals().tolist()
    return math.sqrt(total / weight) if weight else None


def scale_clock(device_id: str, side: Side, aligner: Aligner) -> ScaleClock:
    """Return what is known of one scale's clock."""
    line = aligner.line
    return ScaleClock(
        device_id,
        side,
        # an offset that falls is a clock that gains
        drift_ppm=None if line is None else -1e6 * line.drift,
        drift_doubt_ppm=None if line is None else 1e6 * line.drift_u,
        offset_doubt_ms=None if line is None or line.half_s is None else 1e3 * line.half_s,
        round_trips=aligner.round_trips,
        restarts=aligner.restarts,
    )


def alignment_words(alignment: Alignment) -> tuple[str, ...]:
    """Return in words what spoils the share."""
    unanswered = [scale for scale in alignment.scales if scale.drift_ppm is not None and not scale.round_trips]
    words = [
        f"the {scale.side} scale answered no PING: its times rest on when its readings arrive, and may be late"
        for scale in unanswered
    ]
    doubt_ms, points = alignment.doubt_ms, alignment.share_doubt_points
    if doubt_ms is not None and (doubt_ms > DOUBT_LIMIT_MS or (points or 0.0) > POINTS_LIMIT):
        cost = "" if points is None else f", which makes {points:.1f} points of the share doubtful"
        words.append(
            f"the two scales agree in time to {doubt_ms:.0f} ms only{cost}: bring them nearer to the computer, "
            "or use cables"
        )
    return tuple(words)
