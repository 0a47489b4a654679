"""`weightshare practise`: one practice session, in the window or in the terminal."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.option import add_command, add_measure_options, make_settings

if TYPE_CHECKING:
    from weightshare.practice.option import PractiseOptions

_EXAMPLE = "weightshare practise --source serial:/dev/ttyACM0 --injured left --target 75 --headless --seconds 60"


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `practise` to the top parser."""
    parser = add_command(subparsers, "practise", "one practice session, in the window or in the terminal", _EXAMPLE)
    parser.add_argument(
        "--source",
        action="append",
        metavar="SOURCE",
        help="rig: (default), tcp://HOST:PORT, serial:PORT[@BAUD] or file:PATH",
    )
    parser.add_argument(
        "--calibration", action="append", type=Path, metavar="FILE", help="the scale's calibration (default: by its id)"
    )
    add_measure_options(parser)
    parser.add_argument("--hold-goal", type=float, default=30.0, metavar="SECONDS", help="a hold's goal (default 30)")
    parser.add_argument("--holds", type=int, default=3, metavar="N", help="how many holds are asked for (default 3)")
    parser.add_argument("--stage", metavar="NAME", help="what is practised: hold (the only one in this version)")
    parser.add_argument("--seconds", type=float, metavar="N", help="stop after so much sample time")
    parser.add_argument("--headless", action="store_true", help="in the terminal, without a window")
    place = parser.add_mutually_exclusive_group()
    place.add_argument("--save", type=Path, metavar="DIR", help="make the session's folder in DIR")
    place.add_argument("--no-save", action="store_true", help="keep nothing of the session")
    parser.add_argument("--json", action="store_true", help="print the analysis as one JSON object at the end")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Run the session; return the exit status."""
    options = make_options(args)
    if args.headless:
        from weightshare.cli.headless import practise_headless

        return practise_headless(options, as_json=args.json)
    from weightshare.window.app import open_window

    return open_window(options)


def make_options(args: argparse.Namespace) -> PractiseOptions:
    """Return the session's options. Raises OptionError where one is missing or cannot be."""
    from weightshare.errors import OptionError
    from weightshare.model import Side
    from weightshare.practice.option import PractiseOptions
    from weightshare.scales.source import DEFAULT_SOURCE
    from weightshare.task import Goal

    if args.stage not in (None, "hold"):
        raise OptionError(f"--stage {args.stage}: this version practises holds only; leave it out, or say hold")
    if args.json and not args.headless:
        raise OptionError("--json goes with --headless: the window shows its own summary")
    sources = tuple(args.source or [DEFAULT_SOURCE])
    virtual = all(source.startswith("rig:") for source in sources)
    return PractiseOptions(
        settings=make_settings(args, default_side=Side.LEFT if virtual else None),
        goal=Goal(args.hold_goal, args.holds),
        sources=sources,
        calibrations=tuple(args.calibration or ()),
        seconds=args.seconds,
        save=args.save,
        record=not args.no_save,
    )
