"""The one way to write a case: ages for dates, keys in the order of the table.

What a calculation can see of a case is hashed from here, so that the same baby gives the same
random numbers whatever the label, the order of the lines or the birthday.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import fields as dataclass_fields
from dataclasses import replace
from typing import TYPE_CHECKING

from inseries.base.ages import HOURS_PER_DAY

if TYPE_CHECKING:
    from collections.abc import Iterator

    from inseries.case.record import Case, Event, Reading, Value


def canonical(case: Case) -> str:
    """A case as a case file without dates; reading it gives the same case.

    Parameters
    ----------
    case : Case

    Returns
    -------
    str, TOML with ``age_h`` to the third of a second
    """
    lines = ["[case]", _set("id", case.id)]
    if case.sex:
        lines.append(_set("sex", case.sex))
    lines += ["", "[anatomy]", *_anatomy(case)]
    for reading in case.readings:
        lines += ["", *_reading(reading)]
    for event in case.events:
        lines += ["", *_event(event)]
    return "\n".join(lines) + "\n"


def digest(case: Case) -> str:
    """SHA-256, in hex, of what a calculation can see: no label, no dates, no free text."""
    readings = tuple(
        replace(r, values=tuple(replace(v, source=None) for v in r.values)) for r in case.readings
    )
    events = tuple(
        replace(e, details={k: v for k, v in e.details.items() if k != "by"}) for e in case.events
    )
    bare = replace(case, id="case", readings=readings, events=events)
    return hashlib.sha256(canonical(bare).encode()).hexdigest()


def _anatomy(case: Case) -> Iterator[str]:
    for field in dataclass_fields(case.anatomy):
        told = getattr(case.anatomy, field.name)
        if told is not None:
            yield _set(field.name, told)
    if case.gestation_weeks is not None:
        yield _set("gestation_weeks", case.gestation_weeks)


def _reading(reading: Reading) -> Iterator[str]:
    yield "[[readings]]"
    yield _age(reading.age_days)
    source = reading.values[0].source
    if source is not None:
        yield _set("source", source)
    for value in sorted(reading.values, key=lambda v: v.key):
        yield from _value(value)


def _value(value: Value) -> Iterator[str]:
    yield _set(value.key, value.value)
    if value.sd is not None:
        yield _set(f"{value.key}_sd", value.sd)
    if value.method is not None:
        yield _set(f"{value.key}_method", value.method)


def _event(event: Event) -> Iterator[str]:
    yield "[[events]]"
    yield _age(event.age_days)
    yield _set("kind", event.kind)
    for name in sorted(event.details):
        yield _set(name, event.details[name])


def _age(days: float) -> str:
    # four digits of an hour: finer than anyone notes, and stable when read and written again
    return f"age_h = {days * HOURS_PER_DAY:.4f}"


def _set(name: str, value: object) -> str:
    if isinstance(value, bool):
        told = "true" if value else "false"
    elif isinstance(value, float):
        told = repr(value)
    elif isinstance(value, tuple):
        told = json.dumps(list(value))  # pyright: ignore[reportUnknownArgumentType]
    else:
        # A JSON string is a TOML basic string for every printable text.
        told = json.dumps(str(value), ensure_ascii=False)
    return f"{name} = {told}"
