"""A session of a programme's stage: what was prescribed, what was done, what was said, what that suggests."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any

from weightshare.errors import WeightshareError
from weightshare.metrology.decision import Verdict
from weightshare.model import STANDARD_GRAVITY
from weightshare.pipeline.result import rounded
from weightshare.programme.judgement import Row, Suggestion, find_warnings, judge, say_row, suggest
from weightshare.programme.prescription import Prescription, goal_of, prescribe
from weightshare.programme.stage import Stage
from weightshare.records.appraisal import Appraisal
from weightshare.records.diary import Diary, read_diary
from weightshare.records.proof import find_proof
from weightshare.records.session import FOLDER_PATTERN, appraise_session
from weightshare.records.setting import SessionHead, read_head
from weightshare.records.value import to_plain
from weightshare.task import Goal, Settings

FALL_PERCENT, FALL_POINTS = 20.0, 10.0
"""From such a fall of height, or of the share, within a set on, fatigue is told (our own choice, no source)."""


@dataclass(frozen=True, slots=True)
class Done:
    """One thing that was prescribed, in words, and what was done of it."""

    what: str
    prescribed: str
    done: str


@dataclass(frozen=True, slots=True)
class Assessment:
    """All that a session says of its stage."""

    prescription: Prescription
    done: tuple[Done, ...]
    rows: tuple[Row, ...]
    suggestion: Suggestion
    diary: Diary
    days_met: int = 0
    """On how many days all of the criteria were met, this one among them; counted up to as many as are asked for."""

    @property
    def is_met(self) -> bool:
        """Whether every criterion that can be decided is met."""
        return are_met(self.rows)

    def to_json(self) -> dict[str, Any]:
        """Return it as plain values: the key `programme` beside a session's analysis."""
        kept = self.prescription
        content = {
            "name": kept.programme,
            "version": kept.version,
            "sha256": kept.sha256,
            "stage": kept.stage.key,
            "stage_name": kept.stage.name,
            "by_hand": list(kept.changed),
            "done": [to_plain(one) for one in self.done],
            "criteria": [row.to_json() for row in self.rows],
            "days_met": self.days_met,
            "days_asked": kept.stage.days,
            "suggestion": self.suggestion.to_json(),
            "diary": to_plain(self.diary)["entries"],
        }
        return {key: rounded(value) for key, value in content.items()}

    def lines(self) -> list[str]:
        """Return it as lines that a clinician reads."""
        kept = self.prescription
        said = [f"{one.what}: {one.done} of {one.prescribed}" for one in self.done]
        told = [f"{one.about}: {one.words or f'{one.value} of 10'}" for one in self.diary.entries]
        rows = [f"to go on: {say_row(row)}" for row in self.rows]
        head = f"{kept.programme}, version {kept.version}, stage {kept.stage.key}: {kept.stage.name}"
        by_hand = [f"by hand: {one}" for one in kept.changed]
        because = [
            f"  {reason}" for reason in self.suggestion.reasons if reason not in [say_row(row) for row in self.rows]
        ]
        return [head, *by_hand, *said, *told, *rows, f"suggestion: {self.suggestion.words}", *because]


def are_met(rows: tuple[Row, ...]) -> bool:
    """Return whether there are criteria that can be decided, and all of them are met."""
    decided = [row.verdict for row in rows if row.verdict is not None]
    return bool(decided) and all(verdict is Verdict.MET for verdict in decided)


def assess(
    prescription: Prescription, appraisal: Appraisal, diary: Diary | None = None, *, days_before: int = 0
) -> Assessment:
    """Return what a session says of its stage; `days_before`: on how many days before all criteria were met.

    What was done is held against the stage, whatever was changed by hand: less by hand is no proof of it.
    """
    said, stage = diary or Diary(), prescription.stage
    goal = goal_of(stage)
    found = find_proof(appraisal, goal, said)
    rows = judge(stage, found)
    days = days_before + int(are_met(rows))
    warnings = (*find_warnings(found, prescription.pain_limit), *_fatigue(appraisal))
    suggestion = suggest(
        stage, rows, following=prescription.following, before=prescription.before, warnings=warnings, days_met=days
    )
    return Assessment(prescription, tuple(_done(appraisal, goal, stage)), rows, suggestion, said, days)


def _fatigue(appraisal: Appraisal) -> Iterator[str]:
    """Say in which sets height or share fell far; in a set to exhaustion that is what is asked."""
    if appraisal.analysis.endurance is not None:
        return
    for one in appraisal.analysis.sets:
        fall = one.fatigue
        if fall is None:
            continue
        if fall.height_fall_percent is not None and fall.height_fall_percent >= FALL_PERCENT:
            yield f"in set {one.number} the height fell by {fall.height_fall_percent:.0f} %"
        if fall.share_fall_points is not None and fall.share_fall_points >= FALL_POINTS:
            yield f"in set {one.number} the share fell by {fall.share_fall_points:.0f} points"


def _done(appraisal: Appraisal, goal: Goal, stage: Stage) -> Iterator[Done]:
    analysis, known = appraisal.analysis, appraisal.settings
    settings = replace(prescribe(stage, known.injured), body_weight_N=known.body_weight_N)
    if not settings.is_repeated:
        done = sum(hold.held_s >= goal.hold_s for hold in analysis.holds or ())
        yield Done(f"holds of {goal.hold_s:g} s", str(goal.holds), str(done))
    else:
        counts = [len(one.repetitions) for one in analysis.sets]
        many = "as many as can be done" if goal.to_exhaustion else str(goal.repetitions)
        yield Done("sets", str(goal.sets), str(len(counts)))
        yield Done("repetitions in each", many, ", ".join(map(str, counts)) or "none")
    yield from _done_load(appraisal, settings)
    seconds = [one.lowering_duration_s for one in analysis.sets if one.lowering_duration_s is not None]
    if settings.tempo is not None and seconds:
        means = ", ".join(f"{one:.1f}" for one in seconds)
        yield Done("seconds of the lowering", f"{settings.tempo.lowering_s:g}", means)


def _done_load(appraisal: Appraisal, settings: Settings) -> Iterator[Done]:
    if settings.load_N is not None:
        done = "not known" if appraisal.load is None else f"{appraisal.load.kg:.1f}"
        yield Done("kg on the injured side", f"{settings.load_N / STANDARD_GRAVITY:.1f}", done)
    elif settings.target_percent is not None and appraisal.answers and not settings.is_single:
        means = ", ".join(f"{one.value_percent:.1f}" for one in appraisal.answers)
        when = "on the way down" if settings.is_repeated else "while held"
        yield Done(f"% on the injured side {when}", f"{settings.target_percent:g}", means)


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """The days (ISO 8601) on which sessions of the stage of `head`, which lie in the store, met all criteria."""

    head: SessionHead
    days: frozenset[str] = frozenset()


def assess_session(folder: Path, appraisal: Appraisal, elsewhere: Elsewhere | None = None) -> Assessment | None:
    """Return what the session in `folder` says of its stage; None where it was of none.

    Days are counted among the sessions that lie beside it, and those `elsewhere` with them, where they are of its
    stage. Raises RecordError where head or diary cannot be read.
    """
    head, diary = read_head(folder), read_diary(folder)
    if head.prescription is None:
        return None
    days = days_met(head, sorted(folder.parent.glob(FOLDER_PATTERN), reverse=True))
    if elsewhere is not None and _is_same(elsewhere.head, head):
        days |= {day for day in elsewhere.days if day < _day(head)}
    return assess(head.prescription, appraisal, diary, days_before=min(len(days), head.prescription.stage.days - 1))


def days_met(head: SessionHead, folders: Iterable[Path]) -> set[str]:
    """Return the days before that of `head` on which a session of the same stage in one of `folders` met all criteria.

    `folders` come the newest first, each looked at before the next; no more days are looked for than are asked for.
    """
    today = _day(head)
    days: set[str] = set()
    wanted = 0 if head.prescription is None else head.prescription.stage.days - 1
    for other in folders if wanted else ():
        if len(days) >= wanted:
            break
        with suppress(WeightshareError, ValueError):
            theirs = read_head(other)
            if _is_same(theirs, head) and _day(theirs) < today and _day(theirs) not in days:
                assert theirs.prescription is not None
                found = assess(theirs.prescription, appraise_session(other), read_diary(other))
                days |= {_day(theirs)} if found.is_met else set()
    return days


def _is_same(one: SessionHead, other: SessionHead) -> bool:
    """Return whether both are of one stage, with the same criteria, and of one side."""
    mine, theirs = one.prescription, other.prescription
    if mine is None or theirs is None or one.settings.injured is not other.settings.injured:
        return False
    return (mine.programme, mine.stage.key, mine.stage.criteria) == (
        theirs.programme,
        theirs.stage.key,
        theirs.stage.criteria,
    )


def _day(head: SessionHead) -> str:
    return datetime.fromisoformat(head.started_at).date().isoformat()
