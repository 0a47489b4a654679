"""The colours of the window, light and dark, as plain values. Contrast is held by a test, not by eye."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Theme:
    """Colours as `#rrggbb`. Text holds 4.5:1 and marks 3:1 against what lies under them (WCAG 2.2, 1.4.3, 1.4.11)."""

    name: str
    ground: str
    """Behind everything."""
    raised: str
    """Behind the settings, notices and fields."""
    ink: str
    """Text and the trail."""
    quiet: str
    """Text of lesser weight."""
    path: str
    """The corridor that lies ahead."""
    edge: str
    """The corridor's borders, the now-line, empty stones, the focus ring."""
    laid: str
    """The corridor behind the now-line where the time counted, and the stones of held seconds."""
    inside: str
    """The puck in the band; the big key."""
    outside: str
    """The puck out of the band; warnings."""
    hairline: str
    """Lines that only decorate."""
    over: str
    """Behind the alarm of too much load; what is written on it is `over_ink`."""
    over_ink: str
    unread: str
    """Behind the alarm that the load cannot be read."""
    unread_ink: str


LIGHT = Theme(
    name="light",
    ground="#f6f2e9",
    raised="#fffdf8",
    ink="#1b252d",
    quiet="#4a555d",
    path="#d9e5ea",
    edge="#2f6c8f",
    laid="#447f9e",
    inside="#0d4463",
    outside="#98400a",
    hairline="#d8d0c0",
    over="#9c1420",
    over_ink="#ffffff",
    unread="#ffd34d",
    unread_ink="#1b1a14",
)

DARK = Theme(
    name="dark",
    ground="#12171b",
    raised="#1c2329",
    ink="#f0ebe0",
    quiet="#aeb8be",
    path="#1f303b",
    edge="#74b2d4",
    laid="#4185aa",
    inside="#a5d9f6",
    outside="#f2a75f",
    hairline="#2c363d",
    over="#b01725",
    over_ink="#ffffff",
    unread="#ffd34d",
    unread_ink="#1b1a14",
)

THEMES = {theme.name: theme for theme in (LIGHT, DARK)}
