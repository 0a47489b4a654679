"""`weightshare calibrate history`: all calibrations of a scale, and how it drifted."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.records.bench import History
    from weightshare.records.drift import Drift

_EXAMPLE = "weightshare calibrate history --device 0011223344556677 --plot drift.svg"
_FORMS = (".svg", ".pdf")


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the way `history` to the parser of `calibrate`."""
    summary = "all calibrations of a scale, how its slopes and zeros changed, and its drift log"
    parser = add_command(subparsers, "history", summary, _EXAMPLE)
    which = parser.add_mutually_exclusive_group()
    which.add_argument("--device", metavar="ID", help="the scale (default: the only one that is kept here)")
    which.add_argument("--all", action="store_true", help="every scale that is kept here")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.add_argument("--plot", type=Path, metavar="FILE", help="draw it too: NAME.svg or NAME.pdf")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the history, and draw it where that is asked for; return 0."""
    from weightshare.cli.history_table import history_json, history_table
    from weightshare.records.bench import history, known_scales, own_scale
    from weightshare.records.drift import drift_of

    _check(args)
    scales = known_scales() if args.all else (own_scale(args.device),)
    told = [(history(device), drift_of(device)) for device in scales]
    if args.plot is not None:
        _draw(*told[0], args.plot)
    print(json.dumps(history_json(told)) if args.json else history_table(told))
    return 0


def _check(args: argparse.Namespace) -> None:
    from weightshare.errors import OptionError

    if args.plot is None:
        return
    if args.all:
        raise OptionError("--plot draws one scale: name it with --device, instead of --all")
    if args.plot.suffix.lower() not in _FORMS:
        raise OptionError(f"--plot {args.plot}: its name has to end in .svg or .pdf")


def _draw(told: History, drift: Drift, path: Path) -> None:
    from weightshare.errors import CalibrationError
    from weightshare.records.whole import write_whole
    from weightshare.report.pdf import drawing_to_pdf
    from weightshare.report.plot import drift_plot
    from weightshare.report.svg import to_svg

    drawing = drift_plot(drift, told.kept)
    if drawing is None:
        raise CalibrationError(
            f"the scale {told.device_id} has nothing to draw yet: no drift log and one calibration at most"
        )
    is_pdf = path.suffix.lower() == ".pdf"
    write_whole(path, drawing_to_pdf(drawing) if is_pdf else to_svg(drawing).encode())
    print(f"written: {path}", file=sys.stderr)
