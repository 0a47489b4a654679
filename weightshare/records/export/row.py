"""The rows of one session in each table, from its analysis as the JSON object has it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from typing import Any

from weightshare.exercise import Ceiling, Repetition
from weightshare.metrology.share import COVERAGE_FACTOR
from weightshare.pipeline.anew import Span
from weightshare.pipeline.anew import phases_of as phases_known
from weightshare.pipeline.result import numbers_beside
from weightshare.pipeline.symmetry import indices_u
from weightshare.records.diary import About, Diary
from weightshare.records.export.catalogue import PHASES_NAMED, REPETITIONS, THIRDS
from weightshare.records.export.column import Row
from weightshare.records.export.series import set_rows
from weightshare.records.figure import Figure, height_u_of
from weightshare.records.setting import SessionHead
from weightshare.records.symmetry import STANDING
from weightshare.scales.rig.cell import known_calibration

_SHARES = ("rise", "top", "lowering")
_OVER = "over the ceiling"
_VIRTUAL = "rig:"
_FIELDS = tuple(one.name for one in fields(Repetition))


@dataclass(frozen=True, slots=True)
class Origin:
    """Which session it is, and whose: `session` is its id, `patient` and `name` are empty where they are not told."""

    session: str
    head: SessionHead
    ending: str
    devices: tuple[str, ...] = ()
    patient: str = ""
    name: str = ""
    samples_file: str = ""
    """Where its samples lie, beside the tables."""

    @property
    def is_virtual(self) -> bool:
        """Whether virtual scales were stood on: by its source, or by the scale's id where a port was between."""
        ids = (device.partition(",")[0] for device in self.devices)
        return any(source.startswith(_VIRTUAL) for source in self.head.sources) or any(map(known_calibration, ids))


def rows_of(
    origin: Origin, content: Mapping[str, Any], figures: Sequence[Figure], diary: Diary | None = None
) -> dict[str, list[Row]]:
    """Return the rows of one session by the name of their table; content: its analysis, as its JSON object has it.

    Raises KeyError, TypeError or ValueError where `content` is no analysis.
    """
    head = {"session": origin.session}
    found: dict[str, list[dict[str, object]]] = {
        "sessions": [_session(origin, content)],
        "repetitions": list(repetition_rows(content)),
        "phases": list(_phases(content)),
        "holds": list(_holds(content)),
        "sets": list(set_rows(content)),
        "events": list(_events(content)),
        "figures": [_figure(one) for one in figures],
        "diary": list(_diary(diary or Diary())),
    }
    return {name: [row | head for row in rows] for name, rows in found.items()}


def _session(origin: Origin, content: Mapping[str, Any]) -> dict[str, object]:
    settings, share, worth = origin.head.settings, content["share_percent"], content.get("uncertainty") or {}
    same = ("samples", "rate_Hz", "body_weight_N", "on_plates_percent", "duration_s", "longest_hold_s", "total_held_s")
    steered, is_standing = bool(content["symmetry"]["steered"]), settings.exercise in STANDING
    band = content["band"] or content.get("load") or {}
    return {
        "patient": origin.patient or None,
        "name": origin.name or None,
        "started_at": origin.head.started_at,
        "virtual": origin.is_virtual,
        "ending": origin.ending,
        "exercise": None if settings.exercise is None else str(settings.exercise),
        "surface": str(settings.surface),
        "basis": next((row["basis"] for row in content["repetitions"]), None),
        "tempo": None if settings.tempo is None else str(settings.tempo),
        "injured_side": content["injured_side"],
        "target_percent": settings.target_percent,
        "tolerance_percent": None if settings.target_percent is None else settings.tolerance_percent,
        "target_load_N": settings.load_N,
        **_held_load(content.get("held_load")),
        **_ceiling(settings.ceiling, content),
        "steered": steered,
        "added_weight_N": settings.added_weight_N,
        "filter_Hz": settings.filter_Hz,
        **{name: content[name] for name in same},
        **{f"share_{name}_percent": share[name] for name in ("mean", "sd", "min", "max")},
        **{f"stand_{name}": value for name, value in (content.get("stand") or {}).items()},
        "share_mean_expanded_uncertainty_points": worth.get("share_mean_points"),
        "body_weight_expanded_uncertainty_N": worth.get("body_weight_N"),
        "uncertainty_assumed": "; ".join(_assumed(content)) or None,
        "uncertainty_missing": content.get("uncertainty_missing"),
        # what is no symmetry must not be taken for one by who reads the table
        **({} if steered or not is_standing else _indices(content["symmetry"], worth.get("share_mean_points"))),
        "time_in_band_s": band.get("time_in_band_s"),
        "repetitions": len(content["repetitions"]),
        "rejected": len(content["rejected"]),
        "sets": len(content.get("sets") or ()),
        "corrected": bool(content.get("corrections")),
        "devices": "; ".join(origin.devices) or None,
        "warnings": "; ".join(content["warnings"]) or None,
        "program": origin.head.program or None,
        "samples_file": origin.samples_file or None,
    }


def _held_load(held: Mapping[str, Any] | None) -> dict[str, object]:
    if held is None:
        return {}
    u_N = held["u_N"]
    return {
        "held_load_N": held["N"],
        "held_load_expanded_uncertainty_N": None if u_N is None else COVERAGE_FACTOR * u_N,
    }


def _ceiling(ceiling: Ceiling | None, content: Mapping[str, Any]) -> dict[str, object]:
    if ceiling is None:
        return {}
    crossings = content.get("ceiling") or ()
    return {"ceiling_kg": ceiling.kg, "ceiling_percent": ceiling.percent, "over_ceiling": len(crossings)}


def _assumed(content: Mapping[str, Any]) -> list[str]:
    """Return the names of what was not measured on this scale, as the keys of a calibration's file have them."""
    heel = ["heel"] if (content.get("height_worth") or {}).get("assumed") else []
    return [*((content.get("uncertainty") or {}).get("assumed") or ()), *heel]


def _indices(symmetry: Mapping[str, Any], U_points: float | None) -> dict[str, object]:
    """Return the symmetry indices, each with what the uncertainty of the share that it is made of leaves in it."""
    told = {name: value for name, value in symmetry.items() if name != "steered"}
    lsi = symmetry["limb_symmetry_index_percent"]
    if lsi is None or U_points is None:
        return told
    names = ("limb_symmetry_index", "symmetry_index", "symmetry_angle")
    worth = zip(names, indices_u(lsi, U_points), strict=True)
    return told | {f"{name}_expanded_uncertainty_percent": value for name, value in worth}


def _worths(content: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    """Yield the uncertainties of each repetition, without end: what is not known is empty."""
    worth = content.get("uncertainty") or {}
    yield from worth.get("repetitions") or ()
    while True:
        yield {}


def repetition_rows(content: Mapping[str, Any]) -> Iterator[dict[str, object]]:
    """Yield the rows of the table of repetitions, without the session; content: an analysis, as its JSON object."""
    sets = {place: one["number"] for one in content.get("sets") or () for place in one["repetitions"]}
    told = zip(numbers_of(content), content["repetitions"], _worths(content), strict=False)
    for place, (number, row, worth) in enumerate(told):
        thirds = row.get("share_lowering_thirds_percent") or (None, None, None)
        yield {
            **{name: row.get(name) for name in REPETITIONS.names},
            "number": number,
            "set": sets.get(place),
            **{f"share_lowering_{name}_third_percent": third for name, third in zip(THIRDS, thirds, strict=True)},
            **{f"share_{one}_expanded_uncertainty_points": worth.get(f"share_{one}_points") for one in _SHARES},
            **dict(_heel_worths(content, row, worth)),
        }


def _heel_worths(
    content: Mapping[str, Any], row: Mapping[str, Any], worth: Mapping[str, Any]
) -> Iterator[tuple[str, float | None]]:
    for side in ("injured", "uninjured"):
        height_mm = row.get(f"height_{side}_mm")
        u_mm = None if height_mm is None else height_u_of(content, height_mm)
        yield f"height_{side}_expanded_uncertainty_mm", None if u_mm is None else COVERAGE_FACTOR * u_mm
        yield f"load_travel_{side}_expanded_uncertainty_J", worth.get(f"load_travel_{side}_J")


def _phases(content: Mapping[str, Any]) -> Iterator[dict[str, object]]:
    numbers, nothing = numbers_of(content), (None, None)
    for number, row, worth in zip(numbers, content["repetitions"], _worths(content), strict=False):
        spans = phases_of(row)
        for phase in (*spans, *(one for one in PHASES_NAMED if one not in spans)):
            known = {"duration_s": row.get(f"{phase}_duration_s"), "share_percent": row.get(f"share_{phase}_percent")}
            if phase not in spans and set(known.values()) == {None}:
                continue
            start_s, end_s = spans.get(phase, nothing)
            told = {"repetition": number, "phase": phase, "start_s": start_s, "end_s": end_s, **known}
            yield told | {"share_expanded_uncertainty_points": worth.get(f"share_{phase}_points")}


def numbers_of(content: Mapping[str, Any]) -> tuple[int, ...]:
    """Return the number of each repetition as it was found first: those of struck ones are left out."""
    struck = (content.get("corrections") or {}).get("struck") or ()
    return numbers_beside(struck, len(content["repetitions"]))


def phases_of(row: Mapping[str, Any]) -> dict[str, Span]:
    """Return from when to when each phase of a repetition went, s, as far as that is known; `row`: it, as the analysis
    has it. Where the lowering comes first, as in a squat, there is no top."""
    told: dict[str, Any] = {name: row.get(name) for name in _FIELDS}
    one = Repetition(**told)
    down_first = one.lowering_s is not None and one.lowering_s == one.start_s
    return {str(phase): span for phase, span in phases_known(one, down_first=down_first).items()}


def _holds(content: Mapping[str, Any]) -> Iterator[dict[str, object]]:
    worths = (content.get("uncertainty") or {}).get("holds") or ()
    for place, row in enumerate(content["holds"] or ()):
        worth = worths[place] if place < len(worths) else None
        yield {"number": place + 1, **row, "share_expanded_uncertainty_points": worth}


def _events(content: Mapping[str, Any]) -> Iterator[dict[str, object]]:
    keys = {"hold": "holds", "rejected": "rejected", "gap": "gaps", _OVER: "ceiling"}
    for kind, key in keys.items():
        for place, row in enumerate(content.get(key) or ()):
            told = {name: row.get(name) for name in ("start_s", "end_s", "held_s", "peak_N", "reason")}
            worth = (content.get("uncertainty") or {}).get("ceiling_N") if kind == _OVER else None
            yield {"kind": kind, "number": place + 1, **told, "peak_expanded_uncertainty_N": worth}
    for one in content.get("sets") or ():
        yield {"kind": "set", "number": one["number"], "start_s": one["from_s"], "end_s": one["to_s"]}


def _figure(one: Figure) -> dict[str, object]:
    side = None if one.side is None else str(one.side)
    found = None if one.source is None else str(one.source)
    worth = {"standard_uncertainty": one.u, "uncertainty_from": found, "degrees_of_freedom": one.dof}
    return {"figure": one.name, "unit": one.unit, "side": side, "value": one.value, **worth}


def _diary(diary: Diary) -> Iterator[dict[str, object]]:
    for one in diary.entries:
        words = one.words if one.about is About.NOTE else None
        yield {"about": str(one.about), "at": one.at, "value": one.value, "words": words}
