"""`weightshare split`: share and symmetry from two readings, for plain bathroom scales read by eye."""

from __future__ import annotations

import argparse
import json
from typing import Any

from weightshare.cli.option import add_command

SCHEMA = "weightshare.split/1"
_EXAMPLE = "weightshare split 31.5 38.5 --injured left"
_GREATEST_KG = 500.0


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `split` to the top parser."""
    summary = "share and symmetry from two readings in kg, for plain bathroom scales read by eye"
    parser = add_command(subparsers, "split", summary, _EXAMPLE)
    parser.add_argument("left", type=float, metavar="LEFT", help="the reading under the left foot, kg")
    parser.add_argument("right", type=float, metavar="RIGHT", help="the reading under the right foot, kg")
    parser.add_argument("--injured", choices=("left", "right"), required=True, help="the injured side")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print share and symmetry; return 0."""
    split = split_load(args.left, args.right, args.injured)
    print(json.dumps(split) if args.json else _table(split))
    return 0


def split_load(left_kg: float, right_kg: float, injured: str) -> dict[str, Any]:
    """Return share and symmetry of two readings (kg). Raises OptionError where a reading cannot be a load."""
    from weightshare.errors import OptionError, check_range
    from weightshare.pipeline.symmetry import limb_symmetry_index, symmetry_angle, symmetry_index

    check_range("LEFT", left_kg, 0.0, _GREATEST_KG, "kg")
    check_range("RIGHT", right_kg, 0.0, _GREATEST_KG, "kg")
    total = left_kg + right_kg
    if total <= 0:
        raise OptionError("LEFT and RIGHT are both 0 kg: nobody stands on the scales, so there is no share")
    ours, other = (left_kg, right_kg) if injured == "left" else (right_kg, left_kg)
    content = {
        "share_percent": 100.0 * ours / total,
        "limb_symmetry_index_percent": limb_symmetry_index(ours, other),
        "symmetry_index_percent": symmetry_index(ours, other),
        "symmetry_angle_percent": symmetry_angle(ours, other),
    }
    rounded = {key: None if value is None else round(value, 6) for key, value in content.items()}
    head = {
        "schema": SCHEMA,
        "injured_side": injured,
        "left_kg": left_kg,
        "right_kg": right_kg,
        "total_kg": round(total, 6),
    }
    missing = ["the limb symmetry index is not known: there is no load on the other side"]
    return head | rounded | {"warnings": [] if other else missing}


def _table(split: dict[str, Any]) -> str:
    index = split["limb_symmetry_index_percent"]
    rows = [
        ("injured side", split["injured_side"]),
        ("total", f"{split['total_kg']:.1f} kg"),
        ("share of the injured side", f"{split['share_percent']:.1f} %"),
        ("limb symmetry index", "not known" if index is None else f"{index:.1f} %"),
        ("symmetry index", f"{split['symmetry_index_percent']:.1f} %"),
        ("symmetry angle", f"{split['symmetry_angle_percent']:.2f} %"),
    ]
    note = "Two readings by eye are one moment: healthy people differ by about 7 points between two stands."
    return "\n".join([f"{name:28}{value}" for name, value in rows] + [note])
