"""The window made anew in another language, and with another store of patients: nobody is lost in it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.window.conftest import Bench
from weightshare.model import Side
from weightshare.practice.clinic.charge import Charge
from weightshare.practice.option import PractiseOptions
from weightshare.programme.prescription import goal_of, prescribe
from weightshare.programme.shelf import find_programme
from weightshare.window.app import make_again
from weightshare.window.feed import Order
from weightshare.window.main import PracticeWindow

KEPT = find_programme("achilles")
STAGE = KEPT.find("lowering-80")
pytestmark = pytest.mark.usefixtures("own_place")


def open_for(bench: Bench, folder: Path) -> PracticeWindow:
    """A window in which a patient of the store was chosen, with a stage, on scales that were set up meanwhile."""
    window = bench.open()
    window.options = PractiseOptions(window.flow.settings, window.flow.goal, calibrations=(Path("old.json"),))
    order = window.ward.order
    order.prescription, order.place, order.at_home = KEPT.prescription(STAGE), "achilles", True
    order.charge, order.store = Charge("A-017", str(folder)), folder / "store"
    window.flow.settings = replace(prescribe(STAGE, Side.RIGHT), counting_from_s=12.0)
    window.flow.goal = goal_of(STAGE)
    return window


def test_another_language_keeps_patient_stage_scales_and_store(bench: Bench, tmp_path: Path) -> None:
    before = open_for(bench, tmp_path)
    after = make_again(before, bench.store)
    bench.keep(after)
    order: Order = after.ward.order
    assert order.charge == Charge("A-017", str(tmp_path)) and order.at_home
    assert order.prescription == KEPT.prescription(STAGE) and order.place == "achilles"
    assert after.flow.settings == prescribe(STAGE, Side.RIGHT), "practice has not begun in the new one"
    assert (after.flow.goal, after.flow.sources) == (goal_of(STAGE), before.flow.sources)
    assert after.options is not None and after.options.calibrations == (), "those were of other scales"
    assert order.store == tmp_path / "store"


def test_the_patients_page_looks_into_the_store_that_was_named(bench: Bench, tmp_path: Path) -> None:
    window = open_for(bench, tmp_path)
    assert window._annex.patients.clerk.place == tmp_path / "store"
    bench.app.processEvents()
