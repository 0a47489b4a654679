"""Columns and tables of what is exported: names, units, types, meanings; their Table Schema and dictionary entries.

Types are those of the Frictionless standard's Table Schema, version 1. A column's name carries its unit.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

Row = Mapping[str, object]
MOMENT = "%Y-%m-%dT%H:%M:%S%z"
NOT_HAD = "it could not be had"
NO_WORTH = "the instrument's uncertainty is not known"


class Kind(StrEnum):
    """What stands in a column, by the names of Table Schema."""

    NUMBER = "number"
    INTEGER = "integer"
    BOOLEAN = "boolean"
    STRING = "string"
    DATETIME = "datetime"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as people write it, and by the Unified Code for Units of Measure (UCUM)."""

    written: str
    ucum: str


UNITS = {
    "N": Unit("N", "N"),
    "s": Unit("s", "s"),
    "percent": Unit("%", "%"),
    "points": Unit("percentage points", "%{points}"),
    "kg": Unit("kg", "kg"),
    "mm": Unit("mm", "mm"),
    "J": Unit("J", "J"),
    "Hz": Unit("Hz", "Hz"),
}
"""By the last part of a column's name."""
NO_UNIT = Unit("", "")


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its name, what it means, its type, what may stand in it, and what an empty field says."""

    name: str
    words: str
    kind: Kind = Kind.NUMBER
    required: bool = False
    among: Sequence[str] = ()
    missing: str = NOT_HAD

    @property
    def unit(self) -> Unit:
        """Its unit; an empty one for what has none."""
        is_number = self.kind in (Kind.NUMBER, Kind.INTEGER)
        return UNITS.get(self.name.rpartition("_")[2], NO_UNIT) if is_number else NO_UNIT

    def to_schema(self) -> dict[str, Any]:
        """Return it as a Table Schema has it; `unit` is a key of our own."""
        limits: dict[str, Any] = {"required": True} if self.required else {}
        if self.among:
            limits["enum"] = list(self.among)
        found: dict[str, Any] = {"name": self.name, "type": str(self.kind), "description": self.words}
        if self.kind is Kind.DATETIME:
            found["format"] = MOMENT
        if self.unit.written:
            found["unit"] = self.unit.written
        return found | ({"constraints": limits} if limits else {})

    def to_entry(self) -> dict[str, Any]:
        """Return it as the data dictionary has it."""
        return {
            "name": self.name,
            "type": str(self.kind),
            "unit": self.unit.written or None,
            "ucum": self.unit.ucum or None,
            "meaning": self.words,
            "missing": None if self.required else self.missing,
            "values": list(self.among) or None,
        }


def worth_of(name: str, of: str, unit: str = "points", missing: str = NO_WORTH) -> Column:
    """Return the column beside `name` for what the instrument leaves in doubt of it, in `unit`; of: it, in words."""
    words = f"expanded uncertainty (k = 2) of {of}: the instrument's alone"
    return Column(f"{name}_expanded_uncertainty_{unit}", words, missing=missing)


def spread_of(name: str, unit: str, of: str, more: str = "") -> Column:
    """Return the column beside `name` for what the spread over repetitions leaves in doubt of it, and what `more`."""
    words = f"standard uncertainty of {of}: the spread over the repetitions{more}"
    missing = "fewer than two repetitions, or it could not be had"
    return Column(f"{name}_standard_uncertainty_{unit}", words, missing=missing)


@dataclass(frozen=True, slots=True)
class Table:
    """One table: `key` is the column that tells its rows apart; without one each row belongs to a session."""

    name: str
    words: str
    columns: tuple[Column, ...]
    key: str = ""

    @property
    def names(self) -> tuple[str, ...]:
        """The names of its columns, in order."""
        return tuple(column.name for column in self.columns)

    def only(self, names: Sequence[str]) -> Table:
        """Return it with no more than the columns `names`, in its own order."""
        return Table(self.name, self.words, tuple(one for one in self.columns if one.name in names), self.key)

    def without(self, *names: str) -> Table:
        """Return it without the columns `names`."""
        return self.only([name for name in self.names if name not in names])

    def schema(self) -> dict[str, Any]:
        """Return its Table Schema."""
        schema: dict[str, Any] = {"fields": [one.to_schema() for one in self.columns], "missingValues": [""]}
        if self.key:
            return schema | {"primaryKey": [self.key]}
        if "session" not in self.names:
            return schema
        reference = {"resource": "sessions", "fields": ["session"]}
        return schema | {"foreignKeys": [{"fields": ["session"], "reference": reference}]}
