"""Units of force as laboratories write them, in newtons."""

from __future__ import annotations

from weightshare.model import STANDARD_GRAVITY

POUND_FORCE_N = 4.4482216152605
"""0.45359237 kg (international yard and pound agreement, 1959) under standard gravity."""

NEWTONS = {
    "N": 1.0,
    "mN": 1e-3,
    "kN": 1e3,
    "kg": STANDARD_GRAVITY,
    "g": STANDARD_GRAVITY / 1000.0,
    "lb": POUND_FORCE_N,
}
_ALIASES = {
    "newton": "N",
    "newtons": "N",
    "n": "N",
    "millinewton": "mN",
    "millinewtons": "mN",
    "kilonewton": "kN",
    "kilonewtons": "kN",
    "kn": "kN",
    "kgf": "kg",
    "kp": "kg",
    "kilogram": "kg",
    "kilograms": "kg",
    "gf": "g",
    "gram": "g",
    "grams": "g",
    "lbf": "lb",
    "lbs": "lb",
    "pound": "lb",
    "pounds": "lb",
}


def unit_of(text: str) -> str | None:
    """Return the unit of force that `text` names, by its key in NEWTONS; None where it is none."""
    word = text.strip()
    return word if word in NEWTONS else _ALIASES.get(word.lower())


def newtons_per(text: str) -> float | None:
    """Return how many newtons one of the unit `text` is; None where it is no unit of force.

    Masses stand for their weight under standard gravity (9.80665 m/s^2; 3rd CGPM, 1901).
    """
    unit = unit_of(text)
    return None if unit is None else NEWTONS[unit]
