"""What a passphrase protects: whoever lacks it reads nothing, and whoever alters anything is found out."""

from __future__ import annotations

import io
import itertools
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from weightshare.errors import StoreError
from weightshare.records.store import cipher
from weightshare.records.store.cipher import PIECE_BYTES, Plain, Sealed, check_passphrase, make_lock, open_lock

KEY = bytes(range(32))
WORDS = "correct words, in order"


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Take the least work that a lock may take."""
    monkeypatch.setattr(cipher, "WORK", 1 << 14)


@given(st.binary(max_size=200), st.text(max_size=20))
def test_what_was_sealed_opens_again(data: bytes, about: str) -> None:
    box = Sealed(KEY)
    sealed = box.seal(data, about)
    assert box.open(sealed, about) == data
    assert data not in sealed or len(data) < 3
    assert box.seal(data, about) != sealed


@given(st.binary(min_size=1, max_size=50), st.data())
def test_one_altered_bit_is_found(data: bytes, draw: st.DataObject) -> None:
    sealed = bytearray(Sealed(KEY).seal(data, "row 1"))
    sealed[draw.draw(st.integers(0, len(sealed) - 1))] ^= 1 << draw.draw(st.integers(0, 7))
    with pytest.raises(StoreError, match="altered"):
        Sealed(KEY).open(bytes(sealed), "row 1")


def test_a_row_cannot_be_put_in_the_place_of_another() -> None:
    sealed = Sealed(KEY).seal(b"100 %", "session 1")
    with pytest.raises(StoreError):
        Sealed(KEY).open(sealed, "session 2")


@pytest.mark.parametrize("data", [b"", b"short", bytes(12), bytes(27)])
def test_what_was_never_sealed_is_refused(data: bytes) -> None:
    with pytest.raises(StoreError):
        Sealed(KEY).open(data, "row")


def test_marks_tell_nothing_without_the_key() -> None:
    assert Sealed(KEY).mark("A-1") == Sealed(KEY).mark("A-1") != Sealed(bytes(32)).mark("A-1")
    assert "A-1" not in Sealed(KEY).mark("A-1")
    assert Plain().mark("A-1") == "A-1"


def sealed_pieces(data: bytes) -> list[bytes]:
    return list(Sealed(KEY).seal_pieces(io.BytesIO(data), "file"))


def opened(pieces: list[bytes], about: str = "file") -> bytes:
    return b"".join(Sealed(KEY).open_pieces(io.BytesIO(b"".join(pieces)), about))


@pytest.mark.parametrize("size", [0, 1, PIECE_BYTES - 1, PIECE_BYTES, PIECE_BYTES + 1, 3 * PIECE_BYTES])
def test_a_file_opens_again(size: int) -> None:
    data = bytes(itertools.islice(itertools.cycle(range(251)), size))
    assert opened(sealed_pieces(data)) == data


def test_pieces_cannot_be_left_out_doubled_moved_or_cut() -> None:
    pieces = sealed_pieces(bytes(3 * PIECE_BYTES))
    first, second, third = pieces
    for wrong in (
        [first, second],
        [second, third],
        [first, third, second],
        [first, first, second, third],
        [*pieces, third],
    ):
        with pytest.raises(StoreError):
            opened(wrong)
    with pytest.raises(StoreError):
        opened([first, second, third[:-1]])
    with pytest.raises(StoreError):
        opened(pieces, "another file")


def test_files_are_copied_for_their_owner_alone(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"trace")
    for box in (Plain(), Sealed(KEY)):
        box.put(tmp_path / "a", tmp_path / "b", "a")
        box.get(tmp_path / "b", tmp_path / "c", "a")
        assert (tmp_path / "c").read_bytes() == b"trace"
        assert (tmp_path / "b").stat().st_mode & 0o777 == 0o600
    assert b"trace" not in (tmp_path / "b").read_bytes()


@pytest.mark.usefixtures("quick")
def test_the_right_passphrase_gives_the_key() -> None:
    lock, key = make_lock(WORDS)
    assert open_lock(lock, WORDS) == key
    assert key.hex() not in str(lock)
    with pytest.raises(StoreError, match="the passphrase is wrong"):
        open_lock(lock, WORDS + " ")


@pytest.mark.usefixtures("quick")
def test_a_passphrase_may_be_in_any_script_however_it_was_typed() -> None:
    lock, key = make_lock("Zoe\u0308 geht über Straßen")
    assert open_lock(lock, "Zo\u00eb geht über Straßen") == key


@pytest.mark.usefixtures("quick")
def test_another_passphrase_can_stand_before_the_same_key() -> None:
    _, key = make_lock(WORDS)
    lock, _ = make_lock("other words than those", key)
    assert open_lock(lock, "other words than those") == key


def test_the_work_is_what_is_said() -> None:
    """scrypt with N = 2^17 and r = 8 takes 128 MiB (RFC 7914, section 2: 128 r N bytes)."""
    lock, _ = make_lock(WORDS)
    assert 128 * lock["r"] * lock["n"] == 128 << 20


@pytest.mark.parametrize(
    "change",
    [
        {"n": 1 << 30},
        {"n": 2},
        {"n": "x"},
        {"r": 1000},
        {"p": 9},
        {"kdf": "none"},
        {"salt": ""},
        {"key": "zz"},
        {"key": None},
    ],
)
@pytest.mark.usefixtures("quick")
def test_a_lock_that_asks_for_what_it_should_not_is_refused(change: dict[str, object]) -> None:
    lock, _ = make_lock(WORDS)
    with pytest.raises(StoreError, match="altered"):
        open_lock({**lock, **change}, WORDS)


@given(st.sampled_from(["", "short", "1234567"]))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_short_passphrase_is_refused(words: str) -> None:
    with pytest.raises(StoreError, match="it takes 8 or more"):
        check_passphrase(words)


def test_aes_gcm_is_the_standards() -> None:
    """NIST SP 800-38D's cipher, test case 14 of McGrew and Viega (2004), The Galois/Counter Mode of Operation: a zero
    key of 256 bits, a zero nonce, 16 zero bytes (from memory): what the library seals with."""
    sealed = AESGCM(bytes(32)).encrypt(bytes(12), bytes(16), None)
    assert sealed.hex() == "cea7403d4d606b6e074ec5d3baf39d18d0d1c8a799996bf0265b98b5d48ab919"
