"""The process that reads a C3D file, and may crash: `python -m weightshare.records.c3d.child READER FILE OUT`.

Nothing of it runs in the program's own process. What it found goes to OUT, why it could not into one line on stderr.
"""

from __future__ import annotations

import contextlib
import json
import sys
import warnings
from collections.abc import Callable, Sequence
from typing import Any, Literal

import numpy as np

from weightshare.model import HEIGHT_COLUMNS, PART_COLUMNS, Floats
from weightshare.records.c3d.raw import FLAGS, MOST_PLATES, MOST_VALUES

MEMORY_BYTES = 3_000_000_000
CHANNELS = {1: 6, 2: 6, 3: 8, 4: 6}
"""How many analog channels a platform of each TYPE has (C3D user guide, FORCE_PLATFORM:TYPE)."""
METRES = {"m": 1.0, "dm": 0.1, "cm": 0.01, "mm": 0.001, "in": 0.0254}

_OWN = (*PART_COLUMNS, *HEIGHT_COLUMNS, FLAGS)

Get = Callable[[str], Any]
"""Returns a parameter by GROUP:NAME: numbers in the file's own order of dimensions, or a list of texts; else None."""


def main(arguments: Sequence[str]) -> int:
    """Read one file; return the exit status."""
    reader, path, out = arguments
    limit()
    warnings.simplefilter("ignore")
    try:
        get, analog, points = READERS[reader](path)
        require_whole(path, points.shape[2])
        head, arrays = gather(get, analog, points)
    except MemoryError:
        print("it asks for more memory than a recording needs", file=sys.stderr)
        return 1
    except Exception as error:
        print(" ".join(str(error).split())[:200] or type(error).__name__, file=sys.stderr)
        return 1
    np.savez(out, head=np.frombuffer(json.dumps(head).encode(), dtype=np.uint8), **arrays)
    return 0


def limit() -> None:
    """Bound the memory, and leave no core file behind; where the system cannot, nothing."""
    with contextlib.suppress(ImportError, OSError, ValueError):
        import resource

        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))


def read_ezc3d(path: str) -> tuple[Get, Floats, Floats]:
    """Return the parameters, analog values (channels, n) and points (3, markers, frames) as `ezc3d` reads them."""
    import ezc3d

    file = ezc3d.c3d(path)

    def get(name: str) -> Any:
        group, _, key = name.partition(":")
        found = file["parameters"].get(group, {}).get(key)
        return None if found is None else found["value"]

    points = np.asarray(file["data"]["points"], dtype=np.float64)
    residuals = np.asarray(file["data"]["meta_points"]["residuals"], dtype=np.float64)[0]
    seen = np.where(residuals < 0.0, np.nan, points[:3])
    return get, np.asarray(file["data"]["analogs"], dtype=np.float64)[0], seen


def read_c3d(path: str) -> tuple[Get, Floats, Floats]:
    """Return the same as the package `c3d` reads it."""
    import c3d

    with open(path, "rb") as handle:  # noqa: PTH123
        reader = c3d.Reader(handle)
        frames = [(points, analog) for _, points, analog in reader.read_frames()]
        if len(frames) != reader.last_frame - reader.first_frame + 1:
            raise ValueError(f"it ends after {len(frames)} of its frames")

        def get(name: str) -> Any:
            found = reader.get(name)
            return None if found is None else _c3d_value(found)

        points = np.stack([points for points, _ in frames], axis=-1).astype(np.float64)
        seen = np.where(points[:, 3] < 0.0, np.nan, points[:, :3].transpose(1, 0, 2))
        return get, np.concatenate([analog for _, analog in frames], axis=1), seen


def _c3d_value(parameter: Any) -> Any:
    if parameter.bytes_per_element < 0:
        return [str(text) for text in np.ravel(parameter.string_array)]
    kind = _C3D_KINDS[parameter.bytes_per_element]
    if not parameter.dimensions:
        return np.asarray([getattr(parameter, f"{kind}_value")])
    # the package gives dimensions the other way round than the file has them
    return np.asarray(getattr(parameter, f"{kind}_array")).T


_C3D_KINDS = {1: "int8", 2: "int16", 4: "float"}
"""What the package calls numbers of so many bytes."""

READERS: dict[str, Callable[[str], tuple[Get, Floats, Floats]]] = {"ezc3d": read_ezc3d, "c3d": read_c3d}


def gather(get: Get, analog: Floats, points: Floats) -> tuple[dict[str, Any], dict[str, Any]]:
    """Return what is needed of a file: a head that JSON can hold, and arrays. Raises ValueError where it is not one."""
    count = int(_numbers(get, "FORCE_PLATFORM:USED", 0)[0])
    if count > MOST_PLATES or max(analog.size, points.size) > MOST_VALUES:
        raise ValueError("it is larger than a recording of two platforms can be")
    labels = _texts(get, "POINT:LABELS")[: points.shape[1]]
    unit = (_texts(get, "POINT:UNITS") or ["mm"])[0] or "mm"
    if unit.lower() not in METRES:
        raise ValueError(f"POINT:UNITS is {unit!r}, which is no length")
    metres = METRES[unit.lower()]
    plates = [_plate(get, analog, k, metres) for k in range(count)]
    channels = _texts(get, "ANALOG:LABELS")[: len(analog)]
    own = [name for name in _OWN if name in channels]
    head = {
        "rate_Hz": _rate(get, analog, points),
        "point_rate_Hz": float(_numbers(get, "POINT:RATE", 0)[0]),
        "plates": count,
        "each": [each for each, _ in plates],
        "zero": _zero(get),
        "right_axis": (_texts(get, "POINT:X_SCREEN") or [""])[0],
        "up_axis": (_texts(get, "POINT:Y_SCREEN") or [""])[0],
        "labels": labels,
        "metres": metres,
        "own": own,
    }
    arrays = {key: value for _, each in plates for key, value in each.items()}
    arrays |= {f"own{k}": analog[channels.index(name)] for k, name in enumerate(own)}
    return head, arrays | {"markers": points[:, : len(labels)]}


def require_whole(path: str, frames: int) -> None:
    """Raise ValueError where `frames` are not all that a file has: a library may give out a part of it without a word.

    The header has the first and the last frame in its words 4 and 5, big-endian where the parameters' fourth byte is 86
    (C3D user guide, header and parameter sections). Words are two bytes: from 65,535 frames on the file's size tells.
    """
    with open(path, "rb") as handle:  # noqa: PTH123
        head = handle.read(512)
        handle.seek((head[0] - 1) * 512 + 3)
        kind = handle.read(1)
        size = handle.seek(0, 2)
    order: Literal["little", "big"] = "big" if kind == b"\x56" else "little"
    first, last = (int.from_bytes(head[at : at + 2], order) for at in (6, 8))
    if last < 0xFFFF and frames < last - first + 1:
        raise ValueError(f"it ends after {frames} of its {last - first + 1} frames")
    if last == 0xFFFF and frames < _least_frames(head, kind, size):
        raise ValueError(f"it has more frames than its header can count, of which {frames} can be read: cut it in two")


def _least_frames(head: bytes, kind: bytes, size: int) -> int:
    """Return how many frames a file of so many bytes has at least: its last block of 512 may be empty in part.

    Numbers are four bytes where the scale in words 7 and 8 is negative (C3D user guide, header section).
    """
    order: Literal["little", "big"] = "big" if kind == b"\x56" else "little"
    points, analog, start = (int.from_bytes(head[at : at + 2], order) for at in (2, 4, 16))
    sign = {b"\x56": 12, b"\x55": 13}.get(kind, 15)
    each = (4 * points + analog) * (4 if head[sign] & 0x80 else 2)
    return 0 if not each else -(-(size - (start - 1) * 512 - 511) // each)


def _rate(get: Get, analog: Floats, points: Floats) -> float:
    rate = float(_numbers(get, "ANALOG:RATE", 0)[0])
    if rate > 0.0 or not points.shape[2]:
        return rate
    point_rate = float(_numbers(get, "POINT:RATE", 0)[0])
    return point_rate * int(analog.shape[1]) / int(points.shape[2])


def _plate(get: Get, analog: Floats, k: int, metres: float) -> tuple[dict[str, Any], dict[str, Any]]:
    kind = int(_numbers(get, "FORCE_PLATFORM:TYPE", k + 1)[k])
    wanted = CHANNELS.get(kind)
    if wanted is None:
        raise ValueError(f"platform {k + 1} is of type {kind}; types 1 to 4 can be read")
    channel = _table(get, "FORCE_PLATFORM:CHANNEL", 2)[:wanted, k].astype(int) - 1
    if len(channel) < wanted or channel.min() < 0 or channel.max() >= len(analog):
        raise ValueError(f"platform {k + 1} names channels that the file does not have")
    units = [*_texts(get, "ANALOG:UNITS"), *[""] * len(analog)]
    corners = _table(get, "FORCE_PLATFORM:CORNERS", 3)[:, :, k]
    arrays = {f"corners{k}": corners, f"analog{k}": analog[channel]}
    if kind == 4:
        arrays[f"matrix{k}"] = _table(get, "FORCE_PLATFORM:CAL_MATRIX", 3)[:, :, k]
    labels = [*_texts(get, "ANALOG:LABELS"), *[""] * len(analog)]
    head = {"kind": kind, "units": [units[i] for i in channel], "metres": metres}
    return head | {"labels": [labels[i] for i in channel]}, arrays


def _zero(get: Get) -> tuple[int, int] | None:
    """Return ZERO from frame 0 on; the file counts from 1, and has `1 0` or `0 0` where nothing is to be subtracted."""
    found = get("FORCE_PLATFORM:ZERO")
    ends = np.ravel(found).tolist() if found is not None else []
    return (int(ends[0]) - 1, int(ends[1]) - 1) if len(ends) == 2 and 1 <= ends[0] <= ends[1] else None


def _numbers(get: Get, name: str, least: int) -> Any:
    found = get(name)
    values = np.ravel(np.zeros(1) if found is None and least == 0 else found)
    if found is not None and values.size < max(least, 1):
        raise ValueError(f"{name} has {values.size} entries")
    if values.dtype.kind not in "iuf" or not np.isfinite(values).all():
        raise ValueError(f"{name} is missing")
    return values


def _table(get: Get, name: str, dimensions: int) -> Any:
    found = np.asarray(get(name))
    if found.dtype.kind not in "iuf" or found.ndim not in (dimensions, dimensions - 1):
        raise ValueError(f"{name} is missing")
    # of one platform the last dimension may be left out
    return found[..., None] if found.ndim < dimensions else found


def _texts(get: Get, name: str) -> list[str]:
    found = get(name)
    return [] if found is None else [str(text).strip(" \0") for text in np.ravel(np.asarray(found, dtype=object))]


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
