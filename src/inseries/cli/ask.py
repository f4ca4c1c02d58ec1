"""One question put to the desk: from what was typed to an exit code."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

import click

from inseries.base.errors import CaseError, InseriesError, OutputError

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.desk.answer import Answer
    from inseries.desk.verbs import Verb

# common practice: exit codes of the shell for an internal error and for Ctrl-C
INTERNAL_ERROR = 70
INTERRUPTED = 130

# chosen: a case file of this size is a slip of the pen; more is not read into memory
_MOST_BYTES = 1_000_000


def ask(verb: Verb, given: Mapping[str, object]) -> int:
    """Ask the desk and print what it says.

    Parameters
    ----------
    verb : Verb
    given : mapping of str to object, options as they were typed, None where absent

    Returns
    -------
    int, exit code: 0 answered, 1 refused, 70 an unexpected error, 130 interrupted
    """
    try:
        return _ask(verb, given)
    except KeyboardInterrupt:
        click.echo("Interrupted; no file was left half-written.", err=True)
        return INTERRUPTED
    except BrokenPipeError:
        raise  # the reader has gone; click leaves quietly
    except Exception as error:
        if given["debug"]:
            raise
        click.echo(_unexpected(verb, error), err=True)
        return INTERNAL_ERROR


def _ask(verb: Verb, given: Mapping[str, object]) -> int:
    from inseries.desk.answer import refuse

    try:
        _target_is_free(given["out_path"], replace=bool(given["replace"]))
        answer = _answer(verb, given)
        _hand_over(verb, answer, given)
    except InseriesError as error:
        answer = refuse(verb.name, error)
        _print(answer, given)
    return answer.exit_code


def _target_is_free(target: object, *, replace: bool) -> None:
    """Refuse before computing what could not be written afterwards."""
    if not isinstance(target, Path):
        return
    if not target.parent.is_dir():
        what, code, remedy = "There is no such folder", "no_folder", "a folder that exists."
    elif target.is_file() and not replace:
        what, code, remedy = "A file of this name exists", "exists", "another name, or --replace."
    else:
        return
    raise OutputError(what, code=code, where=target.name, remedy=remedy)


def _answer(verb: Verb, given: Mapping[str, object]) -> Answer:
    from inseries.cli.progress import shown_progress
    from inseries.desk.verbs import load

    places = [_case(str(given["case"]))] if "case" in verb.takes else []
    names = {
        name: given[name]
        for name in verb.takes
        if name not in {"case", "progress"} and given[name] is not None
    }
    with shown_progress() as progress:
        if "progress" in verb.takes:
            names["progress"] = progress
        return load(verb)(*places, **names)


def _case(typed: str) -> Path | str:
    """A path, or the text of the case where a dash was typed."""
    if typed != "-":
        return Path(typed)
    content = sys.stdin.buffer.read(_MOST_BYTES + 1)
    if len(content) > _MOST_BYTES:
        raise _bad_input("The text is too large for a case", "too_large", "one case of one baby.")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        what = f"Line {line} is not UTF-8 text"
        raise _bad_input(what, "not_utf8", "saving it as UTF-8.") from error
    # A case text is told from a path by its line breaks.
    return text.replace("\r\n", "\n").rstrip("\n") + "\n"


def _bad_input(what: str, code: str, remedy: str) -> CaseError:
    return CaseError(what, code=code, where="standard input", remedy=remedy)


def _hand_over(verb: Verb, answer: Answer, given: Mapping[str, object]) -> None:
    """To the file asked for, unless the verb itself wrote it; else to the terminal."""
    target = given["out_path"]
    if not isinstance(target, Path) or "out_path" in verb.takes or answer.refused is not None:
        _print(answer, given)
        return
    from inseries.base.files import write_private

    content = _told(answer, given, colour=False).encode()
    write_private(target, content, replace=bool(given["replace"]))
    click.echo(f"Written to {target.name}.", err=True)


def _print(answer: Answer, given: Mapping[str, object]) -> None:
    """A refusal in words goes where errors go; JSON always goes where a program reads."""
    to_errors = answer.refused is not None and answer.result is None and not given["as_json"]
    stream = sys.stderr if to_errors else sys.stdout
    text = _told(answer, given, colour=_colour(stream))
    encoding = stream.encoding or "utf-8"
    click.echo(text.encode(encoding, "replace"), file=stream.buffer, nl=False)


def _told(answer: Answer, given: Mapping[str, object], *, colour: bool) -> str:
    if given["as_json"]:
        return answer.to_json() + "\n"
    from inseries.cli.screen import screen_text

    return screen_text(answer, colour=colour)


def _colour(stream: TextIO) -> bool:
    """Colour only for a terminal that shows it and a user who has not declined it."""
    declined = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb"
    return stream.isatty() and not declined


def _unexpected(verb: Verb, error: Exception) -> str:
    # The error's own words may hold a path or a name; its kind does not.
    return (
        f"inseries {verb.name} met an error it did not expect ({type(error).__name__}); "
        "nothing was written. --debug shows where it arose."
    )
