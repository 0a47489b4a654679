"""Settled readings of store-bought scales: how old each is, which are new, and what two of them make together."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from enum import StrEnum

from weightshare.model import Side
from weightshare.pipeline.symmetry import limb_symmetry_index
from weightshare.scales.air.settled import Heard

OLD_AFTER_S, GONE_AFTER_S = 60.0, 180.0
"""From here on a reading is marked old; from here on it is not shown. Nobody stands still for longer."""
TOGETHER_S = 10.0
"""Two readings make a share when they came within this time of each other: both scales settle within a few seconds."""
CLOCK_S = 60.0
"""How far a scale's clock may be from this computer's, for a reading's own time to be believed."""
_APART_S, _SLACK_S = 5.0, 5.0
"""Readings that a scale kept come all at once, in less than the first; by the second a clock that is set wrongly may
seem to go wrong: it tells whole seconds, and a reading is sent when it likes."""


class Freshness(StrEnum):
    """How old a reading is."""

    FRESH = "fresh"
    OLD = "old"
    GONE = "gone"
    """Too old to be shown."""


def age_s(heard: Heard, now_ns: int) -> float:
    """Return how long ago a reading came, s, on the host's monotonic clock."""
    return (now_ns - heard.arrived_ns) / 1e9


def freshness(age: float) -> Freshness:
    """Return how a reading of `age` seconds is to be shown."""
    if age < OLD_AFTER_S:
        return Freshness.FRESH
    return Freshness.OLD if age < GONE_AFTER_S else Freshness.GONE


def is_kept(heard: Heard, before: Heard | None) -> bool:
    """Return whether a reading was kept by the scale from an earlier time, and only sent now.

    Its own time says so. A scale whose clock is set wrongly is believed all the same once its clock has gone on, from
    the reading `before`, as far as ours has: kept readings come in one go.
    """
    stamp = _stamp(heard)
    if stamp is None or abs(stamp) <= timedelta(seconds=CLOCK_S):
        return False
    earlier = None if before is None else _stamp(before)
    if before is None or earlier is None:
        return True
    apart_s = (heard.arrived_ns - before.arrived_ns) / 1e9
    return apart_s < _APART_S or abs(stamp - earlier) > timedelta(seconds=_SLACK_S)


def _stamp(heard: Heard) -> timedelta | None:
    """Return how far a reading's own time is from its arrival; None where it tells none."""
    if heard.weighing is None or heard.weighing.stamp is None:
        return None
    return heard.arrived_at.replace(tzinfo=None) - heard.weighing.stamp


@dataclass(frozen=True, slots=True)
class Pair:
    """Two readings that belong together, one of each foot."""

    injured_kg: float
    other_kg: float
    apart_s: float
    """How far apart they came."""
    age_s: float
    """How old the older one is."""

    @property
    def total_kg(self) -> float:
        """What both carry."""
        return self.injured_kg + self.other_kg

    @property
    def share_percent(self) -> float | None:
        """The injured side's share, percent; None where nobody stands there."""
        return 100.0 * self.injured_kg / self.total_kg if self.total_kg else None

    @property
    def symmetry_percent(self) -> float | None:
        """The limb symmetry index, percent; None where there is nothing on the other side."""
        return limb_symmetry_index(self.injured_kg, self.other_kg)


class Book:
    """The newest reading of each side. A newer one always takes the place of an older, also where weighing failed."""

    def __init__(self, sides: tuple[Side, ...]) -> None:
        self.sides = sides
        self._newest: dict[Side, Heard] = {}
        self._kept: dict[Side, Heard] = {}
        self._last: dict[Side, Heard] = {}

    def take(self, side: Side, heard: Heard) -> bool:
        """Take a reading of `side`; return whether it is a new one, not one that the scale kept from before."""
        kept = is_kept(heard, self._last.get(side))
        self._last[side] = heard
        if kept:
            self._kept[side] = heard
        else:
            self._newest[side] = heard
            self._kept.pop(side, None)
        return not kept

    def forget(self) -> None:
        """Forget the readings: they were of something else than one foot on each scale."""
        self._newest.clear()

    def newest(self, side: Side) -> Heard | None:
        """Return the newest reading of `side`."""
        return self._newest.get(side)

    def kept(self, side: Side) -> Heard | None:
        """Return the newest reading that the scale under `side` kept from before; None where a new one came since."""
        return self._kept.get(side)

    def load_kg(self, side: Side, now_ns: int) -> float | None:
        """Return the newest load on `side` that may be shown, kg; None where there is none."""
        heard = self._newest.get(side)
        if heard is None or heard.weighing is None or freshness(age_s(heard, now_ns)) is Freshness.GONE:
            return None
        return heard.weighing.load_kg

    def apart_s(self) -> float | None:
        """Return how far apart the newest readings of both sides came, s; None without two."""
        if len(self._newest) < len(Side):
            return None
        first, second = (heard.arrived_ns for heard in self._newest.values())
        return abs(first - second) / 1e9

    def pair(self, injured: Side, now_ns: int) -> Pair | None:
        """Return the two newest readings as one; None where a side has none to show, or they came too far apart."""
        ours, other = self.load_kg(injured, now_ns), self.load_kg(injured.other, now_ns)
        apart = self.apart_s()
        if ours is None or other is None or apart is None or apart > TOGETHER_S:
            return None
        return Pair(ours, other, apart, max(age_s(heard, now_ns) for heard in self._newest.values()))
