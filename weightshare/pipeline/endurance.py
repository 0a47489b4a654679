"""Endurance to exhaustion: when a set is over by the trade's stopping rules, and how the two legs compare."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import fmean

from weightshare.errors import check_range
from weightshare.exercise import FOOT_LEFT, LOW, STRUCK, UNREAD, Basis, Rejected, Repetition, SetSpan, Tempo
from weightshare.model import Side
from weightshare.pipeline.fatigue import height_mm
from weightshare.pipeline.sets import add_up, group, is_in
from weightshare.pipeline.symmetry import limb_symmetry_index
from weightshare.task import Settings

TOO_LOW = "the heel no longer comes up high enough"
OFF_TEMPO = "the tempo was missed"
FAULT = "a fault was marked"
STOP_REASONS = (TOO_LOW, OFF_TEMPO, FAULT, FOOT_LEFT)


@dataclass(frozen=True, slots=True)
class StoppingRules:
    """When a set to exhaustion is over. Source of the figures: common practice, no source.

    Raises OptionError where a value is out of its range.
    """

    least_height_percent: float = 75.0
    """A height under this part of the best so far ends the set."""
    tempo_missed: int = 2
    """So many repetitions in a row that miss the tempo end it."""
    tempo_tolerance_percent: float = 25.0
    """A repetition that begins a cycle after the one before keeps the tempo; it may be off by this part of a cycle."""

    def __post_init__(self) -> None:
        check_range("least height", self.least_height_percent, 1.0, 100.0, "percent of the best")
        check_range("tempo missed", self.tempo_missed, 1, 100, "repetitions in a row")
        check_range("tempo tolerance", self.tempo_tolerance_percent, 1.0, 100.0, "percent of a cycle")


CUSTOMARY = StoppingRules()


@dataclass(frozen=True, slots=True)
class Verdict:
    """How many repetitions count: the first `count` of those judged. Without a reason the set may go on."""

    count: int
    stopped_at_s: float | None
    """Sample time of what ended the set."""
    reason: str | None
    """One of STOP_REASONS."""


def judge(
    repetitions: Sequence[Repetition],
    tempo: Tempo | None = None,
    faults_s: Sequence[float] = (),
    rejected: Sequence[Rejected] = (),
    *,
    rules: StoppingRules = CUSTOMARY,
    injured_works: bool = True,
) -> Verdict:
    """Return how many repetitions of a set count, and what ended it, if anything did.

    repetitions: the set's, in order. tempo: what is asked; None: nothing is. faults_s: sample times at which a fault
    was marked by key. rejected: what was not counted in the set. injured_works: whose height is followed.

    The set ends with the first repetition that is too low (by its measured height only; one that was rejected as low
    is too low), with the last of several in a row that miss the tempo, where a foot left the
    plates, or at a fault. What ends it does not count, nor does a repetition that is not over at a fault. Readings that
    were missing, and what was struck by hand, are held against nobody's tempo, and what was rejected before the first
    repetition is no attempt.

    While a set is under way this tells whether it should be stopped now: a suggestion, the person decides.
    """
    stops = [
        *_find_low(repetitions, rules, injured_works=injured_works),
        *(_find_off_tempo(repetitions, rejected, tempo, rules) if tempo else ()),
        *_find_failed(repetitions, rejected),
        *((fault_s, FAULT) for fault_s in faults_s),
    ]
    if not stops:
        return Verdict(len(repetitions), None, None)
    stopped_at_s, reason = min(stops, key=lambda stop: (stop[0], STOP_REASONS.index(stop[1])))
    over = [_over_s(one) for one in repetitions]
    # a repetition is over with the one that ends the set, or before it; that one itself does not count
    spoils = reason in (TOO_LOW, OFF_TEMPO)
    count = sum(end_s < stopped_at_s if spoils else end_s <= stopped_at_s for end_s in over)
    return Verdict(count, stopped_at_s, reason)


def _find_low(
    repetitions: Sequence[Repetition], rules: StoppingRules, *, injured_works: bool
) -> Iterator[tuple[float, str]]:
    """Yield when a repetition was over whose height is under its part of the best so far."""
    best_mm = 0.0
    for one in repetitions:
        height = height_mm(one, injured=injured_works) if one.basis is Basis.HEIGHT else None
        if height is not None:
            if height < rules.least_height_percent / 100.0 * best_mm:
                yield _over_s(one), TOO_LOW
            best_mm = max(best_mm, height)


def _find_off_tempo(
    repetitions: Sequence[Repetition], rejected: Sequence[Rejected], tempo: Tempo, rules: StoppingRules
) -> Iterator[tuple[float, str]]:
    """Yield when the last of several repetitions in a row that missed the tempo was over."""
    unread_s = [one.start_s for one in rejected if one.reason in (UNREAD, STRUCK)]
    starts = [(one.start_s, _over_s(one)) for one in repetitions if one.start_s is not None]
    missed = 0
    for (before_s, _), (start_s, over_s) in pairwise(starts):
        if any(before_s < instant_s < start_s for instant_s in unread_s):
            continue
        off_s = abs(start_s - before_s - tempo.cycle_s)
        missed = missed + 1 if off_s > rules.tempo_tolerance_percent / 100.0 * tempo.cycle_s else 0
        if missed >= rules.tempo_missed:
            yield over_s, OFF_TEMPO


def _find_failed(repetitions: Sequence[Repetition], rejected: Sequence[Rejected]) -> Iterator[tuple[float, str]]:
    """Yield when attempts were over that came to nothing."""
    reasons = {LOW: TOO_LOW, FOOT_LEFT: FOOT_LEFT}
    for one in rejected:
        if one.reason in reasons and repetitions and one.start_s > _over_s(repetitions[0]):
            yield one.end_s, reasons[one.reason]


def _over_s(repetition: Repetition) -> float:
    """Return the last instant of a repetition that is known; infinity where none is."""
    instants = (repetition.end_s, repetition.lowering_s, repetition.top_s, repetition.start_s)
    return next((instant for instant in instants if instant is not None), float("inf"))


@dataclass(frozen=True, slots=True)
class EnduranceSymmetry:
    """Limb symmetry indices of two sets, in percent: of the injured leg's to the other leg's. None where there is none,
    and `reasons` says why."""

    count_percent: float | None
    mean_height_percent: float | None
    best_height_percent: float | None
    load_travel_percent: float | None
    """Of load x heel travel, summed over the set: no joint work."""
    reasons: tuple[str, ...]


def compare(injured: Sequence[Repetition], uninjured: Sequence[Repetition]) -> EnduranceSymmetry:
    """Return the symmetry of a set on the injured leg to one on the other, by the repetitions that count in each."""
    reasons: list[str] = []

    def index(name: str, of_injured: float | None, of_other: float | None) -> float | None:
        if of_injured is None or of_other is None:
            leg, its = ("injured", injured) if of_injured is None else ("other", uninjured)
            why = "was not measured in every repetition of" if its else "needs a repetition of"
            reasons.append(f"the symmetry of {name} is not known: it {why} the {leg} leg")
            return None
        if not of_other:
            reasons.append(f"the symmetry of {name} is not known: the other leg's is 0")
        return limb_symmetry_index(of_injured, of_other)

    heights = [height_mm(one, injured=True) for one in injured], [height_mm(one, injured=False) for one in uninjured]
    means, best = ([_of_all(figure, side) for side in heights] for figure in (fmean, max))
    return EnduranceSymmetry(
        index("the count", len(injured), len(uninjured)),
        index("mean height", *means),
        index("best height", *best),
        index(
            "load x heel travel",
            add_up(one.load_travel_injured_J for one in injured),
            add_up(one.load_travel_uninjured_J for one in uninjured),
        ),
        tuple(reasons),
    )


@dataclass(frozen=True, slots=True)
class LegEndurance:
    """What one leg came to in the newest set in which it did anything: `count` repetitions until a stopping rule was
    met."""

    set_number: int
    count: int
    stopped_at_s: float | None
    reason: str | None
    """One of STOP_REASONS; None where the set ended without one."""


@dataclass(frozen=True, slots=True)
class Endurance:
    """The two legs' newest sets beside each other."""

    injured: LegEndurance
    uninjured: LegEndurance
    symmetry: EnduranceSymmetry


@dataclass(frozen=True, slots=True)
class Session:
    """What single-leg sets are judged by: what was counted and what was not, the sets, the faults marked (s)."""

    settings: Settings
    repetitions: Sequence[Repetition]
    rejected: Sequence[Rejected]
    spans: Sequence[SetSpan]
    faults_s: Sequence[float] = ()

    def compare_legs(self) -> Endurance | None:
        """Return how the legs compare; None where there was no set of single-leg work on each."""
        injured = self.settings.injured
        if not self.settings.is_single:
            return None
        newest: dict[Side, SetSpan] = {}
        for span in self.spans:
            leg = span.working or self.settings.working_side
            # a set that was begun and left says nothing of the leg
            if leg not in newest or self._is_tried(span):
                newest[leg] = span
        if len(newest) < len(Side):
            return None
        legs = [self._judge_leg(newest[side], injured=side is injured) for side in (injured, injured.other)]
        (one, its), (other, others) = legs
        return Endurance(one, other, compare(its, others))

    def _is_tried(self, span: SetSpan) -> bool:
        return bool(group(self.repetitions, [span])[0]) or any(is_in(span, one.start_s) for one in self.rejected)

    def _judge_leg(self, span: SetSpan, *, injured: bool) -> tuple[LegEndurance, Sequence[Repetition]]:
        mine = [self.repetitions[place] for place in group(self.repetitions, [span])[0]]
        faults_s = [fault_s for fault_s in self.faults_s if is_in(span, fault_s)]
        rejected = [one for one in self.rejected if is_in(span, one.start_s)]
        verdict = judge(mine, self.settings.tempo, faults_s, rejected, injured_works=injured)
        leg = LegEndurance(span.number, verdict.count, verdict.stopped_at_s, verdict.reason)
        return leg, mine[: verdict.count]


def _of_all(figure: Callable[[list[float]], float], values: Sequence[float | None]) -> float | None:
    """Return the figure of values that are all known, None where one is not, or there are none."""
    known = [value for value in values if value is not None]
    return figure(known) if known and len(known) == len(values) else None
