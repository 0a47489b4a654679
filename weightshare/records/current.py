"""The analysis of a session that counts now: the first one, or the one with what the clinician corrected of it."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from weightshare.errors import OptionError, RecordError
from weightshare.exercise import Exercise, Phase, Repetition
from weightshare.pipeline.amend import check_room, span_of
from weightshare.pipeline.anew import Span, move_phase, phases_of
from weightshare.records.appraisal import Appraisal
from weightshare.records.correction import (
    CLINICIAN,
    Correction,
    Corrections,
    Deed,
    Kept,
    read_corrections,
    read_kept,
    write_kept,
)
from weightshare.records.digest import read_digest
from weightshare.records.manifest import is_sealed, verify
from weightshare.records.session import ANALYSIS_NAME, appraise_corrected
from weightshare.records.setting import SETTINGS_NAME, read_head


def read_current(folder: Path) -> dict[str, Any]:
    """Return the analysis of the finished session `folder` that counts now, as its JSON object has it.

    Whoever calls has held the file of the first one against its seal. Raises RecordError where the corrections were
    altered, and OSError or ValueError where the first analysis cannot be read.
    """
    kept = read_kept(folder)
    if kept.analysis is not None:
        return kept.analysis
    content = json.loads((folder / ANALYSIS_NAME).read_bytes())
    if not isinstance(content, dict):
        raise ValueError("no object")
    return content


@dataclass(frozen=True, slots=True)
class Wish:
    """What is to be corrected, and why: a repetition (its number in the first analysis) struck, one of its phases moved
    to `span_s`, or the correction number `undoes` taken back."""

    reason: str
    repetition: int = 0
    phase: Phase | None = None
    span_s: Span | None = None
    undoes: int | None = None


def correct(folder: Path, wish: Wish, *, at: str, by: str) -> Appraisal:
    """Correct the finished session in `folder`, whole or not at all; return its analysis as it counts from now on.

    at: local time with its offset. by: who does it. The record and the first analysis stay as they are. Raises
    OptionError where that cannot be, and RecordError where the session was altered, or is not finished.
    """
    if not is_sealed(folder):
        mend = f"weightshare analyse --recover {folder}"
        raise RecordError(f"{folder}: was not brought to its end; finish it with: {mend}")
    verify(folder, (ANALYSIS_NAME, SETTINGS_NAME))
    kept = read_corrections(folder)
    after = kept.follow(Corrector(folder, kept).make(wish, at=at, by=by))
    appraisal = appraise_corrected(folder, after)
    newest = after.entries[-1]
    if any(f"repetition {newest.repetition} is not in it" in words for words in appraisal.analysis.warnings):
        raise RecordError(f"{folder}: this version of the program finds no repetition {newest.repetition} there")
    write_kept(folder, Kept(after, appraisal.to_json()))
    return appraisal


class Corrector:
    """Makes corrections of the session in `folder` of wishes; `kept` are those that there are.

    Raises RecordError where the first analysis cannot be read.
    """

    def __init__(self, folder: Path, kept: Corrections) -> None:
        digest = read_digest(folder / ANALYSIS_NAME)
        self._kept, self._first = kept, digest.repetitions
        self._span_s = (0.0, digest.duration_s)
        self._down_first = read_head(folder).settings.exercise is Exercise.SQUAT

    def state_of(self, number: int) -> Repetition:
        """Return a repetition with its phases as they are now. Raises OptionError where there is none."""
        if not 1 <= number <= len(self._first):
            has = f"it has {len(self._first)}" if self._first else "it has none"
            raise OptionError(f"repetition {number}: there is none in the first analysis of this session; {has}")
        one = self._first[number - 1]
        for move in self._kept.moves_of(number):
            one = move_phase(one, move.phase, (move.from_s, move.to_s), down_first=self._down_first)
        return one

    def phases_of(self, number: int) -> dict[Phase, Span]:
        """Return from when to when each phase of a repetition lasts now, s. Raises OptionError where there is none."""
        return phases_of(self.state_of(number), down_first=self._down_first)

    def make(self, wish: Wish, *, at: str, by: str) -> Correction:
        """Return the correction that is wished. Raises OptionError where it cannot be."""
        if wish.undoes is not None:
            return self._undo(wish, wish.undoes, at, by)
        self.state_of(wish.repetition)
        found = span_of(self._first[wish.repetition - 1])
        if wish.repetition in self._kept.struck:
            raise OptionError(f"repetition {wish.repetition}: is struck already; --undo takes that back")
        if wish.phase is None or wish.span_s is None:
            return Correction(at, by, CLINICIAN, Deed.STRIKE, wish.reason, wish.repetition, found)
        before = self._move(wish.repetition, wish.phase, wish.span_s)
        signed = at, by, CLINICIAN, Deed.MOVE, wish.reason, wish.repetition, found
        return Correction(*signed, wish.phase, before, wish.span_s)

    def _undo(self, wish: Wish, number: int, at: str, by: str) -> Correction:
        force = self._kept.in_force
        undone = force.get(number)
        if undone is None:
            raise OptionError(f"--undo {number}: there is no such correction in force; --list shows them")
        later = [k for k, one in force.items() if k > number and one.repetition == undone.repetition]
        if later:
            raise OptionError(f"--undo {number}: correction {later[-1]} of that repetition came later; undo it first")
        signed = at, by, CLINICIAN, Deed.UNDO, wish.reason, undone.repetition, undone.found_s
        return Correction(*signed, undoes=number)

    def _move(self, number: int, phase: Phase, span_s: Span) -> Span:
        """Return from when to when the phase lasts now. Raises OptionError where it cannot be moved there."""
        before = self.phases_of(number).get(phase)
        if before is None:
            known = ", ".join(self.phases_of(number)) or "none"
            raise OptionError(f"--phase {number} {phase}: is not known of that repetition; known are: {known}")
        if span_s == before:
            raise OptionError(f"--phase {number} {phase}: lasts from then to then already")
        moved = move_phase(self.state_of(number), phase, span_s, down_first=self._down_first)
        struck = self._kept.struck
        places = (k for k in range(1, len(self._first) + 1) if k != number and k not in struck)
        for why in check_room(moved, [self.state_of(k) for k in places], self._span_s):
            raise OptionError(f"--phase {number} {phase} {span_s[0]:g} {span_s[1]:g}: {why}")
        return before
