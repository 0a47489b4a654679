"""Which calibration goes with the scale that answers, and why a scale is refused for practice."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

from weightshare.errors import CalibrationError, DeviceError, WeightshareError
from weightshare.model import Calibration, Identity
from weightshare.pipeline.calibrate import find_calibration, require_sides
from weightshare.practice.gauge import is_expired
from weightshare.practice.words import NO_CALIBRATION
from weightshare.records.calibration import choose_calibration, read_calibration


class Judge:
    """Finds the calibration of the first scale that can be used, and from then on takes that scale only.

    Called from the link's thread; `accepted` is told once, before any of that scale's items are delivered.
    `calibration` and `fault` may be read from any thread. Raises CalibrationError where a given file cannot be read.
    """

    def __init__(
        self, source: str, files: tuple[Path, ...], accepted: Callable[[Calibration], None], today: date
    ) -> None:
        self.calibration: Calibration | None = None
        self.fault: WeightshareError | None = None
        """Why the newest scale was refused; None where it was not."""
        self.expired = ""
        self._source = source
        self._files = files
        self._given = [read_calibration(path) for path in files]
        self._accepted = accepted
        self._today = today

    def add(self, calibration: Calibration) -> None:
        """Add a calibration that came with the source: a saved session's own."""
        self._given.append(calibration)

    def __call__(self, identity: Identity) -> str | None:
        """Return why the scale `identity` cannot be used, or None where it can."""
        try:
            self._check(identity)
        except WeightshareError as error:
            self.fault = error
            return str(error)
        self.fault = None
        return None

    def _check(self, identity: Identity) -> None:
        if self.calibration is not None:
            if identity.device_id != self.calibration.device_id:
                ours = self.calibration.device_id
                raise DeviceError(f"this is scale {identity.device_id}, and the session is on {ours}; plug that one in")
            return
        calibration = self._choose(identity)
        find_calibration(identity, [calibration])
        require_sides(identity)
        self._require_past(calibration)
        if is_expired(calibration, self._today):
            until = calibration.valid_until
            self.expired = f"the calibration of scale {identity.device_id} was valid until {until}; make a new one"
        self.calibration = calibration
        self._accepted(calibration)

    def _require_past(self, calibration: Calibration) -> None:
        if calibration.made_on > self._today:
            made, today = calibration.made_on.isoformat(), self._today.isoformat()
            raise CalibrationError(
                f"the calibration of scale {calibration.device_id} is dated {made}, and today is {today}; "
                "correct this computer's date, or calibrate anew"
            )

    def _choose(self, identity: Identity) -> Calibration:
        calibration = choose_calibration(identity.device_id, self._given)
        if self._files and calibration not in self._given:
            theirs = ", ".join(given.device_id for given in self._given)
            files = ", ".join(map(str, self._files))
            raise CalibrationError(
                f"{files}: this calibration is of scale {theirs}, but scale {identity.device_id} answers; give its own"
            )
        if calibration is None:
            command = f"weightshare calibrate run --source {self._source} --masses 10,10,20,20"
            how = f"make one with `{command}` (your masses, in kg), or give --calibration FILE"
            raise DeviceError(f"scale {identity.device_id} {NO_CALIBRATION} and cannot be practised on; {how}")
        return calibration
