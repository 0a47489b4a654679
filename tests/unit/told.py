"""Whole finished sessions for tests of the report: all that went over a virtual scale's link, recorded and analysed."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta, timezone
from pathlib import Path

from weightshare.exercise import Exercise, SetSpan, Tempo
from weightshare.model import Side
from weightshare.records.calibration import write_calibration
from weightshare.records.manifest import Ending
from weightshare.records.raw import RAW_NAME
from weightshare.records.session import finish_session
from weightshare.records.setting import SessionHead, write_head
from weightshare.scales.capture import EntryKind, RawWriter
from weightshare.scales.rig.cell import rig_calibration
from weightshare.scales.rig.duet import play_duet
from weightshare.task import Goal, Settings

FIRST = datetime(2026, 3, 2, 10, 0, tzinfo=timezone(timedelta(hours=1)))
HOLD = Settings(Side.RIGHT, 60.0)
FREE = Settings(Side.RIGHT)
LOWERING = Settings(Side.LEFT, 75.0, exercise=Exercise.LOWERING, tempo=Tempo(1.0, 1.0, 3.0, 1.0))


def record(
    place: Path,
    settings: Settings = HOLD,
    spec: str = "steady",
    seconds: float = 45.0,
    goal: Goal | None = None,
    *,
    day: int = 0,
    sets: tuple[SetSpan, ...] = (),
    ending: Ending | None = Ending.COMPLETE,
) -> Path:
    """Record what one of the rig's people does in `seconds`, `day` days after 2 March 2026; return the folder.

    ending: None leaves it unfinished.
    """
    goal = goal or Goal(hold_s=8.0, holds=2, sets=1, repetitions=4)
    started_at = (FIRST + timedelta(days=day)).isoformat()
    folder = place / f"session-{started_at[:19].replace(':', '')}"
    folder.mkdir(parents=True)
    duet = play_duet(f"{spec},seed={day + 1}", seconds, settings, goal)
    with RawWriter(folder / RAW_NAME) as raw:
        for entry in duet.entries:
            if entry.kind is EntryKind.UP:
                raw.up(entry.arrival_ns)
            elif entry.kind is EntryKind.DOWN:
                raw.down(entry.arrival_ns, entry.reason())
            else:
                (raw.received if entry.kind is EntryKind.RX else raw.sent)(entry.arrival_ns, entry.payload)
        raw.end(round(seconds * 1e9))
    write_calibration(folder / "calibration.json", replace(rig_calibration(), made_on=FIRST.date()))
    head = SessionHead(settings, goal, ("rig:",), started_at, "weightshare 0", sets)
    write_head(folder, head)
    if ending is not None:
        finish_session(folder, ending)
    return folder


def one_set(seconds: float, settings: Settings = LOWERING) -> tuple[SetSpan, ...]:
    """One set from the fifth second on."""
    return (SetSpan(1, 5.0, seconds, settings.working_side),)
