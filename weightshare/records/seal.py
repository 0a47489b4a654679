"""A checksum inside a JSON object: whoever changes a digit by hand is told, instead of being measured with."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping

KEY = "checksum"


def checksum(values: Mapping[str, object]) -> str:
    """Return the SHA-256 of `values` without their own checksum: keys in order, no spaces, ASCII."""
    bare = {key: value for key, value in values.items() if key != KEY}
    plain = json.dumps(bare, sort_keys=True, separators=(",", ":"))
    return f"sha256:{hashlib.sha256(plain.encode()).hexdigest()}"


def sealed(values: Mapping[str, object]) -> dict[str, object]:
    """Return `values` with their checksum as the last key."""
    return {**values, KEY: checksum(values)}


def is_altered(values: object) -> bool:
    """Return whether `values` carry a checksum that is not theirs. What carries none was written by hand: no."""
    if not isinstance(values, Mapping) or KEY not in values:
        return False
    try:
        return bool(values[KEY] != checksum(values))
    except (ValueError, RecursionError):
        return True
