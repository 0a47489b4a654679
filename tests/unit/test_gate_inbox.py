"""What goes from the links to the pipeline: the session's own scale only, and never more than is room for."""

from __future__ import annotations

import threading

import numpy as np

from weightshare.model import Channel, Chunk, Condition, Identity, Item, LinkDown, LinkUp, Quantity, Side, Sourced
from weightshare.practice.inbox import Inbox
from weightshare.scales.gate import Gate

OWN = Identity("00000000000000aa", (1, 0, 0), 1, 1000, 80.0, (Channel(Quantity.FORCE, Side.LEFT),))
OTHER = Identity("00000000000000bb", (1, 0, 0), 1, 1000, 80.0, (Channel(Quantity.FORCE, Side.LEFT),))
NEWER = Identity("", (0, 0, 0), 0, 0, 0.0, (), protocol=2)
STATE = Condition(0, 0, None, 0, 0)


def chunk(frames: int = 1, samples: int = 4) -> Chunk:
    column = np.arange(frames)
    readings = np.zeros((frames, samples, 1), np.int32)
    return Chunk(column.astype("u2"), column.astype("u4"), column.astype("u4"), column.astype("i8"), readings)


def test_only_the_sessions_own_scale_passes() -> None:
    gate = Gate("00000000000000aa")
    early, own, others, late = chunk(), chunk(), chunk(), chunk()
    items: list[Item] = [LinkUp(0), early, OWN, own, STATE, OTHER, others, NEWER, STATE, LinkDown(1), OWN, late]
    passed = gate.sift(items)
    assert [type(item) for item in passed] == [LinkUp, Identity, Chunk, Condition, LinkDown, Identity, Chunk]
    assert passed[2] is own
    assert passed[6] is late
    assert gate.turned_away == 5


def test_the_gate_does_not_mind_how_the_items_are_grouped() -> None:
    items: list[Item] = [LinkUp(0), chunk(), OWN, chunk(), OTHER, chunk(), OWN, chunk()]
    whole = Gate("00000000000000aa").sift(items)
    single = Gate("00000000000000aa")
    assert [item for each in items for item in single.sift([each])] == whole


def test_items_come_out_in_order() -> None:
    inbox = Inbox()
    inbox.put([LinkUp(1), OWN])
    inbox.put([STATE], 1)
    assert inbox.take(0.0) == [(0, LinkUp(1)), (0, OWN), (1, STATE)]
    assert inbox.take(0.0) == []


def test_a_full_inbox_drops_samples_counts_them_and_keeps_the_rest() -> None:
    inbox = Inbox(limit=2)
    kept = chunk()
    inbox.put([LinkUp(1), kept, chunk(3, 4), STATE, OTHER, LinkDown(2, "lost")])
    assert inbox.dropped_samples == 12
    assert [each.item for each in inbox.take(0.0)] == [LinkUp(1), kept, OTHER, LinkDown(2, "lost")]
    inbox.put([chunk()])
    assert len(inbox.take(0.0)) == 1


def test_closing_wakes_who_waits_and_leaves_what_is_there() -> None:
    inbox = Inbox()
    taken: list[list[Sourced]] = []
    waiting = threading.Thread(target=lambda: taken.append(inbox.take(30.0)))
    waiting.start()
    inbox.put([STATE])
    inbox.close()
    waiting.join(5)
    assert not waiting.is_alive()
    assert taken == [[(0, STATE)]]
    assert inbox.is_over
    assert inbox.take(30.0) == []
