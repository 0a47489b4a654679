"""The evidence from a real session of the last stage on two legs, practised on the virtual scales."""

from __future__ import annotations

from pathlib import Path

from tests.device.test_programme_session import asked, run
from weightshare.cli.keeper import clock
from weightshare.programme.shelf import find_programme
from weightshare.records.store.patient import Affected, add_patient, make_patient
from weightshare.records.store.sheaf import gather
from weightshare.records.store.store import make_store
from weightshare.records.store.visit import take_in


def test_a_real_session_brings_every_measure_of_leaving_two_legs(tmp_path: Path) -> None:
    words = "--programme achilles --stage lowering-90 --sets 1 --repetitions 4 --blind-sets 1 --seconds 90"
    folder, _analysis = run(asked(tmp_path, *words.split()), "raiser")
    kept = find_programme("achilles")
    prescription = kept.prescription(kept.find("lowering-90"))
    # the session is of today
    with make_store(tmp_path / "s", "tester", clock) as store:
        patient = add_patient(store, make_patient("A-1", clock().date(), affected=Affected.LEFT))
        take_in(store, patient, folder)
        found = gather(store, patient, prescription, {})
    assert found.left_out == () and len(found.sessions) == 1
    rows = {str(line.row.criterion.measure): line.row for line in found.lines}
    # four repetitions by hand are no set of ten
    assert rows["sets-done"].value == 0.0
    told = {"pain-during", "pain-next-morning", "clinician"}
    assert {name for name, row in rows.items() if row.value is None} == told
    assert rows["supported"].value == 0.0
    for name in ("share-upper-third", "share-middle-third", "share-lower-third", "share-blind"):
        value, u = rows[name].value, rows[name].u
        assert value is not None and 50.0 < value < 100.0 and u is not None and 0.0 < u < 5.0
    assert all(line.patient is None for line in found.lines)
