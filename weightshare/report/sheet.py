"""The tables of a session's report: holds, repetitions phase by phase, sets, and how the two sides compare."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import zip_longest

from weightshare.exercise import Basis, Repetition
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.index import Index
from weightshare.model import STANDARD_GRAVITY
from weightshare.pipeline.fatigue import Fatigue
from weightshare.pipeline.result import Analysis
from weightshare.records.appraisal import Appraisal, RepetitionDoubt
from weightshare.report.digit import UNKNOWN, fixed, plus_minus, rounded_up
from weightshare.report.document import Section, Table

BASES = {
    Basis.HEIGHT: "the heel's height",
    Basis.FORCE: "the forces alone: no height is certified",
    Basis.PACED: "the metronome: its phases are what counts, not what the heels did",
}
_UNCERTAIN = "\u00b1: expanded uncertainty of the instrument, k = 2."
_MOST_NOT_COUNTED = 12


def said(value: float | None, decimals: int = 1) -> str:
    """Return a figure with so many decimals; a dash where it is not known."""
    return UNKNOWN if value is None else fixed(value, decimals)


def with_doubt(value: float | None, expanded: float | None) -> str:
    """Return a share with its expanded uncertainty, both with one decimal or two: as many as that is worth.

    The uncertainty is rounded up: it is never told as smaller than it is.
    """
    if value is None:
        return UNKNOWN
    if expanded is None or not math.isfinite(expanded):
        return fixed(value, 1)
    decimals = 2 if expanded < 0.1 else 1
    return f"{fixed(value, decimals)}\u00a0\u00b1\u00a0{fixed(rounded_up(expanded, decimals), decimals)}"


def hold_section(appraisal: Appraisal) -> Section | None:
    """Return the holds; None where none were looked for."""
    analysis, doubt = appraisal.analysis, appraisal.doubt
    if analysis.holds is None:
        return None
    heads = ("hold", "from, s", "to, s", "held, s", "\u00b1, points", "remark")
    doubts: tuple[float | None, ...] = (None,) * len(analysis.holds) if doubt is None else doubt.holds
    rows = tuple(
        (
            str(number),
            fixed(one.start_s, 2),
            fixed(one.end_s, 2),
            fixed(one.held_s, 1),
            _up(half),
            _remark(one.supported),
        )
        for number, (one, half) in enumerate(zip_longest(analysis.holds, doubts[: len(analysis.holds)]), 1)
        if one is not None
    )
    words = (
        f"{len(rows)} listed; held {said(analysis.total_held_s)} s in all,"
        f" the longest {said(analysis.longest_hold_s)} s.",
    )
    notes = (
        "Time outside the band and gaps are not counted as held. \u00b1: of the share at the band's middle, k = 2.",
    )
    if not rows:
        return Section("Holds", ("None of 1 s or more.",))
    return Section("Holds", words, table=Table(heads, rows, (0.1, 0.15, 0.15, 0.15, 0.15, 0.3), 1), notes=notes)


def _up(points: float | None) -> str:
    return UNKNOWN if points is None else fixed(rounded_up(points, 2), 2)


def _remark(supported: bool | None) -> str:
    if supported is None:
        return "body weight not known"
    return "part of the weight elsewhere" if supported else ""


_HEADS = (
    "no", "set", "start, s", "up, s", "top, s", "down, s", "up, %", "top, %", "down, %", "down by thirds, %",
    "in band, %", "least, kg", "heels, mm", "",
)  # fmt: skip
_WIDTHS = (0.035, 0.04, 0.07, 0.052, 0.052, 0.06, 0.115, 0.115, 0.115, 0.1, 0.066, 0.06, 0.08, 0.04)


def repetition_section(appraisal: Appraisal) -> Section | None:
    """Return the repetitions phase by phase, and what was not counted; None where none were looked for."""
    analysis = appraisal.analysis
    is_asked = analysis.exercise is not None and analysis.exercise.is_repeated
    if not (is_asked or analysis.repetitions):
        return None
    sets = {place: str(one.number) for one in analysis.sets for place in one.repetitions}
    doubts = () if appraisal.doubt is None else appraisal.doubt.repetitions
    pairs = enumerate(zip_longest(analysis.repetitions, doubts[: len(analysis.repetitions)]))
    rows = tuple(
        _repetition(analysis.numbers[place], sets.get(place, ""), one, doubt)
        for place, (one, doubt) in pairs
        if one is not None
    )
    basis = "" if analysis.basis is None else f" They rest on {BASES[analysis.basis]}."
    count = f"{len(rows)} counted." if rows else "None counted."
    table = Table(_HEADS, rows, _WIDTHS, 0, dense=True) if rows else None
    notes = (_explain(rows),) if rows else ()
    return Section("Repetitions", (count + basis,), tuple(_not_counted(analysis)), table, notes=notes)


def _repetition(number: int, of_set: str, one: Repetition, doubt: RepetitionDoubt | None) -> tuple[str, ...]:
    top, rise, down = (
        (None, None, None)
        if doubt is None
        else (doubt.share_top_points, doubt.share_rise_points, doubt.share_lowering_points)
    )
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
        "".join(["s" * bool(one.supported), "i" * one.incomplete_return]),
    )


def _explain(rows: Sequence[tuple[str, ...]]) -> str:
    marks = {letter for row in rows for letter in row[-1]}
    words = (
        "up, top, down: seconds of each phase, then the injured side's share of the impulse in it; thirds of the way"
        " down from the top; least: the least load on the injured side in the lowering; heels: the injured one's height"
        " first."
    )
    supported = " s: part of the weight was elsewhere." if "s" in marks else ""
    incomplete = " i: went up again before the heel was down." if "i" in marks else ""
    return f"{words} {_UNCERTAIN}{supported}{incomplete}"


def _not_counted(analysis: Analysis) -> Iterator[str]:
    shown = analysis.rejected[:_MOST_NOT_COUNTED]
    yield from (f"not counted, {fixed(one.start_s, 1)} to {fixed(one.end_s, 1)} s: {one.reason}" for one in shown)
    left = len(analysis.rejected) - len(shown)
    if left:
        yield f"not counted: {left} more"


def set_section(analysis: Analysis) -> Section | None:
    """Return the sets, with how far each fell from its first repetitions to its last; None where there were none."""
    if not analysis.sets:
        return None
    heads = ("set", "leg", "count", "down, s", "down, %", "in band, %", "heel, mm", "load \u00d7 travel, J")
    single = analysis.exercise is not None and analysis.exercise.is_single
    rows = tuple(
        (
            f"{one.number}{', blind' if one.blind else ''}",
            str(one.working) if single else "both",
            str(len(one.repetitions)),
            said(one.lowering_duration_s),
            said(one.share_lowering_percent),
            said(one.lowering_in_band_percent, 0),
            said(one.height_mm, 0),
            f"{said(one.load_travel_injured_J, 0)}/{said(one.load_travel_uninjured_J, 0)}",
        )
        for one in analysis.sets
    )
    notes = (
        "Means over the set's repetitions. Load \u00d7 heel travel, the injured side first: mean force in the rise"
        " times the heel's height, which is not joint work.",
    )
    widths = (0.14, 0.12, 0.1, 0.12, 0.12, 0.12, 0.12, 0.16)
    falls = [_say_fatigue(one.number, one.fatigue) for one in analysis.sets if one.fatigue is not None]
    return Section("Sets", table=Table(heads, rows, widths, 2), notes=(*filter(None, (" ".join(falls),)), *notes))


def _say_fatigue(number: int, fatigue: Fatigue) -> str:
    """Return how far height, share and tempo fell over a set."""
    each = fatigue.repetitions_each
    falls = (
        _fall("height", fatigue.height_fall_percent, "%", ("lower", "higher")),
        _fall("share", fatigue.share_fall_points, "points", ("less", "more")),
        _fall("pace", fatigue.tempo_fall_percent, "%", ("slower", "quicker")),
    )
    return f"Set {number}, from its first {each} to its last {each}: {', '.join(filter(None, falls)) or UNKNOWN}."


def _fall(name: str, fall: float | None, unit: str, words: tuple[str, str]) -> str:
    if fall is None:
        return ""
    return f"{name} {fixed(abs(fall), 1)} {unit} {words[fall < 0.0]}".strip()


def symmetry_section(indices: Sequence[Index], *, steered: bool) -> Section | None:
    """Return how the two sides compare. Where the share was steered that is the target's doing, and is not told."""
    told = [one for one in indices if not one.reason]
    reasons = dict.fromkeys(one.reason for one in indices if one.reason)
    said_first = (
        ("The share was steered to a target, so it tells nothing of the person's own symmetry.",) if steered else ()
    )
    if not told:
        rest = tuple(f"No index: {reason}." for reason in reasons if not steered)
        return Section("The two sides", (*said_first, *rest)) if said_first or rest else None
    rows = tuple(
        (
            str(one.kind),
            one.kind.unit,
            *(_estimate(each) for each in (one.injured, one.uninjured, one.limb_symmetry_index, one.symmetry_index)),
        )
        for one in told
    )
    heads = ("measure", "unit", "injured", "other", "limb symmetry index, %", "symmetry index, %")
    table = Table(heads, rows, (0.28, 0.06, 0.16, 0.16, 0.18, 0.16), 2)
    strays = tuple(f"By itself it strays: {words}." for words in dict.fromkeys(one.reliability.words for one in told))
    cautions = dict.fromkeys(f"{words[:1].upper()}{words[1:]}." for one in told for words in one.cautions)
    note = (
        "Limb symmetry index: 100 \u00d7 injured / other. Symmetry index (Robinson and others, 1987): 100 \u00d7 (other"
        " \u2212 injured) / their mean. \u00b1: k = 2."
    )
    return Section("The two sides", said_first, table=table, notes=(note, *strays, *cautions))


def _estimate(one: Estimate | None) -> str:
    return UNKNOWN if one is None else plus_minus(one.value, 2.0 * one.u)
