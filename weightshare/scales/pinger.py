"""When PINGs go out: on a beat, and each at an instant at which the link carries it without a wait."""

from __future__ import annotations

from collections import deque

from weightshare.model import RoundTrip
from weightshare.scales.message import Ping
from weightshare.scales.receiver import Heard

QUICK_PINGS_NS = 10_000_000_000
QUICK_PING_NS = 250_000_000
SLOW_PING_NS = 2_000_000_000
PATIENCE_NS = 100_000_000
"""A PING goes out so long after its beat even where nothing came that it could be timed by."""
STRIDE_NS, SPREAD_NS = 13_700_000, 37_000_000
"""A PING that tries goes out up to so long after something came, each by another stretch."""
NEAR_NS = 2_000_000
"""Stretches that differ by no more than this are taken for the same one."""
DITHER_NS = 1_500_000
"""How far a PING strays from the stretch that is held for the best."""
LEAST_TRIPS, KEPT_TRIPS = 20, 60
TRY_EVERY = 4
"""Once the best stretch is known, every fourth PING tries another: the radio may change its beat."""


class Pinger:
    """Settles when PINGs go out; time is handed in.

    A radio carries something at its own instants only, and what is ready just after one waits for the next: such a PING
    bounds the scale's clock loosely. What comes from the scale comes at such an instant, so the stretch from it to the
    next PING decides. Which one is best is learned from the round trips.
    """

    def __init__(self) -> None:
        self.next_ns: int | None = None
        """When to ask `due` next; None while there is nothing to send."""
        self._quick_until_ns = 0
        self._nonce = 0
        self._beat_ns = 0
        self._stretch_ns = 0
        self._came_ns: int | None = None
        """What the next PING is timed by came at this instant; None while that is still to come."""
        self._sent: tuple[int, int] | None = None
        """When the newest PING went out, and how long after something had come."""
        self._trips: deque[tuple[int, int]] = deque(maxlen=KEPT_TRIPS)
        """Stretch and round trip of the newest PINGs that were answered, ns."""

    def begin(self, now_ns: int, quick_until_ns: int) -> None:
        """The scale samples: a PING goes out now, and others on the quick beat until then; nothing if it is so."""
        if self.next_ns is None:
            self.next_ns = self._beat_ns = now_ns
            self._quick_until_ns = quick_until_ns

    def stop(self) -> None:
        """No PINGs any more."""
        self.next_ns = None

    def hear(self, message: Heard, now_ns: int) -> None:
        """Take in what arrived at `now_ns`: a PING that is due is timed by it."""
        if isinstance(message, RoundTrip) and self._sent is not None and message.sent_ns >= self._sent[0]:
            self._trips.append((self._sent[1], message.received_ns - message.sent_ns))
            self._sent = None
        if self.next_ns is not None and self._came_ns is None and now_ns >= self._beat_ns:
            self._came_ns = now_ns
            self.next_ns = now_ns + self._stretch_ns

    def due(self, now_ns: int) -> Ping | None:
        """Return the PING to send now; None where none is due. What is returned counts as sent."""
        if self.next_ns is None or now_ns < self.next_ns:
            return None
        self._sent = None if self._came_ns is None else (now_ns, now_ns - self._came_ns)
        self._nonce = (self._nonce + 1) & 0xFFFFFFFF
        self._beat_ns += QUICK_PING_NS if now_ns < self._quick_until_ns else SLOW_PING_NS
        self._beat_ns = max(self._beat_ns, now_ns)
        self._stretch_ns, self._came_ns = self._choose(), None
        self.next_ns = self._beat_ns + PATIENCE_NS
        return Ping(self._nonce)

    def _choose(self) -> int:
        """Return how long after something came the next PING goes out, ns."""
        if len(self._trips) < LEAST_TRIPS or self._nonce % TRY_EVERY == 0:
            return self._nonce * STRIDE_NS % SPREAD_NS
        best_ns = min((stretch_ns for stretch_ns, _ in self._trips), key=self._short_ns)
        return max(best_ns + self._nonce * STRIDE_NS % (2 * DITHER_NS) - DITHER_NS, 0)

    def _short_ns(self, stretch_ns: int) -> int:
        """Return how short round trips are that begin about so long after something came: one in four is shorter."""
        near_ns = sorted(trip_ns for other_ns, trip_ns in self._trips if abs(other_ns - stretch_ns) <= NEAR_NS)
        return near_ns[len(near_ns) // 4]
