"""What is said before a session: of the one before it, the next morning; of this one, what was given as options."""

from __future__ import annotations

import argparse
import sys
from datetime import datetime
from typing import TYPE_CHECKING

from weightshare.cli.diary import given_entries
from weightshare.errors import OptionError
from weightshare.records.diary import About, Entry, add_entries, find_morning
from weightshare.records.place import session_place

if TYPE_CHECKING:
    from weightshare.practice.option import PractiseOptions


def begin_diary(args: argparse.Namespace, options: PractiseOptions) -> tuple[Entry, ...]:
    """Return what the options say of this session; keep the next morning with the session that it is of.

    Where that is of a stage of a programme and nothing was said yet, it is asked for. Raises OptionError where a figure
    is out of its range, or there is no session that its morning could be of.
    """
    now = datetime.now().astimezone()
    morning = _given_morning(args, now)
    said = tuple(one for one in given_entries(args, now) if one.about is not About.PAIN_NEXT_MORNING)
    if not options.record and morning is None:
        return said
    last = find_morning(options.save or session_place(), now)
    if morning is not None:
        if last is None:
            raise OptionError("--pain-next-morning: there is no session of the days before whose morning was not told")
        add_entries(last, morning)
    elif last is not None and options.prescription is not None:
        ask = "how much pain was there on the morning after it, 0 to 10?"
        print(f"{last.name}: {ask} weightshare diary {last} --pain-next-morning N", file=sys.stderr)
    return said


def _given_morning(args: argparse.Namespace, now: datetime) -> Entry | None:
    value = args.pain_next_morning
    at = now.isoformat(timespec="seconds")
    return None if value is None else Entry(About.PAIN_NEXT_MORNING, at, value)


def check_window(args: argparse.Namespace) -> None:
    """Raise OptionError where something was said beside a session in the window, which takes no such options."""
    if given_entries(args, datetime.now().astimezone()):
        raise OptionError("pain, effort and notes go with --headless; of a kept session: weightshare diary SESSION")
