"""`weightshare look`: the window, opened with saved sessions."""

from __future__ import annotations

import argparse
from pathlib import Path

from weightshare.cli.option import add_command

_EXAMPLE = "weightshare look session-2026-11-24-143000"


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `look` to the top parser."""
    summary = "look back at a saved session, in the window"
    parser = add_command(subparsers, "look", summary, _EXAMPLE)
    told = "a session's folder, or one with sessions to choose from (without it: the user's own)"
    parser.add_argument("place", type=Path, metavar="SESSION", nargs="?", help=told)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Open the window; return 0. What cannot be shown is refused before there is one."""
    from weightshare.practice.past.shelf import find_wanted

    wanted = find_wanted(args.place)
    from weightshare.window.app import open_window

    return open_window(wanted=wanted)
