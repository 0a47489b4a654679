"""The process that writes a C3D file, and may crash: `python -m weightshare.records.export.child IN FILE`.

IN holds a `Recording` as arrays. Why it could not be written goes into one line on stderr.
"""

from __future__ import annotations

import json
import sys
import warnings
from collections.abc import Sequence
from typing import Any

import numpy as np

from weightshare.records.c3d.raw import FORCES

VIRTUAL = "virtual scales, virtual person"
"""What the parameter SESSION:VIRTUAL, one of our own, says of a recording that is of nobody; else `no`."""


def main(arguments: Sequence[str]) -> int:
    """Write one file; return the exit status."""
    given, path = arguments
    warnings.simplefilter("ignore")
    try:
        with np.load(given, allow_pickle=False) as arrays:
            head = json.loads(arrays["head"].tobytes())
            write_c3d(head, arrays["analog"], arrays["corners"], path)
    except Exception as error:
        print(" ".join(str(error).split())[:200] or type(error).__name__, file=sys.stderr)
        return 1
    return 0


def write_c3d(head: dict[str, Any], analog: Any, corners: Any, path: str) -> None:
    """Write analog channels (channels, n) and two platforms with `corners` (3, 4, 2), mm, with the library `ezc3d`."""
    import ezc3d

    file: Any = ezc3d.c3d()
    parameters, rate, each = file["parameters"], float(head["rate_Hz"]), int(head["frame_samples"])
    parameters["POINT"]["RATE"]["value"] = [rate / each]
    parameters["POINT"]["UNITS"]["value"] = ("mm",)
    parameters["ANALOG"]["RATE"]["value"] = [rate]
    parameters["ANALOG"]["LABELS"]["value"] = tuple(head["labels"])
    parameters["ANALOG"]["UNITS"]["value"] = tuple(head["units"])
    parameters["ANALOG"]["DESCRIPTIONS"]["value"] = tuple(head["meanings"])
    file["data"]["points"] = np.zeros((4, 0, analog.shape[1] // each))
    file["data"]["analogs"] = analog[None]
    channel = np.arange(1, 2 * len(FORCES) + 1).reshape(2, len(FORCES)).T
    whole = {"USED": np.array([2]), "TYPE": np.array([2, 2]), "ZERO": np.array([1, 0]), "CHANNEL": channel}
    for name, value in whole.items():
        _add_whole(file, "FORCE_PLATFORM", name, value)
    for name, value in (("CORNERS", corners), ("ORIGIN", np.zeros((3, 2)))):
        file.add_parameter("FORCE_PLATFORM", name, value)
    _add_events(file, head["events"])
    for name, value in (("SOFTWARE", head["program"]), ("VERSION", head["version"])):
        file.add_parameter("MANUFACTURER", name, (value,))
    file.add_parameter("SESSION", "VIRTUAL", (VIRTUAL if head["virtual"] else "no",))
    file.write(path)


def _add_whole(file: Any, group: str, name: str, value: Any) -> None:
    """Add whole numbers as such: the library's own way makes them floating-point ones, which readers refuse."""
    from ezc3d import ezc3d as core

    file.add_parameter(group, name, value.astype(np.float64))
    file["parameters"][group][name] |= {"type": core.INT, "value": value}


def _add_events(file: Any, events: Sequence[Sequence[Any]]) -> None:
    """Add the group EVENT, where TIMES are minutes and seconds from the first sample (C3D user guide, EVENT:TIMES)."""
    _add_whole(file, "EVENT", "USED", np.array([len(events)]))
    if not events:
        return
    file.add_parameter("EVENT", "CONTEXTS", tuple(str(one[2]) for one in events))
    file.add_parameter("EVENT", "LABELS", tuple(str(one[1]) for one in events))
    file.add_parameter("EVENT", "TIMES", np.array([divmod(float(one[0]), 60.0) for one in events]).T)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
