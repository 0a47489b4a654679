"""`weightshare import`: a C3D recording of two force platforms as a trace; bundles and sessions into the store."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.export import add_bundle_passphrase
from weightshare.cli.keeper import add_store_options
from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.model import Trace
    from weightshare.records.c3d.conversion import Choice, Found

SCHEMA = "weightshare.import/1"
_EXAMPLE = """\
weightshare import trial.c3d --to trial.csv
  weightshare import A-017.zip
  weightshare import sessions --patient A-017"""
_TABLES = (".csv", ".parquet", ".pq")


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `import` to the top parser."""
    summary = "a C3D recording as a trace; a bundle, or a folder of sessions, into the store of patients"
    parser = add_command(subparsers, "import", summary, _EXAMPLE)
    parser.add_argument("file", type=Path, metavar="FILE", help="the recording, the bundle, or the sessions' folder")
    parser.add_argument("--patient", metavar="CODE", help="whose sessions are in the folder")
    parser.add_argument("--as", dest="as_code", metavar="CODE", help="the code that a bundle's new patient gets here")
    add_bundle_passphrase(parser)
    add_store_options(parser)
    parser.add_argument("--to", type=Path, metavar="FILE", help="write the trace there: .csv or .parquet")
    parser.add_argument("--plates", metavar="A,B", help="the two platforms that were stood on, of a file with more")
    parser.add_argument("--left", type=int, metavar="N", help="the platform under the left foot")
    parser.add_argument("--unit", metavar="UNIT", help="the forces' unit, where the file does not say: N, kN, kg, lb")
    parser.add_argument("--load", choices=("positive", "negative"), help="how the file counts load, where in doubt")
    parser.add_argument("--no-zero", action="store_true", help="do not subtract the mean of the file's zero frames")
    parser.add_argument("--heels", metavar="LEFT,RIGHT", help="the heels' markers: their heights go into the trace")
    parser.add_argument("--yes", action="store_true", help="what was found is right: write without asking")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print what was found; where that is confirmed, write the trace. Return 0, or 1 where it was not confirmed."""
    from weightshare.cli.import_store import goes_to_store, import_to_store
    from weightshare.records.c3d.conversion import find_feet, make_found_trace
    from weightshare.records.c3d.process import read_c3d

    if goes_to_store(args.file):
        return import_to_store(args)
    _check_place(args.to)
    choice = _make_choice(args)
    found = find_feet(read_c3d(args.file), choice, str(args.file))
    trace = make_found_trace(found)
    if not args.json:
        print("\n".join(found.lines()))
    confirmed = args.to is not None and (args.yes or _confirm(args, found))
    if confirmed:
        _write(trace, args.to)
    if args.json:
        print(json.dumps(to_json(found, args.to if confirmed else None)))
    elif confirmed:
        print(f"written: {args.to}", file=sys.stderr)
    elif args.to is None:
        print("nothing was written; --to FILE.csv writes the trace", file=sys.stderr)
    return 0 if confirmed or args.to is None else 1


def _make_choice(args: argparse.Namespace) -> Choice:
    """Return what was said instead of the file. Raises OptionError."""
    from weightshare.errors import OptionError
    from weightshare.records.c3d.conversion import Choice
    from weightshare.scales.lab.unit import NEWTONS, unit_of

    if args.unit is not None and unit_of(args.unit) is None:
        raise OptionError(f"--unit {args.unit} is no unit of force; write one of {', '.join(NEWTONS)}")
    plates = None
    if args.plates is not None:
        parts = [part.strip() for part in args.plates.split(",")]
        if len(parts) != 2 or not all(part.isdecimal() for part in parts) or parts[0] == parts[1]:
            raise OptionError(f"--plates {args.plates}: name two different platforms, as in 1,2")
        plates = int(parts[0]), int(parts[1])
    heels = None if args.heels is None else tuple(part.strip() for part in args.heels.split(","))
    if heels is not None and len(heels) != 2:
        raise OptionError(f"--heels {args.heels}: name the left heel's marker and the right one's, as in LHEE,RHEE")
    negative = None if args.load is None else args.load == "negative"
    pair = None if heels is None else (heels[0], heels[1])
    return Choice(plates, args.left, args.unit or "", negative, not args.no_zero, pair)


def _check_place(to: Path | None) -> None:
    """Raise OptionError where the trace cannot be written to `to`, before anything is read."""
    from weightshare.errors import OptionError

    if to is None:
        return
    if to.suffix.lower() not in _TABLES:
        raise OptionError(f"--to {to}: a trace is written as .csv or .parquet")
    if to.exists():
        raise OptionError(f"--to {to}: there is such a file already; give another name")
    if not to.absolute().parent.is_dir():
        raise OptionError(f"--to {to}: there is no such folder; make it first")


def _confirm(args: argparse.Namespace, found: Found) -> bool:
    """Ask at the terminal whether it is so. Raises OptionError where nobody can be asked."""
    from weightshare.errors import OptionError

    if args.json or not sys.stdin.isatty():
        guessed = (
            "" if found.guess.sure else f" Which platform is left is a guess: --left {found.guess.left} settles it."
        )
        raise OptionError(f"nothing was written: --yes says that what was found in {args.file} is right.{guessed}")
    print("Is that so? Then the trace is written. [y/N] ", end="", file=sys.stderr, flush=True)
    return sys.stdin.readline().strip().lower() in ("y", "yes")


def _write(trace: Trace, to: Path) -> None:
    """Write the trace whole or not at all. Raises OSError."""
    from weightshare.records.trace import write_csv, write_parquet
    from weightshare.records.whole import naming

    part = to.with_name(to.name + ".part")
    with naming(to):
        try:
            (write_csv if to.suffix.lower() == ".csv" else write_parquet)(trace, part)
            part.replace(to)
        except BaseException:
            part.unlink(missing_ok=True)
            raise


def to_json(found: Found, written: Path | None) -> dict[str, object]:
    """Return what was found as plain values; `written` is null where nothing was."""
    feet = {
        side: {
            "platform": load.number,
            "type": load.kind,
            "unit": load.unit,
            "load": "negative" if load.negative else "positive",
            "zero_N": round(load.zero_N, 3),
            "mean_N": round(float(load.load_N.mean()), 3),
        }
        for side, load in zip(("left", "right"), found.feet, strict=True)
    }
    return {
        "schema": SCHEMA,
        "file": found.name,
        "rate_Hz": found.rate_Hz,
        "samples": int(found.feet[0].load_N.size),
        **feet,
        "left_by": found.guess.why,
        "left_is_sure": found.guess.sure,
        "written": None if written is None else str(written),
    }
