"""Writing an answer to disk: private, whole or not at all."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from inseries.base.errors import OutputError

# chosen: readable and writable by its owner only, because an answer speaks of a child
PRIVATE_MODE = 0o600


def write_private(path: Path | str, content: bytes, *, replace: bool = False) -> Path:
    """A file that holds exactly the content and that only its owner may read.

    The content goes to a temporary file beside the target and takes its name in one step, so
    whoever looks sees the old file or the new one, never a part.

    Parameters
    ----------
    path : Path or str, where the file shall be
    content : bytes, what it shall hold
    replace : bool, whether an existing file may be replaced

    Returns
    -------
    Path, where it was written

    Raises
    ------
    OutputError : the target is a directory, exists already, or cannot be written
    """
    target = Path(path)
    if target.is_dir():
        raise _refusal(target, "A directory is there", "is_directory", "name a file in it")
    if os.path.lexists(target) and not replace:
        raise _exists(target)
    try:
        part = _write_part(target.parent, content)
    except OSError as error:
        raise _not_written(target, error) from error
    try:
        _take_name(part, target, replace=replace)
    except FileExistsError as error:
        raise _exists(target) from error
    except OSError as error:
        raise _not_written(target, error) from error
    finally:
        part.unlink(missing_ok=True)
    return target


def append_private(path: Path, line: bytes) -> None:
    """One line at the end of a file that only its owner may read, in one step.

    Parameters
    ----------
    path : Path, made where it is not there; a link is refused
    line : bytes, whole, with its end

    Raises
    ------
    OutputError : the line cannot be written
    """
    flags = os.O_WRONLY | os.O_APPEND | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0)
    try:
        handle = os.open(path, flags, PRIVATE_MODE)
        try:
            os.write(handle, line)
        finally:
            os.close(handle)
    except OSError as error:
        raise _not_written(path, error) from error


def _write_part(folder: Path, content: bytes) -> Path:
    """A complete temporary file in the folder; nothing stays behind if writing fails."""
    handle, name = tempfile.mkstemp(prefix=".inseries-", suffix=".part", dir=folder)
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        part.chmod(PRIVATE_MODE)
    except BaseException:
        part.unlink(missing_ok=True)
        raise
    return part


def _take_name(part: Path, target: Path, *, replace: bool) -> None:
    """Move the part to its name; without ``replace`` the name is first claimed for us alone."""
    if replace:
        part.replace(target)
        return
    os.close(os.open(target, os.O_CREAT | os.O_EXCL | os.O_WRONLY, PRIVATE_MODE))
    try:
        part.replace(target)
    except OSError:
        with contextlib.suppress(OSError):
            target.unlink()
        raise


def _exists(target: Path) -> OutputError:
    return _refusal(
        target, "A file of this name exists", "exists", "another name, or allow it to be replaced"
    )


def _not_written(target: Path, error: OSError) -> OutputError:
    reason = error.strerror or "the system refused"
    return _refusal(
        target, f"The file cannot be written: {reason}", "not_written", "another folder"
    )


def _refusal(target: Path, what: str, code: str, remedy: str) -> OutputError:
    # only the file's own name: a folder may carry a person's name
    return OutputError(what, code=code, where=target.name, remedy=remedy)
