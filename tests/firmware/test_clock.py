"""The firmware's clock and grid, under MicroPython, with instants handed in."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from itertools import pairwise

import pytest

STEP = 12_500
WRAP = 2**32

COUNTER = """
import time
import json
import scale.clock as clock
now = [0]
clock.ticks_us = lambda: now[0]
"""

GRID = """
import json
from scale.clock import Grid
grid = Grid({step})
out = []
for number, tick in json.loads('{rows}'):
    missed = grid.missed(number, tick)
    out.append([grid.place(number, tick, missed), missed])
print(json.dumps(out))
"""


def place(micropython: Callable[..., str], rows: Sequence[tuple[int, int]]) -> tuple[list[int], list[int]]:
    """Told ticks and missing rows of (number, tick)s."""
    told = json.loads(micropython(GRID.format(step=STEP, rows=json.dumps(rows))))
    return [tick for tick, _ in told], [missed for _, missed in told]


@pytest.mark.parametrize("short_wrap", [2**30, 2**62])
def test_ticks_go_on_over_the_counters_own_wrap_and_over_32_bits(
    micropython: Callable[..., str], short_wrap: int
) -> None:
    """Boards count to 2^30, this computer's MicroPython to 2^62; an hour and a half in steps of ten minutes."""
    step = 600_000_000
    code = (
        COUNTER
        + f"""
now[0] = {short_wrap} - 1000
own = clock.Clock()
out = []
for _ in range(9):
    now[0] = (now[0] + {step}) % {short_wrap}
    out.append(own.now())
out.append(own.extend((now[0] - 250) & clock.SHORT))
print(json.dumps(out))
"""
    )
    *ticks, before = json.loads(micropython(code))
    assert ticks == [step * n % WRAP for n in range(1, 10)]
    assert before == (ticks[-1] - 250) % WRAP


def test_an_even_beat_stays_as_it_is(micropython: Callable[..., str]) -> None:
    rows = [(n, 1_000_000 + n * STEP) for n in range(200)]
    told, missed = place(micropython, rows)
    assert told == [tick for _, tick in rows] and not any(missed)


def test_late_interrupts_hardly_move_the_grid(micropython: Callable[..., str]) -> None:
    """Some rows up to 4 ms late, as behind a collection of garbage: told unevenness stays under a fiftieth of that."""
    late = [0, 0, 900, 0, 4000, 0, 0, 200, 2500, 0] * 20
    told, missed = place(micropython, [(n, n * STEP + us) for n, us in enumerate(late)])
    steps = [second - first for first, second in pairwise(told)]
    assert max(abs(step - STEP) for step in steps) <= 80
    assert not any(missed)


def test_a_pause_with_all_rows_after_it_at_once_loses_none(micropython: Callable[..., str]) -> None:
    """The loop stood still for 60 ms: five interrupts came together, and none of them is missing."""
    rows = [(n, max(n * STEP, 20 * STEP + 60_000) if 20 <= n < 25 else n * STEP) for n in range(60)]
    told, missed = place(micropython, rows)
    assert not any(missed)
    assert max(abs(tick - n * STEP) for n, tick in enumerate(told)) <= 5 * STEP // 256


@pytest.mark.parametrize("lost", [1, 3])
def test_rows_that_the_ring_had_no_room_for_are_counted(micropython: Callable[..., str], lost: int) -> None:
    numbers = [*range(10), *range(10 + lost, 30)]
    told, missed = place(micropython, [(n, n * STEP) for n in numbers])
    assert sum(missed) == missed[10] == lost
    assert told == [n * STEP for n in numbers]


@pytest.mark.parametrize("lost", [1, 2])
def test_interrupts_that_never_came_are_noticed(micropython: Callable[..., str], lost: int) -> None:
    """Nothing numbers them: they show as rows that all come an interval late from then on."""
    rows = [(n, (n + (lost if n >= 10 else 0)) * STEP) for n in range(60)]
    told, missed = place(micropython, rows)
    assert sum(missed) == lost
    assert max(abs(tick - rows[n][1]) for n, tick in enumerate(told) if n >= 30) <= STEP // 2


def test_interrupts_that_go_missing_again_and_again_are_counted_and_not_drawn_out(
    micropython: Callable[..., str],
) -> None:
    """One in fifty never comes: a grid that follows quickly would stretch its rows over the holes, and count none."""
    rows = [(n, (n + n // 49) * STEP) for n in range(1000)]
    told, missed = place(micropython, rows)
    assert abs(sum(missed) - 1000 // 49) <= 1
    assert max(abs(tick - rows[n][1]) for n, tick in enumerate(told)) <= STEP + 1


def test_the_grid_follows_a_beat_that_is_a_little_off(micropython: Callable[..., str]) -> None:
    rows = [(n, n * (STEP + 20)) for n in range(2000)]
    told, missed = place(micropython, rows)
    assert not any(missed)
    assert max(abs(tick - rows[n][1]) for n, tick in enumerate(told)) <= 20 * 17


def test_the_grid_goes_on_over_the_wrap(micropython: Callable[..., str]) -> None:
    begun = WRAP - 5 * STEP
    told, missed = place(micropython, [(n, (begun + n * STEP) % WRAP) for n in range(10)])
    assert told == [(begun + n * STEP) % WRAP for n in range(10)] and not any(missed)


RING = """
from scale.ring import Ring
ring = Ring(5, 2)
put = taken = refused = 0
log = []
def feed(n):
    global put, refused
    for _ in range(n):
        at = ring.place()
        if at < 0:
            refused += 1
        else:
            ring.values[at], ring.values[at + 1] = put, -put
            ring.put(put, 7 * put)
            put += 1
def drain(n):
    global taken
    for _ in range(n):
        number, tick, at = ring.first()
        assert (number, tick, ring.values[at], ring.values[at + 1]) == (taken, 7 * taken, taken, -taken), taken
        ring.drop()
        taken += 1
for _ in range(22000):
    feed(3)
    drain(3)
feed(20)
print(len(ring), refused)
drain(8)
print(len(ring), put - taken)
"""


def test_the_ring_keeps_order_over_its_counters_wrap_and_refuses_when_full(micropython: Callable[..., str]) -> None:
    assert micropython(RING).split() == ["8", "12", "0", "0"]
