"""What a person says of a session: asked when, what it suggests, and that nothing said is lost."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from weightshare.errors import OptionError, RecordError
from weightshare.practice.screen import Step
from weightshare.practice.tale import Tale, asked_at, day_of, keep_told, say_limits, say_scale
from weightshare.records.diary import About, read_diary

NOW = datetime.fromisoformat("2026-11-24T10:15:00+01:00")


def test_before_in_between_and_after_it_is_asked_for_what_can_be_told() -> None:
    assert asked_at(Step.READY) == asked_at(Step.WEIGH) == (About.PAIN_BEFORE, About.NOTE)
    assert About.PAIN_DURING in asked_at(Step.REST) and About.PAIN_AFTER not in asked_at(Step.REST)
    assert {About.PAIN_DURING, About.PAIN_AFTER, About.EFFORT} < set(asked_at(Step.DONE))


def test_pain_over_the_limit_leads_to_a_suggestion_and_no_order() -> None:
    assert say_limits({About.PAIN_DURING: 3, About.PAIN_AFTER: 5}, 2) == (
        "5 of 10 is over the limit of 2. It may be better to rest, and to ask your clinician before going on."
    )
    assert say_limits({About.PAIN_DURING: 2}, 2) == "" == say_limits({About.PAIN_DURING: 9}, None)


def test_the_ends_of_the_figures_are_told_of_what_is_asked_for() -> None:
    """The worst that one can think of stood over pain and effort alike; effort has no worst."""
    assert say_scale(asked_at(Step.READY)) == "Pain: 0 is none, 10 the worst you can think of."
    assert "How hard it was: 0 is no effort" in say_scale(asked_at(Step.DONE))


def test_effort_is_no_pain() -> None:
    assert say_limits({About.EFFORT: 9}, 2) == ""


def test_what_was_said_before_waits_for_the_place_and_is_kept_in_order(tmp_path: Path) -> None:
    tale = Tale()
    tale.take({About.PAIN_BEFORE: 1, About.NOTE: "stiff"}, NOW)
    tale.begin()
    assert tale.is_waiting and tale.told == {About.PAIN_BEFORE: 1}
    tale.keep(tmp_path)
    tale.take({About.PAIN_AFTER: 2}, NOW)
    diary = tale.keep(tmp_path)
    assert [(one.about, one.value, one.words) for one in diary.entries] == [
        (About.PAIN_BEFORE, 1, ""),
        (About.NOTE, None, "stiff"),
        (About.PAIN_AFTER, 2, ""),
    ]
    assert diary == read_diary(tmp_path) and not tale.is_waiting
    assert {one.at for one in diary.entries} == {"2026-11-24T10:15:00+01:00"}
    tale.begin()
    assert tale.told == {}, "the next session begins with nothing said"


def test_where_it_cannot_be_kept_it_waits_on(tmp_path: Path) -> None:
    tale = Tale()
    tale.take({About.PAIN_BEFORE: 4}, NOW)
    with pytest.raises(RecordError, match="cannot be written"):
        tale.keep(tmp_path / "missing")
    assert tale.is_waiting
    tale.keep(tmp_path)
    assert read_diary(tmp_path).newest(About.PAIN_BEFORE) is not None


def test_what_was_said_of_a_session_that_is_not_kept_belongs_to_no_other(tmp_path: Path) -> None:
    tale = Tale()
    tale.take({About.PAIN_BEFORE: 4}, NOW)
    assert tale.drop() and not tale.drop()
    assert tale.keep(tmp_path).entries == ()


def test_the_morning_after_is_kept_with_that_session(tmp_path: Path) -> None:
    keep_told(tmp_path, {About.PAIN_NEXT_MORNING: 3}, NOW)
    told = read_diary(tmp_path).newest(About.PAIN_NEXT_MORNING)
    assert told is not None and told.value == 3


def test_a_figure_that_is_none_of_ten_is_refused(tmp_path: Path) -> None:
    with pytest.raises(OptionError, match="0 to 10"):
        keep_told(tmp_path, {About.EFFORT: 11}, NOW)


def test_a_day_is_told_in_the_words_of_the_screen() -> None:
    assert day_of("2026-11-24T10:15:00+01:00") == "Tuesday, 24 November"
