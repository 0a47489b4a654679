"""How the sides of a session compare, on a patient's page: the same as the command tells, and all of it in German."""

from __future__ import annotations

import json
import re
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from tests.lab.weeks import CODE
from tests.unit.kept import store_with
from tests.window.clinic import Key, come_in, now, see, steps
from tests.window.conftest import Bench
from tests.window.test_keyboard import ALT, press
from weightshare.cli import main
from weightshare.metrology import index
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.index import BOTH_INJURED, NO_REST, STEERED, Kind, Reliability, compare
from weightshare.practice.message import retell
from weightshare.records import symmetry
from weightshare.records.place import store_place
from weightshare.records.store.patient import Affected, find_patient
from weightshare.records.store.store import open_store
from weightshare.records.store.visit import list_visits, take_in
from weightshare.window import language
from weightshare.window.patientpage import SIDES
from weightshare.window.patientsides import say_index

pytestmark = pytest.mark.usefixtures("clinics_own")


def test_the_chosen_session_is_compared_as_the_command_does(
    bench: Bench, weeks: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with open_store(weeks, "tester", now) as old:
        visit = list_visits(old, find_patient(old, CODE))[-1]
        shutil.copytree(old.sessions / visit.id, tmp_path / "session-1")
    with store_with(store_place(), "A-1", affected=Affected.LEFT) as (store, patient):
        take_in(store, patient, tmp_path / "session-1")
    _window, door = come_in(bench)
    see(bench, door, "a-1")
    page = door.page
    press(bench, Key.Key_T, ALT)
    bench.until(lambda: page.tabs.currentIndex() == SIDES and page.sides.list.count() > 0, 30.0)
    assert page.sides.said.text() == visit.started_at[:16].replace("T", " ") and page.sides.list.hasFocus()
    shown = [page.sides.list.item(row).text().strip() for row in range(page.sides.list.count())]
    assert "compared the sides of a session" in steps("A-1")
    capsys.readouterr()
    assert main(["symmetry", "A-1", "--began", visit.started_at[:16], "--json"]) == 0
    told = json.loads(capsys.readouterr().out)["indices"]
    assert len(told) == sum(": injured " in words for words in shown) >= 2
    for one in told:
        at = next(row for row, words in enumerate(shown) if words.lower().startswith(one["measure"] + ": injured"))
        figures = [float(one) for one in re.findall(r"\d+(?:\.\d+)?", shown[at].partition(": ")[2])]
        for side, value, doubt in zip(("injured", "uninjured"), figures[::2], figures[1::2], strict=True):
            assert value == pytest.approx(one[side]["value"], rel=0.01)
            assert one[side]["uncertainty"] <= doubt <= 1.1 * one[side]["uncertainty"], "k = 2, rounded up"
        assert one["reason"] is None or f"No index: {one['reason']}." in shown[at : at + 2]
        assert one["reason"] is not None or shown[at + 1].startswith("limb symmetry index ")
        rest = shown[at : at + 4 + len(one["cautions"])]
        assert all(f"Caution: {words}." in rest for words in one["cautions"])
    assert "this task was done on 1 day, and it takes 4" in " ".join(shown)


def test_an_index_stands_with_both_values_and_never_where_there_is_a_reason() -> None:
    both = Estimate(90.0, 1.0), Estimate(100.0, 1.0)
    made = list(say_index(compare(Kind.HEIGHT, *both)))
    plain = [words.replace("\u00a0", " ") for words in made]
    assert plain[0] == "Mean heel height: injured 90.0 \u00b1 2.0 mm, other 100.0 \u00b1 2.0 mm"
    # JCGM 100:2008, equation 10: sqrt(1 + 0.9^2) = 1.345, and twice that is told rounded up
    assert plain[1].startswith("limb symmetry index 90.0 \u00b1 2.7 %, symmetry index 10.5 ")
    assert "--repeats" not in " ".join(plain), "the window has no command line"
    refused = " ".join(say_index(compare(Kind.HEIGHT, *both, reason=BOTH_INJURED)))
    assert "limb symmetry index" not in refused and f"No index: {BOTH_INJURED}." in refused
    published = " ".join(say_index(compare(Kind.MEAN_FORCE, *both)))
    assert "of this index some 25 %" in published


def test_all_that_an_index_tells_is_told_in_german(english_after: None) -> None:
    language.speak("de")
    cautions = {words for each in index._CAUTIONS.values() for words in each}
    told = {*cautions, index.GOOD_LEG, NO_REST, STEERED, BOTH_INJURED, *Kind, index._STANDING_WORDS, index._COUNT_WORDS}
    told |= {symmetry.SHOWN_EVEN, symmetry.TOGETHER, symmetry.SUPPORTED}
    # how long a hold on one leg lasts, and with what force, is typed in at the command line alone
    typed = {*index._CAUTIONS[Kind.HOLD_TIME], *index._CAUTIONS[Kind.HOLD_FORCE], Kind.HOLD_TIME, Kind.HOLD_FORCE}
    assert [words for words in told - typed if retell(str(words)) == words] == []
    few_days = "not known of this patient yet: this task was done on 1 day, and it takes 4"
    one = compare(Kind.REPETITIONS, Estimate(20.0, 0.5), Estimate(25.0, 0.5))
    both = replace(one, reliability=Reliability(f"{index._COUNT_WORDS}; {few_days}"))
    assert "an 1 Tag gemacht" in " ".join(say_index(both)) and "gesund" in " ".join(say_index(both))
