"""`weightshare calibrate`: what a scale's readings are worth, and how that is found out."""

from __future__ import annotations

import argparse
from importlib import import_module

_WAYS: tuple[str, ...] = ("run", "fit", "check", "certificate", "history")
"""Each has a module `weightshare.cli.calibrate_WAY` with `add_parser(subparsers)`."""


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `calibrate`, with its ways, to the top parser."""
    words = "calibrate a scale with known masses, fit points, check a scale"
    example = "example:\n  weightshare calibrate run --source rig:bench --masses 10,10,20,20"
    parser = subparsers.add_parser(
        "calibrate", help=words, description=words, epilog=example, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.set_defaults(run=_ask_for_way)
    ways = parser.add_subparsers(title="ways", metavar="WAY")
    for way in _WAYS:
        import_module(f"weightshare.cli.calibrate_{way}").add_parser(ways)


def _ask_for_way(_args: argparse.Namespace) -> int:
    from weightshare.errors import OptionError

    *first, last = _WAYS
    raise OptionError(f"calibrate needs a way: {', '.join(first)} or {last} (see weightshare calibrate --help)")
