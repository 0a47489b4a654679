"""Whether a session can be counted: one that was broken off soon, or is dated in the future, is no measurement."""

from __future__ import annotations

from collections.abc import Sized
from datetime import datetime

from weightshare.task import Goal, Settings

LEAST_PART = 0.5
"""With fewer repetitions than this part of one set a session was broken off (our own choice, no source)."""


def is_broken_off(settings: Settings, goal: Goal, repetitions: Sized, holds: Sized | None) -> bool:
    """Return whether less was done than half of one set, or no hold where holds were asked for.

    To exhaustion any repetition counts, and of standing without a target all of it.
    """
    if not settings.is_repeated:
        return settings.has_band and not holds
    return len(repetitions) < (1 if goal.to_exhaustion else LEAST_PART * goal.repetitions)


def is_future(started_at: str, now: datetime) -> bool:
    """Return whether a session's beginning (ISO 8601) lies after `now`; False where that is not known."""
    try:
        return datetime.fromisoformat(started_at) > now
    except (ValueError, TypeError):
        return False
