"""Numbers in figures: as many digits as their uncertainty is worth."""

from __future__ import annotations

import math

MINUS = "\u2212"
UNKNOWN = "\u2013"
MOST_DECIMALS = 4
"""A tenth of a millinewton is finer than any scale."""
_EXPONENT_FROM, _EXPONENT_TO = 1e-3, 1e6


def decimals_of(uncertainty: float, most: int = MOST_DECIMALS) -> int:
    """Return with how many decimals a value is told: two digits of its uncertainty (GUM 7.2.6), `most` of all."""
    if not (math.isfinite(uncertainty) and uncertainty > 0.0):
        return 3
    # 0.0996 is told as 0.10: what two digits round up to settles the place
    place = math.floor(math.log10(float(f"{uncertainty:.1e}")))
    return min(most, max(0, 1 - place))


def fixed(value: float, decimals: int) -> str:
    """Return `value` with so many decimals and a true minus, never minus nothing; a dash where it is none."""
    if not math.isfinite(value):
        return UNKNOWN
    said = f"{value:.{decimals}f}"
    return said.replace("-", MINUS) if float(said) else said.lstrip("-")


def with_digits(value: float, digits: int = 2) -> str:
    """Return `value` with so many significant digits, written out where that is readable."""
    if not math.isfinite(value):
        return UNKNOWN
    if value == 0.0:
        return "0"
    place = math.floor(math.log10(abs(float(f"{value:.{digits - 1}e}"))))
    if _EXPONENT_FROM <= abs(value) < _EXPONENT_TO:
        return fixed(round(value, digits - 1 - place), max(0, digits - 1 - place))
    return f"{value:.{digits - 1}e}".replace("e-0", "e-").replace("e+0", "e+").replace("-", MINUS)


def plus_minus(value: float, half: float, most: int = 2) -> str:
    """Return `value` with the half width of its interval: as many decimals as that is worth, `most` of all.

    The half width is rounded up: it is never told as smaller than it is. Where it is not known there is none, and one
    decimal.
    """
    if not (math.isfinite(half) and half > 0.0):
        return fixed(value, 1)
    decimals = decimals_of(half, most)
    return f"{fixed(value, decimals)}\u00a0\u00b1\u00a0{fixed(rounded_up(half, decimals), decimals)}"


def rounded_up(half: float, decimals: int) -> float:
    """Return a half width with so many decimals, never less than it is, and never nothing."""
    steps = 10.0**decimals
    return max(1, math.ceil(half * steps - 1e-9)) / steps


def in_plain(said: str) -> str:
    """Return what was said in the letters of a terminal."""
    return said.replace("\u00a0\u00b1\u00a0", " +- ").replace(MINUS, "-").replace(UNKNOWN, "-")


def span(low: float, high: float, decimals: int) -> str:
    """Return an interval in words; a dash where an end of it is not known."""
    if not (math.isfinite(low) and math.isfinite(high)):
        return UNKNOWN
    return f"{fixed(low, decimals)} to {fixed(high, decimals)}"
