"""A calibration with all that it rests on, in one sealed file; the one before is kept, whatever it was."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from weightshare import __version__
from weightshare.errors import CalibrationError
from weightshare.metrology.found import Figure, Found, PlateFit, Residual
from weightshare.metrology.reading import BenchRecord
from weightshare.metrology.taken import TakenFit
from weightshare.model import Calibration
from weightshare.records.calibration import calibration_to_json, parse_calibration, read_object
from weightshare.records.place import calibration_folder
from weightshare.records.plain import from_plain, to_plain
from weightshare.records.seal import sealed
from weightshare.records.whole import FOLDER_MODE, sync_folder, write_whole

HISTORY = "history"
_STAMP = "%Y-%m-%dT%H-%M-%S"
_LONG = ("bench", "found", "worth", "points")
"""Keys whose value stands on one line: nobody reads hundreds of windows by eye."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A calibration with what it rests on. `record` and `found` are None where it was not made on the bench."""

    calibration: Calibration
    path: Path
    record: BenchRecord | None = None
    found: Found | None = None
    made_by: str = ""
    made_with: str = ""
    made_at: datetime | None = None
    """The moment, with its offset from UTC; None where the file knows no more than the date."""
    taken: tuple[TakenFit, ...] = ()
    """The points of each channel and their fit, where it was made of points that were taken elsewhere."""


@dataclass(frozen=True, slots=True)
class History:
    """All calibrations of one scale, oldest first; `passed_over` says, a line each, which files were not understood."""

    device_id: str
    kept: tuple[Kept, ...]
    passed_over: tuple[str, ...] = ()


def keep_calibration(
    calibration: Calibration,
    record: BenchRecord | None,
    found: Found | None,
    made_by: str,
    folder: Path | None = None,
    *,
    at: datetime | None = None,
    taken: Sequence[TakenFit] = (),
) -> tuple[Path, Path | None]:
    """Write a scale's new calibration, whole or not at all, after the one in force was put into its history.

    folder: the user's folder of calibrations (None: the default place). at: the moment (None: now). taken: the points
    that it was made of, where they were taken elsewhere. Returns where it
    was written, and where the one before is kept (None: there was none). Raises CalibrationError where the record is
    of another scale or the calibration cannot be one, OSError where it cannot be written; the one in force then stays.
    """
    device_id = calibration.device_id
    if record is not None and record.device_id != device_id:
        raise CalibrationError(f"the bench record is of scale {record.device_id}, not {device_id}: nothing was written")
    place = folder or calibration_folder()
    path = place / f"{device_id}.json"
    parse_calibration(calibration_to_json(calibration), str(path))
    place.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
    before = _keep_before(path, place / HISTORY / device_id) if path.exists() else None
    write_whole(path, calibration_bytes(calibration, record, found, made_by, at, taken=taken))
    return path, before


def calibration_bytes(
    calibration: Calibration,
    record: BenchRecord | None,
    found: Found | None,
    made_by: str,
    at: datetime | None = None,
    *,
    taken: Sequence[TakenFit] = (),
) -> bytes:
    """Return what the file of a calibration holds, sealed; the arguments are those of `keep_calibration`."""
    values = _values(calibration, record, found, made_by, at or datetime.now(UTC))
    return _lines(sealed(values | ({"points": to_plain(tuple(taken))} if taken else {})))


def _values(
    calibration: Calibration, record: BenchRecord | None, found: Found | None, made_by: str, at: datetime
) -> dict[str, object]:
    whole = calibration if calibration.worth or found is None else replace(calibration, worth=found.worth)
    values = calibration_to_json(whole) | {
        "made_by": made_by,
        "made_with": f"weightshare {__version__}",
        "made_at": at.isoformat(timespec="seconds"),
    }
    if record is not None:
        values["bench"] = to_plain(record)
    if found is not None:
        parts = {"figures": found.figures, "fits": found.fits, "residuals": found.residuals, "cautions": found.cautions}
        values["found"] = {key: to_plain(value) for key, value in parts.items()}
    return values


def _lines(values: Mapping[str, object]) -> bytes:
    rows = (f" {json.dumps(key)}: {json.dumps(v, indent=None if key in _LONG else 1)}" for key, v in values.items())
    return ("{\n" + ",\n".join(rows) + "\n}\n").encode()


def _keep_before(path: Path, folder: Path) -> Path:
    """Copy the file `path` into `folder`, under the moment at which it was made; never over another one."""
    data = path.read_bytes()
    folder.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
    stamp = _moment(path, data).strftime(_STAMP)
    number = 1
    while True:
        target = folder / (f"{stamp}.json" if number == 1 else f"{stamp}-{number}.json")
        # a try that was cut short after this step left the same bytes here
        if target.exists() and target.read_bytes() == data:
            return target
        if not target.exists() and _place_new(target, data):
            return target
        number += 1


def _place_new(target: Path, data: bytes) -> bool:
    """Write `target` whole unless somebody else was faster; return whether it was written."""
    part = target.with_name(f"{target.name}.{os.getpid()}")
    write_whole(part, data)
    try:
        os.link(part, target)
    except FileExistsError:
        return False
    except OSError:
        # a file system without links
        part.rename(target)
        return True
    finally:
        part.unlink(missing_ok=True)
    sync_folder(target.parent)
    return True


def _moment(path: Path, data: bytes) -> datetime:
    """Return when the calibration was made, in UTC: by its own word, else when its file was last written."""
    try:
        values = json.loads(data)
        told = _parse_moment(values.get("made_at")) if isinstance(values, dict) else None
    except (ValueError, RecursionError):
        told = None
    return (told or datetime.fromtimestamp(path.stat().st_mtime, UTC)).astimezone(UTC)


def _parse_moment(value: object) -> datetime | None:
    try:
        moment = datetime.fromisoformat(value) if isinstance(value, str) else None
    except ValueError:
        return None
    return moment if moment is not None and moment.tzinfo is not None else None


def read_kept(path: Path) -> Kept:
    """Return the calibration in the file `path` with all that it rests on.

    Raises CalibrationError, which names the file and the key, where it cannot be read, was altered or is not whole.
    """
    value = read_object(path)
    calibration = parse_calibration(value, str(path))
    values = value if isinstance(value, Mapping) else {}
    record = values.get("bench")
    return Kept(
        calibration,
        path,
        None if record is None else from_plain(BenchRecord, record, f"{path}: bench"),
        _parse_found(values.get("found"), calibration, f"{path}: found"),
        _text(values.get("made_by")),
        _text(values.get("made_with")),
        _parse_moment(values.get("made_at")),
        from_plain(tuple[TakenFit, ...], values.get("points", []), f"{path}: points"),
    )


def _parse_found(value: object, calibration: Calibration, where: str) -> Found | None:
    if value is None or calibration.worth is None:
        return None
    if not isinstance(value, Mapping):
        raise CalibrationError(f"{where} is not a JSON object")
    fits = from_plain(tuple[PlateFit, ...], value.get("fits"), f"{where}.fits")
    return Found(
        calibration.channels,
        fits,
        from_plain(tuple[Figure, ...], value.get("figures"), f"{where}.figures"),
        from_plain(tuple[Residual, ...], value.get("residuals"), f"{where}.residuals"),
        calibration.worth,
        from_plain(tuple[str, ...], value.get("cautions", []), f"{where}.cautions"),
    )


def _text(value: object) -> str:
    return value if isinstance(value, str) else ""


def history(device_id: str, folder: Path | None = None) -> History:
    """Return all calibrations of the scale `device_id`, the one in force among them, oldest first.

    folder: the user's folder of calibrations (None: the default place). Damaged files, and those of another scale, are
    passed over with words.
    """
    place = folder or calibration_folder()
    kept: list[Kept] = []
    passed_over: list[str] = []
    # a calibration that took a file's place (records/keep) left the older one beside it
    beside = sorted(path for name in (f"{device_id}.json", f"{device_id}-*.json") for path in place.glob(name))
    for path in [*sorted((place / HISTORY / device_id).glob("*.json")), *beside]:
        try:
            one = read_kept(path)
        except CalibrationError as error:
            passed_over.append(str(error))
            continue
        if one.calibration.device_id == device_id:
            kept.append(one)
        else:
            passed_over.append(f"{path}: is of the scale {one.calibration.device_id}, not {device_id}")
    return History(device_id, tuple(sorted(kept, key=_when)), tuple(passed_over))


def _when(kept: Kept) -> tuple[object, float]:
    return kept.calibration.made_on, kept.made_at.timestamp() if kept.made_at else 0.0


def known_scales(folder: Path | None = None) -> tuple[str, ...]:
    """Return the device ids of all scales that a calibration, or the history of one, is kept of."""
    place = folder or calibration_folder()
    names = {path.stem for path in place.glob("*.json")} | {path.name for path in (place / HISTORY).glob("*")}
    return tuple(sorted(name for name in names if len(name) == 16 and not set(name) - set("0123456789abcdef")))


def no_scale(folder: Path | None = None) -> str:
    """Return in words that no scale has a calibration, where they would be, and how one is made."""
    place = folder or calibration_folder()
    return f"no scale has a calibration here yet ({place}); make one with `weightshare calibrate run`"


def own_scale(device_id: str | None, folder: Path | None = None) -> str:
    """Return the scale that is meant: `device_id`, in small letters, or the only one that is kept here.

    Raises CalibrationError where nothing is kept of it, or none or several are kept and none is named.
    """
    scales = known_scales(folder)
    there = f"kept here: {', '.join(scales)}" if scales else no_scale(folder)
    if device_id is not None:
        if device_id.lower() not in scales:
            raise CalibrationError(f"--device {device_id}: nothing is kept of this scale; {there}")
        return device_id.lower()
    if not scales:
        raise CalibrationError(there)
    if len(scales) != 1:
        raise CalibrationError(f"name a scale with --device; {there}")
    return scales[0]
