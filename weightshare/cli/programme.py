"""`weightshare programme`: ready-made programmes listed, shown, copied; a clinician's own checked and freed."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.programme.shelf import Kept

_EXAMPLE = """\
weightshare programme show achilles
  weightshare programme copy achilles mine.toml
  weightshare programme check mine.toml
  weightshare programme free mine.toml --stage one-leg-down --by AB"""
LOCKS = ("one-leg", "step", "below-level", "stage")
"""The names of locks, kept here too so that --help need not load what knows them."""


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `programme` to the top parser."""
    parser = add_command(subparsers, "programme", "stages: the ready-made programmes, and your own", _EXAMPLE)
    parts = parser.add_subparsers(title="what to do", metavar="WHAT", required=True)
    one = add_command(parts, "list", "the ready-made programmes", "weightshare programme list")
    one.add_argument("--json", action="store_true", help="print one JSON object")
    one.set_defaults(run=run_list)
    one = add_command(parts, "show", "the stages of a programme", "weightshare programme show achilles")
    one.add_argument("programme", metavar="NAME|FILE", help="a ready-made programme, or a file")
    one.add_argument("--json", action="store_true", help="print one JSON object")
    one.set_defaults(run=run_show)
    one = add_command(
        parts, "copy", "a ready-made programme as a file to change", "weightshare programme copy achilles my.toml"
    )
    one.add_argument("programme", metavar="NAME|FILE", help="a ready-made programme, or a file")
    one.add_argument("file", metavar="FILE", type=Path, help="where it goes; a file that is there stays as it is")
    one.set_defaults(run=run_copy)
    one = add_command(parts, "check", "all mistakes of a programme at once", "weightshare programme check my.toml")
    one.add_argument("programme", metavar="FILE", help="the programme's file")
    one.set_defaults(run=run_check)
    one = add_command(parts, "schema", "what a file may hold, as JSON Schema", "weightshare programme schema")
    one.set_defaults(run=run_schema)
    _add_free(parts)


def _add_free(parts: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    example = "weightshare programme free my.toml --stage one-leg-down --by AB"
    one = add_command(parts, "free", "unlock a stage of your own file, as the treating clinician", example)
    one.add_argument("programme", metavar="FILE", type=Path, help="the programme's file")
    one.add_argument("--stage", required=True, metavar="NAME", help="the stage's key or name")
    one.add_argument("--by", required=True, metavar="WHO", help="who frees it")
    one.add_argument("--lock", action="append", choices=LOCKS, help="what is freed (default: all that locks it)")
    one.add_argument(
        "--passphrase-file",
        type=Path,
        metavar="FILE",
        help="the clinician's passphrase, where one is set on this computer, as the first line (else: asked for)",
    )
    one.set_defaults(run=run_free)


def run_list(args: argparse.Namespace) -> int:
    """Print the ready-made programmes."""
    from weightshare.programme.shelf import READY, find_programme

    found = [find_programme(name) for name in READY]
    if args.json:
        print(json.dumps({"programmes": [_head(kept) for kept in found]}))
        return 0
    for kept in found:
        programme = kept.programme
        print(f"{kept.place:14}{len(programme.stages):3} stages  version {programme.version}  {programme.about}")
    return 0


def _head(kept: Kept) -> dict[str, object]:
    programme = kept.programme
    return {
        "place": kept.place,
        "name": programme.name,
        "version": programme.version,
        "sha256": kept.sha256,
        "about": programme.about,
        "stages": len(programme.stages),
    }


def run_show(args: argparse.Namespace) -> int:
    """Print the stages of a programme. Raises ProgrammeError where it has a mistake."""
    from weightshare.programme.listing import show_programme, to_json
    from weightshare.programme.shelf import find_programme

    kept = find_programme(args.programme)
    print(json.dumps({**_head(kept), **to_json(kept.programme)}) if args.json else show_programme(kept.programme))
    return 0


def run_copy(args: argparse.Namespace) -> int:
    """Write a programme's file anew, comments and all. Raises ProgrammeError where one is there already."""
    from weightshare.programme.reading import ProgrammeError
    from weightshare.programme.shelf import find_text

    text = find_text(args.programme)
    try:
        with args.file.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError as error:
        raise ProgrammeError(f"{args.file}: is there already and stays as it is; choose another name") from error
    except OSError as error:
        raise ProgrammeError(f"{args.file}: cannot be written ({error.strerror or error})") from error
    print(f"{args.file}: change it, then: weightshare programme check {args.file}", file=sys.stderr)
    return 0


def run_check(args: argparse.Namespace) -> int:
    """Print every mistake on a line of its own. Raises ProgrammeError where there is one."""
    from weightshare.programme.reading import ProgrammeError, check_text
    from weightshare.programme.shelf import find_text

    programme, mistakes = check_text(find_text(args.programme))
    for mistake in mistakes:
        print(f"{args.programme}, {mistake}")
    if programme is None:
        count = f"{len(mistakes)} {'mistake' if len(mistakes) == 1 else 'mistakes'}"
        raise ProgrammeError(f"{args.programme}: {count}; it cannot be practised by")
    print(
        f"{args.programme}: {programme.name}, version {programme.version}, {len(programme.stages)} stages, no mistake"
    )
    return 0


def run_schema(_args: argparse.Namespace) -> int:
    """Print the JSON Schema of a programme's file."""
    from weightshare.programme.schema import json_schema

    print(json.dumps(json_schema(), indent=1))
    return 0


def run_free(args: argparse.Namespace) -> int:
    """Unlock a stage in a file, as the clinician.

    Raises ProgrammeError where there is no such stage, nothing to unlock, or the passphrase is wrong; StoreError where
    nobody can be asked for it.
    """
    from datetime import date

    from weightshare.programme.kind import shown
    from weightshare.programme.reading import ProgrammeError
    from weightshare.programme.shelf import READY, find_programme
    from weightshare.programme.stage import Lock
    from weightshare.programme.writing import free_stage
    from weightshare.records.whole import write_whole

    place = str(args.programme)
    if not args.by.strip() or not args.by.isprintable():
        raise ProgrammeError(f"--by {shown(args.by)}: say who frees it, on one line")
    if place in READY and not args.programme.exists():
        raise ProgrammeError(f"{place}: is ready-made and stays as it is: weightshare programme copy {place} FILE")
    kept = find_programme(place)
    text = free_stage(kept, args.stage, [Lock(lock) for lock in args.lock or ()], by=args.by, on=date.today())
    _check_clinician(args.passphrase_file)
    try:
        write_whole(args.programme, text.encode())
    except OSError as error:
        raise ProgrammeError(f"{place}: cannot be written ({error.strerror or error})") from error
    stage = kept.find(args.stage)
    print(f"{place}: stage {stage.key} is freed by {args.by}; the surgeon's protocol goes first", file=sys.stderr)
    return 0


def _check_clinician(passphrase: Path | None) -> None:
    """Ask for the clinician's passphrase where one is set on this computer. Raises ProgrammeError where it is wrong."""
    from weightshare.cli.keeper import read_passphrase
    from weightshare.programme.reading import ProgrammeError
    from weightshare.records.passphrase import has_passphrase, is_passphrase

    if has_passphrase() and not is_passphrase(read_passphrase(passphrase, "clinician's passphrase")):
        raise ProgrammeError("that is not the clinician's passphrase; nothing was freed")
