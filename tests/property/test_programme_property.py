"""Any programme that can be written reads back equal; no text at all brings the reader down."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from weightshare.exercise import Ceiling, Exercise, Surface, Tempo
from weightshare.programme.criterion import Criterion, Measure
from weightshare.programme.draft import Draft, Spot
from weightshare.programme.reading import check_text
from weightshare.programme.shelf import ready_text
from weightshare.programme.stage import Knee, Programme, Source, Stage
from weightshare.programme.writing import write_programme

printable = st.characters(codec="utf-8", exclude_categories=("C", "Z"), include_characters=" ")
words = st.text(printable, min_size=1, max_size=40).filter(str.strip)
tempos = st.builds(Tempo, *[st.floats(1.0, 20.0).map(lambda s: round(s, 1))] * 4)
tenths = st.floats(3.1, 96.9).map(lambda share: round(share, 1))


SMALL = "".join(
    f'[[stages]]  # the {number}\nkey = "s{number}"\nname = "S{number}"\nexercise = "raise"\ntarget_percent = 50\n'
    for number in range(2)
)


@st.composite
def stages(draw: st.DrawFn, number: int) -> Stage:
    exercise = draw(st.sampled_from([Exercise.RAISE, Exercise.LOWERING, Exercise.HEEL_HOLD]))
    repeated = exercise.is_repeated
    pain = Criterion(Measure.PAIN_AFTER, at_most=float(draw(st.integers(0, 10))))
    judged = Criterion(Measure.CLINICIAN, words=draw(words))
    return Stage(
        f"stage-{number}",
        f"{number} {draw(words)}",
        exercise,
        note=draw(words),
        surface=draw(st.sampled_from(Surface)),
        knee=draw(st.sampled_from([None, *Knee])),
        target_percent=draw(tenths),
        one_sided=draw(st.booleans()),
        tolerance_points=draw(st.floats(0.1, 50.0)),
        hold_s=30.0 if repeated else float(draw(st.integers(1, 3600))),
        sets=draw(st.integers(1, 20)) if repeated else 3,
        tempo=draw(tempos) if repeated else None,
        ceiling=draw(st.sampled_from([None, Ceiling(kg=400.0)])),
        pain_limit=draw(st.none() | st.integers(0, 10)),
        days=draw(st.integers(1, 9)),
        criteria=draw(st.sampled_from([(), (pain,), (pain, judged)])),
        sources=draw(st.sampled_from([(), (Source("tempo", "told"),)])),
    )


@settings(max_examples=40)
@given(st.data(), words, words)
def test_a_written_programme_reads_back_equal(data: st.DataObject, name: str, version: str) -> None:
    several = tuple(data.draw(stages(number)) for number in range(data.draw(st.integers(1, 3))))
    programme = Programme(name, version, several, about=data.draw(st.just("") | words), source=data.draw(words))
    assert check_text(write_programme(programme)) == (programme, ())


CHANGES = {
    "sets": "4", "note": 'So "far"', "tempo": "1-1-2-1", "surface": "step", "ceiling": "80%", "name": "N",
    "hold_s": "no", "criteria": "sets-done = at least 2\npain-after = at most 1",
    "sources": "tempo = told", "blind_sets": "2, 3",
}  # fmt: skip
acts = st.one_of(
    st.tuples(st.sampled_from(list(CHANGES)), st.booleans()),
    st.sampled_from(["copy_stage", "add_stage", "remove_stage"]).map(lambda name: (name, False)),
    st.booleans().map(lambda up: ("move_stage", up)),
)


@settings(max_examples=25)
@given(st.lists(st.tuples(acts, st.integers(0, 9)), min_size=3, max_size=10))
def test_whatever_is_changed_the_file_says_what_was_said(done: list[tuple[tuple[str, bool], int]]) -> None:
    draft = Draft(f"{ready_text('partial-load').partition('[[stages]]')[0]}{SMALL}")
    for (what, is_on), place in done:
        stage = place % draft.stages
        if what in CHANGES:
            draft.say(Spot(stage, what), CHANGES[what] if is_on else "")
        elif what == "move_stage":
            draft.move_stage(stage, 1 if is_on else -1)
        else:
            getattr(draft, what)(stage)
    again = Draft(draft.text)
    spots = [Spot(stage, key) for stage in range(draft.stages) for key in CHANGES]
    assert [again.said(spot) for spot in spots] == [draft.said(spot) for spot in spots]


@given(st.text(max_size=200))
def test_no_text_brings_the_reader_down(text: str) -> None:
    programme, mistakes = check_text(text)
    assert programme is None and mistakes


@given(st.integers(0, 5000), st.integers(1, 60), st.text(max_size=10))
def test_a_damaged_programme_is_read_or_told_line_by_line(start: int, length: int, put: str) -> None:
    text = ready_text("even-load")
    damaged = text[:start] + put + text[start + length :]
    programme, mistakes = check_text(damaged)
    assert (programme is None) == bool(mistakes)
    assert all(1 <= one.line <= damaged.count("\n") + 1 for one in mistakes)
