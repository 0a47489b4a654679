"""`weightshare store`: the store of patients as a whole: made, checked, backed up, restored."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from weightshare.cli.keeper import (
    add_store_options,
    clock,
    count_of,
    open_kept,
    place_of,
    progress,
    read_passphrase,
    who,
)
from weightshare.cli.option import add_command

SCHEMA = "weightshare.store/1"


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `store` to the top parser."""
    summary = "the store of patients: made, checked, backed up, restored"
    parser = add_command(subparsers, "store", summary, "weightshare store backup patients-2026-11-24.zip")
    ways = parser.add_subparsers(title="ways", metavar="WAY", required=True)
    made = add_command(ways, "make", "begin a store", "weightshare store make --seal")
    made.add_argument(
        "--seal", action="store_true", help="seal it with a passphrase; who loses that loses everything in it"
    )
    backup = add_command(
        ways, "backup", "write all of it to one file", "weightshare store backup patients-2026-11-24.zip"
    )
    backup.add_argument(
        "file", type=Path, metavar="FILE", help="the archive to write; one that is there is not replaced"
    )
    backup.add_argument(
        "--damaged", action="store_true", help="where something was altered or is missing, back up what is there"
    )
    restore = add_command(
        ways, "restore", "make a store of a backup", "weightshare store restore patients-2026-11-24.zip --store again"
    )
    restore.add_argument("file", type=Path, metavar="FILE", help="the archive")
    check = add_command(ways, "check", "read everything, and compare it with its seals", "weightshare store check")
    check.add_argument(
        "--mend", action="store_true", help="where a list differs from a session's sound files, take it from those"
    )
    change = add_command(ways, "passphrase", "change a sealed store's passphrase", "weightshare store passphrase")
    change.add_argument(
        "--new-passphrase-file", type=Path, metavar="FILE", help="the new one, its first line (else: asked for)"
    )
    for way, run in ((made, _make), (backup, _backup), (restore, _restore), (check, _check), (change, _change)):
        add_store_options(way)
        way.add_argument("--json", action="store_true", help="print one JSON object")
        way.set_defaults(run=run)


def _make(args: argparse.Namespace) -> int:
    from weightshare.records.store.store import make_store

    place = place_of(args)
    words = f"new passphrase of {place}"
    passphrase = read_passphrase(args.passphrase_file, words, twice=True) if args.seal else None
    make_store(place, who(args), clock, passphrase).close()
    return _say(args, f"made: {place}, {'sealed' if args.seal else 'not sealed'}", sealed=args.seal)


def _backup(args: argparse.Namespace) -> int:
    from weightshare.cli.patient import empty_inbox
    from weightshare.records.store.backup import backup_store
    from weightshare.records.store.check import readable_patients
    from weightshare.records.store.patient import inbox_path

    with open_kept(args) as store:
        for patient in readable_patients(store, []):
            if inbox_path(store, patient).is_dir():
                empty_inbox(store, patient)
        made = backup_store(store, args.file, progress("sessions"), damaged=args.damaged)
        sealed = store.box.is_sealed
    for words in () if args.json else made.faults:
        print(f"fault: {words}", file=sys.stderr)
    how = "sealed" if sealed else "not sealed: keep it where nobody else reads"
    written = f"written: {args.file}, {count_of(made.sessions, 'session')}, {how}"
    told = written if made.is_written else f"nothing was written; --damaged backs up what is there to {args.file}"
    beside = {"written": made.is_written, "faults": list(made.faults)}
    _say(args, told, file=str(args.file), sessions=made.sessions, sealed=sealed, **beside)
    return 1 if made.faults else 0


def _restore(args: argparse.Namespace) -> int:
    from weightshare.records.store.backup import restore_store

    passphrase = None if args.passphrase_file is None else read_passphrase(args.passphrase_file, "")
    made = restore_store(args.file, place_of(args), passphrase)
    told = f"restored: {place_of(args)}, {count_of(made.sessions, 'session')}"
    if made.is_sealed:
        told += ", sealed" if made.is_tried else ", sealed; its passphrase was not tried: --passphrase-file FILE does"
    if made.missing:
        told += f"; {count_of(made.missing, 'session')} had no files any more: weightshare store check names them"
    _say(args, told, sessions=made.sessions, missing=made.missing, sealed=made.is_sealed, tried=made.is_tried)
    return 1 if made.missing else 0


def _check(args: argparse.Namespace) -> int:
    from weightshare.records.store.check import check_store

    with open_kept(args) as store:
        found = check_store(store, progress("sessions"), mend=args.mend)
    for words in () if args.json else (*(f"fault: {fault}" for fault in found.faults), *found.notes):
        print(words)
    wrong = count_of(len(found.faults), "fault")
    way = "--mend takes the list from the files" if len(found.faults) == found.mendable else "restore a backup"
    whole = f"{wrong}; {way}" if found.faults else "all as it was taken in"
    told = f"{count_of(found.patients, 'patient')}, {count_of(found.sessions, 'session')}: {whole}"
    counts = {"patients": found.patients, "sessions": found.sessions}
    _say(args, told, **counts, faults=list(found.faults), notes=list(found.notes))
    return 1 if found.faults else 0


def _change(args: argparse.Namespace) -> int:
    from weightshare.records.store.latch import change_passphrase
    from weightshare.records.store.store import open_store

    place = place_of(args)
    now = read_passphrase(args.passphrase_file, f"passphrase of {place}")
    new = read_passphrase(args.new_passphrase_file, "new passphrase", twice=True)
    with open_store(place, who(args), clock, now) as store:
        change_passphrase(store, now, new)
    return _say(args, "the passphrase was changed; backups made before still take the old one", sealed=True)


def _say(args: argparse.Namespace, words: str, **content: object) -> int:
    """Print the result, and return 0."""
    if args.json:
        print(json.dumps({"schema": SCHEMA, "place": str(place_of(args)), **content}))
    else:
        print(words, file=sys.stdout)
    return 0
