"""The check of the plates in a terminal: what is asked for, step by step, and what came of it."""

from __future__ import annotations

import time
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from typing import Any

from weightshare.errors import DeviceError, WeightshareError
from weightshare.metrology.alone import gains_of, is_off
from weightshare.metrology.balance import LIMIT_PERCENT, Balance, Verdict
from weightshare.metrology.estimate import Estimate
from weightshare.model import Side
from weightshare.practice.checkup import CheckupView
from weightshare.practice.engine import Engine
from weightshare.practice.gauge import is_expired
from weightshare.practice.option import PractiseOptions
from weightshare.practice.upkeep import balance_words
from weightshare.records.drift import ZERO_LIMIT_N
from weightshare.scales.rig.shift import Shift

SCHEMA = "weightshare.check/1"
PATIENCE_S, SHORT_S = 10.0, 3.0
"""How long a scale that gives no samples is waited for, and one that cannot be used, s of host time."""
NO_WAY = "the load may not be shifted under this limit: check by known masses (--by masses) or a helper (--by helper)"
NO_ZERO = "the zero was not taken: take everything off the plates, and check again"
TURN = "Put {what} on the {side} plate alone, and keep still."


class Way(StrEnum):
    """By what the two plates are compared."""

    SHIFT = "shift"
    MASSES = "masses"
    HELPER = "helper"

    @property
    def load(self) -> str:
        """What is put on, in words."""
        return "the helper" if self is Way.HELPER else "the masses"


@dataclass(frozen=True, slots=True)
class Checked:
    """What came of a check; `findings` is all that was said of the scale."""

    device_id: str
    way: Way
    balance: Balance
    view: CheckupView
    findings: tuple[str, ...] = ()
    expired: bool = False
    gains: dict[Side, Estimate] = field(default_factory=dict)
    """Of each side, percent, where the weight is known."""
    weight_kg: float | None = None
    """What was said that masses or helper weigh."""

    @property
    def zero_N(self) -> tuple[float, float] | None:
        """How far both zeros are from the calibration's, N; None where none was taken."""
        return self.view.zero_N

    @property
    def words(self) -> str:
        """What came of comparing the two sides, in one line."""
        return balance_words(self.balance)

    @property
    def passed(self) -> bool:
        """Whether both read alike, and right where the weight is known, and nothing else is wrong with them."""
        zeros = self.zero_N is not None and max(map(abs, self.zero_N)) <= ZERO_LIMIT_N
        even = self.balance.verdict is Verdict.EVEN and not self.off
        return even and zeros and not self.view.remarks and not self.expired

    @property
    def off(self) -> tuple[Side, ...]:
        """The sides that read something else than the weight that was said."""
        return tuple(side for side, gain in self.gains.items() if is_off(gain))

    @property
    def gain_words(self) -> tuple[str, ...]:
        """What each side reads of the weight that was said, and what to do where that is wrong; a line each."""
        lines = [
            f"the {side} plate reads {amount_words(gain.value)} (within {gain.expanded():.2f})"
            for side, gain in self.gains.items()
        ]
        if not self.off or self.weight_kg is None:
            return tuple(lines)
        told = f"{self.weight_kg:g} kg were told, and more than {LIMIT_PERCENT:g} % off is too much"
        if len(self.off) > 1 and self.balance.verdict is Verdict.EVEN:
            doubt = "both plates agree, so the weight that was told may be wrong: weigh it again; if it is right"
        else:
            doubt = "if that weight is right"
        return (*lines, f"{told}; {doubt}, calibrate anew (weightshare calibrate run)")

    def to_json(self) -> dict[str, Any]:
        """Return it as the object that is printed; a figure that cannot be had is null."""
        balance, mismatch = self.balance, self.balance.mismatch
        told = mismatch is not None
        return {
            "schema": SCHEMA,
            "device_id": self.device_id or None,
            "by": str(self.way),
            "passed": self.passed,
            "verdict": str(balance.verdict),
            "mismatch_percent": round(mismatch.value, 4) if mismatch else None,
            "standard_uncertainty_percent": round(mismatch.u, 4) if mismatch else None,
            "within_percent": round(mismatch.expanded(), 4) if mismatch else None,
            "left_share_percent": [round(balance.low_percent, 2), round(balance.high_percent, 2)] if told else None,
            "weight_kg": self.weight_kg,
            "gains_off": [str(side) for side in self.off],
            "gains_percent": {str(side): round(gain.value, 4) for side, gain in self.gains.items()} or None,
            "zero_N": None
            if self.zero_N is None
            else dict(zip(("left", "right"), (round(n, 3) for n in self.zero_N), strict=True)),
            "temperature_degC": self.view.temperature_degC,
            "calibration_expired": self.expired,
            "remarks": list(self.view.remarks),
            "warnings": [balance.reason] if balance.reason else [],
            "findings": list(self.findings),
        }


class Checker:
    """One check. `look` returns what is to be said now; `is_over` when there is a result, or none will come."""

    def __init__(
        self, options: PractiseOptions, way: Way, weight_kg: float | None = None, engine: Engine | None = None
    ) -> None:
        self.engine = engine or Engine(options)
        self._settings, self._way, self._weight_kg = options.settings, way, weight_kg
        self._began_s = time.monotonic()
        self._said: list[str] = []
        self._begun = self._shifted = False
        self._failed, self._source = "", options.sources[0]
        self._fault: WeightshareError | None = None

    @property
    def is_over(self) -> bool:
        """Whether the check has come to its end."""
        view, fault = self.engine.view(), self.engine.fault
        self._fault = fault
        if not self.engine.has_sampled and time.monotonic() - self._began_s > (
            PATIENCE_S if fault is None else SHORT_S
        ):
            return True
        checkup = view.checkup
        done = self._begun and checkup is not None and not checkup.under_way and checkup.balance is not None
        return done or bool(self._failed) or self.engine.is_over

    def look(self) -> list[str]:
        """Go on with the check; return what is to be said, each line once."""
        view = self.engine.view()
        checkup = view.checkup
        if checkup is None or view.snapshot.zero_taken is None:
            return self._say("Please stay off the plates.")
        if view.snapshot.zero_taken is False:
            self._failed = NO_ZERO
        elif self._way is Way.SHIFT:
            return self._shift(checkup)
        else:
            return self._turn(checkup)
        return []

    def _shift(self, checkup: CheckupView) -> list[str]:
        snapshot = self.engine.view().snapshot
        if snapshot.body_weight_N is None:
            return self._say("Step on with both feet, and stand still.")
        if not self._begun:
            if checkup.asked_percent is None:
                self._failed = NO_WAY
                return []
            self._begun = True
            self.engine.compare()
            low, high = checkup.asked_percent
            how = f"never further than {high:.0f} % on the left and {100 - low:.0f} % on the right"
            return self._say(f"Shift your weight slowly from side to side, both feet on, {how}.")
        if checkup.under_way:
            return self._say(f"Now slowly to the {checkup.toward}.", again=True)
        return []

    def _turn(self, checkup: CheckupView) -> list[str]:
        if not self._begun:
            self._begun = True
            self.engine.upkeep.begin_turns()
        if not self._shifted and self.engine.rig is not None and self.engine.view().snapshot.body_weight_N is not None:
            # the virtual person stands in for the load, wholly on one plate and then on the other
            self._shifted = True
            self.engine.rig.shift(Shift(0.0, 100.0, passes=2, stay_s=6.0, exact=True))
        turns = checkup.turns
        if turns is None or turns.left is None:
            return self._say(TURN.format(what=self._way.load, side=Side.LEFT))
        if turns.right is None:
            return self._say(TURN.format(what=self._way.load, side=Side.RIGHT))
        return self._say("Now take it off, or step off.")

    def _say(self, words: str, *, again: bool = False) -> list[str]:
        if words in (self._said[-1:] if again else self._said):
            return []
        self._said.append(words)
        return [words]

    def result(self) -> Checked:
        """Return what came of the check; call it once the engine was stopped.

        Raises WeightshareError where the scale cannot be used, or gave no samples.
        """
        if not self.engine.has_sampled:
            raise self._fault or DeviceError(f"{self._source}: no samples came; check that the scale is on")
        view = self.engine.view()
        checkup, calibration = view.checkup or CheckupView(), self.engine.upkeep.calibration
        reason = self._failed or "it was not finished in time"
        balance = checkup.balance or Balance(Verdict.UNTOLD, reason=reason)
        gains = {}
        if self._weight_kg is not None and checkup.turns is not None and calibration is not None:
            gains = gains_of(checkup.turns, self._weight_kg, gravity_m_s2=calibration.gravity_m_s2)
        said = balance_words(balance)
        findings = tuple(words for words in view.messages if words != said)
        expired = calibration is not None and is_expired(calibration, date.today())
        device_id = "" if calibration is None else calibration.device_id
        return Checked(device_id, self._way, balance, checkup, findings, expired, gains, self._weight_kg)


def amount_words(percent: float) -> str:
    """Return by how much a side reads too much or too little of a weight, in words."""
    return f"{abs(percent):.2f} % of the weight too {'little' if percent < 0.0 else 'much'}"
