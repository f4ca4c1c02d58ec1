"""Answers are written whole, for their owner only."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

import pytest

from inseries.base.errors import OutputError
from inseries.base.files import write_private


def test_content_arrives_and_only_the_owner_may_read_it(tmp_path: Path) -> None:
    """The file holds the bytes and has mode 0600 whatever the umask says."""
    before = os.umask(0)
    try:
        written = write_private(tmp_path / "brief.pdf", b"whole")
    finally:
        os.umask(before)
    assert written.read_bytes() == b"whole"
    assert stat.S_IMODE(written.stat().st_mode) == 0o600
    assert [entry.name for entry in tmp_path.iterdir()] == ["brief.pdf"]


def test_an_existing_file_is_kept_unless_replacing_is_allowed(tmp_path: Path) -> None:
    """Without ``replace`` the old file stays; with it the new one takes its place, private."""
    target = tmp_path / "brief.pdf"
    target.write_bytes(b"old")
    target.chmod(0o644)
    with pytest.raises(OutputError, match="exists") as refusal:
        write_private(target, b"new")
    assert refusal.value.code == "exists"
    assert target.read_bytes() == b"old"
    write_private(target, b"new", replace=True)
    assert target.read_bytes() == b"new"
    assert stat.S_IMODE(target.stat().st_mode) == 0o600


def test_a_directory_is_refused_even_when_replacing(tmp_path: Path) -> None:
    """A directory is never taken for a file."""
    with pytest.raises(OutputError) as refusal:
        write_private(tmp_path, b"new", replace=True)
    assert refusal.value.code == "is_directory"


def test_a_dangling_link_counts_as_existing(tmp_path: Path) -> None:
    """A link is not written through."""
    link = tmp_path / "brief.pdf"
    link.symlink_to(tmp_path / "elsewhere.pdf")
    with pytest.raises(OutputError):
        write_private(link, b"new")
    assert not (tmp_path / "elsewhere.pdf").exists()


def test_a_missing_folder_is_one_sentence_without_the_folder_name(tmp_path: Path) -> None:
    """The refusal names the file, not the folder, which may carry a person's name."""
    with pytest.raises(OutputError) as refusal:
        write_private(tmp_path / "Jane Roe" / "brief.pdf", b"new")
    assert refusal.value.code == "not_written"
    assert "Jane Roe" not in str(refusal.value)
    assert "brief.pdf" in str(refusal.value)


@pytest.mark.parametrize("broken", ["fsync", "replace"])
def test_a_failing_write_leaves_the_old_file_and_no_part(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, broken: str
) -> None:
    """A full disk while writing or renaming leaves the old bytes and nothing beside them."""
    target = tmp_path / "brief.pdf"
    target.write_bytes(b"old")
    _break(monkeypatch, broken)
    with pytest.raises(OutputError, match="No space left"):
        write_private(target, b"new", replace=True)
    assert target.read_bytes() == b"old"
    assert [entry.name for entry in tmp_path.iterdir()] == ["brief.pdf"]


@pytest.mark.parametrize("broken", ["fsync", "replace"])
def test_a_failing_first_write_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, broken: str
) -> None:
    """Where no file was, none is left behind by a failure, not even an empty one."""
    _break(monkeypatch, broken)
    with pytest.raises(OutputError, match="No space left"):
        write_private(tmp_path / "brief.pdf", b"new")
    assert list(tmp_path.iterdir()) == []


def test_a_name_taken_meanwhile_is_not_overwritten(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file that appears between the check and the naming is kept."""
    target = tmp_path / "brief.pdf"

    def sync_while_another_writes(_: int) -> None:
        target.write_bytes(b"theirs")

    monkeypatch.setattr(os, "fsync", sync_while_another_writes)
    with pytest.raises(OutputError, match="exists"):
        write_private(target, b"ours")
    assert target.read_bytes() == b"theirs"
    assert [entry.name for entry in tmp_path.iterdir()] == ["brief.pdf"]


def _break(monkeypatch: pytest.MonkeyPatch, broken: str) -> None:
    def fail(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(*((os, "fsync") if broken == "fsync" else (Path, "replace")), fail)
