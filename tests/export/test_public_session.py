"""What Python programs call: sessions, tables, trends, pictures; and the documentation's recipes, run as they are."""

from __future__ import annotations

import io
import json
import math
import re
import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest
import uncertainties
from scipy import stats
from uncertainties import umath

import weightshare
import weightshare.plot
from tests.scarce import FULL, scarce
from tests.unit import told
from weightshare.cli import main
from weightshare.errors import InputError, OptionError, RecordError
from weightshare.exercise import Exercise
from weightshare.metrology.index import Index, Kind
from weightshare.model import Side
from weightshare.plot import canvas
from weightshare.records.export.row import rows_of
from weightshare.records.export.saved import SavedSession, load_saved
from weightshare.records.symmetry import indices_of
from weightshare.report.drawing import BLUE, SHADE
from weightshare.task import Settings


def test_everything_that_is_offered_is_there() -> None:
    for name in weightshare.__all__:
        assert getattr(weightshare, name).__doc__, name
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        weightshare.nothing  # noqa: B018


def test_a_session_is_found_by_its_folder_or_the_one_above(folders: Path) -> None:
    first, second = weightshare.load_sessions(folders)
    assert first.started_at < second.started_at
    assert weightshare.load_session(str(first.folder)).id == first.id
    assert re.fullmatch("[0-9a-f]{32}", first.id)
    with pytest.raises(RecordError, match="has 2 sessions"):
        weightshare.load_session(folders)
    with pytest.raises(KeyError):
        first.table("people")


def test_a_session_that_was_not_finished_is_refused_in_words(tmp_path: Path) -> None:
    folder = told.record(tmp_path, seconds=3.0, ending=None)
    with pytest.raises(RecordError, match=r"was not finished; weightshare analyse .* --recover does that"):
        load_saved(folder)


def test_samples_are_analysed_as_they_are(lowered: SavedSession) -> None:
    settings = lowered.settings
    again = weightshare.analyse(
        lowered.samples(), settings.injured, settings.target_percent, exercise="lowering", sets=lowered.head.sets
    )
    table = weightshare.repetitions(again)
    mine = lowered.repetitions()[list(table.columns)]
    pd.testing.assert_frame_equal(table, mine, rtol=1e-9, atol=2e-6)
    assert "session" not in table and table["set"].tolist() == [1, 1, 1]


def test_reliability_takes_a_frame() -> None:
    """Source: Shrout and Fleiss (1979), table 2: six targets, four judges; ICC(2,1) is 0.29."""
    scores = np.array([[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]])
    frame = pd.DataFrame(scores, columns=["a", "b", "c", "d"])
    found = weightshare.reliability(frame)
    assert found.icc_a_1.value == pytest.approx(0.29, abs=0.005)
    frame.loc[6] = [1.0, None, 2.0, 3.0]
    assert weightshare.reliability(frame).squares.people == 6
    for wrong in (frame[["a"]], frame.head(1), frame.assign(a="x")):
        with pytest.raises(OptionError, match="scores: "):
            weightshare.reliability(wrong)


def test_what_was_steered_is_no_symmetry(lowered: SavedSession, held: SavedSession) -> None:
    assert all(one.limb_symmetry_index is None and "steered" in one.reason for one in weightshare.symmetry(held))
    named = {str(one.kind): one for one in weightshare.symmetry(lowered)}
    assert named["load x heel travel"].reason and named["mean heel height"].limb_symmetry_index is not None


def days_of(session: SavedSession, days: int) -> list[SavedSession]:
    """Return the session as if it had been done on so many days: told apart by their ids, and by nothing else."""
    made = []
    for day in range(days):
        at = (told.FIRST + timedelta(days=7 * day)).isoformat()
        head = replace(session.head, started_at=at)
        replayed = replace(session.replayed, session=replace(session.replayed.session, head=head))
        origin = replace(session.origin, session=f"{day:032x}", head=head)
        made.append(replace(session, origin=origin, replayed=replayed))
    return made


def test_only_what_was_done_alike_is_compared(lowered: SavedSession, held: SavedSession) -> None:
    assert weightshare.trend([lowered, held, lowered]) == ()
    trends = weightshare.trend([*days_of(lowered, 4), held])
    assert {one.task for one in trends} == {"lowering, 75 % on the left side"}
    share = next(one for one in trends if one.figure == "mean share in the lowering")
    days = share.frame()
    assert days["day"].tolist() == [told.FIRST.date() + timedelta(days=7 * k) for k in range(4)]
    assert days["is_change"].isna().tolist() == [True, False, False, False]
    # four days alike: what is left is the instrument's, of a difference
    known = next(one.u for one in lowered.figures if one.name == share.figure)
    assert known is not None and share.course.mdc == pytest.approx(2.0 * math.sqrt(2.0) * known)


# -- pictures ------------------------------------------------------------------------------------------------------


def colours(picture: Any) -> set[str]:
    """Return every colour in the picture as SVG."""
    return set(re.findall(r"#[0-9a-f]{6}", picture._repr_svg_()))


def words(picture: Any) -> str:
    return " ".join(text.get_text() for text in picture.findobj(match=lambda one: hasattr(one, "get_text")))


def test_the_course_shows_what_the_report_shows(lowered: SavedSession, held: SavedSession) -> None:
    picture = weightshare.plot.course(lowered)
    assert len(picture.axes) == len(lowered.analysis.sets) == 1
    assert {BLUE, SHADE} <= colours(picture) and "Set 1: share on the left side, %" in words(picture)
    spans = [text for text in words(picture).split() if text in ("1", "2", "3")]
    assert spans, "repetitions are marked"
    assert "hold 1" in words(weightshare.plot.course(held))
    curve = np.asarray(picture.axes[0].lines[2].get_xydata(), dtype=np.float64)
    time_s, share = lowered.replayed.results.time_s, lowered.replayed.results.share_percent
    shown: Any = np.interp(curve[:, 0], time_s, share)
    np.testing.assert_allclose(curve[:, 1], shown, atol=1e-9)


def test_repetitions_lie_over_each_other_from_the_lowering(lowered: SavedSession, held: SavedSession) -> None:
    picture = weightshare.plot.repetitions(lowered)
    share, heel = picture.axes
    assert "3 repetitions over each other" in share.get_title(loc="left") and "heel" in heel.get_title(loc="left")
    curves = [line for line in heel.lines if line.get_color() == BLUE]
    assert len(curves) == 3
    for line in curves:
        x, y = np.asarray(line.get_xdata()), np.asarray(line.get_ydata())
        assert x[0] < 0.0 < x[-1] and np.interp(0.0, x, y) > 0.8 * y.max(), "the heel is up where the lowering begins"
    with pytest.raises(RecordError, match="no repetition counted"):
        weightshare.plot.repetitions(held)


def test_trends_and_indices_are_drawn(lowered: SavedSession, held: SavedSession) -> None:
    trends = weightshare.trend(days_of(lowered, 4))
    picture = weightshare.plot.trend(trends[:2])
    assert len(picture.axes) == 2 and "2026-03" in words(picture)
    assert weightshare.plot.trend(trends[0]).axes
    indices = weightshare.symmetry(lowered)
    told_of = weightshare.plot.symmetry(indices)
    assert "mean heel height" in words(told_of) and "load x heel travel" not in words(told_of)
    nothing: tuple[Index, ...] = weightshare.symmetry(held)
    with pytest.raises(RecordError, match="no symmetry to draw: the share was steered"):
        weightshare.plot.symmetry(nothing)
    with pytest.raises(RecordError, match="no trend to draw"):
        weightshare.plot.trend([])


def test_pictures_need_no_display_and_leave_no_state() -> None:
    assert canvas.draw([], "nothing")._repr_svg_().count("<svg") == 1
    assert "matplotlib.pyplot" not in sys.modules, "pyplot keeps figures, and looks for a display"


def test_without_the_library_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "matplotlib.figure", None)
    spec = spec_from_file_location("without", canvas.__file__)
    assert spec is not None and spec.loader is not None
    with pytest.raises(InputError, match='python -m pip install "matplotlib'):
        spec.loader.exec_module(module_from_spec(spec))


# -- the recipes ---------------------------------------------------------------------------------------------------


def blocks(checkout: Path) -> Iterator[tuple[int, str]]:
    """Yield each Python block of the recipes with the line that it begins on."""
    text = (checkout / "docs" / "recipes.md").read_text(encoding="utf-8")
    for found in re.finditer(r"^```python\n(.*?)^```$", text, re.DOTALL | re.MULTILINE):
        yield text[: found.start(1)].count("\n"), found[1]


def test_the_recipes_run_as_they_stand(
    checkout: Path, folders: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    told.record(tmp_path / "sessions", told.LOWERING, "raiser", 24.0, day=7)
    for folder in folders.iterdir():
        (tmp_path / "sessions" / folder.name).symlink_to(folder, target_is_directory=True)
    space: dict[str, Any] = {}
    out = io.StringIO()
    monkeypatch.setattr(sys, "stdout", out)
    found = list(blocks(checkout))
    for line, code in found:
        exec(compile("\n" * line + code, "docs/recipes.md", "exec"), space)
    assert len(found) > 10
    assert {"course.png", "repetitions.svg", "tables"} <= {path.name for path in tmp_path.iterdir()}
    assert "3 repetitions by height" in out.getvalue()
    assert "ICC(A,1) 0.99" in out.getvalue()


@pytest.mark.parametrize("percent", [12.0, 47.0, 50.0, 81.0])
def test_symmetry_indices_carry_what_the_share_leaves_in_them(percent: float, lowered: SavedSession) -> None:
    """By `uncertainties`, a library that propagates by derivatives: from the share, which all three are made of."""
    share = uncertainties.ufloat(percent, 0.4)
    injured, other = share, 100.0 - share
    indices = {
        "limb_symmetry_index": 100.0 * injured / other,
        "symmetry_index": 100.0 * (other - injured) / (0.5 * (injured + other)),
        "symmetry_angle": 100.0 * (45.0 - umath.degrees(umath.atan2(injured, other))) / 90.0,
    }
    content = json.loads(json.dumps(lowered.content))
    content["uncertainty"]["share_mean_points"] = 0.4
    head = replace(lowered.head, settings=Settings(Side.LEFT, exercise=Exercise.HOLD))
    standing = replace(lowered.origin, head=head)
    for steered in (False, True):
        told = {f"{name}_percent": one.nominal_value for name, one in indices.items()}
        content["symmetry"] = {**told, "steered": steered}
        (row,) = rows_of(standing, content, ())["sessions"]
        for name, one in indices.items():
            found = row.get(f"{name}_expanded_uncertainty_percent")
            assert found is None if steered else found == pytest.approx(one.std_dev, rel=1e-9), name


@pytest.mark.parametrize("exercise", [None, *Exercise], ids=str)
def test_a_session_has_an_index_where_the_command_symmetry_has_one(
    exercise: Exercise | None, held: SavedSession
) -> None:
    """Beside an even target the mean of all standing is of the moments between as well."""
    steered = exercise is not None and exercise.is_single
    analysis = replace(held.analysis, exercise=exercise, symmetry=replace(held.analysis.symmetry, steered=steered))
    appraisal = replace(held.appraisal, analysis=analysis)
    compared = {one.kind: one for one in indices_of(appraisal)}
    has_one = Kind.MEAN_FORCE in compared and compared[Kind.MEAN_FORCE].limb_symmetry_index is not None
    origin = replace(held.origin, head=replace(held.head, settings=Settings(Side.RIGHT, 50.0, exercise=exercise)))
    (row,) = rows_of(origin, appraisal.to_json(), ())["sessions"]
    names = {name for name in row if name.startswith(("limb_symmetry", "symmetry_index", "symmetry_angle"))}
    assert len(names) == (6 if has_one else 0) and has_one is (exercise in (None, Exercise.HOLD))


def test_a_set_says_which_leg_works(lowered: SavedSession) -> None:
    """On two legs the analysis follows the injured side's heel; the leg that works is both, as in the report."""
    assert lowered.content["sets"][0]["working"] == "left"
    assert lowered.table("sets")["working"].tolist() == ["both"]
    for exercise in ("single-lowering", "single-raise"):
        (row,) = rows_of(lowered.origin, lowered.content | {"exercise": exercise}, ())["sets"]
        assert row["working"] == "left"


def test_a_fall_carries_what_the_spread_of_first_and_last_repetitions_leaves_in_it(lowered: SavedSession) -> None:
    """By `uncertainties`, of the means of three and three with their standard errors (scipy's `sem`)."""
    content = json.loads(json.dumps(lowered.content))
    shifts = ((0.0, 0.0), (2.0, 1.5), (1.0, -1.0), (-8.0, 3.0), (-11.0, 4.5), (-9.0, 2.0))
    highs, shares = [80.0 + high for high, _share in shifts], [75.0 - share for _high, share in shifts]
    known = {"height_injured_mm": highs, "share_lowering_percent": shares}
    content["repetitions"] = [
        content["repetitions"][0] | {name: values[place] for name, values in known.items()} for place in range(6)
    ]
    content["uncertainty"]["repetitions"] *= 2
    fell = {"repetitions_each": 3, "height_fall_percent": 12.4, "share_fall_points": 3.0, "tempo_fall_percent": None}
    content["sets"][0] |= {"repetitions": list(range(6)), "fatigue": fell}
    (row,) = rows_of(lowered.origin, content, ())["sets"]
    (high, low), (fresh, tired) = (
        [uncertainties.ufloat(np.mean(some), stats.sem(some)) for some in (values[:3], values[3:])]
        for values in (highs, shares)
    )
    assert row["height_fall_standard_uncertainty_percent"] == pytest.approx((100.0 * (1.0 - low / high)).std_dev)
    assert row["share_fall_standard_uncertainty_points"] == pytest.approx((fresh - tired).std_dev)
    content["sets"][0]["fatigue"] = None
    (row,) = rows_of(lowered.origin, content, ())["sets"]
    assert row["height_fall_standard_uncertainty_percent"] is None


@pytest.mark.skipif(sys.platform == "win32", reason="the limit on a file's size is POSIX's")
def test_a_full_disk_names_the_file_and_leaves_the_earlier_one(
    folders: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    first, out, report = str(min(folders.iterdir())), tmp_path / "out", tmp_path / "a.html"
    export = ["export", first, "--as", "fhir", "--out", str(out), "--replace"]
    assert main(export) == 0
    report.write_text("an earlier one")
    before = {path: path.read_bytes() for path in (*out.iterdir(), report)}
    capsys.readouterr()
    for command, named in ((export, out / "bundle.json"), (["report", first, "--to", str(report)], report)):
        with scarce(2_000):
            assert main(command) == 3
        assert capsys.readouterr().err == f"weightshare: {named}: {FULL}\n"
        assert {path: path.read_bytes() for path in (*out.iterdir(), report)} == before
        assert set(tmp_path.iterdir()) == {out, report}
