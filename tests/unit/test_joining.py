"""What comes with a bundle beside sessions: it joins what is here, comes in once, and nothing is written over."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.unit.kept import NOW, PASSPHRASE, TODAY, new_store, session, store_with
from tests.unit.test_bundle import Files, alter, path_of
from tests.unit.test_store_readings import write
from weightshare.cli import main
from weightshare.errors import RecordError, StoreError
from weightshare.records.diary import About, Diary, Entry, join
from weightshare.records.seal import sealed
from weightshare.records.store import cipher
from weightshare.records.store.bundle import write_bundle
from weightshare.records.store.check import check_store
from weightshare.records.store.patient import (
    Affected,
    Patient,
    add_patient,
    change_patient,
    list_patients,
    make_patient,
)
from weightshare.records.store.ruling import Ruling, keep_ruling, list_rulings
from weightshare.records.store.saying import read_said, say
from weightshare.records.store.settled import list_readings, take_readings
from weightshare.records.store.store import Store
from weightshare.records.store.unbundle import take_bundle
from weightshare.records.store.visit import list_visits, take_in
from weightshare.report.closing import decision_section

EFFORT, PAIN = Entry(About.EFFORT, "2026-03-02T11:00:00+02:00", 5), Entry(About.PAIN_AFTER, NOW.isoformat(), 2)
MORNING = Entry(About.PAIN_NEXT_MORNING, "2026-03-03T08:00:00+02:00", 1)


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Take the least work that a lock may take."""
    monkeypatch.setattr(cipher, "WORK", 1 << 14)


def decide(store: Store, patient: Patient, *words: str, by: str = "C. L.") -> None:
    """Sign a decision for each of `words`, all in one second."""
    for one in words:
        keep_ruling(store, patient, Ruling("2026-05-01T10:00:00+02:00", by, "stays", "a", "a", one, '{"stage": "a"}'))


@pytest.fixture(params=[None, PASSPHRASE], ids=["plain", "sealed"])
def pair(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[Store, Patient, Store]]:
    """A store whose patient has a session and two decisions, and an empty one; `way` brings a bundle from one to the
    other."""
    with (
        store_with(tmp_path / "here", passphrase=request.param) as (here, patient),
        new_store(tmp_path / "there", request.param) as there,
    ):
        take_in(here, patient, session(tmp_path))
        decide(here, patient, "first", "second")
        yield here, patient, there


def bring(here: Store, there: Store, place: Path) -> Any:
    """Take the patient of `here` to `there`, in a bundle."""
    (patient,) = list_patients(here)
    path = place / f"{len(list(place.glob('*.zip')))}.zip"
    write_bundle(here, patient, path)
    return take_bundle(there, path, TODAY)


def content(store: Store) -> Any:
    """Return all that a store keeps but the trail."""
    (patient,) = list_patients(store)
    visits = list_visits(store, patient)
    said = [read_said(store, visit) for visit in visits]
    with store.reading() as db:
        rows = [
            db.execute(f"SELECT * FROM {table}").fetchall() for table in ("patient", "session", "decision", "reading")
        ]
    files = {path: path.read_bytes() for path in sorted(store.sessions.rglob("*")) if path.is_file()}
    return rows, files, said


def test_decisions_travel_as_they_were_signed_and_say_where(pair: tuple[Store, Patient, Store], tmp_path: Path) -> None:
    here, patient, there = pair
    arrived = bring(here, there, tmp_path)
    assert (arrived.decisions, arrived.conflicts) == (2, ())
    signed = list_rulings(here, patient)
    assert {one.store for one in signed} == {""} and {one.signer for one in signed} == {"C. L."}
    known = list_rulings(there, arrived.patient)
    assert [replace(one, store="") for one in known] == signed, "to the letter, evidence and all"
    assert {one.store for one in known} == {here.ident} and known[0].signer == "C. L. (in another store)"
    assert known[0].to_json()["other_store"] == here.ident
    before = content(there)
    assert bring(here, there, tmp_path).decisions == 0
    assert content(there) == before, "the same again changes nothing"
    # the chain goes on, there and back
    decide(there, arrived.patient, "third", by="K. M.")
    assert bring(there, here, tmp_path).decisions == 1
    assert [(one.note, one.store) for one in list_rulings(here, patient)] == [
        ("first", ""), ("second", ""), ("third", there.ident)
    ]  # fmt: skip
    assert check_store(here).faults == check_store(there).faults == ()


def test_where_decisions_parted_those_here_stay_and_it_is_told(
    pair: tuple[Store, Patient, Store], tmp_path: Path
) -> None:
    here, patient, there = pair
    arrived = bring(here, there, tmp_path)
    decide(here, patient, "on this side")
    decide(there, arrived.patient, "on that side", by="K. M.")
    take_in(here, patient, session(tmp_path, 5))
    before = list_rulings(there, arrived.patient)
    again = bring(here, there, tmp_path)
    (told,) = again.conflicts
    assert told == (
        "decisions parted: here K. M. of 2026-05-01 (stays), there C. L. of 2026-05-01 (stays);"
        " those here stay, and none from there on was taken in"
    )
    assert list_rulings(there, arrived.patient) == before and again.decisions == 0
    assert len(list_visits(there, arrived.patient)) == 2, "sessions come in all the same"


def change(work: Callable[[list[Any]], None]) -> Callable[[Files], None]:
    def changed(files: Files) -> None:
        told = json.loads(files["decisions.json"])
        work(told["decisions"])
        files["decisions.json"] = json.dumps(told).encode()

    return changed


ALTERED: dict[str, Callable[[list[Any]], Any]] = {
    "a word": lambda told: told[0].update(note="fist"),
    "the signer": lambda told: told[1].update(by="K. M."),
    "the first one out": lambda told: told.pop(0),
    "one out of the middle": lambda told: told.pop(1),
    "in another order": list.reverse,
    "doubled": lambda told: told.insert(1, told[0]),
    "more in it": lambda told: told[1].update(more="x"),
    "no store": lambda told: told[1].update(store="../x"),
    "no object": lambda told: told.append("x"),
}


@pytest.fixture(scope="module")
def three(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A bundle with a session and three decisions."""
    place = tmp_path_factory.mktemp("three")
    with store_with(place / "here") as (here, patient):
        take_in(here, patient, session(place))
        decide(here, patient, "first", "second", "third")
        write_bundle(here, patient, place / "a.zip")
    return place / "a.zip"


@pytest.mark.parametrize("name", ALTERED)
def test_an_altered_decision_is_refused_with_all_that_came_with_it(name: str, three: Path, tmp_path: Path) -> None:
    told = {False: r"decisions\.json was altered", True: r"decisions\.json: a decision in it was altered"}
    with new_store(tmp_path / "there") as there:
        # listed: as a forger would, who makes the list agree
        for listed, words in told.items():
            bundle = alter(three, change(ALTERED[name]), listed=listed)
            with pytest.raises(StoreError, match=words):
                take_bundle(there, bundle, TODAY)
        assert list_patients(there) == [] and list(there.sessions.iterdir()) == []


def test_decisions_about_somebody_else_are_refused(tmp_path: Path) -> None:
    with store_with(tmp_path / "here") as (here, patient):
        other = add_patient(here, make_patient("B", TODAY))
        for number, one in enumerate((patient, other)):
            take_in(here, one, session(tmp_path, number))
            decide(here, one, "of " + one.code)
            write_bundle(here, one, tmp_path / f"{one.code}.zip")
    strange: Files = {}
    alter(tmp_path / "B.zip", strange.update)
    bundle = alter(
        tmp_path / "A-1.zip",
        lambda files: files.update({"decisions.json": strange["decisions.json"]}),
        listed=True,
    )
    with new_store(tmp_path / "there") as there, pytest.raises(StoreError, match="a decision in it was altered"):
        take_bundle(there, bundle, TODAY)


def test_what_was_said_at_two_places_stands_in_both(pair: tuple[Store, Patient, Store], tmp_path: Path) -> None:
    here, patient, there = pair
    (visit,) = list_visits(here, patient)
    say(here, patient, visit, PAIN)
    arrived = bring(here, there, tmp_path)
    (other,) = list_visits(there, arrived.patient)
    say(here, patient, visit, MORNING)
    say(there, arrived.patient, other, EFFORT)
    assert bring(here, there, tmp_path).said == 1
    all_said = Diary((EFFORT, MORNING, PAIN))
    assert read_said(there, other) == all_said, "in order of time"
    before = content(there)
    assert bring(here, there, tmp_path).said == 0 and content(there) == before
    assert bring(there, here, tmp_path).said == 1 and read_said(here, visit) == all_said


entries = st.builds(
    Entry, st.just(About.EFFORT), st.sampled_from([EFFORT.at, PAIN.at, MORNING.at, "2026-03-02", ""]), st.integers(0, 2)
)
diaries = st.builds(Diary, st.lists(entries, max_size=5).map(tuple))


@given(diaries, diaries)
def test_diaries_join_without_loss_and_once(here: Diary, there: Diary) -> None:
    both = join(here, there)
    assert Counter(both.entries) == Counter(here.entries) | Counter(there.entries)
    assert join(both, there) == join(both, here) == both
    assert Counter(join(there, here).entries) == Counter(both.entries)
    assert join(here, Diary()) == here


def test_a_forged_diary_is_refused_before_anything_comes_in(tmp_path: Path) -> None:
    def forge(files: Files) -> None:
        name = path_of(files, "diary.json")
        files[name] = files[name].replace(b'"value": 2', b'"value": 1')

    with store_with(tmp_path / "here") as (here, patient):
        say(here, patient, take_in(here, patient, session(tmp_path)).visit, PAIN)
        write_bundle(here, patient, tmp_path / "a.zip")
    with new_store(tmp_path / "there") as there:
        with pytest.raises(RecordError, match=r"diary\.json: was altered"):
            take_bundle(there, alter(tmp_path / "a.zip", forge, listed=True), TODAY)
        assert list_patients(there) == []


def test_settled_readings_travel_and_stay_their_owners(pair: tuple[Store, Patient, Store], tmp_path: Path) -> None:
    here, patient, there = pair
    file = write(tmp_path, 41.0, 47.5)
    file.close()
    assert file.path is not None
    lines = file.path.read_bytes()
    take_readings(here, patient, file.path)
    arrived = bring(here, there, tmp_path)
    (found,) = list_readings(there, arrived.patient)
    assert arrived.readings == 1 and found.text.encode() == lines and found.share_percent == 47.5
    assert bring(here, there, tmp_path).readings == 0
    file.path.write_bytes(lines)
    with store_with(tmp_path / "third", code="C") as (third, stranger):
        take_readings(third, stranger, file.path)
        with pytest.raises(StoreError, match="these readings are another patient's"):
            bring(here, third, tmp_path)
        assert list_patients(third) == [stranger], "before anything was taken in"


def test_what_two_stores_say_differently_of_a_patient_is_told(
    pair: tuple[Store, Patient, Store], tmp_path: Path
) -> None:
    here, patient, there = pair
    change_patient(here, patient, TODAY, affected=Affected.LEFT)
    arrived = bring(here, there, tmp_path)
    assert arrived.conflicts == ()
    change_patient(there, arrived.patient, TODAY, affected=Affected.RIGHT, injured_on="2026-02-01", stage="raise")
    (told,) = bring(here, there, tmp_path).conflicts
    assert told == "the injured side of A-1 is right here and left there: that here stays; find out which is right"
    (kept,) = list_patients(there)
    assert (kept.affected, kept.injured_on, kept.stage) == (Affected.RIGHT, "2026-02-01", "raise")


def test_a_session_of_somebody_else_is_refused_before_anything_comes_in(
    pair: tuple[Store, Patient, Store], tmp_path: Path
) -> None:
    here, patient, there = pair
    stranger = add_patient(there, make_patient("C", TODAY))
    take_in(here, patient, session(tmp_path, 1))
    take_in(there, stranger, session(tmp_path / "again", 1))
    with pytest.raises(StoreError, match="this session is another patient's"):
        bring(here, there, tmp_path)
    assert list_patients(there) == [stranger] and len(list(there.sessions.iterdir())) == 1


def test_a_bundle_of_an_earlier_version_has_no_decisions(three: Path, tmp_path: Path) -> None:
    def without(files: Files) -> None:
        del files["decisions.json"]
        package = json.loads(files["datapackage.json"])
        package["resources"] = [one for one in package["resources"] if one["path"] in files]
        files["datapackage.json"] = json.dumps(sealed(package)).encode()

    with new_store(tmp_path / "there") as there:
        arrived = take_bundle(there, alter(three, without), TODAY)
        assert list_rulings(there, arrived.patient) == []


def test_the_commands_tell_what_came_along_and_what_did_not(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with store_with(tmp_path / "here") as (here, patient):
        take_in(here, patient, session(tmp_path))
        decide(here, patient, "first")
    stores = {name: ["--store", str(tmp_path / name)] for name in ("here", "there")}
    assert main(["store", "make", *stores["there"]]) == 0
    assert main(["export", "A-1", "--bundle", str(tmp_path / "a.zip"), *stores["here"]]) == 0
    assert main(["import", str(tmp_path / "a.zip"), *stores["there"]]) == 0
    assert "and beside them: 1 decision, signed elsewhere\n" in capsys.readouterr().out
    assert main(["patient", "show", "A-1", *stores["there"]]) == 0
    assert "C. L. (in another store): stays: a -> a (first)" in capsys.readouterr().out
    with new_store(tmp_path / "third") as third:
        keep = add_patient(third, replace(patient, added_at=""))
        decide(third, keep, "otherwise", by="K. M.")
    assert main(["import", str(tmp_path / "a.zip"), "--json", "--store", str(tmp_path / "third")]) == 0
    out, err = capsys.readouterr()
    told = json.loads(out)
    assert (told["new_sessions"], told["decisions"], told["said"], told["corrected"], told["readings"]) == (
        1,
        0,
        0,
        0,
        0,
    )
    assert err == f"not taken in: {told['conflicts'][0]}\n" and err.count("parted") == 1


def test_a_report_says_which_decision_was_signed_elsewhere() -> None:
    rulings = Ruling("2026-05-01", "C. L.", "stays"), Ruling("2026-05-02", "K. M.", "stays", store="0" * 32)
    section = decision_section(rulings, {}, 9)
    assert section is not None and section.table is not None
    assert [row[1] for row in section.table.rows] == ["C. L.", "K. M. (in another store)"]
