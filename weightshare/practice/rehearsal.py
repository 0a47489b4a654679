"""Every stage of a programme done by a virtual person over the real link: what was counted against what was done."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from weightshare.errors import DeviceError
from weightshare.model import Side
from weightshare.pipeline.result import Analysis
from weightshare.practice.engine import Engine, Finished
from weightshare.practice.inbox import Inbox
from weightshare.practice.option import PractiseOptions
from weightshare.programme.prescription import Prescription, goal_of, prescribe
from weightshare.programme.shelf import Kept
from weightshare.programme.stage import Stage
from weightshare.records.assessment import Assessment, assess
from weightshare.scales.rig.local import rig_transport
from weightshare.scales.rig.truth import tell_truth

PERSON = "raiser"
LONGEST_S = 3600.0
"""A stage that takes longer of the person's time does not end by itself."""
PATIENCE_S = 20.0
"""How long the link waits for the pipeline, s of the host: after that something hangs."""
WAITING = 8
"""So many items may wait for the pipeline before time stands still."""
NEAR_POINTS, NEAR_S = 1.0, 0.5
"""How far a set's share in the lowering, and a hold, may be from the truth (our own choice, no source)."""
SHORT_HOLD_S, SHORT_HOLDS, SHORT_SETS, SHORT_REPETITIONS = 3.0, 2, 2, 2
SHORT_REST_S, SHORT_CHANGE_S = 2.0, 10.0
"""Who goes on to exhaustion is not done at once when a set is over: the legs change after the second."""


class PacedClock:
    """Time that goes as fast as the pipeline takes what comes, and no faster: nothing is dropped on a slow computer."""

    def __init__(self) -> None:
        self._now_ns = 10**9
        self.inbox: Inbox | None = None
        self.is_over = False

    def now_ns(self) -> int:
        """Return ns of the rehearsal's own time."""
        return self._now_ns

    def wait(self, duration_s: float, handles: Sequence[int] = ()) -> None:
        """Jump ahead by `duration_s`, once what came before was taken. Raises DeviceError where nobody takes it."""
        end_s = time.monotonic() + PATIENCE_S
        while self.inbox is not None and self.inbox.waiting > WAITING and not self.is_over:
            if time.monotonic() > end_s:
                raise DeviceError("the rehearsal hangs: the pipeline takes nothing any more")
            time.sleep(0.001)
        if self.is_over:
            time.sleep(0.001)
        self._now_ns += max(1, round(duration_s * 1e9))


@dataclass(frozen=True, slots=True)
class Part:
    """A set, or a hold, as it was measured and as it truly was. `None`: there is no such figure."""

    number: int
    counted: int
    done: int
    share_percent: float | None = None
    true_share_percent: float | None = None
    held_s: float | None = None
    true_held_s: float | None = None

    @property
    def agrees(self) -> bool:
        """Whether all were counted, and the figures are near the truth."""
        pairs = (
            (self.share_percent, self.true_share_percent, NEAR_POINTS),
            (self.held_s, self.true_held_s, NEAR_S),
        )
        near = all(a is None or (b is not None and abs(a - b) <= most) for a, b, most in pairs)
        return near and self.counted == self.done


@dataclass(frozen=True, slots=True, eq=False)
class Rehearsed:
    """One stage, from the zero to the end: its parts, all that the session says of it, and what truly happened."""

    stage: Stage
    asked: int
    """How many sets, or holds, were asked for."""
    parts: tuple[Part, ...]
    assessment: Assessment
    finished: Finished
    truth: dict[str, Any]
    messages: tuple[str, ...]
    """What was said of scales and plates meanwhile."""

    @property
    def agrees(self) -> bool:
        """Whether as many sets or holds were done as were asked for, and each was measured as it was."""
        return len(self.parts) == self.asked and all(part.agrees for part in self.parts)


def shorten(stage: Stage) -> Stage:
    """Return `stage` with as little of everything as shows that it works; its share, tempo and legs stay."""
    return replace(
        stage,
        hold_s=min(stage.hold_s, SHORT_HOLD_S),
        holds=min(stage.holds, SHORT_HOLDS),
        sets=min(stage.sets, SHORT_SETS),
        repetitions=min(stage.repetitions, SHORT_REPETITIONS),
        rest_s=min(stage.rest_s, SHORT_CHANGE_S if stage.to_exhaustion else SHORT_REST_S),
        blind_sets=tuple(number for number in stage.blind_sets if number <= SHORT_SETS),
    )


def rehearse(
    kept: Kept,
    stage: Stage,
    injured: Side,
    person: str = PERSON,
    *,
    save: Path | None = None,
    follow: Callable[[Engine], None] | None = None,
) -> Rehearsed:
    """Have the virtual `person` do all of `stage`, which may differ from that of `kept` in its numbers, locked or not.

    `person` is what follows `rig:` in a source. `save`: where the session is kept; None: nowhere. `follow` is called
    again and again meanwhile. Raises OptionError where there is no such person, DeviceError where it does not end.
    """
    prescription = replace(kept.prescription(kept.find(stage.key)), stage=stage)
    settings, goal = prescribe(stage, injured), goal_of(stage)
    source = f"rig:{person}"
    options = PractiseOptions(
        settings, goal, (source,), save=save, record=save is not None, unattended=True, prescription=prescription
    )
    clock = PacedClock()
    engine = Engine(options, clock.now_ns, rig_transport(person, settings, goal, clock=clock))
    clock.inbox = engine.inbox
    engine.start()
    try:
        while not engine.is_over:
            if engine.elapsed_s() > LONGEST_S:
                raise DeviceError(
                    f"{source}: stage {stage.key} did not end within {LONGEST_S:g} s of the person's time"
                )
            if follow is not None:
                follow(engine)
            time.sleep(0.005)
        messages = engine.view().messages
    finally:
        clock.is_over = True
        finished = engine.stop()
    assert engine.rig is not None
    return _hold_together(prescription, finished, tell_truth(engine.rig.scene) or {}, messages)


def _hold_together(
    prescription: Prescription, finished: Finished, truth: dict[str, Any], messages: tuple[str, ...]
) -> Rehearsed:
    if finished.analysis is None or finished.appraisal is None:
        raise DeviceError(f"stage {prescription.stage.key}: nothing was measured ({finished.trouble or 'no samples'})")
    stage, goal = prescription.stage, goal_of(prescription.stage)
    repeated = stage.exercise.is_repeated
    parts = tuple((_pair_sets if repeated else _pair_holds)(finished.analysis, truth))
    asked = goal.sets if repeated else goal.holds
    return Rehearsed(stage, asked, parts, assess(prescription, finished.appraisal), finished, truth, messages)


def _pair_sets(analysis: Analysis, truth: dict[str, Any]) -> Iterator[Part]:
    for one in analysis.sets:
        mine = [true for true in truth["repetitions"] if one.from_s <= true["start_s"] < _end_of(one.to_s)]
        shares = [true["share_lowering_percent"] for true in mine if true["share_lowering_percent"] is not None]
        mean = sum(shares) / len(shares) if shares else None
        yield Part(one.number, len(one.repetitions), len(mine), one.share_lowering_percent, mean)


def _end_of(to_s: float | None) -> float:
    return float("inf") if to_s is None else to_s


def _pair_holds(analysis: Analysis, truth: dict[str, Any]) -> Iterator[Part]:
    true = [hold["held_s"] for hold in truth["holds"] or ()]
    for place, hold in enumerate(analysis.holds or ()):
        there = place < len(true)
        yield Part(place + 1, 1, int(there), held_s=hold.held_s, true_held_s=true[place] if there else None)
