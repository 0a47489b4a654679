"""`weightshare practise`: one practice session, in the window or in the terminal."""

from __future__ import annotations

import argparse
import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.cleared import add_cleared_option, check_cleared
from weightshare.cli.diary import add_diary_options
from weightshare.cli.keeper import add_store_options
from weightshare.cli.option import add_command, add_measure_options, make_settings

if TYPE_CHECKING:
    from collections.abc import Callable

    from weightshare.model import Side
    from weightshare.practice.option import PractiseOptions
    from weightshare.programme.prescription import Prescription
    from weightshare.task import Goal, Settings

_EXAMPLE = """\
weightshare practise --source serial:/dev/ttyACM0 --injured left --target 75 --headless --seconds 60
  weightshare practise --injured left --stage lowering --target 75 --tempo 1-1-3-1 --sets 3 --repetitions 10
  weightshare practise --source serial:/dev/ttyACM0 --source serial:/dev/ttyACM1 --injured left --target 75
  weightshare practise --injured left --programme achilles --stage lowering-75"""

SIDES = ("left,right", "right,left")
"""The feet of the first and the second source."""


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `practise` to the top parser."""
    parser = add_command(subparsers, "practise", "one practice session, in the window or in the terminal", _EXAMPLE)
    parser.add_argument(
        "--source",
        action="append",
        metavar="SOURCE",
        help="rig: (default), tcp://HOST:PORT, serial:PORT[@BAUD], ble:ADDRESS, lsl:NAME or file:PATH; "
        "given twice: two separate scales, one under each foot",
    )
    parser.add_argument(
        "--sides",
        choices=SIDES,
        metavar="|".join(SIDES),
        help="the feet that the first and the second source are under (default: as the scales say, else left first)",
    )
    parser.add_argument(
        "--calibration",
        action="append",
        type=Path,
        metavar="FILE",
        help="the scale's calibration (default: by its id); with two scales once for each, in any order",
    )
    parser.add_argument(
        "--programme", metavar="NAME|FILE", help="a ready-made programme, or a file; --stage names one of its stages"
    )
    add_measure_options(parser)
    _add_goal_options(parser)
    add_diary_options(parser)
    parser.add_argument(
        "--pain-next-morning", type=int, metavar="N", help="pain on the morning after the last session, of 10"
    )
    parser.add_argument("--seconds", type=float, metavar="N", help="stop after so much sample time")
    add_cleared_option(parser)
    parser.add_argument("--headless", action="store_true", help="in the terminal, without a window")
    parser.add_argument(
        "--settled", action="store_true", help="store-bought Bluetooth scales: settled readings, one by one"
    )
    place = parser.add_mutually_exclusive_group()
    place.add_argument("--save", type=Path, metavar="DIR", help="make the session's folder in DIR")
    place.add_argument("--no-save", action="store_true", help="keep nothing of the session")
    parser.add_argument("--patient", metavar="CODE", help="a patient of the store: the session is kept with them")
    add_store_options(parser)
    parser.add_argument("--json", action="store_true", help="print the analysis as one JSON object at the end")
    parser.set_defaults(run=run)


def _add_goal_options(parser: argparse.ArgumentParser) -> None:
    group = parser.add_argument_group("how much of it")
    group.add_argument("--hold-goal", type=float, metavar="SECONDS", help="a hold's goal (default 30)")
    group.add_argument("--holds", type=int, metavar="N", help="how many holds are asked for (default 3)")
    group.add_argument("--sets", type=int, metavar="N", help="how many sets of repetitions (default 3)")
    group.add_argument("--repetitions", type=int, metavar="N", help="how many in each (default 10)")
    group.add_argument("--rest", type=float, metavar="SECONDS", help="rest between two sets (default 60)")
    group.add_argument(
        "--blind-sets", metavar="NUMBERS", help="sets without corridor, figures and sound: their numbers, as in 2,3"
    )
    group.add_argument(
        "--to-exhaustion", action="store_true", default=None, help="a set goes on until a stopping rule is met"
    )


def run(args: argparse.Namespace) -> int:
    """Run the session; return the exit status."""
    if args.patient is None:
        return _practise(args)
    from weightshare.cli.practise_patient import practise_with_patient

    return practise_with_patient(args, _practise)


def _practise(args: argparse.Namespace) -> int:
    options = make_options(args)
    prescription = options.prescription
    check_cleared(args, options)
    if prescription is not None:
        print(_say_prescribed(prescription), file=sys.stderr)
    elif args.target is None and options.settings.target_percent is not None:
        print(_say_target(options.settings), file=sys.stderr)
    if args.headless:
        return _run_headless(options, args)
    from weightshare.cli.morning import check_window
    from weightshare.window.app import open_window

    check_window(args)
    return open_window(options, settled=args.settled, patients=args.store)


def _run_headless(options: PractiseOptions, args: argparse.Namespace) -> int:
    """Practise in the terminal; where the scale turns out to be a store-bought one, show its settled readings."""
    from weightshare.errors import DeviceError
    from weightshare.scales.air.settled import is_settled_only

    if not args.settled:
        from weightshare.cli.headless import practise_headless
        from weightshare.cli.morning import begin_diary

        said = begin_diary(args, options)
        try:
            return practise_headless(options, as_json=args.json, said=said)
        except DeviceError as error:
            if not is_settled_only(str(error)):
                raise
    from weightshare.cli.settled import practise_settled

    return practise_settled(options, as_json=args.json)


def make_options(args: argparse.Namespace) -> PractiseOptions:
    """Return the session's options. Raises OptionError where one is missing or cannot be."""
    from weightshare.errors import OptionError
    from weightshare.model import Side
    from weightshare.practice.option import PractiseOptions
    from weightshare.records.pair import footwear_of
    from weightshare.scales.source import DEFAULT_SOURCE
    from weightshare.task import Goal

    if args.json and not args.headless:
        raise OptionError("--json goes with --headless: the window shows its own summary")
    sources = tuple(args.source or [DEFAULT_SOURCE])
    virtual = all(source.startswith("rig:") for source in sources)
    side, prescription, programme = Side.LEFT if virtual else None, None, ""
    if args.programme is None:
        settings = _aim(make_settings(args, default_side=side))
        goal = _make_goal(args, settings, Goal())
    else:
        from weightshare.cli.prescribed import find_prescribed

        found = find_prescribed(args, side, _make_goal)
        settings, goal, prescription, programme = found.settings, found.goal, found.prescription, found.place
    options = PractiseOptions(
        settings=settings,
        goal=goal,
        sources=sources,
        calibrations=tuple(args.calibration or ()),
        seconds=args.seconds,
        save=args.save,
        record=not args.no_save,
        unattended=args.headless,
        sides=_read_sides(args.sides),
        prescription=prescription,
        place=programme,
        cleared=args.cleared,
        footwear=footwear_of(sources),
    )
    met_before: Callable[[PractiseOptions], PractiseOptions] | None = getattr(args, "met_before", None)
    return options if met_before is None else met_before(options)


def _read_sides(word: str | None) -> tuple[Side, Side] | None:
    """Return the feet of two sources; None where the scales are to say."""
    from weightshare.model import Side

    return None if word is None else (Side.LEFT, Side.RIGHT) if word == SIDES[0] else (Side.RIGHT, Side.LEFT)


def _aim(settings: Settings) -> Settings:
    """Return `settings` with the stage that is practised, and a target where the stage has a usual one."""
    from weightshare.exercise import Exercise
    from weightshare.practice.option import usual_percent
    from weightshare.task import check_together

    exercise, target = settings.exercise or Exercise.HOLD, settings.target_percent
    if target is None and settings.load is None:
        target = usual_percent(exercise, injured_works=settings.working_side is settings.injured)
    return check_together(replace(settings, exercise=exercise, target_percent=target))


def _say_target(settings: Settings) -> str:
    return (
        f"no --target was given: {settings.exercise} is held against {settings.target_percent:g} % "
        f"on the {settings.injured} side"
    )


def _say_prescribed(prescription: Prescription) -> str:
    stage = prescription.stage
    head = f"{prescription.programme}, version {prescription.version}: {stage.name}"
    return "\n".join(
        [head, *([stage.note] if stage.note else []), *(f"by hand: {one}" for one in prescription.changed)]
    )


def _make_goal(args: argparse.Namespace, settings: Settings, base: Goal) -> Goal:
    """Return how much is asked for, `base` where no option was given.

    Raises OptionError where an option belongs to another kind of stage.
    """
    from weightshare.errors import OptionError
    from weightshare.model import Side

    of_holds = {"hold_goal": "hold_s", "holds": "holds"}
    of_sets = {"sets": "sets", "repetitions": "repetitions", "rest": "rest_s", "to_exhaustion": "to_exhaustion"}
    for option in (*of_holds,) if settings.is_repeated else (*of_sets, "blind_sets"):
        if getattr(args, option) is not None:
            kind = "that is held" if settings.is_repeated else "of repetitions"
            raise OptionError(f"--{option.replace('_', '-')} goes with a stage {kind}: {settings.exercise} is none")
    if args.to_exhaustion and args.repetitions is not None:
        raise OptionError("--repetitions does not go with --to-exhaustion: how many can be done is what is asked")
    if args.to_exhaustion and settings.working is not None:
        raise OptionError("--working does not go with --to-exhaustion: the legs take turns, to be compared")
    if args.to_exhaustion and settings.is_single and settings.one_sided:
        raise OptionError("--one-sided does not go with --to-exhaustion on one leg: it is for the injured one alone")
    names = of_holds | of_sets
    given = {names[option]: value for option, value in vars(args).items() if option in names and value is not None}
    if args.to_exhaustion and settings.is_single:
        given = {"sets": len(Side), **given}
    goal = replace(base, **given)
    if args.blind_sets is None:
        return replace(goal, blind_sets=tuple(number for number in base.blind_sets if number <= goal.sets))
    return replace(goal, blind_sets=_read_numbers(args.blind_sets, goal.sets))


def _read_numbers(words: str, sets: int) -> tuple[int, ...]:
    """Return the numbers of the sets that `words` names. Raises OptionError where there is no such set."""
    from weightshare.errors import OptionError

    parts = [part.strip() for part in words.split(",")]
    if not all(part.isdecimal() for part in parts):
        raise OptionError(f"--blind-sets {words}: give the numbers of the sets, as in 2,3")
    numbers = tuple(sorted({int(part) for part in parts}))
    if not 1 <= numbers[0] <= numbers[-1] <= sets:
        raise OptionError(f"--blind-sets {words} is out of range: there are {sets} sets, numbered from 1")
    return numbers
