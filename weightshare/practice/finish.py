"""What is left of a session once it is over."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from weightshare.errors import WeightshareError
from weightshare.pipeline.result import Analysis
from weightshare.records.appraisal import Appraisal
from weightshare.records.manifest import Ending
from weightshare.records.recorder import Recording
from weightshare.records.session import discard, finish_session


@dataclass(frozen=True, slots=True)
class Finished:
    """What is left of a session: its folder (None: not saved) and its analysis (None: there were no samples).

    `trouble` says what was not saved, in words; empty where all was.
    """

    folder: Path | None
    analysis: Analysis | None
    trouble: str = ""
    appraisal: Appraisal | None = None
    """The analysis with what its numbers are worth."""


def save_session(recording: Recording, live: Appraisal | None, *, failed: bool) -> Finished:
    """Bring what was recorded to its end; where that cannot be, say why and give back the `live` one.

    `live` is None where no scale sampled, or where the pipeline `failed`.
    """
    folder, trouble = recording.folder, recording.trouble
    if folder is None:
        return _finished(None, live, trouble)
    if live is None and not trouble and not failed:
        discard(folder)
        return Finished(None, None)
    try:
        saved = finish_session(folder, Ending.CUT_SHORT if trouble else Ending.COMPLETE)
        # What was not recorded was still measured.
        return _finished(folder, live if trouble and live else saved, trouble)
    except OSError as error:
        words = f"{folder}: the session could not be finished ({error.strerror or error})"
        return _finished(folder, live, trouble or f"{words}; its raw record is kept")
    except WeightshareError as error:
        return _finished(folder, live, trouble or str(error))


def _finished(folder: Path | None, appraisal: Appraisal | None, trouble: str) -> Finished:
    return Finished(folder, None if appraisal is None else appraisal.analysis, trouble, appraisal)
