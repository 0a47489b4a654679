"""`weightshare decide`: the clinician's signed decision about a stage, kept with the evidence as it stood."""

from __future__ import annotations

import argparse
import json
import sys
from typing import TYPE_CHECKING

from weightshare.cli.evidence import add_stage_options, find_evidence
from weightshare.cli.keeper import add_store_options, clock, open_kept
from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.programme.prescription import Prescription
    from weightshare.records.store.patient import Patient
    from weightshare.records.store.ruling import Ruling

SCHEMA = "weightshare.decision/1"
CHOICES = ("go-on", "stay", "go-back")
_EXAMPLE = """\
weightshare decide A-017 --stage lowering-90 --decision stay --reason "hurts on the next morning" --by "C. L." """


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `decide` to the top parser."""
    parser = add_command(subparsers, "decide", "the clinician's decision about a stage, signed", _EXAMPLE.rstrip())
    parser.add_argument("patient", metavar="PATIENT", help="the patient's code")
    add_stage_options(parser)
    parser.add_argument("--decision", choices=CHOICES, required=True, help="to the next stage, not yet, or one back")
    parser.add_argument("--reason", metavar="TEXT", required=True, help="why, on one line")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    add_store_options(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Keep the decision; return 0. Raises WeightshareError where it cannot be, and then nothing is kept."""
    from weightshare.errors import OptionError
    from weightshare.records.store.patient import find_patient
    from weightshare.records.store.ruling import Choice, keep_ruling, make_ruling

    if args.by is None:
        raise OptionError("--by is missing: a decision is signed, with name or initials")
    with open_kept(args) as store:
        patient = find_patient(store, args.patient)
        evidence = find_evidence(args, store, patient)
        kept, at = evidence.prescription, clock().isoformat(timespec="seconds")
        told = json.dumps(evidence.to_json(), ensure_ascii=False)
        ruling = make_ruling(at, args.by, Choice(args.decision), kept, reason=args.reason, evidence=told)
        keep_ruling(store, patient, ruling)
    _tell(args, patient, ruling, kept)
    return 0


def _tell(args: argparse.Namespace, patient: Patient, ruling: Ruling, kept: Prescription) -> None:
    if args.json:
        print(json.dumps({"schema": SCHEMA, "patient": patient.code, **ruling.to_json()}, ensure_ascii=False))
    else:
        print(f"kept: {patient.code} {ruling.what}, {ruling.stage_from} -> {ruling.stage_to}, signed {ruling.by}")
    if ruling.stage_to != patient.stage:
        words = f"weightshare patient change {patient.code} --stage {ruling.stage_to}"
        print(f"what {patient.code} practises is as it was; to change it: {words}", file=sys.stderr)
    following = kept.following
    if following is not None and following.key == ruling.stage_to and following.shut:
        shut = ", ".join(following.shut)
        print(f"{following.key} stays locked ({shut}) until it is freed in the programme", file=sys.stderr)
