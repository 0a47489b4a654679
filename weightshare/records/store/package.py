"""Tables of a bundle after the Frictionless standard (Data Package and Table Schema, version 1): names, types, rows.

Column names carry their units; what cannot be had is an empty field.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from weightshare.exercise import Basis, Exercise
from weightshare.model import Side
from weightshare.pipeline.result import numbers_beside
from weightshare.records.figure import Figure
from weightshare.records.store.visit import Visit

Row = Mapping[str, object]
_MOMENT = "%Y-%m-%dT%H:%M:%S%z"


@dataclass(frozen=True, slots=True)
class Field:
    """One column: its name, its type in Table Schema, and what may stand in it."""

    name: str
    type: str = "number"
    words: str = ""
    required: bool = False
    among: Sequence[str] = ()

    def to_json(self) -> dict[str, Any]:
        """Return it as a Table Schema has it."""
        limits: dict[str, Any] = {"required": True} if self.required else {}
        if self.among:
            limits["enum"] = list(self.among)
        found: dict[str, Any] = {"name": self.name, "type": self.type}
        if self.type == "datetime":
            found["format"] = _MOMENT
        if self.words:
            found["description"] = self.words
        return found | ({"constraints": limits} if limits else {})


@dataclass(frozen=True, slots=True)
class Table:
    """One table of a bundle, in `data/NAME.csv`."""

    name: str
    words: str
    fields: tuple[Field, ...]
    key: str = ""
    """The column that tells rows apart."""

    @property
    def path(self) -> str:
        """Where it lies in the bundle."""
        return f"data/{self.name}.csv"

    def schema(self) -> dict[str, Any]:
        """Return its Table Schema."""
        schema: dict[str, Any] = {"fields": [field.to_json() for field in self.fields], "missingValues": [""]}
        if self.key:
            return schema | {"primaryKey": [self.key]}
        reference = {"resource": "sessions", "fields": ["session"]}
        return schema | {"foreignKeys": [{"fields": ["session"], "reference": reference}]}

    def to_csv(self, rows: Iterable[Row]) -> bytes:
        """Return the table as CSV: UTF-8, a header, line feeds."""
        text = io.StringIO(newline="")
        writer = csv.writer(text, lineterminator="\n")
        writer.writerow([field.name for field in self.fields])
        writer.writerows([_say(row.get(field.name)) for field in self.fields] for row in rows)
        return text.getvalue().encode()


def _say(value: object) -> str:
    if value is None:
        return ""
    return str(value).lower() if isinstance(value, bool) else str(value)


_SESSION = Field("session", "string", "the session's id", required=True)
_SIDES = tuple(map(str, Side))

SESSIONS = Table(
    "sessions",
    "one row a session",
    (
        _SESSION,
        Field("started_at", "datetime", "local time with its offset", required=True),
        Field("ending", "string"),
        Field("exercise", "string", among=tuple(map(str, Exercise))),
        Field("injured_side", "string", required=True, among=_SIDES),
        Field("target_percent", words="the injured side's share that was asked for"),
        Field("steered", "boolean", "the share was steered to a target other than 50: no symmetry"),
        Field("duration_s"),
        Field("samples", "integer"),
        Field("rate_Hz"),
        Field("body_weight_N"),
        Field("on_plates_percent"),
        Field("share_mean_percent"),
        Field("share_sd_percent"),
        Field("longest_hold_s"),
        Field("total_held_s"),
    ),
    "session",
)
_REPEATED = (
    "start_s",
    "top_s",
    "lowering_s",
    "end_s",
    "rise_duration_s",
    "top_duration_s",
    "lowering_duration_s",
    "share_rise_percent",
    "share_top_percent",
    "share_lowering_percent",
    "lowering_in_band_percent",
    "lowering_least_N",
    "height_injured_mm",
    "height_uninjured_mm",
    "load_travel_injured_J",
    "load_travel_uninjured_J",
)
_THIRDS = ("upper", "middle", "lower")
REPETITIONS = Table(
    "repetitions",
    "one row a repetition that counts",
    (
        _SESSION,
        Field("number", "integer", "as it was found first: numbers of struck ones are left out", required=True),
        Field("set", "integer"),
        Field("basis", "string", among=tuple(map(str, Basis))),
        *map(Field, _REPEATED),
        *(Field(f"share_lowering_{third}_third_percent") for third in _THIRDS),
        Field("supported", "boolean", "part of the weight was on a rail or a crutch"),
    ),
)
EVENTS = Table(
    "events",
    "holds, sets, lifts that were not counted, gaps, and crossings of the ceiling",
    (
        _SESSION,
        Field("kind", "string", required=True, among=("hold", "set", "rejected", "gap", "over the ceiling")),
        Field("number", "integer", required=True),
        Field("start_s"),
        Field("end_s"),
        Field("held_s", words="of a hold"),
        Field("peak_N", words="of a crossing of the ceiling"),
        Field("reason", "string", "why a lift was not counted"),
    ),
)
FIGURES = Table(
    "figures",
    "what each session came to, by name",
    (
        _SESSION,
        Field("figure", "string", required=True),
        Field("unit", "string"),
        Field("side", "string", among=_SIDES),
        Field("value", required=True),
        Field("standard_uncertainty", words="what the instrument leaves in doubt; empty where that is not known"),
    ),
)
TABLES = (SESSIONS, REPETITIONS, EVENTS, FIGURES)


def rows_of(visit: Visit, content: Mapping[str, Any], figures: Sequence[Figure]) -> dict[str, list[Row]]:
    """Return the rows of one session by the name of their table; content: its analysis, as its JSON object has it."""
    head = {"session": visit.record}
    return {
        "sessions": [head | _session(visit, content)],
        "repetitions": [head | row for row in _repetitions(content)],
        "events": [head | row for row in _events(content)],
        "figures": [head | _figure(one) for one in figures],
    }


def _session(visit: Visit, content: Mapping[str, Any]) -> dict[str, object]:
    same = ("samples", "rate_Hz", "body_weight_N", "on_plates_percent", "duration_s", "longest_hold_s", "total_held_s")
    return {
        "started_at": visit.started_at,
        "ending": visit.ending,
        "exercise": visit.exercise,
        "injured_side": visit.injured,
        "target_percent": visit.target_percent,
        "steered": visit.steered,
        **{name: content[name] for name in same},
        **{f"share_{name}_percent": content["share_percent"][name] for name in ("mean", "sd")},
    }


def _repetitions(content: Mapping[str, Any]) -> Iterator[dict[str, object]]:
    sets = {place: one["number"] for one in content.get("sets") or () for place in one["repetitions"]}
    struck = (content.get("corrections") or {}).get("struck") or ()
    numbers = numbers_beside(struck, len(content["repetitions"]))
    for place, row in enumerate(content["repetitions"]):
        thirds = row.get("share_lowering_thirds_percent") or (None, None, None)
        yield {
            "number": numbers[place],
            "set": sets.get(place),
            "basis": row["basis"],
            **{name: row.get(name) for name in _REPEATED},
            **{f"share_lowering_{name}_third_percent": third for name, third in zip(_THIRDS, thirds, strict=True)},
            "supported": row["supported"],
        }


def _events(content: Mapping[str, Any]) -> Iterator[dict[str, object]]:
    keys = {"hold": "holds", "rejected": "rejected", "gap": "gaps", "over the ceiling": "ceiling"}
    for kind, key in keys.items():
        for place, row in enumerate(content.get(key) or ()):
            told = {name: row.get(name) for name in ("start_s", "end_s", "held_s", "peak_N", "reason")}
            yield {"kind": kind, "number": place + 1, **told}
    for one in content.get("sets") or ():
        yield {"kind": "set", "number": one["number"], "start_s": one["from_s"], "end_s": one["to_s"]}


def _figure(one: Figure) -> dict[str, object]:
    return {
        "figure": one.name,
        "unit": one.unit,
        "side": one.side,
        "value": one.value,
        "standard_uncertainty": one.u,
    }


def trace_schema(path: Path) -> dict[str, Any]:
    """Return the Table Schema of a session's trace, by its header. Raises OSError."""
    with path.open(encoding="utf-8") as file:
        names = file.readline().strip().split(",")
    fields = [Field(name, required=name == "time_s").to_json() for name in names]
    return {"fields": fields, "missingValues": [""]}


def to_bytes(value: object) -> bytes:
    """Return `value` as readable JSON."""
    return json.dumps(value, indent=1, ensure_ascii=False).encode() + b"\n"
