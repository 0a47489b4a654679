"""Which of two plates a foot presses lightly: from how the loads rise over what lay there while all was still."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from enum import Enum

from weightshare.practice.startmeter import PlateSeen

NEEDED_N = 20.0
"""A press this light counts, N: a foot that is set down from a chair gives more."""
NEEDED_SDS, NEEDED_COUNT_SDS = 10.0, 40.0
"""What else a press has to rise by, in standard deviations of the resting plate; more where newtons are not known."""
OTHER_PART = 0.25
"""The other plate has to stay within this part of the press."""
STILL_N, STILL_SDS = 3.0, 4.0
"""Still is a plate whose standard deviation is at most so many N; in counts, so many times the least that was seen."""
STILL_S, PRESS_S = 0.8, 0.5


class Feel(Enum):
    """What the plates feel."""

    RESTLESS = "restless"
    """They are not still yet."""
    WAITING = "waiting"
    """They are still: now the foot may press."""
    BOTH = "both"
    """Both went up: it cannot be told which one was meant."""
    FOUND = "found"


class PressWatch:
    """Takes the newest of both plates, a few times a second. `found` is the place of the one that was pressed."""

    def __init__(self) -> None:
        self.feel = Feel.RESTLESS
        self.found: int | None = None
        self._rest: tuple[float, float] | None = None
        self._needed = (0.0, 0.0)
        self._least = [float("inf"), float("inf")]
        self._since_s: dict[str, float] = {}
        self._levels: deque[tuple[float, float, float]] = deque(maxlen=64)

    def again(self) -> None:
        """Begin anew, with whatever lies there now."""
        self.feel, self.found, self._rest = Feel.RESTLESS, None, None
        self._since_s.clear()

    def push(self, time_s: float, plates: Sequence[PlateSeen]) -> Feel:
        """Take what two plates read at `time_s` (s, any clock); return what they feel."""
        if self.feel is Feel.FOUND:
            return self.feel
        levels = [plate.level for plate in plates]
        if len(levels) != 2 or levels[0] is None or levels[1] is None:
            self.again()
            return self.feel
        now = (levels[0], levels[1])
        if self._rest is None:
            self._settle(time_s, now, plates)
        else:
            rest = self._rest
            self._compare(time_s, (now[0] - rest[0], now[1] - rest[1]))
        return self.feel

    def _settle(self, time_s: float, now: tuple[float, float], plates: Sequence[PlateSeen]) -> None:
        still = [self._is_still(place, plate) for place, plate in enumerate(plates)]
        if self._lasts("still", all(still), time_s, STILL_S):
            self._rest = now
            self._needed = (_needed(plates[0]), _needed(plates[1]))
            self.feel = Feel.WAITING

    def _is_still(self, place: int, plate: PlateSeen) -> bool:
        if plate.sd is None:
            return False
        self._least[place] = min(self._least[place], plate.sd)
        return plate.sd <= STILL_N if plate.in_newtons else plate.sd <= STILL_SDS * self._least[place]

    def _compare(self, time_s: float, risen: tuple[float, float]) -> None:
        over = [one >= needed for one, needed in zip(risen, self._needed, strict=True)]
        if self.feel is Feel.BOTH:
            if self._lasts("off", not any(over), time_s, PRESS_S):
                self.again()
            return
        for place, other in ((0, 1), (1, 0)):
            quiet = max(self._needed[other] / 2.0, OTHER_PART * risen[place] if self._alike else 0.0)
            if self._lasts(str(place), over[place] and abs(risen[other]) <= quiet, time_s, PRESS_S):
                self.feel, self.found = Feel.FOUND, place
        if self._lasts("both", all(over), time_s, PRESS_S):
            self.feel = Feel.BOTH
        if self._lasts("less", min(r + n for r, n in zip(risen, self._needed, strict=True)) < 0, time_s, PRESS_S):
            # something was taken away: that was no rest to compare with
            self.again()

    @property
    def _alike(self) -> bool:
        """Whether both plates read in the same unit."""
        return self._needed[0] == self._needed[1] == NEEDED_N

    def _lasts(self, what: str, holds: bool, time_s: float, needed_s: float) -> bool:
        if not holds:
            self._since_s.pop(what, None)
            return False
        return time_s - self._since_s.setdefault(what, time_s) >= needed_s


def _needed(plate: PlateSeen) -> float:
    sd = plate.sd or 0.0
    return max(NEEDED_N, NEEDED_SDS * sd) if plate.in_newtons else NEEDED_COUNT_SDS * sd
