"""The table of a session's repetitions: of few phase by phase, of many what matters most, in two halves."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from itertools import zip_longest

from weightshare.exercise import Basis, Repetition
from weightshare.model import STANDARD_GRAVITY
from weightshare.pipeline.result import Analysis
from weightshare.records.appraisal import Appraisal, RepetitionDoubt
from weightshare.report.digit import UNKNOWN, fixed, rounded_up
from weightshare.report.document import Section, Table
from weightshare.report.sheet import said, with_doubt

BASES = {
    Basis.HEIGHT: "the heel's height",
    Basis.FORCE: "the forces alone: no height is certified",
    Basis.PACED: "the metronome: its phases are what counts, not what the heels did",
}
MOST_WHOLE = 16
"""Up to so many repetitions have all of their figures; of more the table would take a page by itself."""
MOSTLY_PERCENT = 50.0
"""A lowering of which less was in the band is marked."""
_MOST_NOT_COUNTED = 12
THIRDS = "down by thirds %"
_COLUMNS = (
    ("no", 17.0, 14.0), ("set", 20.0, 0.0), ("start s", 33.0, 0.0), ("up s", 22.0, 19.0), ("top s", 23.0, 21.0),
    ("down s", 28.0, 26.0), ("up %", 58.0, 23.0), ("top %", 58.0, 0.0), ("down %", 58.0, 26.0),
    (THIRDS, 52.0, 43.0), ("band %", 34.0, 27.0), ("least kg", 32.0, 0.0), ("heels mm", 38.0, 29.0),
    ("", 16.0, 9.0),
)  # fmt: skip
"""Heads, with the width of each, in points: where all figures stand, and where the most telling do (0: left out)."""


def repetition_section(appraisal: Appraisal) -> Section | None:
    """Return the repetitions phase by phase, and what was not counted; None where none were looked for."""
    analysis = appraisal.analysis
    is_asked = analysis.exercise is not None and analysis.exercise.is_repeated
    if not (is_asked or analysis.repetitions):
        return None
    is_whole = len(analysis.repetitions) <= MOST_WHOLE
    rows = tuple(_rows(appraisal, is_whole=is_whole))
    # on one leg it carries all, in each third too
    left_out = {THIRDS} if analysis.exercise is not None and analysis.exercise.is_single and not is_whole else set()
    basis = "" if analysis.basis is None else f" They rest on {BASES[analysis.basis]}."
    count = f"{len(rows)} counted." if rows else "None counted."
    table = _table(rows, left_out, is_whole=is_whole) if rows else None
    notes = () if table is None else (_explain(table.heads, rows, appraisal),)
    return Section("Repetitions", (count + basis,), tuple(_not_counted(analysis)), table, notes=notes)


def _table(rows: Sequence[tuple[str, ...]], left_out: Container[str], *, is_whole: bool) -> Table:
    places = {
        place: whole if is_whole else brief
        for place, (head, whole, brief) in enumerate(_COLUMNS)
        if head not in left_out and (is_whole or brief)
    }
    heads = tuple(_COLUMNS[place][0] for place in places)
    told = tuple(tuple(row[place] for place in places) for row in rows)
    every = sum(places.values())
    return Table(heads, told, tuple(wide / every for wide in places.values()), 0, dense=True, halves=not is_whole)


def _rows(appraisal: Appraisal, *, is_whole: bool) -> Iterator[tuple[str, ...]]:
    analysis = appraisal.analysis
    sets = {place: str(one.number) for one in analysis.sets for place in one.repetitions}
    # beside many of them stands the greatest of what they leave in doubt
    doubts = () if appraisal.doubt is None or not is_whole else appraisal.doubt.repetitions
    pairs = zip_longest(analysis.repetitions, doubts[: len(analysis.repetitions)])
    for place, (one, doubt) in enumerate(pairs):
        if one is not None:
            yield _row(analysis.numbers[place], sets.get(place, ""), one, doubt)


def _row(number: int, of_set: str, one: Repetition, doubt: RepetitionDoubt | None) -> tuple[str, ...]:
    rise, top, down = _doubts_of(doubt)
    least_kg = None if one.lowering_least_N is None else one.lowering_least_N / STANDARD_GRAVITY
    heights = one.height_injured_mm, one.height_uninjured_mm
    return (
        str(number),
        of_set,
        said(one.start_s),
        said(one.rise_duration_s),
        said(one.top_duration_s),
        said(one.lowering_duration_s),
        with_doubt(one.share_rise_percent, rise),
        with_doubt(one.share_top_percent, top),
        with_doubt(one.share_lowering_percent, down),
        "/".join(said(part, 0) for part in one.share_lowering_thirds_percent or (None,) * 3),
        said(one.lowering_in_band_percent, 0),
        said(least_kg),
        UNKNOWN if heights == (None, None) else "/".join(said(height, 0) for height in heights),
        _marks(one),
    )


def _doubts_of(doubt: RepetitionDoubt | None) -> tuple[float | None, float | None, float | None]:
    """Return what the shares of a repetition leave in doubt, in points: on the way up, at the top, on the way down."""
    if doubt is None:
        return None, None, None
    return doubt.share_rise_points, doubt.share_top_points, doubt.share_lowering_points


_ELSEWHERE = "Start, share at the top and least load of each: in its export, and where it is looked back at."
_MARKS = {
    "o": f"less than {MOSTLY_PERCENT:.0f} % of the way down was in the band",
    "s": "part of the weight was elsewhere",
    "i": "went up again before the heel was down",
}


def _marks(one: Repetition) -> str:
    part = one.lowering_in_band_percent
    is_out = part is not None and part < MOSTLY_PERCENT
    return "".join(["o" * is_out, "s" * bool(one.supported), "i" * one.incomplete_return])


def _explain(heads: Sequence[str], rows: Sequence[tuple[str, ...]], appraisal: Appraisal) -> str:
    """Return what the heads mean, and how well the shares are known."""
    is_whole = len(heads) == len(_COLUMNS)
    thirds = "; thirds of the way down from the top" if THIRDS in heads else ""
    least = "; least: the least load on the injured side in the lowering" if is_whole else ""
    words = (
        "Up, top, down: seconds of each phase, then the injured side's share of the impulse in it"
        f"{thirds}; band: how much of the way down was in it{least}; heels: the injured one's height first."
    )
    there = {letter for row in rows for letter in row[-1]}
    marks = (f"{letter}: {meaning}." for letter, meaning in _MARKS.items() if letter in there)
    known = "\u00b1: expanded uncertainty of the instrument, k = 2." if is_whole else _greatest(appraisal)
    rest = (
        ""
        if is_whole
        else "Start, share at the top and least load of each: in its export, and where it is looked back at."
    )
    return " ".join(filter(None, (words, known, *marks, rest)))


def _greatest(appraisal: Appraisal) -> str:
    """Return in words the most that any of the shares leaves in doubt; empty where that is not known."""
    doubts = () if appraisal.doubt is None else appraisal.doubt.repetitions
    known = [points for one in doubts for points in _doubts_of(one) if points is not None]
    if not known:
        return ""
    most = fixed(rounded_up(max(known), 2), 2)
    return f"Shares: \u00b1 {most} points at most (expanded uncertainty of the instrument, k = 2)."


def _not_counted(analysis: Analysis) -> Iterator[str]:
    shown = analysis.rejected[:_MOST_NOT_COUNTED]
    yield from (f"not counted, {fixed(one.start_s, 1)} to {fixed(one.end_s, 1)} s: {one.reason}" for one in shown)
    left = len(analysis.rejected) - len(shown)
    if left:
        yield f"not counted: {left} more"
