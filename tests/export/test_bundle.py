"""What FHIR tells of a session beside its work: the limit of load, what went wrong, which scales, what was virtual."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from fhir.resources.R4B.bundle import Bundle

from tests.unit import told
from weightshare.exercise import Ceiling
from weightshare.model import Side
from weightshare.records.export.frame import read_dictionary, read_export
from weightshare.records.export.saved import SavedSession, load_saved
from weightshare.records.export.writing import FORMS, Request, write_export
from weightshare.task import Settings

Resource = dict[str, Any]


def bundled(place: Path, *sessions: SavedSession) -> Any:
    write_export(sessions, place, Request("fhir"))
    content = json.loads((place / "bundle.json").read_bytes())
    Bundle.model_validate(content)
    return content


def coded(bundle: Any, code: str) -> list[Resource]:
    found = [one["resource"] for one in bundle["entry"] if one["resource"]["resourceType"] == "Observation"]
    return [one for one in found if one["code"]["coding"][0]["code"] == code]


def parts(observation: Resource) -> dict[str, Resource]:
    return {one["code"]["coding"][0]["code"]: one for one in observation["component"]}


@pytest.fixture(scope="module")
def limited(tmp_path_factory: pytest.TempPathFactory) -> SavedSession:
    """Twelve seconds at an even share with a limit of 20 kg on the injured side, which is passed."""
    settings = Settings(Side.RIGHT, 50.0, ceiling=Ceiling(kg=20.0))
    return load_saved(told.record(tmp_path_factory.mktemp("limited"), settings, seconds=12.0))


def test_the_limit_of_load_and_each_crossing_of_it_are_told(limited: SavedSession, tmp_path: Path) -> None:
    bundle = bundled(tmp_path / "out", limited)
    crossed = limited.content["ceiling"]
    (session,) = coded(bundle, "session")
    figures = parts(session)
    assert figures["session.ceiling_kg"]["valueQuantity"]["value"] == 20.0
    assert figures["session.ceiling_kg"]["valueQuantity"]["code"] == "kg"
    assert figures["session.over_ceiling"]["valueQuantity"]["value"] == len(crossed) > 0
    assert "session.ceiling_percent" not in figures
    over = coded(bundle, "over-the-ceiling")
    peaks = [parts(one)["over-the-ceiling.peak_N"]["valueQuantity"] for one in over]
    assert [(one["value"], one["code"]) for one in peaks] == [(one["peak_N"], "N") for one in crossed]
    assert min(one["value"] for one in peaks) > 20.0 * 9.80665
    assert all("start" in one["effectivePeriod"] for one in over)
    members = {one["reference"] for one in session["hasMember"]}
    assert {one["fullUrl"] for one in bundle["entry"] if one["resource"] in over} <= members
    (row,) = limited.table("sessions").to_dict("records")
    assert (row["ceiling_kg"], row["over_ceiling"]) == (20.0, len(crossed))


def test_gaps_lifts_that_did_not_count_and_a_peak_not_read_are_told(
    held: SavedSession, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Source: HL7 FHIR R4, Observation.component.dataAbsentReason (from memory)."""
    span = {"start_s": 2.0, "end_s": 3.5}
    wrong = {
        "gaps": [span],
        "rejected": [span | {"reason": "too short"}],
        "ceiling": [span | {"peak_N": None, "unread": True}],
    }
    assert coded(bundled(tmp_path / "bare", held), "gap") == []
    monkeypatch.setattr(SavedSession, "content", held.content | wrong)
    bundle = bundled(tmp_path / "out", held)
    (gap,), (lift,), (crossing,) = (coded(bundle, code) for code in ("gap", "rejected", "over-the-ceiling"))
    assert gap["effectivePeriod"]["start"].endswith("10:00:02.000+01:00")
    assert gap["effectivePeriod"]["end"].endswith("10:00:03.500+01:00")
    assert parts(lift)["rejected.reason"]["valueString"] == "too short"
    (peak,) = crossing["component"][:1]
    assert peak["dataAbsentReason"]["coding"][0]["code"] == "unknown" and "valueQuantity" not in peak


def test_of_two_scales_what_both_measured_refers_to_the_pair(held: SavedSession, tmp_path: Path) -> None:
    one = held.replayed.session.calibrations[0]
    calibrations = (replace(one, device_id="L-1"), replace(one, device_id="R-1"))
    session = replace(held.replayed.session, calibrations=calibrations)
    bundle = bundled(tmp_path / "out", replace(held, replayed=replace(held.replayed, session=session)))
    devices = {e["fullUrl"]: e["resource"] for e in bundle["entry"] if e["resource"]["resourceType"] == "Device"}
    by_name = {one["identifier"][0]["value"]: url for url, one in devices.items()}
    pair = by_name["L-1 + R-1"]
    assert [devices[by_name[name]]["parent"]["reference"] for name in ("L-1", "R-1")] == [pair, pair]
    measured = [*coded(bundle, "session"), *coded(bundle, "hold"), *coded(bundle, "29463-7")]
    assert len(measured) == 3 and {one["device"]["reference"] for one in measured} == {pair}


def real(session: SavedSession) -> SavedSession:
    """Return `session` as if scales of wood and steel had been stood on."""
    head, devices = replace(session.head, sources=("serial:/dev/scale",)), ("00a1b2c3d4e5f607, calibrated 2026-01-01",)
    return replace(session, origin=replace(session.origin, session="f" * 32, head=head, devices=devices))


def test_virtual_scales_are_told_from_real_ones(held: SavedSession) -> None:
    assert held.origin.is_virtual and not real(held).origin.is_virtual
    by_port = replace(held.origin, head=replace(held.head, sources=("serial:/dev/pts/3",)))
    assert by_port.is_virtual, "the virtual scales on a port of their own have their ids all the same"


def test_what_is_virtual_is_test_data_and_a_patient_who_stood_on_real_scales_is_not(
    lowered: SavedSession, tmp_path: Path
) -> None:
    """Source: HL7 v3 code system ActReason, code HTEST, as tags of FHIR R4's examples have it (from memory)."""

    def tags(bundle: Any) -> list[tuple[str, bool]]:
        tag = {"system": "http://terminology.hl7.org/CodeSystem/v3-ActReason", "code": "HTEST"}
        told = [bundle, *(one["resource"] for one in bundle["entry"])]
        return [
            (one["resourceType"], tag.items() <= (one.get("meta") or {"tag": [{}]})["tag"][0].items()) for one in told
        ]

    virtual = bundled(tmp_path / "virtual", lowered)
    assert {tagged for _kind, tagged in tags(virtual)} == {True}
    (device,) = [one["resource"] for one in virtual["entry"] if one["resource"]["resourceType"] == "Device"]
    assert device["type"]["text"].startswith("virtual ") and "a program stands for it" in device["note"][0]["text"]
    assert parts(coded(virtual, "session")[0])["session.virtual"]["valueBoolean"] is True
    assert {tagged for _kind, tagged in tags(bundled(tmp_path / "real", real(lowered)))} == {False}
    for name, both in (("one", (lowered, real(lowered))), ("other", (real(lowered), lowered))):
        found = tags(bundled(tmp_path / name, *both))
        assert ("Bundle", False) in found and ("Patient", False) in found
        assert {tagged for kind, tagged in found if kind == "Observation"} == {True, False}


@pytest.mark.parametrize("form", FORMS)
def test_every_form_says_how_many_sessions_are_virtual(form: str, held: SavedSession, tmp_path: Path) -> None:
    write_export([held, real(held)], tmp_path / "out", Request(form))
    assert read_dictionary(tmp_path / "out")["virtual_sessions"] == 1
    if form in ("csv", "parquet", "package"):
        assert read_export(tmp_path / "out")["sessions"]["virtual"].tolist() == [True, False]
    if form == "package":
        assert json.loads((tmp_path / "out" / "datapackage.json").read_bytes())["virtual_sessions"] == 1
    if form == "json":
        told = json.loads((tmp_path / "out" / "sessions.json").read_bytes())["sessions"]
        assert [one["session"]["virtual"] for one in told] == [True, False]
    if form == "c3d":
        import ezc3d

        files = [ezc3d.c3d(str(path)) for path in sorted((tmp_path / "out").glob("*.c3d"))]
        words = [file["parameters"]["SESSION"]["VIRTUAL"]["value"] for file in files]
        assert sorted(words) == [["no"], ["virtual scales, virtual person"]]
