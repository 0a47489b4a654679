"""What the clinician corrected of a session: repetitions struck, phases moved, and both undone. corrections.json.

It lies beside the session and hinders none of its seals: the record and the first analysis stay as they are. It is only
ever added to. Each entry keeps the SHA-256 of the one before it, the first that of the session's manifest, and the file
has a checksum: so one that was altered, taken out or laid beside another session is found, unless whoever did it wrote
all of them anew. The analysis that came of them lies in the same file, so that the two are never of different times.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass, field, replace
from enum import StrEnum
from pathlib import Path
from typing import Any

from weightshare.errors import OptionError, RecordError
from weightshare.exercise import Phase
from weightshare.pipeline.amend import Change, Move
from weightshare.records.manifest import MANIFEST_NAME
from weightshare.records.seal import KEY, is_altered, sealed
from weightshare.records.value import from_plain, to_plain
from weightshare.records.whole import write_whole

CORRECTIONS_NAME = "corrections.json"
SCHEMA = "weightshare.corrections/1"
CLINICIAN = "clinician"
LONGEST_REASON = 500


class Deed(StrEnum):
    """What a correction does."""

    STRIKE = "strike"
    MOVE = "move"
    UNDO = "undo"


@dataclass(frozen=True, slots=True)
class Correction:
    """One correction. `at` is local time with its offset, ISO 8601; `by` and `role` say who made it.

    `repetition` is its number in the first analysis, and `found_s` from when to when it was found there. Of a phase
    that was moved `before_s` and `after_s` say from when to when it lasts. `undoes`: the number of the correction that
    is taken back. Raises OptionError where nobody signs it, or it has no reason.
    """

    at: str
    by: str
    role: str
    deed: Deed
    reason: str
    repetition: int
    found_s: tuple[float, float]
    phase: Phase | None = None
    before_s: tuple[float, float] | None = None
    after_s: tuple[float, float] | None = None
    undoes: int | None = None
    follows: str = ""
    """The SHA-256 of the correction before it."""

    def __post_init__(self) -> None:
        for option, words in (("--by", self.by), ("--reason", self.reason)):
            if not words.strip() or not words.isprintable() or len(words) > LONGEST_REASON:
                raise OptionError(f"{option}: give words on one line, up to {LONGEST_REASON} letters")

    @property
    def words(self) -> str:
        """What was before, and what is after."""
        which = f"repetition {self.repetition}"
        if self.deed is Deed.UNDO:
            return f"{which}: correction {self.undoes} undone"
        if self.deed is Deed.STRIKE or self.before_s is None or self.after_s is None:
            return f"{which}: counted -> struck"
        (a, b), (c, d) = self.before_s, self.after_s
        return f"{which}, {self.phase}: {a:.3f} to {b:.3f} s -> {c:.3f} to {d:.3f} s"


@dataclass(frozen=True, slots=True)
class Corrections:
    """All corrections of one session, in order; their numbers go from 1 on. `session`: the SHA-256 of its manifest."""

    session: str = field(default="", compare=False)
    entries: tuple[Correction, ...] = ()

    @property
    def in_force(self) -> dict[int, Correction]:
        """Those that count, by their numbers: neither undone, nor an undoing."""
        undone = {one.undoes for one in self.entries}
        numbered = enumerate(self.entries, 1)
        return {k: one for k, one in numbered if k not in undone and one.deed is not Deed.UNDO}

    @property
    def struck(self) -> dict[int, str]:
        """The repetitions that are struck, by their numbers, each with the reason."""
        struck = [one for one in self.in_force.values() if one.deed is Deed.STRIKE]
        return {one.repetition: one.reason for one in sorted(struck, key=lambda one: one.repetition)}

    def moves_of(self, repetition: int) -> tuple[Move, ...]:
        """Return how phases of a repetition were moved, in order."""
        moved = [one for one in self.in_force.values() if one.repetition == repetition and one.phase is not None]
        return tuple(Move(one.phase, *one.after_s) for one in moved if one.phase is not None and one.after_s)

    @property
    def changes(self) -> tuple[Change, ...]:
        """What became of each repetition that was corrected, in their order."""
        found = {one.repetition: one.found_s for one in self.in_force.values()}
        struck = self.struck
        return tuple(Change(k, *found[k], struck=k in struck, moves=self.moves_of(k)) for k in sorted(found))

    @property
    def words(self) -> str:
        """How many are in force, in words; empty where none is."""
        struck = len(self.struck)
        moved = sum(one.deed is Deed.MOVE for one in self.in_force.values())
        told = [_count(struck, "repetition struck", "repetitions struck"), _count(moved, "phase moved", "phases moved")]
        return ", ".join(words for words in told if words)

    def follow(self, one: Correction) -> Corrections:
        """Return them with `one` after all others, tied to the one before it."""
        before = _hash(to_plain(self.entries[-1])) if self.entries else self.session
        return replace(self, entries=(*self.entries, replace(one, follows=before)))

    def to_json(self) -> dict[str, Any]:
        """Return them as plain values: the key `corrections` of the analysis that came of them."""
        force = self.in_force
        rows = [
            {"number": k, "in_force": k in force, **_bare(to_plain(one)), "words": one.words}
            for k, one in enumerate(self.entries, 1)
        ]
        moved = sorted({one.repetition for one in force.values() if one.deed is Deed.MOVE})
        return {"in_force": len(force), "struck": list(self.struck), "moved": moved, "entries": rows}


@dataclass(frozen=True, slots=True)
class Kept:
    """What corrections.json holds: the corrections, and the analysis that came of them, as its JSON object has it."""

    corrections: Corrections = field(default_factory=Corrections)
    analysis: dict[str, Any] | None = None


def read_kept(folder: Path) -> Kept:
    """Return what corrections.json of the finished session `folder` holds; nothing where there is none.

    Raises RecordError, which names the file, where it was altered, cut short or is another session's.
    """
    path = folder / CORRECTIONS_NAME
    try:
        value = json.loads(path.read_bytes())
        if is_altered(value) or value.pop("schema") != SCHEMA or not value.pop(KEY):
            raise ValueError("altered")
        analysis = value.pop("analysis")
        corrections = from_plain(Corrections, value)
        if not isinstance(analysis, dict) or not _is_chain(corrections, session_of(folder)):
            raise ValueError("altered")
        return Kept(corrections, analysis)
    except FileNotFoundError:
        return Kept(Corrections(session_of(folder)))
    except OSError as error:
        raise RecordError(f"{path}: cannot be read ({error.strerror or error})") from error
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError, OptionError) as error:
        raise RecordError(f"{path}: was altered, cut short, or is another session's; restore it from a copy") from error


def read_corrections(folder: Path) -> Corrections:
    """Return the corrections of the finished session `folder`. Raises as `read_kept` does."""
    return read_kept(folder).corrections


def write_kept(folder: Path, kept: Kept) -> None:
    """Write corrections.json of the session `folder`, whole or not at all. Raises RecordError."""
    path = folder / CORRECTIONS_NAME
    value = sealed({"schema": SCHEMA, **to_plain(kept.corrections), "analysis": kept.analysis})
    try:
        write_whole(path, json.dumps(value, indent=1).encode() + b"\n")
    except OSError as error:
        raise RecordError(f"{path}: cannot be written ({error.strerror or error})") from error


def session_of(folder: Path) -> str:
    """Return the SHA-256 of a session's manifest; of one that is not finished nothing."""
    try:
        return hashlib.sha256((folder / MANIFEST_NAME).read_bytes()).hexdigest()
    except OSError:
        return ""


def _is_chain(corrections: Corrections, session: str) -> bool:
    """Return whether each correction follows the one before it, and takes back none that is not there."""
    before = session
    for k, one in enumerate(corrections.entries, 1):
        if one.follows != before or (one.undoes is not None and not 1 <= one.undoes < k):
            return False
        before = _hash(to_plain(one))
    return corrections.session == session


def _hash(plain: dict[str, Any]) -> str:
    """Return the SHA-256 of a correction with that of the one before in it: keys in order, no spaces, ASCII."""
    return hashlib.sha256(json.dumps(plain, sort_keys=True, separators=(",", ":")).encode()).hexdigest()


def _bare(plain: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in plain.items() if key != "follows"}


def _count(number: int, one: str, more: str) -> str:
    return "" if not number else f"{number} {one if number == 1 else more}"
