"""What a session does for the scale it runs on: the check of the plates, the drift log, and what is said before
practice."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from importlib import import_module

import numpy as np

from weightshare.metrology.balance import Balance, Verdict
from weightshare.metrology.trend import LEAST_DAYS, LEAST_VALUES
from weightshare.model import Calibration, Side, Sourced
from weightshare.practice.checkup import Checkup, CheckupView, allowed_range
from weightshare.records.drift import (
    Drift,
    Entry,
    append_entry,
    drift_of,
    drift_words,
    is_uneven,
    make_drift,
    sync_drift,
)
from weightshare.state import Snapshot
from weightshare.task import Settings

AGAIN_DAYS = 7.0
"""The sides are compared again after so many days (common practice, no source)."""
MOVED_N = 10.0
"""Or where a zero is so far from where it was then (common practice, no source)."""
WAITS = 100
"""So many pieces of the stream are waited for the temperature, which comes once a second, if at all."""
NEVER = "the two plates were never compared on this scale"


class Upkeep:
    """Owns the check of the plates of one session. `push` is called from the pipeline's thread, `begin` from any.

    `tell` says something once. `source` is the scale's. `keep`: whether the drift log is written. `unattended`: nobody
    reads a screen, and nobody is asked.
    """

    def __init__(
        self, tell: Callable[[str], None], at: datetime, source: str, *, keep: bool, unattended: bool = False
    ) -> None:
        self.checkup: Checkup | None = None
        self._tell, self._at, self._keep, self._source, self._unattended = tell, at, keep, source, unattended
        self._calibration: Calibration | None = None
        self._sides: tuple[Side, Side] | None = None
        self._drift: Drift | None = None
        self._due = ""
        self._noted: tuple[bool, Balance | None, tuple[str, ...]] = (False, None, ())
        """What of the check is in the log, and said, already: the zero, the comparison, the remarks."""
        self._waited = 0
        self._found: tuple[str, ...] = ()

    @property
    def calibration(self) -> Calibration | None:
        """The scale's calibration; None before the scale is known."""
        return self._calibration

    @property
    def is_uneven(self) -> bool:
        """Whether the two plates do not read alike: by this session's comparison, else by the newest in the log."""
        balance = None if self.checkup is None else self.checkup.view.balance
        if balance is not None and balance.verdict in (Verdict.EVEN, Verdict.UNEVEN):
            return balance.verdict is Verdict.UNEVEN
        return self._drift is not None and is_uneven(self._drift)

    def accept(self, calibration: Calibration, sides: tuple[Side, Side] | None = None) -> None:
        """The scale, or both as one under `sides`, is known; called before its items come."""
        self._calibration, self._sides = calibration, sides
        name = name_log(calibration.device_id, sides)
        try:
            played = self._source.startswith("file:")
            whole = make_drift(name, ()) if played else drift_of(name)
            self._drift = whole.since(calibration.made_on)
        except OSError as error:
            self._tell(f"the drift log of scale {name} cannot be read ({error.strerror or error})")
            self._drift, self._keep = make_drift(name, ()), False
        if may_ask(self._source) or self._may_wander(self._drift):
            # a verdict or a trend takes it; loaded then, it would hold up the samples, and a ceiling's alarm go off
            import_module("scipy.special")
        self.checkup = Checkup(calibration, sides)

    def _may_wander(self, drift: Drift) -> bool:
        """Return whether there will be values enough for a trend, once this session's zero is among them."""
        count = len(drift.entries) + 1
        return count >= LEAST_VALUES and (self._at - drift.entries[0].at).total_seconds() >= LEAST_DAYS * 86_400.0

    def swap(self, items: Sequence[Sourced]) -> None:
        """Each of two scales is under the other foot: begin anew, with all that came so far."""
        if self._calibration is not None and self._sides is not None:
            self._noted, self._found, self._waited = (False, None, ()), (), 0
            self.accept(self._calibration, (self._sides[1], self._sides[0]))
            self.push(items)

    def push(self, items: Sequence[Sourced]) -> None:
        """Take in items of the scale, in order. What fails here must not end the session."""
        if self.checkup is None:
            return
        try:
            self.checkup.push(items)
            self._note(self.checkup.view)
        except (ValueError, ArithmeticError, IndexError, KeyError) as error:
            self.checkup = None
            self._tell(f"the check of the plates failed ({error}); the session goes on without it")

    def begin(self, settings: Settings, snapshot: Snapshot) -> tuple[float, float] | None:
        """Compare the sides from now on; return the left shares to shift between, None where nobody is to be asked."""
        asked = allowed_range(settings, snapshot)
        if self.checkup is None or asked is None:
            return None
        self.checkup.begin(asked, snapshot.body_weight_N)
        return asked

    def begin_turns(self) -> None:
        """Compare the sides by one load on each plate in turn, from now on."""
        if self.checkup is not None:
            self.checkup.begin_turns()

    def practise(self) -> None:
        """Practice begins: heels may be raised from now on."""
        if self.checkup is not None:
            self.checkup.watches_rocking = False

    def view(self, settings: Settings, snapshot: Snapshot) -> CheckupView | None:
        """Return what the check has found; None where there is no scale yet."""
        if self.checkup is None:
            return None
        due = self._due if may_ask(self._source) else ""
        asked = allowed_range(settings, snapshot)
        seen = self.checkup.view
        return replace(seen, due=due, asked_percent=asked, findings=self._found, uneven=self.is_uneven)

    def _note(self, view: CheckupView) -> None:
        zero, balance, remarks = self._noted
        new = tuple(words for words in view.remarks if words not in remarks)
        fresh = balance is not view.balance and view.balance is not None
        self._waited += view.zero_N is not None
        took = not zero and view.zero_N is not None and (view.temperature_degC is not None or self._waited > WAITS)
        if not (took or fresh or new):
            return
        self._noted = zero or took, view.balance if fresh else balance, view.remarks
        if took:
            self._begin(view)
        if fresh and view.balance is not None:
            self._compared(view.balance)
        if new:
            self._write(self._entry("session", view, remarks=new))
        self._find(new)

    def _begin(self, view: CheckupView) -> None:
        """The zero was taken: keep it, and say what is worth saying before practice."""
        assert self._drift is not None and view.zero_N is not None
        before, entry = self._drift, self._entry("session", view, zero_N=view.zero_N)
        self._due = find_due(before, view.zero_N, self._at)
        self._drift = make_drift(before.device_id, (*before.entries, entry))
        self._find((*drift_words(self._drift), *since_words(before, view.zero_N), *last_remarks(before)))
        if self._unattended and self._due and may_ask(self._source):
            how = "" if self._sides is not None else f": weightshare calibrate check --source {self._source}"
            self._tell(f"{self._due}{how}")
        self._write(entry)

    def _find(self, words: tuple[str, ...]) -> None:
        """Tell findings, and let them stand until practice begins."""
        self._found += words
        for line in words:
            self._tell(line)

    def _compared(self, balance: Balance) -> None:
        self._tell(balance_words(balance))
        if balance.mismatch is not None and self.checkup is not None:
            self._write(self._entry("check", self.checkup.view, balance=balance))

    def _entry(
        self,
        kind: str,
        view: CheckupView,
        *,
        zero_N: tuple[float, float] | None = None,
        balance: Balance | None = None,
        remarks: tuple[str, ...] = (),
    ) -> Entry:
        assert self._calibration is not None
        left_N, right_N = zero_N or (None, None)
        mismatch = None if balance is None else balance.mismatch
        value, u = (None, None) if mismatch is None else (mismatch.value, mismatch.u)
        made = self._calibration.made_on
        return Entry(self._at, kind, made, left_N, right_N, value, u, view.temperature_degC, remarks)

    def close(self) -> None:
        """The session is over: make what was logged last."""
        if self._keep and self._drift is not None:
            with suppress(OSError):
                sync_drift(self._drift.device_id)

    def _write(self, entry: Entry) -> None:
        if not self._keep or self._drift is None:
            return
        try:
            append_entry(self._drift.device_id, entry, sync=False)
        except OSError as error:
            self._keep = False
            self._tell(f"the drift log cannot be written ({error.strerror or error})")


def name_log(device_id: str, sides: tuple[Side, Side] | None) -> str:
    """Return under which name a drift log is kept: of two scales (`first+second`) the left one's id comes first."""
    first, _, second = device_id.partition("+")
    return f"{second}+{first}" if sides is not None and sides[0] is Side.RIGHT else device_id


def may_ask(source: str) -> bool:
    """Tell whether whoever stands on `source` may be asked to shift: a virtual person where that is wished for."""
    if source.startswith("rig:"):
        return "balance=ask" in [wish.strip() for wish in source.removeprefix("rig:").split(",")]
    return not source.startswith("file:")


def find_due(drift: Drift, zero_N: tuple[float, float], now: datetime) -> str:
    """Return in words why the two sides should be compared now; empty where there is no need."""
    checked = np.flatnonzero(np.isfinite(drift.mismatch_percent))
    if not checked.size:
        return NEVER
    last = int(checked[-1])
    if (now - drift.entries[last].at).total_seconds() > AGAIN_DAYS * 86_400.0:
        return f"the two plates were last compared on {drift.entries[last].at:%Y-%m-%d}"
    for side, moved_N in _moved(drift, zero_N, last):
        if abs(moved_N) > MOVED_N:
            return f"the {side} plate's zero moved by {moved_N:+.0f} N since the two plates were compared"
    return ""


def since_words(drift: Drift, zero_N: tuple[float, float]) -> tuple[str, ...]:
    """Return by how much the zeros moved since last time, where it is worth saying."""
    moved = _moved(drift, zero_N, len(drift.entries) - 1)
    return tuple(
        f"the {side} plate's zero moved by {n:+.0f} N since last time" for side, n in moved if abs(n) > MOVED_N
    )


def _moved(drift: Drift, zero_N: tuple[float, float], until: int) -> list[tuple[Side, float]]:
    """Return how far each zero is from the newest in the log up to entry `until`; NaN where there is none."""
    moved = []
    for side, now_N, log_N in zip(Side, zero_N, (drift.left_zero_N, drift.right_zero_N), strict=True):
        known = log_N[: until + 1][np.isfinite(log_N[: until + 1])]
        moved.append((side, now_N - float(known[-1]) if known.size else float("nan")))
    return moved


def last_remarks(drift: Drift) -> tuple[str, ...]:
    """Return what was seen of the plates in the newest session of the log."""
    if not drift.entries:
        return ()
    last = drift.entries[-1].at
    said = [words for entry in drift.entries if entry.at == last for words in entry.remarks]
    return tuple(f"last time: {words}" for words in said)


def balance_words(balance: Balance) -> str:
    """Return in one line what came of the comparison of the two sides."""
    mismatch = balance.mismatch
    if mismatch is None or balance.verdict is Verdict.UNTOLD:
        return f"the two plates could not be compared: {balance.reason}"
    side = Side.LEFT if mismatch.value >= 0 else Side.RIGHT
    by = f"{abs(mismatch.value):.1f} \u00b1 {mismatch.expanded():.1f} % more than the other"
    return {
        Verdict.EVEN: f"the two plates read alike: the {side} one reads {by}",
        Verdict.UNEVEN: f"the {side} plate reads {by}: have the scale calibrated before you rely on the share",
        Verdict.UNDECIDED: f"the {side} plate may read {by}: compare them again, or with known masses",
    }[balance.verdict]
