"""The command line: parse, call, print."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import NoReturn

from weightshare.errors import INTERRUPTED, WeightshareError

_COMMANDS = ("practise", "scales", "rig", "analyse", "split", "decode", "selfcheck")
_DESCRIPTION = """\
Show how the load is shared between the two feet, live against a target, and later from what was recorded.
Not a certified medical device: the surgeon's protocol and the treating clinician decide what may be loaded."""
_EPILOG = """\
without a command the window opens. Each command has an example: weightshare COMMAND --help"""


class Parser(argparse.ArgumentParser):
    """A parser that tells what is wrong in one line."""

    def error(self, message: str) -> NoReturn:
        """Print one line and leave with exit status 2."""
        self.exit(2, f"{self.prog}: {message} (see {self.prog} --help)\n")


def build_parser() -> argparse.ArgumentParser:
    """Return the parser of the whole command line."""
    parser = Parser(
        prog="weightshare",
        description=_DESCRIPTION,
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="store_true", help="print the version")
    subparsers = parser.add_subparsers(title="commands", metavar="COMMAND")
    for command in _COMMANDS:
        import_module(f"weightshare.cli.{command}").add_parser(subparsers)
    return parser


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command line; return the exit status."""
    args = build_parser().parse_args(argv)
    try:
        status = _run(args)
        sys.stdout.flush()
        return status
    except WeightshareError as error:
        print(f"weightshare: {' '.join(str(error).split())}", file=sys.stderr)
        return error.exit_status
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        # the reader of our output has gone; what is left in the buffer has nowhere to go
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0


def _run(args: argparse.Namespace) -> int:
    if args.version:
        from weightshare import __version__

        print(f"weightshare {__version__}")
        return 0
    if not hasattr(args, "run"):
        from weightshare.window.app import open_window

        return open_window(None)
    status: int = args.run(args)
    return status
