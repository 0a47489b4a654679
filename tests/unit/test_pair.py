"""The pair of scales that is remembered: written whole, read again, refused by name where it is none."""

from __future__ import annotations

import json
import os
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from weightshare.errors import RecordError
from weightshare.model import Side
from weightshare.records.pair import Footwear, Pair, PairedScale, footwear_of, read_pair, write_pair
from weightshare.records.place import pair_file

LEFT = PairedScale("00112233445566aa", "ble:AA:BB:CC:DD:EE:01", Side.LEFT, "blue plate", "2026-11-02")
RIGHT = PairedScale("00112233445566bb", "serial:/dev/ttyACM0", Side.RIGHT)
TWO = Pair((RIGHT, LEFT), "2026-11-24T10:15:00+01:00", Footwear("trainers", 24.0, 24.5))
BOARD = Pair((PairedScale("00112233445566cc", "serial:COM3"),))


@pytest.mark.parametrize("pair", [TWO, BOARD], ids=["two", "board"])
def test_what_is_remembered_is_found_again(pair: Pair, tmp_path: Path) -> None:
    path = tmp_path / "deep" / "pair.json"
    write_pair(pair, path)
    assert read_pair(path) == pair
    assert os.name == "nt" or path.stat().st_mode & 0o077 == 0, "nobody else may read it"
    write_pair(pair.swapped(), path)
    assert read_pair(path) == pair.swapped()


def test_nothing_is_remembered_before_something_is() -> None:
    assert read_pair() is None
    write_pair(TWO)
    assert pair_file().exists() and read_pair() == TWO


def test_each_source_has_its_foot() -> None:
    assert TWO.sources == ("serial:/dev/ttyACM0", "ble:AA:BB:CC:DD:EE:01")
    assert TWO.sides == (Side.RIGHT, Side.LEFT) and TWO.swapped().sides == (Side.LEFT, Side.RIGHT)
    assert BOARD.sides is None and BOARD.swapped() == BOARD


@pytest.mark.parametrize(
    "scales",
    [(), (LEFT,), (LEFT, replace(RIGHT, side=Side.LEFT)), (LEFT, replace(RIGHT, device_id=LEFT.device_id))],
)
def test_what_is_no_pair_is_refused(scales: tuple[PairedScale, ...]) -> None:
    with pytest.raises(ValueError, match="a pair is"):
        Pair(scales)


@pytest.mark.parametrize(
    "change",
    [
        {"schema": "weightshare.pair/9"},
        {"scales": []},
        {"scales": None},
        {"footwear": {"words": "", "left_sole_mm": 1e6, "right_sole_mm": None}},
        {"footwear": {"words": 3, "left_sole_mm": None, "right_sole_mm": None}},
        {"scales": [{"device_id": "x", "source": "", "side": None, "name": "", "calibrated_on": ""}]},
        {"scales": [{"device_id": "x", "source": "rig:", "side": "up", "name": "", "calibrated_on": ""}]},
    ],
    ids=str,
)
def test_a_damaged_file_is_named_with_the_remedy(change: dict[str, Any], tmp_path: Path) -> None:
    path = tmp_path / "pair.json"
    write_pair(TWO, path)
    path.write_text(json.dumps(json.loads(path.read_text()) | change))
    with pytest.raises(RecordError, match=r"pair\.json.*set them up again"):
        read_pair(path)
    path.write_bytes(b"\xff{")
    with pytest.raises(RecordError, match=r"pair\.json"):
        read_pair(path)


def test_what_is_worn_belongs_to_the_remembered_scales_alone(tmp_path: Path) -> None:
    path = tmp_path / "pair.json"
    assert footwear_of(TWO.sources, path) is None
    write_pair(TWO, path)
    assert footwear_of(TWO.sources, path) == footwear_of(TWO.sources[::-1], path) == TWO.footwear
    assert footwear_of(("rig:",), path) is None
    write_pair(replace(TWO, footwear=Footwear()), path)
    assert footwear_of(TWO.sources, path) is None, "nothing was told"
    path.write_text("{", encoding="utf-8")
    assert footwear_of(TWO.sources, path) is None
