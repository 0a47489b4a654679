"""Links over the air, on the real bleak: all that was sent comes, and what breaks comes back."""

from __future__ import annotations

import random
import threading
import time
from itertools import pairwise

import pytest

from tests.air.host import LEFT_ADDRESS, RIGHT_ADDRESS, Air, virtual_pair
from tests.air.test_open import no_task_left
from tests.air.watching import Notes, link_to, stop, until
from weightshare.model import LinkDown, LinkUp
from weightshare.scales.air.trouble import GONE, SERVICE_GONE
from weightshare.scales.link import Link, Phase

FRAMES_A_SECOND = 50
"""At 100 Hz the virtual scale sends two rows a frame."""


def all_came(seconds: float) -> None:
    """Have two scales sample at 100 Hz for so long, and look whether all frames came."""
    _, pair = virtual_pair()
    with Air(*pair):
        both = Notes(), Notes()
        links = [link_to(each.address, notes) for each, notes in zip(pair, both, strict=True)]
        until(lambda: min(notes.frames for notes in both) > FRAMES_A_SECOND)
        began_s = time.monotonic()
        until(lambda: time.monotonic() - began_s >= seconds, bound_s=seconds + 20)
        stop(*links)
    for peripheral, notes in zip(pair, both, strict=True):
        sequences = notes.sequences()
        assert sequences == [number & 0xFFFF for number in range(len(sequences))]
        assert len(sequences) >= seconds * FRAMES_A_SECOND
        assert notes.frames == peripheral.sent
        assert notes.turns == [LinkUp, LinkDown]
        print(f"{peripheral.name}: {seconds:g} s, {len(sequences)} frames of samples, none lost")


def test_of_two_scales_at_100_Hz_nothing_is_lost() -> None:
    all_came(10.0)


@pytest.mark.soak
@pytest.mark.timeout(900)
def test_of_two_scales_at_100_Hz_for_10_minutes_nothing_is_lost() -> None:
    all_came(600.0)


def test_links_that_break_at_any_moment_come_back_and_lose_nothing_that_came() -> None:
    _, pair = virtual_pair()
    moments = random.Random(7)
    pause = threading.Event()
    with Air(*pair) as air:
        both = Notes(), Notes()
        links = [link_to(each.address, notes) for each, notes in zip(pair, both, strict=True)]
        for _ in range(12):
            # also while it connects, subscribes or is asked who it is
            pause.wait(moments.uniform(0.0, 0.4))
            air.do(air.stack.drop, moments.choice(pair))
        until(
            lambda: all(link.status.phase is Phase.SAMPLING for link in links), lambda: [link.status for link in links]
        )
        stop(*links)
        until(no_task_left)
        assert not any(each.connected for each in pair)
    for peripheral, notes in zip(pair, both, strict=True):
        assert notes.frames == peripheral.sent
        assert notes.turns == [LinkUp, LinkDown] * (len(notes.turns) // 2)
        assert set(notes.downs[:-1]) <= {
            GONE,
            "connecting failed (Not connected); bring the scale nearer and try again",
        }
        for run in notes.runs():
            # a scale that still samples when it is found again goes on where it is, until it is begun anew
            assert all(after in (before + 1, 0) for before, after in pairwise(run))


def test_a_scale_that_was_switched_off_is_lost_in_words_and_found_again() -> None:
    _, (left, right) = virtual_pair()
    with Air(left, right) as air:
        notes = Notes()
        link = link_to(LEFT_ADDRESS, notes)
        until(lambda: notes.frames > 10)
        air.do(air.stack.switch, left, False)
        until(lambda: link.status.phase is Phase.LOST)
        assert link.status.fault
        until(lambda: notes.downs == [GONE])
        air.do(air.stack.switch, left, True)
        until(lambda: link.status.phase is Phase.SAMPLING)
        stop(link)


def test_an_absent_scale_keeps_the_other_from_nothing() -> None:
    _, (left, right) = virtual_pair()
    left.is_on = False
    with Air(left, right):
        notes = Notes(), Notes()
        links = [link_to(address, each) for address, each in zip((LEFT_ADDRESS, RIGHT_ADDRESS), notes, strict=True)]
        until(lambda: notes[1].frames > 20)
        assert links[0].status.phase is Phase.CONNECTING
        stop(*links)
        until(no_task_left)


def lost(link: Link, notes: Notes) -> bool:
    return len(notes.downs) == 1 and link.status.phase is not Phase.SAMPLING


def test_an_adapter_that_is_switched_off_and_on_again() -> None:
    _, (left, right) = virtual_pair()
    with Air(left, right) as air:
        notes = Notes()
        link = link_to(LEFT_ADDRESS, notes)
        until(lambda: notes.frames > 10)
        air.do(air.stack.set_powered, False)
        until(lambda: "Bluetooth is switched off" in link.status.fault, lambda: link.status)
        air.do(air.stack.set_powered, True)
        until(lambda: link.status.phase is Phase.SAMPLING)
        stop(link)


def test_an_adapter_that_is_pulled_out_and_plugged_in_again() -> None:
    _, (left, right) = virtual_pair()
    with Air(left, right) as air:
        notes = Notes()
        link = link_to(LEFT_ADDRESS, notes)
        until(lambda: notes.frames > 10)
        air.do(air.stack.unplug_adapter)
        until(lambda: "no Bluetooth adapter" in link.status.fault, lambda: link.status)
        air.do(air.stack.plug_adapter)
        until(lambda: link.status.phase is Phase.SAMPLING, lambda: link.status)
        stop(link)


def test_a_bus_that_dies_ends_the_link_and_a_new_one_brings_it_back() -> None:
    _, (left, right) = virtual_pair()
    with Air(left, right) as air:
        notes = Notes()
        link = link_to(LEFT_ADDRESS, notes)
        until(lambda: notes.frames > 10)
        air.kill_bus()
        until(lambda: lost(link, notes), lambda: link.status)
        assert notes.downs[0] in (GONE, SERVICE_GONE)
        until(lambda: "Bluetooth service" in link.status.fault, lambda: link.status)
        air.revive_bus()
        until(lambda: link.status.phase is Phase.SAMPLING, lambda: link.status)
        stop(link)
