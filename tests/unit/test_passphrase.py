"""The clinician's passphrase: hashed with a lot of memory, never as it is typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from weightshare.errors import RecordError
from weightshare.records import passphrase
from weightshare.records.passphrase import has_passphrase, is_passphrase, set_passphrase

LITTLE = 1 << 4
"""scrypt's N where the hash itself is not what is tried."""
WORDS = "a rail within reach"


def test_the_hash_is_that_of_the_standard() -> None:
    """RFC 7914, section 12, third test vector: its first 32 bytes (the published key has 64)."""
    made = passphrase._derive("pleaseletmein", b"SodiumChloride", 16384, 8, 1)
    assert made.hex() == "7023bdcb3afd7348461c06cd81fd38ebfda8fbba904f8e3ea9b543f6545da1f2"


def test_it_takes_the_memory_that_is_told() -> None:
    assert 128 * passphrase.BLOCK * passphrase.WORK == 128 * 1024 * 1024


def test_it_is_known_again_and_stands_nowhere(tmp_path: Path) -> None:
    path = tmp_path / "own" / "clinician.json"
    assert not has_passphrase(path)
    set_passphrase(WORDS, path, work=LITTLE)
    assert has_passphrase(path) and is_passphrase(WORDS, path)
    assert not is_passphrase(WORDS + ".", path) and not is_passphrase("", path)
    assert WORDS.encode() not in path.read_bytes()
    assert path.stat().st_mode & 0o077 == 0


def test_the_same_words_have_another_salt_each_time(tmp_path: Path) -> None:
    kept = []
    for name in ("a", "b"):
        set_passphrase(WORDS, tmp_path / name, work=LITTLE)
        kept.append(json.loads((tmp_path / name).read_bytes()))
    assert kept[0]["salt"] != kept[1]["salt"] and kept[0]["hash"] != kept[1]["hash"]


def test_a_letter_with_its_dots_is_the_same_in_both_ways_of_typing_it(tmp_path: Path) -> None:
    set_passphrase("\u00fcber dem Knie", tmp_path / "c", work=LITTLE)
    assert is_passphrase("u\u0308ber dem Knie", tmp_path / "c")


def test_a_short_one_is_refused_and_leaves_the_one_before(tmp_path: Path) -> None:
    path = tmp_path / "c"
    set_passphrase(WORDS, path, work=LITTLE)
    with pytest.raises(RecordError, match="8 characters"):
        set_passphrase("short", path, work=LITTLE)
    with pytest.raises(RecordError, match="200 characters"):
        set_passphrase("x" * 201, path, work=LITTLE)
    assert is_passphrase(WORDS, path)


@pytest.mark.parametrize(
    "change",
    [{"n": 1 << 30}, {"n": 17}, {"r": 1 << 20}, {"schema": "another"}, {"salt": "no hex"}, {"hash": None}],
    ids=str,
)
def test_an_altered_file_unlocks_nothing_and_says_what_helps(tmp_path: Path, change: dict[str, object]) -> None:
    path = tmp_path / "c"
    set_passphrase(WORDS, path, work=LITTLE)
    path.write_text(json.dumps(json.loads(path.read_bytes()) | change))
    with pytest.raises(RecordError, match="deletes the file") as caught:
        is_passphrase(WORDS, path)
    assert str(path) in str(caught.value)


def test_a_file_that_is_none_is_no_open_door(tmp_path: Path) -> None:
    (tmp_path / "c").write_bytes(b"\xff")
    assert has_passphrase(tmp_path / "c")
    with pytest.raises(RecordError, match="cannot be read"):
        is_passphrase(WORDS, tmp_path / "c")


def test_a_place_that_cannot_be_written_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(RecordError, match="cannot be written"):
        set_passphrase(WORDS, tmp_path / "file" / "clinician.json", work=LITTLE)
