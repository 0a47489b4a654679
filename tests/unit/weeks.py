"""Eight weeks of one made-up patient as values: quick to make, for what only has to be told and drawn."""

from __future__ import annotations

from datetime import date, datetime, timedelta, timezone

from weightshare.exercise import Basis, CeilingEvent, Repetition
from weightshare.model import Calibration, ChannelCalibration, Side
from weightshare.programme.prescription import goal_of, prescribe
from weightshare.programme.shelf import find_programme
from weightshare.programme.stage import Stage
from weightshare.records.answer import HELD, LOWERING
from weightshare.records.diary import About, Diary, Entry
from weightshare.records.digest import Digest
from weightshare.records.figure import Figure
from weightshare.records.setting import SessionHead
from weightshare.records.store.ruling import Ruling
from weightshare.report.account import Person
from weightshare.report.history import Chapter, History
from weightshare.state import Hold

FIRST = datetime(2026, 3, 2, 10, 0, tzinfo=timezone(timedelta(hours=1)))
PROGRAMME = find_programme("achilles")
CALIBRATION = Calibration("0011223344556677", date(2026, 1, 2), (ChannelCalibration(0, 0.0, 0.001),), date(2026, 4, 1))
STAGES = ("hold-10", "hold-30", "raise-slow", "lowering-60", "lowering-75", "lowering-80")


def stage_of(key: str) -> Stage:
    found = PROGRAMME.find(key)
    assert found is not None
    return found


def chapter(
    day: int,
    key: str = "lowering-75",
    share: float | None = 74.0,
    pain: int | None = 1,
    *,
    events: tuple[CeilingEvent, ...] | None = None,
    count: int | None = None,
) -> Chapter:
    """One session, `day` days after 2 March 2026; count: of repetitions or holds, None: as many as asked."""
    stage, kept = stage_of(key), PROGRAMME.prescription(stage_of(key))
    settings, goal = prescribe(stage, Side.LEFT), goal_of(stage)
    at = FIRST + timedelta(days=day)
    asked = goal.sets * goal.repetitions if settings.is_repeated else goal.holds
    done = asked if count is None else count
    name = LOWERING if settings.is_repeated else HELD
    said = () if pain is None else (Entry(About.PAIN_DURING, at.isoformat(), pain),)
    repetition = Repetition(Basis.HEIGHT, 1.0, 2.0, 3.0, 5.0)
    digest = Digest(
        120.0, 80.0, 700.0, share, None, None, Basis.HEIGHT,
        holds=None if settings.is_repeated else (Hold(5.0, 5.0 + goal.hold_s, goal.hold_s, supported=False),) * done,
        repetitions=(repetition,) * done if settings.is_repeated else (),
        rejected=(), gaps=(), ceiling=events, alignment=None, warnings=(),
    )  # fmt: skip
    figures = () if share is None else (Figure(name, "%", share, Side.LEFT),)
    head = SessionHead(settings, goal, ("tcp://scale:1",), at.isoformat(), "weightshare 0", prescription=kept)
    return Chapter(f"{day:032x}", at.isoformat(), at.date(), key, head, digest, figures, Diary(said), (CALIBRATION,))


def weeks(sessions: int = 24, days: int = 56, code: str = "A-017", **changes: object) -> History:
    """So many sessions over so many days, through all STAGES in turn."""
    places = [round(number * (days - 1) / max(1, sessions - 1)) for number in range(sessions)]
    keys = [STAGES[number * len(STAGES) // sessions] for number in range(sessions)]
    targets = [stage_of(key).target_percent or 50.0 for key in keys]
    chapters = tuple(
        chapter(day, key, target + (number % 5 - 2), number % 4)
        for number, (day, key, target) in enumerate(zip(places, keys, targets, strict=True))
    )
    at = (FIRST + timedelta(days=days)).isoformat()
    ruling = Ruling(at, "M. Example", "goes on", "lowering-75", "lowering-80", "All criteria met on two days.")
    values = {"person": Person(code), "chapters": chapters, "rulings": (ruling,), "stage": "lowering-80"} | changes
    return History(programme="achilles", **values)  # type: ignore[arg-type]
