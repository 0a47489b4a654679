"""What the window needs of a practice session's engine."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Protocol, TypeAlias

from weightshare.model import Side
from weightshare.practice.clinic.charge import Charge
from weightshare.practice.flow import Action
from weightshare.practice.view import LiveView
from weightshare.programme.prescription import Prescription
from weightshare.task import Goal, Settings

if TYPE_CHECKING:
    from weightshare.records.assessment import Assessment

Sources: TypeAlias = tuple[str, ...]
"""Where the scales are: one that reads both feet, or two that read one each."""
Sides: TypeAlias = tuple[Side, Side] | None
"""Which foot stands on each of two scales; None: as they say themselves."""


@dataclass(frozen=True, slots=True)
class Ended:
    """What is left of a session: where it is kept (empty: it is not), and what went wrong with that, in words."""

    place: str = ""
    trouble: str = ""
    last: LiveView | None = None
    """The very last view, with what still waited when the session ended; None where there is none."""
    findings: tuple[str, ...] = ()
    """Whether what was asked was reached, in words for the clinician."""
    assess: Callable[[], Assessment | None] | None = None
    """Says what the session tells of its stage; it may take a moment. Raises WeightshareError. None: no stage."""


@dataclass(slots=True)
class Order:
    """What sessions are of from now on: the stage of a programme, with the place of that; None: set by hand.

    The window writes it, and it is read where a session is opened. `trouble`: it is not known what is to be done, in
    words. `alone_allowed`: the injured leg may stand alone in what was set by hand.
    """

    prescription: Prescription | None = None
    place: str = ""
    trouble: str = ""
    alone_allowed: bool = False
    at_home: bool = False
    """Sessions begin and end without a key."""
    charge: Charge = field(default_factory=Charge)
    """Whose sessions they are."""
    store: Path | None = None
    """The store of patients; None: the user's own."""


class Feed(Protocol):
    """A running session. `view` may be called at the display's rate; nothing here blocks but `start` and `stop`."""

    def start(self) -> None:
        """Open the source. Raises WeightshareError, in words that say what to do."""

    def view(self) -> LiveView:
        """Return the newest of everything."""

    def change(self, settings: Settings, goal: Goal) -> None:
        """Measure against other settings from now on."""

    def compare(self) -> None:
        """The two plates are compared from now on, while the load is shifted."""

    def swap_sides(self) -> bool:
        """Each of two scales is under the other foot, from the first sample on; return whether that can be."""

    def begin_practice(self) -> None:
        """Practice begins: holds count from now on, or the first set begins."""

    def begin_set(self) -> None:
        """The next set begins now; nothing where one is under way or the last is over."""

    def end_set(self) -> None:
        """The set that is under way ends now."""

    def mark_fault(self) -> None:
        """Mark a fault in what is done now."""

    def steer(self, delta_points: float) -> None:
        """Shift a steered virtual person's weight to the injured side (negative: away); nothing for others."""

    @property
    def is_over(self) -> bool:
        """Whether the time that was asked for is over, or nothing more will come."""

    def stop(self) -> Ended:
        """End the session and keep it."""


OpenFeed = Callable[[Sources, Sides, Settings, Goal], Feed]
"""Makes the session on one or two sources; raises WeightshareError where it cannot be made."""


def tell(feed: Feed, action: Action) -> bool:
    """Tell `feed` of a step; return whether it is one that a session is told of."""
    told = {
        Action.COMPARE: feed.compare,
        Action.BEGIN: feed.begin_practice,
        Action.BEGIN_SET: feed.begin_set,
        Action.END_SET: feed.end_set,
        Action.FAULT: feed.mark_fault,
    }.get(action)
    if told is None:
        return False
    told()
    return True
