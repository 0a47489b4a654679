"""A finished session of somebody on the virtual scales, in no time: the same bytes as over a link, none of its waits.

The person goes by their own will, so that when sets begin is known afterwards only, and written down then.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from weightshare import __version__
from weightshare.exercise import SetSpan
from weightshare.model import Calibration, Condition
from weightshare.programme.prescription import Prescription
from weightshare.records.calibration import write_calibration
from weightshare.records.diary import Entry, add_entries
from weightshare.records.raw import RAW_NAME, tell_set
from weightshare.records.session import finish_session
from weightshare.records.setting import SessionHead, write_head
from weightshare.scales.capture import RawWriter
from weightshare.scales.frame import encode, encode_samples, to_stream
from weightshare.scales.message import Kind, Reply, Result, Start, Who
from weightshare.scales.rig.catalog import FAULTS
from weightshare.scales.rig.cell import COLUMNS, PAIR_ID, Cells
from weightshare.scales.rig.heel import HEELS_OF, HeelBuild, HeelSensors
from weightshare.scales.rig.oscillator import TICK_RATE_HZ
from weightshare.scales.rig.person import Person
from weightshare.scales.rig.plan import Task
from weightshare.scales.rig.profile import Profile
from weightshare.scales.rig.scene import Cast
from weightshare.scales.rig.told import tell_identity
from weightshare.task import Goal, Settings

BLOCK_S, LOOK_S = 0.5, 10.0
"""Sensors are read in blocks of half a second, as their drift is; the person is looked at many blocks ahead."""
ROWS_S = 0.05
"""A SAMPLES frame leaves at least so often."""
LATE_NS = 4_000_000
"""From a frame's last sample to its arrival."""
BEFORE_S, AFTER_S = 0.5, 1.5
"""A set begins so long before its first repetition; the session ends so long after the last."""
LONGEST_S = 900.0


@dataclass(frozen=True, slots=True)
class Asked:
    """What is done, against what it is measured, when it began, and what the person said of it."""

    settings: Settings
    goal: Goal
    began: datetime
    prescription: Prescription | None = None
    said: tuple[Entry, ...] = ()
    rest_s: float | None = None
    """How long the person really rests; None: as asked."""


def play_session(
    place: Path, who: Profile, asked: Asked, calibration: Calibration, *, seed: int = 1, rate_Hz: float = 100.0
) -> Path:
    """Write the finished session of `who` into a folder of its own in `place`; return that folder."""
    goal = asked.goal if asked.rest_s is None else replace(asked.goal, rest_s=asked.rest_s)
    cast = Cast(who, FAULTS["clean"], Task.of(asked.settings, goal), seed, HeelBuild())
    person = Person(cast.profile, cast.task, seed)
    folder = place / f"session-{asked.began:%Y-%m-%d-%H%M%S}"
    folder.mkdir(parents=True)
    with RawWriter(folder / RAW_NAME) as raw:
        seconds = _write_raw(raw, cast, person, rate_Hz)
        spans = tuple(_spans(person, asked)) if asked.settings.is_repeated else ()
        for span in spans:
            raw.note(round(seconds * 1e9), tell_set(span))
        raw.end(round(seconds * 1e9))
    write_calibration(folder / "calibration.json", calibration)
    began = asked.began.isoformat(timespec="seconds")
    head = SessionHead(asked.settings, asked.goal, ("rig:",), began, f"weightshare {__version__}", spans)
    write_head(folder, replace(head, prescription=asked.prescription))
    finish_session(folder)
    add_entries(folder, *asked.said)
    return folder


def _write_raw(raw: RawWriter, cast: Cast, person: Person, rate_Hz: float) -> float:
    """Write what the scale sends until the person has done all that was asked; return how long that was, s."""
    raw.up(0)
    for command, answer in _greetings(cast, rate_Hz):
        raw.sent(1_000_000, command)
        raw.received(2_000_000, answer)
    rows, step, seconds = max(1, round(ROWS_S * rate_Hz)), round(TICK_RATE_HZ / rate_Hz), 0.0
    for number, readings in enumerate(_read(cast, person, 1.0 / rate_Hz, rows)):
        tick, seconds = (number * rows * step) & 0xFFFFFFFF, (number + 1) * rows / rate_Hz
        told = [encode_samples(number & 0xFFFF, tick, step, readings)]
        if number % round(1.0 / ROWS_S) == 0:
            told.append(encode(Condition(tick, 0, 21.0, 0, 0)))
        raw.received(round(seconds * 1e9) + LATE_NS, b"".join(map(to_stream, told)))
    raw.down(round(seconds * 1e9) + 2 * LATE_NS)
    return seconds


def _greetings(cast: Cast, rate_Hz: float) -> Iterator[tuple[bytes, bytes]]:
    """Give what is said before the first sample, with its answers."""
    identity = tell_identity(PAIR_ID, cast, cast.fault, rate_Hz)
    started = Reply(Kind.START, 2, Result.DONE)
    yield to_stream(encode(Who(1))), to_stream(encode(identity))
    yield to_stream(encode(Start(2, rate_Hz))), to_stream(encode(started))


def _read(cast: Cast, person: Person, interval_s: float, rows: int) -> Iterator[NDArray[np.int32]]:
    """Give the readings of each frame, of shape (rows, channels), until nothing more is done."""
    cells = Cells(COLUMNS[PAIR_ID], cast.seed, cast.fault)
    heels = HeelSensors(HEELS_OF[PAIR_ID], cast.seed, cast.fault, cast.placement_mm, cast.profile.stature_m)
    block, look = (max(rows, round(wanted_s / interval_s)) for wanted_s in (BLOCK_S, LOOK_S))
    done = 0
    while not _is_over(person, cast.task, done * interval_s):
        time_s = np.arange(done, done + look, dtype=np.float64) * interval_s
        force_N, height_mm = person.look(time_s)
        for at in range(0, look, block):
            part = slice(at, at + block)
            forces = cells.read(time_s[part], force_N[part], interval_s)
            heights = heels.read(time_s[part], height_mm[part], interval_s)
            readings = np.concatenate((forces, heights), axis=1)
            yield from (readings[k : k + rows] for k in range(0, block, rows))
        done += look


def _is_over(person: Person, task: Task, now_s: float) -> bool:
    """Return whether all repetitions, or holds, that were asked for are done."""
    is_repeated = task.exercise is not None and task.exercise.is_repeated
    wanted = task.sets * task.repetitions if is_repeated else task.holds
    counted = [deed for deed in person.deeds if deed.counts and deed.to_s + AFTER_S <= now_s]
    return len(counted) >= wanted or now_s >= LONGEST_S


def _spans(person: Person, asked: Asked) -> Iterator[SetSpan]:
    """Give the sets that were done: from just before the first repetition to just after the last."""
    counted = [deed for deed in person.deeds if deed.counts]
    for number in sorted({deed.number for deed in counted}):
        mine = [deed for deed in counted if deed.number == number]
        blind = number in asked.goal.blind_sets
        yield SetSpan(number, mine[0].from_s - BEFORE_S, mine[-1].to_s + 0.3, blind=blind)
