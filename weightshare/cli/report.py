"""`weightshare report`: a session, or a patient's weeks, as a document for the patient or for the clinician."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.chosen import choose_visit, is_path, require_store
from weightshare.cli.keeper import add_store_options, open_kept, place_of
from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.records.store.patient import Patient
    from weightshare.records.store.store import Store
    from weightshare.records.store.visit import Visit
    from weightshare.report.account import Account
    from weightshare.report.document import Document, Section
    from weightshare.report.history import History

_EXAMPLE = """\
weightshare report session-2026-11-24-101500 --to session.pdf
  weightshare report A-017 --for patient --to practice.html"""
_FORMS = (".pdf", ".html")
PAPERS = {"a4": "A4", "letter": "letter"}


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `report` to the top parser."""
    parser = add_command(
        subparsers, "report", "a session, or a patient's weeks, as a document: PDF, or one HTML file", _EXAMPLE
    )
    parser.add_argument("what", metavar="SESSION|CODE", help="the folder of a saved session, or a patient's code")
    parser.add_argument("--to", type=Path, metavar="FILE", required=True, help="NAME.pdf or NAME.html")
    parser.add_argument(
        "--for", dest="reader", choices=("patient", "clinician"), default="clinician", help="(default clinician)"
    )
    parser.add_argument("--paper", type=str.lower, choices=tuple(PAPERS), default="a4", help="(default a4)")
    parser.add_argument(
        "--repeats", type=Path, metavar="DIR", help="of a SESSION: a folder with sessions of the same person"
    )
    parser.add_argument(
        "--began",
        metavar="TIME",
        help="of a CODE: one session alone, as 2026-11-24 or 2026-11-24T10:15, or newest (default: all over the weeks)",
    )
    parser.add_argument(
        "--with-name", action="store_true", help="of a CODE: the name stands in it (default: the code alone)"
    )
    add_store_options(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Write the report; return 0."""
    _check(args)
    _write(_of_folder(args) if is_path(args.what) else _of_patient(args), args.to, PAPERS[args.paper])
    print(f"written: {args.to}", file=sys.stderr)
    return 0


def _check(args: argparse.Namespace) -> None:
    from weightshare.errors import OptionError

    to: Path = args.to
    if to.suffix.lower() not in _FORMS:
        raise OptionError(f"--to {to}: its name has to end in .pdf or .html")
    if not to.absolute().parent.is_dir():
        raise OptionError(f"--to {to}: there is no folder {to.absolute().parent}; make it first")
    if to.is_dir():
        raise OptionError(f"--to {to}: is a folder; give the name of a file")


def _of_folder(args: argparse.Namespace) -> Document:
    from weightshare.errors import OptionError
    from weightshare.records.session import find_session
    from weightshare.report.account import account_of

    for option, given in (("--began", args.began is not None), ("--with-name", args.with_name)):
        if given:
            raise OptionError(f"{option} goes with a patient's code: a session by itself does not say whose it is")
    return _make(args, account_of(find_session(Path(args.what)), args.repeats), ())


def _make(args: argparse.Namespace, account: Account, evidence: Sequence[Section]) -> Document:
    """Return the report of one session."""
    from weightshare.report.clinic import make_clinic
    from weightshare.report.handout import make_handout

    return make_handout(account) if args.reader == "patient" else make_clinic(account, evidence)


def _of_patient(args: argparse.Namespace) -> Document:
    from weightshare.cli.patient import empty_inbox
    from weightshare.errors import OptionError
    from weightshare.records.store.patient import find_patient

    if args.repeats is not None:
        raise OptionError("--repeats goes with a session's folder: a patient's sessions are in the store")
    require_store(place_of(args), args.what)
    with open_kept(args) as store:
        patient = find_patient(store, args.what)
        empty_inbox(store, patient)
        weeks = None if args.began else _of_weeks(args, store, patient)
        return _of_visit(args, store, patient) if weeks is None else weeks


def _of_visit(args: argparse.Namespace, store: Store, patient: Patient) -> Document:
    """Return the report of one session of `patient`: the newest one, where none is named."""
    from weightshare.records.store.trail import note_trail

    visit = choose_visit(store, patient, args.began)
    account = _account(args, store, patient, visit)
    is_newest = visit.id == choose_visit(store, patient, None).id
    evidence = _evidence(store, patient, account) if is_newest and args.reader == "clinician" else ()
    document = _make(args, account, evidence)
    note_trail(store, "reported a session", patient.id, visit.started_at)
    return document


def _of_weeks(args: argparse.Namespace, store: Store, patient: Patient) -> Document | None:
    """Return the report over all sessions of `patient`; None where they are of one day."""
    from weightshare.records.store.trail import note_trail
    from weightshare.report.history import history_of
    from weightshare.report.journey import make_journey

    history = history_of(store, patient, with_name=args.with_name)
    if len(history.days) < 2:
        return None
    document = make_journey(history) if args.reader == "patient" else _progress(args, store, patient, history)
    note_trail(store, "reported all sessions", patient.id, f"{history.days[0]} to {history.days[-1]}")
    return document


def _progress(args: argparse.Namespace, store: Store, patient: Patient, history: History) -> Document:
    from weightshare.records.store.visit import list_visits
    from weightshare.report.progress import make_progress

    known = {one.ident for one in history.chapters}
    newest = choose_visit(store, patient, None)
    if newest.id not in known:
        newest = next(one for one in reversed(list_visits(store, patient)) if one.id in known)
    account = _account(args, store, patient, newest)
    return make_progress(history, account, _evidence(store, patient, account))


def _account(args: argparse.Namespace, store: Store, patient: Patient, visit: Visit) -> Account:
    from weightshare.records.store.visit import opened
    from weightshare.report.account import account_of_visit

    with opened(store, visit) as folder:
        return account_of_visit(store, patient, visit, folder, with_name=args.with_name, as_then=True)


def _evidence(store: Store, patient: Patient, account: Account) -> tuple[Section, ...]:
    """Return what the sessions of its stage bring together; nothing for a session of none."""
    from weightshare.programme.shelf import sources_of
    from weightshare.records.store.sheaf import gather
    from weightshare.report.evidence import evidence_section

    if account.assessment is None:
        return ()
    kept = account.assessment.prescription
    return (evidence_section(gather(store, patient, kept, sources_of(kept, patient.programme))),)


def _write(document: Document, to: Path, paper: str) -> None:
    """Write the document, whole or not at all."""
    from weightshare.records.whole import write_whole
    from weightshare.report.html import to_html
    from weightshare.report.pdf import write_pdf

    if to.suffix.lower() == ".pdf":
        write_pdf(to, document, paper)
    else:
        write_whole(to, to_html(document, paper).encode())
