"""`weightshare correct`: what the clinician corrects of a session: repetitions struck, phases moved, both undone."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.keeper import add_store_options, clock, open_kept, who
from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.records.appraisal import Appraisal
    from weightshare.records.correction import Corrections
    from weightshare.records.current import Wish

SCHEMA = "weightshare.corrected/1"
_EXAMPLE = """\
weightshare correct session-2026-11-24-101500 --strike 3 --reason "held on to the rail"
  weightshare correct session-2026-11-24-101500 --phase 4 lowering 31.2 33.9 --reason "the heel was down before"
  weightshare correct session-2026-11-24-101500 --undo 1 --reason "it was sound"
  weightshare correct --patient A-017 2026-11-24 --list"""
_PHASE_PARTS = 4


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `correct` to the top parser."""
    summary = "the clinician's corrections of a session: strike a repetition, move a phase"
    parser = add_command(subparsers, "correct", summary, _EXAMPLE)
    parser.add_argument(
        "session",
        nargs="?",
        metavar="SESSION",
        help="the folder of a saved session; with --patient when it began, as 2026-11-24 (default: the newest)",
    )
    what = parser.add_mutually_exclusive_group(required=True)
    what.add_argument("--strike", type=int, metavar="N", help="the repetition N of the first analysis counts no more")
    what.add_argument(
        "--phase",
        nargs=_PHASE_PARTS,
        metavar=("N", "PHASE", "FROM", "TO"),
        help="its phase (rise, top or lowering) lasts from FROM to TO, s",
    )
    what.add_argument("--undo", type=int, metavar="K", help="take the correction K back")
    what.add_argument("--list", action="store_true", help="show the phases of each repetition, and all corrections")
    parser.add_argument("--reason", metavar="TEXT", help="why, on one line; needed but for --list")
    parser.add_argument("--patient", metavar="CODE", help="a patient of the store, whose session it is")
    add_store_options(parser)
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Correct the session, or list what was corrected; return 0. Raises WeightshareError: nothing is changed then."""
    wish = None if args.list else make_wish(args)
    if args.patient is not None:
        return _run_in_store(args, wish)
    from weightshare.errors import OptionError
    from weightshare.records.correction import read_corrections
    from weightshare.records.current import correct
    from weightshare.records.session import appraise_session, find_session

    if args.session is None:
        raise OptionError("SESSION is missing: give the folder of a saved session, or --patient CODE")
    folder = find_session(Path(args.session))
    if wish is None:
        _show(args, appraise_session(folder), read_corrections(folder))
    else:
        made = correct(folder, wish, at=clock().isoformat(timespec="seconds"), by=who(args))
        _tell(args, made)
    return 0


def _run_in_store(args: argparse.Namespace, wish: Wish | None) -> int:
    from weightshare.cli.chosen import choose_visit
    from weightshare.records.session import appraise_session
    from weightshare.records.store.correcting import correct_visit, read_corrected
    from weightshare.records.store.patient import find_patient
    from weightshare.records.store.visit import opened

    with open_kept(args) as store:
        patient = find_patient(store, args.patient)
        visit = choose_visit(store, patient, args.session)
        if wish is None:
            with opened(store, visit) as folder:
                appraisal = appraise_session(folder)
            _show(args, appraisal, read_corrected(store, visit))
        else:
            _tell(args, correct_visit(store, patient, visit, wish))
    return 0


def make_wish(args: argparse.Namespace) -> Wish:
    """Return what the options ask for. Raises OptionError where they do not say why, or name no phase or no time."""
    from weightshare.errors import OptionError
    from weightshare.records.current import Wish

    if args.reason is None:
        raise OptionError("--reason is missing: whoever corrects says why")
    if args.undo is not None:
        return Wish(args.reason, undoes=args.undo)
    if args.strike is not None:
        return Wish(args.reason, args.strike)
    return _make_move(args.phase, args.reason)


def _make_move(parts: list[str], reason: str) -> Wish:
    from weightshare.errors import OptionError
    from weightshare.exercise import Phase
    from weightshare.records.current import Wish

    number, phase, from_s, to_s = parts
    phases = (Phase.RISE, Phase.TOP, Phase.LOWERING)
    if phase not in phases:
        raise OptionError(f"--phase {number} {phase}: there is no such phase; give {', '.join(phases)}")
    try:
        return Wish(reason, int(number), Phase(phase), (float(from_s), float(to_s)))
    except ValueError as error:
        told = " ".join(parts)
        raise OptionError(f"--phase {told}: give the repetition's number, the phase, from when, to when, s") from error


def _tell(args: argparse.Namespace, made: Appraisal) -> None:
    """Say what was corrected."""
    corrections = made.corrections
    if args.json:
        print(json.dumps({"schema": SCHEMA, **corrections.to_json()}, ensure_ascii=False))
        return
    newest = corrections.entries[-1]
    print(f"correction {len(corrections.entries)}: {newest.words}, by {newest.by}: {newest.reason}")
    print(f"repetitions that count: {len(made.analysis.repetitions)}; in force: {corrections.words or 'none'}")


def _show(args: argparse.Namespace, now: Appraisal, corrections: Corrections) -> None:
    """List the repetitions with their phases as they are now, and all corrections."""
    if args.json:
        print(json.dumps({"schema": SCHEMA, **corrections.to_json()}, ensure_ascii=False))
        return
    for line in _repetition_lines(now):
        print(line)
    force = corrections.in_force
    for number, one in enumerate(corrections.entries, 1):
        undone = "" if number in force or one.undoes is not None else " (undone)"
        print(f"correction {number}{undone}: {one.at}  {one.words}, by {one.by} ({one.role}): {one.reason}")
    if not corrections.entries:
        print("nothing was corrected")


def _repetition_lines(now: Appraisal) -> list[str]:
    from weightshare.exercise import Exercise
    from weightshare.pipeline.anew import phases_of

    analysis, struck = now.analysis, now.corrections.struck
    down_first = now.settings.exercise is Exercise.SQUAT
    lines = {number: f"repetition {number}  struck: {reason}" for number, reason in struck.items()}
    for number, one in zip(analysis.numbers, analysis.repetitions, strict=True):
        spans = phases_of(one, down_first=down_first)
        told = ", ".join(f"{phase} {from_s:.3f} to {to_s:.3f} s" for phase, (from_s, to_s) in spans.items())
        lines[number] = f"repetition {number}  {told or 'its phases are not known'}"
    return [lines[number] for number in sorted(lines)] or ["no repetition was found"]
