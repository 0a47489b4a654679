"""Correcting on the page that looks back: by keys and mouse, by the clinician alone, with a reason."""

from __future__ import annotations

import shutil
import time
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from tests.unit import told
from tests.unit.kept import PASSPHRASE, clock, store_with
from tests.window.clinic import come_in, see
from tests.window.conftest import Bench
from tests.window.test_keyboard import press
from weightshare.exercise import Phase
from weightshare.practice.past.edit import Edit
from weightshare.practice.past.moment import NOT_KNOWN, Kind, Moment, Part
from weightshare.practice.past.shelf import Wanted
from weightshare.practice.role import IDLE_S, Role
from weightshare.records.correction import Deed, read_corrections
from weightshare.records.passphrase import set_passphrase
from weightshare.records.place import store_place
from weightshare.records.store import cipher
from weightshare.records.store.correcting import CORRECTED, read_corrected
from weightshare.records.store.patient import Affected, find_patient
from weightshare.records.store.store import open_store
from weightshare.records.store.trail import read_trail
from weightshare.records.store.visit import list_visits, take_in
from weightshare.window.main import PracticeWindow
from weightshare.window.pastpage import PastPage

Key = Qt.Key
SHIFT = Qt.KeyboardModifier.ShiftModifier


@pytest.fixture(scope="module")
def lowered(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return told.record(tmp_path_factory.mktemp("lowered"), told.LOWERING, "raiser", 34.0, sets=told.one_set(33.0))


@pytest.fixture
def folder(lowered: Path, tmp_path: Path, own_place: None) -> Path:
    return Path(shutil.copytree(lowered, tmp_path / "sessions" / lowered.name))


def look(bench: Bench, folder: Path, *, clinician: bool = True, wanted: Wanted | None = None) -> PracticeWindow:
    set_passphrase("a rail within reach")
    window = bench.open()
    window.ward.order.trouble = ""
    window.ward.uncover()
    if clinician:
        window.ward.keeper.take_try(time.monotonic(), right=True)
    window.tick()
    window.door.look_back(wanted or Wanted(folder.parent))
    page = window._annex.past
    bench.until(lambda: bool(page.list.entries) or page.view is not None)
    if page.view is None:
        press(bench, Key.Key_Return)
        bench.until(lambda: page.view is not None)
    return window


def page_of(window: PracticeWindow) -> PastPage:
    return window._annex.past


def choose(bench: Bench, page: PastPage, number: int) -> None:
    assert page.view is not None
    moments = page.view.table.moments
    place = next(k for k, one in enumerate(moments) if one.kind is Kind.REPETITION and one.number == number)
    QTest.mouseClick(page.table, Qt.MouseButton.LeftButton, pos=page.table.row_room(place).center().toPoint())
    bench.app.processEvents()
    assert page.view.moment is moments[place]


def sign(bench: Bench, page: PastPage, reason: str = "held on") -> None:
    assert page.mender.form.isVisible() and page.mender.form.reason.hasFocus()
    QTest.keyClicks(page.mender.form.reason, reason)
    QTest.keyClicks(page.mender.form.by, "C. L.")
    before = page.view
    press(bench, Key.Key_Return)
    bench.until(lambda: page.view is not before)


def kinds(page: PastPage) -> list[tuple[Kind, int]]:
    assert page.view is not None
    return [(one.kind, one.number) for one in page.view.table.moments if one.kind in (Kind.REPETITION, Kind.STRUCK)]


def test_a_repetition_is_chosen_struck_with_a_reason_and_taken_back(bench: Bench, folder: Path) -> None:
    page = page_of(look(bench, folder))
    count = len(kinds(page))
    choose(bench, page, 2)
    assert "X: strike" in page.foot.reading
    press(bench, Key.Key_X)
    press(bench, Key.Key_Return)
    assert "Say why" in page.mender.form.wrong.text() and not read_corrections(folder).entries
    sign(bench, page)
    assert kinds(page)[1] == (Kind.STRUCK, 2) and len(kinds(page)) == count
    assert page.view is not None and page.view.moment is not None and page.view.moment.words == "struck: held on"
    assert any("corrected by the clinician" in fact.text.lower() for fact in page.view.facts)
    assert not page.mender.form.isVisible() and page.hasFocus()
    press(bench, Key.Key_X)
    assert not page.mender.form.isVisible(), "nobody strikes twice"
    press(bench, Key.Key_U)
    sign(bench, page, "it was sound")
    assert kinds(page)[1] == (Kind.REPETITION, 2)
    assert [one.deed for one in read_corrections(folder).entries] == [Deed.STRIKE, Deed.UNDO]


def test_an_edge_is_moved_by_keys_and_its_figures_come_anew(bench: Bench, folder: Path) -> None:
    page = page_of(look(bench, folder))
    choose(bench, page, 1)
    assert page.view is not None and page.view.moment is not None
    before = page.view.moment
    press(bench, Key.Key_E)
    assert page.view.edit is not None and "which edge" in page.foot.reading
    for _ in range(3):
        press(bench, Key.Key_Down)
    press(bench, Key.Key_Left, SHIFT)
    press(bench, Key.Key_Left)
    assert "The lowering ends" in page.head.reading
    shown = page.view.moment
    assert shown is not None and shown.to_s == pytest.approx(before.to_s - 0.11)
    assert set(shown.cells) == {NOT_KNOWN}, "no figure of the phases as they were is shown beside the new ones"
    press(bench, Key.Key_Return)
    sign(bench, page, "the heel was down")
    after = page.view.moment
    assert after is not None and after.to_s == pytest.approx(before.to_s - 0.11, abs=1e-5)
    assert after.cells[2] != before.cells[2] and page.view.edit is None
    (kept,) = read_corrections(folder).entries
    assert (kept.deed, kept.phase, kept.by, kept.reason) == (Deed.MOVE, Phase.LOWERING, "C. L.", "the heel was down")


def test_escape_leaves_everything_as_it_was(bench: Bench, folder: Path) -> None:
    page = page_of(look(bench, folder))
    choose(bench, page, 1)
    assert page.view is not None
    before = page.view.moment
    press(bench, Key.Key_E)
    press(bench, Key.Key_Right)
    press(bench, Key.Key_Escape)
    assert page.view.moment == before and page.view.edit is None
    press(bench, Key.Key_X)
    press(bench, Key.Key_Escape)
    assert not page.mender.form.isVisible() and page.view is not None and not read_corrections(folder).entries


@pytest.mark.parametrize("who", ["patient", "whoever, where no passphrase is set"])
def test_nobody_but_the_clinician_corrects(bench: Bench, folder: Path, who: str) -> None:
    window = look(bench, folder, clinician=False)
    if who != "patient":
        window.ward.keeper.role = Role.OPEN
    page = page_of(window)
    choose(bench, page, 1)
    assert "strike" not in page.foot.reading
    for key in (Key.Key_X, Key.Key_Delete, Key.Key_E, Key.Key_U):
        press(bench, key)
        assert not page.mender.form.isVisible() and page.view is not None and page.view.edit is None


def test_what_was_asked_of_one_who_went_away_is_gone_with_the_page(bench: Bench, folder: Path) -> None:
    window = look(bench, folder)
    page = page_of(window)
    choose(bench, page, 1)
    press(bench, Key.Key_X)
    window.ward.keeper.touch(time.monotonic() - IDLE_S)
    window.tick()
    assert window.ward.keeper.role is Role.PATIENT
    assert not page.is_open and not page.mender.form.isVisible() and not read_corrections(folder).entries


def test_nobody_signs_once_the_clinician_is_gone(bench: Bench, folder: Path) -> None:
    window = look(bench, folder)
    page = page_of(window)
    choose(bench, page, 1)
    press(bench, Key.Key_X)
    window.ward.keeper.role = Role.PATIENT
    QTest.keyClicks(page.mender.form.reason, "late")
    QTest.keyClicks(page.mender.form.by, "C. L.")
    press(bench, Key.Key_Return)
    assert not page.mender.form.isVisible() and not read_corrections(folder).entries


def test_a_copy_that_nobody_keeps_is_shown_only(bench: Bench, folder: Path) -> None:
    page = page_of(look(bench, folder, wanted=Wanted(folder.parent, folder)))
    choose(bench, page, 1)
    press(bench, Key.Key_X)
    assert not page.mender.form.isVisible()


def test_whoever_keeps_the_session_is_told(bench: Bench, folder: Path) -> None:
    kept: list[int] = []
    wanted = Wanted(folder.parent, folder, lambda: kept.append(len(read_corrections(folder).entries)))
    page = page_of(look(bench, folder, wanted=wanted))
    choose(bench, page, 1)
    press(bench, Key.Key_X)
    sign(bench, page)
    assert kept == [1]


@pytest.mark.parametrize("secret", [None, PASSPHRASE], ids=["plain", "sealed"])
def test_a_patients_session_is_corrected_in_the_store(
    bench: Bench, folder: Path, secret: str | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cipher, "WORK", 1 << 14)
    with store_with(store_place(), "A-1", secret, affected=Affected.LEFT) as (store, patient):
        count = take_in(store, patient, folder).visit.repetitions
    window, door = come_in(bench)
    if secret is not None:
        QTest.keyClicks(door.list.gate.first, secret)
        press(bench, Key.Key_Return)
        bench.until(lambda: not door.list.gate.isVisible() and not door.clerk.is_busy)
    see(bench, door, "A-1")
    press(bench, Key.Key_Return)
    bench.until(lambda: window._annex._past is not None and window._annex.past.view is not None, 30.0)
    page = page_of(window)
    choose(bench, page, 2)
    press(bench, Key.Key_X)
    sign(bench, page)
    press(bench, Key.Key_Escape)
    bench.until(lambda: not door.clerk.is_busy, 30.0)
    window.close()
    with open_store(store_place(), "tester", clock, secret) as store:
        patient = find_patient(store, "A-1")
        (visit,) = list_visits(store, patient)
        assert visit.repetitions == count - 1
        assert read_corrected(store, visit).struck == {2: "held on"}
        assert [step.what for step in read_trail(store, patient.id)].count(CORRECTED) == 1


def test_edges_stay_in_their_order_and_both_ways_are_wished_for_in_one_that_can_be() -> None:
    parts = Part(Phase.RISE, 1.0, 2.0), Part(Phase.TOP, 2.0, 3.0), Part(Phase.LOWERING, 3.0, 5.0)
    edit = Edit(Moment(Kind.REPETITION, 4, 1.0, 5.0, parts=parts))
    assert not edit.wishes("why") and edit.parts == parts
    edit.step(1)
    edit.nudge(9.0)
    assert edit.time_s == 3.0, "the rise ends where the lowering begins, at the latest"
    edit.step(1)
    edit.nudge(1.0)
    edit.step(-1)
    edit.nudge(0.5)
    first, second = edit.wishes("why")
    assert (first.phase, first.span_s) == (Phase.LOWERING, (4.0, 5.0)), "else the rise would end after it began"
    assert (second.phase, second.span_s, second.repetition) == (Phase.RISE, (1.0, 3.5), 4)
    edit.step(-1)
    edit.nudge(9.0)
    assert edit.time_s == pytest.approx(3.45)
    squat = Edit(
        Moment(Kind.REPETITION, 1, 1.0, 4.0, parts=(Part(Phase.LOWERING, 1.0, 2.0), Part(Phase.RISE, 3.0, 4.0)))
    )
    assert [part.phase for part in squat.parts] == [Phase.LOWERING, Phase.RISE]
