"""What the tests by air share: the program's own loop ends with each of them."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from weightshare.scales.air.loop import close_air_loop


@pytest.fixture(autouse=True)
def own_loop(nothing_left_running: None) -> Iterator[None]:
    """End the program's Bluetooth thread, which otherwise lasts as long as the process."""
    yield
    close_air_loop()
