"""The tables of repetitions and of sets, in the analysis that a person reads."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TypeAlias, TypeVar

from weightshare.exercise import Repetition
from weightshare.pipeline.endurance import Endurance, LegEndurance
from weightshare.pipeline.fatigue import Fatigue
from weightshare.pipeline.result import Analysis
from weightshare.pipeline.sets import SetResult

UNKNOWN = "-"
_Row = TypeVar("_Row")
_Columns: TypeAlias = Sequence[tuple[str, str, int, Callable[[_Row], str]]]
"""Of each column its name, its unit, its width, and what stands in it."""


def repetition_lines(analysis: Analysis) -> list[str]:
    """Return the repetitions as a table of 79 columns, and marks up to 100; no lines where there are none."""
    if not analysis.repetitions:
        return []
    sets = {place: str(one.number) for one in analysis.sets for place in one.repetitions}
    heads = [f"{'':3}{'':4}", f"{'no':>3}{'set' if sets else '':>4}"]
    lines = [head + rest for head, rest in zip(heads, _heads(_RAISES), strict=True)]
    for place, (number, one) in enumerate(zip(analysis.numbers, analysis.repetitions, strict=True)):
        lines.append(f"{number:3}{sets.get(place, ''):>4}{_cells(_RAISES, one)}{_join(_marks_of(one))}")
    return lines


def set_lines(analysis: Analysis) -> list[str]:
    """Return the sets as a table, with a line under each that tells how far it tired; no lines where there are none."""
    if not analysis.sets:
        return []
    lines = _heads(_SETS)
    single = analysis.exercise is not None and analysis.exercise.is_single
    for one in analysis.sets:
        marks = [*([f"{one.working} leg"] if single else []), *(["blind"] if one.blind else [])]
        lines.append(_cells(_SETS, one) + _join(marks))
        lines += [] if one.fatigue is None else [f"{'':12}{_say_fatigue(one.fatigue)}"]
    return lines


def endurance_rows(endurance: Endurance | None) -> list[tuple[str, str]]:
    """Return how many repetitions each leg came to, and how the legs compare; no rows where both did no set."""
    if endurance is None:
        return []
    symmetry = endurance.symmetry
    indices = (
        f"count {_short(symmetry.count_percent)} %",
        f"mean height {_short(symmetry.mean_height_percent)} %",
        f"best height {_short(symmetry.best_height_percent)} %",
        f"load x travel {_short(symmetry.load_travel_percent)} %",
    )
    return [
        ("endurance, injured leg", _say_leg(endurance.injured)),
        ("endurance, other leg", _say_leg(endurance.uninjured)),
        ("limb symmetry of it", ", ".join(indices)),
        *(("", reason) for reason in symmetry.reasons),
    ]


def _say_leg(leg: LegEndurance) -> str:
    words = f"{leg.count} in set {leg.set_number}"
    return words if leg.reason is None else f"{words}, to {_short(leg.stopped_at_s, 2)} s: {leg.reason}"


def _heads(columns: _Columns[_Row]) -> list[str]:
    return ["".join(f"{words[row]:>{words[2]}}" for words in columns) for row in (0, 1)]


def _cells(columns: _Columns[_Row], row: _Row) -> str:
    return "".join(f"{show(row):>{width}}" for _, _, width, show in columns)


def _join(marks: Iterable[str]) -> str:
    words = ",".join(marks)
    return f" {words}" if words else ""


def _marks_of(one: Repetition) -> list[str]:
    marks = {"supported": one.supported, "incomplete": one.incomplete_return}
    return [word for word, is_so in marks.items() if is_so]


def _say_fatigue(fatigue: Fatigue) -> str:
    each = fatigue.repetitions_each
    falls = (
        _say_fall("height", fatigue.height_fall_percent, " %", ("lower", "higher")),
        _say_fall("share", fatigue.share_fall_points, " points", ("less", "more"), 1),
        _say_fall("tempo", fatigue.tempo_fall_percent, " %", ("slower", "quicker")),
    )
    return f"from the first {each} to the last {each}: {', '.join(falls)}"


def _say_fall(name: str, fall: float | None, unit: str, words: tuple[str, str], digits: int = 0) -> str:
    if fall is None:
        return f"{name} not known"
    size = _short(abs(fall), digits)
    return f"{name} the same" if float(size) == 0.0 else f"{name} {size}{unit} {words[fall < 0.0]}"


def _short(value: float | None, digits: int = 0) -> str:
    # a rounded figure has no minus zero
    return UNKNOWN if value is None else f"{round(value, digits) + 0.0:.{digits}f}"


def _pair(first: float | None, second: float | None) -> str:
    return f"{_short(first)}/{_short(second)}"


def _third(one: Repetition, place: int) -> float | None:
    thirds = one.share_lowering_thirds_percent
    return None if thirds is None else thirds[place]


_RAISES: _Columns[Repetition] = (
    ("start", "s", 8, lambda one: _short(one.start_s, 2)),
    ("up", "s", 5, lambda one: _short(one.rise_duration_s, 1)),
    ("top", "s", 5, lambda one: _short(one.top_duration_s, 1)),
    ("down", "s", 5, lambda one: _short(one.lowering_duration_s, 1)),
    ("up", "%", 6, lambda one: _short(one.share_rise_percent, 1)),
    ("top", "%", 6, lambda one: _short(one.share_top_percent, 1)),
    ("down", "%", 6, lambda one: _short(one.share_lowering_percent, 1)),
    ("hi", "%", 4, lambda one: _short(_third(one, 0))),
    ("mid", "%", 4, lambda one: _short(_third(one, 1))),
    ("low", "%", 4, lambda one: _short(_third(one, 2))),
    ("band", "%", 5, lambda one: _short(one.lowering_in_band_percent)),
    ("least", "N", 6, lambda one: _short(one.lowering_least_N)),
    ("heels", "mm", 8, lambda one: _pair(one.height_injured_mm, one.height_uninjured_mm)),
)
_SETS: _Columns[SetResult] = (
    ("set", "", 7, lambda one: str(one.number)),
    ("from", "s", 8, lambda one: _short(one.from_s, 2)),
    ("to", "s", 8, lambda one: _short(one.to_s, 2)),
    ("count", "", 7, lambda one: str(len(one.repetitions))),
    ("down", "s", 6, lambda one: _short(one.lowering_duration_s, 1)),
    ("down", "%", 6, lambda one: _short(one.share_lowering_percent, 1)),
    ("band", "%", 5, lambda one: _short(one.lowering_in_band_percent)),
    ("heel", "mm", 6, lambda one: _short(one.height_mm)),
    ("load x travel", "J", 16, lambda one: _pair(one.load_travel_injured_J, one.load_travel_uninjured_J)),
)
