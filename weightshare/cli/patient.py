"""`weightshare patient`: patients and their sessions, on this computer."""

from __future__ import annotations

import argparse
import json
import sys
from typing import TYPE_CHECKING, Any

from weightshare.cli.keeper import add_store_options, clock, open_kept
from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.records.store.patient import Patient
    from weightshare.records.store.store import Store

LIST_SCHEMA, SCHEMA = "weightshare.patients/1", "weightshare.patient/1"
_SHOWN = 20
_DETAILS = ("name", "side", "injured_on", "programme", "stage")


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `patient` to the top parser."""
    example = "weightshare patient add A-017 --side left --injured-on 2026-09-14"
    parser = add_command(subparsers, "patient", "patients and their sessions, on this computer", example)
    ways = parser.add_subparsers(title="ways", metavar="WAY", required=True)
    add = add_command(ways, "add", "add a patient", example)
    change = add_command(
        ways, "change", "change what is known of a patient", "weightshare patient change A-017 --side both"
    )
    change.add_argument("--code", metavar="CODE", help="another code")
    listed = add_command(ways, "list", "all patients", "weightshare patient list")
    show = add_command(ways, "show", "a patient and the sessions", "weightshare patient show A-017")
    show.add_argument("--all", action="store_true", help=f"all sessions (default: the newest {_SHOWN})")
    show.add_argument(
        "--trend", action="store_true", help="how figures went over the days, and which change is a real one"
    )
    show.add_argument("--trail", action="store_true", help="who saw, changed and exported what")
    delete = add_command(ways, "delete", "delete a patient with everything", "weightshare patient delete A-017")
    delete.add_argument("--yes", action="store_true", help="without asking")
    for way in (add, change):
        _add_details(way)
    for way, run in ((add, _add), (change, _change), (listed, _list), (show, _show), (delete, _delete)):
        if way is not listed:
            way.add_argument("patient", metavar="CODE", help="the patient's code")
        if way is not delete:
            way.add_argument("--json", action="store_true", help="print one JSON object")
        add_store_options(way)
        way.set_defaults(run=run)


def _add_details(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--name", metavar="NAME", help="a name; it stays here unless an export asks for it")
    parser.add_argument("--side", choices=("left", "right", "both"), help="the injured side")
    parser.add_argument("--injured-on", metavar="DATE", help="day of injury or operation, as in 2026-09-14")
    parser.add_argument("--programme", metavar="NAME", help="the programme that is followed")
    parser.add_argument("--stage", metavar="NAME", help="the stage in it")


def _given(args: argparse.Namespace) -> dict[str, Any]:
    """Return the details that were given, by their names in Patient."""
    from weightshare.records.store.patient import Affected

    given = {name: getattr(args, name) for name in _DETAILS if getattr(args, name) is not None}
    if "side" in given:
        given["affected"] = Affected(given.pop("side"))
    return given


def _add(args: argparse.Namespace) -> int:
    from weightshare.records.store.patient import add_patient, make_patient

    patient = make_patient(args.patient, clock().date(), **_given(args))
    with open_kept(args) as store:
        return _tell(args, add_patient(store, patient), "added")


def _change(args: argparse.Namespace) -> int:
    from weightshare.records.store.patient import change_patient, find_patient

    given = _given(args) | ({} if args.code is None else {"code": args.code})
    with open_kept(args) as store:
        patient = change_patient(store, find_patient(store, args.patient), clock().date(), **given)
        return _tell(args, patient, "changed")


def _tell(args: argparse.Namespace, patient: Patient, done: str) -> int:
    if args.json:
        print(json.dumps({"schema": SCHEMA, "patient": patient_json(patient)}, ensure_ascii=False))
    else:
        print(f"{done}: {patient.code}")
    if patient.affected is None:
        print("no injured side is told: practise takes --injured until there is one", file=sys.stderr)
    return 0


def patient_json(patient: Patient) -> dict[str, Any]:
    """Return what is known of `patient` as plain values; the name is not among them."""
    return {
        "code": patient.code,
        "side": None if patient.affected is None else str(patient.affected),
        "injured_on": patient.injured_on or None,
        "programme": patient.programme or None,
        "stage": patient.stage or None,
        "added_at": patient.added_at,
    }


def _list(args: argparse.Namespace) -> int:
    from weightshare.cli.patient_table import patients_table
    from weightshare.records.store.patient import list_patients
    from weightshare.records.store.trail import note_trail
    from weightshare.records.store.visit import count_visits

    with open_kept(args) as store:
        patients, counts = list_patients(store), count_visits(store)
        note_trail(store, "listed the patients", None)
    if args.json:
        rows = [{**patient_json(one), "sessions": counts.get(one.id, 0)} for one in patients]
        print(json.dumps({"schema": LIST_SCHEMA, "patients": rows}, ensure_ascii=False))
    else:
        print(patients_table(patients, counts))
    return 0


def _show(args: argparse.Namespace) -> int:
    from weightshare.cli.patient_table import patient_table, readings_table, steps_table, trends_table
    from weightshare.records.store.patient import find_patient
    from weightshare.records.store.progress import progress_of
    from weightshare.records.store.ruling import doubt_of, list_rulings
    from weightshare.records.store.settled import list_readings
    from weightshare.records.store.trail import read_trail
    from weightshare.records.store.visit import list_figures, look_at
    from weightshare.records.value import to_plain

    with open_kept(args) as store:
        patient = find_patient(store, args.patient)
        empty_inbox(store, patient)
        visits, rulings = look_at(store, patient), list_rulings(store, patient)
        doubt = doubt_of(store, patient)
        readings, figures = list_readings(store, patient), {} if args.json else list_figures(store, patient)
        trends = progress_of(store, patient) if args.trend else []
        trail = read_trail(store, patient.id) if args.trail else []
    if not args.json:
        print(patient_table(patient, visits, rulings, clock(), None if args.all else _SHOWN, figures=figures))
        print(readings_table(readings) + trends_table(trends) + steps_table(trail), end="")
        return tell_doubt(doubt)
    told = {"sessions": to_plain(tuple(visits)), "decisions": to_plain(tuple(rulings))}
    told |= {"readings": [one.to_json() for one in readings]} if readings else {}
    seen: dict[str, Any] = {"trail": to_plain(tuple(trail))} if args.trail else {}
    seen |= {"trends": [one.to_json() for one in trends]} if args.trend else {}
    print(json.dumps({"schema": SCHEMA, "patient": patient_json(patient), **told, **seen}, ensure_ascii=False))
    return tell_doubt(doubt)


def tell_doubt(words: str) -> int:
    """Say on stderr what is wrong with a patient's decisions; return 1, or 0 where nothing is."""
    if words:
        print(f"in doubt: {words}", file=sys.stderr)
    return 1 if words else 0


def empty_inbox(store: Store, patient: Patient) -> None:
    """Take in the sessions that were recorded for `patient`, and say on stderr what came of them."""
    from weightshare.records.store.inbox import take_inbox

    emptied = take_inbox(store, patient)
    for one in emptied.taken:
        print(f"kept: the session of {one.visit.started_at} with patient {patient.code}", file=sys.stderr)
    for some in emptied.readings:
        print(f"kept: the settled readings of {some.began} with patient {patient.code}", file=sys.stderr)
    for words in emptied.troubles:
        print(f"not kept: {' '.join(words.split())}", file=sys.stderr)


def _delete(args: argparse.Namespace) -> int:
    from weightshare.errors import OptionError
    from weightshare.records.store.patient import delete_patient, find_patient

    with open_kept(args) as store:
        patient = find_patient(store, args.patient)
        if not args.yes:
            if not sys.stdin.isatty():
                raise OptionError(f"nothing was deleted: --yes says that {patient.code} is to go with all sessions")
            print(f"All of {patient.code} goes, and does not come back. Type the code to go on: ", end="", flush=True)
            if sys.stdin.readline().strip() != patient.code:
                print("nothing was deleted", file=sys.stderr)
                return 1
        delete_patient(store, patient)
    print(f"deleted: {patient.code}; backups and exported files are not reached")
    return 0
