"""The link between a virtual scale and its host, with what links do to bytes; time is handed in, nothing sleeps."""

from __future__ import annotations

from collections import deque

import numpy as np

from weightshare.scales.rig.carrier import DIRECT, Carrier, Roads
from weightshare.scales.rig.catalog import Fault
from weightshare.scales.rig.scale import VirtualScale
from weightshare.scales.rig.scene import Scene

NOISE_EVERY_NS = 20_000_000
NOISE_BYTES = 40
IDLE_NS = 50_000_000
"""How far ahead to look again where nothing is due: a command or a plug may come in between."""


class VirtualLink:
    """Bytes on their way, each with the instant (ns) at which it arrives; in both directions, in order."""

    def __init__(self, fault: Fault, seed: int, roads: Roads | None = None) -> None:
        self._fault = fault
        self._roads = roads or Roads(DIRECT, seed, None)
        self._rng = np.random.default_rng([seed, 6])
        self._to_host: deque[tuple[int, bytes]] = deque()
        self._to_scale: deque[tuple[int, bytes]] = deque()
        self._burst_ns = 0
        self._noise_ns: int | None = None

    def send(self, sent_ns: int, frame: bytes) -> None:
        """Put one frame of the scale on its way to the host."""
        fault = self._fault
        if fault.mute or fault.noise or self._rng.random() < fault.loss:
            return
        if self._rng.random() < fault.damage:
            frame = self._damage(frame)
        passed_ns = self._roads.up.arrive(sent_ns)
        if passed_ns is None:
            return
        arrival_ns = passed_ns + round(fault.delay_s * 1e9)
        if fault.burst_s is not None:
            arrival_ns = self._hold_back(arrival_ns, fault.burst_s)
        self._to_host.append((arrival_ns, frame))

    def send_command(self, sent_ns: int, data: bytes) -> None:
        """Put what the host wrote on its way to the scale."""
        if self._fault.loss and self._rng.random() < self._fault.loss:
            return
        passed_ns = self._roads.down.arrive(sent_ns)
        if passed_ns is not None:
            self._to_scale.append((passed_ns + round(self._fault.delay_s * 1e9), data))

    def take(self, now_ns: int) -> bytes:
        """Return what has arrived at the host until `now_ns`."""
        if self._fault.noise:
            return self._make_noise(now_ns)
        taken = bytearray()
        while self._to_host and self._to_host[0][0] <= now_ns:
            taken += self._to_host.popleft()[1]
        return bytes(taken)

    def take_command(self, now_ns: int) -> tuple[int, bytes] | None:
        """Return the next thing that arrived at the scale until `now_ns`, and when; None where nothing did."""
        if self._to_scale and self._to_scale[0][0] <= now_ns:
            return self._to_scale.popleft()
        return None

    def clear(self) -> None:
        """Forget what is on its way: the cable is out."""
        self._to_host.clear()
        self._to_scale.clear()

    def next_ns(self) -> int | None:
        """Return when the next bytes arrive at either end, or None."""
        waiting = [queue[0][0] for queue in (self._to_host, self._to_scale) if queue]
        if self._noise_ns is not None:
            waiting.append(self._noise_ns)
        return min(waiting, default=None)

    def _hold_back(self, arrival_ns: int, burst_s: tuple[float, float]) -> int:
        if arrival_ns > self._burst_ns:
            self._burst_ns = arrival_ns + round(self._rng.uniform(*burst_s) * 1e9)
        return self._burst_ns

    def _damage(self, frame: bytes) -> bytes:
        place, kind = int(self._rng.integers(len(frame))), int(self._rng.integers(3))
        changed = bytes([frame[place] ^ int(self._rng.integers(1, 256))])
        return frame[:place] + (changed, b"", frame[place : place + 1] + changed)[kind] + frame[place + 1 :]

    def _make_noise(self, now_ns: int) -> bytes:
        if self._noise_ns is None:
            self._noise_ns = now_ns
        count = max(0, (now_ns - self._noise_ns) // NOISE_EVERY_NS + 1)
        self._noise_ns += count * NOISE_EVERY_NS
        return self._rng.bytes(NOISE_BYTES * min(count, 50))


class Station:
    """One scale at the end of its link: what a host sees of it. The transports of the rig are wrapped around this.

    Two stations of one scene may be used from two threads, each from its own.
    """

    def __init__(self, scene: Scene, scale: VirtualScale, carrier: Carrier = DIRECT) -> None:
        self.scene, self.scale = scene, scale
        seed = scene.cast.seed
        roads = Roads(carrier, seed, scale.side)
        self._link = VirtualLink(scale.fault, seed + scale.identity.device_id.encode()[-1], roads)
        self._unplugged_s = scale.fault.unplugged_s

    def is_up(self, now_ns: int) -> bool:
        """Whether the cable is in at `now_ns`."""
        start_ns = self.scene.instant_ns(0.0)
        if start_ns is None:
            return True
        time_s = (now_ns - start_ns) / 1e9
        return not any(begin_s <= time_s < end_s for begin_s, end_s in self._unplugged_s)

    def write(self, data: bytes, now_ns: int) -> None:
        """Take what the host wrote at `now_ns`."""
        self._link.send_command(now_ns, data)

    def read(self, now_ns: int) -> bytes:
        """Return the bytes that arrived at the host until `now_ns`; b"" for nothing, or a cable that is out."""
        with self.scene.turn:
            return self._read(now_ns)

    def _read(self, now_ns: int) -> bytes:
        while (command := self._link.take_command(now_ns)) is not None:
            arrival_ns, data = command
            self.scale.receive(data, arrival_ns)
        for sent_ns, frame in self.scale.advance(now_ns):
            self._link.send(sent_ns, frame)
        if not self.is_up(now_ns):
            self._link.clear()
        return self._link.take(now_ns)

    def next_ns(self, now_ns: int) -> int:
        """Return the instant after `now_ns` at which to read again."""
        instants = (self.scale.next_ns(), self._link.next_ns(), now_ns + IDLE_NS)
        return max(min(instant for instant in instants if instant is not None), now_ns + 1)
