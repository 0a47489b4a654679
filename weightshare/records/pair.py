"""The pair of scales that this machine practises on: which they are, how they are reached, under which foot."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any

from weightshare.errors import RecordError
from weightshare.model import Side
from weightshare.records.place import pair_file
from weightshare.records.whole import FOLDER_MODE, write_whole

SCHEMA = "weightshare.pair/1"
THICKEST_SOLE_MM = 100.0


@dataclass(frozen=True, slots=True)
class Footwear:
    """What is worn on the scales, in words, and how thick each sole is under the heel, mm; None: not told."""

    words: str = ""
    left_sole_mm: float | None = None
    right_sole_mm: float | None = None


@dataclass(frozen=True, slots=True)
class PairedScale:
    """One scale of the pair. `side` is whose foot stands on it; None: it reads both feet."""

    device_id: str
    source: str
    side: Side | None = None
    name: str = ""
    calibrated_on: str = ""
    """The day of the calibration that was in force, as 2026-11-24; empty where there was none."""


@dataclass(frozen=True, slots=True)
class Pair:
    """One scale that reads both feet, or two that read one each; `chosen_at` is when it was set up, ISO 8601.

    Raises ValueError where the feet do not go with that.
    """

    scales: tuple[PairedScale, ...]
    chosen_at: str = ""
    footwear: Footwear = field(default_factory=Footwear)

    def __post_init__(self) -> None:
        feet = sorted(str(scale.side or "both") for scale in self.scales)
        if feet not in (["both"], ["left", "right"]):
            raise ValueError(f"a pair is one scale for both feet, or one for each; not {feet}")
        if len({scale.device_id for scale in self.scales}) < len(self.scales):
            raise ValueError("a pair is two scales, not one of them twice")

    @property
    def sources(self) -> tuple[str, ...]:
        """How each is reached."""
        return tuple(scale.source for scale in self.scales)

    @property
    def sides(self) -> tuple[Side, Side] | None:
        """Whose foot stands on the first and on the second; None for one scale that reads both."""
        if len(self.scales) < 2 or self.scales[0].side is None:
            return None
        first = self.scales[0].side
        return first, first.other

    def swapped(self) -> Pair:
        """Return the pair with left and right the other way round; one scale that reads both stays as it is."""
        turned = (
            PairedScale(one.device_id, one.source, one.side and one.side.other, one.name, one.calibrated_on)
            for one in self.scales
        )
        return Pair(tuple(turned), self.chosen_at, self.footwear)


def write_pair(pair: Pair, path: Path | None = None) -> None:
    """Remember `pair` in place of another, in the user's own place or in `path`. Raises OSError."""
    path = path or pair_file()
    path.parent.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
    write_whole(path, json.dumps({"schema": SCHEMA, **asdict(pair)}, indent=1).encode() + b"\n")


def read_pair(path: Path | None = None) -> Pair | None:
    """Return the pair that is remembered, in the user's own place or in `path`; None where there is none.

    Raises RecordError, which names the file, where it cannot be read or is none.
    """
    path = path or pair_file()
    try:
        value = json.loads(path.read_bytes())
    except FileNotFoundError:
        return None
    except (OSError, ValueError, RecursionError) as error:
        raise _refusal(path) from error
    try:
        return _parse(value)
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise _refusal(path) from error


def footwear_of(sources: tuple[str, ...], path: Path | None = None) -> Footwear | None:
    """Return what is worn on the pair that is remembered, where that is what `sources` reach; None where it is not."""
    try:
        pair = read_pair(path)
    except RecordError:
        return None
    known = pair is not None and sorted(pair.sources) == sorted(sources)
    return pair.footwear if pair is not None and known and pair.footwear != Footwear() else None


def _refusal(path: Path) -> RecordError:
    return RecordError(f"{path}: the scales remembered there cannot be read; set them up again (Get started)")


def _parse(value: Any) -> Pair:
    if value["schema"] != SCHEMA:
        raise ValueError("another schema")
    scales = tuple(_parse_scale(row) for row in value["scales"])
    worn = value["footwear"]
    soles = _sole_mm(worn["left_sole_mm"]), _sole_mm(worn["right_sole_mm"])
    return Pair(scales, _text(value, "chosen_at"), Footwear(_text(worn, "words"), *soles))


def _parse_scale(row: Mapping[str, Any]) -> PairedScale:
    side = None if row["side"] is None else Side(row["side"])
    source, device_id = _text(row, "source"), _text(row, "device_id")
    if not source:
        raise ValueError("a scale without a source")
    return PairedScale(device_id, source, side, _text(row, "name"), _text(row, "calibrated_on"))


def _text(row: Mapping[str, Any], key: str) -> str:
    value = row[key]
    if not isinstance(value, str):
        raise TypeError(key)
    return value


def _sole_mm(value: Any) -> float | None:
    if value is None:
        return None
    thick_mm = float(value)
    if not (math.isfinite(thick_mm) and 0.0 <= thick_mm <= THICKEST_SOLE_MM):
        raise ValueError("no sole is so thick")
    return thick_mm
