"""`weightshare import` of what goes into the store of patients: bundles, and folders of sessions."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.keeper import clock, count_of, open_kept, progress, read_passphrase

if TYPE_CHECKING:
    from weightshare.records.store.patient import Patient
    from weightshare.records.store.store import Store
    from weightshare.records.store.visit import Taken

SCHEMA = "weightshare.import/1"
_BESIDE = {
    "said": ("entry of a diary", "entries of diaries"),
    "corrected": ("correction", "corrections"),
    "decisions": ("decision, signed elsewhere", "decisions, signed elsewhere"),
    "readings": ("session of settled readings", "sessions of settled readings"),
}
"""What came with sessions that were there already, or belongs to none."""


def goes_to_store(path: Path) -> bool:
    """Return whether `path` is a folder, or a bundle: what else there is is read as a recording."""
    from weightshare.records.store.unbundle import is_bundle

    try:
        return path.is_dir() or is_bundle(path)
    except OSError:  # reading it says why
        return False


def import_to_store(args: argparse.Namespace) -> int:
    """Take a bundle, or sessions in a folder, into the store; return 0, or 2 where some of several were refused.

    Raises WeightshareError.
    """
    return _import_sessions(args) if args.file.is_dir() else _import_bundle(args)


def _import_bundle(args: argparse.Namespace) -> int:
    from weightshare.errors import OptionError
    from weightshare.records.store.envelope import is_envelope
    from weightshare.records.store.unbundle import take_bundle

    if args.patient is not None:
        raise OptionError(
            "--patient does not go with a bundle, which says whose it is; --as gives a new one another code"
        )
    sealed = is_envelope(args.file)
    passphrase = read_passphrase(args.bundle_passphrase_file, f"passphrase of {args.file}") if sealed else None
    with open_kept(args) as store:
        today = clock().date()
        arrived = take_bundle(
            store, args.file, today, code=args.as_code, passphrase=passphrase, tell=progress("sessions")
        )
    for words in arrived.conflicts:
        print(f"not taken in: {words}", file=sys.stderr)
    beside = {name: getattr(arrived, name) for name in _BESIDE}
    more = {**beside, "conflicts": list(arrived.conflicts)}
    return _tell(args, arrived.patient.code, arrived.taken, is_new=arrived.is_new, more=more)


def _import_sessions(args: argparse.Namespace) -> int:
    from weightshare.errors import OptionError
    from weightshare.records.store.patient import find_patient
    from weightshare.records.store.visit import take_in

    if args.patient is None:
        raise OptionError(f"{args.file}: a session does not say whose it is: give --patient CODE")
    folders = _find_folders(args)
    with open_kept(args) as store:
        patient = find_patient(store, args.patient)
        if len(folders) == 1:
            return _tell(args, patient.code, [take_in(store, patient, folders[0])], is_new=False, more={})
        taken, refused = _take_each(store, patient, folders)
    for words in refused:
        print(f"not taken in: {words}", file=sys.stderr)
    _tell(args, patient.code, taken, is_new=False, more={"refused": refused})
    if refused:
        of = count_of(len(folders), "session")
        print(f"{args.file}: {len(refused)} of {of} not taken in; the others are there", file=sys.stderr)
    return 2 if refused else 0


def _find_folders(args: argparse.Namespace) -> list[Path]:
    """Return the sessions in the folder that was named, or that folder where it is one.

    Raises RecordError where there is none, and OptionError where it is a store's own and they are, or may be, several
    patients'.
    """
    from weightshare.errors import OptionError
    from weightshare.records.session import FOLDER_PATTERN, find_session
    from weightshare.records.store.rescue import count_owners, find_kept

    if inside := sorted(args.file.glob(FOLDER_PATTERN)):
        return inside
    kept = find_kept(args.file)
    owners = count_owners(args.file) if kept else None
    if owners is not None and owners > 1:
        place = args.file.absolute().parent
        way = f"weightshare export CODE --sessions FOLDER --store {place} lays down those of one"
        raise OptionError(f"{args.file}: holds sessions of {owners} patients: {way}")
    if kept and owners is None and not args.yes:
        words = (
            f"nothing tells whose its {count_of(len(kept), 'session')} are: --yes says that all are {args.patient}'s"
        )
        raise OptionError(f"{args.file}: is a store's, without its database; {words}")
    return kept or [find_session(args.file)]


def _take_each(store: Store, patient: Patient, folders: Sequence[Path]) -> tuple[list[Taken], list[str]]:
    """Take in each session that can be; return those, and of the others why not.

    Raises OSError where the store has no room; what was taken in until then is told.
    """
    from weightshare.errors import WeightshareError
    from weightshare.records.store.visit import take_in

    taken: list[Taken] = []
    refused: list[str] = []
    for folder in folders:
        try:
            taken.append(take_in(store, patient, folder))
        except WeightshareError as error:
            refused.append(" ".join(str(error).split()))
        except OSError:
            print(f"taken in before: {count_of(len(taken), 'session')} of {len(folders)}", file=sys.stderr)
            raise
    return taken, refused


def _tell(
    args: argparse.Namespace, code: str, taken: Sequence[Taken], *, is_new: bool, more: Mapping[str, object]
) -> int:
    new = sum(one.is_new for one in taken)
    if args.json:
        counts = {"sessions": len(taken), "new_sessions": new, "new_patient": is_new, **more}
        print(json.dumps({"schema": SCHEMA, "file": str(args.file), "patient": code, **counts}, ensure_ascii=False))
    else:
        known = len(taken) - new
        there = f", {known} {'was' if known == 1 else 'were'} there already" if known else ""
        print(f"taken in: {count_of(new, 'session')} of {'the new patient ' if is_new else ''}{code}{there}")
        beside = [f"{more[name]} {words[more[name] != 1]}" for name, words in _BESIDE.items() if more.get(name)]
        if beside:
            print(f"and beside them: {'; '.join(beside)}")
    return 0
