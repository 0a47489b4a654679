"""Two quantities measured together, over and over, and their quotient: the worked example H.2 of the GUM.

JCGM 100:2008, table H.2 (from memory): five sets of a voltage and a current through the same component, observed at the
same time. Table H.4 has the impedance Z = V / I = 254.260 ohm with a standard uncertainty of 0.236 ohm. A limb
symmetry index is such a quotient, times 100, of two heels that rise together.
"""

from __future__ import annotations

import math

import pytest

from weightshare.metrology.index import Kind, compare, mean_of
from weightshare.metrology.scatter import scatter_of

VOLTS = [5.007, 4.994, 5.005, 4.990, 4.999]
AMPERES = [19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3]


def test_standard_errors_and_correlation_are_those_of_the_table() -> None:
    found = scatter_of(VOLTS, AMPERES, together=True)
    assert found.u == pytest.approx((0.0032, 0.0095e-3), rel=0.02)
    assert found.correlation == pytest.approx(-0.36, abs=0.005)


def test_the_quotient_is_worth_what_the_table_says() -> None:
    index = compare(Kind.HEIGHT, mean_of(VOLTS), mean_of(AMPERES), scatter=scatter_of(VOLTS, AMPERES, together=True))
    found = index.limb_symmetry_index
    assert found is not None and index.instrument_u == 0.0
    assert (found.value / 100.0, found.u / 100.0) == pytest.approx((254.260, 0.236), abs=0.0006)
    # five sets of both together: four degrees of freedom
    assert found.dof == pytest.approx(4.0)


def test_taken_as_independent_the_doubt_is_another() -> None:
    """Without the correlation of -0.36 the same table gives a smaller u (5.1.6)."""
    apart = compare(Kind.HEIGHT, mean_of(VOLTS), mean_of(AMPERES), scatter=scatter_of(VOLTS, AMPERES, together=False))
    found = apart.limb_symmetry_index
    assert found is not None
    parts = [0.0032 / 4.999, 0.0095 / 19.661]
    assert found.u / found.value == pytest.approx(math.hypot(*parts), rel=0.01)
    assert found.u / 100.0 < 0.236
