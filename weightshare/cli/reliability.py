"""`weightshare reliability`: how well repeated measurements of several people agree."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.metrology.reliability import Agreement, Interval, Reliability
    from weightshare.records.score import Scores

SCHEMA = "weightshare.reliability/1"
_EXAMPLE = "weightshare reliability scores.csv"
_NOTE = """\
Differences between two measurements of one person that are smaller than the minimal detectable change are no change.
An ICC belongs to the people it was found in: among people who are all alike it is low, however good the measuring."""


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `reliability` to the top parser."""
    summary = "ICC, SEM, MDC and limits of agreement of repeated measurements"
    parser = add_command(subparsers, "reliability", summary, _EXAMPLE)
    parser.add_argument(
        "scores",
        type=Path,
        metavar="SCORES.csv",
        help="a row is a person, a column a measurement; the first line names them",
    )
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print what the table tells; return 0."""
    from weightshare.metrology.reliability import reliability
    from weightshare.records.score import read_scores

    scores = read_scores(args.scores)
    found = reliability(scores.values)
    print(json.dumps(to_json(found, scores), allow_nan=False) if args.json else _table(found, scores))
    return 0


def to_json(found: Reliability, scores: Scores) -> dict[str, Any]:
    """Return it as plain values of schema weightshare.reliability/1; what cannot be had is null."""
    squares, sem = found.squares, found.sem
    return {
        "schema": SCHEMA,
        "people": squares.people,
        "measurements": list(scores.names),
        "rows_left_out": scores.left_out,
        **{name: _interval(getattr(found, name)) for name in ("icc_1_1", "icc_a_1", "icc_c_1")},
        "sem": sem.value,
        "sem_interval": {"low": sem.low, "high": sem.high},
        "mdc95": found.mdc95,
        "ms_rows": squares.rows,
        "ms_columns": squares.between_columns,
        "ms_error": squares.error,
        "ms_within": squares.within,
        "limits_of_agreement": [_agreement(one, scores.names) for one in found.agreement],
        "warnings": _warnings(found, scores),
    }


def _interval(one: Interval) -> dict[str, float | None]:
    return {"value": one.value, "low": one.low, "high": one.high}


def _agreement(one: Agreement, names: tuple[str, ...]) -> dict[str, Any]:
    return {
        "first": names[one.first],
        "second": names[one.second],
        "mean_difference": _interval(one.mean),
        "sd": one.sd,
        "lower": _interval(one.lower),
        "upper": _interval(one.upper),
    }


def _warnings(found: Reliability, scores: Scores) -> list[str]:
    rows = f"{scores.left_out} row{'s' if scores.left_out > 1 else ''}"
    missing = f"{rows} left out: a score was missing, and only complete rows are taken" if scores.left_out else ""
    label = "" if scores.label is None else f"the column {scores.label} says who it is, and is no score"
    return [words for words in (missing, label, *found.warnings) if words]


def _table(found: Reliability, scores: Scores) -> str:
    squares = found.squares
    rows = [
        ("people, measurements", f"{squares.people}, {squares.columns}"),
        ("ICC(1,1), one-way", _say(found.icc_1_1, 3)),
        ("ICC(A,1), absolute agreement", _say(found.icc_a_1, 3)),
        ("ICC(C,1), consistency", _say(found.icc_c_1, 3)),
        ("standard error (SEM)", _say(found.sem)),
        ("minimal detectable change", f"{found.mdc95:.4g}   1.96 x sqrt(2) x SEM"),
        (
            "mean squares",
            f"people {squares.rows:.5g}, columns {squares.between_columns:.5g}, error {squares.error:.5g}",
        ),
    ]
    lines = [f"{name:30}{words}" for name, words in rows]
    lines += ["", "limits of agreement", *(_say_agreement(one, scores.names) for one in found.agreement), ""]
    return "\n".join([*lines, *(f"note: {words}" for words in _warnings(found, scores)), _NOTE])


def _say(one: Interval, decimals: int | None = None) -> str:
    def short(value: float | None) -> str:
        if value is None:
            return "not known"
        return f"{value:.4g}" if decimals is None else f"{value:.{decimals}f}"

    return (
        f"{short(one.value)}   95 % from {short(one.low)} to {short(one.high)}"
        if one.low is not None
        else short(one.value)
    )


def _say_agreement(one: Agreement, names: tuple[str, ...]) -> str:
    pair = f"{names[one.first]} - {names[one.second]}"
    return f"  {pair:28}{one.lower.value:.4g} to {one.upper.value:.4g}   mean {one.mean.value:.4g}, SD {one.sd:.4g}"
