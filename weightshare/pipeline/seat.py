"""Rises from a chair by the total force: the feet carry a part, the body comes up, stands, and sits down again."""

from __future__ import annotations


class SitStandCounter:
    """Finds rises from a chair by the total force; a Counter. Being filled in."""
