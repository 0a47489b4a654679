"""`weightshare report`: a session as a document, for the patient or for the clinician."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.chosen import choose_visit
from weightshare.cli.keeper import add_store_options, open_kept, place_of
from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.records.store.patient import Patient
    from weightshare.records.store.store import Store
    from weightshare.records.store.visit import Visit
    from weightshare.report.account import Account
    from weightshare.report.document import Document, Section

    Make = Callable[[Account, Sequence[Section]], Document]

_EXAMPLE = """\
weightshare report session-2026-11-24-101500 --to session.pdf
  weightshare report A-017 --for patient --to practice.html"""
_FORMS = (".pdf", ".html")
PAPERS = {"a4": "A4", "letter": "letter"}


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `report` to the top parser."""
    parser = add_command(subparsers, "report", "a session as a document: PDF, or one HTML file", _EXAMPLE)
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
        help="of a CODE: which session, as 2026-11-24 or 2026-11-24T10:15 (default: the newest)",
    )
    parser.add_argument(
        "--with-name", action="store_true", help="of a CODE: the name stands in it (default: the code alone)"
    )
    add_store_options(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Write the report; return 0."""
    from weightshare.report.clinic import make_clinic
    from weightshare.report.handout import make_handout

    _check(args)
    make: Make = make_clinic if args.reader == "clinician" else lambda account, _evidence: make_handout(account)
    _write(_of_folder(args, make) if _is_path(args.what) else _of_patient(args, make), args.to, PAPERS[args.paper])
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


def _is_path(what: str) -> bool:
    """Return whether a session's folder is meant: a code that names a folder here is taken for one."""
    try:
        return Path(what).is_dir() or os.sep in what
    except OSError:  # a name that cannot be looked up is no folder
        return False


def _of_folder(args: argparse.Namespace, make: Make) -> Document:
    from weightshare.errors import OptionError
    from weightshare.records.session import find_session
    from weightshare.report.account import account_of

    for option, given in (("--began", args.began is not None), ("--with-name", args.with_name)):
        if given:
            raise OptionError(f"{option} goes with a patient's code: a session by itself does not say whose it is")
    return make(account_of(find_session(Path(args.what)), args.repeats), ())


def _of_patient(args: argparse.Namespace, make: Make) -> Document:
    from weightshare.cli.patient import empty_inbox
    from weightshare.errors import OptionError
    from weightshare.records.store.patient import find_patient
    from weightshare.records.store.store import is_store
    from weightshare.records.store.trail import note_trail
    from weightshare.records.store.visit import opened
    from weightshare.report.account import account_of_visit

    if args.repeats is not None:
        raise OptionError("--repeats goes with a session's folder: a patient's sessions are in the store")
    if not is_store(place_of(args)):
        raise OptionError(
            f"{args.what}: is no folder of a session, and there is no store of patients to look for a code in"
        )
    with open_kept(args) as store:
        patient = find_patient(store, args.what)
        empty_inbox(store, patient)
        visit = choose_visit(store, patient, args.began)
        with opened(store, visit) as folder:
            account = account_of_visit(store, patient, visit, folder, with_name=args.with_name)
        is_weighed = args.reader == "clinician"
        document = make(account, _evidence(store, patient, visit, account) if is_weighed else ())
        note_trail(store, "reported a session", patient.id, visit.started_at)
    return document


def _evidence(store: Store, patient: Patient, visit: Visit, account: Account) -> tuple[Section, ...]:
    """Return what the sessions of its stage bring together; nothing for one of no stage, or not the newest one."""
    from weightshare.records.store.sheaf import gather
    from weightshare.records.store.visit import list_visits
    from weightshare.report.evidence import evidence_section

    if account.assessment is None or visit.id != list_visits(store, patient)[-1].id:
        return ()
    return (evidence_section(gather(store, patient, account.assessment.prescription, {})),)


def _write(document: Document, to: Path, paper: str) -> None:
    """Write the document, whole or not at all."""
    from weightshare.records.whole import write_whole
    from weightshare.report.html import to_html
    from weightshare.report.pdf import write_pdf

    if to.suffix.lower() == ".pdf":
        write_pdf(to, document, paper)
    else:
        write_whole(to, to_html(document, paper).encode())
