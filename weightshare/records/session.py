"""Finished and unfinished sessions: found, loaded, analysed again, brought to their end."""

from __future__ import annotations

import contextlib
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from weightshare import __version__
from weightshare.errors import RecordError
from weightshare.model import Calibration, Item, Side, Sourced, Trace
from weightshare.pipeline import Analysis, Pipeline
from weightshare.pipeline.amend import Footage
from weightshare.pipeline.chain import join
from weightshare.records.appraisal import Appraisal, appraise
from weightshare.records.calibration import CALIBRATION_NAME, CALIBRATION_NAMES, read_calibration
from weightshare.records.correction import Corrections, read_corrections
from weightshare.records.diary import DIARY_NAME
from weightshare.records.lock import LOCK_NAME, FolderLock, is_held
from weightshare.records.manifest import MANIFEST_NAME, Ending, is_sealed, seal, verify
from weightshare.records.raw import RAW_NAME, Record, read_record
from weightshare.records.setting import SETTINGS_NAME, SessionHead, read_head
from weightshare.records.whole import open_private, sync_file, write_whole
from weightshare.scales.gate import Gates
from weightshare.state import Results
from weightshare.task import Settings

ANALYSIS_NAME = "analysis.json"
CSV_NAME = "trace.csv"
PARQUET_NAME = "trace.parquet"
FOLDER_PATTERN = "session-*"

_CUT = "this session was cut short; its last second may be missing"
_OPEN = "this session is still being recorded"
_UNRECORDED = "recording stopped before the session did; what came after is missing"


@dataclass(frozen=True, slots=True)
class Session:
    """A session's content. `warnings` say what is missing of it.

    `batches` hold what came of its own scales, in order; `calibrations` are in the order of its sources.
    """

    folder: Path
    head: SessionHead
    calibrations: tuple[Calibration, ...]
    batches: tuple[tuple[Sourced, ...], ...]
    ending: Ending | None
    """None while it was not brought to its end."""
    warnings: tuple[str, ...] = ()
    corrections: Corrections = field(default_factory=Corrections)
    """What the clinician corrected of it since; nothing while it was not brought to its end."""

    @property
    def settings(self) -> Settings:
        """What the session was measured against."""
        return self.head.settings

    @property
    def items(self) -> tuple[Item, ...]:
        """All items, whatever source they came from."""
        return tuple(item for batch in self.batches for _, item in batch)


def find_session(path: Path) -> Path:
    """Return `path` where it is a session's folder, or the one session's folder in it. Raises RecordError."""
    if _is_session(path):
        return path
    try:
        found = sorted(folder for folder in path.glob(FOLDER_PATTERN) if _is_session(folder))
    except OSError as error:
        raise RecordError(f"{path}: cannot be read ({error.strerror or error})") from error
    if len(found) != 1:
        many = f"has {len(found)} sessions; name one of them, such as {found[-1]}" if found else "holds no session"
        raise RecordError(f"{path}: {many}")
    return found[0]


def _is_session(folder: Path) -> bool:
    return any((folder / name).is_file() for name in (RAW_NAME, MANIFEST_NAME, SETTINGS_NAME))


def unfinished(place: Path) -> list[Path]:
    """Return the sessions in `place` that were not brought to their end and that no living program records, in order.

    Those without a single byte from a scale are not among them.
    """
    try:
        folders = sorted(place.glob(FOLDER_PATTERN))
    except OSError:
        return []
    return [folder for folder in folders if _is_unfinished(folder)]


def _is_unfinished(folder: Path) -> bool:
    has_data = all((folder / name).is_file() for name in (RAW_NAME, SETTINGS_NAME, CALIBRATION_NAME))
    return has_data and not is_sealed(folder) and not is_held(folder)


def load_session(folder: Path) -> Session:
    """Return the session in `folder`, its files checked against its manifest where it was brought to its end.

    Raises RecordError, or CalibrationError, which names the file, where it was altered or cannot be read.
    """
    ending = verify(folder).ending if is_sealed(folder) else None
    head = read_head(folder)
    calibrations = _read_calibrations(folder, 1 if head.sides is None else len(head.sides))
    record = read_record(folder / RAW_NAME, whole=ending is Ending.COMPLETE)
    head = _take_remarks(head, record)
    gates = Gates([calibration.device_id for calibration in calibrations])
    batches = tuple(tuple(gates.sift(batch)) for batch in record.batches)
    corrections = Corrections() if ending is None else read_corrections(folder)
    return Session(folder, head, calibrations, batches, ending, _warn(folder, ending), corrections)


def _take_remarks(head: SessionHead, record: Record) -> SessionHead:
    """Return `head` with what the record's own remarks tell: they came in one order with the bytes."""
    settings, counting_from_s = head.settings, record.counting_from_s
    if counting_from_s is not None:
        settings = replace(settings, counting_from_s=counting_from_s)
    sets, faults_s = record.sets or head.sets, record.faults_s or head.faults_s
    sides = None if head.sides is None else record.sides or head.sides
    return replace(head, settings=settings, sets=sets, faults_s=faults_s, sides=sides)


def _read_calibrations(folder: Path, count: int) -> tuple[Calibration, ...]:
    paths = [folder / name for name in CALIBRATION_NAMES[:count]]
    for path in paths:
        if not path.exists():
            raise RecordError(f"{path}: is missing; no scale that could be used answered in this session")
    return tuple(map(read_calibration, paths))


def _warn(folder: Path, ending: Ending | None) -> tuple[str, ...]:
    if ending is None and is_held(folder):
        return (_OPEN,)
    return {None: (_CUT,), Ending.RECOVERED: (_CUT,), Ending.CUT_SHORT: (_UNRECORDED,), Ending.COMPLETE: ()}[ending]


@dataclass(frozen=True, slots=True)
class Played:
    """What is played back: a capture's path, and what lies beside it: calibrations, and which foot each is under."""

    path: Path
    calibrations: tuple[Calibration, ...]
    sides: tuple[Side, Side] | None = None


def find_played(path: Path) -> Played:
    """Return what there is to play back at `path`: a session's folder, the one session in it, or a capture.

    Raises RecordError where there is none, or where it is a finished session that was altered.
    """
    folder = find_session(path) if path.is_dir() else path.parent
    if is_sealed(folder):
        verify(folder)
    beside = [folder / name for name in CALIBRATION_NAMES]
    calibrations = tuple(read_calibration(each) for each in beside if each.is_file())
    sides = read_head(folder).sides if len(calibrations) > 1 else None
    return Played(folder / RAW_NAME if path.is_dir() else path, calibrations, sides)


def analyse_session(folder: Path, overrides: Mapping[str, Any] | None = None) -> Analysis:
    """Compute the analysis of the session in `folder` again from its raw record, with what was corrected of it.

    `overrides` replaces settings by their names in Settings. Raises RecordError where the session was altered, and
    OptionError where an override is out of its range.
    """
    return appraise_session(folder, overrides).analysis


def appraise_session(folder: Path, overrides: Mapping[str, Any] | None = None) -> Appraisal:
    """Compute that analysis with what its numbers are worth by the session's own calibration. Raises as that does."""
    session = load_session(folder)
    return _appraise(replace(session.settings, **(overrides or {})), session)[0]


def appraise_corrected(folder: Path, corrections: Corrections) -> Appraisal:
    """Compute that analysis as it is with other corrections than those that are kept. Raises as that does."""
    session = replace(load_session(folder), corrections=corrections)
    return _appraise(session.settings, session)[0]


@dataclass(frozen=True, slots=True, eq=False)
class Replayed:
    """A session with everything that came of it, computed again: figures and their worth, and sample by sample."""

    session: Session
    appraisal: Appraisal
    trace: Trace
    """Unfiltered."""
    results: Results
    """As they were shown live."""


def replay_session(folder: Path) -> Replayed:
    """Compute all of the session in `folder` again from its raw record. Raises as `analyse_session` does."""
    session = load_session(folder)
    return Replayed(session, *_appraise(session.settings, session))


def _appraise(settings: Settings, session: Session) -> tuple[Appraisal, Trace, Results]:
    analysis, pipeline, results = _run(settings, session)
    channels = None if pipeline.identity is None else pipeline.identity.channels
    trace = pipeline.trace()
    zero_taken, uneven = pipeline.snapshot().zero_taken, session.head.uneven
    found = appraise(
        analysis, settings, pipeline.calibration, channels, zero_taken=zero_taken, uneven=uneven, trace=trace
    )
    return replace(found, corrections=session.corrections), trace, results


def _run(settings: Settings, session: Session) -> tuple[Analysis, Pipeline, Results]:
    pipeline = Pipeline(settings, session.calibrations, keep_trace=True, sides=session.head.sides)
    for span in session.head.sets:
        pipeline.begin_set(span)
    for fault_s in session.head.faults_s:
        pipeline.mark_fault(fault_s)
    footage = Footage(session.corrections.changes)
    pipeline.watch(footage.see)
    results = join([*(pipeline.push_all(batch) for batch in session.batches), pipeline.finish()])
    analysis = pipeline.analysis(footage.amend)
    warnings = (*analysis.warnings, *session.warnings, *_say_corrected(session.corrections, footage.lost))
    struck = tuple(number for number in session.corrections.struck if number not in footage.lost)
    return replace(analysis, warnings=warnings, struck=struck), pipeline, results


def _say_corrected(corrections: Corrections, lost: Sequence[int]) -> Iterator[str]:
    """Say how many corrections are in it, and which could not be."""
    if corrections.words:
        yield f"corrected by the clinician: {corrections.words}; the first analysis is kept beside it"
    for number in lost:
        yield f"the correction of repetition {number} is not in it: no repetition is like the one that was corrected"


def finish_session(folder: Path, ending: Ending = Ending.COMPLETE) -> Appraisal:
    """Write trace and analysis from the raw record, then the manifest over all, and return the analysis appraised.

    The raw record is only read. Raises RecordError where that cannot be used, OSError where the disk fails.
    """
    session = replace(load_session(folder), ending=ending, warnings=_warn(folder, ending))
    appraisal, trace, _results = _appraise(session.settings, session)
    _write_traces(folder, trace)
    write_whole(folder / ANALYSIS_NAME, json.dumps(appraisal.to_json(), indent=1).encode() + b"\n")
    names = [path.name for path in folder.iterdir() if path.name not in (LOCK_NAME, MANIFEST_NAME, DIARY_NAME)]
    seal(folder, [name for name in names if not name.endswith(".part")], ending, f"weightshare {__version__}")
    return appraisal


def _write_traces(folder: Path, trace: Trace) -> None:
    from weightshare.records.trace import write_csv, write_parquet

    for name, write in ((CSV_NAME, write_csv), (PARQUET_NAME, write_parquet)):
        part = folder / f"{name}.part"
        try:
            # Made first, so that nobody else may read it for even a moment.
            open_private(part).close()
            write(trace, part)
            sync_file(part)
            part.replace(folder / name)
        except OSError:
            part.unlink(missing_ok=True)
            raise


def recover(folder: Path) -> Analysis:
    """Bring a session that was cut short to its end, and return its analysis. The raw record is only read.

    A finished session is only analysed. Raises RecordError where it is still being recorded or cannot be used.
    """
    if is_sealed(folder):
        return analyse_session(folder)
    lock = FolderLock(folder)
    try:
        if not lock.take():
            raise RecordError(f"{folder}: is still being recorded; end that session first")
        return finish_session(folder, Ending.RECOVERED).analysis
    except OSError as error:
        raise RecordError(f"{folder}: cannot be recovered ({error.strerror or error})") from error
    finally:
        lock.release()


def discard(folder: Path) -> None:
    """Remove the folder of a session in which no scale sampled; what else lies in it stays."""
    with contextlib.suppress(OSError):
        for name in (RAW_NAME, SETTINGS_NAME, *CALIBRATION_NAMES, LOCK_NAME):
            (folder / name).unlink(missing_ok=True)
        folder.rmdir()
