"""A calibration file takes the place of an older one, which is kept beside it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import count
from pathlib import Path

from weightshare.errors import CalibrationError
from weightshare.metrology.taken import TakenFit
from weightshare.model import Calibration
from weightshare.records.bench import calibration_bytes, keep_calibration
from weightshare.records.calibration import calibration_to_json, parse_calibration, read_calibration
from weightshare.records.place import calibration_folder
from weightshare.records.whole import FOLDER_MODE, write_whole

MADE_BY = "calibrate fit"
"""What a calibration says of its maker when it comes of points that were taken elsewhere."""


def replace_calibration(path: Path, calibration: Calibration, taken: Sequence[TakenFit] = ()) -> Path | None:
    """Write `calibration` to `path`; return where the one that was there is kept, None where there was none.

    The older one is kept whole first: in the scale's history where `path` is the user's own place for it, elsewhere
    beside it, under its own date: scale.json as scale-2026-11-02.json. The new one is sealed, with the points that it
    was made of (`taken`). Raises CalibrationError where the calibration cannot be one, or where what is there is none,
    or another scale's: then nothing is written. Raises OSError.
    """
    checked = parse_calibration(calibration_to_json(calibration), str(path))
    own = calibration_folder()
    if path.absolute() == (own / f"{checked.device_id}.json").absolute():
        return keep_calibration(checked, None, None, MADE_BY, own, taken=taken)[1]
    kept = _keep(path, checked.device_id) if path.exists() else None
    path.parent.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
    write_whole(path, calibration_bytes(checked, None, None, MADE_BY, taken=taken))
    return kept


def _keep(path: Path, device_id: str) -> Path:
    try:
        older = read_calibration(path)
    except CalibrationError as error:
        raise CalibrationError(f"{error}; it is left as it is: choose another name") from error
    if older.device_id != device_id:
        raise CalibrationError(f"{path}: belongs to the scale {older.device_id}, not {device_id}; choose another name")
    kept = _free(path, older.made_on.isoformat())
    write_whole(kept, path.read_bytes())
    return kept


def _free(path: Path, day: str) -> Path:
    """Return a name beside `path` with the day in it that nothing has yet."""
    names = (f"{path.stem}-{day}{'' if number == 1 else f'-{number}'}{path.suffix}" for number in count(1))
    return next(place for name in names if not (place := path.with_name(name)).exists())
