"""The record of a run."""

from __future__ import annotations

import getpass
import platform
from typing import TYPE_CHECKING

from inseries.desk import run
from inseries.desk.run import run_record

if TYPE_CHECKING:
    from pathlib import Path


def test_run_record_is_complete() -> None:
    """The record holds what it was given, both hashes, the compiler and the processor."""
    record = run_record("ab" * 32, seed=3, draws=200, effective_draws=140.5)
    assert (record.seed, record.draws, record.effective_draws) == (3, 200, 140.5)
    assert record.input_hash == "ab" * 32
    assert record.numba == __import__("numba").__version__
    assert record.cpu
    for digest in (record.kernel_hash, record.table_hash):
        assert digest is not None
        assert len(bytes.fromhex(digest)) == 32


def test_run_record_names_neither_machine_nor_user() -> None:
    """Neither the machine's own name nor the user's is in the record."""
    record = run_record(None)
    own = {part for part in (platform.node(),) if part}
    assert not any(name in (record.cpu or "") for name in own)
    assert getpass.getuser() not in (record.cpu or "").lower().split()


def test_any_change_of_a_table_changes_the_hash(tmp_path: Path) -> None:
    """A changed byte, a changed name, or a moved byte between two files is noticed."""

    def digest(**contents: str) -> str:
        folder = tmp_path / str(len(list(tmp_path.iterdir())))
        folder.mkdir()
        for name, text in contents.items():
            (folder / f"{name}.toml").write_text(text, encoding="utf-8")
        return run._hash(folder, ".toml")

    first = digest(a="xy", b="z")
    assert digest(a="xy", b="z") == first
    assert len({first, digest(a="xy", b="y"), digest(a="x", b="yz"), digest(a="xy", c="z")}) == 4


def test_processor_without_a_name_has_a_kind(tmp_path: Path, monkeypatch) -> None:
    """Where the system does not describe the processor, its kind stands in."""
    monkeypatch.setattr(run, "_CPU_FILE", tmp_path / "absent")
    run.cpu_name.cache_clear()
    assert run.cpu_name() in {platform.processor(), platform.machine()}
    run.cpu_name.cache_clear()
