"""`weightshare analyse`: the analysis of a trace or of a saved session."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.option import add_command, add_measure_options, given_measures, make_settings

if TYPE_CHECKING:
    from weightshare.records.appraisal import Appraisal

_EXAMPLE = "weightshare analyse trace.csv --injured left --target 75"


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `analyse` to the top parser."""
    summary = "the analysis of a trace (CSV or Parquet) or of a saved session"
    parser = add_command(subparsers, "analyse", summary, _EXAMPLE)
    parser.add_argument("trace", type=Path, metavar="TRACE", help="a trace file, or the folder of a saved session")
    add_measure_options(parser)
    parser.add_argument(
        "--calibration", type=Path, metavar="FILE", help="the calibration of a trace's scale: what its forces are worth"
    )
    parser.add_argument(
        "--repeats", type=Path, metavar="DIR", help="a folder with this patient's own sessions: how much days differ"
    )
    parser.add_argument("--detrend", action="store_true", help="take a trend over those days out first")
    parser.add_argument("--recover", action="store_true", help="finish a session that was cut short, then analyse it")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the analysis; return 0."""
    from weightshare.cli.assessed import print_appraisal

    if not _is_folder(args.trace):
        print_appraisal(_analyse_file(args), None, as_json=args.json)
        return 0
    from weightshare.records.assessment import assess_session
    from weightshare.records.session import find_session

    appraisal = _analyse_folder(args)
    print_appraisal(appraisal, assess_session(find_session(args.trace), appraisal), as_json=args.json)
    return 0


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError:  # a name that cannot be looked up: reading it says why
        return False


def _analyse_file(args: argparse.Namespace) -> Appraisal:
    from weightshare.errors import OptionError
    from weightshare.public import analyse_checked
    from weightshare.records.appraisal import appraise
    from weightshare.records.calibration import read_calibration
    from weightshare.records.trace import read_trace

    settings = make_settings(args)
    calibration = None if args.calibration is None else read_calibration(args.calibration)
    if args.repeats is not None or args.detrend:
        raise OptionError("--repeats goes with a saved session: a trace has no date, and does not say what was done")
    trace = read_trace(args.trace)
    return appraise(analyse_checked(trace, settings), settings, calibration, trace=trace)


def _analyse_folder(args: argparse.Namespace) -> Appraisal:
    from weightshare.errors import OptionError
    from weightshare.records.repeat import with_repeats
    from weightshare.records.session import appraise_session, find_session, recover
    from weightshare.records.setting import read_head

    if args.detrend and args.repeats is None:
        raise OptionError("--detrend goes with --repeats DIR: the trend is one over days")
    if args.calibration is not None:
        raise OptionError("--calibration goes with a trace: a saved session has its own")

    folder = find_session(args.trace)
    if args.recover:
        recover(folder)
        print(f"recovered: {folder}", file=sys.stderr)
    appraisal = appraise_session(folder, given_measures(args))
    if args.repeats is None:
        return appraisal
    return with_repeats(appraisal, read_head(folder), folder, args.repeats, detrend=args.detrend)
