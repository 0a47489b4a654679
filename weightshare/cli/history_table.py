"""The history of scales as lines that a person reads, and as JSON."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

from weightshare.records.bench import History, Kept, no_scale
from weightshare.records.change import Change, changes
from weightshare.records.drift import Drift, drift_words

SCHEMA = "weightshare.history/1"
Told = tuple[History, Drift]


def history_json(told: Sequence[Told]) -> dict[str, Any]:
    """Return the JSON object of the histories of some scales, each with its drift log."""
    return {"schema": SCHEMA, "scales": [_scale_json(*one) for one in told]}


def _scale_json(history: History, drift: Drift) -> dict[str, Any]:
    return {
        "device_id": history.device_id,
        "calibrations": [_kept_json(one) for one in history.kept],
        "changes": [_change_json(one) for one in changes(history.kept)],
        "log_entries": len(drift.entries),
        "log_damaged": drift.damaged,
        "drift": list(drift_words(drift)),
        "passed_over": list(history.passed_over),
    }


def _kept_json(kept: Kept) -> dict[str, Any]:
    calibration = kept.calibration
    return {
        "made_on": calibration.made_on.isoformat(),
        "made_at": kept.made_at.isoformat() if kept.made_at is not None else None,
        "valid_until": calibration.valid_until.isoformat() if calibration.valid_until is not None else None,
        "made_by": kept.made_by or None,
        "made_with": kept.made_with or None,
        "on_bench": kept.record is not None,
        "points": sum(len(one.points) for one in kept.taken) or None,
        "file": str(kept.path),
        "channels": [
            {"index": one.index, "zero_counts": one.zero_counts, "newton_per_count": one.newton_per_count}
            for one in calibration.channels
        ],
    }


def _change_json(change: Change) -> dict[str, Any]:
    half = change.slope_percent.expanded()
    return {
        "channel": change.channel,
        "since": change.since.isoformat(),
        "until": change.until.isoformat(),
        "slope_percent": change.slope_percent.value,
        "half_width_percent": half if math.isfinite(half) else None,
        "beyond_doubt": change.is_sure,
        "zero_N": change.zero_N,
    }


def history_table(told: Sequence[Told]) -> str:
    """Return the histories as lines, scale after scale."""
    if not told:
        return no_scale()
    return "\n\n".join("\n".join(_lines(*one)) for one in told)


def _lines(history: History, drift: Drift) -> Iterator[str]:
    yield f"scale {history.device_id}"
    if history.kept:
        yield f"{'calibrated':14}{'valid until':14}{'channels':>8}   made"
    for one in history.kept:
        calibration = one.calibration
        until = str(calibration.valid_until or "no limit")
        points = sum(len(fit.points) for fit in one.taken)
        parts = (one.made_by, one.made_with, f"of {points} points" if points else "")
        made = ", ".join(_one_line(part) for part in parts if part)
        yield f"{calibration.made_on!s:14}{until:14}{len(calibration.channels):>8}   {made or 'elsewhere'}"
    found = changes(history.kept)
    if found:
        yield f"{'from':14}{'to':14}{'channel':>8}{'slope, %':>12}{'+-, % (95 %)':>14}{'zero, N':>10}"
    yield from (_change_line(one) for one in found)
    log = f"drift log: {len(drift.entries)} entries" + (f", {drift.damaged} damaged" if drift.damaged else "")
    yield log if drift.entries or drift.damaged else "drift log: none yet"
    yield from (f"note: {words}" for words in (*drift_words(drift), *history.passed_over))


def _change_line(change: Change) -> str:
    half = change.slope_percent.expanded()
    said = f"{half:.3f}" if math.isfinite(half) else "not known"
    sure = "   more than by chance" if change.is_sure else ""
    values = f"{change.channel:>8}{change.slope_percent.value:>+12.3f}{said:>14}{change.zero_N:>+10.2f}"
    return f"{change.since!s:14}{change.until!s:14}{values}{sure}"


def _one_line(text: str) -> str:
    return " ".join("".join(letter if letter.isprintable() else " " for letter in text).split())
