"""What stands at the end of a clinician's report: what was decided, how the numbers came to be, the cautions."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from weightshare import __version__
from weightshare.metrology.build import say_assumed
from weightshare.practice.words import CAUTIONS
from weightshare.programme.prescription import Prescription
from weightshare.records.correction import Correction, Corrections, Deed
from weightshare.report.account import Account
from weightshare.report.document import Section, Table
from weightshare.report.word import count_of

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
    "Uncertainties are after the GUM (JCGM 100:2008), with k = 2: of shares and loads the instrument's, of mean times"
    " and falls what the repetitions' spread leaves, of heights and load \u00d7 travel both. Verdicts are after JCGM"
    " 106:2012: met or not met from a conformance probability of 95 % on, else undecided. Reached in a set is one"
    " question, true of this patient another: that takes several days."
)


def decision_section(rulings: Sequence[Ruling], names: Mapping[str, str], most: int, later: int = 0) -> Section | None:
    """Return the newest decisions about a patient, each with who signed it; None where there were none.

    names: of stages, by their keys. most: no more are listed. later: so many that came afterwards are left out.
    """
    rows = tuple((one.at[:10], one.signer, one.what, _stages(one, names), one.note) for one in rulings[-most:])
    heads = ("day", "signed by", "decided", "stages", "reason")
    left = len(rulings) - len(rows)
    counts = ((left, "earlier decision"), (later, "later decision"))
    told = " and ".join(count_of(count, what) for count, what in counts if count)
    notes = (f"{told} in the report over the weeks.",) if told else ()
    table = Table(heads, rows, (0.11, 0.105, 0.085, 0.33, 0.37), 5, dense=True)
    return Section("Decisions", table=table, notes=notes) if rows else None


def _stages(one: Ruling, names: Mapping[str, str]) -> str:
    first, then = (names.get(key, key) for key in (one.stage_from, one.stage_to))
    return f"{first} \u2192 {then}" if one.stage_to and one.stage_to != one.stage_from else first


def names_of_stages(rulings: Sequence[Ruling], kept: Iterable[Prescription | None]) -> dict[str, str]:
    """Return what the stages are called, by their keys: those of the sessions, and those that decisions were about."""
    stages = [stage for one in kept if one is not None for stage in (one.before, one.following, one.stage)]
    named = {stage.key: stage.name for stage in stages if stage is not None}
    return dict(filter(None, (_named(one) for one in rulings))) | named


def _named(one: Ruling) -> tuple[str, str] | None:
    """Return key and name of the stage that a decision was about, as its evidence has them; None where it has none."""
    try:
        told = json.loads(one.evidence)
        return str(told["stage"]), str(told["stage_name"])
    except (ValueError, TypeError, KeyError, RecursionError):
        return None


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
    named = [say_assumed(assumed), *(["what a heel's height is worth"] if account.appraisal.heel_assumed else [])]
    told = ", ".join(filter(None, named))
    rests = (f"Assumed, not measured on this scale: {told}.",) if told else ()
    words = f"{METHOD}{OF_PHASES if settings.is_repeated else OF_HOLDS}".format(
        filter=cut, grace=f"{settings.grace_s:g}"
    )
    if not scales:
        return Section("Method and cautions", (words, WORTH, *rests, " ".join(CAUTIONS)))
    made = f"Made by weightshare {__version__} from the records of the sessions."
    return Section(
        "Scales, method and cautions", (*scales, " ".join(CAUTIONS)), notes=(" ".join((made, words, WORTH, *rests)),)
    )
