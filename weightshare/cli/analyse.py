"""`weightshare analyse`: the analysis of a trace or of a saved session."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.option import add_command, add_measure_options, given_measures, make_settings

if TYPE_CHECKING:
    from weightshare.pipeline.result import Analysis

_EXAMPLE = "weightshare analyse trace.csv --injured left --target 75"


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `analyse` to the top parser."""
    summary = "the analysis of a trace (CSV or Parquet) or of a saved session"
    parser = add_command(subparsers, "analyse", summary, _EXAMPLE)
    parser.add_argument("trace", type=Path, metavar="TRACE", help="a trace file, or the folder of a saved session")
    add_measure_options(parser)
    parser.add_argument("--recover", action="store_true", help="finish a session that was cut short, then analyse it")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the analysis; return 0."""
    from weightshare.cli.table import analysis_table

    analysis = _analyse_folder(args) if args.trace.is_dir() else _analyse_file(args)
    print(json.dumps(analysis.to_json()) if args.json else analysis_table(analysis))
    return 0


def _analyse_file(args: argparse.Namespace) -> Analysis:
    from weightshare.public import analyse_checked
    from weightshare.records.trace import read_trace

    settings = make_settings(args)
    return analyse_checked(read_trace(args.trace), settings)


def _analyse_folder(args: argparse.Namespace) -> Analysis:
    from weightshare.records import session

    folder = session.find_session(args.trace)
    if args.recover:
        session.recover(folder)
        print(f"recovered: {folder}", file=sys.stderr)
    return session.analyse_session(folder, given_measures(args))
