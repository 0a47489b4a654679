"""`weightshare analyse` as scripts and people call it."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tests.unit.heels import heeled
from tests.unit.raises import raises
from weightshare.cli import main
from weightshare.model import Trace
from weightshare.records.trace import write_csv, write_parquet

HEAD = "time_s,left_N,right_N\n"


@pytest.fixture
def trace(tmp_path: Path) -> Path:
    """Twenty seconds at 75 % on the left plate, with 525 N and 175 N."""
    time_s = np.arange(2001) / 100.0
    path = tmp_path / "trace.csv"
    write_csv(Trace(time_s, {"left_N": np.full(2001, 525.0), "right_N": np.full(2001, 175.0)}), path)
    return path


def refused(capsys: pytest.CaptureFixture[str], arguments: Iterable[str | Path], status: int = 2) -> str:
    """Return the one line on stderr of a command that ends with exit status 2 and prints nothing else."""
    try:
        ended: int | str | None = main([str(argument) for argument in arguments])
    except SystemExit as leaving:
        ended = leaving.code
    out, err = capsys.readouterr()
    assert ended == status
    assert out == ""
    assert err.endswith("\n")
    assert err.count("\n") == 1
    assert "Traceback" not in err
    return err.rstrip("\n")


def analysed(capsys: pytest.CaptureFixture[str], arguments: Iterable[str | Path]) -> dict[str, Any]:
    """Return the one object that the command prints with --json."""
    assert main(["analyse", *(str(argument) for argument in arguments), "--json"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert out.endswith("}\n")

    def refuse(constant: str) -> None:
        raise AssertionError(f"{constant} is no JSON")

    found: dict[str, Any] = json.loads(out, parse_constant=refuse)
    return found


def test_json_is_exactly_one_object(capsys: pytest.CaptureFixture[str], trace: Path) -> None:
    found = analysed(capsys, [trace, "--injured", "left", "--target", "75"])
    assert found["schema"] == "weightshare.analysis/1"
    assert found["share_percent"]["mean"] == 75.0
    assert found["band"] == {
        "target_percent": 75.0,
        "tolerance_percent": 5.0,
        "grace_s": 1.0,
        "time_in_band_s": 20.0,
        "time_present_s": 20.0,
    }
    assert found["holds"] == [{"start_s": 0.0, "end_s": 20.0, "held_s": 20.0, "supported": False}]


def test_every_option_counts(capsys: pytest.CaptureFixture[str], trace: Path) -> None:
    options = ["--tolerance", "2", "--grace", "0.5", "--filter", "3", "--body-weight-N", "800"]
    found = analysed(capsys, [trace, "--injured", "right", "--target", "26", *options])
    assert found["injured_side"] == "right"
    assert found["body_weight_N"] == 800.0
    assert found["on_plates_percent"] == 87.5
    assert found["band"]["tolerance_percent"] == 2.0
    assert found["band"]["grace_s"] == 0.5
    assert found["holds"] == [{"start_s": 0.0, "end_s": 20.0, "held_s": 20.0, "supported": True}]


def test_the_filter_can_be_set_and_left_out(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A share that jumps for one sample shows unfiltered, and less so the lower the cut-off."""
    left = np.full(1000, 350.0)
    left[500] = 500.0
    path = tmp_path / "jump.csv"
    write_csv(Trace(np.arange(1000) / 100.0, {"left_N": left, "right_N": 700.0 - left}), path)
    greatest = [
        analysed(capsys, [path, "--injured", "left", *options])["share_percent"]["max"]
        for options in (["--filter", "none"], ["--filter", "20"], [], ["--filter", "6"], ["--filter", "1"])
    ]
    assert greatest[0] == pytest.approx(100.0 * 500.0 / 700.0, abs=1e-6)
    assert greatest[0] > greatest[1] > greatest[2] == greatest[3] > greatest[4] > 50.0


def test_a_person_gets_a_table(capsys: pytest.CaptureFixture[str], trace: Path) -> None:
    assert main(["analyse", str(trace), "--injured", "left", "--target", "75"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    lines = {line[:28].strip(): line[28:] for line in out.splitlines()}
    assert lines["injured side"] == "left"
    assert lines["body weight"] == "700.0 N"
    assert lines["share of the injured side"].startswith("mean 75.0 %")
    assert lines["symmetry"].startswith("none")
    assert lines["longest hold"] == "20.0 s"


def test_a_table_says_what_is_not_known(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = tmp_path / "empty.csv"
    write_csv(Trace(np.arange(500) / 100.0, {"left_N": np.zeros(500), "right_N": np.zeros(500)}), path)
    assert main(["analyse", str(path), "--injured", "left", "--target", "75"]) == 0
    out, _ = capsys.readouterr()
    assert "nan" not in out.lower()
    assert "None" not in out
    assert out.count("not known") >= 4
    found = analysed(capsys, [path, "--injured", "left", "--target", "75"])
    assert found["share_percent"] == {"mean": None, "sd": None, "min": None, "max": None}
    assert found["holds"] == []


def test_parquet_gives_the_same(capsys: pytest.CaptureFixture[str], trace: Path, tmp_path: Path) -> None:
    values = {"left_N": np.full(2001, 525.0), "right_N": np.full(2001, 175.0)}
    write_parquet(Trace(np.arange(2001) / 100.0, values), tmp_path / "trace.parquet")
    options = ["--injured", "left", "--target", "75"]
    assert analysed(capsys, [tmp_path / "trace.parquet", *options]) == analysed(capsys, [trace, *options])


OUT_OF_RANGE = [
    ("--target", "-1"),
    ("--target", "100.5"),
    ("--target", "nan"),
    ("--target", "much"),
    ("--tolerance", "0"),
    ("--tolerance", "-5"),
    ("--tolerance", "inf"),
    ("--grace", "-0.1"),
    ("--grace", "1e999"),
    ("--grace", "1s"),
    ("--filter", "0"),
    ("--filter", "-6"),
    ("--filter", "50"),
    ("--filter", "nan"),
    ("--filter", "off"),
    ("--body-weight-N", "0"),
    ("--body-weight-N", "1e6"),
    ("--body-weight-N", "nan"),
    ("--injured", "both"),
    ("--injured", ""),
    ("--added-weight-N", "-1"),
    ("--added-weight-N", "nan"),
    ("--stage", "jump"),
    ("--stage", ""),
    ("--tempo", "1-1"),
    ("--tempo", "1-1-0.1"),
    ("--surface", "stair"),
    ("--basis", "video"),
    ("--basis", "paced"),
    ("--reference-height-mm", "5"),
    ("--reference-height-mm", "inf"),
    ("--working", "both"),
    ("--working", "left"),
    ("--ceiling", "20"),
    ("--ceiling", "nankg"),
    ("--ceiling", "0%"),
]


@pytest.mark.parametrize(("option", "value"), OUT_OF_RANGE)
def test_an_option_out_of_its_range_names_itself(
    capsys: pytest.CaptureFixture[str], trace: Path, option: str, value: str
) -> None:
    arguments: list[str | Path] = ["analyse", trace, "--json", f"{option}={value}"]
    if option != "--injured":
        arguments += ["--injured", "left"]
    message = refused(capsys, arguments)
    assert option in message
    assert "_cutoff" not in message


def test_a_side_has_to_be_named(capsys: pytest.CaptureFixture[str], trace: Path) -> None:
    assert "--injured" in refused(capsys, ["analyse", trace])


def test_a_word_that_is_no_option_is_refused(capsys: pytest.CaptureFixture[str], trace: Path) -> None:
    assert "--colour" in refused(capsys, ["analyse", trace, "--injured", "left", "--colour"])


REFUSED: dict[str, tuple[str | bytes, str]] = {
    "empty": ("", "line 1, column time_s"),
    "a column missing": ("time_s,left_N\n0,1\n1,1\n", "line 1, column right_N"),
    "a column doubled": ("time_s,left_N,right_N,left_N\n0,1,1,1\n", "line 1, column left_N"),
    "text": (HEAD + "0,1,1\n1,many,1\n", "line 3, column left_N"),
    "infinite": (HEAD + "0,1,1\n1,1,inf\n", "line 3, column right_N"),
    "too large": (HEAD + "0,1,1\n1,1,20001\n", "line 3, column right_N"),
    "time stands": (HEAD + "0,1,1\n0,1,1\n", "line 3, column time_s"),
    "minus infinity first": (HEAD + "-inf,1,1\n0,1,1\n", "line 2, column time_s"),
    "a short row": (HEAD + "0,1,1\n1,1\n", "line 3, column right_N"),
    "one row": (HEAD + "0,1,1\n", "line 2, column time_s"),
    "another separator": ("time_s;left_N;right_N\n0;1;1\n1;1;1\n", "line 1, column time_s"),
    "another encoding": (HEAD.encode() + b"0,1,1\n1,\xb5,1\n", "line 3, column left_N"),
    "a line feed in a name": ('"time\n_s",left_N,right_N\n0,1,1\n1,1,1\n', "line 1, column time_s"),
}


@pytest.mark.parametrize("what", REFUSED)
def test_a_trace_that_is_refused_takes_one_line(capsys: pytest.CaptureFixture[str], tmp_path: Path, what: str) -> None:
    content, place = REFUSED[what]
    path = tmp_path / "trace.csv"
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    for json_too in ([], ["--json"]):
        message = refused(capsys, ["analyse", path, "--injured", "left", *json_too])
        assert f"{path}, {place}: " in message


@pytest.mark.parametrize("name", ["none.csv", "none.parquet", "none", "no/where.csv", "x" * 5000, "trace.csv/x"])
def test_a_file_that_is_not_there_takes_one_line(
    capsys: pytest.CaptureFixture[str], trace: Path, tmp_path: Path, name: str
) -> None:
    message = refused(capsys, ["analyse", tmp_path / name, "--injured", "left"])
    assert f"{name}: cannot be read" in message


def test_a_folder_that_holds_no_session_takes_one_line(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert "holds no session" in refused(capsys, ["analyse", tmp_path, "--injured", "left"])


def test_a_name_with_a_zero_byte_takes_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert "cannot be read" in refused(capsys, ["analyse", "a\0b", "--injured", "left"])


def test_two_rows_are_a_trace(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = tmp_path / "two.csv"
    path.write_text(HEAD + "0,350,350\n0.01,350,350\n", encoding="utf-8")
    found = analysed(capsys, [path, "--injured", "left", "--target", "50"])
    assert found["samples"] == 2
    assert found["share_percent"]["mean"] == 50.0
    assert found["holds"] == []
    assert found["body_weight_N"] is None
    path.write_text(HEAD + "0,350,350\n0.000000002,350,350\n", encoding="utf-8")
    assert analysed(capsys, [path, "--injured", "left"])["share_percent"]["mean"] == 50.0
    path.write_text(HEAD + "0,350,350\n1e9,350,350\n", encoding="utf-8")
    assert analysed(capsys, [path, "--injured", "left"])["share_percent"]["mean"] == 50.0
    path.write_text(HEAD + "0,,\n1,,\n", encoding="utf-8")
    assert analysed(capsys, [path, "--injured", "left"])["share_percent"]["mean"] is None


def test_a_trace_too_slow_for_the_default_filter_is_not_filtered_and_says_so(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    path = tmp_path / "slow.csv"
    path.write_text(HEAD + "".join(f"{k / 10},350,350\n" for k in range(100)), encoding="utf-8")
    found = analysed(capsys, [path, "--injured", "left", "--target", "50"])
    assert any("not filtered" in warning for warning in found["warnings"])
    assert found["total_held_s"] == pytest.approx(9.9)
    assert "--filter" in refused(capsys, ["analyse", path, "--injured", "left", "--filter", "5"])
    assert analysed(capsys, [path, "--injured", "left", "--filter", "4.9"])["share_percent"]["mean"] == 50.0


@pytest.fixture
def raising(tmp_path: Path) -> Path:
    """Three raises of both heels by 75 mm, the load turned to the left at the top; the plates have parts."""
    path = tmp_path / "raises.csv"
    write_csv(heeled(raises((1.0, 1.0, 2.0), 3, turn=0.25)), path)
    return path


def test_repetitions_are_looked_for_without_being_told(capsys: pytest.CaptureFixture[str], raising: Path) -> None:
    found = analysed(capsys, [raising, "--injured", "left", "--target", "75"])
    assert found["exercise"] is None
    assert [one["basis"] for one in found["repetitions"]] == ["height"] * 3
    assert [one["share_lowering_percent"] for one in found["repetitions"]] == pytest.approx([75.0] * 3, abs=2.0)
    assert found["holds"] is not None
    assert found["rejected"] == found["sets"] == []


def test_a_stage_says_what_was_done(capsys: pytest.CaptureFixture[str], raising: Path) -> None:
    of_lowering = analysed(capsys, [raising, "--injured", "left", "--target", "75", "--stage", "lowering"])
    assert of_lowering["exercise"] == "lowering"
    assert of_lowering["holds"] is None
    of_hold = analysed(capsys, [raising, "--injured", "left", "--target", "75", "--stage", "hold"])
    assert of_hold["repetitions"] == []


def test_the_band_of_a_lowering_follows_the_phase(capsys: pytest.CaptureFixture[str], raising: Path) -> None:
    """Even on the way up is in the band then; for a band that stands still it is outside."""
    in_band_s = [
        analysed(capsys, [raising, "--injured", "left", "--target", "75", "--stage", stage])["band"]["time_in_band_s"]
        for stage in ("lowering", "raise")
    ]
    assert in_band_s[0] > in_band_s[1] + 2.0


def test_a_basis_can_be_asked_for(capsys: pytest.CaptureFixture[str], raising: Path) -> None:
    found = analysed(capsys, [raising, "--injured", "left", "--stage", "raise", "--basis", "force"])
    assert [one["basis"] for one in found["repetitions"]] == ["force"] * 3
    assert {one["height_injured_mm"] for one in found["repetitions"]} == {None}


def test_a_reference_height_makes_low_raises_low(capsys: pytest.CaptureFixture[str], raising: Path) -> None:
    found = analysed(capsys, [raising, "--injured", "left", "--stage", "raise", "--reference-height-mm", "200"])
    assert [one["reason"] for one in found["rejected"]] == ["low"] * 3
    assert found["repetitions"] == []


def test_the_other_leg_may_work(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """All stands on the right leg, whose heel is the one that goes up."""
    trace = heeled(raises((1.0, 1.0, 2.0), 3))
    total, still = trace.columns["left_N"] + trace.columns["right_N"], np.zeros(trace.time_s.size)
    alone = {"left_N": still, "right_N": total, "left_heel_height_mm": still}
    path = tmp_path / "one.csv"
    kept = {name: values for name, values in trace.columns.items() if "front" not in name and "rear" not in name}
    write_csv(Trace(trace.time_s, kept | alone), path)
    words: list[str | Path] = [path, "--injured", "left", "--stage", "single-raise", "--body-weight-N", "700"]
    assert analysed(capsys, words)["repetitions"] == []
    found = analysed(capsys, [*words, "--working", "right"])["repetitions"]
    assert [one["height_uninjured_mm"] for one in found] == pytest.approx([75.0] * 3, abs=0.5)


def test_a_crossing_of_the_ceiling_is_told(capsys: pytest.CaptureFixture[str], raising: Path) -> None:
    found = analysed(capsys, [raising, "--injured", "left", "--ceiling", "50kg"])
    assert len(found["ceiling"]) == 3
    assert min(event["peak_N"] for event in found["ceiling"]) > 50 * 9.80665
    assert analysed(capsys, [raising, "--injured", "left", "--ceiling", "90%"])["ceiling"] == []
    assert analysed(capsys, [raising, "--injured", "left"])["ceiling"] is None


def test_a_band_may_have_no_upper_edge(capsys: pytest.CaptureFixture[str], trace: Path) -> None:
    words: list[str | Path] = [trace, "--injured", "left", "--target", "60"]
    held = [analysed(capsys, [*words, *more])["total_held_s"] for more in ([], ["--one-sided"])]
    assert held == [0.0, 20.0]


def test_what_is_carried_is_no_body_weight(capsys: pytest.CaptureFixture[str], trace: Path) -> None:
    found = analysed(capsys, [trace, "--injured", "left", "--added-weight-N", "100"])
    assert (found["body_weight_N"], found["on_plates_percent"]) == (600.0, 100.0)


def test_a_person_gets_a_row_for_each_repetition(capsys: pytest.CaptureFixture[str], raising: Path) -> None:
    assert main(["analyse", str(raising), "--injured", "left", "--target", "75", "--stage", "lowering"]) == 0
    rows = capsys.readouterr().out.splitlines()
    assert f"{'repetitions':28}3, by the heel's height" in rows
    at = next(place for place, row in enumerate(rows) if row.startswith(" no"))
    assert [row.split()[0] for row in rows[at + 1 : at + 4]] == ["1", "2", "3"]
    assert all(row.endswith("75/75") for row in rows[at + 1 : at + 4])
