"""What has passed leaves the screen after a while; what still holds stays."""

from __future__ import annotations

from dataclasses import replace

from weightshare.practice.view import LiveView

TOLD_S = 15.0
"""How long what has passed stays on the screen, s of sample time: a link that is back, for one."""


class Fade:
    """Remembers when each message was first told."""

    def __init__(self) -> None:
        self._told_s: dict[str, float] = {}

    def push(self, view: LiveView, *, before: bool = False) -> LiveView:
        """Return `view` with the messages of the last TOLD_S, and those that still hold.

        What was found of the scale stands until practice begins (`before`).
        """
        time_s = view.snapshot.time_s or 0.0
        for message in view.messages:
            self._told_s.setdefault(message, time_s)
        found = view.checkup.findings if before and view.checkup is not None else ()
        kept = (*view.snapshot.warnings, *found)
        recent = tuple(m for m in view.messages if m in kept or time_s - self._told_s[m] < TOLD_S)
        return replace(view, messages=recent)
