"""`weightshare export`: sessions as files to take away: as tables and in others' forms, or as they were recorded."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.chosen import choose_visit, is_path, require_store
from weightshare.cli.keeper import add_store_options, count_of, open_kept, place_of, progress, read_passphrase
from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.records.export.lab import Size
    from weightshare.records.export.saved import SavedSession
    from weightshare.records.export.writing import Request

SCHEMA = "weightshare.export/1"
_EXAMPLE = """\
weightshare export session-2026-11-24-101500 --as csv --out tables
  weightshare export A-017 --bundle A-017.zip"""
_FORMS = ("csv", "parquet", "json", "c3d", "fhir", "package")


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `export` to the top parser."""
    parser = add_command(subparsers, "export", "sessions as files to take away", _EXAMPLE)
    words = "folders of saved sessions, or a patient's code: all of the patient's sessions"
    parser.add_argument("what", metavar="SESSION|CODE", nargs="+", help=words)
    what = parser.add_mutually_exclusive_group(required=True)
    what.add_argument("--as", dest="form", choices=_FORMS, help="tables and samples in one of these forms, into --out")
    what.add_argument(
        "--bundle", type=Path, metavar="FILE", help="a zip archive that is a data package: tables and sessions"
    )
    what.add_argument(
        "--sessions", type=Path, metavar="DIR", help="the sessions' folders, as they were recorded, into a new folder"
    )
    parser.add_argument("--out", type=Path, metavar="DIR", help="with --as: the new folder")
    parser.add_argument("--replace", action="store_true", help="with --as: an earlier export in that folder gives way")
    parser.add_argument(
        "--began",
        metavar="TIME",
        help="with --as, of a CODE: one session, as 2026-11-24 or 2026-11-24T10:15, or newest (default: all)",
    )
    parser.add_argument(
        "--plates-mm", metavar="W,D,GAP", help="with --as c3d: how wide and deep each plate is, and how far apart"
    )
    parser.add_argument(
        "--with-notes", action="store_true", help="with --as: what the patient said in words goes along (default: not)"
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
    """Write the files, the bundle, or the folders; return 0."""
    if args.form is not None:
        return _write_files(args)
    _check_whole(args)
    return _write_sessions(args) if args.bundle is None else _write_bundle(args)


def _check_whole(args: argparse.Namespace) -> None:
    """Raise OptionError for what goes with `--as` alone, and for more than one patient."""
    from weightshare.errors import OptionError

    given = (args.out, args.replace, args.began, args.plates_mm, args.with_notes)
    for option, value in zip(("--out", "--replace", "--began", "--plates-mm", "--with-notes"), given, strict=True):
        if value:
            raise OptionError(f"{option} goes with --as")
    if len(args.what) != 1:
        raise OptionError(f"give one patient's code, not {len(args.what)}: several go with --as")


def _write_files(args: argparse.Namespace) -> int:
    from weightshare.records.export.writing import write_export

    request = _make_request(args)
    written = write_export(_sessions(args, request), args.out, request, replace=args.replace)
    for words in written.notes:
        print(words, file=sys.stderr)
    if args.json:
        told = {"as": args.form, "folder": str(args.out), "sessions": written.sessions, "files": list(written.files)}
        print(json.dumps({"schema": SCHEMA, **told, "with_name": args.with_name}, ensure_ascii=False))
    else:
        much = f"{count_of(written.sessions, 'session')} in {count_of(len(written.files), 'file')}"
        print(f"written: {args.out}, {much}, not sealed")
    return 0


def _make_request(args: argparse.Namespace) -> Request:
    """Return what is asked for. Raises OptionError before anything is read."""
    from weightshare.errors import OptionError
    from weightshare.records.export.folder import require_room
    from weightshare.records.export.writing import Request

    if args.out is None:
        raise OptionError(f"--as {args.form} needs --out DIR, the folder to write")
    if args.seal or args.bundle_passphrase_file is not None:
        raise OptionError("--seal goes with --bundle: files in others' forms lie open")
    if args.plates_mm is not None and args.form != "c3d":
        raise OptionError("--plates-mm goes with --as c3d")
    request = Request(args.form, args.with_name, args.with_notes, _read_size(args.plates_mm))
    require_room(args.out, replace=args.replace)
    return request


def _read_size(words: str | None) -> Size | None:
    from weightshare.errors import OptionError
    from weightshare.records.export.lab import Size

    if words is None:
        return None
    try:
        width, depth, gap = map(float, words.split(","))
    except ValueError:
        raise OptionError(f"--plates-mm {words}: give width, depth and gap in mm, as in 280,380,80") from None
    if not (50.0 <= width <= 2000.0 and 50.0 <= depth <= 2000.0 and 0.0 <= gap <= 2000.0):
        raise OptionError(f"--plates-mm {words} is out of range: plates are 50 to 2000 mm, the gap up to 2000 mm")
    return Size(width, depth, gap)


def _sessions(args: argparse.Namespace, request: Request) -> Iterator[SavedSession]:
    """Yield the sessions that are meant, one after the other."""
    from weightshare.errors import OptionError
    from weightshare.records.export.saved import load_saved

    if not any(map(is_path, args.what)):
        for code in args.what:
            yield from _of_patient(args, code, request)
        return
    for option, given in (("--began", args.began is not None), ("--with-name", args.with_name)):
        if given:
            raise OptionError(f"{option} goes with a patient's code: a session by itself does not say whose it is")
    tell = progress("sessions")
    for done, what in enumerate(args.what):
        tell(done, len(args.what))
        yield load_saved(Path(what))


def _of_patient(args: argparse.Namespace, code: str, request: Request) -> Iterator[SavedSession]:
    from weightshare.cli.patient import empty_inbox
    from weightshare.errors import OptionError
    from weightshare.records.export.saved import load_saved
    from weightshare.records.store.patient import find_patient
    from weightshare.records.store.trail import note_trail
    from weightshare.records.store.visit import list_visits, opened

    require_store(place_of(args), code)
    with open_kept(args) as store:
        patient = find_patient(store, code)
        empty_inbox(store, patient)
        visits = list_visits(store, patient) if args.began is None else [choose_visit(store, patient, args.began)]
        if not visits:
            raise OptionError(f"the patient {patient.code} has no sessions yet: there is nothing to export")
        tell = progress(f"sessions of {patient.code}")
        for done, visit in enumerate(visits):
            tell(done, len(visits))
            with opened(store, visit) as folder:
                yield load_saved(folder, patient=patient.code, name=patient.name)
        named = ", with the name" if request.with_name else ""
        much = count_of(len(visits), "session")
        note_trail(store, "exported", patient.id, f"{much} as {request.form} to {args.out.name}{named}")


def _write_bundle(args: argparse.Namespace) -> int:
    from weightshare.cli.patient import empty_inbox
    from weightshare.records.store.bundle import write_bundle
    from weightshare.records.store.patient import find_patient

    with open_kept(args) as store:
        patient = find_patient(store, args.what[0])
        empty_inbox(store, patient)
        words = f"new passphrase of {args.bundle}"
        passphrase = read_passphrase(args.bundle_passphrase_file, words, twice=True) if args.seal else None
        tell = progress("sessions")
        count = write_bundle(store, patient, args.bundle, with_name=args.with_name, passphrase=passphrase, tell=tell)
    return _tell(args, patient.code, args.bundle, count)


def _write_sessions(args: argparse.Namespace) -> int:
    from weightshare.cli.patient import empty_inbox
    from weightshare.errors import OptionError
    from weightshare.records.store.bundle import write_sessions
    from weightshare.records.store.patient import find_patient

    if args.seal or args.with_name:
        raise OptionError("--seal and --with-name go with --bundle: sessions are laid down open, and hold no name")
    with open_kept(args) as store:
        patient = find_patient(store, args.what[0])
        empty_inbox(store, patient)
        count = write_sessions(store, patient, args.sessions, progress("sessions"))
    return _tell(args, patient.code, args.sessions, count)


def _tell(args: argparse.Namespace, code: str, target: Path, count: int) -> int:
    if args.json:
        told = {"patient": code, "file": str(target), "sessions": count}
        content = {"schema": SCHEMA, **told, "sealed": args.seal, "with_name": args.with_name}
        print(json.dumps(content, ensure_ascii=False))
    else:
        how = "sealed" if args.seal else "not sealed: who has it can read it"
        print(f"written: {target}, {count_of(count, 'session')} of {code}, {how}")
    return 0
