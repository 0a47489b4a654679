"""The links of one session as one: that of a scale which reads both feet, or those of two separate scales."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from functools import partial

from weightshare.errors import DeviceError, WeightshareError
from weightshare.model import Side
from weightshare.practice.inbox import Inbox
from weightshare.practice.judge import Judge
from weightshare.practice.view import LinkState, LinkView
from weightshare.records.recorder import Recording
from weightshare.scales.link import Link, Phase, Status
from weightshare.scales.playing import PlayedTransport
from weightshare.scales.replay import ReplayTransport
from weightshare.scales.transport import Transport

_STATES = {phase: LinkState[phase.name] for phase in Phase}
_WORST_FIRST = (Phase.REFUSED, Phase.LOST, Phase.CONNECTING, Phase.ENDED, Phase.SAMPLING)
_ORDINALS = "first", "second"


class Circuit:
    """Owns the links. What they bring is recorded and put into `inbox` in the order in which it came.

    `sides`: which foot each of two is under, once that is known.
    """

    def __init__(
        self,
        transports: Sequence[Transport],
        recording: Recording,
        inbox: Inbox,
        judge: Judge,
        clock_ns: Callable[[], int],
    ) -> None:
        self.sides: tuple[Side, Side] | None = None
        self._judge = judge
        self._order = threading.Lock()
        self._links = [
            self._make(source, transport, recording, inbox, clock_ns) for source, transport in enumerate(transports)
        ]

    def _make(
        self, source: int, transport: Transport, recording: Recording, inbox: Inbox, clock_ns: Callable[[], int]
    ) -> Link:
        played = transport if isinstance(transport, PlayedTransport) else None
        link = Link(
            transport,
            recording.tap(source),
            partial(inbox.put, source=source),
            partial(self._judge, source=source),
            playback=played is not None or isinstance(transport, ReplayTransport),
            clock_ns=clock_ns if played is None else played.now_ns,
            order=self._order,
        )
        if played is not None:
            played.said = link.note_sent
        return link

    def start(self) -> None:
        """Begin to connect."""
        for link in self._links:
            link.start()

    def ask_to_stop(self) -> None:
        """Tell all links to end."""
        for link in self._links:
            link.ask_to_stop()

    def join(self, timeout_s: float) -> bool:
        """Wait for all links, up to so long for each; return whether they ended in time."""
        ended = [link.join(timeout_s) for link in self._links]
        return all(ended)

    def whose(self, source: int) -> str:
        """Return which scale `source` is, in words; empty where there is only one."""
        if len(self._links) == 1:
            return ""
        return f"the {_ORDINALS[source] if self.sides is None else self.sides[source]} scale"

    @property
    def statuses(self) -> tuple[Status, ...]:
        """Where each link stands."""
        return tuple(link.status for link in self._links)

    @property
    def views(self) -> tuple[LinkView, ...]:
        """Each link in words; of two it says which scale is meant."""
        return tuple(self._view(source, link) for source, link in enumerate(self._links))

    def _view(self, source: int, link: Link) -> LinkView:
        status, whose = link.status, self.whose(source)
        return LinkView(
            link.name,
            _STATES[status.phase],
            f"{whose}: {status.words}" if whose else status.words,
            status.identity.name if status.identity else "",
            status.battery_mV,
            None if self.sides is None else self.sides[source],
            status.faults,
            bool(status.fault),
        )

    @property
    def phase(self) -> Phase:
        """Where that link stands which most needs help."""
        return min((status.phase for status in self.statuses), key=_WORST_FIRST.index)

    @property
    def is_open(self) -> bool:
        """Whether all streams are open."""
        return all(link.is_open for link in self._links)

    @property
    def has_ended(self) -> bool:
        """Whether nothing more will come."""
        return all(link.has_ended for link in self._links)

    @property
    def fault(self) -> WeightshareError | None:
        """What keeps a scale from sampling, where something does, as an error with its exit status."""
        faults = [(link, link.status) for link in self._links if link.status.fault]
        if not faults:
            return None
        link, status = min(faults, key=lambda fault: _WORST_FIRST.index(fault[1].phase))
        said = self._judge.faults[self._links.index(link)]
        if status.phase is Phase.REFUSED and said is not None:
            return type(said)(f"{link.name}: {said}")
        return DeviceError(f"{link.name}: {status.fault}")
