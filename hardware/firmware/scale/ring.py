"""Rows between the interrupt that takes them and the loop that sends them. All memory is taken at the start."""

from array import array


class Ring:
    """`least` rows of readings or more, each with its number and its tick. One side puts, one takes; neither waits.

    The interrupt alone moves `_put`, and the loop alone `_taken`: each is written in one step, and no lock is needed.
    """

    def __init__(self, least: int, channels: int) -> None:
        size = 1
        while size < least:  # a power of two, so that the counters may wrap anywhere
            size *= 2
        self._size = size
        self._channels = channels
        self._put = self._taken = 0
        self.values = array("i", [0] * (size * channels))
        self._numbers = array("I", [0] * size)
        self._ticks = array("I", [0] * size)

    def __len__(self) -> int:
        """How many rows wait."""
        return (self._put - self._taken) & 0xFFFF

    def clear(self) -> None:
        """Forget what waits; only while nothing is put."""
        self._put = self._taken = 0

    def place(self) -> int:
        """Return where in `values` the next row goes, or -1 where the ring is full. In the interrupt."""
        if (self._put - self._taken) & 0xFFFF >= self._size:
            return -1
        return self._put % self._size * self._channels

    def put(self, number: int, tick: int) -> None:
        """The row at `place` is written. In the interrupt."""
        slot = self._put % self._size
        self._numbers[slot] = number
        self._ticks[slot] = tick
        self._put = (self._put + 1) & 0xFFFF

    def first(self):
        """Return number, tick and place in `values` of the row that waits longest."""
        slot = self._taken % self._size
        return self._numbers[slot], self._ticks[slot], slot * self._channels

    def drop(self) -> None:
        """The row that waited longest is done with."""
        self._taken = (self._taken + 1) & 0xFFFF
