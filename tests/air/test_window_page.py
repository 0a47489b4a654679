"""Getting started and practice in the window, by keys alone, on two scales by air: set up, lost, and found again."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.air.host import LEFT_ADDRESS, RIGHT_ADDRESS, Air
from tests.air.peripheral import Peripheral, bathroom_scale, scale_peripheral
from tests.seated import Seated
from tests.window.conftest import Bench, settle
from tests.window.test_keyboard import Key, press
from tests.window.walking import feel_press, open_window, page_of, until_practice, until_view, walk_on
from weightshare.model import Side
from weightshare.practice import startwords as words
from weightshare.practice.view import LinkState
from weightshare.records.pair import read_pair
from weightshare.scales.air.trouble import NO_SERVICE, SWITCHED_OFF
from weightshare.scales.rig.cell import LEFT_ID, RIGHT_ID
from weightshare.window.main import PracticeWindow
from weightshare.window.startpage import StartPage

LEFT, RIGHT = Side
SHOP = "00:00:5E:00:53:44"
WITHIN_S = 30.0


@pytest.fixture
def air_bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Bench]:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setattr("weightshare.scales.finder.list_ports", list)
    made = Bench(tmp_path)
    yield made
    made.close()
    settle(made.app)


def on_air(seated: Seated) -> list[Peripheral]:
    named = (LEFT_ADDRESS, "left plate"), (RIGHT_ADDRESS, "right plate")
    return [scale_peripheral(*name, station) for name, station in zip(named, seated.stations, strict=True)]


def text_of(page: StartPage) -> str:
    shown = page.paint.shown
    rows = (part for row in shown.rows for part in (row.title, *row.lines))
    return "\n".join((shown.headline, *shown.words, *rows, *shown.notes, shown.trouble))


def choose_by_air(bench: Bench, page: StartPage) -> None:
    """Move to each of the two scales and choose it; who else is on the air stays unchosen."""
    start = page.start
    assert start is not None
    wanted = [f"ble:{LEFT_ADDRESS}", f"ble:{RIGHT_ADDRESS}"]
    bench.until(lambda: {one.source for one in start.offered} >= set(wanted), WITHIN_S)
    for source in wanted:
        # who is heard moves about in the list until all are
        while start.offered[start.cursor].source != source:
            at = [one.source for one in start.offered].index(source)
            press(bench, Key.Key_Down if start.cursor < at else Key.Key_Up)
        press(bench, Key.Key_Space)
    bench.until(lambda: page.paint.shown.key == words.GO_ON, WITHIN_S)


def links(window: PracticeWindow) -> dict[Side | None, tuple[LinkState, str]]:
    return {link.side: (link.state, link.words) for link in window.runner.view().links}


def until_links(bench: Bench, window: PracticeWindow, state: LinkState, *sides: Side) -> None:
    bench.until(lambda: all(links(window).get(side, ("", ""))[0] is state for side in sides), WITHIN_S)


def test_a_pair_is_set_up_by_air_practised_on_lost_and_found_again(air_bench: Bench) -> None:
    bench, seated = air_bench, Seated()
    left, right = on_air(seated)
    with Air(left, right, bathroom_scale(SHOP), powered=False) as air:
        window = open_window(bench)
        page = page_of(bench, window)
        until_view(bench, page, lambda page: SWITCHED_OFF in text_of(page))
        air.do(air.stack.set_powered, True)
        choose_by_air(bench, page)
        assert SWITCHED_OFF not in text_of(page)
        press(bench, Key.Key_B)
        bench.until(lambda: seated.lit == ["right"], WITHIN_S)
        press(bench, Key.Key_Return)
        feel_press(bench, page, seated, LEFT)
        walk_on(bench, window, page, "shoes")
        kept = read_pair()
        assert kept is not None and [scale.device_id for scale in kept.scales] == [LEFT_ID, RIGHT_ID]
        until_links(bench, window, LinkState.SAMPLING, LEFT, RIGHT)
        air.do(air.stack.switch, right, False)
        until_links(bench, window, LinkState.LOST, RIGHT)
        assert links(window)[LEFT][0] is LinkState.SAMPLING
        assert "the link was lost" in links(window)[RIGHT][1]
        air.do(air.stack.switch, right, True)
        until_links(bench, window, LinkState.SAMPLING, LEFT, RIGHT)
        air.kill_service()
        until_links(bench, window, LinkState.LOST, LEFT, RIGHT)
        bench.until(lambda: all(NO_SERVICE in said for _, said in links(window).values()), WITHIN_S)
        air.revive_service()
        until_links(bench, window, LinkState.SAMPLING, LEFT, RIGHT)
        window.close()
        bench.until(lambda: not (left.connected or right.connected), WITHIN_S)
        window = open_window(bench)
        until_practice(bench, window, page_of(bench, window))
        assert window.flow.sides == (LEFT, RIGHT), "the next day they are found by themselves"
        window.close()


def test_of_a_scale_that_is_lost_on_the_way_nothing_is_shown_as_if_it_were_of_now(air_bench: Bench) -> None:
    bench, seated = air_bench, Seated()
    left, right = on_air(seated)
    with Air(left, right) as air:
        window = open_window(bench)
        page = page_of(bench, window)
        choose_by_air(bench, page)
        press(bench, Key.Key_Return)
        press(bench, Key.Key_L)
        press(bench, Key.Key_Return)
        bench.until(lambda: page.paint.shown.headline == words.ALL_WELL, WITHIN_S)
        assert page.paint.shown.rows[1].bars == 4 and "battery" in page.paint.shown.rows[1].lines[0]
        assert "A workshop, Plate 2, firmware" in page.paint.shown.rows[1].lines[-1]
        air.do(air.stack.switch, right, False)
        bench.until(lambda: page.paint.shown.rows[1].lines[0] == words.LINK_LOST, WITHIN_S)
        assert page.paint.shown.rows[1].bars is None
        assert "the link was lost" in page.paint.shown.trouble or "not found nearby" in page.paint.shown.trouble
        air.do(air.stack.switch, right, True)
        bench.until(lambda: page.paint.shown.headline == words.ALL_WELL, WITHIN_S)
        window.close()
