"""A Bluetooth service that crashes and is begun again on the same bus: bleak, left alone, never finds a scale again."""

from __future__ import annotations

import asyncio
import random
import threading
from collections.abc import Callable

import pytest

from tests.air.host import LEFT_ADDRESS, Air, virtual_pair
from tests.air.peripheral import Refusal
from tests.air.test_open import no_task_left
from tests.air.watching import Notes, link_to, stop, until
from weightshare.errors import DeviceError
from weightshare.model import LinkDown, LinkUp
from weightshare.scales.air import service
from weightshare.scales.air.loop import air_loop
from weightshare.scales.air.search import search
from weightshare.scales.air.transport import AirTransport
from weightshare.scales.air.trouble import NO_SERVICE, SERVICE_GONE
from weightshare.scales.link import Link, Phase


def sampling(links: list[Link]) -> bool:
    return all(link.status.phase is Phase.SAMPLING for link in links)


def test_both_links_say_what_happened_and_come_back_with_the_service() -> None:
    _, pair = virtual_pair()
    with Air(*pair) as air:
        both = [Notes(), Notes()]
        links = [link_to(each.address, notes) for each, notes in zip(pair, both, strict=True)]
        until(lambda: sampling(links) and min(notes.frames for notes in both) > 20)
        air.kill_service()
        until(lambda: all(notes.downs == [SERVICE_GONE] for notes in both), lambda: [link.status for link in links])
        until(lambda: all(NO_SERVICE in link.status.fault for link in links), lambda: [link.status for link in links])
        air.revive_service()
        until(lambda: sampling(links), lambda: [link.status for link in links])
        until(lambda: all(len(notes.data[-1]) > 500 for notes in both))
        stop(*links)
        until(no_task_left)
    assert all(notes.turns == [LinkUp, LinkDown] * 2 for notes in both)


def test_left_to_itself_bleak_asks_the_new_service_for_what_was_the_old_ones(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without this the test above could hold for another reason, and what is mended here be forgotten unnoticed."""
    monkeypatch.setattr(service.Radio, "_hear", lambda *_: None)
    _, (left, right) = virtual_pair()
    with Air(left, right) as air:
        first, second = AirTransport(LEFT_ADDRESS), AirTransport(LEFT_ADDRESS)
        first.open()
        air.kill_service()
        air.revive_service()
        with pytest.raises(DeviceError, match=r"/char[0-9a-f]{4}"):
            second.open()
        first.close()


def test_a_service_that_crashes_at_any_moment_is_survived() -> None:
    _, pair = virtual_pair()
    moments = random.Random(11)
    pause = threading.Event()
    with Air(*pair) as air:
        both = [Notes(), Notes()]
        links = [link_to(each.address, notes) for each, notes in zip(pair, both, strict=True)]
        for _ in range(8):
            # also while it is searched, connected, subscribed to; and gone for next to nothing, or for a while
            pause.wait(moments.uniform(0.0, 0.6))
            air.kill_service()
            pause.wait(moments.choice((0.0, 0.3)))
            air.revive_service()
        until(lambda: sampling(links), lambda: [link.status for link in links])
        stop(*links)
        until(no_task_left)
    for notes in both:
        assert notes.turns == [LinkUp, LinkDown] * (len(notes.turns) // 2)


@pytest.mark.parametrize("doing", ["looking", "connecting"])
def test_a_service_that_crashes_under_a_search_or_a_connection_is_told(doing: str) -> None:
    _, (left, right) = virtual_pair()
    left.is_on = doing == "connecting"
    left.refusals.extend([Refusal.HANGS] if left.is_on else [])
    call = "StartDiscovery" if doing == "looking" else "Connect"
    said: list[str] = []
    with Air(left, right) as air:
        opening = threading.Thread(target=lambda: said.append(_refused(AirTransport(LEFT_ADDRESS).open)))
        opening.start()
        until(lambda: call in air.stack.calls)
        air.kill_service()
        opening.join(10.0)
        assert not opening.is_alive()
        assert NO_SERVICE in _refused(AirTransport(LEFT_ADDRESS).open)
        air.revive_service()
        left.is_on = True
        again = AirTransport(LEFT_ADDRESS)
        again.open()
        again.close()
    assert len(said) == 1 and "Bluetooth service" in said[0]


def _refused(doing: Callable[[], object]) -> str:
    with pytest.raises(DeviceError) as raised:
        doing()
    return str(raised.value)


def test_a_search_finds_scales_again_once_the_service_is_back() -> None:
    with Air(*virtual_pair()[1]) as air:
        assert len(search(0.4)) == 2
        air.kill_service()
        assert NO_SERVICE in _refused(lambda: search(0.2))
        air.revive_service()
        assert len(search(0.4)) == 2


def test_without_the_private_name_of_bleaks_nothing_breaks(monkeypatch: pytest.MonkeyPatch) -> None:
    async def drop() -> bool:
        return service.drop_picture() is None

    with Air(*virtual_pair()[1]):
        assert len(search(0.4)) == 2
        with monkeypatch.context() as other:
            other.delattr("bleak.backends.bluezdbus.manager._global_instances")
            assert air_loop().run(drop(), 5.0)
        assert len(search(0.4)) == 2


def test_dropping_where_bleak_was_never_used_is_nothing() -> None:
    async def drop() -> bool:
        return service.drop_picture() is None

    assert asyncio.run(drop())
