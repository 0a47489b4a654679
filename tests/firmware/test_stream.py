"""Samples of the firmware, as the program's own reader takes them from a serial port: on time, whole, and right."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from tests.firmware.boards import Board, shipped, try_in_peace, wired
from weightshare.model import NO_READING, Floats
from weightshare.scales.frame import Ping, Result, Start, Stop, Who

RATE_HZ = 80.0
ROWS = 4
CELLS = 4
RATE_OFF = 0.005
JITTER_MS = 6.25
"""Half an interval: farther off, a row would stand nearer to another's instant."""


def sample_for(board: Board, seconds: int) -> None:
    """Sample so long, with a PING each second as a host sends them."""
    board.begin()
    for nonce in range(seconds):
        board.say(Ping(nonce))
        board.listen(1.0)
    assert board.ask(Stop(2)).result is Result.DONE


def told_ticks(board: Board) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
    return np.concatenate([chunk.tick.astype(np.int64) for chunk in board.heard.chunks])


def arrival_jitter_ms(board: Board) -> Floats:
    """How far each frame came from the even line through all of them, ms."""
    arrival_ms = np.concatenate([chunk.arrival_ns for chunk in board.heard.chunks]) / 1e6
    sent_ms = told_ticks(board) / 1e3
    late_ms: Floats = (arrival_ms - arrival_ms[0]) - (sent_ms - sent_ms[0])
    return late_ms


def sampled_Hz(board: Board) -> float:
    """Rows a second by their ticks, those told as lost among them, up to the newest CONDITION."""
    told = board.heard.conditions[-1]
    chunks = [chunk for chunk in board.heard.chunks if chunk.tick[0] < told.tick]
    rows = sum(chunk.readings.size // CELLS for chunk in chunks[:-1])  # a chunk may be of several frames
    return float(rows + told.lost_samples) * 1e6 / (int(chunks[-1].tick[0]) - int(chunks[0].tick[0]))


def check_stream(board: Board) -> str:
    """Hold a stream to rate, evenness and wholeness; return what was measured, in words.

    Other load on this computer may keep the simulated timer from calling back, as a board's own timer is not kept: what
    never came to the firmware it has to count, and nothing else may be missing. On an idle computer that is nothing.
    """
    counts, ticks = board.decoder.counts, told_ticks(board)
    assert counts.lost_frames == counts.dropped == counts.out_of_order == 0
    starved = board.log.count("callback lost")
    lost = board.heard.conditions[-1].lost_samples
    assert abs(lost - starved) <= starved / 4 + bool(starved), f"{lost} told as lost, {starved} callbacks never came"
    assert abs(len(board.heard.conditions) - (ticks[-1] - ticks[0]) / 1e6) <= 1.5
    rate_Hz = sampled_Hz(board)
    assert abs(rate_Hz / RATE_HZ - 1) <= RATE_OFF
    uneven_ms = np.abs(np.diff(ticks) - ROWS * 1e6 / RATE_HZ) / 1e3
    assert np.count_nonzero(uneven_ms > JITTER_MS) <= 2 * starved
    jitter_ms = arrival_jitter_ms(board)
    spread = np.percentile(np.abs(jitter_ms - np.median(jitter_ms)), [50, 99])
    told = f"{rate_Hz:.3f} Hz; {starved} callbacks never came; told unevenness at most {uneven_ms.max():.3f} ms"
    return f"{told}; arrival off {spread.round(2)} ms"


def check_readings(board: Board) -> None:
    """Each cell's readings are its own, they go on, and hardly a row is without one."""
    rows = np.concatenate([chunk.readings.reshape(-1, CELLS) for chunk in board.heard.chunks])
    assert (rows[0] == NO_READING).all()  # the first is thrown away
    for cell in range(CELLS):
        read = rows[1:, cell]
        there = read[read != NO_READING]
        assert len(there) > 0.9 * len(read)  # fewer only on a busy computer, see above
        assert ((there >= 100_000 * cell) & (there < 100_000 * cell + 1000)).all()
        ahead = np.diff(there) % 1000
        assert ahead.max() < 500  # never back
        assert np.count_nonzero(ahead > 12) <= board.log.count("callback lost")


def test_ten_seconds_at_80_a_second_with_four_cells(board: Board, capsys: pytest.CaptureFixture[str]) -> None:
    sample_for(board, 10)
    measured = check_stream(board)
    check_readings(board)
    assert len(told_ticks(board)) >= 9 * 20
    assert board.complaints == []
    with capsys.disabled():
        print(f"\n10 s: {measured}")


@pytest.mark.soak
@pytest.mark.timeout(500)
def test_five_minutes(board: Board, capsys: pytest.CaptureFixture[str]) -> None:
    sample_for(board, 300)
    measured = check_stream(board)
    check_readings(board)
    assert board.complaints == []
    with capsys.disabled():
        print(f"\n300 s: {measured}")


@pytest.mark.soak
def test_it_falls_silent_by_itself_after_thirty_seconds(board: Board) -> None:
    board.begin()
    board.listen(29.0)
    before = len(board.heard.chunks)
    assert before > 25
    board.listen(3.0)
    silent_from = len(board.wire)
    board.listen(2.0)
    assert len(board.wire) == silent_from
    assert board.heard.conditions


def test_each_start_counts_from_0_and_ticks_go_on(board: Board) -> None:
    for token in range(3):
        board.begin()
        board.listen(0.4)
        board.ask(Stop(token))
    sequences = np.concatenate([chunk.sequence for chunk in board.heard.chunks])
    assert np.count_nonzero(sequences == 0) == 3
    assert (np.diff(told_ticks(board)) > 0).all()


def test_start_while_sampling_goes_on_at_the_new_rate(make_board: Callable[..., Board]) -> None:
    settings = shipped() | {"rate_Hz": 80, "rates_Hz": [80, 40]}
    board = make_board(settings)
    board.begin(40.0)
    board.listen(0.5)
    assert board.ask(Start(2)).result is Result.DONE
    first = len(board.heard.chunks)
    board.listen(0.5)
    assert {int(chunk.step[0]) for chunk in board.heard.chunks[:first]} == {25_000}
    assert {int(chunk.step[0]) for chunk in board.heard.chunks[first:]} == {12_500}
    assert board.decoder.counts.out_of_order == 0


def test_after_stop_nothing_comes_unasked(board: Board) -> None:
    board.begin()
    board.listen(0.5)
    board.ask(Stop(2))
    before = len(board.wire)
    board.listen(1.3)
    assert len(board.wire) == before


def test_what_nobody_reads_is_lost_and_counted(board: Board) -> None:
    """The host stands still for longer than the ring holds; what was lost is told, and time stays right."""
    board.begin()
    board.listen(0.3)
    before = told_ticks(board)[-1]
    for _ in range(30):
        board.say(*[Who(0)] * 60)  # the answers fill the wire, and nobody reads them
        threading.Event().wait(0.1)
    board.wait_for(lambda: any(condition.lost_samples for condition in board.heard.conditions))
    board.listen(1.2)
    lost = board.heard.conditions[-1].lost_samples
    chunks = [chunk for chunk in board.heard.chunks if before < chunk.tick[0] <= board.heard.conditions[-1].tick]
    rows = sum(chunk.readings.size // CELLS for chunk in chunks)
    came = (int(chunks[-1].tick[-1]) - before) / 1e6 * RATE_HZ
    assert lost > RATE_HZ / 2
    assert abs(rows + lost - came) <= 2 * ROWS, (rows, lost, came)
    assert board.decoder.counts.damaged == board.decoder.counts.lost_frames == 0


@pytest.mark.parametrize("rate_Hz", [10, 320])
def test_other_rates(tmp_path: Path, rate_Hz: int) -> None:
    settings = shipped() | {"rate_Hz": rate_Hz, "rates_Hz": [rate_Hz]}

    def attempt(place: Path) -> None:
        board = Board(place, settings, wired(settings, rate_Hz=rate_Hz)).start()
        try:
            board.begin()
            board.listen(3.0)
        finally:
            board.close()
        assert {int(chunk.step[0]) for chunk in board.heard.chunks} == {1_000_000 // rate_Hz}
        assert {chunk.readings.shape[1] for chunk in board.heard.chunks} == {max(1, rate_Hz // 20)}
        assert abs(sampled_Hz(board) / rate_Hz - 1) <= 2 * RATE_OFF

    try_in_peace(attempt, tmp_path)
