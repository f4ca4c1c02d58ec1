"""The JSON Schema of a case file, made from the tables of keys and fields.

A TOML file has dates of its own kind, which JSON has not: ``born`` and ``at`` are strings there.
What a schema cannot say (bounds that widen with age, one of two times) the reader still asks.
"""

from __future__ import annotations

from typing import TypeAlias

from inseries.case.keys import Field, Key, bounds, event_fields, fields, keys
from inseries.case.record import EventKind, Method
from inseries.case.scalars import LONGEST_WORD

JsonValue: TypeAlias = "bool | int | float | str | list[JsonValue] | dict[str, JsonValue] | None"
Schema: TypeAlias = "dict[str, JsonValue]"

SCHEMA_ID = "urn:inseries:case:1"


def schema() -> Schema:
    """The schema (draft 2020-12) of a case file.

    Returns
    -------
    dict, ready for ``json.dumps``
    """
    tables: Schema = {
        "case": _table({n: _field(f) for n, f in fields("case").items()}, ["id"]),
        "anatomy": _table({n: _field(f) for n, f in fields("anatomy").items()}),
        "readings": {"type": "array", "items": _reading()},
        "events": {"type": "array", "items": {"oneOf": [_event(kind) for kind in EventKind]}},
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": SCHEMA_ID,
        "title": "A case file of inseries",
        **_table(tables, ["case"]),
        "$defs": {"time": {"type": "string", "description": "date and time, as TOML writes it"}},
    }


def _table(properties: Schema, required: list[JsonValue] | None = None) -> Schema:
    return {
        "type": "object",
        "additionalProperties": False,
        "properties": properties,
        **({"required": required} if required else {}),
    }


def _times() -> Schema:
    return {"at": {"$ref": "#/$defs/time"}, "age_h": {"type": "number", "minimum": 0}}


def _either_time() -> Schema:
    return {"oneOf": [{"required": ["at"]}, {"required": ["age_h"]}]}


def _text() -> Schema:
    return {"type": "string", "minLength": 1, "maxLength": LONGEST_WORD}


def _reading() -> Schema:
    told: Schema = {**_times(), "method": {"enum": [str(m) for m in Method]}, "source": _text()}
    for key in keys().values():
        told[key.name] = _value(key)
        for name in dict.fromkeys((key.name, key.stem)):
            told[f"{name}_method"] = {"enum": [str(m) for m in key.methods]}
            if not key.choices:
                told[f"{name}_sd"] = {"type": "number", "exclusiveMinimum": 0}
    return {**_table(told), **_either_time()}


def _value(key: Key) -> Schema:
    if key.choices:
        return {"description": key.word, "enum": list(key.choices)}
    low, _ = bounds(key, 0.0)
    span: Schema = {"type": "number", "minimum": min(key.low, low), "maximum": key.high}
    told: Schema = {"description": f"{key.word}, in {key.unit}"}
    return {**told, "anyOf": [{"const": 0}, span]} if key.zero else {**told, **span}


def _event(kind: EventKind) -> Schema:
    details = {name: _field(field) for name, field in event_fields(kind).items()}
    return {**_table({"kind": {"const": str(kind)}, **_times(), **details}, ["kind"]),
            **_either_time()}  # fmt: skip


def _field(field: Field) -> Schema:
    told: Schema = {"description": field.help}
    if field.kind == "time":
        return {"$ref": "#/$defs/time"}
    if field.kind == "number":
        return {**told, "type": "number", "minimum": field.low, "maximum": field.high}
    if field.kind == "flag":
        return {**told, "type": "boolean"}
    if field.kind == "choice":
        return {**told, "enum": list(field.choices)}
    if field.kind == "list":
        return {**told, "type": "array", "items": {"enum": list(field.choices)}}
    return {**told, **_text(), **({"pattern": field.pattern} if field.pattern else {})}
