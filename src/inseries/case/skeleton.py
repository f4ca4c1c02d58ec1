"""A commented case file to start from, made from the tables of keys and fields.

Every key stands in it once, behind a # and without a value: a value that was only an example could
stay behind in a child's record.
"""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from inseries.case.keys import Field, Key, event_fields, fields, keys
from inseries.case.record import EventKind
from inseries.case.slips import unit_word

if TYPE_CHECKING:
    from collections.abc import Iterator

_HEAD = """\
# A case: one baby. Units are in the names of keys; unknown keys are refused.
# Take away the # before a line, write the value, and leave out what is not
# known: nothing is assumed without being said. No name, no hospital number.
# Times: at = 2026-03-02T05:00, or age_h = 0.8, in hours since birth.
"""
_READING = """
# [[readings]]              # once for every time of measuring
# at =                      # or: age_h =
# method = ""               # for all values of this reading that it can give
#   # of one value: lv_mass_method = "cmr"; its error (1 SD): lv_mass_g_sd = 0.8
# source = ""               # where the values stand; kept, never printed
"""
_EVENT = """
# [[events]]                # once for every thing done, or that happened
# at =                      # or: age_h =
"""
_WIDTH = 80  # chosen: fits a terminal
_BELOW = "#   # "
_COLUMN = 36  # chosen: comments start behind the longest common key with its value


def skeleton(case_id: str = "my-case") -> str:
    """The text of a case file with every key in it, each explained.

    Parameters
    ----------
    case_id : str, label of the case

    Returns
    -------
    str, TOML
    """
    lines = [_HEAD, "[case]", f'id = "{case_id}"']
    lines += [_field_line(f) for n, f in fields("case").items() if n != "id"]
    lines += ["", "[anatomy]", *(_field_line(f) for f in fields("anatomy").values())]
    lines += [_READING.rstrip("\n")]
    lines += [_key_line(key) for key in keys().values()]
    lines += [_EVENT.rstrip("\n"), *_event_lines()]
    return "\n".join(lines) + "\n"


def _commented(setting: str, remark: str) -> str:
    line = f"{setting:<{_COLUMN}} # {remark}"
    if len(line) <= _WIDTH:
        return line
    # a remark too long for the line stands below it, where no # can be taken away by mistake
    below = textwrap.wrap(remark, _WIDTH, initial_indent=_BELOW, subsequent_indent=_BELOW)
    return "\n".join((setting, *below))


def _field_line(field: Field) -> str:
    empty = "" if field.kind in {"number", "flag", "time", "list"} else ' ""'
    remark = f"{field.help}: {' | '.join(field.choices)}" if field.choices else field.help
    return _commented(f"# {field.name} ={empty}", remark)


def _key_line(key: Key) -> str:
    if key.choices:
        return _commented(f'# {key.name} = ""', f"{key.word}: {' | '.join(key.choices)}")
    unit = unit_word(key.unit)
    return _commented(f"# {key.name} =", f"{key.word}{', ' + unit if unit else ''}")


def _event_lines() -> Iterator[str]:
    for kind in EventKind:
        details = event_fields(kind)
        also = f"also: {', '.join(details)}" if details else ""
        yield _commented(f'# kind = "{kind}"', also) if also else f'# kind = "{kind}"'
