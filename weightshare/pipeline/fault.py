"""What a scale says is wrong with itself, in words."""

from __future__ import annotations

from weightshare.model import Condition

_WORDS = {
    Condition.CELL_SILENT: "the scale says that a cell does not answer: do not trust these numbers; check its cable",
    Condition.OVERLOAD: "the scale says that it was overloaded: check it with a known weight before you trust it again",
    Condition.BATTERY_LOW: "the scale says that its battery is low: charge it",
    Condition.BUFFER_OVERRAN: "the scale says that it lost samples: it could not send them in time",
}


def fault_words(faults: int) -> tuple[str, ...]:
    """Return one line for each fault whose bit is set in `faults` (the wire protocol's CONDITION); others are unknown
    to version 1 and passed over."""
    return tuple(words for bit, words in _WORDS.items() if faults & bit)
