"""The command line: parse, call, print."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import NoReturn, TextIO

from weightshare.errors import INTERRUPTED, DeviceError, WeightshareError

_COMMANDS = (
    "practise",
    "programme",
    "rehearse",
    "diary",
    "scales",
    "readings",
    "rig",
    "analyse",
    "look",
    "correct",
    "import_file",
    "split",
    "decode",
    "calibrate",
    "reliability",
    "symmetry",
    "patient",
    "evidence",
    "decide",
    "store",
    "report",
    "export",
    "flash",
    "selfcheck",
)
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
    _open_missing()
    try:
        status = _run(build_parser().parse_args(sys.argv[1:] if argv is None else argv))
        sys.stdout.flush()
        return status
    except WeightshareError as error:
        print(f"weightshare: {' '.join(str(error).split())}", file=sys.stderr)
        return error.exit_status
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        _let_go()
        return 0
    except OSError as error:
        if error.filename is None:
            _let_go()
        print(f"weightshare: {error.filename or 'the output'}: {error.strerror or error}", file=sys.stderr)
        return DeviceError.exit_status


def _open_missing() -> None:
    """Give a program that was started without stdout or stderr one that takes everything."""
    sys.stdout = sys.stdout or _open_nowhere()
    sys.stderr = sys.stderr or _open_nowhere()


def _open_nowhere() -> TextIO:
    return os.fdopen(os.open(os.devnull, os.O_WRONLY), "w", encoding="utf-8")


def _let_go() -> None:
    """Our output goes nowhere any more: what is left in its buffer must not fail again when the program ends."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


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
