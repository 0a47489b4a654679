"""The order of setting up, with scales on real ports: what may be chosen together, what is asked and remembered."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest

from tests.seated import Seated
from tests.unit.test_finder import NEAR, STORE, Air, no_ports
from weightshare.model import Side
from weightshare.practice import startwords as words
from weightshare.practice.start import Start
from weightshare.practice.startknown import choose_known, find_known, is_same
from weightshare.practice.startpress import Feel
from weightshare.practice.startscreen import start_screen
from weightshare.practice.startview import StartStep
from weightshare.records.pair import Footwear, Pair, PairedScale
from weightshare.scales.finder import VIRTUAL, Finder, Found, Sort, Way
from weightshare.scales.rig.cell import LEFT_ID, RIGHT_ID

LEFT, RIGHT = Side
WITHIN_S = 15.0
PAIR = Pair((PairedScale(RIGHT_ID, "serial:COM8", RIGHT), PairedScale(LEFT_ID, "serial:COM7", LEFT)), "2026-11-24")


class Setting:
    """A Start that is kept up as a window would."""

    def __init__(
        self, sources: list[str], known: Pair | None = None, *, straight: bool = False, air: Air | None = None
    ):
        self.start = Start(Finder(sources, no_ports, (air or Air()).search), known, straight=straight)
        self.start.begin()

    def until(self, holds: Callable[[Start], bool]) -> None:
        end_s = time.monotonic() + WITHIN_S
        while not holds(self.start):
            assert time.monotonic() < end_s, f"waited in vain: {start_screen(self.start)}"
            self.start.keep_up(time.monotonic())
            time.sleep(0.01)

    def choose(self, source: str) -> None:
        self.until(lambda start: source in [one.source for one in start.offered])
        at = [one.source for one in self.start.offered].index(source)
        self.start.move(at - self.start.cursor)
        self.start.choose()


@pytest.fixture
def setting() -> Iterator[Callable[..., Setting]]:
    made: list[Setting] = []

    def make(*args: object, **more: object) -> Setting:
        made.append(Setting(*args, **more))  # type: ignore[arg-type]
        return made[-1]

    yield make
    for one in made:
        assert one.start.stop(), "a scale was not let go in time"


@pytest.fixture
def two() -> Iterator[list[str]]:
    seated = Seated()
    yield seated.open_tcp()
    seated.close()


@pytest.fixture
def board() -> Iterator[list[str]]:
    seated = Seated(separate=False)
    yield seated.open_tcp()
    seated.close()


def test_one_scale_for_one_foot_is_no_pair(setting: Callable[..., Setting], two: list[str]) -> None:
    made = setting(two)
    made.choose(two[0])
    made.until(lambda start: bool(start.clash))
    assert start_screen(made.start).trouble == words.count_words(1, 1)
    assert not made.start.go() and made.start.step is StartStep.FIND
    assert made.start.trouble == words.WHY_NOT[StartStep.FIND]
    made.choose(two[1])
    made.until(lambda start: start.may_go)
    assert made.start.trouble == ""


def test_a_board_and_a_single_scale_are_no_pair_and_a_third_takes_the_firsts_place(
    setting: Callable[..., Setting], two: list[str], board: list[str]
) -> None:
    made = setting([*two, *board])
    made.choose(two[0])
    made.choose(board[0])
    made.until(lambda start: start.clash == words.count_words(3, 2))
    made.choose(two[1])
    assert set(made.start.trials) == {board[0], two[1]}
    made.choose(two[1])
    made.until(lambda start: start.may_go)
    assert made.start.is_board


def test_virtual_and_real_scales_never_stand_together(setting: Callable[..., Setting], two: list[str]) -> None:
    made = setting(two)
    made.choose(VIRTUAL)
    made.choose(two[0])
    assert list(made.start.trials) == [two[0]]
    made.choose(VIRTUAL)
    assert VIRTUAL in made.start.trials
    assert made.start.chosen().pair is None


def test_what_cannot_be_practised_on_says_why(setting: Callable[..., Setting]) -> None:
    made = setting(["tcp://127.0.0.1:1"], air=Air(STORE, NEAR))
    made.choose(f"ble:{STORE.address}")
    assert f"Source ble:{STORE.address}" in made.start.trouble and not made.start.trials
    made.choose("tcp://127.0.0.1:1")
    assert "switch the scale on" in made.start.trouble and not made.start.trials


def test_the_remembered_pair_is_known_by_its_number_whatever_the_port(
    setting: Callable[..., Setting], two: list[str]
) -> None:
    made = setting(two, PAIR, straight=True)
    assert start_screen(made.start).looking
    made.until(lambda start: start.ready is not None)
    ready = made.start.ready
    assert ready is not None and ready.pair is not None
    assert ready.sources == (two[1], two[0]) and ready.sides == (RIGHT, LEFT)
    assert [scale.device_id for scale in ready.pair.scales] == [RIGHT_ID, LEFT_ID]
    assert ready.pair.chosen_at == PAIR.chosen_at


def test_another_scale_in_the_remembered_place_is_not_taken_for_it(
    setting: Callable[..., Setting], board: list[str]
) -> None:
    """The board answers where the left scale was: it is not the left scale."""
    known = Pair((PAIR.scales[0], replace(PAIR.scales[1], source=board[0])))
    made = setting(board, known, straight=True)
    made.until(lambda start: any(one.source == board[0] for one in start.finder.found))
    made.start.keep_up(time.monotonic())
    assert made.start.ready is None and start_screen(made.start).looking


def test_a_found_pair_that_is_not_to_be_practised_on_straight_away_is_tried(
    setting: Callable[..., Setting], two: list[str]
) -> None:
    made = setting(two, replace(PAIR, footwear=Footwear("clogs", 20.0, 20.0)))
    made.until(lambda start: start.step is StartStep.READY)
    assert start_screen(made.start).headline == words.KNOWN_HEADLINE
    assert made.start.go(), "practice may begin"
    chosen = made.start.chosen()
    assert chosen.sides == (RIGHT, LEFT) and chosen.pair is not None and chosen.pair.footwear.words == "clogs"
    made.start.others()
    assert not made.start.trials and made.start.step is StartStep.FIND and not made.start.recognised


def test_going_back_to_left_and_right_asks_for_the_press_anew(setting: Callable[..., Setting], two: list[str]) -> None:
    made = setting(two)
    for source in two:
        made.choose(source)
    made.until(lambda start: start.may_go)
    made.start.go()
    made.start.name(LEFT)
    made.start.go()
    assert made.start.step is StartStep.CHECK and made.start.back()
    assert not made.start.by_hand and not made.start.may_go
    made.until(lambda start: start.watch.feel is Feel.WAITING)
    made.start.back()
    assert not made.start.back(), "there is no step before the first"


def test_what_was_set_up_so_far_outlasts_a_calibration(setting: Callable[..., Setting], two: list[str]) -> None:
    made = setting(two)
    for source in two:
        made.choose(source)
    made.until(lambda start: start.may_go)
    made.start.go()
    made.start.name(RIGHT)
    made.start.go()
    sides = dict(made.start.sides)
    made.start.stop()
    made.start = made.start.again()
    made.start.begin()
    made.until(lambda start: start.step is StartStep.CHECK and start.may_go)
    assert made.start.sides == sides and made.start.by_hand


def test_by_air_a_scale_is_known_by_its_address() -> None:
    scale = PairedScale(LEFT_ID, f"ble:{NEAR.address}", LEFT)
    heard = Found(scale.source, Way.AIR, Sort.SCALE, NEAR.name)
    assert is_same(heard, scale) and not is_same(replace(heard, source="ble:00:00:5E:00:53:77"), scale)
    assert not is_same(replace(heard, sort=Sort.SETTLED), scale)
    known = Pair((scale, PAIR.scales[0]))
    assert find_known([heard], known) == (heard, None)
    other = Found("serial:COM3", Way.CABLE, Sort.SCALE)
    assert choose_known([heard, other], known).sources == (scale.source, "serial:COM3")
