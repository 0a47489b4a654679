"""When PINGs go out: on their beat, and where a radio sends at its own instants only, shortly before one."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from weightshare.model import RoundTrip
from weightshare.scales.message import Reply, Result
from weightshare.scales.pinger import (
    LEAST_TRIPS,
    PATIENCE_NS,
    QUICK_PING_NS,
    QUICK_PINGS_NS,
    SLOW_PING_NS,
    SPREAD_NS,
    Pinger,
)

MS = 1_000_000
ANYTHING = Reply(0x83, 0, Result.DONE)


class Radio:
    """Sends every `interval_ms` (0: at once), both ways at the same instants; something comes at every fifth of them.

    `waited_ms` has how long each PING waited for the radio, `sent_ns` when it went out.
    """

    def __init__(self, interval_ms: float, jitter_ms: float = 0.0, seed: int = 1) -> None:
        self.interval_ns, self._jitter_ns = round(interval_ms * MS), jitter_ms * MS
        self.waited_ms: list[float] = []
        self.sent_ns: list[int] = []
        self._rng = np.random.default_rng(seed)

    def run(self, seconds: float) -> Radio:
        pinger, echoes = Pinger(), list[RoundTrip]()
        pinger.begin(0, QUICK_PINGS_NS)
        frame_ns = max(self.interval_ns, 4 * MS) * 5
        for now_ns in range(0, round(seconds * 1e9), MS // 4):
            while echoes and echoes[0].received_ns <= now_ns:
                pinger.hear(echoes.pop(0), now_ns)
            if now_ns % frame_ns == 0:
                pinger.hear(ANYTHING, now_ns)
            if pinger.due(now_ns) is not None:
                echoes.append(self._carry(now_ns))
        return self

    def _carry(self, now_ns: int) -> RoundTrip:
        ready_ns = now_ns + MS + round(self._rng.exponential(self._jitter_ns) if self._jitter_ns else 0)
        read_ns = self._next(ready_ns)
        self.sent_ns.append(now_ns)
        self.waited_ms.append((read_ns - ready_ns) / MS)
        return RoundTrip(now_ns, self._next(read_ns + MS), 0)

    def _next(self, ready_ns: int) -> int:
        return -(-ready_ns // self.interval_ns) * self.interval_ns if self.interval_ns else ready_ns


@pytest.mark.parametrize("interval_ms", [0.0, 7.5, 15.0, 30.0, 45.0])
def test_pings_keep_their_beat_whatever_they_are_timed_by(interval_ms: float) -> None:
    sent_ns = Radio(interval_ms).run(30.0).sent_ns
    quick = [at_ns for at_ns in sent_ns if at_ns < QUICK_PINGS_NS]
    assert len(quick) == pytest.approx(QUICK_PINGS_NS / QUICK_PING_NS, abs=1)
    assert len(sent_ns) - len(quick) == pytest.approx(20e9 / SLOW_PING_NS, abs=1)
    # each within a fifth of a second of its beat: a frame that comes, and the longest stretch
    assert max(later - sooner for sooner, later in pairwise(quick)) < QUICK_PING_NS + 225 * MS + SPREAD_NS


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize(("interval_ms", "jitter_ms"), [(7.5, 0.0), (15.0, 0.0), (15.0, 2.0), (30.0, 1.0)])
def test_it_learns_to_send_shortly_before_the_radio_does(interval_ms: float, jitter_ms: float, seed: int) -> None:
    waited_ms = Radio(interval_ms, jitter_ms, seed).run(120.0).waited_ms
    tried, learned = waited_ms[:LEAST_TRIPS], waited_ms[LEAST_TRIPS:]
    assert np.percentile(learned, 25) < 0.2 * interval_ms
    # PINGs at random instants wait for anything up to the interval
    assert np.percentile(tried, 25) > np.percentile(learned, 25)


def test_other_stretches_are_tried_all_the_while() -> None:
    """A radio may change its beat: what was learned is then learned anew."""
    radio = Radio(15.0)
    waited_ms = radio.run(120.0).waited_ms
    assert np.ptp(waited_ms[-24:]) > 5.0


def test_where_nothing_comes_a_ping_goes_out_soon_after_its_beat() -> None:
    pinger = Pinger()
    pinger.begin(0, QUICK_PINGS_NS)
    assert pinger.due(0) is not None
    assert pinger.next_ns == QUICK_PING_NS + PATIENCE_NS
    assert pinger.due(QUICK_PING_NS + PATIENCE_NS - 1) is None
    assert pinger.due(QUICK_PING_NS + PATIENCE_NS) is not None
    # the beat goes on from where it was
    assert pinger.next_ns == 2 * QUICK_PING_NS + PATIENCE_NS


def test_what_was_sent_before_somebody_stopped_it_is_not_sent_again() -> None:
    pinger = Pinger()
    pinger.begin(0, 0)
    pinger.stop()
    assert pinger.next_ns is None and pinger.due(10 * MS) is None
    pinger.begin(20 * MS, 0)
    pinger.begin(30 * MS, 0)
    first = pinger.due(40 * MS)
    assert first is not None and first.nonce == 1
