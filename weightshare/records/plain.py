"""Frozen values as JSON, and back: each field under its own name, checked by its type hint."""

from __future__ import annotations

import dataclasses
import math
import sys
import types
from collections.abc import Mapping
from enum import StrEnum
from typing import Any, TypeVar, cast, get_args, get_origin, get_type_hints

from weightshare.errors import CalibrationError

T = TypeVar("T")
INFINITE = "infinite"
"""JSON has no infinity. A number that is none becomes null."""


def to_plain(value: object) -> object:
    """Return a frozen value (of dataclasses, tuples, names, numbers) as what JSON can hold."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {field.name: to_plain(getattr(value, field.name)) for field in dataclasses.fields(value)}
    if isinstance(value, tuple | list):
        return [to_plain(one) for one in value]
    if isinstance(value, StrEnum):
        return str(value)
    if isinstance(value, float) and not math.isfinite(value):
        return INFINITE if value > 0 else None
    return value


def from_plain(kind: type[T], value: object, where: str) -> T:
    """Return the frozen value of type `kind` that `value`, read from JSON, holds. Keys that are not known are ignored.

    Raises CalibrationError, which begins with `where` (file and key) and names the inner key.
    """
    return cast("T", _read(kind, value, where))


def _read(kind: Any, value: object, where: str) -> object:
    if isinstance(kind, types.UnionType):
        (inner,) = (one for one in get_args(kind) if one is not types.NoneType)
        return None if value is None else _read(inner, value, where)
    if get_origin(kind) is tuple:
        return _read_tuple(get_args(kind), value, where)
    if dataclasses.is_dataclass(kind):
        return _read_fields(kind, value, where)
    if issubclass(kind, StrEnum):
        return _read_name(kind, value, where)
    return _read_number(kind, value, where) if kind in (int, float) else _read_exact(kind, value, where)


def _read_fields(kind: Any, value: object, where: str) -> object:
    if not isinstance(value, Mapping):
        raise CalibrationError(f"{where} is not a JSON object")
    hints = get_type_hints(kind)
    optional = {f.name for f in dataclasses.fields(kind) if f.default is not dataclasses.MISSING}
    missing = [name for name in hints if name not in value and name not in optional]
    if missing:
        raise CalibrationError(f"{where}.{missing[0]} is missing")
    return kind(**{name: _read(hint, value[name], f"{where}.{name}") for name, hint in hints.items() if name in value})


def _read_tuple(kinds: tuple[Any, ...], value: object, where: str) -> object:
    if not isinstance(value, list):
        raise CalibrationError(f"{where} is not a list")
    each = [kinds[0]] * len(value) if kinds[1:] == (...,) else list(kinds)
    if len(each) != len(value):
        raise CalibrationError(f"{where} has {len(value)} entries, not {len(each)}")
    return tuple(_read(kind, one, f"{where}[{i}]") for i, (kind, one) in enumerate(zip(each, value, strict=True)))


def _read_name(kind: type[StrEnum], value: object, where: str) -> object:
    for name in kind:
        if name == value:
            return name
    raise CalibrationError(f"{where} is none of {', '.join(kind)}")


def _read_number(kind: type, value: object, where: str) -> object:
    if kind is float and value is None:
        return math.nan
    if kind is float and value == INFINITE:
        return math.inf
    is_number = isinstance(value, int | float) and not isinstance(value, bool) and abs(value) <= sys.float_info.max
    if is_number and (kind is float or value == int(cast("float", value))):
        return kind(value)
    raise CalibrationError(f"{where} is no {'whole ' if kind is int else ''}number")


def _read_exact(kind: type, value: object, where: str) -> object:
    if not isinstance(value, kind):
        raise CalibrationError(f"{where} is no {'text' if kind is str else kind.__name__}")
    return value
