"""The seal of a session: no byte of it can be changed unnoticed."""

from __future__ import annotations

from pathlib import Path

import pytest

from weightshare.errors import RecordError
from weightshare.records.manifest import MANIFEST_NAME, Ending, is_sealed, read_manifest, seal, verify


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "raw.wsr").write_bytes(bytes(range(256)))
    (tmp_path / "settings.json").write_bytes(b"{}\n")
    (tmp_path / "empty").write_bytes(b"")
    seal(tmp_path, ["settings.json", "raw.wsr", "empty"], Ending.COMPLETE, "weightshare 0.1.0")
    return tmp_path


def test_an_untouched_session_is_as_it_was_sealed(folder: Path) -> None:
    manifest = verify(folder)
    assert manifest.ending is Ending.COMPLETE
    assert manifest.program == "weightshare 0.1.0"
    assert [(entry.name, entry.bytes) for entry in manifest.files] == [
        ("empty", 0),
        ("raw.wsr", 256),
        ("settings.json", 3),
    ]
    # FIPS 180-4's SHA-256 of no bytes at all, as in NIST's example values
    assert manifest.files[0].sha256 == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"


def test_every_flipped_byte_of_every_file_is_noticed_and_named(folder: Path) -> None:
    for name in ("raw.wsr", "settings.json", MANIFEST_NAME):
        path = folder / name
        whole = path.read_bytes()
        for position in range(len(whole)):
            for mask in (0x01, 0x20, 0xFF):
                flipped = bytearray(whole)
                flipped[position] ^= mask
                path.write_bytes(flipped)
                with pytest.raises(RecordError) as refusal:
                    verify(folder)
                assert str(refusal.value).startswith(f"{path}: ")
        path.write_bytes(whole)
    verify(folder)


@pytest.mark.parametrize("name", ["raw.wsr", "settings.json", MANIFEST_NAME])
def test_every_cut_is_noticed_and_named(folder: Path, name: str) -> None:
    whole = (folder / name).read_bytes()
    for length in range(len(whole)):
        (folder / name).write_bytes(whole[:length])
        with pytest.raises(RecordError, match="cut short") as refusal:
            verify(folder)
        assert name in str(refusal.value)


def test_a_longer_file_and_a_missing_one_are_noticed(folder: Path) -> None:
    (folder / "raw.wsr").write_bytes(bytes(range(256)) + b"x")
    with pytest.raises(RecordError, match=r"raw\.wsr: was altered"):
        verify(folder)
    (folder / "raw.wsr").unlink()
    with pytest.raises(RecordError, match=r"raw\.wsr: is missing"):
        verify(folder)


def test_a_manifest_may_not_reach_out_of_its_folder(folder: Path) -> None:
    inside = folder / "inside"
    inside.mkdir()
    seal(inside, ["../raw.wsr"], Ending.COMPLETE, "")
    path = inside / MANIFEST_NAME
    # `seal` keeps the file's own name only, so that it is looked for where the manifest lies
    with pytest.raises(RecordError, match=r"inside.raw\.wsr: is missing"):
        verify(inside)
    assert path.exists()


def test_an_unfinished_session_is_told_apart(tmp_path: Path) -> None:
    assert not is_sealed(tmp_path)
    with pytest.raises(RecordError, match="was not brought to its end"):
        read_manifest(tmp_path)
    (tmp_path / MANIFEST_NAME).mkdir()
    with pytest.raises(RecordError, match="cannot be read"):
        read_manifest(tmp_path)


def test_a_file_that_cannot_be_read_is_named(folder: Path) -> None:
    (folder / "raw.wsr").unlink()
    (folder / "raw.wsr").mkdir()
    with pytest.raises(RecordError, match=r"raw\.wsr: cannot be read"):
        verify(folder)
