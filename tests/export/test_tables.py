"""Tables out and in again: the same numbers, the dictionary's types, no text that computes, no name by itself."""

from __future__ import annotations

import csv
import io
import json
import shutil
import stat
import warnings
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pyarrow.parquet as pq
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from tests.export.conftest import NAME, NOTE
from weightshare.errors import OptionError, RecordError
from weightshare.exercise import STRUCK
from weightshare.pipeline.analysis import analyse_trace
from weightshare.records.current import Wish, correct
from weightshare.records.export.arrow import samples_csv
from weightshare.records.export.catalogue import SAMPLES, TABLES
from weightshare.records.export.column import Column, Kind, Table
from weightshare.records.export.folder import whole_folder
from weightshare.records.export.frame import read_dictionary, read_export
from weightshare.records.export.row import phases_of, rows_of
from weightshare.records.export.saved import SavedSession, load_saved
from weightshare.records.export.text import harmless, plain_text, to_csv
from weightshare.records.export.writing import FORMS, Request, write_export
from weightshare.records.figure import Source, figures_of
from weightshare.records.symmetry import indices_of
from weightshare.records.trace import read_trace

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # what the library's own dependencies say on loading
    import frictionless

TABULAR = ("csv", "parquet", "package")


@pytest.fixture(scope="module")
def exports(lowered: SavedSession, held: SavedSession, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with an export of both sessions in each form of tables."""
    place = tmp_path_factory.mktemp("exports")
    for form in TABULAR:
        write_export([lowered, held], place / form, Request(form))
    return place


def samples_of(place: Path) -> list[Path]:
    return sorted(place.glob("samples-*"))


@pytest.mark.parametrize("form", TABULAR)
def test_samples_come_back_to_the_last_bit(form: str, exports: Path, lowered: SavedSession, held: SavedSession) -> None:
    for path, session in zip(samples_of(exports / form), (lowered, held), strict=True):
        trace = read_trace(path)
        assert np.array_equal(trace.time_s, session.trace.time_s)
        assert trace.columns.keys() == session.trace.columns.keys()
        for name, values in session.trace.columns.items():
            assert np.array_equal(trace.columns[name], values, equal_nan=True), name
        told = session.settings, session.head.sets
        assert analyse_trace(trace, *told) == analyse_trace(session.trace, *told)


@given(st.lists(st.floats(allow_infinity=False), min_size=1, max_size=20))
@settings(max_examples=50)
def test_any_number_comes_back_to_the_last_bit(values: list[float]) -> None:
    told = samples_csv({"time_s": np.arange(len(values), dtype=np.float64), "left_N": np.array(values)}).decode()
    fields = [line.split(",")[1] for line in told.splitlines()[1:]]
    again = [float(field) if field else np.nan for field in fields]
    assert np.array_equal(np.array(again), np.array(values), equal_nan=True)


@pytest.mark.parametrize("form", TABULAR)
def test_frames_have_the_types_of_the_dictionary(form: str, exports: Path, lowered: SavedSession) -> None:
    tables = read_export(exports / form)
    kinds = {"number": "float64", "integer": "Int64", "boolean": "boolean", "string": "string"}
    for entry in read_dictionary(exports / form)["tables"]:
        for name in entry["files"]:
            frame = tables[Path(name).stem]
            assert list(frame.columns) == [one["name"] for one in entry["columns"]]
            for one in entry["columns"]:
                said = str(frame.dtypes[one["name"]])
                assert said.startswith("datetime64") if one["type"] == "datetime" else said == kinds[one["type"]]
                if one["missing"] is None:
                    assert frame[one["name"]].notna().all(), one["name"]
    first = tables[samples_of(exports / form)[0].stem]
    pd.testing.assert_frame_equal(first, lowered.samples())
    repetitions = tables["repetitions"]
    pd.testing.assert_frame_equal(repetitions, lowered.repetitions())
    assert tables["sessions"]["started_at"].dt.tz is not None


def test_rows_say_what_the_analysis_says(lowered: SavedSession, held: SavedSession) -> None:
    analysis = lowered.analysis
    assert lowered.repetitions()["start_s"].tolist() == pytest.approx([one.start_s for one in analysis.repetitions])
    phases = lowered.table("phases")
    assert phases["phase"].tolist() == ["rise", "top", "lowering"] * len(analysis.repetitions)
    assert (phases["end_s"] - phases["start_s"]).to_numpy() == pytest.approx(phases["duration_s"], abs=1e-5)
    (row,) = lowered.table("sets")["repetitions"]
    assert row == len(analysis.repetitions) == 3
    assert lowered.table("sessions")["limb_symmetry_index_percent"].isna().all(), "steered: no symmetry"
    assert held.holds()["held_s"].tolist() == pytest.approx([one.held_s for one in analysis_holds(held)])
    assert {*held.table("events")["kind"]} == {"hold"}
    assert lowered.table("diary")["value"].dropna().tolist() == [2, 5]


def test_what_is_known_of_uncertainty_stands_beside_its_figure(lowered: SavedSession, held: SavedSession) -> None:
    """Every uncertainty in the analysis is in a table; spreads are those of scipy, `sem` of the mean (JCGM 100:2008,
    4.2.3) and so many times that of a sum, and the instrument's is put to them as a square (5.1.2)."""
    worth = lowered.content["uncertainty"]
    rows: Any = lowered.rows()
    session, reps, sets = (rows[name][0] for name in ("sessions", "repetitions", "sets"))
    assert session["share_mean_expanded_uncertainty_points"] == worth["share_mean_points"] > 0.0
    assert session["body_weight_expanded_uncertainty_N"] == worth["body_weight_N"] > 0.0
    assert (worth["assumed"], session["uncertainty_assumed"], session["uncertainty_missing"]) == ([], None, None)
    for phase in ("rise", "top", "lowering"):
        told = worth["repetitions"][0][f"share_{phase}_points"]
        assert reps[f"share_{phase}_expanded_uncertainty_points"] == told > 0.0
    lifts = lowered.repetitions()
    mean = lifts["share_lowering_expanded_uncertainty_points"].mean()
    assert sets["share_lowering_expanded_uncertainty_points"] == pytest.approx(mean)
    heel, highs = lowered.content["height_worth"], lifts["height_injured_mm"]
    each = [2.0 * float(np.hypot(heel["height_mm"], heel["place_part"] * high)) for high in highs]
    assert lifts["height_injured_expanded_uncertainty_mm"].tolist() == pytest.approx(each)
    both = np.hypot(stats.sem(highs), np.hypot(heel["height_mm"], heel["place_part"] * highs.mean()))
    assert sets["height_standard_uncertainty_mm"] == pytest.approx(float(both))
    time_u = float(stats.sem(lifts["lowering_duration_s"]))
    assert sets["lowering_duration_standard_uncertainty_s"] == pytest.approx(time_u)
    for side in ("injured", "uninjured"):
        worths = lifts[f"load_travel_{side}_expanded_uncertainty_J"]
        assert worths.tolist() == [one[f"load_travel_{side}_J"] for one in worth["repetitions"]] and worths.min() > 0.0
        both = np.hypot(stats.sem(lifts[f"load_travel_{side}_J"]) * len(lifts), worths.sum() / 2.0)
        assert sets[f"load_travel_{side}_standard_uncertainty_J"] == pytest.approx(float(both))
    assert held.holds()["share_expanded_uncertainty_points"].tolist() == held.content["uncertainty"]["holds"]


def test_figures_say_how_well_they_are_known_and_from_what(lowered: SavedSession) -> None:
    """As the command `symmetry` tells them (`indices_of`), which knows them from the analysis itself."""
    rows: Any = lowered.table("figures").set_index(["figure", "side"])
    compared = {str(one.kind): one for one in indices_of(lowered.appraisal)}
    for name in ("mean heel height", "load x heel travel"):
        for side, told in (("left", compared[name].injured), ("right", compared[name].uninjured)):
            row = rows.loc[name, side]
            assert told is not None and row["standard_uncertainty"] == pytest.approx(told.u, rel=1e-4)
            assert row["uncertainty_from"] == "instrument and spread"
            assert row["degrees_of_freedom"] == pytest.approx(told.dof, rel=1e-3)
    share = rows.loc["mean share", "left"]
    assert share["standard_uncertainty"] == 0.5 * lowered.content["uncertainty"]["share_mean_points"]
    assert share["uncertainty_from"] == "instrument" and pd.isna(share["degrees_of_freedom"])
    best, count = rows.loc["best heel height", "left"], rows.loc["repetitions in a set"].iloc[0]
    assert best["uncertainty_from"] == "instrument" and pd.isna(best["degrees_of_freedom"])
    # of a count nothing is known
    assert pd.isna(count["standard_uncertainty"]) and pd.isna(count["uncertainty_from"])


def test_without_a_calibration_nothing_is_said_of_uncertainty_but_why(lowered: SavedSession) -> None:
    content = {
        **lowered.content,
        "uncertainty": None,
        "uncertainty_missing": "no calibration was given",
        "height_worth": None,
    }
    content["ceiling"] = [{"start_s": 1.0, "end_s": 2.0, "peak_N": 300.0}]
    rows: Any = rows_of(lowered.origin, content, ())
    known = {name for each in rows.values() for row in each for name in row if row[name] is not None}
    assert {name for name in known if "expanded_uncertainty" in name} == set()
    assert rows["sessions"][0]["uncertainty_missing"] == "no calibration was given"
    # what is known of the person does not hang on the scale
    assert rows["sets"][0]["height_standard_uncertainty_mm"] is not None
    content["stand"] = {"from_s": 1.0, "to_s": 4.0, "share_percent": 46.5}
    (row,) = rows_of(lowered.origin, content, ())["sessions"]
    assert (row["stand_from_s"], row["stand_to_s"], row["stand_share_percent"]) == (1.0, 4.0, 46.5)
    content["uncertainty"] = {**lowered.content["uncertainty"], "ceiling_N": 0.8, "assumed": ["creep_part", "noise_N"]}
    content["height_worth"] = {**lowered.content["height_worth"], "assumed": True}
    rows = rows_of(lowered.origin, content, ())
    assert rows["sessions"][0]["uncertainty_assumed"] == "creep_part; noise_N; heel"
    crossed = [row for row in rows["events"] if row["kind"] == "over the ceiling"]
    assert [row["peak_expanded_uncertainty_N"] for row in crossed] == [0.8]


def test_of_one_repetition_there_is_no_spread(lowered: SavedSession) -> None:
    content = json.loads(json.dumps(lowered.content))
    content["sets"][0]["repetitions"] = [0]
    content["repetitions"] = content["repetitions"][:1]
    (row,) = rows_of(lowered.origin, content, ())["sets"]
    assert row["height_mm"] is not None and row["height_standard_uncertainty_mm"] is None
    # of the greatest one what the sensor is worth is known all the same
    left = {one.name: one.source for one in figures_of(content) if one.unit != "%"}
    assert left.pop("best heel height") is Source.INSTRUMENT and set(left.values()) == {None}


def analysis_holds(session: SavedSession) -> Any:
    assert session.analysis.holds
    return session.analysis.holds


def test_moments_belong_to_what_they_lie_in(lowered: SavedSession) -> None:
    samples = lowered.samples()
    second = lowered.analysis.repetitions[1]
    mine = samples[samples["repetition"] == 2]
    assert second.start_s is not None and second.end_s is not None and second.lowering_s is not None
    assert mine["time_s"].min() >= second.start_s and mine["time_s"].max() < second.end_s
    lowering = mine[mine["phase"] == "lowering"]
    assert lowering["time_s"].min() == pytest.approx(second.lowering_s, abs=0.011)
    # the share on the way down, from unfiltered samples
    share = 100.0 * lowering["left_N"].sum() / (lowering["left_N"] + lowering["right_N"]).sum()
    assert share == pytest.approx(second.share_lowering_percent, abs=0.5)
    assert samples["in_band"].sum() * 0.01 == pytest.approx(lowered.content["band"]["time_in_band_s"], abs=0.2)


def test_a_squat_begins_with_its_lowering() -> None:
    row = {"start_s": 1.0, "lowering_s": 1.0, "top_s": 4.0, "end_s": 4.0}
    row |= {"lowering_duration_s": 1.5, "rise_duration_s": 1.2}
    assert phases_of(row) == {"lowering": (1.0, 2.5), "rise": (2.8, 4.0)}


def test_a_phase_that_cannot_be_told_has_a_row_where_anything_is_known_of_it(lowered: SavedSession) -> None:
    content = json.loads(json.dumps(lowered.content))
    first = content["repetitions"][0]
    first |= {"top_s": None, "lowering_s": None, "top_duration_s": None, "share_top_percent": None}
    rows = [row for row in rows_of(lowered.origin, content, ())["phases"] if row["repetition"] == 1]
    assert [(row["phase"], row["start_s"]) for row in rows] == [("rise", None), ("lowering", None)]
    assert rows[1]["share_percent"] == first["share_lowering_percent"]


def test_what_the_clinician_struck_is_struck_here_too(lowered: SavedSession, tmp_path: Path) -> None:
    folder = Path(shutil.copytree(lowered.folder, tmp_path / lowered.folder.name))
    correct(folder, Wish("held on to the rail", 2), at="2026-11-24T10:15:00+01:00", by="C. L.")
    session = load_saved(folder)
    assert session.repetitions()["number"].tolist() == [1, 3], "by the numbers that they had first"
    assert set(session.table("phases")["repetition"]) == {1, 3} == set(session.samples()["repetition"].dropna())
    assert session.table("sessions")["corrected"].tolist() == [True]
    events = session.table("events")
    assert events["reason"].dropna().tolist().count(STRUCK) == 1
    assert lowered.table("sessions")["corrected"].tolist() == [False]


# -- the dictionary ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("table", [SAMPLES, *TABLES], ids=lambda table: table.name)
def test_every_column_says_what_it_is(table: Table) -> None:
    assert len(set(table.names)) == len(table.names)
    for one in table.columns:
        assert one.words and one.missing
        is_measured = one.name.rpartition("_")[2] in ("s", "N", "kg", "mm", "percent", "points", "J", "Hz")
        assert bool(one.unit.written) is is_measured, one.name


def test_parquet_says_it_too(exports: Path) -> None:
    schema = pq.read_schema(exports / "parquet" / "repetitions.parquet")
    about = schema.field("share_lowering_percent").metadata
    assert about[b"unit"] == b"%" and about[b"ucum"] == b"%" and b"impulse" in about[b"meaning"]


def test_the_page_and_the_schema_are_those_of_the_code(checkout: Path) -> None:
    space: dict[str, Any] = {"__file__": str(checkout / "docs" / "columns.py"), "__name__": "columns"}
    exec(compile((checkout / "docs" / "columns.py").read_text(encoding="utf-8"), "columns.py", "exec"), space)
    text = (checkout / "docs" / "export.md").read_text(encoding="utf-8")
    assert space["page"](text) == text, "run python docs/columns.py"
    schema = (checkout / "docs" / "export.schema.json").read_text(encoding="utf-8")
    assert space["schema"]() == schema, "run python docs/columns.py"


def test_the_reference_library_finds_nothing_wrong_with_the_package(exports: Path) -> None:
    """Source: Frictionless Standards, Data Package and Table Schema, version 1; their library `frictionless`."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        report = frictionless.validate(str(exports / "package" / "datapackage.json"))
    assert report.valid, report.flatten(["title", "fieldName", "message"])
    assert report.stats["tasks"] == 10


# -- what must not be in it ----------------------------------------------------------------------------------------


def all_text(place: Path) -> bytes:
    return b"".join(path.read_bytes() for path in sorted(place.iterdir()))


@pytest.mark.parametrize("form", [form for form in FORMS if form not in ("c3d", "parquet")])
def test_names_and_notes_leave_only_where_that_is_asked_for(form: str, lowered: SavedSession, tmp_path: Path) -> None:
    write_export([lowered], tmp_path / "bare", Request(form))
    bare = all_text(tmp_path / "bare")
    assert NAME.encode() not in bare and b"HYPERLINK" not in bare and b"A-1" in bare
    write_export([lowered], tmp_path / "notes", Request(form, with_notes=True))
    notes = all_text(tmp_path / "notes").decode()
    assert NAME.lower() not in notes.lower() and "A-1 slept well" in notes
    write_export([lowered], tmp_path / "full", Request(form, with_name=True, with_notes=True))
    full = all_text(tmp_path / "full")
    assert NAME.encode() in full and b"HYPERLINK" in full


def test_no_text_of_somebodys_computes_in_a_spreadsheet(lowered: SavedSession, tmp_path: Path) -> None:
    write_export([lowered], tmp_path / "out", Request("csv", with_notes=True))
    rows = list(csv.DictReader(io.StringIO((tmp_path / "out" / "diary.csv").read_text(encoding="utf-8"))))
    assert rows[-1]["words"] == f"'{NOTE}"
    assert read_export(tmp_path / "out")["diary"]["words"].tolist()[-1] == NOTE


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "\uff1d1", "'=1"])
def test_what_computes_is_marked(text: str) -> None:
    assert harmless(text) == f"'{text}"


@given(st.text())
def test_marked_text_comes_back(text: str) -> None:
    cell = harmless(text)
    assert plain_text(cell) == text
    assert not cell.startswith(("=", "+", "-", "@", "\t", "\r", "\n"))


def test_numbers_stay_numbers() -> None:
    table = Table("t", "t", (Column("a_N", "a"), Column("b", "b", Kind.STRING), Column("c", "c", Kind.BOOLEAN)))
    rows: list[Any] = [{"a_N": -1.5, "b": "-1.5", "c": True}, {"a_N": None, "b": None, "c": None}]
    assert to_csv(table, rows) == b"a_N,b,c\n-1.5,'-1.5,true\n,,\n"


# -- whole or not at all -------------------------------------------------------------------------------------------


def test_the_same_session_gives_the_same_bytes(lowered: SavedSession, tmp_path: Path) -> None:
    for name in ("a", "b"):
        write_export([lowered], tmp_path / name, Request("package"))
    assert all_text(tmp_path / "a") == all_text(tmp_path / "b")


def test_only_the_owner_may_read_it(exports: Path) -> None:
    assert stat.S_IMODE((exports / "csv").stat().st_mode) == 0o700
    assert {stat.S_IMODE(path.stat().st_mode) for path in (exports / "csv").iterdir()} == {0o600}


def test_where_it_fails_nothing_is_left(lowered: SavedSession, tmp_path: Path) -> None:
    def sessions() -> Any:
        yield lowered
        raise RecordError("the second one was altered")

    with pytest.raises(RecordError, match="the second one"):
        write_export(sessions(), tmp_path / "out", Request("csv"))
    with pytest.raises(RecordError, match="there is no session to export"):
        write_export([], tmp_path / "out", Request("json"))
    assert list(tmp_path.iterdir()) == []


def test_an_earlier_export_gives_way_only_where_that_is_asked_for(lowered: SavedSession, tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_export([lowered], out, Request("csv"))
    with pytest.raises(OptionError, match="is there already; give another name, or --replace"):
        write_export([lowered], out, Request("json"))
    assert (out / "sessions.csv").exists()
    write_export([lowered], out, Request("json"), replace=True)
    assert sorted(path.name for path in out.iterdir()) == ["dictionary.json", "sessions.json"]
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


@pytest.mark.parametrize("mine", ["notes.txt", "dictionary.json"])
def test_nothing_of_somebody_elses_is_ever_replaced(mine: str, tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / mine).write_text(json.dumps({"schema": "another", "files": []}))
    with pytest.raises(OptionError, match="which no export wrote"), whole_folder(out, replace=True):
        pass
    assert [path.name for path in out.iterdir()] == [mine]


def test_a_failed_replacement_leaves_the_earlier_export(lowered: SavedSession, tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_export([lowered], out, Request("json"))
    before = all_text(out)
    with pytest.raises(RuntimeError), whole_folder(out, replace=True) as folder:
        folder.put("half.csv", b"x")
        raise RuntimeError
    assert all_text(out) == before


def test_what_is_no_export_is_refused_in_words(tmp_path: Path) -> None:
    with pytest.raises(RecordError, match=r"dictionary\.json: cannot be read .*name the folder of an export"):
        read_export(tmp_path)
    (tmp_path / "dictionary.json").write_text("{}")
    with pytest.raises(RecordError, match="is no data dictionary"):
        read_export(tmp_path)
    (tmp_path / "dictionary.json").write_text('{"schema": "weightshare.dictionary/9"}')
    with pytest.raises(RecordError, match="is of another version"):
        read_export(tmp_path)
