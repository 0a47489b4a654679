"""Options that several commands share, and the settings made of them."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from weightshare.model import Side
    from weightshare.task import Settings


def add_command(
    subparsers: argparse._SubParsersAction[argparse.ArgumentParser], name: str, summary: str, example: str
) -> argparse.ArgumentParser:
    """Add a command with its one-line summary and its example; return its parser."""
    return subparsers.add_parser(
        name,
        help=summary,
        description=summary[0].upper() + summary[1:] + ".",
        epilog=f"example:\n  {example}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )


def add_measure_options(parser: argparse.ArgumentParser) -> None:
    """Add the options that say what is measured against: side, band, grace, filter, body weight."""
    parser.add_argument("--injured", choices=("left", "right"), help="the injured side")
    parser.add_argument("--target", type=float, metavar="PERCENT", help="the injured side's share asked for")
    parser.add_argument("--tolerance", type=float, metavar="POINTS", help="half width of the band (default 5)")
    parser.add_argument(
        "--grace", type=float, metavar="S", help="how long share may be outside in a hold (default 1.0)"
    )
    parser.add_argument("--filter", type=_cutoff, metavar="HZ", help="cut-off of the live filter, or none (default 6)")
    parser.add_argument("--body-weight-N", type=float, metavar="N", help="body weight where it is known")


def _cutoff(word: str) -> float | str:
    try:
        return word if word == "none" else float(word)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{word!r} is neither a number of Hz nor none") from None


def given_measures(args: argparse.Namespace) -> dict[str, Any]:
    """Return the settings that were given as options, by their names in Settings."""
    from weightshare.model import Side

    names = {
        "injured": None if args.injured is None else Side(args.injured),
        "target_percent": args.target,
        "tolerance_percent": args.tolerance,
        "grace_s": args.grace,
        "filter_Hz": args.filter,
        "body_weight_N": args.body_weight_N,
    }
    given = {name: value for name, value in names.items() if value is not None}
    return given | ({"filter_Hz": None} if args.filter == "none" else {})


def make_settings(args: argparse.Namespace, default_side: Side | None = None) -> Settings:
    """Return the settings of the options. Raises OptionError where one is missing or out of its range."""
    from weightshare.errors import OptionError
    from weightshare.task import Settings

    given = given_measures(args)
    if "injured" not in given:
        if default_side is None:
            raise OptionError("--injured is missing: say left or right")
        given["injured"] = default_side
    return Settings(**given)
