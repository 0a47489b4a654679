"""Options that several commands share, and the settings made of them."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from weightshare.exercise import Exercise
    from weightshare.model import Side
    from weightshare.task import Settings

STAGES = ("hold", "heel-hold", "raise", "lowering", "single-lowering", "single-raise", "squat", "sit-to-stand")
"""The names of exercises, kept here too so that --help need not load what knows them."""
BASES = ("height", "force", "paced")


def add_command(
    subparsers: argparse._SubParsersAction[argparse.ArgumentParser], name: str, summary: str, example: str
) -> argparse.ArgumentParser:
    """Add a command with its one-line summary and its example; return its parser."""
    return subparsers.add_parser(
        name,
        help=summary,
        description=summary[0].upper() + summary[1:] + ".",
        epilog=f"example:\n  {example}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )


def add_measure_options(parser: argparse.ArgumentParser) -> None:
    """Add the options that say what is measured against: side, band, grace, filter, body weight; the exercise."""
    parser.add_argument("--injured", choices=("left", "right"), help="the injured side")
    parser.add_argument("--target", type=float, metavar="PERCENT", help="the injured side's share asked for")
    parser.add_argument("--tolerance", type=float, metavar="POINTS", help="half width of the band (default 5)")
    parser.add_argument("--one-sided", action="store_true", default=None, help="the band has no upper edge")
    parser.add_argument(
        "--grace", type=float, metavar="S", help="how long share may be outside in a hold (default 1.0)"
    )
    parser.add_argument("--filter", type=_cutoff, metavar="HZ", help="cut-off of the live filter, or none (default 6)")
    parser.add_argument("--body-weight-N", type=float, metavar="N", help="body weight where it is known")
    parser.add_argument("--added-weight-N", type=float, metavar="N", help="weight carried: a pack, a vest (default 0)")
    parser.add_argument(
        "--stand", type=float, metavar="S", help="the warm-up stand on both feet (default: the 3 s of weighing)"
    )
    _add_exercise_options(parser)


def _add_exercise_options(parser: argparse.ArgumentParser) -> None:
    group = parser.add_argument_group("the exercise")
    group.add_argument("--stage", metavar="NAME", help=f"what is done: {', '.join(STAGES)}; or a programme's stage")
    group.add_argument(
        "--tempo", metavar="UP-TOP-DOWN[-PAUSE]", help="seconds of each phase, as in 1-1-3-1 (default: one's own)"
    )
    group.add_argument("--surface", choices=("floor", "step"), help="what the heels are over (default floor)")
    group.add_argument("--basis", choices=BASES, help="what repetitions rest on (default: the best that is measured)")
    group.add_argument(
        "--reference-height-mm", type=float, metavar="MM", help="a full raise; under half of it none counts"
    )
    group.add_argument(
        "--working", choices=("left", "right"), help="the leg that works in single-leg work (default: the injured one)"
    )
    group.add_argument(
        "--load", metavar="LOAD", help="supported work: the load on the injured side, 20kg or 25%% of body weight"
    )
    group.add_argument("--load-tolerance-kg", type=float, metavar="KG", help="how far it may be from that (default 5)")
    group.add_argument("--ceiling", metavar="LIMIT", help="most load on the injured side: 20kg, or 25%% of body weight")


def _cutoff(word: str) -> float | str:
    try:
        return word if word == "none" else float(word)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{word!r} is neither a number of Hz nor none") from None


def given_measures(args: argparse.Namespace, *, stage: bool = True) -> dict[str, Any]:
    """Return the settings that were given as options, by their names in Settings; without `stage` not the exercise.

    Raises OptionError.
    """
    return {
        name: read(getattr(args, option))
        for option, (name, read) in _readers().items()
        if getattr(args, option) is not None and (stage or option != "stage")
    }


def option_of(name: str) -> str:
    """Return the option that gives the setting `name`, without its dashes."""
    return {field: option.replace("_", "-") for option, (field, _) in _readers().items()}.get(name, name)


def _readers() -> dict[str, tuple[str, Callable[[Any], object]]]:
    """Return for each option the setting that it gives, and what makes its value."""
    from weightshare.exercise import Basis, Surface, parse_ceiling, parse_load, parse_tempo
    from weightshare.model import STANDARD_GRAVITY, Side

    return {
        "injured": ("injured", Side),
        "target": ("target_percent", float),
        "tolerance": ("tolerance_percent", float),
        "one_sided": ("one_sided", bool),
        "grace": ("grace_s", float),
        "filter": ("filter_Hz", lambda value: None if value == "none" else value),
        "body_weight_N": ("body_weight_N", float),
        "added_weight_N": ("added_weight_N", float),
        "stand": ("stand_s", float),
        "stage": ("exercise", _read_exercise),
        "tempo": ("tempo", parse_tempo),
        "surface": ("surface", Surface),
        "basis": ("basis", Basis),
        "reference_height_mm": ("reference_height_mm", float),
        "working": ("working", Side),
        "ceiling": ("ceiling", parse_ceiling),
        "load": ("load", parse_load),
        "load_tolerance_kg": ("load_tolerance_N", lambda kg: kg * STANDARD_GRAVITY),
    }


def _read_exercise(name: str) -> Exercise:
    from weightshare.errors import OptionError
    from weightshare.exercise import Exercise

    if name not in STAGES:
        raise OptionError(f"--stage {name}: choose one of {', '.join(STAGES)}, or a stage of a --programme")
    return Exercise(name)


def make_settings(args: argparse.Namespace, default_side: Side | None = None) -> Settings:
    """Return the settings of the options. Raises OptionError where one is missing or out of its range."""
    from weightshare.errors import OptionError
    from weightshare.task import Settings, check_together

    given = given_measures(args)
    if "injured" not in given:
        if default_side is None:
            raise OptionError("--injured is missing: say left or right")
        given["injured"] = default_side
    return check_together(Settings(**given))
