"""The editor of stages: every key has its field, what is wrong stands beside it, and only a new file is written."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from tests.window.conftest import Bench
from tests.window.test_keyboard import press
from weightshare.practice.stages import Stages
from weightshare.programme.draft import keys_of
from weightshare.programme.shelf import ready_text
from weightshare.window.editpage import EditPage

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


def test_every_key_has_a_field_with_what_is_allowed(bench: Bench) -> None:
    page = open_editor(bench)
    for form, stage in ((page.of_programme, None), (page.of_stage, 0)):
        assert {key.name for key in keys_of(stage)} < set(form.boxes)
        for key in keys_of(stage):
            assert key.kind.allowed in form.hints[key.name].text()


def test_what_is_wrong_stands_beside_its_field_and_nothing_is_written(bench: Bench) -> None:
    page = open_editor(bench)
    stages = page._stages
    assert stages is not None
    before = set(stages._folder.iterdir())
    type_under(page, "hold_s", "soon")
    press(bench, Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert page.is_open and "1 mistake" in page.wrong.text()
    hint = page.of_stage.hints["hold_s"]
    assert "a number from 1 to 3600 s" in hint.text() and hint.property("wrong") == "true"
    assert page.list.item(page.list.currentRow()).text().startswith("\u2717")
    assert set(stages._folder.iterdir()) == before
    type_under(page, "hold_s", "20")
    press(bench, Key.Key_Tab)
    assert hint.property("wrong") == "false" and not page.list.item(1).text().startswith("\u2717")


def test_a_change_is_saved_as_a_new_file_with_the_next_version(bench: Bench) -> None:
    page = open_editor(bench)
    stages = page._stages
    assert stages is not None and stages.kept is not None
    before = stages.kept
    type_under(page, "hold_s", "20")
    press(bench, Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert not page.is_open and stages.kept.place != before.place
    assert stages.kept.programme.version == "1.1" and stages.kept.programme.stages[0].hold_s == 20.0
    assert Path(before.place).read_text() == before.text == ready_text("achilles"), "the one before is as it was"
    assert stages.kept.text.splitlines()[0] == before.text.splitlines()[0], "comments stay"


def test_leaving_with_a_change_asks_once(bench: Bench) -> None:
    page = open_editor(bench)
    type_under(page, "note", "Only as far as it is easy.")
    press(bench, Key.Key_Escape)
    assert page.is_open and "Nothing of this is saved" in page.wrong.text()
    press(bench, Key.Key_Escape)
    assert not page.is_open


def test_leaving_without_a_change_does_not(bench: Bench) -> None:
    page = open_editor(bench)
    press(bench, Key.Key_Escape)
    assert not page.is_open


def test_a_stage_is_copied_and_removed(bench: Bench) -> None:
    page = open_editor(bench)
    rows = page.list.count()
    page.copy.click()
    assert page.list.count() == rows + 1 and page.list.currentRow() == 2
    assert page.of_stage.typed("key") == "hold-10-2"
    page.remove.click()
    assert page.list.count() == rows and page.draft is not None and not page.draft.mistakes()


def test_a_draft_of_each_ready_made_programme_can_be_shown(bench: Bench, tmp_path: Path) -> None:
    window = bench.open()
    for place in ("achilles", "partial-load", "even-load"):
        page = window.ward.edit_page
        page.open_page(Stages(tmp_path, place))
        for row in range(page.list.count()):
            page.list.setCurrentRow(row)
            assert (page.draft is not None and not page.draft.is_changed) or row >= 0
        page.leave()
