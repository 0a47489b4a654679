"""The drift log: one line a session, whole or passed over, and what it says of the scale."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from weightshare.model import Side
from weightshare.records.drift import Entry, append_entry, drift_of, drift_path, drift_words, make_drift

ID = "0011223344556677"
FIRST = Entry(datetime(2026, 3, 2, 9, 0, tzinfo=UTC), "session", date(2026, 3, 1), 0.5, -0.25)


def days_later(days: float, **changes: object) -> Entry:
    return replace(FIRST, at=FIRST.at + timedelta(days=days), **changes)  # type: ignore[arg-type]


def test_what_was_added_is_read_again_in_order(tmp_path: Path) -> None:
    later = days_later(3.0, kind="check", mismatch_percent=0.4, u_mismatch_percent=0.1, remarks=("rocking",))
    for entry in (later, FIRST):
        append_entry(ID, entry, tmp_path)
    drift = drift_of(ID, tmp_path)
    assert drift.entries == (FIRST, later) and drift.damaged == 0
    assert drift.day[1] - drift.day[0] == pytest.approx(3.0)
    assert drift.left_zero_N.tolist() == [0.5, 0.5] and np.isnan(drift.mismatch_percent[0])


def test_a_scale_without_a_log_has_an_empty_one(tmp_path: Path) -> None:
    drift = drift_of(ID, tmp_path)
    assert drift.entries == () and drift.day.shape == (0,) and drift_words(drift) == ()
    assert drift.trend(Side.LEFT) is None and not drift_path(ID, tmp_path).exists()


def test_a_line_cut_short_spoils_itself_alone(tmp_path: Path) -> None:
    append_entry(ID, FIRST, tmp_path)
    path = drift_path(ID, tmp_path)
    whole = path.read_bytes()
    for kept in range(1, len(whole) - 1):
        path.write_bytes(whole + whole[:kept])
        append_entry(ID, days_later(1.0), tmp_path)
        drift = drift_of(ID, tmp_path)
        assert drift.entries == (FIRST, days_later(1.0)) and drift.damaged == 1, kept


@pytest.mark.parametrize(
    "line",
    [b"\x00" * 40, b"[]", b'"at"', b"{}", b'{"crc": "00000000"}', b"\xff\xfe", b"null", b"[" * 3000],
)
def test_lines_that_are_none_are_passed_over(tmp_path: Path, line: bytes) -> None:
    append_entry(ID, FIRST, tmp_path)
    with drift_path(ID, tmp_path).open("ab") as file:
        file.write(line + b"\n")
    drift = drift_of(ID, tmp_path)
    assert drift.entries == (FIRST,) and drift.damaged == 1


def test_a_digit_that_was_changed_is_seen(tmp_path: Path) -> None:
    append_entry(ID, FIRST, tmp_path)
    path = drift_path(ID, tmp_path)
    path.write_bytes(path.read_bytes().replace(b'"left_zero_N": 0.5', b'"left_zero_N": 1.5'))
    assert drift_of(ID, tmp_path).damaged == 1


def test_what_is_there_is_never_changed(tmp_path: Path) -> None:
    append_entry(ID, FIRST, tmp_path)
    before = drift_path(ID, tmp_path).read_bytes()
    append_entry(ID, days_later(1.0), tmp_path)
    assert drift_path(ID, tmp_path).read_bytes().startswith(before)


def test_the_log_holds_nothing_of_a_patient(tmp_path: Path) -> None:
    append_entry(ID, FIRST, tmp_path)
    keys = set(json.loads(drift_path(ID, tmp_path).read_bytes()))
    zeros = {"left_zero_N", "right_zero_N", "mismatch_percent", "u_mismatch_percent", "temperature_degC"}
    assert keys == zeros | {"schema", "at", "kind", "calibrated_on", "remarks", "crc"}
    assert drift_path(ID, tmp_path).stat().st_mode & 0o077 == 0


def wandering(per_month_N: float, noise_N: float = 0.3) -> tuple[Entry, ...]:
    rng = np.random.default_rng(5)
    zeros = [per_month_N * day / 30.4375 + noise_N * rng.standard_normal() for day in range(0, 120, 5)]
    return tuple(days_later(5.0 * k, left_zero_N=zero) for k, zero in enumerate(zeros))


def test_a_zero_that_wanders_steadily_is_said_with_its_interval() -> None:
    drift = make_drift(ID, wandering(3.0))
    trend = drift.trend(Side.LEFT)
    assert trend is not None and trend.is_steady
    low, high = trend.per_month.interval()
    assert low < 3.0 < high and high - low < 0.4
    assert drift_words(drift) == ("the left plate's zero wanders by +3.0 \u00b1 0.1 N a month, seen over 115 days",)


def test_a_zero_that_stays_is_not_spoken_of() -> None:
    assert drift_words(make_drift(ID, wandering(0.0))) == ()


def test_a_new_calibration_begins_a_new_trend() -> None:
    before = wandering(9.0)
    after = tuple(days_later(120.0 + k, calibrated_on=date(2026, 7, 1)) for k in range(3))
    assert make_drift(ID, (*before, *after)).trend(Side.LEFT) is None


def test_what_was_found_before_a_new_calibration_is_not_held_against_it() -> None:
    before = (days_later(1.0, left_zero_N=44.0), days_later(2.0, left_zero_N=None, mismatch_percent=3.0))
    assert len(drift_words(make_drift(ID, before))) == 2
    after = days_later(3.0, calibrated_on=date(2026, 7, 1))
    assert drift_words(make_drift(ID, (*before, after))) == ()
    assert make_drift(ID, (*before, after)).since(date(2026, 7, 1)).entries == (after,)


def test_a_far_zero_and_a_mismatch_are_said() -> None:
    drift = make_drift(ID, (FIRST, days_later(1.0, right_zero_N=-31.0, mismatch_percent=-1.9)))
    zero, mismatch = drift_words(drift)
    assert zero == "the right plate's zero is -31 N from its calibration's: have the scale calibrated"
    assert mismatch == "the right plate reads 1.9 % more than the other: have the scale calibrated"
