"""A repetition's phases while the clinician moves them by hand, edge by edge. No Qt."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from weightshare.exercise import Phase
from weightshare.pipeline.anew import LEAST_S, Span
from weightshare.practice.past.moment import Moment, Part
from weightshare.records.current import Wish
from weightshare.tongue import mark, say

_NAMES = {
    (Phase.RISE, False): mark("The rise begins"),
    (Phase.RISE, True): mark("The rise ends"),
    (Phase.LOWERING, False): mark("The lowering begins"),
    (Phase.LOWERING, True): mark("The lowering ends"),
}


@dataclass(frozen=True, slots=True)
class Edge:
    """The beginning or the end of a way up or down."""

    phase: Phase
    is_end: bool


class Edit:
    """Moves the edges of the repetition `moment`. What is between its two ways, the top, follows."""

    def __init__(self, moment: Moment) -> None:
        self.moment = moment
        ways = [part for part in moment.parts if part.phase is not Phase.TOP]
        self._first: dict[Phase, Span] = {part.phase: (part.from_s, part.to_s) for part in ways}
        self._now = dict(self._first)
        order = sorted(self._first, key=lambda phase: self._first[phase])
        self.edges = tuple(Edge(phase, is_end) for phase in order for is_end in (False, True))
        self.at = 0
        """The place of the edge that the keys move."""

    @property
    def edge(self) -> Edge:
        """The edge that the keys move."""
        return self.edges[self.at]

    def time_of(self, edge: Edge) -> float:
        """Return where an edge is now, s."""
        return self._now[edge.phase][edge.is_end]

    @property
    def time_s(self) -> float:
        """Where the edge is that the keys move."""
        return self.time_of(self.edge)

    def step(self, by: int) -> None:
        """Take the edge so many further on, from the last to the first again."""
        self.at = (self.at + by) % len(self.edges)

    def nudge(self, by_s: float) -> None:
        """Move the edge, and no further than the edges beside it allow."""
        low = high = self.time_s + by_s
        if self.at > 0:
            before = self.edges[self.at - 1]
            low = self.time_of(before) + (LEAST_S if before.phase is self.edge.phase else 0.0)
        if self.at + 1 < len(self.edges):
            after = self.edges[self.at + 1]
            high = self.time_of(after) - (LEAST_S if after.phase is self.edge.phase else 0.0)
        time_s = min(max(self.time_s + by_s, low), high)
        from_s, to_s = self._now[self.edge.phase]
        self._now[self.edge.phase] = (from_s, time_s) if self.edge.is_end else (time_s, to_s)

    @property
    def parts(self) -> tuple[Part, ...]:
        """The phases as they are now, in order of time."""
        ways = [Part(phase, *self._now[phase]) for phase in dict.fromkeys(edge.phase for edge in self.edges)]
        tops = [
            Part(Phase.TOP, before.to_s, after.from_s)
            for before, after in pairwise(ways)
            if before.phase is Phase.RISE and after.from_s > before.to_s
        ]
        return tuple(sorted((*ways, *tops), key=lambda part: part.from_s))

    @property
    def words(self) -> str:
        """What is being moved, from when to when."""
        edge = self.edge
        return say(
            "{edge}: {before:.3f} s \u2192 {now:.3f} s",
            edge=say(_NAMES[edge.phase, edge.is_end]),
            before=self._first[edge.phase][edge.is_end],
            now=self.time_s,
        )

    def wishes(self, reason: str) -> tuple[Wish, ...]:
        """Return what to correct, in an order in which no phase is ever out of its order; nothing where all is as it
        was."""
        order = list(dict.fromkeys(edge.phase for edge in self.edges))
        if len(order) > 1 and self._now[order[0]][1] > self._first[order[1]][0]:
            order.reverse()
        return tuple(self._wish(order, reason))

    def _wish(self, order: list[Phase], reason: str) -> Iterator[Wish]:
        for phase in order:
            if self._now[phase] != self._first[phase]:
                yield Wish(reason, self.moment.number, phase, self._now[phase])
