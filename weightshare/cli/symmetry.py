"""`weightshare symmetry`: how the two sides compare, in each measure of a session, or in two values."""

from __future__ import annotations

import argparse
import json
import math
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.chosen import choose_visit, is_path, require_store
from weightshare.cli.keeper import add_store_options, open_kept, place_of
from weightshare.cli.option import add_command
from weightshare.report.digit import in_plain, plus_minus

if TYPE_CHECKING:
    from weightshare.metrology.estimate import Estimate
    from weightshare.metrology.index import Index
    from weightshare.report.account import Account

SCHEMA = "weightshare.symmetry/1"
KINDS = {
    "mean-force": "MEAN_FORCE",
    "peak-force": "PEAK_FORCE",
    "hold-time": "HOLD_TIME",
    "hold-force": "HOLD_FORCE",
    "repetitions": "REPETITIONS",
    "height": "HEIGHT",
    "best-height": "BEST_HEIGHT",
    "load-travel": "LOAD_TRAVEL",
}
"""The names of measures, kept here too so that --help need not load what knows them."""
_GREATEST = 1e6
_EXAMPLE = """\
weightshare symmetry session-2026-11-24-101500
  weightshare symmetry A-017
  weightshare symmetry --kind hold-time --values 21.5 30"""


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `symmetry` to the top parser."""
    summary = "how the two sides compare, in each measure of a session, or in two values"
    parser = add_command(subparsers, "symmetry", summary, _EXAMPLE)
    words = "the folder of a saved session, or a patient's code"
    parser.add_argument("session", nargs="?", metavar="SESSION|CODE", help=words)
    parser.add_argument(
        "--repeats", type=Path, metavar="DIR", help="of a SESSION: a folder with sessions of the same person"
    )
    parser.add_argument("--began", metavar="TIME", help="of a CODE: which session, as 2026-11-24 (default: the newest)")
    parser.add_argument("--kind", choices=tuple(KINDS), metavar="NAME", help=f"of two values: {', '.join(KINDS)}")
    parser.add_argument(
        "--values", type=float, nargs=2, metavar=("INJURED", "UNINJURED"), help="the two values, measured alike"
    )
    parser.add_argument("--both-injured", action="store_true", help="both sides are injured: then there is no index")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    add_store_options(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print how the sides compare; return 0."""
    from weightshare.records.symmetry import Told

    found = _of_values(args) if args.session is None else _of_what(args)
    if args.json:
        print(json.dumps({"schema": SCHEMA, "indices": [Told(one).to_json() for one in found]}))
    else:
        print("\n\n".join(map(_table, found)) or "nothing in this session has a value for each side")
    return 0


def _of_what(args: argparse.Namespace) -> tuple[Index, ...]:
    from weightshare.errors import OptionError

    if args.kind is not None or args.values is not None:
        raise OptionError("--kind and --values go without a session: it has measures of its own")
    if not is_path(args.session):
        return _of_patient(args)
    if args.began is not None:
        raise OptionError("--began goes with a patient's code: of a SESSION its folder is named")
    return _of_folder(args)


def _of_folder(args: argparse.Namespace) -> tuple[Index, ...]:
    from weightshare.records.session import find_session, replay_session
    from weightshare.records.symmetry import indices_of
    from weightshare.report.account import account_of

    folder = find_session(Path(args.session))
    if args.repeats is not None:
        account = account_of(folder, args.repeats)
        for words in account.passed_over:
            print(words, file=sys.stderr)
        return _compare(account, both_injured=args.both_injured)
    replayed = replay_session(folder)
    return indices_of(replayed.appraisal, replayed.trace, both_injured=args.both_injured)


def _of_patient(args: argparse.Namespace) -> tuple[Index, ...]:
    from weightshare.errors import OptionError
    from weightshare.records.store.patient import find_patient
    from weightshare.records.store.trail import note_trail
    from weightshare.records.store.visit import opened
    from weightshare.report.account import account_of_visit

    if args.repeats is not None:
        raise OptionError("--repeats goes with a session's folder: a patient's sessions are in the store")
    require_store(place_of(args), args.session)
    with open_kept(args) as store:
        patient = find_patient(store, args.session)
        visit = choose_visit(store, patient, args.began)
        with opened(store, visit) as folder:
            account = account_of_visit(store, patient, visit, folder)
        note_trail(store, "compared the sides of a session", patient.id, visit.started_at)
        return _compare(account, both_injured=args.both_injured or account.both_injured)


def _compare(account: Account, *, both_injured: bool) -> tuple[Index, ...]:
    from weightshare.records.symmetry import indices_of

    trace, own = account.replayed.trace, account.strays()
    return indices_of(account.appraisal, trace, both_injured=both_injured, own=own)


def _of_values(args: argparse.Namespace) -> tuple[Index, ...]:
    from weightshare.errors import OptionError, check_range
    from weightshare.metrology.estimate import Estimate
    from weightshare.metrology.index import BOTH_INJURED, Kind, compare

    if args.kind is None or args.values is None:
        raise OptionError("give a session's folder, or --kind NAME --values INJURED UNINJURED")
    kind = Kind[KINDS[args.kind]]
    for value in args.values:
        check_range("--values", value, 0.0, _GREATEST, kind.unit or "repetitions")
    injured, uninjured = (Estimate(value, math.nan) for value in args.values)
    return (compare(kind, injured, uninjured, reason=BOTH_INJURED if args.both_injured else ""),)


def _table(one: Index) -> str:
    from weightshare.metrology.index import ANGLE, LSI, SI

    indices = (
        ("limb symmetry index", one.limb_symmetry_index, LSI),
        ("symmetry index", one.symmetry_index, SI),
        ("symmetry angle", one.symmetry_angle, ANGLE),
    )
    lines = [
        f"{one.kind}: injured {_say(one.injured, one.kind.unit)}, other {_say(one.uninjured, one.kind.unit)}",
        *(f"  {name:22}{_say(value, '%'):22}{formula}" for name, value, formula in indices if value is not None),
    ]
    lines += [f"  no index: {one.reason}"] if one.reason else []
    if one.limb_symmetry_index is not None or one.reliability.is_published:
        lines.append(f"  varies from day to day: {one.reliability.words}{_mdc(one)}")
    return "\n".join(lines + [f"  caution: {words}" for words in one.cautions])


def _mdc(one: Index) -> str:
    """Return what a published change of share is of this index; the patient's own words have their figure."""
    known = one.reliability.mdc_percent
    return f"; of this index some {known:.0f} %" if known is not None and one.reliability.is_published else ""


def _say(one: Estimate | None, unit: str) -> str:
    """Return a value with its expanded uncertainty (k = 2), as a report tells it; a count has none."""
    if one is None:
        return "not measured"
    said = in_plain(plus_minus(one.value, 2.0 * one.u)) if math.isfinite(one.u) else f"{one.value:.4g}"
    return f"{said} {unit}".strip()
