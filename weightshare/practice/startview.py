"""What is shown while scales are set up: one frozen value for each step."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from weightshare.practice.screen import Shape


class StartStep(StrEnum):
    """The steps from unpacked scales to practice, in their order."""

    FIND = "Find"
    SIDES = "Left and right"
    CHECK = "Check"
    PLACE = "Place"
    READY = "Ready"


@dataclass(frozen=True, slots=True)
class StartRow:
    """One scale, or one side of the pair. `lines` are what is said of it, one under the other."""

    title: str
    lines: tuple[str, ...] = ()
    shape: Shape = Shape.RING
    """How it stands: a disc is well, a diamond wants attention, a cross stands in the way, a ring is not known yet."""
    bars: int | None = None
    """How strongly it is heard by air, 0 to 4; None by cable."""
    picked: bool = False
    marked: bool = False
    """What the keys mean now: the arrow keys move it."""
    wanted: bool = True
    """Whether it can be chosen at all."""


@dataclass(frozen=True, slots=True)
class StartView:
    """One step. `trouble` is what stands in the way, and the remedy; `key` what the big key does, empty for nothing."""

    step: StartStep = StartStep.FIND
    headline: str = ""
    words: tuple[str, ...] = ()
    rows: tuple[StartRow, ...] = ()
    notes: tuple[str, ...] = ()
    """What else is known: why nothing comes by some way. It stands in nobody's way."""
    trouble: str = ""
    key: str = ""
    hint: str = ""
    looking: bool = False
    """Whether the remembered pair is looked for, and nothing can be chosen."""
    pressing: bool = False
    """Whether a foot is asked to press now: the drawing shows which."""
