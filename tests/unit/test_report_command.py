"""`weightshare report`: from a folder and from the store, whole or not at all, and never with a name by itself."""

from __future__ import annotations

import io
import json
import shutil
import stat
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.unit import told
from tests.unit.kept import PASSPHRASE, TODAY
from weightshare.cli import main
from weightshare.records.diary import About, Entry
from weightshare.records.store import cipher
from weightshare.records.store.patient import Affected, add_patient, make_patient
from weightshare.records.store.ruling import Ruling, keep_ruling
from weightshare.records.store.saying import say
from weightshare.records.store.store import make_store
from weightshare.records.store.visit import take_in

Capture = pytest.CaptureFixture[str]
NAME = "Wilhelmina Invented"


@pytest.fixture(params=[None, PASSPHRASE], ids=["plain", "sealed"])
def known(
    request: pytest.FixtureRequest, tmp_path: Path, held: Path, lowered: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[list[str]]:
    """The options of a store with one patient, who has two sessions and a decision; and another without any."""
    monkeypatch.setattr(cipher, "WORK", 1 << 14)
    words = tmp_path / "words"
    words.write_text(f"{request.param}\n")
    day = told.FIRST + timedelta(days=30)
    with make_store(tmp_path / "s", "tester", lambda: day, request.param) as store:
        one = make_patient("A-1", day.date(), name=NAME, affected=Affected.LEFT, injured_on="2025-12-15")
        patient = add_patient(store, one)
        for folder in (held, lowered):
            visit = take_in(store, patient, folder).visit
            say(store, patient, visit, Entry(About.NOTE, day.isoformat(), words=f"{NAME.upper()} slept well"))
        ruling = Ruling("2026-03-16T10:00:00+01:00", "the clinic", "stays", "a", "", f"{NAME} is to wait a week")
        keep_ruling(store, patient, ruling)
        add_patient(store, make_patient("A-2", TODAY))
    yield ["--store", str(tmp_path / "s"), *([] if request.param is None else ["--passphrase-file", str(words)])]


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder, in which the command is given."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def text_of(path: Path) -> str:
    if path.suffix == ".html":
        return path.read_text(encoding="utf-8")
    return " ".join(" ".join(page.extract_text() for page in PdfReader(path).pages).split())


@pytest.mark.parametrize("reader", ["patient", "clinician"])
@pytest.mark.parametrize("form", ["pdf", "html"])
def test_a_folder_becomes_a_report(held: Path, tmp_path: Path, form: str, reader: str, capsys: Capture) -> None:
    to = tmp_path / f"report.{form}"
    assert main(["report", str(held), "--to", str(to), "--for", reader, "--paper", "letter"]) == 0
    assert capsys.readouterr() == ("", f"written: {to}\n")
    assert ("Your practice on 2 March 2026" in text_of(to)) is (reader == "patient")
    assert stat.S_IMODE(to.stat().st_mode) == 0o600
    assert [path.name for path in tmp_path.iterdir()] == [to.name]
    first = to.read_bytes()
    assert main(["report", str(held), "--to", str(to), "--for", reader, "--paper", "LETTER"]) == 0
    assert to.read_bytes() == first
    if form == "pdf":
        assert float(PdfReader(io.BytesIO(first)).pages[0].mediabox.width) == pytest.approx(612.0)


@pytest.mark.parametrize(("form", "reader"), [("html", "patient"), ("pdf", "clinician")])
def test_the_name_is_in_it_only_where_that_was_asked_for(
    known: list[str], tmp_path: Path, form: str, reader: str, capsys: Capture
) -> None:
    to = tmp_path / f"report.{form}"
    words = ["report", "A-1", "--to", str(to), "--for", reader, "--began", "2026-03-02T10", *known]
    # both began at one time: neither is meant
    assert main(words) == 2
    assert "2 sessions of A-1 began then" in capsys.readouterr().err
    words.remove("--began")
    words.remove("2026-03-02T10")
    assert main(words) == 0
    assert b"wilhelmina" not in to.read_bytes().lower()
    assert "wilhelmina" not in text_of(to).lower() and "A-1" in text_of(to)
    assert main([*words, "--with-name"]) == 0
    assert NAME in text_of(to)
    if reader == "clinician":
        assert "is to wait a week" in text_of(to) and "slept well" in text_of(to) and "11 weeks before" in text_of(to)


def test_the_trail_tells_of_it(known: list[str], tmp_path: Path, capsys: Capture) -> None:
    assert main(["report", "A-1", "--to", str(tmp_path / "a.html"), *known]) == 0
    capsys.readouterr()
    assert main(["patient", "show", "A-1", "--trail", "--json", *known]) == 0
    steps = [(step["what"], step["detail"]) for step in json.loads(capsys.readouterr().out)["trail"]]
    assert ("reported a session", told.FIRST.isoformat()) in steps


def test_sessions_of_one_person_beside_it_make_a_trend(lowered: Path, tmp_path: Path) -> None:
    for day in (3, 7):
        told.record(tmp_path / "all", told.LOWERING, "raiser", 28.0, day=day, sets=told.one_set(28.0))
    shutil.copytree(lowered, tmp_path / "all" / "session-own")
    broken = tmp_path / "all" / "session-broken"
    shutil.copytree(lowered, broken)
    (broken / "analysis.json").write_text("{}")
    to = tmp_path / "a.html"
    assert main(["report", str(lowered), "--repeats", str(tmp_path / "all"), "--to", str(to)]) == 0
    text = text_of(to)
    assert "3 sessions of this task on 3 days." in text and "3 sessions on 3 days" in text
    assert "Passed over: " in text and "session-broken" in text


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["HELD", "--to", "a.doc"], "its name has to end in .pdf or .html"),
        (["HELD", "--to", "nowhere/a.pdf"], "there is no folder"),
        (["HELD", "--to", "folder.pdf"], "is a folder"),
        (["HELD"], "the following arguments are required: --to"),
        (["HELD", "--to", "a.pdf", "--paper", "a3"], "invalid choice: 'a3'"),
        (["HELD", "--to", "a.pdf", "--for", "insurer"], "invalid choice: 'insurer'"),
        (["HELD", "--to", "a.pdf", "--with-name"], "--with-name goes with a patient's code"),
        (["HELD", "--to", "a.pdf", "--began", "2026"], "--began goes with a patient's code"),
        (["HELD", "--to", "a.pdf", "--repeats", "nowhere"], "--repeats nowhere: name a folder"),
        (["HELD", "--to", "a.pdf", "--repeats", "HELD"], "name a folder that holds sessions of this person"),
        (["BROKEN", "--to", "a.pdf"], "broken/settings.json: was cut short"),
        (["./nowhere", "--to", "a.pdf"], "holds no session"),
        (["A-1", "--to", "a.pdf", "--store", "nowhere"], "there is no store of patients"),
        (["x" * 5000, "--to", "a.pdf", "--store", "nowhere"], "is no folder of a session"),
    ],
)
def test_bad_use_is_one_line_and_leaves_what_was_there(
    words: list[str], said: str, held: Path, place: Path, capsys: Capture
) -> None:
    shutil.copytree(held, place / "broken")
    Path("broken", "settings.json").write_text("{}")
    Path("folder.pdf").mkdir()
    Path("a.pdf").write_text("the one before")
    places = {"HELD": str(held), "BROKEN": "broken"}
    assert exit_of(["report", *(places.get(word, word) for word in words)]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.count("\n") == 1 and said in err
    assert Path("a.pdf").read_text() == "the one before"
    assert sorted(path.name for path in place.iterdir()) == ["a.pdf", "broken", "folder.pdf"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["A-2"], "A-2: has no sessions yet"),
        (["A-3"], "there is no patient A-3"),
        (["A-1", "--began", "2027"], "no session of A-1 began then"),
        (["A-1", "--repeats", "."], "--repeats goes with a session's folder"),
    ],
)
def test_bad_use_of_the_store_is_one_line(
    words: list[str], said: str, known: list[str], tmp_path: Path, capsys: Capture
) -> None:
    assert exit_of(["report", *words, "--to", str(tmp_path / "a.pdf"), *known]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.count("\n") == 1 and said in err
    assert not (tmp_path / "a.pdf").exists()


def exit_of(words: list[str]) -> int:
    try:
        return main(words)
    except SystemExit as left:
        return int(left.code or 0)
