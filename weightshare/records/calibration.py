"""Calibrations as JSON files: written, read with clear refusals, and found by the scale that they belong to."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from pathlib import Path

from weightshare.errors import CalibrationError
from weightshare.model import STANDARD_GRAVITY, Calibration, ChannelCalibration
from weightshare.records.entry import Fields
from weightshare.records.place import calibration_folder
from weightshare.records.seal import is_altered
from weightshare.records.whole import FOLDER_MODE, write_whole
from weightshare.records.worth import parse_worth, worth_to_json
from weightshare.scales.lab.calibration import lab_calibration
from weightshare.scales.rig.cell import known_calibration

CALIBRATION_NAME = "calibration.json"
"""The copy that lies in a session's folder."""
CALIBRATION_NAMES = (CALIBRATION_NAME, "calibration-2.json")
"""Those that lie there where two separate scales were used, in the order of the sources."""
SCHEMA = "weightshare.calibration/1"
MAX_CHANNELS = 16
_DEVICE_ID = re.compile(r"[0-9a-f]{16}")
_GRAVITY_RANGE = (9.7, 9.9)
"""m/s^2; on the ground it is 9.764 to 9.834."""


def calibration_to_json(calibration: Calibration) -> dict[str, object]:
    """Return `calibration` as the object that its JSON file holds."""
    until = calibration.valid_until
    worth = {} if calibration.worth is None else {"worth": worth_to_json(calibration.worth)}
    return {
        "schema": SCHEMA,
        "device_id": calibration.device_id,
        "made_on": calibration.made_on.isoformat(),
        "gravity_m_s2": calibration.gravity_m_s2,
        "valid_until": until.isoformat() if until else None,
        "channels": [_channel_to_json(channel) for channel in calibration.channels],
        **worth,
    }


def _channel_to_json(channel: ChannelCalibration) -> dict[str, object]:
    values = {
        "index": channel.index,
        "zero_counts": channel.zero_counts,
        "newton_per_count": channel.newton_per_count,
        "newton_per_count2": channel.newton_per_count2,
        "standard_uncertainty_N": channel.standard_uncertainty_N,
        "range_N": channel.range_N,
        "made_on": channel.made_on.isoformat() if channel.made_on else None,
    }
    return {key: value for key, value in values.items() if value is not None}


def write_calibration(path: Path, calibration: Calibration) -> None:
    """Write `calibration` to `path` as JSON, whole or not at all; make its folder. Raises OSError."""
    path.parent.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
    write_whole(path, json.dumps(calibration_to_json(calibration), indent=1).encode() + b"\n")


def read_calibration(path: Path) -> Calibration:
    """Return the calibration in the JSON file `path`.

    Raises CalibrationError, which names the file and the key, where it cannot be read or does not fit the contract.
    """
    return parse_calibration(read_object(path), str(path))


def read_object(path: Path) -> object:
    """Return what the JSON file `path` holds. Raises CalibrationError where it is unreadable or no JSON."""
    try:
        return json.loads(path.read_bytes())
    except FileNotFoundError as error:
        raise CalibrationError(f"{path}: there is no such file; check the path of the calibration") from error
    except OSError as error:
        raise CalibrationError(f"{path}: cannot be read ({error.strerror or error})") from error
    except (ValueError, RecursionError) as error:
        raise CalibrationError(f"{path}: this is no JSON file; a calibration is one JSON object") from error


def parse_calibration(value: object, name: str) -> Calibration:
    """Return the calibration that `value`, read from JSON, describes; keys that are not known are passed over.

    Raises CalibrationError, which begins with `name` and says which key is wrong.
    """
    fields = Fields(value, name)
    if fields.get("schema") != SCHEMA:
        raise fields.refusal("schema", f"is {fields.get('schema')!r}, not {SCHEMA!r}; make a new calibration")
    if is_altered(value):
        raise fields.refusal("checksum", "does not fit the rest: the file was altered; take an unaltered copy")
    device_id = fields.get("device_id")
    if not isinstance(device_id, str) or not _DEVICE_ID.fullmatch(device_id.lower()):
        raise fields.refusal("device_id", "is not 16 hexadecimal digits")
    made_on = fields.day("made_on")
    until = None if fields.get("valid_until") is None else fields.day("valid_until")
    if until is not None and until < made_on:
        raise fields.refusal("valid_until", f"is {until}, before made_on ({made_on}); correct the dates")
    return Calibration(
        device_id=device_id.lower(),
        made_on=made_on,
        channels=_parse_channels(fields),
        valid_until=until,
        gravity_m_s2=fields.number("gravity_m_s2", STANDARD_GRAVITY, *_GRAVITY_RANGE),
        worth=parse_worth(fields),
    )


def _parse_channels(fields: Fields) -> tuple[ChannelCalibration, ...]:
    rows = fields.get("channels")
    if not isinstance(rows, list) or not 1 <= len(rows) <= MAX_CHANNELS:
        raise fields.refusal("channels", f"is not a list of 1 to {MAX_CHANNELS} channels")
    channels = tuple(_parse_channel(Fields(row, fields.name, f"channels[{i}].")) for i, row in enumerate(rows))
    if len({channel.index for channel in channels}) < len(channels):
        raise fields.refusal("channels", "names an index twice")
    return channels


def _parse_channel(fields: Fields) -> ChannelCalibration:
    index = fields.number("index", None, 0, MAX_CHANNELS - 1)
    if index != int(index):
        raise fields.refusal("index", "is no whole number")
    slope = fields.number("newton_per_count")
    curve = fields.number("newton_per_count2", 0.0)
    if slope == 0.0:
        raise fields.refusal("newton_per_count", "is 0, which makes every load 0")
    uncertainty = fields.get("standard_uncertainty_N")
    span, earlier = fields.get("range_N"), fields.get("made_on")
    return ChannelCalibration(
        index=int(index),
        zero_counts=fields.number("zero_counts"),
        newton_per_count=slope,
        newton_per_count2=curve,
        standard_uncertainty_N=None if uncertainty is None else fields.number("standard_uncertainty_N", None, 0.0),
        range_N=None if span is None else fields.number("range_N", None, 1e-9),
        made_on=None if earlier is None else fields.day("made_on"),
    )


def choose_calibration(
    device_id: str, given: Iterable[Calibration] = (), folder: Path | None = None
) -> Calibration | None:
    """Return the calibration of the scale `device_id`: one given by hand, else the user's own, else a virtual scale's
    or a laboratory stream's.

    `folder` is the user's folder of calibrations (None: the default place). Returns None where there is none.
    Raises CalibrationError where the user's own file cannot be used or belongs to another scale.
    """
    for calibration in given:
        if calibration.device_id == device_id:
            return calibration
    path = (folder or calibration_folder()) / f"{device_id}.json"
    if not path.exists():
        return known_calibration(device_id) or lab_calibration(device_id)
    own = read_calibration(path)
    if own.device_id != device_id:
        raise CalibrationError(f"{path}: is for the scale {own.device_id}, not {device_id}; make it anew")
    return own
