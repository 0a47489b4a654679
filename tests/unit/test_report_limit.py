"""What a report says of the limit of load: how much it was, who set it, how often it was passed and up to what."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from weightshare.exercise import Ceiling, CeilingEvent
from weightshare.model import STANDARD_GRAVITY
from weightshare.programme.prescription import Prescription
from weightshare.programme.shelf import find_programme
from weightshare.report.account import Account, account_of
from weightshare.report.clinic import make_clinic
from weightshare.report.limit import limit_section, passed_limit, say_limit

TWELVE = (*(CeilingEvent(5.0 * k, 5.0 * k + 0.5, 540.0) for k in range(11)), CeilingEvent(80.0, 80.5, 545.0))


@pytest.fixture(scope="module")
def plain(lowered: Path) -> Account:
    return account_of(lowered)


def limited(plain: Account, ceiling: Ceiling, kept: Prescription | None = None, half_N: float | None = 2.0) -> Account:
    """`plain` with a limit that was passed twelve times, at a body weight of 720 N; half_N: U of the load there."""
    session, appraisal = plain.replayed.session, plain.appraisal
    settings = replace(session.settings, ceiling=ceiling)
    analysis = replace(appraisal.analysis, ceiling=TWELVE, body_weight_N=720.0)
    assert appraisal.doubt is not None
    doubt = None if half_N is None else replace(appraisal.doubt, ceiling_N=half_N)
    session = replace(session, head=replace(session.head, settings=settings, prescription=kept))
    replayed = replace(plain.replayed, session=session)
    return replace(plain, replayed=replayed, appraisal=replace(appraisal, analysis=analysis, doubt=doubt))


@pytest.mark.parametrize("change", ["--ceiling 75%", "ceiling 75%, not none"])
def test_a_limit_in_percent_is_told_in_kg_too_and_that_it_was_set_by_hand(plain: Account, change: str) -> None:
    programme = find_programme("achilles")
    stage = programme.find("lowering-75")
    assert stage is not None
    kept = programme.prescription(stage)
    # 75 % of 720 N are 540 N, 55.1 kg at standard gravity
    assert say_limit(limited(plain, Ceiling(percent=75.0), kept)) == "75 % of body weight, 55.1 kg"
    by_hand = limited(plain, Ceiling(percent=75.0), replace(kept, changed=(change,)))
    assert say_limit(by_hand) == "75 % of body weight, 55.1 kg, set by hand"
    assert say_limit(limited(plain, Ceiling(kg=55.0))) == "55 kg"
    assert say_limit(plain) == ""


def test_what_passed_the_limit_stands_first_with_what_it_is_worth(plain: Account) -> None:
    account = limited(plain, Ceiling(percent=75.0))
    words = next(passed_limit(account)).replace("\u00a0", " ")
    # 2 N are 0.204 kg: at 545 N no less, and rounded up
    assert words == "The limit of load, 75 % of body weight, 55.1 kg, was passed 12 times, up to 55.57 \u00b1 0.21 kg."
    (bear,) = [one for one in make_clinic(account).sections if one.heading == "To bear in mind"]
    assert words in [point.replace("\u00a0", " ") for point in bear.points]
    found = limit_section(account)
    assert found is not None and found.table is not None and len(found.table.rows) == 12
    assert all("\u00b1" in row[2] for row in found.table.rows) and "k = 2" in found.notes[0]
    bare = limit_section(limited(plain, Ceiling(percent=75.0), half_N=None))
    assert bare is not None and bare.table is not None and not bare.notes
    assert bare.table.rows[-1][2] == f"{545.0 / STANDARD_GRAVITY:.1f}"


def test_a_limit_that_was_kept_needs_no_care_and_one_that_was_not_read_does(plain: Account) -> None:
    account = limited(plain, Ceiling(kg=55.0))
    analysis = account.appraisal.analysis
    quiet = replace(account, appraisal=replace(account.appraisal, analysis=replace(analysis, ceiling=())))
    assert not list(passed_limit(quiet))
    found = limit_section(quiet)
    assert found is not None and found.paragraphs == ("It was 55 kg, on the injured side. It was never exceeded.",)
    unread = replace(analysis, ceiling=(CeilingEvent(1.0, 2.0, None, unread=True),) * 2)
    blind = replace(account, appraisal=replace(account.appraisal, analysis=unread))
    assert list(passed_limit(blind)) == ["Under the limit of load the load could not be read twice."]
