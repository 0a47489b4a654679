"""Looking back: what is opened is what was measured and kept, what is altered is refused, what is shown agrees."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from tests.unit.pasts import LOWERING, SETS, counted, dated, held, past_of, raised, save
from tests.unit.told import record
from weightshare.errors import RecordError
from weightshare.exercise import Ceiling, CeilingEvent, Exercise, Load, Phase, Surface
from weightshare.model import HEIGHT_COLUMNS, TRACE_COLUMNS, Side
from weightshare.pipeline import analyse_trace
from weightshare.pipeline.block import Block
from weightshare.pipeline.lowpass import delay_s
from weightshare.pipeline.measure import Measure
from weightshare.pipeline.result import Gap
from weightshare.practice.past import fact
from weightshare.practice.past.lane import Ink, Stretch, make_lanes, round_step, share_reach
from weightshare.practice.past.moment import NOT_KNOWN, Kind, make_table
from weightshare.practice.past.opening import make_curves, open_past
from weightshare.practice.past.pyramid import Pyramid
from weightshare.practice.past.shelf import UNFINISHED, find_entries
from weightshare.practice.past.view import SHORTEST_S, PastView
from weightshare.records.digest import digest_of, read_digest
from weightshare.records.manifest import Ending, seal
from weightshare.records.setting import SessionHead, write_head
from weightshare.state import Alignment, ScaleClock
from weightshare.task import Settings

HOLD = Settings(Side.LEFT, target_percent=75.0, exercise=Exercise.HOLD)
CLOCK = ScaleClock("00112233445566aa", Side.LEFT, 1.0, 0.1, 2.0, 50, restarts=1)


@pytest.fixture
def view(tmp_path: Path) -> PastView:
    return PastView(past_of(tmp_path / "session-1"))


def test_the_curves_are_those_of_the_stages_that_ran_live() -> None:
    trace = raised()
    curves = make_curves(trace, LOWERING)
    columns = tuple(name for name in TRACE_COLUMNS if name in trace.columns)
    values = np.stack([trace.columns[name] for name in columns])
    measure = Measure(LOWERING)
    results = measure.push(Block(0.01, columns, trace.time_s, values, np.zeros(trace.time_s.size, dtype=np.uint8)))
    for pyramid, live in (
        (curves.lead, results.share_percent),
        (curves.left_N, results.left_N),
        (curves.right_N, results.right_N),
    ):
        found = pyramid.envelope(-1.0, 1e6, trace.time_s.size)
        np.testing.assert_allclose(found.low, live, atol=1e-9)
        np.testing.assert_allclose(found.time_s, results.time_s - delay_s(6.0), atol=1e-9)


def test_what_was_kept_is_read_as_it_was_made(tmp_path: Path) -> None:
    made, past = counted(), past_of(tmp_path / "session-1")
    assert len(made.repetitions) == 8
    assert not past.computed
    assert past.digest == digest_of(made, past.digest.share_doubt_points)
    assert past.digest.repetitions[3].lowering_s == pytest.approx(made.repetitions[3].lowering_s, abs=1e-6)
    assert past.digest.warnings == made.warnings


@pytest.mark.parametrize("name", ["trace.parquet", "analysis.json", "settings.json", "calibration.json"])
def test_a_session_that_was_altered_is_refused(name: str, tmp_path: Path) -> None:
    folder = save(tmp_path / "session-1")
    data = bytearray((folder / name).read_bytes())
    data[len(data) // 2] ^= 1
    (folder / name).write_bytes(bytes(data))
    with pytest.raises(RecordError, match=f"{name}: was altered"):
        open_past(folder)


def test_one_that_is_not_finished_says_how_it_is(tmp_path: Path) -> None:
    folder = save(tmp_path / "session-1")
    (folder / "manifest.json").unlink()
    with pytest.raises(RecordError, match="weightshare analyse --recover"):
        open_past(folder)


def test_an_analysis_of_another_version_is_told_by_name(tmp_path: Path) -> None:
    path = tmp_path / "analysis.json"
    path.write_text(json.dumps({"schema": "weightshare.analysis/9"}))
    with pytest.raises(RecordError, match=r"analysis\.json: is of another version"):
        read_digest(path)
    path.write_text(json.dumps(counted().to_json() | {"repetitions": [{"unheard": 1}]}))
    with pytest.raises(RecordError, match="no analysis that this version knows"):
        read_digest(path)
    with pytest.raises(RecordError, match="cannot be read"):
        read_digest(tmp_path / "nowhere.json")


def test_an_analysis_of_another_version_is_made_anew_from_the_raw_record(tmp_path: Path) -> None:
    folder = record(tmp_path, seconds=30.0)
    kept = open_past(folder)
    assert not kept.computed
    assert kept.digest.holds
    path = folder / "analysis.json"
    path.write_text(path.read_text().replace("weightshare.analysis/1", "weightshare.analysis/0"))
    seal(
        folder, [one.name for one in folder.iterdir() if one.name != "manifest.json"], Ending.COMPLETE, "weightshare 0"
    )
    anew = open_past(folder)
    assert anew.computed
    assert anew.digest == kept.digest
    assert any("made anew" in one.text for one in fact.facts_of(anew))


def test_all_that_a_digest_has_comes_back_from_its_json(tmp_path: Path) -> None:
    alignment = Alignment(None, 1.5, None, (CLOCK, replace(CLOCK, side=Side.RIGHT, offset_doubt_ms=None)))
    events = (CeilingEvent(1.0, 2.5, 312.5), CeilingEvent(4.0, None, None, unread=True))
    whole = replace(counted(), alignment=alignment, ceiling=events, gaps=(Gap(3.0, 3.5),))
    path = tmp_path / "analysis.json"
    path.write_text(json.dumps(whole.to_json()))
    found = read_digest(path)
    assert (found.alignment, found.ceiling, found.gaps) == (alignment, events, whole.gaps)
    assert found == digest_of(whole)


def test_the_table_has_each_repetition_with_its_phases(view: PastView) -> None:
    repetitions = [one for one in view.table.moments if one.kind is Kind.REPETITION]
    assert [one.number for one in repetitions] == list(range(1, 9))
    kept = view.past.digest.repetitions[2]
    third = repetitions[2]
    assert third.cells[2] == f"{kept.lowering_duration_s:.1f}"
    assert third.cells[5] == f"{kept.share_lowering_percent:.1f}"
    assert [part.phase for part in third.parts] == [Phase.RISE, Phase.TOP, Phase.LOWERING]
    assert (third.parts[0].from_s, third.parts[-1].to_s) == (kept.start_s, kept.end_s)
    assert third.anchor_s == third.parts[2].from_s


def test_a_figure_that_is_not_known_is_a_dash(tmp_path: Path) -> None:
    past = past_of(tmp_path / "session-1")
    bare = replace(past.digest.repetitions[0], share_top_percent=None, supported=None, incomplete_return=True)
    table = make_table(replace(past, digest=replace(past.digest, repetitions=(bare,), rejected=())))
    assert table.moments[0].cells[4] == NOT_KNOWN
    assert table.moments[0].marks == "?i"


def test_a_squat_goes_down_first(tmp_path: Path) -> None:
    squats = replace(LOWERING, exercise=Exercise.SQUAT)
    past = past_of(tmp_path / "session-1")
    one = replace(past.digest.repetitions[0], lowering_s=10.0, start_s=10.0, lowering_duration_s=2.0)
    one = replace(one, top_s=14.0, rise_duration_s=1.5, end_s=14.0)
    past = replace(past, head=replace(past.head, settings=squats), digest=replace(past.digest, repetitions=(one,)))
    (moment,) = [one for one in make_table(past).moments if one.kind is Kind.REPETITION]
    assert [(part.phase, part.from_s, part.to_s) for part in moment.parts] == [
        (Phase.LOWERING, 10.0, 12.0),
        (Phase.RISE, 12.5, 14.0),
    ]


def test_a_hold_and_a_passed_limit_stand_in_the_table(tmp_path: Path) -> None:
    limited = replace(HOLD, ceiling=Ceiling(kg=40.0), target_percent=45.0)
    past = past_of(tmp_path / "session-1", held(), limited)
    kinds = [one.kind for one in make_table(past).moments]
    assert Kind.CEILING in kinds
    assert any("limit passed for" in one.words for one in make_table(past).moments)
    facts = fact.facts_of(past)
    assert any(one.is_caution and "40 kg, was passed" in one.text for one in facts)
    quiet = replace(past, digest=replace(past.digest, ceiling=()))
    assert any("not seen to be passed" in one.text and not one.is_caution for one in fact.facts_of(quiet))
    unread = replace(past, digest=replace(past.digest, ceiling=(CeilingEvent(1.0, None, None, unread=True),)))
    assert any("could not be read 1 time" in one.text for one in fact.facts_of(unread))
    (event,) = [one for one in make_table(unread).moments if one.kind is Kind.CEILING]
    assert event.to_s == past.curves.span_s[1], "it lasted to the end"


def test_holds_have_a_table_of_their_own(tmp_path: Path) -> None:
    past = past_of(tmp_path / "session-1", held(), HOLD)
    (hold,) = make_table(past).moments
    (made,) = analyse_trace(held(), HOLD).holds or ()
    assert hold.kind is Kind.HOLD
    assert hold.cells == (f"{made.start_s:.1f}", f"{made.end_s:.1f}", f"{made.held_s:.1f}")
    (band,) = make_lanes(past, make_table(past))[0].bands
    assert (band.low, band.high) == ((70.0, 70.0), (80.0, 80.0))


def test_the_band_turns_with_the_repetition_and_is_nowhere_else(view: PastView) -> None:
    third = [one for one in view.table.moments if one.kind is Kind.REPETITION][2]
    bands = [band for band in view.lanes[0].bands if third.from_s <= band.from_s < third.to_s]
    at_rise, at_lowering = bands[0], bands[1]
    ordered = sorted(bands, key=lambda band: band.from_s)
    assert (ordered[0].low[0], ordered[0].high[0]) == (45.0, 55.0)
    assert (ordered[-1].low[1], ordered[-1].high[1]) == (70.0, 80.0)
    assert {at_rise.from_s, at_lowering.from_s} <= {band.from_s for band in ordered}
    between = [band for band in view.lanes[0].bands if SETS[0].to_s is not None and band.from_s > SETS[0].to_s + 2]
    assert all(band.from_s >= SETS[1].from_s for band in between), "nothing is asked for in the rest"


def test_lanes_keep_their_scale_and_the_injured_side_lies_on_top(view: PastView) -> None:
    share, load, heel = view.lanes
    assert (share.low, share.high) == (40.0, 80.0)
    assert [curve.ink for curve in load.curves] == [Ink.OTHER, Ink.INJURED]
    assert load.high >= max(curve.pyramid.extremes()[1] for curve in load.curves)
    assert heel.title == "heel, mm"
    assert all(len(lane.ticks()) >= 3 for lane in view.lanes)


def test_the_axis_of_the_share_holds_all_that_was_measured_and_asked_for() -> None:
    """It went from 0 to 100, where 45 to 80 was used: two thirds of it stood empty."""
    time_s = np.arange(0.0, 20.0, 0.01)
    share = np.where(time_s < 10.0, 52.0, 61.0)
    share[:20] = np.linspace(0.0, 52.0, 20)
    share[-300:] = np.nan
    lead = Pyramid(time_s, share, 0.01)
    assert share_reach(lead, ()) == (40.0, 80.0, 10.0), (
        "at least 30 points, and not from 0, from where somebody stepped on"
    )
    band = Stretch(0.0, 20.0, (85.0, 85.0), (95.0, 95.0))
    assert share_reach(lead, (band,)) == (40.0, 100.0, 20.0)
    lowest = Pyramid(time_s, np.where(time_s < 10.0, 3.0, 98.0), 0.01)
    assert share_reach(lowest, (band,)) == (0.0, 100.0, 25.0)
    assert share_reach(Pyramid(time_s, np.full(time_s.size, np.nan), 0.01), ()) == (0.0, 100.0, 25.0)
    steady = Pyramid(time_s, np.full(time_s.size, 99.0), 0.01)
    assert share_reach(steady, ()) == (70.0, 100.0, 10.0)


def test_without_heights_there_is_no_lane_of_them(tmp_path: Path) -> None:
    past = past_of(tmp_path / "session-1", held(), HOLD)
    assert len(make_lanes(past, make_table(past))) == 2
    assert not any(name in held().columns for name in HEIGHT_COLUMNS)


def test_supported_work_shows_a_load_against_its_band(tmp_path: Path) -> None:
    asked = Settings(Side.LEFT, exercise=Exercise.HOLD, load=Load(kg=53.5))
    past = past_of(tmp_path / "session-1", held(), asked)
    lead = make_lanes(past, make_table(past))[0]
    assert "load on the left side, N" in lead.title
    assert lead.bands[0].low[0] < 0.75 * 700.0 < lead.bands[0].high[0]
    values = lead.curves[0].pyramid.envelope(10.0, 19.0, 10_000).low
    np.testing.assert_allclose(values, 525.0, atol=3.0)


@pytest.mark.parametrize(("span", "step"), [(100.0, 25.0), (812.0, 250.0), (90.0, 25.0), (0.4, 0.1), (1.0, 0.25)])
def test_steps_are_round(span: float, step: float) -> None:
    assert round_step(span) == pytest.approx(step)


def test_zooming_keeps_what_is_under_the_pointer(view: PastView) -> None:
    about = 20.0
    part = (about - view.span_s[0]) / (view.span_s[1] - view.span_s[0])
    view.zoom(0.25, about)
    from_s, to_s = view.span_s
    assert to_s - from_s == pytest.approx(0.25 * (view.whole_s[1] - view.whole_s[0]))
    assert (about - from_s) / (to_s - from_s) == pytest.approx(part)


def test_no_stretch_is_too_short_or_leaves_the_session(view: PastView) -> None:
    view.zoom(1e-9)
    assert view.span_s[1] - view.span_s[0] == pytest.approx(SHORTEST_S)
    view.move(-1e6)
    assert view.span_s[0] == view.whole_s[0]
    view.move(1e6)
    assert view.span_s[1] == pytest.approx(view.whole_s[1])
    view.zoom(1e9)
    assert view.span_s == pytest.approx(view.whole_s)


def test_choosing_goes_there_and_steps_stop_at_the_ends(view: PastView) -> None:
    view.step(1)
    assert view.chosen == 0
    for place, moment in enumerate(view.table.moments):
        view.choose(place)
        assert view.span_s[0] <= moment.from_s and moment.to_s <= view.span_s[1]
    view.step(1)
    assert view.chosen == len(view.table.moments) - 1
    view.choose(None)
    view.step(-1)
    assert view.chosen == len(view.table.moments) - 1


def test_the_moment_under_the_pointer_is_the_shortest_there(view: PastView) -> None:
    third = view.table.moments[2]
    assert view.table.at(third.middle_s) == 2
    assert view.table.at(-5.0) is None


def test_repetitions_of_one_set_lie_over_each_other_from_where_the_lowering_begins(view: PastView) -> None:
    fifth = next(k for k, one in enumerate(view.table.moments) if one.kind is Kind.REPETITION and one.number == 6)
    view.choose(fifth)
    share, heel = view.overlay()
    assert share.of == "set 2, repetitions 5 to 8"
    assert [piece.number for piece in share.pieces if piece.is_chosen] == [6]
    assert share.pieces[-1].is_chosen, "it is drawn on top"
    for piece in heel.pieces:
        # a heel that is lowered is near its top where the lowering begins, and down at the end
        at_start = float(np.interp(0.0, piece.time_s, piece.low))
        assert at_start > 0.8 * np.nanmax(piece.high)
        assert piece.low[-1] < 0.3 * np.nanmax(piece.high)


def test_what_is_read_at_the_cursor_is_the_nearest_sample(view: PastView) -> None:
    assert view.reading() == ""
    view.show(20.0, 30.0)
    view.move_cursor(0.01)
    assert view.cursor_s == 25.0
    lead = view.past.curves.lead
    nearest = int(np.argmin(np.abs(lead.time_s - 25.0)))
    share = lead.envelope(-1.0, 1e6, lead.time_s.size).low[nearest]
    assert f"at 25.00 s  \u00b7  share left {share:.1f} %" in view.reading()
    view.move_cursor(2.0)
    assert view.span_s[0] < view.cursor_s < view.span_s[1], "what is shown follows it"
    view.cursor_s = 1.0
    assert f"share left {NOT_KNOWN}" in view.reading(), "nobody stood there then"


def test_heels_are_told_of_nobody(view: PastView) -> None:
    heel = view.past.curves.left_mm
    assert heel is not None
    nobody = np.isnan(view.past.curves.lead.envelope(-1.0, 1e6, 10_000).low)
    assert nobody.any()
    assert np.isnan(heel.envelope(-1.0, 1e6, 10_000).low[nobody]).all()


def test_a_session_without_repetitions_has_nothing_to_lay_over(tmp_path: Path) -> None:
    assert PastView(past_of(tmp_path / "session-1", held(), HOLD)).overlay() == ()


def test_what_spoils_a_session_comes_first(tmp_path: Path) -> None:
    alignment = Alignment(3.2, 20.0, 0.06, (CLOCK, replace(CLOCK, side=Side.RIGHT, restarts=0)))
    past = past_of(
        tmp_path / "session-1",
        ending=Ending.RECOVERED,
        calibrations=(dated(date(2026, 10, 1)), dated(None)),
        sources=("rig:raiser",),
        uneven=True,
    )
    past = replace(past, digest=replace(past.digest, alignment=alignment))
    said = fact.facts_of(past)
    cautions = " ".join(one.text for one in said if one.is_caution)
    for words in ("Virtual scales", "ended in the middle", "not to read alike", "anew 1 time"):
        assert words in cautions
    assert "out of date in this session" in cautions
    assert [one.is_caution for one in said] == sorted((one.is_caution for one in said), reverse=True)
    rest = " ".join(one.text for one in said if not one.is_caution)
    assert "agree to 3.2 ms: 0.06 points" in rest
    assert "is not told" in rest
    assert "Mean share" not in rest, "a mean over the way up and the way down tells nothing"


def test_a_held_share_is_told_with_what_it_is_worth(tmp_path: Path) -> None:
    past = past_of(tmp_path / "session-1", held(), HOLD)
    assert any("Mean share of the left side" in one.text and "\u00b1" in one.text for one in fact.facts_of(past))


def test_the_list_has_the_newest_first_and_says_what_cannot_be_opened(tmp_path: Path) -> None:
    save(tmp_path / "session-1", held(), HOLD, started_at="2026-11-20T09:00:00+01:00")
    save(tmp_path / "session-2", held(), HOLD, started_at="2026-11-24T09:00:00+01:00")
    (tmp_path / "session-2" / "manifest.json").unlink()
    (tmp_path / "session-3").mkdir()
    (tmp_path / "session-3" / "settings.json").write_text("{}")
    (tmp_path / "other").mkdir()
    found = find_entries(tmp_path)
    assert [entry.folder.name for entry in found] == ["session-3", "session-2", "session-1"]
    assert [bool(entry.trouble) for entry in found] == [True, True, False]
    assert found[1].trouble == UNFINISHED
    assert found[2].when == "2026-11-20 09:00"
    assert "stand and hold" in found[2].what and "75 \u00b1 5 %" in found[2].what
    # what was asked for is the share while it was held, not that of all standing
    kept = json.loads((tmp_path / "session-1" / "analysis.json").read_text())
    (mean,) = (one["value"] for one in kept["decisions"])
    assert mean != pytest.approx(kept["share_percent"]["mean"], abs=1.0)
    assert (found[2].share, found[2].done, found[2].length) == (f"{mean:.1f} %", "held 14 s", "0:40")
    assert (found[1].share, found[1].done, found[1].length) == ("", "", "")
    assert find_entries(tmp_path / "nowhere") == ()


def test_the_list_tells_sessions_of_one_task_apart(tmp_path: Path) -> None:
    """Rows of one day and one task read alike: nobody could tell which session was meant."""
    save(tmp_path / "session-1")
    (entry,) = find_entries(tmp_path)
    repetitions = past_of(tmp_path / "session-2").digest.repetitions
    shares = [one.share_lowering_percent for one in repetitions if one.share_lowering_percent is not None]
    assert entry.share == f"{sum(shares) / len(shares):.1f} %" and entry.done == "8 of 8"


def test_an_analysis_that_cannot_be_read_leaves_the_figures_out(tmp_path: Path) -> None:
    folder = save(tmp_path / "session-1", held(), HOLD)
    for content in ("{}", "no JSON", "[]"):
        (folder / "analysis.json").write_text(content)
        (entry,) = find_entries(tmp_path)
        assert (entry.share, entry.done, entry.trouble) == ("", "", "")


def test_a_date_that_cannot_be_read_is_said_to_be_none(tmp_path: Path) -> None:
    folder = tmp_path / "session-1"
    folder.mkdir()
    write_head(folder, SessionHead(replace(HOLD, surface=Surface.FLOOR), started_at="yesterday"))
    assert find_entries(tmp_path)[0].when == "no date"
