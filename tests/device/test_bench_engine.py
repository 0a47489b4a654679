"""A calibration from beginning to end on the rig's bench: its link, its thread, its file; and all that can go wrong."""

from __future__ import annotations

import json
import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from weightshare.errors import CalibrationError, DeviceError, WeightshareError
from weightshare.metrology.reading import Kind
from weightshare.model import Side
from weightshare.records.bench import history, read_kept
from weightshare.records.calibration import read_calibration
from weightshare.scales.capture import read_raw
from weightshare.scales.rig import rig_transport
from weightshare.scales.rig.cell import CELLS, PAIR_ID, rig_calibration
from weightshare.scales.rig.local import HostClock, StepClock
from weightshare.workbench.engine import BenchEngine, with_other_plate
from weightshare.workbench.order import Order, parse_masses
from weightshare.workbench.plan import Wanted
from weightshare.workbench.view import BenchView, Stage

TODAY = date(2026, 11, 25)
WITHIN_S = 30.0
LOOK_S = 0.001
SEEN_S = 0.2
SHORT = Wanted(tuple(parse_masses("10,20")), (Side.LEFT,), runs=1, drift_s=6.0, creep_s=12.0, corner_rounds=1)

Do = Callable[[BenchEngine, BenchView], None]


class FastClock(HostClock):
    """Runs on whether anybody looks or not."""

    watched = False

    def look(self) -> None:
        """Nothing waits for it."""


class WatchedClock(StepClock):
    """Jumps, but stands still every so often until somebody has looked: what is shown for a while is seen."""

    def __init__(self) -> None:
        super().__init__()
        self.watched = False
        self._looked = threading.Event()
        self._seen_ns = 0

    def wait(self, duration_s: float, handles: Sequence[int] = ()) -> None:
        super().wait(duration_s, handles)
        if self.watched and self.now_ns() - self._seen_ns > SEEN_S * 1e9:
            self._seen_ns = self.now_ns()
            self._looked.clear()
            self._looked.wait(1.0)

    def look(self) -> None:
        self._looked.set()


class Bench(BenchEngine):
    """An engine on the rig's bench, and its clock."""

    def __init__(self, order: Order, clock: WatchedClock | FastClock) -> None:
        self.clock = clock
        transport = rig_transport(order.source.removeprefix("rig:"), clock=clock)
        super().__init__(order, clock.now_ns, transport, TODAY)


def make(spec: str, folder: Path, wanted: Wanted = SHORT, speed: float | None = None) -> Bench:
    """Return an engine on a clock that jumps, or on one that runs `speed` times as fast as time."""
    order = Order(f"rig:{spec}", wanted, made_by="a test", folder=folder)
    return Bench(order, WatchedClock() if speed is None else FastClock(speed))


def run(engine: Bench, do: Do = lambda engine, view: None) -> tuple[BenchView, list[str]]:
    """Run to the end; return the last view, and all that was wrong on the way."""
    troubles: list[str] = []
    pause = threading.Event()
    until_s = time.monotonic() + WITHIN_S
    engine.clock.watched = True
    engine.start()
    try:
        while time.monotonic() < until_s:
            view = engine.view()
            if view.trouble and view.trouble not in troubles:
                troubles.append(view.trouble)
            if view.stage in (Stage.DONE, Stage.FAILED):
                return view, troubles
            do(engine, view)
            engine.clock.look()
            pause.wait(LOOK_S)
        pytest.fail(f"not done in {WITHIN_S} s: {engine.view()}")
    finally:
        engine.clock.watched = False
        engine.stop()


def test_a_calibration_is_made_written_and_can_be_used(tmp_path: Path) -> None:
    view, troubles = run(make("bench,rate=10", tmp_path, replace(SHORT, sides=tuple(Side))))
    assert troubles == []
    assert view.stage is Stage.DONE
    made = read_calibration(Path(view.place))
    assert (made.device_id, made.made_on, made.valid_until) == (PAIR_ID, TODAY, date(2027, 11, 25))
    assert made.worth is not None
    for channel, cell in zip(made.channels, CELLS, strict=True):
        assert channel.newton_per_count == pytest.approx(cell.newton_per_count, rel=0.02)
        assert channel.zero_counts == pytest.approx(cell.zero_counts, abs=1000.0)
    kept = read_kept(Path(view.place))
    assert kept.made_by == "a test"
    assert kept.record is not None
    assert kept.record.temperature_degC == 21.5


def test_the_raw_record_is_kept_with_the_steps_that_were_asked_for(tmp_path: Path) -> None:
    engine = make("bench,rate=10", tmp_path)
    run(engine)
    assert engine.record_folder is not None
    record = read_raw(engine.record_folder / "raw.wsr")
    assert record.complete
    asked = [remark["asked"] for remark in record.notes() if "asked" in remark]
    assert asked == list(range(1, len(engine.guide.asks) + 1))


def test_a_new_calibration_keeps_the_one_before(tmp_path: Path) -> None:
    first, _troubles = run(make("bench,rate=10,seed=1", tmp_path))
    before = Path(first.place).read_bytes()
    second, _troubles = run(make("bench,rate=10,seed=2", tmp_path))
    assert Path(second.kept).read_bytes() == before
    assert Path(second.place).read_bytes() != before
    assert len(history(PAIR_ID, tmp_path).kept) == 2


def test_one_plate_alone_leaves_the_other_as_it_was(tmp_path: Path) -> None:
    view, _troubles = run(make("bench,rate=10", tmp_path))
    made, known = read_calibration(Path(view.place)), rig_calibration()
    kept_day = [replace(channel, made_on=known.made_on) for channel in known.channels[2:]]
    assert list(made.channels[2:]) == kept_day
    assert [made.made_on_of(channel) for channel in made.channels] == [TODAY] * 2 + [known.made_on] * 2
    assert made.channels[:2] != known.channels[:2]
    assert made.worth is not None
    assert {side.side for side in made.worth.sides} == set(Side)


def test_the_other_plate_keeps_its_expiry_too() -> None:
    new = replace(rig_calibration(), channels=rig_calibration().channels[:2], valid_until=date(2027, 11, 25))
    old = replace(rig_calibration(), valid_until=date(2027, 1, 1))
    assert with_other_plate(new, old).valid_until == date(2027, 1, 1)
    assert with_other_plate(old, old) is old


def test_hidden_cells_are_calibrated_though_nothing_was_known_of_them(tmp_path: Path) -> None:
    view, troubles = run(make("bench,rate=10,cells=hidden,seed=4", tmp_path))
    assert troubles == []
    assert view.found is not None
    assert read_calibration(Path(view.place)).device_id != PAIR_ID


def test_a_mass_on_the_wrong_plate_is_said_and_waited_for(tmp_path: Path) -> None:
    view, troubles = run(make("bench,rate=10,faults=wrong-plate", tmp_path))
    assert view.stage is Stage.DONE
    assert any(words.startswith("The load on the RIGHT plate has changed") for words in troubles)


def test_somebody_on_the_plate_is_asked_to_step_off(tmp_path: Path) -> None:
    view, troubles = run(make("bench,rate=10,faults=person-on", tmp_path))
    assert view.stage is Stage.DONE
    assert any("is somebody still on it" in words for words in troubles)


def test_hands_that_come_late_are_waited_for(tmp_path: Path) -> None:
    said: set[str] = set()
    view, _troubles = run(make("bench,rate=10,faults=late", tmp_path), lambda _engine, view: said.add(view.words))
    assert view.stage is Stage.DONE
    assert any(words.startswith("Nothing has changed on the LEFT plate yet") for words in said)


def test_a_loose_foot_is_said_at_once_and_stays_a_caution(tmp_path: Path) -> None:
    def go_on(engine: BenchEngine, view: BenchView) -> None:
        if "loose foot" in view.trouble and view.may_confirm:
            engine.confirm()

    view, troubles = run(make("bench,rate=10,faults=loose-foot", tmp_path), go_on)
    assert any("rear right quarter of the LEFT plate reads" in words for words in troubles)
    assert view.found is not None
    assert any("rear right quarter of the left plate" in words for words in view.found.cautions)


def test_a_scale_that_restarts_goes_on_where_it_was(tmp_path: Path) -> None:
    view, _troubles = run(make("bench,rate=10,faults=restart", tmp_path))
    assert view.stage is Stage.DONE


def test_a_cable_that_is_pulled_goes_on_where_it_was(tmp_path: Path) -> None:
    view, troubles = run(make("bench,rate=10,faults=unplugged", tmp_path, speed=20.0))
    assert view.stage is Stage.DONE
    assert any(words.startswith("The link is lost") and "goes on at this step" in words for words in troubles)


def test_a_step_back_is_asked_for_and_done_again(tmp_path: Path) -> None:
    numbers: list[int] = []

    def back_once(engine: BenchEngine, view: BenchView) -> None:
        if view.number >= 5 and not numbers:
            numbers.append(view.number)
            engine.back()

    engine = make("bench,rate=10", tmp_path)
    view, _troubles = run(engine, back_once)
    assert view.stage is Stage.DONE
    record = read_kept(Path(view.place)).record
    assert record is not None
    assert all(sum(w.placement == p.number for w in record.windows) == 1 for p in record.placements if _is_step(p.kind))
    assert numbers


def _is_step(kind: Kind) -> bool:
    return kind in (Kind.SERIES, Kind.CORNER)


def test_given_up_nothing_is_written(tmp_path: Path) -> None:
    engine = make("bench,rate=10", tmp_path)
    engine.start()
    pause = threading.Event()
    while engine.view().number < 3:
        pause.wait(LOOK_S)
    engine.stop()
    assert list(tmp_path.glob("*.json")) == []


def test_where_it_cannot_be_written_the_one_in_force_stays(tmp_path: Path) -> None:
    (tmp_path / "history").write_text("in the way")
    in_force = tmp_path / f"{PAIR_ID}.json"
    in_force.write_text(json.dumps({"schema": "another"}))
    view, _troubles = run(make("bench,rate=10", tmp_path))
    assert view.stage is Stage.FAILED
    assert "not written" in view.trouble
    assert json.loads(in_force.read_text()) == {"schema": "another"}


@pytest.mark.parametrize(
    ("source", "wanted", "error", "words"),
    [
        ("file:a.wsr", SHORT, DeviceError, "answers to no masses"),
        ("rig:bench", replace(SHORT, masses=SHORT.masses[:1]), CalibrationError, "too few"),
        ("rig:bench", replace(SHORT, masses=tuple(parse_masses("100,200"))), CalibrationError, "right unit"),
    ],
)
def test_what_cannot_be_done_is_refused_before_a_scale_is_touched(
    source: str, wanted: Wanted, error: type[WeightshareError], words: str, tmp_path: Path
) -> None:
    with pytest.raises(error, match=words):
        BenchEngine(Order(source, wanted, folder=tmp_path))
    assert list(tmp_path.iterdir()) == []
