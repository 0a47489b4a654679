"""The first of two scales waits for the other: it is asked again, and starts as soon as both can."""

from __future__ import annotations

import numpy as np

from weightshare.model import Channel, Chunk, Identity, Quantity, Side
from weightshare.scales.conversation import WAIT, Conversation, Playback, Stage
from weightshare.scales.message import Start, Who
from weightshare.scales.stream import CommandReader

MS = 1_000_000
SCALE = Identity("0011223344556677", (1, 2, 3), 5, 1_000_000, 80.0, (Channel(Quantity.FORCE, Side.LEFT),), "left")


class Pair:
    """A judge that waits until the other scale is there."""

    def __init__(self) -> None:
        self.complete = False

    def __call__(self, identity: Identity) -> str | None:
        return None if self.complete else WAIT


def said(talk: Conversation, now_ns: int) -> list[type]:
    return [type(command) for command in CommandReader().feed(talk.due(now_ns))]


def waiting(kind: type[Conversation] = Conversation) -> tuple[Pair, Conversation]:
    pair = Pair()
    talk = kind(0, pair)
    talk.due(0)
    talk.hear(SCALE, 10 * MS)
    return pair, talk


def test_it_is_asked_again_soon_and_not_started() -> None:
    _pair, talk = waiting()
    assert talk.stage is Stage.WAITING
    assert said(talk, 100 * MS) == []
    assert said(talk, 210 * MS) == [Who]
    talk.hear(SCALE, 220 * MS)
    assert talk.stage is Stage.WAITING
    assert talk.complaint(220 * MS) == ""


def test_it_starts_once_the_other_is_there() -> None:
    pair, talk = waiting()
    pair.complete = True
    assert said(talk, 210 * MS) == [Who]
    talk.hear(SCALE, 220 * MS)
    assert talk.stage is Stage.STARTING
    assert said(talk, 220 * MS) == [Start]


def test_one_that_goes_away_while_it_waits_is_said_to_be_silent() -> None:
    _pair, talk = waiting()
    assert said(talk, 2_900 * MS) == [Who]
    assert talk.complaint(2_900 * MS) == ""
    talk.due(3_100 * MS)
    assert talk.complaint(3_100 * MS).startswith("silent: nothing answers")
    talk.hear(SCALE, 4_000 * MS)
    assert talk.stage is Stage.WAITING


def test_one_that_samples_already_is_taken_without_being_asked() -> None:
    for kind in (Conversation, Playback):
        pair, talk = waiting(kind)
        chunk = Chunk(
            np.zeros(1, np.uint16),
            np.zeros(1, np.uint32),
            np.full(1, 12_500, np.uint32),
            np.zeros(1, np.int64),
            np.zeros((1, 4, 1), np.int32),
        )
        talk.hear(chunk, 50 * MS)
        before = talk.stage
        pair.complete = True
        talk.hear(chunk, 100 * MS)
        assert [before, talk.stage] == [Stage.WAITING, Stage.SAMPLING]
