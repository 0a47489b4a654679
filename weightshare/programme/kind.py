"""What may stand under a key of a programme's file: how it is read, how it is written, what is allowed, in words."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date, time
from enum import StrEnum
from typing import Any

from weightshare.errors import OptionError
from weightshare.exercise import Tempo, parse_ceiling, parse_load, parse_tempo

KEY_FORM = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_FIGURE = r"\d+(?:\.\d+)?"
_LOAD = f"{_FIGURE}(?:kg|%)"
LONGEST_TEXT = 500
LONGEST_SHOWN = 60
"""Letters of what cannot be that a message repeats."""


@dataclass(frozen=True, slots=True)
class Kind:
    """`read` makes the value of what TOML brought, and raises ValueError where it is none; `allowed` says what is."""

    allowed: str
    read: Callable[[Any], Any]
    write: Callable[[Any], Any] = lambda value: value
    span: tuple[float, float, str] | None = None
    """Of a number: the least, the greatest, and the unit."""
    options: tuple[str, ...] = ()
    """What may be chosen; empty where anything is typed."""
    shape: Mapping[str, Any] = field(default_factory=dict)
    """The same as JSON Schema says it, as far as that can."""


@dataclass(frozen=True, slots=True)
class Torn:
    """What was typed behind a key in a line that is no TOML."""

    words: str


def shown(value: object) -> str:
    """Return `value` as somebody would type it into the file, on one line and not too long."""
    if isinstance(value, bool):
        said = str(value).lower()
    elif isinstance(value, str):
        said = f'"{value}"'
    elif isinstance(value, list):
        said = f"[{', '.join(map(shown, value))}]"
    elif isinstance(value, date | time):
        said = value.isoformat()
    else:
        said = value.words if isinstance(value, Torn) else "a table" if isinstance(value, dict) else str(value)
    return plain(said)


def plain(words: str) -> str:
    """Return `words` on one line, cut where they are long: signs that cannot be seen become a space."""
    said = " ".join("".join(letter if letter.isprintable() else " " for letter in words).split())
    return said if len(said) <= LONGEST_SHOWN else f"{said[: LONGEST_SHOWN - 1]}\u2026"


def _refuse(value: object, allowed: str) -> ValueError:
    return ValueError(f"{shown(value)} is not allowed: write {allowed}")


def _bare(value: object, allowed: str) -> str:
    """Return what is allowed, and what it is without, for somebody who wrote "30" or "5 kg"."""
    return f"{allowed}, without quotes and unit" if isinstance(value, str) and value[:1].isdigit() else allowed


def number(low: float, high: float, unit: str) -> Kind:
    """Return the kind of finite numbers from `low` to `high`."""
    allowed = f"a number from {low:g} to {high:g} {unit}".strip()

    def read(value: Any) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            raise _refuse(value, _bare(value, allowed))
        if not low <= value <= high:
            raise _refuse(value, allowed)
        return float(value)

    return Kind(
        allowed,
        read,
        lambda value: int(value) if value == int(value) else value,
        (low, high, unit),
        shape=_between("number", low, high),
    )


def whole(low: int, high: int, unit: str = "") -> Kind:
    """Return the kind of whole numbers from `low` to `high`."""
    allowed = f"a whole number from {low} to {high} {unit}".strip()

    def read(value: Any) -> int:
        if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
            raise _refuse(value, _bare(value, allowed))
        return value

    return Kind(allowed, read, span=(low, high, unit), shape=_between("integer", low, high))


def flag() -> Kind:
    """Return the kind of true and false."""
    allowed = "true or false"

    def read(value: Any) -> bool:
        if not isinstance(value, bool):
            raise _refuse(value, allowed)
        return value

    return Kind(allowed, read, options=("true", "false"), shape={"type": "boolean"})


def text(allowed: str = "words in quotes, on one line") -> Kind:
    """Return the kind of texts of one line that are not empty."""

    def read(value: Any) -> str:
        if not isinstance(value, str) or not value.strip() or not value.isprintable() or len(value) > LONGEST_TEXT:
            raise _refuse(value, allowed)
        return value

    return Kind(allowed, read, shape={"type": "string", "minLength": 1, "maxLength": LONGEST_TEXT})


def slug() -> Kind:
    """Return the kind of keys of a stage."""
    allowed = 'small letters, digits and hyphens, as in "lowering-75"'

    def read(value: Any) -> str:
        if not isinstance(value, str) or not KEY_FORM.fullmatch(value) or len(value) > 60:
            raise _refuse(value, allowed)
        return value

    return Kind(allowed, read, shape={"type": "string", "maxLength": 60, "pattern": f"^{KEY_FORM.pattern}$"})


def choice(kind: type[StrEnum]) -> Kind:
    """Return the kind of the names of an enumeration."""
    allowed = f"one of {_listed(kind)}"

    def read(value: Any) -> StrEnum:
        if not isinstance(value, str) or value not in [str(one) for one in kind]:
            raise _refuse(value, allowed)
        return kind(value)

    return Kind(allowed, read, str, options=tuple(map(str, kind)), shape=_one_of(kind))


def choices(kind: type[StrEnum]) -> Kind:
    """Return the kind of lists of such names."""
    allowed = f"a list of {_listed(kind)}"
    one_of = choice(kind)

    def read(value: Any) -> tuple[StrEnum, ...]:
        if not isinstance(value, list) or not all(isinstance(one, str) and one in list(kind) for one in value):
            raise _refuse(value, allowed)
        return tuple(sorted({one_of.read(one) for one in value}, key=list(kind).index))

    return Kind(allowed, read, lambda value: [str(one) for one in value], shape=_list_of(_one_of(kind)))


def numbers(low: int, high: int) -> Kind:
    """Return the kind of lists of whole numbers."""
    allowed = f"a list of whole numbers from {low} to {high}, as in [2, 3]"
    one_of = whole(low, high)

    def read(value: Any) -> tuple[int, ...]:
        if not isinstance(value, list):
            raise _refuse(value, allowed)
        try:
            return tuple(sorted({one_of.read(one) for one in value}))
        except ValueError as error:
            raise _refuse(value, allowed) from error

    return Kind(allowed, read, list, shape=_list_of(one_of.shape))


def _between(kind: str, low: float, high: float) -> dict[str, Any]:
    return {"type": kind, "minimum": low, "maximum": high}


def _one_of(kind: type[StrEnum]) -> dict[str, Any]:
    return {"type": "string", "enum": [str(one) for one in kind]}


def _list_of(shape: Mapping[str, Any]) -> dict[str, Any]:
    return {"type": "array", "items": shape}


def _listed(kind: type[StrEnum]) -> str:
    return ", ".join(f'"{one}"' for one in kind)


def _parsed(allowed: str, parse: Callable[[str], Any], pattern: str) -> Kind:
    def read(value: Any) -> Any:
        if not isinstance(value, str):
            raise _refuse(value, allowed)
        try:
            return parse(value)
        except OptionError as error:
            raise _refuse(value, allowed) from error

    return Kind(allowed, read, str, shape={"type": "string", "pattern": f"^{pattern}$"})


def tempo() -> Kind:
    """Return the kind of tempos."""
    span = "0.3 to 20 s up and down, 0 to 60 s at the top, 0 to 20 s at the bottom"
    return _parsed(
        f'seconds up, at the top, down and at the bottom, as in "1-1-3-1" ({span})',
        _exact_tempo,
        f"{_FIGURE}(?:-{_FIGURE}){{2,3}}",
    )


def _exact_tempo(words: str) -> Tempo:
    if any(part.strip() != part for part in words.split("-")):
        raise OptionError(words)
    return parse_tempo(words)


def load() -> Kind:
    """Return the kind of loads."""
    return _parsed('kilograms, as in "20kg", or percent of body weight, as in "25%" (1 to 400)', parse_load, _LOAD)


def ceiling() -> Kind:
    """Return the kind of ceilings."""
    return _parsed('kilograms, as in "20kg", or percent of body weight, as in "25%" (1 to 400)', parse_ceiling, _LOAD)


def day() -> Kind:
    """Return the kind of dates."""
    allowed = "a date, as in 2026-11-24"

    def read(value: Any) -> str:
        try:
            # a date and time is one too, for Python
            if type(value) is date:
                return value.isoformat()
            return date.fromisoformat(value).isoformat()
        except (TypeError, ValueError) as error:
            raise _refuse(value, allowed) from error

    return Kind(allowed, read, date.fromisoformat, shape={"type": "string", "format": "date"})
