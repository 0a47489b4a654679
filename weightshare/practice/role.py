"""Who is at the screen: a patient, who practises what was set, or a clinician, who sets it. Time is handed in."""

from __future__ import annotations

from enum import StrEnum

from weightshare.task import Goal, Settings

IDLE_S = 600.0
"""After so long without a key the clinician's turn ends, s (our own choice, no source)."""
FREE_TRIES = 5
"""So many wrong passphrases in a row are answered at once."""
REST_S = 30.0
"""How long to wait before the next try after that, s: guessing takes too long to be worth it."""


class Role(StrEnum):
    """Who is at the screen."""

    OPEN = "open"
    """No passphrase was ever set here: everybody may set everything."""
    PATIENT = "patient"
    CLINICIAN = "clinician"


def is_alone(settings: Settings, goal: Goal) -> bool:
    """Return whether the injured leg stands alone in a part of what is asked for."""
    return settings.is_single and (settings.working_side is settings.injured or goal.to_exhaustion)


class Keeper:
    """Keeps whose turn it is. `is_set`: there is a passphrase, and it begins with the patient."""

    def __init__(self, *, is_set: bool, idle_s: float = IDLE_S) -> None:
        self.role = Role.PATIENT if is_set else Role.OPEN
        self._idle_s = idle_s
        self._touched_s = 0.0
        self._wrong, self._wrong_s = 0, 0.0

    @property
    def may_set(self) -> bool:
        """Whether stage, target, ceiling and side may be changed."""
        return self.role is not Role.PATIENT

    def touch(self, now_s: float) -> None:
        """Somebody pressed a key or moved the mouse."""
        self._touched_s = now_s

    def follow(self, now_s: float, *, busy: bool = False) -> bool:
        """Lock where the clinician has been away; return whether that came just now.

        `busy`: a session is under way, in which nobody presses keys; the time away begins after it.
        """
        if busy:
            self._touched_s = now_s
        if self.role is not Role.CLINICIAN or now_s - self._touched_s < self._idle_s:
            return False
        self.role = Role.PATIENT
        return True

    def lock(self) -> None:
        """Leave the screen to the patient."""
        self.role = Role.PATIENT

    def wait_s(self, now_s: float) -> float:
        """Return how long to wait before the next try, s; 0 where none has to be waited for."""
        if self._wrong < FREE_TRIES:
            return 0.0
        return max(0.0, self._wrong_s + REST_S - now_s)

    def take_try(self, now_s: float, *, right: bool) -> None:
        """A passphrase was tried, or set: a right one makes it the clinician's turn."""
        if right:
            self.role, self._wrong = Role.CLINICIAN, 0
            self.touch(now_s)
        else:
            self._wrong, self._wrong_s = self._wrong + 1, now_s
