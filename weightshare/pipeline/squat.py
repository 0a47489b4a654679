"""Squats by the total force: the centre of mass goes down, stays there, and comes up again."""

from __future__ import annotations


class SquatCounter:
    """Finds squats by the total force; a Counter. Being filled in."""
