"""Frozen values as plain ones that JSON can hold, and back: strictly, by the types that they declare."""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache, partial
from types import NoneType, UnionType
from typing import Any, TypeVar, cast, get_args, get_origin, get_type_hints

_Value = TypeVar("_Value")


def to_plain(value: object) -> Any:
    """Return `value`, a frozen value or what such a one holds, as dicts, lists, texts and numbers."""
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: to_plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, tuple):
        return [to_plain(part) for part in value]
    return str(value) if isinstance(value, Enum) else value


def from_plain(kind: type[_Value], value: object) -> _Value:
    """Return the frozen value of class `kind` that `value` holds; a key that is missing has its default.

    Raises TypeError where a key is not known, one without a default is missing, or a value is of another type, and
    ValueError where it is none of an enumeration's, or no finite number; and what `kind` itself raises.
    """
    if not isinstance(value, dict):
        raise TypeError(f"{value!r} holds no {kind.__name__}")
    readers = _readers(cast("Hashable", kind))
    unknown = value.keys() - readers.keys()
    if unknown:
        # it may change what all the rest means
        raise TypeError(f"{kind.__name__} has no {', '.join(sorted(map(str, unknown)))}")
    return kind(**{key: readers[key](inner) for key, inner in value.items()})


@cache
def _readers(kind: Hashable) -> dict[str, Callable[[Any], Any]]:
    """Return what reads each field of a class: to look that up takes longer than all the rest."""
    return {name: _reader(hint) for name, hint in get_type_hints(kind).items()}


def _reader(hint: Any) -> Callable[[Any], Any]:
    """Return what reads a value of the type `hint`."""
    if get_origin(hint) is UnionType:
        (inner,) = (_reader(kind) for kind in get_args(hint) if kind is not NoneType)
        may_be_none = NoneType in get_args(hint)
        return lambda value: None if value is None and may_be_none else inner(value)
    if get_origin(hint) is tuple:
        part = _reader(get_args(hint)[0])
        return lambda value: tuple(map(part, value)) if isinstance(value, list) else _read_simple(hint, value)
    if is_dataclass(hint) and isinstance(hint, type):
        return partial(from_plain, hint)
    if isinstance(hint, type) and issubclass(hint, Enum):
        return hint
    return partial(_read_simple, hint)


def _read_simple(hint: Any, value: Any) -> Any:
    if hint is float and type(value) in (int, float):
        if not math.isfinite(value):
            raise ValueError(f"{value} is no finite number")
        return float(value)
    if hint in (int, bool, str) and type(value) is hint:
        return value
    raise TypeError(f"{value!r} is of another type")
