"""What a guided calibration shows, as one frozen value."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from weightshare.metrology.found import Found
from weightshare.workbench.plan import Ask


class Stage(StrEnum):
    """Where the guided calibration stands."""

    CONNECT = "connect"
    ASK = "ask"
    """Waiting until what is asked for lies there and is still."""
    MEASURE = "measure"
    DONE = "done"
    """All steps are measured, the result is there."""
    FAILED = "failed"
    """It cannot go on: `trouble` says why, and what to do."""


@dataclass(frozen=True, slots=True)
class BenchView:
    """The newest of everything. Texts are ready to be shown."""

    stage: Stage = Stage.CONNECT
    ask: Ask | None = None
    number: int = 0
    """Of the step, from 1."""
    steps: int = 0
    headline: str = ""
    """What to do now, in one line."""
    words: str = ""
    """What is being waited for, or seen."""
    part: float = 0.0
    """How much of this step is measured, 0 to 1."""
    left_s: float = 0.0
    """About how long what is left will take, s."""
    load_kg: tuple[float | None, float | None] = (None, None)
    """About what lies on the left and on the right plate, by the readings so far; None while that is not known."""
    still: bool = False
    trouble: str = ""
    """What is wrong with the load as it lies there, or why it cannot go on; empty where nothing is."""
    may_confirm: bool = False
    """Whether the key would take the load as it lies."""
    may_go_back: bool = False
    found: Found | None = None
    place: str = ""
    """Where the calibration was written; empty until then."""
    kept: str = ""
    """Where the one that it follows is kept; empty where there was none."""
