"""The step before practice in which the load is shifted from side to side: when it is asked, and what is said then."""

from __future__ import annotations

from typing import TYPE_CHECKING

from weightshare.metrology.balance import Balance, Verdict
from weightshare.model import Side
from weightshare.practice.message import retell
from weightshare.practice.screen import Soles
from weightshare.tongue import mark, say

if TYPE_CHECKING:
    from weightshare.practice.checkup import CheckupView

COMPARING = mark("comparing the two plates")
NOT_COMPARED = mark("The two plates were not compared.")
NOT_ASKED = mark(
    "The two plates are not compared: the limit of load leaves no room. Known masses or a helper can do it."
)
NOT_ALIKE = mark("The two plates do not read alike.")
NOTE = mark("Both feet stay on. A hand by the rail, without weight on it.")


class BalanceStep:
    """Follows the comparison of the two plates from view to view; `begin` is due once, and again after `again`."""

    def __init__(self) -> None:
        self.said = ""
        """What stands on the screen from then on: not compared, or not alike; empty where they read alike."""
        self.result: Balance | None = None
        """What came of it, and somebody has to read; None while it is under way."""
        self._begun = False
        self._before: Balance | None = None

    def is_wanted(self, view: CheckupView | None) -> bool:
        """Return whether the load is to be shifted now; where it should be and may not, that is said."""
        if view is None or not view.due:
            self.said = say(NOT_ALIKE) if view is not None and view.uneven else ""
            return False
        self.said = say(NOT_COMPARED) if view.asked_percent is not None else say(NOT_ASKED)
        return view.asked_percent is not None

    def begin(self, view: CheckupView) -> bool:
        """Return, once, that the comparison is to begin."""
        if self._begun:
            return False
        self._begun, self._before, self.result = True, view.balance, None
        return True

    def follow(self, view: CheckupView) -> bool:
        """Take the newest view; return whether the two plates read alike, and nothing more is to be done."""
        balance = view.balance
        if not self._begun or view.under_way or balance is None or balance is self._before:
            return False
        self.result = balance
        if balance.verdict in (Verdict.EVEN, Verdict.UNEVEN):
            self.said = say(NOT_ALIKE) if balance.verdict is Verdict.UNEVEN else ""
        return balance.verdict is Verdict.EVEN

    def again(self) -> None:
        """Ask anew."""
        self._begun, self.result = False, None

    def press(self) -> bool:
        """Take the big key; return whether to go on. Where nothing was told by the shift, it is asked for anew."""
        if self.result is None:
            return False
        told = self.result.verdict is Verdict.UNEVEN
        if not told:
            self.again()
        return told


def step_words(view: CheckupView, result: Balance | None, limit: str = "") -> tuple[str, str]:
    """Return headline and note of the step; `limit` says how much load is allowed, where there is a limit."""
    if result is None:
        low, high = view.asked_percent or (0.0, 0.0)
        most = high if view.toward is Side.LEFT else 100.0 - low
        go = say("Shift your weight slowly to the {toward}, to {most:.0f} %.", toward=view.toward, most=most)
        return go, f"{say(NOTE)} {limit}".strip()
    mismatch = result.mismatch
    if mismatch is None:
        return say("The two plates could not be compared."), say("{reason:C}.", reason=retell(result.reason))
    side = Side.LEFT if mismatch.value >= 0 else Side.RIGHT
    by = say(
        "{value:.1f} \u00b1 {expanded:.1f} % more than the other.",
        value=abs(mismatch.value),
        expanded=mismatch.expanded(),
    )
    if result.verdict is Verdict.UNEVEN:
        return say("The {side} plate reads {by}", side=side, by=by), say(
            "Have the scale calibrated: until then the share is off."
        )
    return say("The {side} plate may read {by}", side=side, by=by), say("Shift once more, slowly, to be sure.")


def step_soles(view: CheckupView, result: Balance | None) -> Soles:
    """Return the picture: the foot to go to fills up on the way, and the line below shows how far it is."""
    if result is not None:
        return Soles(True, True)
    part = int(20 * view.progress) / 20
    place = None if view.share_percent is None else round(2.0 * view.share_percent) / 2.0
    return Soles(True, True, view.toward, part, reach_percent=view.asked_percent, place_percent=place)
