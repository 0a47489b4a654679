"""`weightshare diary`: what a person said of a session, and what is said of it afterwards."""

from __future__ import annotations

import argparse
import json
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.keeper import add_store_options, clock, open_kept
from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.records.diary import Diary, Entry

_EXAMPLE = """\
weightshare diary session-2026-11-24-101500 --pain-after 2 --effort 5
  weightshare diary session-2026-11-24-101500 --pain-next-morning 1
  weightshare diary --patient A-017 2026-11-24 --pain-next-morning 1"""
_FIGURES = {
    "pain-before": "pain before, of 10",
    "pain-during": "the most pain during, of 10",
    "pain-after": "pain after, of 10",
    "effort": "how hard it was, of 10",
}


def add_diary_options(parser: argparse.ArgumentParser) -> None:
    """Add the options that say how it was: pain, effort, notes."""
    group = parser.add_argument_group("how it was")
    for name, words in _FIGURES.items():
        group.add_argument(f"--{name}", type=int, metavar="N", help=f"{words}: 0 none, 10 the worst")
    group.add_argument("--note", action="append", metavar="TEXT", help="a note; may be given more than once")


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `diary` to the top parser."""
    parser = add_command(subparsers, "diary", "what was said of a session: pain, effort, notes", _EXAMPLE)
    parser.add_argument(
        "session",
        nargs="?",
        metavar="SESSION",
        help="the folder of a saved session; with --patient when it began, as 2026-11-24 (default: the newest)",
    )
    add_diary_options(parser)
    parser.add_argument("--pain-next-morning", type=int, metavar="N", help="pain on the morning after it, of 10")
    parser.add_argument("--patient", metavar="CODE", help="a patient of the store, whose session it is")
    add_store_options(parser)
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.set_defaults(run=run)


def given_entries(args: argparse.Namespace, now: datetime) -> tuple[Entry, ...]:
    """Return what the options say, in the order of a session. Raises OptionError where a figure is out of its range."""
    from weightshare.records.diary import About, Entry

    at = now.isoformat(timespec="seconds")
    figures = ((about, getattr(args, str(about).replace("-", "_"), None)) for about in About if about != "note")
    said = [Entry(about, at, value) for about, value in figures if value is not None]
    return (*said, *(Entry(About.NOTE, at, words=words) for words in args.note or ()))


def _say(args: argparse.Namespace) -> Diary:
    from weightshare.errors import OptionError
    from weightshare.records.diary import add_entries
    from weightshare.records.session import find_session

    entries = given_entries(args, clock())
    if args.patient is not None:
        return _say_of_patient(args, entries)
    if args.session is None:
        raise OptionError("SESSION is missing: give the folder of a saved session, or --patient CODE")
    return add_entries(find_session(Path(args.session)), *entries)


def _say_of_patient(args: argparse.Namespace, entries: tuple[Entry, ...]) -> Diary:
    from weightshare.errors import StoreError
    from weightshare.records.store.patient import find_patient
    from weightshare.records.store.saying import read_said, say
    from weightshare.records.store.visit import list_visits

    with open_kept(args) as store:
        patient = find_patient(store, args.patient)
        began = args.session or ""
        visits = [visit for visit in list_visits(store, patient) if visit.started_at.startswith(began)]
        if not visits:
            raise StoreError(f"{patient.code} has no session{f' that began {began}' if began else ''}")
        return say(store, patient, visits[-1], *entries) if entries else read_said(store, visits[-1])


def run(args: argparse.Namespace) -> int:
    """Add what the options say, and print the diary. Raises WeightshareError where there is no such session."""
    from weightshare.records.value import to_plain

    diary = _say(args)
    if args.json:
        print(json.dumps({"schema": "weightshare.diary/1", **to_plain(diary)}))
        return 0
    for one in diary.entries:
        print(f"{one.at}  {one.about}: {one.words or f'{one.value} of 10'}")
    if not diary.entries:
        print("nothing was said of it yet")
    return 0
