"""Sessions as a Bundle of HL7 FHIR R4 (4.0.1): Observations of session, sets, holds, repetitions, what went wrong in
it, weight and pain.

Codes are LOINC's where LOINC has one for what was measured: `29463-7` body weight (FHIR R4, vital signs profile) and
`72514-3` pain from 0 to 10 (LOINC; so used in HL7 Europe's patient summary examples). Everything else has a code of our
own in the code system SYSTEM, with its meaning as text: `session`, `set`, `hold`, `repetition`, `rejected`, `gap`,
`over-the-ceiling`, and each figure of one with its column's name after that, as in
`repetition.share_lowering_percent`. Units are UCUM's.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID, uuid5

from weightshare.model import STANDARD_GRAVITY
from weightshare.records.diary import About
from weightshare.records.export.catalogue import EVENTS, HOLDS, REPETITIONS, SESSIONS, SETS
from weightshare.records.export.column import Column, Kind, Row, Table
from weightshare.records.export.dictionary import Filed
from weightshare.records.export.folder import Folder
from weightshare.records.export.saved import SavedSession

FILE_NAME = "bundle.json"
SYSTEM = "urn:uuid:11af4b4c-1ea4-493d-b3e9-7fc2f19eb8c6"
LOINC, UCUM = "http://loinc.org", "http://unitsofmeasure.org"
CATEGORY = "http://terminology.hl7.org/CodeSystem/observation-category"
_IDS = UUID("ab2b866b-2bec-4c9a-9a8f-0ecb3dc72dc8")
_NOT_TOLD = ("session", "number", "kind", "patient", "name", "started_at", "start_s", "end_s", "program",
             "samples_file", "devices", "warnings")  # fmt: skip
"""Columns that stand elsewhere in a resource, or are no finding."""
_WRONG = {
    "rejected": ("rejected", "a lift that did not count"),
    "gap": ("gap", "a time in which nothing was read"),
    "over the ceiling": (
        "over-the-ceiling",
        "the load on the injured side was over its limit, or could not be read while that was watched",
    ),
}
"""Code and meaning of each kind of event that is no set and no hold."""
_UNKNOWN = {"coding": [{"system": "http://terminology.hl7.org/CodeSystem/data-absent-reason", "code": "unknown"}]}
"""Source: HL7 FHIR R4, value set data-absent-reason (from memory)."""
_PAIN = {
    About.PAIN_BEFORE: "before the session",
    About.PAIN_DURING: "during the session",
    About.PAIN_AFTER: "after the session",
    About.PAIN_NEXT_MORNING: "on the next morning",
}

Resource = dict[str, Any]
_HTEST = {
    "system": "http://terminology.hl7.org/CodeSystem/v3-ActReason",
    "code": "HTEST",
    "display": "test health data",
}
_TEST: Resource = {"meta": {"tag": [_HTEST]}}
"""What is of virtual scales alone. Source: HL7 v3 code system ActReason, as FHIR R4's examples use it (from memory)."""
_PEAK = next(column for column in EVENTS.columns if column.name == "peak_N")


def write_bundle(sessions: Iterable[SavedSession], folder: Folder) -> list[Filed]:
    """Write `sessions` into `folder` as one Bundle; it has no table. Raises OSError."""
    entries: dict[str, Resource] = {}
    for session in sessions:
        for url, resource in _Teller(session).entries().items():
            # a patient who has been on real scales too is no test data
            is_test = session.origin.is_virtual and "meta" in entries.get(url, _TEST)
            entries[url] = resource | (_TEST if is_test else {})
    bundle = {
        "resourceType": "Bundle",
        **(_TEST if all("meta" in one for one in entries.values()) else {}),
        "type": "collection",
        "entry": [{"fullUrl": url, "resource": resource} for url, resource in entries.items()],
    }
    folder.put(FILE_NAME, json.dumps(bundle, ensure_ascii=False, allow_nan=False, indent=1).encode() + b"\n")
    return []


def _url(*names: object) -> str:
    """Return the same id for the same names, always."""
    return f"urn:uuid:{uuid5(_IDS, '/'.join(map(str, names)))}"


class _Teller:
    """Makes the resources of one session."""

    def __init__(self, session: SavedSession) -> None:
        self._session, self._origin, self._rows = session, session.origin, session.rows()
        (self._row,) = self._rows["sessions"]
        self._patient = _url("patient", self._origin.patient)
        self._devices = dict(self._make_devices())

    def entries(self) -> dict[str, Resource]:
        """Return every resource by its full URL; patient and scales of other sessions have the same."""
        found: dict[str, Resource] = {}
        if self._origin.patient:
            found[self._patient] = self._make_patient()
        found |= self._devices
        members = dict(self._members())
        found[_url(self._origin.session)] = self._make_session(members)
        return found | members

    def _make_patient(self) -> Resource:
        named = {"name": [{"text": self._origin.name}]} if self._origin.name else {}
        return {"resourceType": "Patient", "identifier": [{"value": self._origin.patient}], **named}

    def _make_devices(self) -> Iterator[tuple[str, Resource]]:
        """Yield the scale, or a pair and each scale of it: what was measured rests on the first."""
        calibrations = self._session.replayed.session.calibrations
        ids = [one.device_id for one in calibrations]
        virtual, stands = ("virtual ", "a program stands for it; ") if self._origin.is_virtual else ("", "")
        pair = _url("device", *ids)
        if len(ids) > 1:
            words = f"two {virtual}load-cell platforms, a scale each, as one pair"
            yield pair, {"resourceType": "Device", "identifier": [{"value": " + ".join(ids)}], "type": {"text": words}}
        for one in calibrations:
            device = {
                "resourceType": "Device",
                "identifier": [{"value": one.device_id}],
                "type": {"text": f"{virtual}load-cell platform scale"},
                "note": [{"text": f"{stands}calibrated {one.made_on.isoformat()}; no certified medical device"}],
            }
            parent = {"parent": {"reference": pair}} if len(ids) > 1 else {}
            yield _url("device", one.device_id), device | parent

    def _make_session(self, members: Mapping[str, Resource]) -> Resource:
        notes = [{"text": words} for words in str(self._row["warnings"] or "").split("; ") if words]
        notes += [{"text": entry.words} for entry in self._session.diary.entries if entry.words]
        found = self._observe("session", "a practice session on two force platforms", SESSIONS, self._row)
        found |= {"identifier": [{"value": self._origin.session}]}
        found |= self._period(0.0, self._session.analysis.duration_s)
        found |= {"hasMember": [{"reference": url} for url in members]} if members else {}
        return found | ({"note": notes} if notes else {})

    def _members(self) -> Iterator[tuple[str, Resource]]:
        for table, kind, words in (
            (SETS, "set", "a set of repetitions"),
            (HOLDS, "hold", "a hold of the share within its band"),
            (REPETITIONS, "repetition", "a repetition"),
        ):
            for row in self._rows[table.name]:
                found = self._observe(kind, words, table, row) | self._period(row["start_s"], row["end_s"])
                yield _url(self._origin.session, kind, row["number"]), found
        yield from self._went_wrong()
        weight_N = self._session.analysis.body_weight_N
        if weight_N is not None:
            yield _url(self._origin.session, "body weight"), self._weigh(weight_N)
        yield from self._said()

    def _went_wrong(self) -> Iterator[tuple[str, Resource]]:
        """Yield each lift that did not count, gap, and crossing of the ceiling; of a peak not read it is said so."""
        for row in self._rows[EVENTS.name]:
            if row["kind"] not in _WRONG:
                continue
            code, words = _WRONG[str(row["kind"])]
            found = self._observe(code, words, EVENTS, row) | self._period(row["start_s"], row["end_s"])
            if code == "over-the-ceiling" and row["peak_N"] is None:
                found["component"] = [_absent(code, _PEAK), *found.get("component", ())]
            yield _url(self._origin.session, code, row["number"]), found

    def _weigh(self, weight_N: float) -> Resource:
        code = {"coding": [{"system": LOINC, "code": "29463-7", "display": "Body weight"}], "text": "Body weight"}
        value = _quantity(round(weight_N / STANDARD_GRAVITY, 3), "kg", "kg")
        return self._base("vital-signs", code) | {"valueQuantity": value} | self._at(self._session.started_at)

    def _said(self) -> Iterator[tuple[str, Resource]]:
        for place, entry in enumerate(self._session.diary.entries):
            if entry.value is None:
                continue
            if entry.about in _PAIN:
                display = "Pain severity - 0-10 verbal numeric rating [Score] - Reported"
                coding = {"system": LOINC, "code": "72514-3", "display": display}
                code = {"coding": [coding], "text": f"pain {_PAIN[entry.about]}, 0 to 10"}
            else:
                code = _code(str(entry.about), "effort, 0 to 10")
            value = {"valueQuantity": _quantity(entry.value, "score", "{score}")}
            url = _url(self._origin.session, "said", place)
            yield url, self._base("survey", code, measured=False) | value | self._at(entry.at)

    def _base(self, category: str, code: Resource, *, measured: bool = True) -> Resource:
        who = {"reference": self._patient} if self._origin.patient else {"display": "not told"}
        device = next(iter(self._devices), None)
        return {
            "resourceType": "Observation",
            "status": "corrected" if self._row["corrected"] else "final",
            "category": [{"coding": [{"system": CATEGORY, "code": category}]}],
            "code": code,
            "subject": who,
            **({"device": {"reference": device}} if measured and device else {}),
        }

    def _observe(self, kind: str, words: str, table: Table, row: Row) -> Resource:
        parts = [part for column in table.columns for part in _component(kind, column, row.get(column.name))]
        return self._base("therapy", _code(kind, words)) | ({"component": parts} if parts else {})

    def _at(self, at: str) -> Resource:
        return {"effectiveDateTime": at} if _moment(at) is not None else {}

    def _period(self, start_s: object, end_s: object) -> Resource:
        """Return from when to when something was; the session's start is known to the second."""
        began = _moment(self._session.started_at)
        if began is None:
            return {}
        told = {"start": start_s, "end": end_s}
        period = {
            name: (began + timedelta(seconds=value)).isoformat(timespec="milliseconds")
            for name, value in told.items()
            if isinstance(value, float | int)
        }
        return {"effectivePeriod": period} if period else {}


def _moment(at: str) -> datetime | None:
    """Return the instant; None where it is none, or has no offset, which FHIR asks for."""
    try:
        found = datetime.fromisoformat(at)
    except ValueError:
        return None
    return found if found.tzinfo is not None else None


def _code(code: str, words: str) -> Resource:
    return {"coding": [{"system": SYSTEM, "code": code, "display": words}], "text": words}


def _quantity(value: float, unit: str, ucum: str) -> Resource:
    return {"value": value, "unit": unit, "system": UCUM, "code": ucum}


def _absent(kind: str, column: Column) -> Resource:
    return {"code": _code(f"{kind}.{column.name}", column.words), "dataAbsentReason": _UNKNOWN}


def _component(kind: str, column: Column, value: object) -> Iterator[Resource]:
    """Yield one figure as a component; nothing where it could not be had."""
    if value is None or column.name in _NOT_TOLD:
        return
    found: Resource = {"code": _code(f"{kind}.{column.name}", column.words)}
    if column.kind is Kind.BOOLEAN:
        yield found | {"valueBoolean": value}
    elif isinstance(value, int | float):
        yield found | {"valueQuantity": _quantity(value, column.unit.written or "1", column.unit.ucum or "1")}
    else:
        yield found | {"valueString": str(value)}
