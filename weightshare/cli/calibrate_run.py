"""`weightshare calibrate run`: a scale is calibrated with known masses, step by step."""

from __future__ import annotations

import argparse
import json
import sys
import threading
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.errors import WeightshareError
    from weightshare.workbench.engine import BenchEngine
    from weightshare.workbench.order import Order
    from weightshare.workbench.plan import Wanted
    from weightshare.workbench.view import BenchView

_EXAMPLE = """\
weightshare calibrate run --source serial:/dev/ttyACM0 --masses 10,10,20,20 --mass-class M1 --latitude 52.5
  weightshare calibrate run --source rig:bench,speed=20 --masses 10,10,20,20 --brief"""
_CLASSES = ("E2", "F1", "F2", "M1", "M2", "M3")
LOOK_S = 0.05
PATIENCE_S = 10.0
"""How long a scale that does not answer is waited for."""
BRIEF_DRIFT_S, BRIEF_CREEP_S = 20.0, 60.0
SCHEMA = "weightshare.bench/1"


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the way `run` to the parser of `calibrate`."""
    summary = "calibrate a scale with known masses: says what to lay where, and sees by itself when it lies there"
    parser = add_command(subparsers, "run", summary, _EXAMPLE)
    parser.add_argument("--source", required=True, metavar="SOURCE", help="tcp://HOST:PORT, serial:PORT, rig:bench")
    parser.add_argument("--masses", required=True, metavar="KG,KG", help="every mass there is, kg: 10,10,20,20")
    known = parser.add_mutually_exclusive_group()
    known.add_argument("--mass-class", choices=_CLASSES, help="class of the masses (OIML R 111; default M1)")
    known.add_argument("--mass-uncertainty", type=float, metavar="KG", help="standard uncertainty of each, instead")
    parser.add_argument("--latitude", type=float, metavar="DEG", help="where it is done, for gravity there")
    parser.add_argument("--height", type=float, metavar="M", help="and how high over the sea (default 0)")
    parser.add_argument("--side", choices=("left", "right", "both"), default="both", help="which plate (default both)")
    parser.add_argument("--runs", type=int, metavar="N", help="how often up and down (default 2)")
    parser.add_argument("--creep-minutes", type=float, metavar="MIN", help="how long all is left on (default 5)")
    parser.add_argument("--drift-seconds", type=float, metavar="S", help="how long nothing is on (default 60)")
    parser.add_argument("--brief", action="store_true", help="fewer and shorter steps: one run, one round of quarters")
    _add_file_options(parser)
    parser.set_defaults(run=run)


def _add_file_options(parser: argparse.ArgumentParser) -> None:
    group = parser.add_argument_group("what comes of it")
    group.add_argument("--made-by", default="", metavar="WORDS", help="who did it; written into the calibration")
    group.add_argument("--valid-days", type=int, default=365, metavar="DAYS", help="how long it holds (default 365)")
    group.add_argument("--folder", type=Path, metavar="DIR", help="folder of calibrations (default: the user's own)")
    group.add_argument("--json", action="store_true", help="print one JSON object")


def run(args: argparse.Namespace) -> int:
    """Lead through the calibration on stderr, print what came of it on stdout; return 0.

    Ctrl-C gives up: nothing is written.
    """
    from weightshare.workbench.engine import BenchEngine
    from weightshare.workbench.order import bench_source

    engine = BenchEngine(_order(args))
    if bench_source(args.source) != args.source:
        print("Nobody stands there while it is calibrated: virtual hands lay the masses on.", file=sys.stderr)
    try:
        engine.start()
        _follow(engine)
    finally:
        engine.stop()
    view = engine.view()
    for words in _earlier_words(view):
        print(words, file=sys.stderr)
    print(json.dumps(_result_json(view)) if args.json else _result_text(Path(view.place)))
    if view.kept:
        print(f"kept the one before: {view.kept}", file=sys.stderr)
    print(f"written: {view.place}", file=sys.stderr)
    return 0


def _order(args: argparse.Namespace) -> Order:
    from weightshare.errors import check_range
    from weightshare.metrology.standard import MassClass
    from weightshare.workbench.order import Order, parse_masses

    check_range("--mass-uncertainty", args.mass_uncertainty, 0.0, 10.0, "kg")
    mass_class = MassClass(args.mass_class) if args.mass_class else None
    masses = tuple(parse_masses(args.masses, mass_class, args.mass_uncertainty))
    order = Order(
        args.source,
        _wanted(args, masses),
        args.latitude,
        args.height,
        args.made_by,
        args.valid_days,
        args.folder,
    )
    order.check()
    return order


def _wanted(args: argparse.Namespace, masses: tuple[Any, ...]) -> Wanted:
    from dataclasses import replace

    from weightshare.model import Side
    from weightshare.workbench.plan import Wanted

    wanted = Wanted(masses, tuple(Side) if args.side == "both" else (Side(args.side),))
    if args.brief:
        wanted = replace(wanted, runs=1, drift_s=BRIEF_DRIFT_S, creep_s=BRIEF_CREEP_S, corner_rounds=1)
    asked = {
        "runs": args.runs,
        "creep_s": None if args.creep_minutes is None else 60.0 * args.creep_minutes,
        "drift_s": args.drift_seconds,
    }
    return replace(wanted, **{key: value for key, value in asked.items() if value is not None})


def _follow(engine: BenchEngine) -> None:
    """Show the calibration until it is done. Raises WeightshareError where it cannot go on."""
    from weightshare.errors import CalibrationError
    from weightshare.workbench.terminal import BenchLine
    from weightshare.workbench.view import Stage

    line, pause, began_s = BenchLine(sys.stderr), threading.Event(), time.monotonic()
    _listen(engine)
    try:
        while (view := engine.view()).stage is not Stage.DONE:
            if view.stage is Stage.FAILED:
                raise engine.fault or CalibrationError(view.trouble)
            if view.stage is Stage.CONNECT and time.monotonic() - began_s > PATIENCE_S:
                raise engine.link_fault or _silent(engine.order.source)
            line.show(view, time.monotonic())
            pause.wait(LOOK_S)
    finally:
        line.close()


def _silent(source: str) -> WeightshareError:
    from weightshare.errors import DeviceError

    return DeviceError(f"{source}: no samples came; check that the scale is on")


def _listen(engine: BenchEngine) -> None:
    """Let Enter take the load as it lies, and `b` with Enter go a step back, where there is a keyboard."""
    if not sys.stdin or not sys.stdin.isatty():
        return

    def listen() -> None:
        for words in sys.stdin:
            if words.strip().lower() == "b":
                engine.back()
            elif engine.view().may_confirm:
                engine.confirm()

    print("Enter takes the load as it lies, b and Enter goes a step back, Ctrl-C gives up.", file=sys.stderr)
    threading.Thread(target=listen, name="bench keys", daemon=True).start()


def _result_text(place: Path) -> str:
    """Return channels, figures, limits beside them as information, and cautions."""
    from dataclasses import replace

    from weightshare.records.bench import read_kept
    from weightshare.report.certificate import make_certificate
    from weightshare.report.markdown import to_markdown

    document = make_certificate(read_kept(place))
    short = replace(document, sections=tuple(s for s in document.sections if s.heading not in ("Masses", "Method")))
    return to_markdown(short)[0].rstrip()


def _earlier_words(view: BenchView) -> tuple[str, ...]:
    """Return which channels of the file were not calibrated now, and of which day they are."""
    from weightshare.records.calibration import read_calibration
    from weightshare.report.certificate import earlier_words

    return earlier_words(read_calibration(Path(view.place)))


def _result_json(view: BenchView) -> dict[str, object]:
    from weightshare.records.calibration import calibration_to_json, read_calibration
    from weightshare.records.plain import to_plain

    assert view.found is not None, "it is done"
    found = view.found
    return {
        "schema": SCHEMA,
        "place": view.place,
        "kept": view.kept or None,
        "calibration": calibration_to_json(read_calibration(Path(view.place))),
        "figures": to_plain(found.figures),
        "fits": to_plain(found.fits),
        "cautions": list(found.cautions),
    }
