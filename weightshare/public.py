"""What weightshare offers to Python programs; docs/recipes.md shows each function at work."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Literal, TypeVar

from weightshare.errors import OptionError
from weightshare.exercise import Basis, Ceiling, Exercise, SetSpan, Surface, Tempo, parse_ceiling, parse_tempo
from weightshare.model import Side, Trace
from weightshare.pipeline.analysis import analyse_trace, nominal_interval_s
from weightshare.pipeline.lowpass import can_filter
from weightshare.pipeline.result import Analysis
from weightshare.records.trace import frame_trace
from weightshare.task import DEFAULT_FILTER_HZ, Settings, check_together

if TYPE_CHECKING:
    import pandas as pd

    from weightshare.metrology.index import Index
    from weightshare.metrology.reliability import Reliability
    from weightshare.records.export.saved import SavedSession
    from weightshare.records.export.trend import Trend
    from weightshare.records.export.writing import Written

_Word = TypeVar("_Word", bound=StrEnum)


def analyse(  # noqa: PLR0917 - the documented face: positional use stays possible
    frame: pd.DataFrame,
    injured: Literal["left", "right"] | Side,
    target_percent: float | None = None,
    tolerance_percent: float = 5.0,
    grace_s: float = 1.0,
    filter_Hz: float | None = DEFAULT_FILTER_HZ,
    body_weight_N: float | None = None,
    *,
    added_weight_N: float = 0.0,
    exercise: str | Exercise | None = None,
    tempo: str | Tempo | None = None,
    surface: str | Surface = Surface.FLOOR,
    basis: str | Basis | None = None,
    reference_height_mm: float | None = None,
    working: Literal["left", "right"] | Side | None = None,
    one_sided: bool = False,
    ceiling: str | Ceiling | None = None,
    sets: Sequence[SetSpan] = (),
) -> Analysis:
    """Analyse a trace: share, symmetry, time in the band, holds, repetitions, sets, gaps.

    frame: a pandas DataFrame with the columns `time_s` (s, strictly increasing), `left_N` and `right_N` (N, vertical
        force under each foot; NaN is a missing reading), and optionally the parts and heel heights of a trace file.
    injured: the injured side, "left" or "right". target_percent, tolerance_percent: the band, in percent of the load on
        the plates and percentage points; without a target band and holds are None. grace_s: how long share may be
        outside within a hold, s. filter_Hz: the live filter's cut-off, Hz, or None. body_weight_N: where it is known;
        added_weight_N: what is carried.
    exercise: what was done, by the names of `--stage`; None: not known, and repetitions are looked for as well as can
        be. tempo: as "1-1-3-1". surface: "floor" or "step". basis: "height", "force" or "paced"; None: the best that is
        measured. reference_height_mm: a full raise. working: the leg that works in single-leg work. one_sided: the band
        has no upper edge. ceiling: as "20kg" or "25%". sets: which stretches of time are sets.

    Returns the content of the `weightshare.analysis/1` object as typed values; `to_json()` gives the object itself.
    Raises TraceError where the frame is no trace, OptionError where another argument is out of its range.
    """
    settings = Settings(
        _read(Side, "--injured", injured),
        target_percent,
        tolerance_percent,
        grace_s,
        filter_Hz,
        body_weight_N,
        added_weight_N,
        exercise=None if exercise is None else _read(Exercise, "--stage", exercise),
        surface=_read(Surface, "--surface", surface),
        basis=None if basis is None else _read(Basis, "--basis", basis),
        reference_height_mm=reference_height_mm,
        tempo=parse_tempo(tempo) if isinstance(tempo, str) else tempo,
        working=None if working is None else _read(Side, "--working", working),
        one_sided=one_sided,
        ceiling=parse_ceiling(ceiling) if isinstance(ceiling, str) else ceiling,
    )
    return analyse_checked(frame_trace(frame), check_together(settings), sets)


def analyse_checked(trace: Trace, settings: Settings, sets: Sequence[SetSpan] = ()) -> Analysis:
    """Analyse a trace; a filter that its rate does not allow raises OptionError, unless it is the default one."""
    cutoff_Hz, interval_s = settings.filter_Hz, nominal_interval_s(trace.time_s)
    if cutoff_Hz not in (None, DEFAULT_FILTER_HZ) and not can_filter(cutoff_Hz, interval_s):
        rate_Hz = 1.0 / interval_s
        raise OptionError(
            f"--filter {cutoff_Hz:g} is out of range: {rate_Hz:g} samples a second allow under {rate_Hz / 2:g} Hz"
        )
    return analyse_trace(trace, settings, sets)


def load_session(folder: str | Path) -> SavedSession:
    """Return the finished session in `folder`, computed again from its raw record, corrections included.

    folder: a session's folder, or one that holds one session. The result has `samples()`, `repetitions()`, `holds()`
    and `table(NAME)` as pandas frames, and `analysis` with typed values.
    Raises RecordError where it was altered, was not finished, or holds nothing that a scale sampled.
    """
    from weightshare.records.export.saved import load_saved

    return load_saved(Path(folder))


def load_sessions(place: str | Path) -> list[SavedSession]:
    """Return the sessions whose folders lie in `place`, in order of time. Raises as `load_session` does."""
    from weightshare.records.export.saved import load_saved
    from weightshare.records.session import FOLDER_PATTERN

    found = [load_saved(folder) for folder in sorted(Path(place).glob(FOLDER_PATTERN))]
    return sorted(found, key=lambda session: session.started_at)


def repetitions(analysis: Analysis) -> pd.DataFrame:
    """Return one row a repetition of an analysis that `analyse` made: `number`, `set`, and what was measured.

    Instants and durations are in s, shares in percent, heights in mm, loads in N; NaN or <NA> is what is not known.
    """
    from weightshare.records.export.catalogue import REPETITIONS
    from weightshare.records.export.frame import row_frame
    from weightshare.records.export.row import repetition_rows

    rows = list(repetition_rows(analysis.to_json()))
    left_out = ("session", *(name for name in REPETITIONS.names if "_uncertainty_" in name))
    return row_frame(REPETITIONS.without(*left_out), rows)


def reliability(scores: pd.DataFrame) -> Reliability:
    """Return how well repeated measurements of several people agree: ICC, SEM, minimal detectable change, limits.

    scores: a row is a person, a column a measurement, all numbers, float64 of shape (people, measurements). A row in
    which one is missing is left out whole. Raises OptionError for fewer than two rows or columns, and for text.
    """
    from weightshare.metrology.reliability import reliability as found

    try:
        return found(scores.dropna().to_numpy(dtype="float64"))
    except (TypeError, ValueError) as error:
        raise OptionError(f"scores: {error}") from error


def symmetry(session: SavedSession) -> tuple[Index, ...]:
    """Return how the two sides compare in each measure of a session that could tell it.

    Where an index would mislead, as of a share that was steered to a target, it is None and `reason` says why. The
    estimates have `value` and standard uncertainty `u`; `cautions` belong beside them.
    """
    from weightshare.records.symmetry import indices_of

    return indices_of(session.appraisal, session.trace)


def trend(sessions: Iterable[SavedSession]) -> tuple[Trend, ...]:
    """Return how each figure of each task went over the days of `sessions`, all of one person.

    Only what was done alike is compared. `course.band` is the band of no real change, None on fewer than four days;
    `frame()` gives the days. Raises RecordError where a session has no day.
    """
    from weightshare.records.export.trend import trends_of

    return trends_of(sessions)


def export(
    sessions: SavedSession | Iterable[SavedSession],
    out: str | Path,
    form: Literal["csv", "parquet", "json", "c3d", "fhir", "package"] = "csv",
    *,
    with_notes: bool = False,
    replace: bool = False,
    plates_mm: tuple[float, float, float] | None = None,
) -> Written:
    """Write sessions into the new folder `out`, with a data dictionary beside them; whole or not at all.

    with_notes: what the patient said in words goes along. replace: an earlier export at `out` gives way. plates_mm:
    width and depth of each plate and the gap between them, mm, for C3D. Raises OptionError where something else is at
    `out`, InputError where a library is missing, RecordError where a session cannot be written so, and OSError.
    """
    from weightshare.records.export.lab import Size
    from weightshare.records.export.saved import SavedSession
    from weightshare.records.export.writing import Request, write_export

    chosen = [sessions] if isinstance(sessions, SavedSession) else sessions
    size = None if plates_mm is None else Size(*plates_mm)
    return write_export(chosen, Path(out), Request(form, with_notes=with_notes, size=size), replace=replace)


def read_export(folder: str | Path) -> dict[str, pd.DataFrame]:
    """Return the tables of an export as CSV, Parquet or data package, by the name of their file without its ending.

    Columns have the types of the data dictionary. Raises RecordError where the folder holds no such export.
    """
    from weightshare.records.export.frame import read_export as read

    return read(Path(folder))


def _read(kind: type[_Word], option: str, word: str) -> _Word:
    try:
        return kind(word)
    except ValueError:
        raise OptionError(f"{option} {word} is out of range: it may be {', '.join(kind)}") from None
