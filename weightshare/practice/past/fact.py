"""What has to be known before a saved session is judged: its origin, what it is worth, what is missing of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from weightshare.model import Calibration
from weightshare.practice import words
from weightshare.practice.past.opening import Past
from weightshare.records.manifest import Ending
from weightshare.state import Alignment

ENDINGS = {
    Ending.COMPLETE: "",
    Ending.RECOVERED: "The program was ended in the middle; all of it was made from the raw record afterwards.",
    Ending.CUT_SHORT: "Recording stopped before the session did; what came after is missing.",
}
USUAL = "holds are not listed"
"""Warnings that begin so spoil nothing: it is as it should be."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One line. `is_caution`: something spoils the figures, or is missing."""

    text: str
    is_caution: bool = False


def facts_of(past: Past) -> tuple[Fact, ...]:
    """Return all of them; cautions first."""
    found = [
        *_of_origin(past),
        *(_of_calibration(one, _day(past.head.started_at)) for one in past.calibrations),
        *_of_share(past),
        *_of_clocks(past.digest.alignment),
        *_of_ceiling(past),
        *_of_gaps(past),
        *(Fact(f"{said[:1].upper()}{said[1:]}.", not said.startswith(USUAL)) for said in past.digest.warnings),
    ]
    return tuple(sorted(found, key=lambda fact: not fact.is_caution))


def _of_origin(past: Past) -> list[Fact]:
    said = {words.source_words(source) for source in past.head.sources} - {""}
    found = [Fact(f"{text}.", True) for text in sorted(said)]
    if ENDINGS[past.ending]:
        found.append(Fact(ENDINGS[past.ending], True))
    if past.head.uneven:
        found.append(Fact("The two plates were found not to read alike.", True))
    if past.computed:
        found.append(Fact("Its analysis was of another version, and was made anew from the raw record."))
    return found


def _day(started_at: str) -> date | None:
    try:
        return datetime.fromisoformat(started_at).date()
    except ValueError:
        return None


def _of_calibration(calibration: Calibration, day: date | None) -> Fact:
    until, made = calibration.valid_until, f"calibrated on {calibration.made_on}"
    who = f"Scale {calibration.device_id[-4:]}"
    if until is None:
        return Fact(f"{who}: {made}; until when that holds is not told.")
    if day is not None and day > until:
        return Fact(f"{who}: {made}; that held until {until}, and was out of date in this session.", True)
    return Fact(f"{who}: {made}, which holds until {until}.")


def _of_share(past: Past) -> list[Fact]:
    share, points, exercise = past.digest.share_percent, past.digest.share_doubt_points, past.settings.exercise
    # where another share is asked for on the way down, a mean over both ways tells nothing
    if share is None or (exercise is not None and exercise.turns):
        return []
    worth = "what that is worth is not known" if points is None else f"\u00b1 {points:.2f} points (k = 2)"
    return [Fact(f"Mean share of the {past.settings.injured} side {share:.1f} %, {worth}.")]


def _of_clocks(alignment: Alignment | None) -> list[Fact]:
    if alignment is None:
        return []
    if alignment.doubt_ms is None:
        return [Fact("Two scales; how well their clocks agree is not known.", True)]
    points = alignment.share_doubt_points
    cost = "" if points is None else f": {points:.2f} points of the share"
    restarts = sum(scale.restarts for scale in alignment.scales)
    found = [Fact(f"Two clocks agree to {alignment.doubt_ms:.1f} ms{cost}.")]
    return [*found, Fact(f"A scale started anew {words.times(restarts)}.", True)] if restarts else found


def _of_ceiling(past: Past) -> list[Fact]:
    events, limit = past.digest.ceiling, past.settings.ceiling
    if events is None or limit is None:
        return []
    passed, unread = sum(not one.unread for one in events), sum(one.unread for one in events)
    much = f"{limit.kg:g} kg" if limit.kg is not None else f"{limit.percent:g} % of body weight"
    said = f"The limit of load, {much}, was "
    found = [Fact(f"{said}passed {words.times(passed)}.", True) if passed else Fact(f"{said}not seen to be passed.")]
    return [*found, Fact(f"Under it the load could not be read {words.times(unread)}.", True)] if unread else found


def _of_gaps(past: Past) -> list[Fact]:
    gaps = past.digest.gaps
    if not gaps:
        return []
    missing_s = sum(gap.end_s - gap.start_s for gap in gaps)
    return [
        Fact(f"{len(gaps)} {'gap' if len(gaps) == 1 else 'gaps'} without a reading, {missing_s:.1f} s in all.", True)
    ]
