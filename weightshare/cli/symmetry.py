"""`weightshare symmetry`: how the two sides compare, in each measure of a session, or in two values."""

from __future__ import annotations

import argparse
import json
import math
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.metrology.estimate import Estimate
    from weightshare.metrology.index import Index

SCHEMA = "weightshare.symmetry/1"
KINDS = {
    "mean-force": "MEAN_FORCE",
    "peak-force": "PEAK_FORCE",
    "hold-time": "HOLD_TIME",
    "hold-force": "HOLD_FORCE",
    "repetitions": "REPETITIONS",
    "height": "HEIGHT",
    "best-height": "BEST_HEIGHT",
    "load-travel": "LOAD_TRAVEL",
}
"""The names of measures, kept here too so that --help need not load what knows them."""
_GREATEST = 1e6
_EXAMPLE = """\
weightshare symmetry session-2026-11-24-101500
  weightshare symmetry --kind hold-time --values 21.5 30"""


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `symmetry` to the top parser."""
    summary = "how the two sides compare, in each measure of a session, or in two values"
    parser = add_command(subparsers, "symmetry", summary, _EXAMPLE)
    parser.add_argument("session", type=Path, nargs="?", metavar="SESSION", help="the folder of a saved session")
    parser.add_argument("--kind", choices=tuple(KINDS), metavar="NAME", help=f"of two values: {', '.join(KINDS)}")
    parser.add_argument(
        "--values", type=float, nargs=2, metavar=("INJURED", "UNINJURED"), help="the two values, measured alike"
    )
    parser.add_argument("--both-injured", action="store_true", help="both sides are injured: then there is no index")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print how the sides compare; return 0."""
    from weightshare.records.symmetry import Told

    found = _of_values(args) if args.session is None else _of_session(args)
    if args.json:
        print(json.dumps({"schema": SCHEMA, "indices": [Told(one).to_json() for one in found]}))
    else:
        print("\n\n".join(map(_table, found)) or "nothing in this session has a value for each side")
    return 0


def _of_session(args: argparse.Namespace) -> tuple[Index, ...]:
    from weightshare.errors import OptionError
    from weightshare.records.session import CSV_NAME, PARQUET_NAME, appraise_session, find_session
    from weightshare.records.symmetry import indices_of
    from weightshare.records.trace import read_trace

    if args.kind is not None or args.values is not None:
        raise OptionError("--kind and --values go without a session: it has measures of its own")
    folder = find_session(args.session)
    paths = [path for path in (folder / PARQUET_NAME, folder / CSV_NAME) if path.is_file()]
    trace = read_trace(paths[0]) if paths else None
    return indices_of(appraise_session(folder), trace, both_injured=args.both_injured)


def _of_values(args: argparse.Namespace) -> tuple[Index, ...]:
    from weightshare.errors import OptionError, check_range
    from weightshare.metrology.estimate import Estimate
    from weightshare.metrology.index import BOTH_INJURED, Kind, compare

    if args.kind is None or args.values is None:
        raise OptionError("give a session's folder, or --kind NAME --values INJURED UNINJURED")
    kind = Kind[KINDS[args.kind]]
    for value in args.values:
        check_range("--values", value, 0.0, _GREATEST, kind.unit or "repetitions")
    injured, uninjured = (Estimate(value, math.nan) for value in args.values)
    return (compare(kind, injured, uninjured, reason=BOTH_INJURED if args.both_injured else ""),)


def _table(one: Index) -> str:
    from weightshare.metrology.index import ANGLE, LSI, SI

    indices = (
        ("limb symmetry index", one.limb_symmetry_index, LSI),
        ("symmetry index", one.symmetry_index, SI),
        ("symmetry angle", one.symmetry_angle, ANGLE),
    )
    lines = [
        f"{one.kind}: injured {_say(one.injured, one.kind.unit)}, other {_say(one.uninjured, one.kind.unit)}",
        *(f"  {name:22}{_say(value, '%'):22}{formula}" for name, value, formula in indices if value is not None),
    ]
    lines += [f"  no index: {one.reason}"] if one.reason else []
    known = one.reliability.mdc_percent
    mdc = "" if known is None else f"; of this index some {known:.0f} %"
    lines += [f"  by itself it strays: {one.reliability.words}{mdc}"]
    return "\n".join(lines + [f"  caution: {words}" for words in one.cautions])


def _say(one: Estimate | None, unit: str) -> str:
    """Return a value with its expanded uncertainty (k = 2), as many digits as it is worth."""
    if one is None:
        return "not measured"
    if not math.isfinite(one.u):
        return f"{one.value:.4g} {unit}".strip()
    half = 2.0 * one.u
    digits = 1 if half <= 0.0 else min(6, max(0, 1 - math.floor(math.log10(half))))
    return f"{one.value:.{digits}f} +- {half:.{digits}f} {unit}".strip()
