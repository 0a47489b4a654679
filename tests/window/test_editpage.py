"""The editor of stages: every key has its field, what is wrong stands beside it, and only a new file is written."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QLabel, QLineEdit

from tests.window.conftest import Bench
from tests.window.test_keyboard import press
from weightshare.model import Side
from weightshare.practice.stages import Stages
from weightshare.programme.draft import Draft, Spot, keys_of
from weightshare.programme.shelf import READY, ready_text
from weightshare.window.editcriteria import EditCriteria
from weightshare.window.editpage import EditPage
from weightshare.window.editrow import read_limit, write_limit
from weightshare.window.editword import said_of

Key = Qt.Key


@pytest.fixture(autouse=True)
def own_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    yield


def open_editor(bench: Bench) -> EditPage:
    window = bench.open()
    press(bench, Key.Key_F2)
    window.ward.stage_page.copy.click()
    window.ward.stage_page.edit.click()
    page = window.ward.edit_page
    assert page.is_open and not window.ward.stage_page.is_open
    return page


def type_under(page: EditPage, key: str, words: str) -> None:
    box = page.of_stage.boxes[key]
    assert isinstance(box, QLineEdit)
    box.setFocus()
    box.selectAll()
    QTest.keyClicks(box, words)


def choose(box: QComboBox, what: str) -> None:
    box.setCurrentIndex(box.findData(what))
    box.activated.emit(box.currentIndex())


def go_to(page: EditPage, key: str) -> None:
    draft = page.draft
    assert draft is not None
    page.list.setCurrentRow(1 + [draft.said(Spot(row, "key")) for row in range(draft.stages)].index(key))


def shown_keys(page: EditPage) -> set[str]:
    return {name for name, box in page.of_stage.boxes.items() if not box.isHidden()}


def criteria_of(page: EditPage) -> EditCriteria:
    box = page.of_stage.boxes["criteria"]
    assert isinstance(box, EditCriteria)
    return box


def test_every_key_has_a_field_in_the_trades_words_with_range_and_unit() -> None:
    """Fields were called by the file's keys, and told of quotes that nobody types there."""
    for stage in (None, 0):
        for key in keys_of(stage):
            called, why = said_of(Spot(stage, key.name))
            assert called and called != key.name and "_" not in called, key
            assert '"' not in why
            if key.kind.span is not None:
                low, high, unit = key.kind.span
                assert f"{low:g} to {high:g} {unit.replace('percent', '%')}".strip() in why


def test_a_stage_as_it_stands_is_shown_with_what_holds_where_nothing_is_said(bench: Bench) -> None:
    page = open_editor(bench)
    keys = {label.text() for label in page.of_stage.findChildren(QLabel) if label.objectName() == "file-key"}
    assert keys == set(page.of_stage.boxes) >= {key.name for key in keys_of(0)}, "small beneath: what the file has"
    go_to(page, "lowering-80")
    form = page.of_stage
    tolerance, mean, surface = (form.boxes[name] for name in ("tolerance_points", "mean_tolerance_points", "surface"))
    assert isinstance(tolerance, QLineEdit) and isinstance(mean, QLineEdit) and isinstance(surface, QComboBox)
    assert (tolerance.text(), tolerance.placeholderText()) == ("", "5 points")
    assert mean.placeholderText() == "2.5 points"
    assert surface.currentText() == "the floor" and surface.property("unsaid") == "true"
    exercise = form.boxes["exercise"]
    assert isinstance(exercise, QComboBox) and exercise.currentText() == "Up even, lower to target"
    assert exercise.property("unsaid") == "false" and form.typed("exercise") == "lowering"
    assert {"tempo", "sets", "target_percent"} <= shown_keys(page) and not {"hold_s", "leg", "load"} & shown_keys(page)
    locked = [page.list.item(row).text() for row in range(page.list.count())]
    assert [text for text in locked if text.startswith("12 ")] == ["12  Up on two legs, down on one  (locked)"]
    assert not any("locked" in text for text in locked[:6])
    wheel = QWheelEvent(
        QPointF(5, 5), QPointF(5, 5), QPoint(), QPoint(0, -120), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    bench.app.sendEvent(exercise, wheel)
    assert form.typed("exercise") == "lowering", "the wheel scrolls the page: it changed what lay under it"


def test_what_is_wrong_is_told_while_it_is_typed_and_nothing_is_written(bench: Bench) -> None:
    page = open_editor(bench)
    stages = page._stages
    assert stages is not None
    before = set(stages._folder.iterdir())
    type_under(page, "hold_s", "soon")
    hint = page.of_stage.hints["hold_s"]
    bench.app.processEvents()
    assert hint.height() >= hint.heightForWidth(hint.width()), "no line of it is cut"
    assert "a number from 1 to 3600 s" in hint.text() and hint.property("wrong") == "true", "before the field is left"
    assert page.list.item(page.list.currentRow()).text().startswith("\u2717")
    go_to(page, "lowering-75")
    press(bench, Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert page.is_open and "1 mistake" in page.wrong.text() and set(stages._folder.iterdir()) == before
    assert page.list.currentRow() == 1 and page.of_stage.boxes["hold_s"].hasFocus(), "shown where it is"
    type_under(page, "hold_s", "20")
    assert hint.property("wrong") == "false" and not page.list.item(1).text().startswith("\u2717")


def test_a_programme_changed_is_a_new_file_and_the_next_session_carries_its_version(bench: Bench) -> None:
    page = open_editor(bench)
    stages, window = page._stages, bench._windows[-1]
    assert stages is not None and stages.kept is not None
    before = stages.kept
    type_under(page, "hold_s", "20")
    type_under(page, "holds", "6")
    type_under(page, "note", "Only as far as it is easy.")
    page.add.click()
    type_under(page, "target_percent", "55")
    page.up.click()
    assert page.list.currentRow() == 1 and page.of_stage.typed("target_percent") == "55"
    page.down.click()
    press(bench, Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert not page.is_open and stages.kept.place != before.place
    now = stages.kept.programme
    assert (now.version, now.stages[0].hold_s, now.stages[0].holds) == ("1.1", 20.0, 6)
    assert now.stages[1].target_percent == 55.0 and len(now.stages) == len(before.programme.stages) + 1
    assert Path(before.place).read_text() == before.text == ready_text("achilles"), "the one before is as it was"
    assert stages.kept.text.splitlines()[0] == before.text.splitlines()[0], "comments stay"
    window.ward.stage_page.take()
    prescribed = window.ward.order.prescription
    assert prescribed is not None and (prescribed.version, prescribed.sha256) == ("1.1", stages.kept.sha256)
    assert window.flow.goal.hold_s == 20.0 and window.flow.goal.holds == 6


def test_leaving_with_a_change_asks_once_and_without_does_not(bench: Bench) -> None:
    page = open_editor(bench)
    press(bench, Key.Key_Escape)
    assert not page.is_open
    bench._windows[-1].ward.stage_page.edit.click()
    type_under(page, "note", "Only as far as it is easy.")
    press(bench, Key.Key_Escape)
    assert page.is_open and "Nothing of this is saved" in page.wrong.text()
    press(bench, Key.Key_Escape)
    assert not page.is_open


def test_criteria_are_added_changed_and_taken_away(bench: Bench) -> None:
    page = open_editor(bench)
    go_to(page, "lowering-75")
    box, draft, stage = criteria_of(page), page.draft, page.stage
    assert draft is not None and stage is not None
    first = box.rows[0]
    assert first.measure.currentText() == "Sets done with all repetitions" and first.way.currentText() == "at least"
    assert box.rows[1].way.currentText() == "near the target" and box.rows[1].first.isHidden()
    first.first.setFocus()
    first.first.selectAll()
    QTest.keyClicks(first.first, "2")
    choose(box.rows[1].way, "to")
    for figure, words in ((box.rows[1].first, "72"), (box.rows[1].second, "70")):
        figure.setFocus()
        QTest.keyClicks(figure, words)
    assert "is upside down" in box.rows[1].wrong.text()
    box.rows[1].second.selectAll()
    QTest.keyClicks(box.rows[1].second, "84,5")
    box.rows[3].remove.click()
    box.add.click()
    new = box.rows[3]
    assert new.wrong.text() == "Something is still to be typed here."
    offered = {new.measure.itemData(row) for row in range(new.measure.count())}
    assert "longest-hold" not in offered and "sets-done" not in offered and "height-index" in offered
    bench.app.processEvents()
    page.of_stage.boxes["pain_limit"].setFocus()
    for box_ in (box.rows[0].measure, box.rows[0].way, box.rows[0].first, box.rows[0].remove, box.rows[1].measure):
        press(bench, Key.Key_Tab)
        assert box_.hasFocus(), "Tab goes through the rows where they stand"
    choose(new.measure, "clinician")
    new.first.setFocus()
    QTest.keyClicks(new.first, "No limp.")
    assert draft.mistakes() == {} and page.list.currentItem().text() == "8  Down with 75 %"
    assert draft.said(Spot(stage, "criteria")).splitlines() == [
        "sets-done = at least 2", "share-lowering = 72 to 84.5", "pain-during = at most 2", "clinician = No limp.",
    ]  # fmt: skip


@pytest.mark.parametrize("words", ["at least 10", "at most 2.5", "70 to 80", "near target", "less than 2", "total"])
def test_a_limit_is_shown_and_written_as_it_stood(words: str) -> None:
    way, figures = read_limit(words)
    assert write_limit(way, (*figures, "")) == words


def test_a_file_with_mistakes_is_put_right_in_the_editor(bench: Bench, tmp_path: Path) -> None:
    """Whoever had typed a wrong number in another editor was sent to the command line."""
    wrong = tmp_path / "wrong.toml"
    text = ready_text("achilles").replace("hold_s = 30", "hold_s = 3000000", 1)
    wrong.write_text(text.replace("holds = 5", "hold = 5", 1).replace("programme/1", "programme/2"), encoding="utf-8")
    window = bench.open()
    page, stages = window.ward.edit_page, Stages(tmp_path, str(wrong))
    window.ward.stage_page.open_page(stages, Side.LEFT, may_free=False)
    chosen = window.ward.stage_page.programme.currentText()
    assert chosen == "wrong.toml", "it was called achilles, the first one"
    assert "Line 40" in stages.details(Side.LEFT) and window.ward.stage_page.edit.isEnabled()
    window.ward.stage_page.edit.click()
    assert page.list.item(2).text().startswith("\u2717")
    form = page.of_stage
    assert form.unplaced.text() == "hold: is no key; did you mean holds?" and form.mend.isVisible()
    for _ in range(2):
        press(bench, Key.Key_S, Qt.KeyboardModifier.ControlModifier)
        (page.of_programme if page.stage is None else form).mend.click()
    press(bench, Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert form.boxes["hold_s"].hasFocus() and not form.mend.isVisible()
    type_under(page, "hold_s", "30")
    press(bench, Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert not page.is_open and stages.kept is not None and stages.kept.place.endswith("wrong-2.toml")


def test_a_stage_is_copied_and_removed(bench: Bench) -> None:
    page = open_editor(bench)
    rows = page.list.count()
    page.copy.click()
    assert page.list.count() == rows + 1 and page.list.currentRow() == 2
    assert page.of_stage.typed("key") == "hold-10-2"
    page.remove.click()
    assert page.list.count() == rows and page.draft is not None and not page.draft.mistakes()


def test_locks_are_the_clinicians_in_the_editor_too(bench: Bench, tmp_path: Path) -> None:
    """Whoever opened the editor could free a stage by typing that it is."""
    page = bench.open().ward.edit_page
    for may_free in (False, True):
        page.open_page(Stages(tmp_path, "partial-load"), may_free=may_free)
        fields = [page.of_stage.boxes[name].isEnabled() for name in ("locked", "freed", "freed_by")]
        assert fields == [may_free] * 3
        assert ("Only the clinician frees it" in page.of_stage.hints["freed"].text()) is not may_free
        page.leave()


def test_each_ready_made_programme_is_shown_without_being_changed(bench: Bench, tmp_path: Path) -> None:
    page = bench.open().ward.edit_page
    for place in READY:
        page.open_page(Stages(tmp_path, place))
        for row in range(0, page.list.count(), 3):
            page.list.setCurrentRow(row)
        assert page.draft is not None
        page.draft.say(Spot(None, "version"), Draft(ready_text(place)).said(Spot(None, "version")))
        assert page.draft.text == ready_text(place)
        page.leave()
