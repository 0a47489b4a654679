"""As many mistakes as are put into a sound programme are told, in one run, each in its line and under its key."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from hypothesis import given, settings
from hypothesis import strategies as st

from weightshare.programme.draft import Draft, Spot, can_draft, keys_of
from weightshare.programme.reading import check_text
from weightshare.programme.shelf import ready_text

HEAD, *ALL = ready_text("achilles").split("[[stages]]\n")
STAGES = [text for text in ALL if '"raise"' in text or '"lowering"' in text][:4]
"""Stages of repetitions on two legs, all with a target, a tempo and criteria."""


class Planted(NamedTuple):
    """A kind of mistake: the key that is told, how its line begins, and what makes it in a stage's text."""

    key: str
    line: str
    plant: Callable[[str], str]


def instead(key: str, line: str) -> Planted:
    """Have `line` where the line of `key` was."""
    return Planted(key, line, lambda text: "".join(f"{line}\n" if is_of(key, old) else old for old in lines_of(text)))


def beside(key: str, line: str, *more: str) -> Planted:
    """Have `line`, with `more` before it, among the keys of the stage."""
    return Planted(
        key, line, lambda text: text.replace("[stages.criteria]", "\n".join([*more, line, ""]) + "[stages.criteria]")
    )


def criterion(measure: str, line: str, told: str = "") -> Planted:
    """Have `line` where the criterion of `measure` was, or as the first one."""

    def plant(text: str) -> str:
        text = "".join(old for old in lines_of(text) if not is_of(measure, old))
        return text.replace("[stages.criteria]\n", f"[stages.criteria]\n{line}\n")

    return Planted(f"criteria.{told or measure}", line, plant)


def lines_of(text: str) -> list[str]:
    return text.splitlines(keepends=True)


def is_of(key: str, line: str) -> bool:
    return line.startswith(f"{key} =")


KINDS = (
    instead("sets", 'sets = "three"'),
    instead("repetitions", "repetitions = 0"),
    instead("tempo", "tempo = 1-1-3-1"),
    instead("knee", "knee = straight"),
    instead("rest_s", "rest_s: 60"),
    instead("note", "note = 'two' lines"),
    Planted("targt_percent", "targt_percent", lambda text: text.replace("target_percent", "targt_percent")),
    Planted("name", "", lambda text: "".join(line for line in lines_of(text) if not is_of("name", line))),
    beside("colour", 'colour = "red"'),
    beside("sources", "sources = 3"),
    beside("hold_s", "hold_s = 10"),
    beside("load", 'load = "20kg"'),
    beside("leg", 'leg = "injured"'),
    beside("freed", 'freed = ["stage"]', 'freed_by = "AB"', "freed_on = 2026-11-24"),
    beside("pain_limit", "pain_limit = 11"),
    beside("ceiling", 'ceiling = "20"'),
    beside("exercise", 'exercise = "squat"'),
    criterion("pain-during", "pain-during = at most 2"),
    criterion("pain-next-morning", 'pain-next-morning = "less than 2"'),
    criterion("share-lowering", 'share-lowering = "80 to 70"'),
    criterion("sets-done", 'set-done = "at least 3"', "set-done"),
    criterion("longest-hold", 'longest-hold = "at least 10"'),
    criterion("pain-after", 'pain-after = "at most 11"'),
)


def look_through(text: str) -> None:
    """Ask a draft of `text` all that an editor asks of it: whatever is wrong, it answers."""
    if not can_draft(text):
        return
    draft = Draft(text)
    assert set(draft.mistakes()) and draft.next_version()
    for stage in range(draft.stages):
        assert draft.measures(stage) and isinstance(draft.is_shut(stage), bool)
        shown = [(draft.said(Spot(stage, key.name)), draft.in_force(Spot(stage, key.name))) for key in keys_of(stage)]
        assert len(draft.misplaced(stage)) < len(shown)
        draft.mend(stage)
        assert draft.unplaced(stage) == []


places = st.tuples(st.sampled_from(range(len(STAGES))), st.sampled_from(range(len(KINDS))))
"""A stage and a kind of mistake: none of them hangs on another in the same stage."""


@settings(max_examples=60)
@given(st.sets(places, min_size=1, max_size=14))
def test_each_mistake_is_told_once_whatever_else_is_wrong(planted: set[tuple[int, int]]) -> None:
    stages = list(STAGES)
    for stage, kind in planted:
        stages[stage] = KINDS[kind].plant(stages[stage])
    text = "[[stages]]\n".join([HEAD, *stages])
    programme, found = check_text(text)
    assert programme is None
    lines = text.splitlines()
    told = sorted((one.where.partition(" ")[2].partition(" ")[0], one.where.partition(", ")[2]) for one in found)
    assert told == sorted((str(stage + 1), KINDS[kind].key) for stage, kind in planted)
    look_through(text)
    begins = {KINDS[kind].key: KINDS[kind].line for _, kind in planted}
    for one in found:
        assert lines[one.line - 1].startswith(begins[one.where.partition(", ")[2]]), one
        assert one.words.isprintable() and "'" not in one.words.replace("'two' lines", ""), "no other tongue's quotes"
