"""Contrast and colour-vision deficiencies, computed from the themes' own colours."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from weightshare.window.theme import DARK, LIGHT, Theme

THEMES = [LIGHT, DARK]

DEFICIENCIES = {
    "none": np.eye(3),
    "protanopia": np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
    "deuteranopia": np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
    "tritanopia": np.array(
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ]
    ),
}
"""Machado, Oliveira and Fernandes (2009), A physiologically-based model for simulation of color vision deficiency, IEEE
Transactions on Visualization and Computer Graphics 15(6), table of matrices for severity 1.0; on linear RGB."""


def linear(colour: str) -> NDArray[np.float64]:
    """Return linear RGB; WCAG 2.2, definition of relative luminance (with sRGB's own threshold of 0.04045)."""
    values = np.array([int(colour[at : at + 2], 16) for at in (1, 3, 5)]) / 255.0
    return np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)


def seen(colour: str, deficiency: str) -> NDArray[np.float64]:
    return np.clip(DEFICIENCIES[deficiency] @ linear(colour), 0.0, 1.0)


def contrast(one: str, other: str, deficiency: str = "none") -> float:
    """WCAG 2.2, contrast ratio: (L1 + 0.05) / (L2 + 0.05), with L = 0.2126 R + 0.7152 G + 0.0722 B."""
    weights = np.array([0.2126, 0.7152, 0.0722])
    light = sorted((float(weights @ seen(colour, deficiency)) for colour in (one, other)), reverse=True)
    return (light[0] + 0.05) / (light[1] + 0.05)


def lab(colour: str, deficiency: str) -> NDArray[np.float64]:
    """CIE 1976 L*a*b* under D65 (IEC 61966-2-1 for sRGB to XYZ; CIE 015 for Lab)."""
    to_xyz = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
    ratio = to_xyz @ seen(colour, deficiency) / np.array([0.9505, 1.0, 1.0891])
    f = np.where(ratio > (6 / 29) ** 3, np.cbrt(ratio), ratio / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def test_the_formula_gives_the_known_ends() -> None:
    """WCAG 2.2: contrast runs from 1 to 21; #767676 on white is the customary grey that just holds 4.5 (4.54)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#123456", "#123456") == 1.0
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


def test_the_matrices_leave_white_white() -> None:
    for matrix in DEFICIENCIES.values():
        np.testing.assert_allclose(matrix.sum(axis=1), 1.0, atol=2e-6)


TEXT = [("ink", "ground"), ("ink", "raised"), ("quiet", "ground"), ("quiet", "raised"), ("outside", "ground"),
        ("inside", "ground"), ("ground", "inside"), ("over_ink", "over"), ("unread_ink", "unread")]  # fmt: skip
MARKS = [
    ("inside", "ground"),
    ("inside", "path"),
    ("outside", "ground"),
    ("outside", "path"),
    ("edge", "ground"),
    ("edge", "path"),
    ("edge", "raised"),
    ("laid", "ground"),
    ("laid", "path"),
    ("ink", "path"),
    ("ink", "laid"),
    ("ground", "laid"),
    ("ink", "ground"),
]
"""What is painted on what; the puck is parted from the laid path by a rim in the ground's colour."""


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
@pytest.mark.parametrize("deficiency", list(DEFICIENCIES))
class TestContrast:
    def test_text_holds_4_5(self, theme: Theme, deficiency: str) -> None:
        for colour, under in TEXT:
            found = contrast(getattr(theme, colour), getattr(theme, under), deficiency)
            assert found >= 4.5, f"{colour} on {under}: {found:.2f}"

    def test_marks_hold_3(self, theme: Theme, deficiency: str) -> None:
        for colour, under in MARKS:
            found = contrast(getattr(theme, colour), getattr(theme, under), deficiency)
            assert found >= 3.0, f"{colour} on {under}: {found:.2f}"

    def test_inside_and_outside_stay_far_apart(self, theme: Theme, deficiency: str) -> None:
        """Twenty in L*a*b* is told apart at a glance: about 2.3 is just noticeable (Mahy and others, 1994)."""
        apart = float(np.linalg.norm(lab(theme.inside, deficiency) - lab(theme.outside, deficiency)))
        assert apart >= 20.0, f"{apart:.1f}"

    def test_the_two_alarms_are_told_apart_by_lightness_alone(self, theme: Theme, deficiency: str) -> None:
        assert contrast(theme.over, theme.unread, deficiency) >= 3.0
