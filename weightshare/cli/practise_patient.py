"""A practice session of a patient of the store: recorded in their own folder, and kept with them afterwards."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from weightshare.cli.keeper import clock, open_kept
from weightshare.cli.patient import empty_inbox

if TYPE_CHECKING:
    from weightshare.practice.option import PractiseOptions
    from weightshare.records.store.patient import Patient
    from weightshare.records.store.store import Store

Practise = Callable[[argparse.Namespace], int]


def practise_with_patient(args: argparse.Namespace, practise: Practise) -> int:
    """Run one session of the patient `args.patient`, and keep it with them; return the exit status.

    What of earlier sessions still lies in their folder is kept first. Raises OptionError where an option does not go
    with a patient, and StoreError where there is no such patient.
    """
    from weightshare.records.store.patient import find_patient, inbox_of

    _check(args)
    with open_kept(args) as store:
        patient = find_patient(store, args.patient)
        empty_inbox(store, patient)
        args.injured = _injured(patient, args.injured)
        args.save = inbox_of(store, patient)
        _follow(patient, args)
        _ask_morning(store, patient, args)
        args.met_before = partial(_count_days, store, patient)
        try:
            return practise(args)
        finally:
            empty_inbox(store, patient)


def _count_days(store: Store, patient: Patient, options: PractiseOptions) -> PractiseOptions:
    """Return `options` with whose session it is, and the days on which the stage was met before."""
    from weightshare.records.setting import SessionHead
    from weightshare.records.store.sheaf import met_before

    began = clock().isoformat(timespec="seconds")
    head = SessionHead(options.settings, options.goal, started_at=began, prescription=options.prescription)
    return replace(options, elsewhere=met_before(store, patient, head), code=patient.code)


def _ask_morning(store: Store, patient: Patient, args: argparse.Namespace) -> None:
    """Keep the next morning with the session that it is of; where it was not told of a programme's stage, ask for it.

    Raises OptionError where the figure is out of its range, or there is no such session.
    """
    from weightshare.cli.diary import given_entries
    from weightshare.errors import OptionError
    from weightshare.records.diary import About
    from weightshare.records.store.saying import find_morning_of, say

    last = find_morning_of(store, patient, clock())
    said = [one for one in given_entries(args, clock()) if one.about is About.PAIN_NEXT_MORNING]
    if said and last is None:
        raise OptionError("--pain-next-morning: there is no session of the days before whose morning was not told")
    if said and last is not None:
        say(store, patient, last, *said)
    elif last is not None and args.programme is not None:
        ask = f"weightshare diary --patient {patient.code} {last.started_at[:10]} --pain-next-morning N"
        print(f"how much pain was there on the morning after {last.started_at[:10]}, 0 to 10? {ask}", file=sys.stderr)
    args.pain_next_morning = None


def _follow(patient: Patient, args: argparse.Namespace) -> None:
    """Take the patient's own stage where none is named; whether it is locked is the programme's to say."""
    if not (patient.programme and patient.stage) or args.programme is not None or args.stage is not None:
        return
    args.programme, args.stage = patient.programme, patient.stage
    print(f"{patient.code} is at the stage {patient.stage} of {patient.programme}", file=sys.stderr)


def _check(args: argparse.Namespace) -> None:
    from weightshare.errors import OptionError

    for option, given in (("--save", args.save is not None), ("--no-save", args.no_save), ("--settled", args.settled)):
        if given:
            raise OptionError(f"{option} does not go with --patient: the session is kept with the patient")


def _injured(patient: Patient, asked: str | None) -> str:
    """Return the injured side. Raises OptionError where it is not known, or another one is asked for."""
    from weightshare.errors import OptionError

    known = patient.injured
    if known is not None and asked in (None, str(known)):
        return str(known)
    if known is not None:
        raise OptionError(
            f"--injured {asked}: {patient.code} is injured on the {known} side; leave it out, or change that"
        )
    if asked is None:
        why = "has no injured side yet" if patient.affected is None else "is injured on both sides"
        raise OptionError(f"--injured is missing: {patient.code} {why}; say which side's share is to be shown")
    return asked
