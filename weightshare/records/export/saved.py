"""A saved session with all that is exported of it: computed again from its raw record, corrections included."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING, Any

from weightshare.errors import RecordError
from weightshare.exercise import Exercise
from weightshare.model import Channel, Identity, Trace
from weightshare.pipeline.result import Analysis
from weightshare.records.appraisal import Appraisal
from weightshare.records.diary import Diary, read_diary
from weightshare.records.export.catalogue import TABLES
from weightshare.records.export.column import Row
from weightshare.records.export.row import Origin, rows_of
from weightshare.records.export.sample import Columns, sample_table, samples_of
from weightshare.records.figure import Figure, figures_of
from weightshare.records.manifest import Ending, is_sealed, verify
from weightshare.records.raw import RAW_NAME
from weightshare.records.session import Replayed, find_session, replay_session
from weightshare.records.setting import SessionHead
from weightshare.task import Settings

if TYPE_CHECKING:
    import pandas as pd

ID_DIGITS = 32
NO_SAMPLES = "no scale sampled in it: there is nothing to export"


@dataclass(frozen=True, eq=False)
class SavedSession:
    """A saved session as Python programs see it: its figures as tables, its samples as a table, its analysis.

    `weightshare.load_session(folder)` makes one.
    """

    folder: Path
    origin: Origin = field(repr=False)
    replayed: Replayed = field(repr=False)
    diary: Diary = field(repr=False)

    @property
    def id(self) -> str:
        """The session's id: 32 digits of the SHA-256 of its raw record."""
        return self.origin.session

    @property
    def head(self) -> SessionHead:
        """What is known of it beside its bytes."""
        return self.replayed.session.head

    @property
    def started_at(self) -> str:
        """Local time with its offset, ISO 8601."""
        return self.head.started_at

    @property
    def exercise(self) -> Exercise | None:
        """What was done; None where that is not known."""
        return self.settings.exercise

    @property
    def settings(self) -> Settings:
        """What it was measured against."""
        return self.replayed.session.settings

    @property
    def appraisal(self) -> Appraisal:
        """Its analysis with what the numbers are worth."""
        return self.replayed.appraisal

    @property
    def analysis(self) -> Analysis:
        """Its analysis, computed again from the raw record."""
        return self.appraisal.analysis

    @property
    def trace(self) -> Trace:
        """Its forces and heights, unfiltered and zeroed."""
        return self.replayed.trace

    @property
    def channels(self) -> tuple[Channel, ...]:
        """The channels of its scale, or of both."""
        sides, found = self.head.sides, dict[int, Identity]()
        for batch in self.replayed.session.batches:
            found |= {source: item for source, item in batch if isinstance(item, Identity)}
        told = [(source, one) for source, identity in sorted(found.items()) for one in identity.channels]
        return tuple(one if sides is None else replace(one, side=sides[source]) for source, one in told)

    @cached_property
    def content(self) -> dict[str, Any]:
        """The analysis as its JSON object."""
        return self.appraisal.to_json()

    @cached_property
    def figures(self) -> tuple[Figure, ...]:
        """What it came to, as named figures."""
        return figures_of(self.content)

    def rows(self) -> dict[str, list[Row]]:
        """Return the rows of its tables, by the name of each table."""
        return rows_of(self.origin, self.content, self.figures, self.diary)

    def columns(self) -> Columns:
        """Return the columns of its samples by name (see `samples_of`)."""
        return samples_of(self.trace, self.replayed.results, self.content)

    def samples(self) -> pd.DataFrame:
        """Return one row a sample: time (s), forces (N), heights (mm), share (%), and what each moment belongs to.

        Forces and heights are unfiltered; those called `filtered` are as they were shown live. What is missing is NaN
        or <NA>. `weightshare.analyse` takes this frame as it is.
        """
        from weightshare.records.export.frame import column_frame

        columns = self.columns()
        return column_frame(sample_table(columns), columns)

    def table(self, name: str) -> pd.DataFrame:
        """Return the table `name` of this session: sessions, repetitions, phases, holds, sets, events, figures, diary.

        Raises KeyError where there is no such table.
        """
        from weightshare.records.export.frame import row_frame

        table = {one.name: one for one in TABLES}[name]
        return row_frame(table, self.rows()[name])

    def repetitions(self) -> pd.DataFrame:
        """Return one row a repetition that counts: instants (s), shares (%), heights (mm), uncertainties (points)."""
        return self.table("repetitions")

    def holds(self) -> pd.DataFrame:
        """Return one row a hold: from and to (s), held seconds, whether it was supported."""
        return self.table("holds")


def load_saved(folder: Path, *, patient: str = "", name: str = "") -> SavedSession:
    """Return the finished session in `folder`, or the one in it; patient, name: whose it is, where that is known.

    Raises RecordError where it was altered, was not finished or has no samples, and CalibrationError.
    """
    found = find_session(folder)
    if not is_sealed(found):
        raise RecordError(f"{found}: was not finished; weightshare analyse {found} --recover does that")
    replayed = replay_session(found)
    if not replayed.trace.time_s.size:
        raise RecordError(f"{found}: {NO_SAMPLES}")
    record = next((entry.sha256 for entry in verify(found, ()).files if entry.name == RAW_NAME), "")
    devices = tuple(f"{one.device_id}, calibrated {one.made_on}" for one in replayed.session.calibrations)
    ending = str(replayed.session.ending or Ending.COMPLETE)
    origin = Origin(record[:ID_DIGITS], replayed.session.head, ending, devices, patient, name)
    return SavedSession(found, origin, replayed, read_diary(found))


def named(sessions: Iterable[SavedSession]) -> Iterator[tuple[str, SavedSession]]:
    """Yield each session with a stamp of its own for file names, after the instant at which it began."""
    taken: set[str] = set()
    for session in sessions:
        stamp = re.sub(r"[^0-9-]", "", session.started_at[:19].replace("T", "-")) or "undated"
        stamps = (stamp if number == 1 else f"{stamp}-{number}" for number in count(1))
        name = next(one for one in stamps if one not in taken)
        taken.add(name)
        yield name, session


def without_words(session: SavedSession, *, with_name: bool, with_notes: bool) -> SavedSession:
    """Return `session` with no more of a person's own words than was asked for: neither name nor notes.

    Without the name, it is the code where somebody wrote it into a note.
    """
    origin = session.origin
    kept = [one for one in session.diary.entries if with_notes or not one.words]
    if with_name or not origin.name:
        return replace(session, diary=Diary(tuple(kept)))
    name = re.compile(re.escape(origin.name), re.IGNORECASE)
    said = tuple(replace(one, words=name.sub(lambda _found: origin.patient, one.words)) for one in kept)
    return replace(session, origin=replace(origin, name=""), diary=Diary(said))
