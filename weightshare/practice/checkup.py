"""The check of the plates: zeros, signs of touching and rocking, and the comparison of the two sides while somebody
shifts the load. Fed with a scale's items; time is sample time."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from weightshare.metrology.alone import Turns, compare_turns, find_turns
from weightshare.metrology.balance import Balance, Verdict, cut_blocks, find_balance
from weightshare.metrology.contact import find_contact, find_touching
from weightshare.model import Calibration, Condition, Floats, Identity, Side, Sourced
from weightshare.pipeline.block import Block
from weightshare.pipeline.calibrate import Calibrator
from weightshare.pipeline.clock import Clock, Timed
from weightshare.pipeline.couple import couple_identities
from weightshare.pipeline.pairing import Pairing
from weightshare.pipeline.zero import Zero
from weightshare.state import Snapshot
from weightshare.task import Settings

LOW_PERCENT, HIGH_PERCENT = 35.0, 65.0
"""How far somebody is asked to shift, the left side's share: safe for who may not stand on one leg."""
CEILING_PART = 0.9
"""No nearer to the ceiling than this part of it is anybody asked to go."""
LEAST_CEILING_PART = 0.4
"""With a ceiling under this part of body weight nobody is asked to shift at all."""
LEAST_WAY = 12.0
"""Nor where less than this, in percentage points, is left to shift over."""
NEAR_PART = 0.25
"""An end counts as reached from this part of the way before it on."""
LEAST_S, LONGEST_S = 18.0, 50.0
"""A shift is judged from the first on, and given up at the second, s."""
TURNS_S = 180.0
"""So long is waited for one load to have lain on each plate, s."""
LOOK_S = 1.0
LEAKS = "the plates touch: one was pushed while the other bore the load; move them apart"
KEPT_S = 30.0
"""How much is kept to look for touching and rocking, s."""


def allowed_range(settings: Settings, snapshot: Snapshot) -> tuple[float, float] | None:
    """Return between which shares of the left side (percent) the load may be shifted; None: nobody is to be asked.

    Never beyond CEILING_PART of a ceiling; not at all with a part of the weight on a rail, a crutch or a chair.
    """
    weight_N, limit_N = snapshot.body_weight_N, snapshot.ceiling_N
    if weight_N is None or (settings.ceiling is not None and limit_N is None):
        return None
    whole_N = weight_N + settings.added_weight_N
    most = HIGH_PERCENT
    if limit_N is not None:
        if limit_N < LEAST_CEILING_PART * whole_N:
            return None
        most = min(most, 100.0 * CEILING_PART * limit_N / whole_N)
    if most - LOW_PERCENT < LEAST_WAY:
        return None
    return (LOW_PERCENT, most) if settings.injured is Side.LEFT else (100.0 - most, HIGH_PERCENT)


@dataclass(frozen=True, slots=True)
class CheckupView:
    """What the check has found so far."""

    due: str = ""
    """Why the sides should be compared before practice, in words; empty where they need not be."""
    asked_percent: tuple[float, float] | None = None
    """Between which left shares to shift; None: nobody is to be asked."""
    under_way: bool = False
    toward: Side = Side.LEFT
    """Where the load should go now, while it is under way."""
    progress: float = 0.0
    """How much of the way to that side is there, 0 to 1."""
    share_percent: float | None = None
    """The left side's share now, while it is under way."""
    balance: Balance | None = None
    """What came of it; None: not yet, or not asked."""
    turns: Turns | None = None
    """What each plate has read so far of one load that lies on each in turn; None where that is not under way."""
    zero_N: tuple[float, float] | None = None
    """How far the left and the right zero are from the calibration's; None: none was taken."""
    temperature_degC: float | None = None
    remarks: tuple[str, ...] = ()
    """Touching and rocking, in words."""
    findings: tuple[str, ...] = ()
    """What is said of the scale before practice: the remarks, and what its log tells."""
    uneven: bool = False
    """Whether the two plates do not read alike, by this session's comparison or by the newest in the log."""


class Checkup:
    """Takes the items of one scale, or of two under `sides`, whose `calibration` is that of both as one; `view` may be
    read, and `begin` called, from any thread.

    `watches_rocking`: set it to False once heels are raised: load then goes to the front quickly by intent.
    """

    def __init__(self, calibration: Calibration, sides: tuple[Side, Side] | None = None) -> None:
        self.view = CheckupView()
        self.watches_rocking = True
        self._calibration, self._sides = calibration, sides
        self._clock = Clock()
        self._pairing = None if sides is None else Pairing()
        self._met: dict[int, Identity] = {}
        self._calibrator: Calibrator | None = None
        self._zero: Zero | None = None
        self._blocks: list[Block] = []
        self._look_s = LOOK_S
        """When to look next: at times that no cutting of the stream moves."""
        self._from_s: float | None = None
        self._wish: tuple[tuple[float, float], float | None] | None = None
        self._in_turn = False
        self._asked, self._weight_N = (LOW_PERCENT, HIGH_PERCENT), math.nan

    def begin(self, asked_percent: tuple[float, float], body_weight_N: float | None) -> None:
        """Compare the sides from the next sample on; `asked_percent` are the left side's shares to shift between."""
        self._wish, self._in_turn = (asked_percent, body_weight_N), False

    def begin_turns(self) -> None:
        """Compare the sides by one load that is put on each plate in turn, from the next sample on."""
        self._wish, self._in_turn = ((0.0, 100.0), None), True

    def push(self, items: Sequence[Sourced]) -> None:
        """Take in items, in order."""
        self._take_wish()
        for source, item in items:
            if isinstance(item, Identity):
                self._hear(source, item)
            elif isinstance(item, Condition) and item.temperature_degC is not None:
                self.view = replace(self.view, temperature_degC=item.temperature_degC)
            if self._pairing is not None:
                self._pairing.push(source, item)
            else:
                self._take(self._clock.push(item))
        if self._pairing is not None:
            self._take([timed for timed, _ in self._pairing.settle()])
        self._note_zero()
        if self._blocks:
            self._go_on(float(self._blocks[-1].time_s[-1]))

    def forces(self, from_s: float = -math.inf, until_s: float = math.inf) -> tuple[Floats, dict[str, Floats]]:
        """Return what is kept of unfiltered, zeroed forces (N, named as in a trace) in that time (s), with times."""
        if not self._blocks:
            return np.empty(0), {name: np.empty(0) for name in ("left_N", "right_N")}
        time_s = np.concatenate([block.time_s for block in self._blocks])
        values = np.concatenate([block.values for block in self._blocks], axis=1)
        rows = slice(*np.searchsorted(time_s, (from_s, until_s)).tolist())
        return time_s[rows], dict(zip(self._blocks[0].columns, values[:, rows], strict=True))

    def _take(self, ready: Sequence[Timed]) -> None:
        if self._zero is not None and self._calibrator is not None:
            for timed in ready:
                self._blocks += [self._calibrator.push(passed) for passed in self._zero.push(timed)]

    def _hear(self, source: int, identity: Identity) -> None:
        self._met[source] = identity
        if self._sides is None:
            self._meet(identity)
        elif len(self._met) == 2:
            self._meet(couple_identities(self._met[0], self._met[1], self._sides))

    def _meet(self, identity: Identity) -> None:
        if self._calibrator is None and identity.device_id == self._calibration.device_id:
            self._calibrator = Calibrator(identity, self._calibration)
            self._zero = Zero(self._calibrator)

    def _note_zero(self) -> None:
        calibrator, zero = self._calibrator, self._zero
        if self.view.zero_N is not None or calibrator is None or zero is None or not zero.taken:
            return
        before = {channel.index: channel.zero_counts for channel in self._calibration.channels}
        counts = np.array([[before[row]] for row in calibrator.force_rows])
        moved = np.zeros((max(calibrator.force_rows) + 1, 1))
        moved[calibrator.force_rows] = calibrator.zero_counts
        left, right = calibrator.sides_N(calibrator.forces_N(moved, counts))[:, 0].tolist()
        self.view = replace(self.view, zero_N=(left, right))

    def _take_wish(self) -> None:
        if self._wish is None or not self._blocks:
            return
        (self._asked, weight_N), self._wish = self._wish, None
        self._weight_N = math.nan if weight_N is None else weight_N
        self._from_s = float(self._blocks[-1].time_s[-1])
        self.view = replace(self.view, under_way=True, balance=None, turns=None, toward=Side.LEFT, progress=0.0)

    def _go_on(self, now_s: float) -> None:
        if self.view.under_way and not self._in_turn and self._from_s is not None:
            self._follow()
        while self._look_s <= now_s:
            self._look(self._look_s)
            self._look_s += LOOK_S

    def _follow(self) -> None:
        """Say where to go now, by the newest half second."""
        block = self._blocks[-1]
        left_N, right_N = block.values[0], block.values[1]
        total_N = left_N + right_N
        known = np.isfinite(total_N) & (total_N > 50.0)
        if not known.any():
            return
        share = 100.0 * float((left_N[known] / total_N[known]).mean())
        low, high = self._asked
        middle, near = 0.5 * (low + high), NEAR_PART * 0.5 * (high - low)
        left = self.view.toward is Side.LEFT
        part = (share - middle) / (high - middle) if left else (middle - share) / (middle - low)
        there = share >= high - near if left else share <= low + near
        toward = self.view.toward.other if there else self.view.toward
        part = 0.0 if there else min(max(part, 0.0), 1.0)
        self.view = replace(self.view, toward=toward, progress=part, share_percent=share)

    def _look(self, now_s: float) -> None:
        from_s = now_s - KEPT_S
        if self.view.under_way and self._from_s is not None:
            if self._in_turn:
                self._judge_turns(now_s, self._from_s)
            else:
                self._judge(now_s, self._from_s)
            from_s = min(from_s, self._from_s)
        time_s, columns = self.forces(now_s - KEPT_S, now_s)
        rocking = self.watches_rocking
        found = find_contact(time_s, columns).words if rocking else find_touching(time_s, *list(columns.values())[:2])
        kinds = {_kind(words) for words in self.view.remarks}
        new = tuple(words for words in found if _kind(words) not in kinds)
        if new:
            self.view = replace(self.view, remarks=self.view.remarks + new)
        self._blocks = [block for block in self._blocks if block.time_s[-1] >= from_s]

    def _judge_turns(self, now_s: float, from_s: float) -> None:
        """Done once each plate bore the load, and nobody is on any more; or where nothing comes of it for long."""
        time_s, columns = self.forces(from_s, now_s)
        left_N, right_N = columns["left_N"], columns["right_N"]
        found = find_turns(time_s, left_N, right_N)
        newest = max(abs(float(np.median(side[-20:]))) for side in (left_N, right_N)) if time_s.size else 0.0
        both = found.left is not None and found.right is not None
        done = now_s - from_s >= TURNS_S or (both and newest < 0.8 * min(found.left.value, found.right.value))  # type: ignore[union-attr]
        leaks = (LEAKS,) if found.leaks and LEAKS not in self.view.remarks else ()
        balance = compare_turns(found) if done else None
        self.view = replace(
            self.view, under_way=not done, turns=found, balance=balance, remarks=self.view.remarks + leaks
        )

    def _judge(self, now_s: float, from_s: float) -> None:
        if now_s - from_s < LEAST_S:
            return
        time_s, columns = self.forces(from_s, now_s)
        left_N, right_N = columns["left_N"], columns["right_N"]
        weight_N = None if math.isnan(self._weight_N) else self._weight_N
        balance = find_balance(time_s, left_N, right_N, asked_percent=self._asked, body_weight_N=weight_N)
        decided = balance.verdict in (Verdict.EVEN, Verdict.UNEVEN)
        if now_s - from_s >= LONGEST_S or (decided and count_ends(time_s, left_N, right_N, self._asked) >= 3):
            self.view = replace(self.view, under_way=False, balance=balance, progress=0.0, share_percent=None)


def count_ends(time_s: Floats, left_N: Floats, right_N: Floats, asked_percent: tuple[float, float]) -> int:
    """Return how often an end of the way was come to, one after the other, from forces (N, (n,)) at times (s)."""
    low, high = asked_percent
    near = NEAR_PART * 0.5 * (high - low)
    share = 100.0 * cut_blocks(time_s, left_N, right_N).share
    ends = np.where(share >= high - near, 1, np.where(share <= low + near, -1, 0))
    ends = ends[ends != 0]
    return int(np.count_nonzero(np.diff(ends)) + 1) if ends.size else 0


def _kind(words: str) -> str:
    """Return what a remark is about: figures in it change from look to look."""
    return " ".join(word for word in words.split() if not any(letter.isdigit() for letter in word))
