"""What the scale in use is worth, and with it the newest figures: for the clinician, in words."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date

from weightshare.metrology.build import say_assumed
from weightshare.metrology.share import APART, UNEVEN, LoadDoubt, ShareDoubt, live_bandwidth_Hz, share_doubt
from weightshare.model import STANDARD_GRAVITY, Calibration, Side, Worth
from weightshare.practice.words import load_kg
from weightshare.scales.lab.calibration import is_laboratory
from weightshare.state import Snapshot
from weightshare.tongue import mark, number, say

ZERO_NOT_TAKEN = mark("the zero was not taken, so what the figures are worth is not known")
SEPARATOR = "  \u00b7  "


@dataclass(frozen=True, slots=True)
class Gauge:
    """The scale's calibration, what its forces are worth by it, and its rate; `expired`: it is overdue today.

    `uneven`: the two plates were found not to read alike, which its calibration knows nothing of.
    """

    calibration: Calibration
    worth: Worth
    rate_Hz: float
    expired: bool = False
    uneven: bool = False


def is_expired(calibration: Calibration, today: date) -> bool:
    """Return whether `calibration` was valid until a day before `today`."""
    return calibration.valid_until is not None and calibration.valid_until < today


def doubt_now(gauge: Gauge | None, snapshot: Snapshot, cutoff_Hz: float | None) -> ShareDoubt | None:
    """Return what the newest share is worth, behind the live filter; None where there is none, or it cannot be told."""
    left_N, right_N = snapshot.left_N, snapshot.right_N
    if gauge is None or not snapshot.zero_taken or snapshot.share_percent is None or left_N is None or right_N is None:
        return None
    if gauge.uneven or {one.side for one in gauge.worth.sides} != set(Side) or snapshot.clock_points is None:
        return None
    bandwidth_Hz = live_bandwidth_Hz(cutoff_Hz, gauge.rate_Hz)
    return share_doubt(gauge.worth, left_N, right_N, bandwidth_Hz, clock_points=snapshot.clock_points)


def tenths(value: float) -> str:
    """Return an expanded uncertainty with one decimal, rounded up: it is never said to be smaller than it is."""
    return number(max(1, math.ceil(value * 10.0 - 1e-9)) / 10.0, ".1f")


def evidence_lines(gauge: Gauge | None, snapshot: Snapshot, doubt: ShareDoubt | None, share: str) -> tuple[str, ...]:
    """Return both loads and the `share` (as text) with what they are worth (k = 2), and how the calibration stands."""
    if gauge is None:
        return ()
    if snapshot.zero_taken is False:
        return say(ZERO_NOT_TAKEN), calibration_words(gauge)
    if gauge.uneven:
        return UNEVEN, calibration_words(gauge)
    if share and snapshot.clock_points is None:
        return APART, calibration_words(gauge)
    if doubt is None or not share:
        return ("", calibration_words(gauge))
    loads = [f"{say(load.side)} {_load_words(load)}" for load in (doubt.left, doubt.right)]
    figures = (*loads, say("share {share} \u00b1 {doubt} %", share=share, doubt=tenths(doubt.expanded_points)), "k = 2")
    return SEPARATOR.join(figures), calibration_words(gauge)


def _load_words(load: LoadDoubt) -> str:
    u_kg = load.expanded_N / STANDARD_GRAVITY
    return f"{load_kg(load.force_N).removesuffix(' kg')} \u00b1 {tenths(u_kg)} kg"


def calibration_words(gauge: Gauge) -> str:
    """Return how the calibration stands, and which of what the figures are worth was not measured on this scale."""
    one, assumed = gauge.calibration, gauge.worth.assumed
    if is_laboratory(one.device_id):
        return say("the calibration is the laboratory's own; what the figures are worth is not known here")
    said = [say("calibrated {made_on}", made_on=one.made_on)]
    if one.valid_until is not None:
        words = mark("expired {day}") if gauge.expired else mark("valid until {day}")
        said.append(say(words, day=one.valid_until))
    if assumed:
        said.append(say("assumed, not measured: {assumed}", assumed=say_assumed(assumed)))
    elif not gauge.uneven:
        said.append(say("what it is worth was measured on this scale"))
    return "; ".join(said)
