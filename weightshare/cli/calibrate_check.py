"""`weightshare calibrate check`: whether the two plates read alike, stand freely, and have their zero."""

from __future__ import annotations

import argparse
import json
import sys
import threading
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.cli.checker import Checked
    from weightshare.practice.option import PractiseOptions

_EXAMPLE = """\
weightshare calibrate check --source serial:/dev/ttyACM0
  weightshare calibrate check --source serial:/dev/ttyACM0 --by helper --weight-kg 81.4"""
WAYS = ("shift", "masses", "helper")
FAILED = 1
LOOK_S = 0.02


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the way `check` to the command `calibrate`."""
    summary = "whether the two plates read alike, stand freely and have their zero; exit status 1 where they do not"
    parser = add_command(subparsers, "check", summary, _EXAMPLE)
    parser.add_argument("--source", metavar="SOURCE", help="rig: (default), tcp://HOST:PORT, serial:PORT[@BAUD]")
    parser.add_argument("--calibration", type=Path, metavar="FILE", help="the scale's calibration (default: by its id)")
    parser.add_argument(
        "--by",
        choices=WAYS,
        default="shift",
        help="shift: somebody shifts the load between the feet (default); masses: the same masses lie on each plate in "
        "turn; helper: somebody else stands on each in turn",
    )
    parser.add_argument(
        "--weight-kg", type=float, metavar="KG", help="what the masses or the helper weigh, where it is known"
    )
    parser.add_argument("--injured", choices=("left", "right"), default="left", help="who shifts: the injured side")
    parser.add_argument("--ceiling", metavar="LIMIT", help="most load on it: 20kg, or 25%% of body weight")
    parser.add_argument("--seconds", type=float, metavar="N", help="give up after so much sample time (default 300)")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Check the plates, with what to do on stderr and what came of it on stdout; return 0, or 1 where it failed."""
    from weightshare.cli.checker import Checker, Way

    checker = Checker(_make_options(args), Way(args.by), args.weight_kg)
    pause = threading.Event()
    checker.engine.start()
    try:
        while not checker.is_over:
            for words in checker.look():
                print(words, file=sys.stderr, flush=True)
            pause.wait(LOOK_S)
    finally:
        checker.engine.stop()
    checked = checker.result()
    print(json.dumps(checked.to_json()) if args.json else _table(checked))
    return 0 if checked.passed else FAILED


def _make_options(args: argparse.Namespace) -> PractiseOptions:
    """Return the options of the link and the check. Raises OptionError where one cannot be."""
    from weightshare.errors import OptionError, check_range
    from weightshare.exercise import parse_ceiling
    from weightshare.model import Side
    from weightshare.practice.option import PractiseOptions
    from weightshare.scales.source import DEFAULT_SOURCE
    from weightshare.task import Settings

    check_range("--weight-kg", args.weight_kg, 5.0, 300.0, "kg")
    if args.weight_kg is not None and args.by == "shift":
        raise OptionError("--weight-kg goes with --by masses or --by helper: who shifts is weighed by the plates")
    if args.ceiling is not None and args.by != "shift":
        raise OptionError(f"--ceiling goes with --by shift: nobody with a limit of load stands there with {args.by}")
    ceiling = None if args.ceiling is None else parse_ceiling(args.ceiling)
    return PractiseOptions(
        Settings(Side(args.injured), ceiling=ceiling),
        sources=(args.source or DEFAULT_SOURCE,),
        calibrations=(args.calibration,) if args.calibration else (),
        seconds=300.0 if args.seconds is None else args.seconds,
        record=False,
        checks_only=True,
    )


def _table(checked: Checked) -> str:
    lines = [f"scale {checked.device_id}: {'passed' if checked.passed else 'not passed'}", checked.words]
    if checked.zero_N is not None:
        left, right = checked.zero_N
        lines.append(f"zeros against the calibration's: left {left:+.1f} N, right {right:+.1f} N")
    return "\n".join([*lines, *checked.gain_words, *checked.findings])
