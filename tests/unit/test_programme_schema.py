"""The schema of a programme's file. Source: JSON Schema, draft 2020-12; the library `jsonschema`."""

from __future__ import annotations

import json
import tomllib
from datetime import date
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from tests.unit.test_programme_reading import HEAD, LOWERING, STAGE
from weightshare.cli import main
from weightshare.programme.reading import check_text
from weightshare.programme.schema import json_schema
from weightshare.programme.shelf import READY, ready_text


@pytest.fixture(scope="module")
def validator() -> Draft202012Validator:
    Draft202012Validator.check_schema(json_schema())
    return Draft202012Validator(json_schema(), format_checker=Draft202012Validator.FORMAT_CHECKER)


def wrong(validator: Draft202012Validator, text: str) -> list[str]:
    """Return where the schema finds something wrong; a date is its text there, as JSON has none."""
    plain = json.loads(json.dumps(tomllib.loads(text), default=date.isoformat))
    return [".".join(map(str, one.absolute_path)) for one in validator.iter_errors(plain)]


@pytest.mark.parametrize("name", READY)
def test_what_is_ready_made_is_as_the_schema_says(validator: Draft202012Validator, name: str) -> None:
    assert wrong(validator, ready_text(name)) == []


def test_every_kind_of_value_is_as_the_schema_says(validator: Draft202012Validator) -> None:
    keys = 'tempo = "2-1-4-1"\nceiling = "80%"\nblind_sets = [2, 3]\nrest_s = 2.5\nsurface = "step"\nfreed = ["step"]\n'
    text = f'{LOWERING}{keys}freed_by = "AB"\nfreed_on = 2026-11-24\n[stages.criteria]\nshare-lowering = "70 to 80"\n'
    assert check_text(text)[1] == () and wrong(validator, text) == []


@pytest.mark.parametrize(
    ("keys", "where"),
    [
        ("hold_s = 0.5", "hold_s"),
        ("hold_s = '10'", "hold_s"),
        ("sets = 2.5", "sets"),
        ("knee = 'streight'", "knee"),
        ("tempo = '1-1'", "tempo"),
        ("load = '20'", "load"),
        ("key = 'No Spaces'", "key"),
        ("blind_sets = [21]", "blind_sets.0"),
        ("freed = ['knee']", "freed.0"),
        ("freed_on = 'soon'", "freed_on"),
        ("supported = 'yes'", "supported"),
        ("colour = 'red'", ""),
        ("[stages.criteria]\npain-after = 'less than 2'", "criteria.pain-after"),
        ("[stages.criteria]\npain-after = 'near target'", "criteria.pain-after"),
        ("[stages.criteria]\npain = 'at most 2'", "criteria"),
        ("[stages.sources]\nsets = 3", "sources.sets"),
    ],
)
def test_what_the_schema_refuses_the_check_refuses_too(validator: Draft202012Validator, keys: str, where: str) -> None:
    stage = STAGE.replace('key = "a"\n', "") if keys.startswith("key") else STAGE
    text = f'{HEAD}{stage}exercise = "lowering"\ntarget_percent = 75\n{keys}\n'
    assert wrong(validator, text) == [f"stages.0.{where}".rstrip(".")]
    assert check_text(text)[1] != ()


def test_what_is_missing_is_refused(validator: Draft202012Validator) -> None:
    assert len(wrong(validator, "")) == 4 and wrong(validator, f"{HEAD}stages = []") == ["stages"]


def test_the_command_prints_the_schema(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["programme", "schema"]) == 0
    told: dict[str, Any] = json.loads(capsys.readouterr().out)
    assert told == json_schema()
