"""What a calibration says that its forces are worth, as the key `worth` of its file."""

from __future__ import annotations

from dataclasses import fields as fields_of

from weightshare.model import HeelWorth, Side, SideWorth, Worth
from weightshare.records.entry import Fields

KEY = "worth"
_NUMBERS = tuple(field.name for field in fields_of(SideWorth) if field.name != "side")
_DEFAULTS = {"hysteresis_N": 0.0, "creep_part": 0.0, "corner_part": 0.0, "zero_drift_N": 0.0}
_LEAST = {"noise_rate_Hz": 1e-3}
_MOST_MM = 100.0


def worth_to_json(worth: Worth) -> dict[str, object]:
    """Return `worth` as the object that a calibration file holds."""
    heel = worth.heel
    return {
        "common_part": worth.common_part,
        "assumed": list(worth.assumed),
        "sides": [_side_to_json(side) for side in worth.sides],
        **({} if heel is None else {"heel": {"height_mm": heel.height_mm, "place_part": heel.place_part}}),
    }


def _side_to_json(side: SideWorth) -> dict[str, object]:
    return {"side": str(side.side), **{name: getattr(side, name) for name in _NUMBERS}}


def parse_worth(fields: Fields) -> Worth | None:
    """Return what a calibration file says under `worth`; None where it has no such key. Keys not known are passed over.

    Raises CalibrationError, which names the file and the key.
    """
    value = fields.get(KEY)
    if value is None:
        return None
    inner = Fields(value, fields.name, f"{KEY}.")
    rows = inner.get("sides")
    if not isinstance(rows, list):
        raise inner.refusal("sides", "is not a list of what each side is worth")
    sides = tuple(_parse_side(Fields(row, fields.name, f"{KEY}.sides[{i}].")) for i, row in enumerate(rows))
    if len({one.side for one in sides}) < len(sides):
        raise inner.refusal("sides", "names a side twice")
    return Worth(sides, inner.number("common_part", 0.0, 0.0, 1.0), _parse_assumed(inner), _parse_heel(inner))


def _parse_heel(fields: Fields) -> HeelWorth | None:
    value = fields.get("heel")
    if value is None:
        return None
    inner = Fields(value, fields.name, f"{KEY}.heel.")
    return HeelWorth(inner.number("height_mm", None, 0.0, _MOST_MM), inner.number("place_part", None, 0.0, 1.0))


def _parse_side(fields: Fields) -> SideWorth:
    side = next((side for side in Side if side == fields.get("side")), None)
    if side is None:
        raise fields.refusal("side", "is neither left nor right")
    return SideWorth(side, **{name: _number(fields, name) for name in _NUMBERS})


def _number(fields: Fields, name: str) -> float:
    high = 1.0 if name.endswith("_part") else 1e6
    return fields.number(name, _DEFAULTS.get(name), _LEAST.get(name, 0.0), high)


def _parse_assumed(fields: Fields) -> tuple[str, ...]:
    names = fields.get("assumed")
    if names is None:
        return ()
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        raise fields.refusal("assumed", "is not a list of names")
    return tuple(names)
