"""Two separate scales, read as if they were one: one identity, one calibration, one stream of readings."""

from __future__ import annotations

from collections.abc import Sequence

from weightshare.errors import ProtocolError
from weightshare.model import Calibration, Condition, Floats, Identity, Item, Side
from weightshare.pipeline.agreement import Agreement, alignment_words, scale_clock
from weightshare.pipeline.calibrate import find_calibration
from weightshare.pipeline.clock import Timed
from weightshare.pipeline.couple import couple_calibrations, couple_identities
from weightshare.pipeline.fault import fault_words
from weightshare.pipeline.pairing import Pairing
from weightshare.state import Alignment, Results


class Duo:
    """Items of two scales in; readings of both on one grid out.

    `identity` and `calibration` are those of both as one, None before both have spoken.
    """

    def __init__(self, calibrations: Sequence[Calibration], sides: tuple[Side, Side]) -> None:
        self.identity: Identity | None = None
        self.calibration: Calibration | None = None
        self._calibrations, self._sides = tuple(calibrations), sides
        self._told: list[Identity | None] = [None, None]
        self._faults = [0, 0]
        self._pairing, self._agreement = Pairing(), Agreement()

    def push(self, source: int, item: Item) -> None:
        """Take in an item of one scale.

        Raises CalibrationError or ProtocolError where a scale cannot be used, or the two cannot be a pair.
        """
        if isinstance(item, Identity):
            self._meet(source, item)
        elif isinstance(item, Condition):
            self._faults[source] |= item.faults
        self._pairing.push(source, item)

    def _meet(self, source: int, identity: Identity) -> None:
        known = self._told[source]
        if known is not None and (known.device_id, known.channels) != (identity.device_id, identity.channels):
            raise ProtocolError(
                f"scale {identity.device_id} says that it is another than before in this session ({known.device_id}), "
                "or has other channels: begin a new session"
            )
        self._told[source] = identity
        first, second = self._told
        if first is None or second is None:
            return
        self.identity = couple_identities(first, second, self._sides)
        if self.calibration is None:
            own = find_calibration(first, self._calibrations), find_calibration(second, self._calibrations)
            self.calibration = couple_calibrations((first, second), own, self._sides)

    def settle(self) -> list[Timed]:
        """Return the readings that are decided."""
        return self._give(self._pairing.settle())

    def finish(self) -> list[Timed]:
        """Both streams end here; return the readings that were still waiting."""
        return self._give(self._pairing.finish())

    def _give(self, found: Sequence[tuple[Timed, Floats]]) -> list[Timed]:
        for _, doubts_s in found:
            self._agreement.push_doubts(doubts_s)
        return [timed for timed, _ in found]

    def hear(self, results: Results) -> None:
        """Take in what came of readings: how fast the share moves is what makes a doubt of times matter."""
        self._agreement.push_share(self._pairing.interval_s, results)

    @property
    def clock_points(self) -> float | None:
        """What two clocks do to the newest share, points (standard uncertainty); None where it is not known."""
        return self._agreement.points_now

    @property
    def alignment(self) -> Alignment | None:
        """How well both agree in time so far; None before both have spoken."""
        first, second = self._told
        if first is None or second is None:
            return None
        clocks = [
            scale_clock(identity.device_id, side, aligner)
            for identity, side, aligner in zip((first, second), self._sides, self._pairing.aligners, strict=True)
        ]
        return Alignment(*self._agreement.figures(), (clocks[0], clocks[1]))

    @property
    def warnings(self) -> tuple[str, ...]:
        """What spoils times and readings, in words, with the side that it is of."""
        said = [
            words.replace("the scale", f"the {side} scale", 1)
            for side, aligner, faults in zip(self._sides, self._pairing.aligners, self._faults, strict=True)
            for words in (*aligner.warnings, *fault_words(faults))
        ]
        alignment = self.alignment
        return (*said, *(alignment_words(alignment) if alignment else ()))
