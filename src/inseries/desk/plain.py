"""From frozen records to JSON values: one rule for every verb."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Mapping
from enum import Enum
from typing import TypeAlias, cast

JsonValue: TypeAlias = "bool | int | float | str | list[JsonValue] | dict[str, JsonValue] | None"

# chosen: more digits than any measured quantity here has, fewer than differ between machines.
SIGNIFICANT_DIGITS = 6

_UCUM = {
    "mmHg": "mm[Hg]",
    "mmhg": "mm[Hg]",
    "ml": "mL",
    "l": "L",
    "days": "d",
    "day": "d",
    "hours": "h",
    "weeks": "wk",
    "years": "a",
    "y": "a",
    "beats": "1",
    "Z": "1",
    "SD": "1",
    "fraction": "1",
    "ratio": "1",
}


def plain(value: object, where: str) -> JsonValue:
    """A value made of JSON's own kinds.

    Frozen dataclasses become objects in field order, tuples lists, enums their text;
    a trailing underscore of a field name falls away, and fields named ``unit`` become UCUM.
    Numbers keep six significant digits, which is what stays the same on another machine.

    Parameters
    ----------
    value : object, a record, mapping, tuple, enum, text, number or None
    where : str, place of the value inside the answer, for the error text

    Raises
    ------
    ValueError : a number is NaN or infinite
    TypeError : the value has no form in JSON
    """
    if isinstance(value, Enum):
        return plain(value.value, where)
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, float):
        return _finite(value, where)
    if isinstance(value, tuple | list):
        items = cast("tuple[object, ...]", value)
        return [plain(item, f"{where}[{index}]") for index, item in enumerate(items)]
    return _object(value, where)


def _object(value: object, where: str) -> JsonValue:
    if isinstance(value, Mapping):
        pairs = cast("Mapping[object, object]", value)
        return {str(key): plain(item, f"{where}.{key}") for key, item in pairs.items()}
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return _record(value, where)
    text = f"{where} holds a {type(value).__name__}, which has no form in JSON"
    raise TypeError(text)


def _record(value: object, where: str) -> JsonValue:
    told: dict[str, JsonValue] = {}
    for item in dataclasses.fields(value):  # pyright: ignore[reportArgumentType]
        name = json_name(item.name)
        content = cast("object", getattr(value, item.name))
        if name == "unit" and isinstance(content, str):
            content = ucum(content)
        told[name] = plain(content, f"{where}.{name}")
    return told


def json_name(field_name: str) -> str:
    """The name a field has in JSON: ``try_`` is told as ``try``."""
    return field_name.rstrip("_")


def _finite(value: float, where: str) -> float:
    if not math.isfinite(value):
        text = f"{where} is {value}; an answer holds finite numbers only"
        raise ValueError(text)
    return float(f"{value:.{SIGNIFICANT_DIGITS}g}") + 0.0


def ucum(unit: str) -> str:
    """The UCUM spelling of a unit as it is written elsewhere here.

    ``mmHg`` becomes ``mm[Hg]``, ``ml/min/kg`` becomes ``mL/min/kg``; UCUM stays as it is.
    """
    return "/".join(_UCUM.get(part, part) for part in unit.split("/"))
