"""Which calibration goes with each scale that answers, and why a scale is refused for practice."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from weightshare.errors import CalibrationError, DeviceError, WeightshareError
from weightshare.model import Calibration, Identity, Side
from weightshare.pipeline.calibrate import find_calibration, require_sides
from weightshare.pipeline.couple import choose_sides, couple_calibrations, couple_identities, require_two
from weightshare.practice.gauge import is_expired
from weightshare.practice.words import NO_CALIBRATION
from weightshare.records.calibration import choose_calibration, read_calibration
from weightshare.scales.conversation import WAIT


@dataclass(frozen=True, slots=True)
class Chosen:
    """The scales of a session: their calibrations in the order of the sources, and the two as one."""

    calibrations: tuple[Calibration, ...]
    whole: Calibration
    """That of the one scale, or of two as one."""
    sides: tuple[Side, Side] | None = None
    """The feet that two scales are under; None with one."""


class Judge:
    """Finds the calibrations of the first scales that can be used, and from then on takes those scales only.

    One source is one scale under both feet; with two the first that answers waits for the other. Called from the links'
    threads; `accepted` is told once, before any of their items are delivered. `calibrations` and `faults` may be read
    from any thread. `sides`: the feet the two are under (None: as they say). Raises CalibrationError where a given file
    cannot be read.
    """

    def __init__(
        self,
        sources: Sequence[str],
        files: tuple[Path, ...],
        accepted: Callable[[Chosen], None],
        today: date,
        sides: tuple[Side, Side] | None = None,
    ) -> None:
        self.calibrations: tuple[Calibration, ...] = ()
        """Those that are used; empty before all scales are known."""
        self.faults: list[WeightshareError | None] = [None] * len(sources)
        """Why the newest scale at each source was refused; None where it was not."""
        self.expired: tuple[str, ...] = ()
        self._sources, self._files, self._sides = tuple(sources), files, sides
        self._given = [read_calibration(path) for path in files]
        self._accepted, self._today = accepted, today
        self._known: dict[int, tuple[Identity, Calibration]] = {}
        self._lock = threading.Lock()

    def add(self, calibrations: Sequence[Calibration]) -> None:
        """Add calibrations that came with the source: a saved session's own."""
        self._given.extend(calibrations)

    def __call__(self, identity: Identity, source: int = 0) -> str | None:
        """Return why the scale `identity` cannot be used, None where it can, or WAIT while the other is not known."""
        with self._lock:
            try:
                self._check(identity, source)
            except WeightshareError as error:
                self.faults[source] = error
                self._known.pop(source, None)
                return str(error)
            self.faults[source] = None
            return None if self.calibrations else WAIT

    def _check(self, identity: Identity, source: int) -> None:
        if self.calibrations:
            ours = self.calibrations[source].device_id
            if identity.device_id != ours:
                raise DeviceError(f"this is scale {identity.device_id}, and the session is on {ours}; plug that one in")
            return
        calibration = self._choose(identity, source)
        find_calibration(identity, [calibration])
        self._require_past(calibration)
        self._known[source] = identity, calibration
        if len(self._sources) == 1:
            require_sides(identity)
        elif len(self._known) == 2:
            self._sides = self._pair()
        if len(self._known) == len(self._sources):
            self._accept()

    def _pair(self) -> tuple[Side, Side]:
        """Return which foot each scale is under. Raises ProtocolError where they cannot be a pair."""
        first, second = self._known[0][0], self._known[1][0]
        require_two(first, second)
        sides = self._sides or choose_sides(first, second)
        couple_identities(first, second, sides)
        return sides

    def _accept(self) -> None:
        self.calibrations = tuple(calibration for _source, (_identity, calibration) in sorted(self._known.items()))
        self.expired = tuple(
            f"the calibration of scale {one.device_id} was valid until {one.valid_until}; make a new one"
            for one in self.calibrations
            if is_expired(one, self._today)
        )
        if len(self._sources) == 1:
            self._accepted(Chosen(self.calibrations, self.calibrations[0]))
            return
        assert self._sides is not None
        (first, one), (second, other) = self._known[0], self._known[1]
        whole = couple_calibrations((first, second), (one, other), self._sides)
        self._accepted(Chosen(self.calibrations, whole, self._sides))

    def _require_past(self, calibration: Calibration) -> None:
        if calibration.made_on > self._today:
            made, today = calibration.made_on.isoformat(), self._today.isoformat()
            raise CalibrationError(
                f"the calibration of scale {calibration.device_id} is dated {made}, and today is {today}; "
                "correct this computer's date, or calibrate anew"
            )

    def _choose(self, identity: Identity, source: int) -> Calibration:
        calibration = choose_calibration(identity.device_id, self._given)
        if len(self._files) == len(self._sources) and calibration not in self._given:
            theirs = ", ".join(given.device_id for given in self._given)
            files = ", ".join(map(str, self._files))
            raise CalibrationError(
                f"{files}: this calibration is of scale {theirs}, but scale {identity.device_id} answers; give its own"
            )
        if calibration is None:
            command = f"weightshare calibrate run --source {self._sources[source]} --masses 10,10,20,20"
            how = f"make one with `{command}` (your masses, in kg), or give --calibration FILE"
            raise DeviceError(f"scale {identity.device_id} {NO_CALIBRATION} and cannot be practised on; {how}")
        return calibration
