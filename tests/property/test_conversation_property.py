"""Whatever a scale says and when: the host never talks without end, and always has an end of waiting."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from weightshare.model import Channel, Chunk, Condition, Identity, Quantity, Side
from weightshare.scales.conversation import Conversation, Stage
from weightshare.scales.message import Echo, Message, Reply, Result

MS = 1_000_000
CHANNELS = (Channel(Quantity.FORCE, Side.LEFT), Channel(Quantity.FORCE, Side.RIGHT))
SAMPLES = Chunk(
    np.zeros(1, np.uint16),
    np.zeros(1, np.uint32),
    np.ones(1, np.uint32),
    np.zeros(1, np.int64),
    np.zeros((1, 1, 2), np.int32),
)
identities = st.builds(
    lambda device, boot, protocol: Identity(device, (1, 0, 0), boot, 1000, 80.0, CHANNELS, protocol=protocol),
    st.sampled_from(["00000000000000aa", "00000000000000bb"]),
    st.integers(0, 2),
    st.sampled_from([1, 1, 1, 2]),
)
replies = st.builds(Reply, st.integers(0x81, 0x85), st.integers(0, 8), st.sampled_from(list(Result)))
messages = st.one_of(
    identities,
    replies,
    st.builds(Echo, st.integers(0, 8), st.just(0)),
    st.just(Condition(0, 0, None, 0, 0)),
    st.just(SAMPLES),
)
steps = st.lists(st.tuples(st.integers(0, 1500), st.none() | messages), max_size=60)


def judge(identity: Identity) -> str | None:
    return None if identity.device_id.endswith("aa") else "another scale"


@given(steps)
def test_it_never_talks_without_end(story: list[tuple[int, Message | None]]) -> None:
    now_ns = 0
    talk = Conversation(now_ns, judge)
    for wait_ms, message in story:
        now_ns += wait_ms * MS
        if message is not None:
            talk.hear(message, now_ns)
        said = talk.due(now_ns).count(b"\0")
        assert said <= 3
        assert talk.due(now_ns) == b""
        next_ns = talk.next_ns()
        assert next_ns is not None
        assert now_ns < next_ns <= now_ns + 2000 * MS
        usable = talk.identity is not None and talk.identity.protocol == 1 and talk.identity.device_id.endswith("aa")
        assert usable or talk.stage in (Stage.ASKING, Stage.REFUSED)
        if talk.is_lost(now_ns):
            return


@given(steps)
def test_a_scale_that_falls_silent_is_lost_within_five_seconds_once_started(
    story: list[tuple[int, Message | None]],
) -> None:
    now_ns = 0
    talk = Conversation(now_ns, judge)
    for wait_ms, message in story:
        now_ns += wait_ms * MS
        if message is not None:
            talk.hear(message, now_ns)
        talk.due(now_ns)
    if talk.stage in (Stage.STARTING, Stage.SAMPLING):
        assert talk.is_lost(now_ns + 5000 * MS)
    else:
        assert not talk.is_lost(now_ns + 5000 * MS)
