"""`weightshare look`: the window, opened with saved sessions."""

from __future__ import annotations

import argparse
import os
from functools import partial
from pathlib import Path

from weightshare.cli.chosen import choose_visit
from weightshare.cli.keeper import add_store_options, open_kept, place_of
from weightshare.cli.option import add_command

_EXAMPLE = """\
weightshare look session-2026-11-24-143000
  weightshare look A-017 --began 2026-11-24"""


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `look` to the top parser."""
    parser = add_command(subparsers, "look", "look back at a saved session, in the window", _EXAMPLE)
    told = "a session's folder, one with sessions to choose from (without it: the user's own), or a patient's code"
    parser.add_argument("what", metavar="SESSION|CODE", nargs="?", help=told)
    parser.add_argument(
        "--began",
        metavar="TIME",
        help="of a CODE: which session, as 2026-11-24 or 2026-11-24T10:15 (default: the newest)",
    )
    add_store_options(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Open the window; return 0. What cannot be shown is refused before there is one."""
    from weightshare.errors import OptionError
    from weightshare.practice.past.shelf import find_wanted
    from weightshare.window.app import open_window

    if _is_code(args):
        return _look_at_patient(args)
    if args.began is not None:
        raise OptionError("--began goes with a patient's code: a folder of sessions is shown as a list")
    return open_window(wanted=find_wanted(None if args.what is None else Path(args.what)))


def _is_code(args: argparse.Namespace) -> bool:
    """Return whether a patient is meant: what names something here is taken for that."""
    from weightshare.records.store.store import is_store

    if args.what is None or os.sep in args.what:
        return False
    try:
        return not Path(args.what).exists() and is_store(place_of(args))
    except OSError:  # a name that cannot be looked up is no folder
        return True


def _look_at_patient(args: argparse.Namespace) -> int:
    """Open the window with a session of the store, which stays open meanwhile; return 0."""
    from weightshare.cli.patient import empty_inbox
    from weightshare.practice.past.opening import check_past
    from weightshare.practice.past.shelf import Wanted
    from weightshare.records.store.correcting import take_corrected
    from weightshare.records.store.patient import find_patient
    from weightshare.records.store.trail import note_trail
    from weightshare.records.store.visit import opened
    from weightshare.window.app import open_window

    with open_kept(args) as store:
        patient = find_patient(store, args.what)
        empty_inbox(store, patient)
        visit = choose_visit(store, patient, args.began)
        with opened(store, visit) as folder:
            check_past(folder)
            note_trail(store, "looked at a session", patient.id, visit.started_at)
            keep = partial(take_corrected, store, patient, visit, folder)
            return open_window(wanted=Wanted(folder.parent, folder, keep))
