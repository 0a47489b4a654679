"""How a scale changed from one calibration to the next: its slopes and its zeros."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from weightshare.metrology.estimate import Estimate
from weightshare.metrology.found import SLOPE
from weightshare.model import ChannelCalibration
from weightshare.records.bench import Kept


@dataclass(frozen=True, slots=True)
class Change:
    """What one channel did between two calibrations. `slope_percent.u` is NaN where a slope's own is not known.

    The two slopes are taken as independent: with the same masses both times their common error cancels, and the
    uncertainty is a little too great rather than too small.
    """

    channel: int
    since: date
    until: date
    slope_percent: Estimate
    zero_N: float
    """The later zero less the earlier one."""

    @property
    def is_sure(self) -> bool:
        """Whether the slope changed by more than its 95 % interval."""
        return abs(self.slope_percent.value) > self.slope_percent.expanded()


def changes(kept: Sequence[Kept]) -> tuple[Change, ...]:
    """Return each channel's change from every calibration to the next; `kept` is by date, of one scale."""
    return tuple(one for first, then in pairwise(kept) for one in changes_between(first, then))


def changes_between(first: Kept, then: Kept) -> Iterator[Change]:
    """Yield the change of each channel that both calibrations have, and that the later one is really of."""
    theirs = {channel.index: channel for channel in then.calibration.channels}
    for channel in first.calibration.channels:
        if channel.index in theirs and theirs[channel.index].made_on is None:
            yield _change(first, then, channel, theirs[channel.index])


def _change(first: Kept, then: Kept, before: ChannelCalibration, after: ChannelCalibration) -> Change:
    ratio = after.newton_per_count / before.newton_per_count
    parts = slope_part(first, before), slope_part(then, after)
    # Welch and Satterthwaite (JCGM 100:2008, G.4.1), for the difference of two relative figures
    u = math.hypot(parts[0].u, parts[1].u)
    shares = [part.u**4 / part.dof for part in parts if math.isfinite(part.dof)]
    dof = u**4 / sum(shares) if shares and sum(shares) > 0.0 else math.inf
    return Change(
        before.index,
        first.calibration.made_on_of(before),
        then.calibration.made_on,
        Estimate(100.0 * (ratio - 1.0), 100.0 * ratio * u, dof),
        after.newton_per_count * (after.zero_counts - before.zero_counts),
    )


def slope_part(kept: Kept, channel: ChannelCalibration) -> Estimate:
    """Return the relative standard uncertainty of a channel's slope; `u` is NaN where the file does not have it."""
    for figure in kept.found.figures if kept.found is not None else ():
        if figure.name == SLOPE and figure.channel == channel.index:
            return Estimate(1.0, abs(figure.estimate.u / figure.estimate.value), figure.estimate.dof)
    for one in kept.taken:
        if one.channel == channel.index:
            return Estimate(1.0, abs(one.slope.u / one.slope.value), one.slope.dof)
    return Estimate(1.0, math.nan)
