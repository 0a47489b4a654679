"""`weightshare export`: a patient's sessions as a file to take away."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from weightshare.cli.keeper import add_store_options, open_kept, progress, read_passphrase
from weightshare.cli.option import add_command

SCHEMA = "weightshare.export/1"
_EXAMPLE = "weightshare export A-017 --bundle A-017.zip"


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `export` to the top parser."""
    parser = add_command(subparsers, "export", "a patient's sessions as a file to take away", _EXAMPLE)
    parser.add_argument("patient", metavar="CODE", help="the patient's code")
    what = parser.add_mutually_exclusive_group(required=True)
    what.add_argument(
        "--bundle", type=Path, metavar="FILE", help="a zip archive that is a data package: tables and sessions"
    )
    what.add_argument(
        "--sessions", type=Path, metavar="DIR", help="the sessions' folders, as they were recorded, into a new folder"
    )
    parser.add_argument("--with-name", action="store_true", help="the name goes along (default: the code alone)")
    parser.add_argument("--seal", action="store_true", help="seal the file with a passphrase of its own")
    add_bundle_passphrase(parser)
    add_store_options(parser)
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.set_defaults(run=run)


def add_bundle_passphrase(parser: argparse.ArgumentParser) -> None:
    """Add the option for the passphrase of a file that is taken away, or in."""
    parser.add_argument(
        "--bundle-passphrase-file",
        type=Path,
        metavar="FILE",
        help="a sealed bundle's passphrase, its first line (else: asked for)",
    )


def run(args: argparse.Namespace) -> int:
    """Write the bundle, or the folders; return 0."""
    return _write_sessions(args) if args.bundle is None else _write_bundle(args)


def _write_bundle(args: argparse.Namespace) -> int:
    from weightshare.records.store.bundle import write_bundle
    from weightshare.records.store.patient import find_patient

    with open_kept(args) as store:
        patient = find_patient(store, args.patient)
        words = f"new passphrase of {args.bundle}"
        passphrase = read_passphrase(args.bundle_passphrase_file, words, twice=True) if args.seal else None
        tell = progress("sessions")
        count = write_bundle(store, patient, args.bundle, with_name=args.with_name, passphrase=passphrase, tell=tell)
    return _tell(args, patient.code, args.bundle, count)


def _write_sessions(args: argparse.Namespace) -> int:
    from weightshare.errors import OptionError
    from weightshare.records.store.bundle import write_sessions
    from weightshare.records.store.patient import find_patient

    if args.seal or args.with_name:
        raise OptionError("--seal and --with-name go with --bundle: sessions are laid down open, and hold no name")
    with open_kept(args) as store:
        patient = find_patient(store, args.patient)
        count = write_sessions(store, patient, args.sessions, progress("sessions"))
    return _tell(args, patient.code, args.sessions, count)


def _tell(args: argparse.Namespace, code: str, target: Path, count: int) -> int:
    if args.json:
        told = {"patient": code, "file": str(target), "sessions": count}
        content = {"schema": SCHEMA, **told, "sealed": args.seal, "with_name": args.with_name}
        print(json.dumps(content, ensure_ascii=False))
    else:
        how = "sealed" if args.seal else "not sealed: who has it can read it"
        print(f"written: {target}, {count} sessions of {code}, {how}")
    return 0
