"""The tables of a session's report: holds, sets, and how the two sides compare."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import zip_longest

from weightshare.metrology.estimate import Estimate
from weightshare.metrology.index import Index
from weightshare.pipeline.fatigue import Fatigue
from weightshare.pipeline.result import Analysis
from weightshare.records.appraisal import Appraisal
from weightshare.report.digit import UNKNOWN, fixed, plus_minus, rounded_up
from weightshare.report.document import Section, Table


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


def set_section(analysis: Analysis) -> Section | None:
    """Return the sets, with how far each fell from its first repetitions to its last; None where there were none."""
    if not analysis.sets:
        return None
    heads = ("set", "leg", "repetitions", "down, s", "down, %", "in band, %", "heel, mm", "load \u00d7 travel, J")
    single = analysis.exercise is not None and analysis.exercise.is_single
    rows = tuple(
        (
            f"{one.number}{', blind' if one.blind else ''}",
            str(one.working) if single else "both",
            _count(analysis, one.repetitions),
            said(one.lowering_duration_s),
            said(one.share_lowering_percent),
            said(one.lowering_in_band_percent, 0),
            said(one.height_mm, 0),
            f"{said(one.load_travel_injured_J, 0)}/{said(one.load_travel_uninjured_J, 0)}",
        )
        for one in analysis.sets
    )
    notes = (
        "Means over each set. Load \u00d7 travel: mean force in the rise \u00d7 the heel's height, the injured side"
        " first; not joint work.",
    )
    widths = (0.12, 0.12, 0.14, 0.12, 0.12, 0.11, 0.11, 0.16)
    falls = [_say_fatigue(one.number, one.fatigue) for one in analysis.sets if one.fatigue is not None]
    return Section("Sets", table=Table(heads, rows, widths, 2), notes=(*filter(None, (" ".join(falls),)), *notes))


def _count(analysis: Analysis, places: Sequence[int]) -> str:
    """Return how many repetitions a set has, and their numbers."""
    if len(places) < 2:
        return str(len(places))
    return f"{len(places)} ({analysis.numbers[places[0]]}\u2013{analysis.numbers[places[-1]]})"


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
    heads = ("measure", "unit", "injured", "other", "limb symmetry, %", "symmetry index, %")
    table = Table(heads, rows, (0.26, 0.06, 0.16, 0.16, 0.17, 0.19), 2)
    cautions = dict.fromkeys(f"{words[:1].upper()}{words[1:]}." for one in told for words in one.cautions)
    note = (
        "Limb symmetry index: 100 \u00d7 injured / other. Symmetry index (Robinson et al., 1987): 100 \u00d7 (other"
        " \u2212 injured) / mean of both. \u00b1: k = 2."
    )
    notes = (note, f"How far it varies from day to day: {_varies(told)}.", " ".join(cautions))
    return Section("The two sides", said_first, table=table, notes=notes)


def _varies(told: Sequence[Index]) -> str:
    """Return what is known of how far each measure varies; measures of which the same is known together."""
    alike: dict[str, list[str]] = {}
    for one in told:
        alike.setdefault(one.reliability.words, []).append(str(one.kind))
    return "; ".join(f"{', '.join(kinds)}: {words}" for words, kinds in alike.items())


def _estimate(one: Estimate | None) -> str:
    return UNKNOWN if one is None else plus_minus(one.value, 2.0 * one.u)
