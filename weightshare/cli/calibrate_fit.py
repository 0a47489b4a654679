"""`weightshare calibrate fit`: points that were taken elsewhere, fitted."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.metrology.fitted import Circumstance, Fitted
    from weightshare.metrology.point import Points
    from weightshare.model import Calibration

_EXAMPLE = "weightshare calibrate fit POINTS.csv --degree 2 --mass-class M1 --latitude 52.5 --height 40"
_CLASSES = ("E2", "F1", "F2", "M1", "M2", "M3")


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the way `fit` to the parser of `calibrate`."""
    summary = "fit points taken elsewhere: a CSV file with load_N or mass_kg and counts, or x and y"
    parser = add_command(subparsers, "fit", summary, _EXAMPLE)
    parser.add_argument("points", type=Path, metavar="POINTS.csv", help="the points, one a row")
    parser.add_argument(
        "--degree", type=int, default=1, choices=(1, 2, 3), help="of the polynomial (default 1: a line)"
    )
    parser.add_argument("--channel", type=int, metavar="N", help="this channel alone; or which one the points are of")
    parser.add_argument("--latitude", type=float, metavar="DEG", help="where the masses were put on, for gravity there")
    parser.add_argument("--height", type=float, default=None, metavar="M", help="and how high over the sea (default 0)")
    parser.add_argument("--mass-class", choices=_CLASSES, help="class of the masses (OIML R 111)")
    parser.add_argument("--expect", type=float, metavar="N/COUNT", help="about the slope that it should have")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    _add_write_options(parser)
    parser.set_defaults(run=run)


def _add_write_options(parser: argparse.ArgumentParser) -> None:
    group = parser.add_argument_group("a calibration file of it")
    group.add_argument(
        "--write", type=Path, metavar="FILE", help="write a calibration; one that is there is kept beside"
    )
    group.add_argument("--device-id", metavar="ID", help="the scale's 16 hexadecimal digits: see weightshare scales")
    group.add_argument("--anyway", action="store_true", help="write it whatever speaks against the points")
    group.add_argument("--valid-days", type=int, default=365, metavar="DAYS", help="how long it holds (default 365)")


def run(args: argparse.Namespace) -> int:
    """Print the fit, and write the calibration where one is asked for; return 0."""
    from weightshare.cli.fit_table import fit_json, fit_table

    known = _circumstance(args)
    fitted = _fit_all(args, known)
    if args.write is not None:
        _write(args.write, _make_calibration(args, fitted, known), fitted)
    print(json.dumps(fit_json(fitted, args.degree)) if args.json else fit_table(fitted))
    return 0


def _circumstance(args: argparse.Namespace) -> Circumstance:
    from weightshare.errors import OptionError, check_range
    from weightshare.metrology.fitted import Circumstance
    from weightshare.metrology.standard import MassClass, local_gravity, mass_uncertainty_part, standard_gravity

    if args.height is not None and args.latitude is None:
        raise OptionError("--height needs --latitude too: gravity depends on both")
    check_range("--latitude", args.latitude, -90.0, 90.0, "degrees")
    check_range("--height", args.height, -500.0, 6000.0, "m")
    if args.expect == 0.0:
        raise OptionError("--expect 0 is no slope")
    check_range("--expect", args.expect, -1e9, 1e9, "N per count")
    gravity = standard_gravity() if args.latitude is None else local_gravity(args.latitude, args.height or 0.0)
    part = None if args.mass_class is None else mass_uncertainty_part(MassClass(args.mass_class))
    return Circumstance(gravity, part, args.expect)


def _fit_all(args: argparse.Namespace, known: Circumstance) -> list[Fitted]:
    from weightshare.errors import CalibrationError, InputError
    from weightshare.metrology.fitted import fit_points

    fitted = []
    for points in _chosen(args):
        try:
            fitted.append(fit_points(points, args.degree, known))
        except InputError as error:
            channel = "" if points.channel is None else f", channel {points.channel}"
            place = f"{args.points}, line {points.line[-1]}, column {points.x_name}{channel}"
            raise CalibrationError(f"{place}: {error}") from error
    return fitted


def _chosen(args: argparse.Namespace) -> list[Points]:
    """Return the points of the channels that are asked for; points of no channel are of the one that is named."""
    from dataclasses import replace

    from weightshare.errors import OptionError
    from weightshare.records.points import GREATEST_CHANNEL, read_points

    if args.channel is not None and not 0 <= args.channel <= GREATEST_CHANNEL:
        raise OptionError(f"--channel {args.channel} is none: they are 0 to {GREATEST_CHANNEL}")
    every = read_points(args.points)
    if args.channel is None:
        return every
    if every[0].channel is None:
        return [replace(every[0], channel=args.channel)]
    chosen = [points for points in every if points.channel == args.channel]
    if not chosen:
        there = ", ".join(str(points.channel) for points in every)
        raise OptionError(f"--channel {args.channel}: {args.points} has no such channel, only {there}")
    return chosen


def _make_calibration(args: argparse.Namespace, fitted: list[Fitted], known: Circumstance) -> Calibration:
    """Return the calibration to be written. Raises OptionError or CalibrationError where none should be."""
    import re
    from datetime import date, timedelta

    from weightshare.errors import CalibrationError, InputError, OptionError, check_range
    from weightshare.metrology.transfer import GREATEST_WRITTEN_DEGREE
    from weightshare.model import Calibration

    if args.degree > GREATEST_WRITTEN_DEGREE:
        raise OptionError(
            f"--write: a calibration file holds a slope and a curve, so --degree {args.degree} is too much"
        )
    if args.device_id is None:
        raise OptionError("--write needs --device-id: the scale that the points are of")
    check_range("--valid-days", args.valid_days, 1, 3650, "days")
    if not re.fullmatch("[0-9a-fA-F]{16}", args.device_id):
        raise OptionError(f"--device-id {args.device_id}: this is no 16 hexadecimal digits; see weightshare scales")
    for one in fitted:
        if one.doubts and not args.anyway:
            raise CalibrationError(f"{args.points}: {one.doubts[0]} (nothing was written; --anyway writes it)")
    try:
        channels = tuple(one.channel(one.points.channel or 0) for one in fitted)
    except InputError as error:
        raise CalibrationError(f"{args.points}: {error}; nothing was written") from error
    today = date.today()
    return Calibration(
        args.device_id.lower(),
        today,
        channels,
        today + timedelta(days=args.valid_days),
        known.gravity.value,
    )


def _write(path: Path, calibration: Calibration, fitted: list[Fitted]) -> None:
    from dataclasses import replace

    from weightshare.metrology.taken import keep_fit, worth_of_points
    from weightshare.records.keep import replace_calibration

    fits = (keep_fit(one, calibration.gravity_m_s2) for one in fitted)
    taken = [one for one in fits if one is not None]
    kept = replace_calibration(path, replace(calibration, worth=worth_of_points(taken)), taken)
    if kept is not None:
        print(f"kept the one before: {kept}", file=sys.stderr)
    print(f"written: {path}", file=sys.stderr)
