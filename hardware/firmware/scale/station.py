"""What a scale does with its host: answers commands, sends rows and conditions, falls silent by itself."""

import struct

from scale import body
from scale.clock import Grid
from scale.frame import close
from scale.packet import Packet, most_rows

FRAME_S = 0.05
CONDITION_US = 1000000
DEAF_US = 30000000
"""Without a command for so long, nobody is there."""


class Station:
    """One scale on all of its links. `step` is called over and over and never waits."""

    def __init__(self, who, links: list, *, sampler, clock, light, battery) -> None:
        self._who = who
        self._sampler = sampler
        self._clock = clock
        self._light = light
        self._battery = battery
        self._links = links
        self._host = None  # the link that samples go to
        self._packet = Packet(len(who.channels))
        self._grid = Grid(1)
        self._rows = self._sequence = 0
        self._heard = self._told = 0
        self._lost = 0

    def step(self) -> None:
        """Do what is due now."""
        for link in self._links:
            if link.lost() and link is self._host:
                self._stop()
            heard = link.receive()
            if heard:
                link.send(self._answer(heard, link))
            link.pump()
        self._light.pump()
        now = self._clock.now()
        if self._host is None:
            return
        if (now - self._heard) & 0xFFFFFFFF >= DEAF_US:
            self._stop()
            return
        self._send_rows()
        if (now - self._told) & 0xFFFFFFFF >= CONDITION_US:
            self._send_condition(now)

    # -- commands ------------------------------------------------------------------------------------------------------

    def _answer(self, command: bytes, link) -> bytes:
        """Return the frame that answers a command."""
        if link is self._host:
            self._heard = self._clock.now()
        refused = body.refusal(command)
        return close(self._obey(command, link) if refused is None else refused)

    def _obey(self, command: bytes, link) -> bytes:
        kind, token, *rest = struct.unpack(body.COMMANDS[command[0]], command)
        if kind == body.WHO:
            return self._who.tell()
        if kind == body.PING:
            return body.echo(token, self._clock.now())
        if kind == body.BLINK:
            self._light.shine(rest[0])
            return body.reply(kind, token, body.DONE)
        if self._host not in (None, link):
            return body.reply(kind, token, body.BUSY)
        if kind == body.START:
            return body.reply(kind, token, self._start(rest[0], link))
        self._stop()
        return body.reply(kind, token, body.DONE)

    def _start(self, tenths_Hz: int, link) -> int:
        tenths_Hz = tenths_Hz or self._who.tenths_Hz
        if tenths_Hz not in self._who.all_tenths_Hz:
            return body.OUT_OF_RANGE
        rate_Hz = tenths_Hz / 10
        self._packet.clear()
        self._grid = Grid(10000000 // tenths_Hz)
        self._rows = max(1, min(int(FRAME_S * rate_Hz), most_rows(link.payload, len(self._who.channels))))
        self._sequence = 0
        self._host = link
        self._heard = self._told = self._clock.now()
        self._sampler.start(rate_Hz)
        return body.DONE

    def _stop(self) -> None:
        self._sampler.stop()
        self._host = None

    # -- what is sent unasked ------------------------------------------------------------------------------------------

    def _send_rows(self) -> None:
        """Send one frame where it is full, or what comes next does not follow it."""
        if not self._host.idle() or not self._fill():
            return
        if self._host.send(self._packet.frame(self._sequence, self._grid.step)):
            self._sequence += 1
            self._packet.clear()

    def _fill(self) -> bool:
        """Move rows from the ring into the packet; return whether it is to be sent."""
        ring, packet = self._sampler.ring, self._packet
        while len(ring) and packet.rows < self._rows:
            number, short, start = ring.first()
            tick = self._clock.extend(short)
            missed = self._grid.missed(number, tick)
            if missed and packet.rows:
                return True
            self._lost += missed
            packet.add(self._grid.place(number, tick, missed), ring.values, start)
            ring.drop()
        return packet.rows == self._rows

    def _send_condition(self, now: int) -> None:
        faults = self._sampler.take_faults()
        battery_mV = self._battery.read_mV()
        faults |= body.BATTERY_LOW if self._battery.is_low(battery_mV) else 0
        if self._host.send(close(body.condition(now, battery_mV, self._lost, faults))):
            self._told = (self._told + CONDITION_US) & 0xFFFFFFFF
        else:
            self._sampler.faults |= faults
        self._sampler.wake()
