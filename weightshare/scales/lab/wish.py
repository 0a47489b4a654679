"""What is asked of a stream: its name, and what it does not say of itself."""

from __future__ import annotations

import re
from dataclasses import dataclass

from weightshare.errors import OptionError
from weightshare.scales.lab.unit import NEWTONS, newtons_per

_SPLIT = re.compile(r",(?=(?:left|right|unit|load)=)")
EXAMPLE = "lsl:Plates,left=Fz1,right=Fz2,unit=N,load=negative"


@dataclass(frozen=True, slots=True)
class Wish:
    """A stream by its name or source id. What is None is taken from what the stream says of itself."""

    name: str
    left: str | None = None
    """The label, or the number from 1, of the channel under the left foot."""
    right: str | None = None
    unit: str | None = None
    negative: bool = False
    """Whether load is counted negative."""


def parse_wish(spec: str) -> Wish:
    """Return what follows `lsl:` in a source as a wish. Raises OptionError, with an example, where it is misspelt."""
    name, *parts = _SPLIT.split(spec)
    given = [part.split("=", 1) for part in parts]
    values = {key: value.strip() for key, value in given}
    if not name.strip() or not all(values.values()) or len(values) < len(given):
        raise OptionError(f"--source lsl:{spec!s} is misspelt; write it like {EXAMPLE}")
    load, unit = values.pop("load", "positive"), values.get("unit")
    if load not in ("positive", "negative"):
        raise OptionError(f"--source lsl:{spec}: load={load} may be positive or negative")
    if unit is not None and newtons_per(unit) is None:
        raise OptionError(f"--source lsl:{spec}: unit={unit} is no unit of force; write one of {', '.join(NEWTONS)}")
    return Wish(name.strip(), negative=load == "negative", **values)
