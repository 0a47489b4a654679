"""`weightshare evidence`: the criteria for the next stage, one by one, and what was decided so far. No score."""

from __future__ import annotations

import argparse
import json
from typing import TYPE_CHECKING

from weightshare.cli.keeper import add_store_options, open_kept, progress
from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.programme.prescription import Prescription
    from weightshare.programme.shelf import Kept
    from weightshare.records.evidence import Evidence
    from weightshare.records.store.patient import Patient
    from weightshare.records.store.store import Store

_EXAMPLE = "weightshare evidence A-017 --stage lowering-90"


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `evidence` to the top parser."""
    parser = add_command(subparsers, "evidence", "the criteria for the next stage, one by one", _EXAMPLE)
    parser.add_argument("patient", metavar="PATIENT", help="the patient's code")
    add_stage_options(parser)
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    add_store_options(parser)
    parser.set_defaults(run=run)


def add_stage_options(parser: argparse.ArgumentParser) -> None:
    """Add the options that say which stage is meant."""
    parser.add_argument("--stage", metavar="NAME", help="a stage of the programme (default: the patient's)")
    parser.add_argument("--programme", metavar="NAME|FILE", help="the programme (default: the patient's)")


def run(args: argparse.Namespace) -> int:
    """Print the evidence; return 0, or 1 where a decision is in doubt. Raises WeightshareError where patient, programme
    or stage is not there."""
    from weightshare.cli.evidence_table import evidence_table
    from weightshare.cli.patient import tell_doubt
    from weightshare.records.store.patient import find_patient
    from weightshare.records.store.ruling import doubt_of, list_rulings
    from weightshare.records.store.trail import note_trail

    with open_kept(args) as store:
        patient = find_patient(store, args.patient)
        evidence, rulings = find_evidence(args, store, patient), list_rulings(store, patient)
        doubt = doubt_of(store, patient)
        note_trail(store, "looked at the evidence", patient.id, evidence.prescription.stage.key)
    if args.json:
        told = {"patient": patient.code, "decisions": [one.to_json() for one in rulings]}
        print(json.dumps({**evidence.to_json(), **told}, ensure_ascii=False))
    else:
        print(evidence_table(evidence, patient.code, rulings))
    return tell_doubt(doubt)


def find_evidence(args: argparse.Namespace, store: Store, patient: Patient) -> Evidence:
    """Return the evidence for the stage that the options or the patient name, sessions in the inbox among it.

    Raises WeightshareError where there is no such programme or stage, or none is told.
    """
    from weightshare.cli.patient import empty_inbox
    from weightshare.records.store.sheaf import gather

    kept, prescription = find_meant(args, patient)
    empty_inbox(store, patient)
    return gather(store, patient, prescription, kept.sources(prescription.stage), tell=progress("session"))


def find_meant(args: argparse.Namespace, patient: Patient) -> tuple[Kept, Prescription]:
    """Return the programme and the stage that the options name, else the patient's. Raises WeightshareError."""
    from weightshare.errors import OptionError
    from weightshare.programme.shelf import find_programme

    place = args.programme or patient.programme
    if not place:
        raise OptionError(f"{patient.code} has no programme: weightshare patient change gives one, or --programme NAME")
    kept = find_programme(place)
    # a stage that was set belongs to the programme that was set with it
    wanted = args.stage or (patient.stage if args.programme in (None, patient.programme) else "")
    if not wanted:
        keys = ", ".join(stage.key for stage in kept.programme.stages)
        raise OptionError(f"--stage is missing: {patient.code} has none; choose one of {keys}")
    return kept, kept.prescription(kept.find(wanted))
