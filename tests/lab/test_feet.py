"""Which channel of a stream is under which foot, what is refused, and how a source is spelled."""

from __future__ import annotations

import numpy as np
import pytest

from weightshare.errors import DeviceError, OptionError
from weightshare.model import NO_READING
from weightshare.scales.lab.channel import StreamChannel, choose_feet, say_feet
from weightshare.scales.lab.transport import to_counts
from weightshare.scales.lab.wish import Wish, parse_wish


def channels(*described: str) -> list[StreamChannel]:
    return [StreamChannel(*text.split("|")) for text in described]


@pytest.mark.parametrize(
    ("described", "feet"),
    [
        (("left|N", "right|N"), (0, 1)),
        (("Fz R|N", "Fz L|N"), (1, 0)),
        (("LFx|N", "LFz|N", "LMy|Nm", "RFx|N", "RFz|N", "RMy|Nm"), (1, 4)),
        (("Left vertical|kN", "Left z|N", "Right vertical|kN", "Right z|N"), (0, 2)),
        (("time|s", "force_left|newtons", "force_right|newtons", "share_left|percent"), (1, 2)),
        (("FzLeft|N", "FzRight|N", "COPxLeft|mm", "COPxRight|mm"), (0, 1)),
    ],
)
def test_labels_and_units_tell_the_feet(described: tuple[str, ...], feet: tuple[int, int]) -> None:
    left, right = choose_feet(channels(*described), Wish("Plates"))
    assert (left.index, right.index) == feet


@pytest.mark.parametrize(
    ("described", "said"),
    [
        (("Fz1|N", "Fz2|N"), "name both: ,left=LABEL,right=LABEL"),
        (("left|N", "left|N", "right|N"), "more than one may be"),
        (("left|", "right|"), "channel 1 (left) does not say its unit; if it is a force, add its unit: ,unit=N"),
        (("left|V", "right|V"), "under the left foot cannot be told"),
        (("left right|N", "right|N"), "under the left foot"),
    ],
)
def test_what_cannot_be_told_is_refused_with_the_way_out(described: tuple[str, ...], said: str) -> None:
    with pytest.raises(DeviceError) as refusal:
        choose_feet(channels(*described), Wish("Plates"))
    assert said in str(refusal.value)


def test_a_wish_tells_what_the_stream_does_not() -> None:
    wish = parse_wish("Plates, lab 3,left=Fz2,right=1,unit=kN,load=negative")
    assert wish == Wish("Plates, lab 3", "Fz2", "1", "kN", True)
    left, right = choose_feet(channels("Fz1|", "Fz2|"), wish)
    assert (left.index, right.index, left.newtons) == (1, 0, -1000.0)
    assert say_feet((left, right)) == "left is Fz2 in kN, right is Fz1 in kN, load negative"


@pytest.mark.parametrize("text", ["", " ", "Plates,left=", "Plates,load=up", "Plates,unit=V", "P,left=a,left=b"])
def test_a_misspelt_wish_is_refused(text: str) -> None:
    with pytest.raises(OptionError, match="--source lsl:"):
        parse_wish(text)


def test_the_same_channel_is_not_under_both_feet() -> None:
    with pytest.raises(DeviceError, match="both feet"):
        choose_feet(channels("a|N", "b|N"), Wish("Plates", "1", "a"))


def test_counts_are_millinewtons_and_what_is_no_number_is_no_reading() -> None:
    feet = choose_feet(channels("left|kg", "right|kg"), Wish("Plates"))
    counts = to_counts(np.array([[20.0, np.nan], [np.inf, -1.0]]), feet)
    # 20 kg weigh 196.133 N under standard gravity (3rd CGPM, 1901)
    assert counts.tolist() == [[196133, NO_READING], [NO_READING, -9807]]
