"""What stands at the end of a clinician's report: what was decided, how the numbers came to be, the cautions."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from weightshare import __version__
from weightshare.metrology.build import say_assumed
from weightshare.practice.words import CAUTIONS
from weightshare.records.correction import Correction, Corrections, Deed
from weightshare.report.account import Account
from weightshare.report.document import Section, Table

if TYPE_CHECKING:
    from weightshare.records.store.ruling import Ruling

METHOD = (
    "Share: load on the injured side as a part of the load on both plates, after a second-order Butterworth low-pass"
    " ({filter}), computed from the raw record with the calibration of that day."
)
OF_HOLDS = " A hold is time in the band, with no more than {grace} s outside at a stretch."
OF_PHASES = (
    " Phases of a repetition are told apart at 10 and 90 % of the heel's height where that is measured; shares of a"
    " phase are shares of the impulse."
)
WORTH = (
    "Uncertainty is that of the instrument after the GUM (JCGM 100:2008), with k = 2. Verdicts are after JCGM 106:2012:"
    " met or not met from a conformance probability of 95 % on, else undecided. Reached in a set is one question, true"
    " of this patient another: that takes several days."
)


def decision_section(rulings: Sequence[Ruling]) -> Section | None:
    """Return the decisions about a patient, each with who signed it; None where there were none."""
    rows = tuple((one.at[:10], one.by, one.what, _stages(one), one.note) for one in rulings)
    heads = ("day", "signed by", "decided", "stages", "note")
    return Section("Decisions", table=Table(heads, rows, (0.1, 0.15, 0.1, 0.25, 0.4), 5)) if rows else None


def _stages(one: Ruling) -> str:
    moves = one.stage_to and one.stage_to != one.stage_from
    return f"{one.stage_from} \u2192 {one.stage_to}" if moves else one.stage_from


def correction_section(corrections: Corrections) -> Section | None:
    """Return what the clinician corrected of a session, each with who signed it; None where nothing was."""
    force = corrections.in_force
    rows = tuple(
        (
            str(number),
            one.at[:16].replace("T", " "),
            one.by,
            one.words.replace("->", "\u2192"),
            one.reason,
            _fate(one, number in force),
        )
        for number, one in enumerate(corrections.entries, 1)
    )
    if not rows:
        return None
    heads = ("no", "when", "signed by", "what", "why", "now")
    notes = ("The recording and the first analysis are kept as they were. The figures here are with what is in force.",)
    table = Table(heads, rows, (0.04, 0.15, 0.15, 0.29, 0.25, 0.12), 6)
    return Section("Corrections by the clinician", table=table, notes=notes)


def _fate(one: Correction, in_force: bool) -> str:
    if one.deed is Deed.UNDO:
        return ""
    return "in force" if in_force else "taken back"


def method_section(account: Account, scales: Sequence[str] = ()) -> Section:
    """Return how a session's numbers came to be, and the cautions.

    scales: what is told of the scales that were used over the weeks; the rest is then as brief as it can be.
    """
    settings = account.replayed.session.settings
    cut = "none" if settings.filter_Hz is None else f"{settings.filter_Hz:g} Hz"
    doubt = account.appraisal.doubt
    assumed = () if doubt is None or not doubt.share.assumed else doubt.share.assumed
    rests = (f"Assumed, not measured on this scale: {say_assumed(assumed)}.",) if assumed else ()
    words = f"{METHOD}{OF_PHASES if settings.is_repeated else OF_HOLDS}".format(
        filter=cut, grace=f"{settings.grace_s:g}"
    )
    if not scales:
        return Section("Method and cautions", (words, WORTH, *rests), CAUTIONS)
    made = f"Made by weightshare {__version__} from the records of the sessions."
    return Section(
        "Scales, method and cautions", (*scales, " ".join(CAUTIONS)), notes=(" ".join((made, words, WORTH, *rests)),)
    )
