"""What the clinician corrects of a session: kept beside it, signed, tied together, and taken by whoever reads it."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from weightshare.errors import OptionError, RecordError
from weightshare.exercise import STRUCK, Phase, Repetition
from weightshare.records.correction import CORRECTIONS_NAME, Deed, Kept, read_corrections, read_kept, write_kept
from weightshare.records.current import Wish, correct, read_current
from weightshare.records.digest import digest_of, read_digest
from weightshare.records.manifest import verify
from weightshare.records.seal import sealed
from weightshare.records.session import ANALYSIS_NAME, analyse_session, appraise_session
from weightshare.records.value import to_plain

AT, BY = "2026-11-24T10:15:00+01:00", "C. L."


@pytest.fixture
def folder(lowered: Path, tmp_path: Path) -> Path:
    """A session of four raises of its own for each test."""
    return Path(shutil.copytree(lowered, tmp_path / "session-2026-03-02T100000"))


@pytest.fixture(scope="module")
def struck_once(lowered: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = Path(shutil.copytree(lowered, tmp_path_factory.mktemp("struck") / "session-2026-03-02T100000"))
    strike(made, 1)
    return made


@pytest.fixture
def struck(struck_once: Path, tmp_path: Path) -> Path:
    """One whose first repetition is struck."""
    return Path(shutil.copytree(struck_once, tmp_path / "session-2026-03-02T100000"))


def found_first(folder: Path) -> tuple[Repetition, ...]:
    """The repetitions of the first analysis, as they were kept: to six decimals."""
    return read_digest(folder / ANALYSIS_NAME).repetitions


def strike(folder: Path, number: int, reason: str = "held on to the rail") -> None:
    correct(folder, Wish(reason, number), at=AT, by=BY)


def files_but_corrections(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.name != CORRECTIONS_NAME}


def test_a_struck_repetition_counts_no_more_and_the_first_analysis_stays(folder: Path) -> None:
    before, first = files_but_corrections(folder), found_first(folder)
    strike(folder, 2)
    analysis = analyse_session(folder)
    assert digest_of(analysis).repetitions == tuple(one for k, one in enumerate(first, 1) if k != 2)
    assert [len(one.repetitions) for one in analysis.sets] == [len(first) - 1]
    assert [one.reason for one in analysis.rejected].count(STRUCK) == 1
    assert any("corrected by the clinician: 1 repetition struck" in words for words in analysis.warnings)
    assert files_but_corrections(folder) == before
    verify(folder)


def test_a_moved_phase_has_its_figures_anew_and_who_when_why_before_and_after_are_kept(folder: Path) -> None:
    one = found_first(folder)[2]
    assert one.lowering_s is not None and one.end_s is not None
    span_s = one.lowering_s + 0.25, one.end_s - 0.125
    made = correct(folder, Wish("began later", 3, Phase.LOWERING, span_s), at=AT, by=BY).analysis.repetitions[2]
    assert made.lowering_duration_s == pytest.approx(span_s[1] - span_s[0])
    assert made.share_lowering_percent != one.share_lowering_percent
    (kept,) = read_corrections(folder).entries
    assert (kept.at, kept.by, kept.role, kept.reason) == (AT, BY, "clinician", "began later")
    assert kept.before_s == pytest.approx((one.lowering_s, one.end_s), abs=1e-6)
    assert (kept.deed, kept.after_s, kept.repetition) == (Deed.MOVE, span_s, 3)
    assert appraise_session(folder).analysis.repetitions[2] == made


def test_what_is_undone_leaves_the_first_analysis_and_both_stay_listed(struck: Path) -> None:
    appraisal = correct(struck, Wish("it was sound", undoes=1), at=AT, by=BY)
    told = appraisal.to_json()
    corrections = told.pop("corrections")
    assert told == json.loads((struck / ANALYSIS_NAME).read_bytes())
    assert (corrections["in_force"], corrections["struck"], len(corrections["entries"])) == (0, [], 2)
    assert read_current(struck) == {**told, "corrections": corrections}


def test_moves_are_taken_back_from_the_newest_on(folder: Path) -> None:
    one = found_first(folder)[0]
    assert one.lowering_s is not None and one.end_s is not None
    for shift in (0.1, 0.2):
        correct(folder, Wish("later", 1, Phase.LOWERING, (one.lowering_s + shift, one.end_s)), at=AT, by=BY)
    with pytest.raises(OptionError, match="correction 2 of that repetition came later"):
        correct(folder, Wish("no", undoes=1), at=AT, by=BY)
    correct(folder, Wish("no", undoes=2), at=AT, by=BY)
    assert read_current(folder)["repetitions"][0]["lowering_s"] == pytest.approx(one.lowering_s + 0.1, abs=1e-6)
    with pytest.raises(OptionError, match="no such correction in force"):
        correct(folder, Wish("no", undoes=2), at=AT, by=BY)


@pytest.mark.parametrize(
    ("wish", "said"),
    [
        (Wish("why", 9), "repetition 9: there is none in the first analysis of this session; it has 4"),
        (Wish("why", 0), "repetition 0"),
        (Wish("  ", 1), "--reason: give words on one line"),
        (Wish("two\nlines", 1), "--reason"),
        (Wish("x" * 501, 1), "up to 500 letters"),
        (Wish("why", 1, Phase.LOWERING, (0.0, 1.0)), "out of their order"),
        (Wish("why", 1, Phase.LOWERING, (14.0, 40.0)), "--phase 1 lowering 14 40: another repetition goes from"),
        (Wish("why", undoes=1), "--undo 1"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_kept(folder: Path, wish: Wish, said: str) -> None:
    with pytest.raises(OptionError, match=said):
        correct(folder, wish, at=AT, by=BY)
    assert not (folder / CORRECTIONS_NAME).exists()


def test_nobody_strikes_twice_or_moves_what_is_struck_or_signs_with_nothing(struck: Path) -> None:
    for wish in (Wish("again", 1), Wish("later", 1, Phase.RISE, (11.0, 12.0))):
        with pytest.raises(OptionError, match="is struck already"):
            correct(struck, wish, at=AT, by=BY)
    with pytest.raises(OptionError, match="--by"):
        correct(struck, Wish("why", 2), at=AT, by=" ")
    assert len(read_corrections(struck).entries) == 1


def test_a_letter_changed_by_hand_or_a_file_of_another_session_is_noticed(struck: Path) -> None:
    folder, path = struck, struck / CORRECTIONS_NAME
    good = path.read_bytes()
    path.write_bytes(good.replace(b"held on to the rail", b"held on to the wall"))
    with pytest.raises(RecordError, match=r"corrections\.json: was altered"):
        analyse_session(folder)
    for bad in (b"{", b"[]", b'{"schema": "weightshare.corrections/1"}'):
        path.write_bytes(bad)
        with pytest.raises(RecordError, match="altered"):
            read_current(folder)
    path.write_bytes(good)
    manifest = folder / "manifest.json"
    manifest.write_bytes(manifest.read_bytes().replace(b'"recovered"', b'"complete"') + b" ")
    with pytest.raises(RecordError, match="another session's"):
        read_corrections(folder)


def test_an_entry_taken_out_or_exchanged_breaks_the_chain_even_under_a_new_checksum(struck: Path) -> None:
    folder = struck
    strike(folder, 2)
    kept = read_kept(folder)
    for entries in (kept.corrections.entries[1:], kept.corrections.entries[::-1]):
        plain = {**to_plain(kept.corrections), "entries": to_plain(entries), "analysis": kept.analysis}
        value = sealed({"schema": "weightshare.corrections/1", **plain})
        (folder / CORRECTIONS_NAME).write_text(json.dumps(value))
        with pytest.raises(RecordError, match="altered"):
            read_corrections(folder)
    write_kept(folder, Kept(kept.corrections, kept.analysis))
    assert len(read_corrections(folder).entries) == 2


def test_a_session_that_is_not_finished_or_was_altered_is_not_corrected(folder: Path) -> None:
    analysis = folder / ANALYSIS_NAME
    analysis.write_bytes(analysis.read_bytes() + b" ")
    with pytest.raises(RecordError, match=r"analysis\.json: was altered"):
        strike(folder, 1)
    (folder / "manifest.json").unlink()
    with pytest.raises(RecordError, match="weightshare analyse --recover"):
        strike(folder, 1)


def test_another_measure_may_find_no_such_repetition_and_that_is_told(struck: Path) -> None:
    analysis = appraise_session(struck, {"reference_height_mm": 250.0}).analysis
    assert any("the correction of repetition 1 is not in it" in words for words in analysis.warnings)
