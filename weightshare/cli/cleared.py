"""Whether the injured leg may stand alone in a session that was set by hand: somebody has to say so."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from weightshare.practice.option import PractiseOptions

ALONE = (
    "caution: the injured leg stands alone in this exercise: only where the surgeon's protocol and the treating "
    "clinician allow it"
)
NOBODY_STANDS = ("rig:", "file:")
"""On sources of these kinds nobody stands."""


def add_cleared_option(parser: argparse.ArgumentParser) -> None:
    """Add the option that says so."""
    parser.add_argument(
        "--cleared",
        action="store_true",
        help="on one leg, without a programme: the surgeon's protocol and the treating clinician allow it",
    )


def check_cleared(args: argparse.Namespace, options: PractiseOptions) -> None:
    """Say the caution, and in the terminal ask for a yes where nobody gave one. The window asks by itself.

    A stage of a programme is freed there. Raises OptionError where it was not said that it is allowed.
    """
    from weightshare.errors import OptionError
    from weightshare.practice.role import is_alone

    if options.prescription is not None or not is_alone(options.settings, options.goal):
        return
    print(ALONE, file=sys.stderr)
    stands = any(not source.startswith(NOBODY_STANDS) for source in options.sources)
    if not args.headless or not stands or args.cleared or _ask():
        return
    raise OptionError(
        f"--stage {options.settings.exercise}: nobody said that it is allowed; add --cleared where the surgeon's "
        "protocol and the treating clinician allow it"
    )


def _ask() -> bool:
    """Return whether somebody at the terminal types yes; without one nobody can."""
    if not (sys.stdin.isatty() and sys.stderr.isatty()):
        return False
    print("Is it allowed? Type yes to go on: ", end="", file=sys.stderr, flush=True)
    return sys.stdin.readline().strip().casefold() == "yes"
