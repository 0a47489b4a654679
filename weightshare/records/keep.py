"""A calibration file takes the place of an older one, which is kept beside it."""

from __future__ import annotations

from itertools import count
from pathlib import Path

from weightshare.errors import CalibrationError
from weightshare.model import Calibration
from weightshare.records.calibration import calibration_to_json, parse_calibration, read_calibration, write_calibration
from weightshare.records.whole import write_whole


def replace_calibration(path: Path, calibration: Calibration) -> Path | None:
    """Write `calibration` to `path`; return where the one that was there is kept, None where there was none.

    The older one is kept whole first, beside it, under its own date: scale.json as scale-2026-11-02.json. Raises
    CalibrationError where the calibration cannot be one, or where what is there is none, or another scale's: then
    nothing is written. Raises OSError.
    """
    checked = parse_calibration(calibration_to_json(calibration), str(path))
    kept = _keep(path, checked.device_id) if path.exists() else None
    write_calibration(path, checked)
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
