"""Sessions on the virtual scales on a leash: time goes on only while a test lets it, and nobody is left behind.

A clock that runs so many times as fast as the host's shows a busy computer other moments than an idle one. Here the rig
goes a step ahead, the link and the pipeline follow, the test looks: what is seen does not depend on the computer.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Sequence
from typing import Any

from weightshare.model import Sourced
from weightshare.practice.engine import Engine, Finished
from weightshare.practice.option import PractiseOptions
from weightshare.scales.rig.local import rig_transport
from weightshare.task import Settings

STEP_S = 0.1
"""How far the rig goes ahead before the test looks again."""
HOST_S = 20.0
"""A step that takes longer than this, on the host's clock, hangs."""


class Leash:
    """The rig's clock. It stands still but for `go_on`, until it is let free."""

    def __init__(self) -> None:
        self._now_ns = self._until_ns = 10**9
        self._waiting = self._free = False
        self._turn = threading.Condition()

    def now_ns(self) -> int:
        """Return the time in ns."""
        return self._now_ns

    def wait(self, duration_s: float, handles: Sequence[int] = ()) -> None:
        """Come back after `duration_s`, once so much is allowed."""
        with self._turn:
            target_ns = self._now_ns + max(1, round(duration_s * 1e9))
            while self._now_ns < target_ns and not self._free:
                self._now_ns = min(target_ns, self._until_ns)
                if self._now_ns < target_ns:
                    self._waiting = True
                    self._turn.notify_all()
                    self._turn.wait()
                    self._waiting = False
            self._now_ns = target_ns
        if self._free:
            time.sleep(duration_s / 10.0)

    def go_on(self, duration_s: float) -> None:
        """Let so much time pass; come back when whoever reads has read it all. Once let free, nothing."""
        with self._turn:
            self._until_ns += round(duration_s * 1e9)
            self._waiting = False
            self._turn.notify_all()
            assert self._turn.wait_for(lambda: self._waiting or self._free, HOST_S), "nobody reads the rig"

    def rest(self, timeout_s: float) -> None:
        """Wait until time stands still, as long as `timeout_s`."""
        with self._turn:
            self._turn.wait_for(lambda: self._waiting or self._free, timeout_s)

    def free(self) -> None:
        """Let time pass by itself from now on, ten times as fast as the host's: a session ends by itself."""
        with self._turn:
            self._free = True
            self._turn.notify_all()


class LeashedEngine(Engine):
    """A session on the rig's `spec`, whose person does what `does` says, or what the session asks for."""

    def __init__(self, options: PractiseOptions, spec: str, does: Settings | None = None) -> None:
        self.clock = Leash()
        transport = rig_transport(spec, does or options.settings, options.goal, clock=self.clock)
        super().__init__(options, self.clock.now_ns, transport)
        self._take, self.inbox.take = self.inbox.take, self._take_step  # type: ignore[method-assign]

    def _take_step(self, timeout_s: float) -> list[Sourced]:
        """Return what came in a whole step: the pipeline is spared many small batches."""
        self.clock.rest(timeout_s)
        return self._take(timeout_s)

    def go_on(self) -> None:
        """Let a step of time pass, and the pipeline take what came."""
        self.clock.go_on(STEP_S)
        end_s = time.monotonic() + HOST_S
        while self.inbox.waiting:
            assert time.monotonic() < end_s, "nobody empties the inbox"
            time.sleep(0.001)

    def until(self, done: Callable[[], Any], within_s: float = 120.0) -> None:
        """Let time pass until something is so, within so many seconds of the rig's."""
        end_ns = self.clock.now_ns() + round(within_s * 1e9)
        while not done():
            assert self.clock.now_ns() < end_ns, f"it did not happen within {within_s} s of the rig's time"
            self.go_on()

    def stop(self) -> Finished:
        """End the session; time then passes by itself."""
        self.clock.free()
        return super().stop()
