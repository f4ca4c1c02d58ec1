"""The JSON Schema of every answer, made from the types of the frozen results.

A verb is covered by being in the table of verbs; nothing is written twice.
"""

from __future__ import annotations

import dataclasses
import json
import types
from collections.abc import Mapping
from enum import EnumType, StrEnum
from typing import (
    TYPE_CHECKING,
    Literal,
    TypeAlias,
    Union,
    cast,
    get_args,
    get_origin,
    get_type_hints,
)

from inseries.base.findings import Caution
from inseries.desk.answer import SCHEMA_ID, Refusal, Run
from inseries.desk.plain import JsonValue, json_name
from inseries.desk.verbs import VERBS, Verb, result_class

if TYPE_CHECKING:
    from collections.abc import Iterable

Schema: TypeAlias = dict[str, JsonValue]

# UCUM atoms in use, each with an optional power, joined by dots and slashes.
_METRIC = r"[munkcd]?(g|m|s|mol|L|dyn|Pa|J|U|eq)"
_ATOM = rf"(%|1|\[pH\]|Cel|mm\[Hg\]|{_METRIC}|min|h|d|wk|mo|a|deg)-?[0-9]?"
UCUM_PATTERN = rf"^(|/?{_ATOM}([./]{_ATOM})*)$"

_PRIMITIVES: dict[object, Schema] = {
    bool: {"type": "boolean"},
    int: {"type": "integer"},
    float: {"type": "number"},
    str: {"type": "string"},
    types.NoneType: {"type": "null"},
}


def answer_schema(verbs: Iterable[Verb] | None = None) -> Schema:
    """The schema (2020-12) of the object that every verb prints with ``--json``.

    Parameters
    ----------
    verbs : iterable of Verb or None, which verbs to cover; all registered ones when None

    Returns
    -------
    dict, ready for ``json.dumps``

    Raises
    ------
    TypeError : a result holds a type that JSON does not have, such as a date
    """
    covered = list(VERBS.values() if verbs is None else verbs)
    shapes = _Shapes()
    results = {verb.name: shapes.of(result_class(verb)) for verb in covered}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": SCHEMA_ID,
        "title": "An answer of inseries",
        "type": "object",
        "additionalProperties": False,
        **_envelope(shapes, list(results)),
        "oneOf": [
            _either(result="object", refused="null"),
            _either(result="null", refused="object"),
        ],
        "allOf": [_when(name, shape) for name, shape in results.items()],
        "$defs": cast("JsonValue", shapes.definitions()),
    }


def schema_text() -> str:
    """The published schema, as the file under ``docs/reference`` holds it."""
    return json.dumps(answer_schema(), indent=2, ensure_ascii=False) + "\n"


def _envelope(shapes: _Shapes, names: list[str]) -> Schema:
    properties: Schema = {
        "inseries": {"type": "string"},
        "schema": {"const": SCHEMA_ID},
        "verb": {"enum": list[JsonValue](names)},
        "case": {"type": ["string", "null"]},
        "result": {"type": ["object", "null"]},
        "refused": shapes.of(Refusal | None),
        "cautions": shapes.of(tuple[Caution, ...]),
        "sources": shapes.of(tuple[str, ...]),
        "run": shapes.of(Run | None),
    }
    return {"properties": properties, "required": list[JsonValue](properties)}


def _either(*, result: str, refused: str) -> Schema:
    return {"properties": {"result": {"type": result}, "refused": {"type": refused}}}


def _when(name: str, shape: Schema) -> Schema:
    return {
        "if": {"properties": {"verb": {"const": name}, "result": {"type": "object"}}},
        "then": {"properties": {"result": shape}},
    }


class _Shapes:
    """Schemas of types; each dataclass is defined once and referred to by name."""

    def __init__(self) -> None:
        self._records: dict[str, tuple[type, Schema]] = {}

    def definitions(self) -> Schema:
        """All records met so far, by name."""
        return {name: self._records[name][1] for name in sorted(self._records)}

    def of(self, kind: object) -> Schema:
        """The schema of a type as it is after it became JSON."""
        if kind in _PRIMITIVES:
            return dict(_PRIMITIVES[kind])
        if isinstance(kind, EnumType):
            if not issubclass(kind, StrEnum):
                raise _untellable(kind)
            return {"enum": [str(member.value) for member in kind]}
        if dataclasses.is_dataclass(kind):
            return self._record(cast("type", kind))
        return self._generic(kind)

    def _generic(self, kind: object) -> Schema:
        origin, inside = get_origin(kind), get_args(kind)
        if origin is Literal:
            return {"enum": list[JsonValue](inside)}
        if origin is Union or isinstance(kind, types.UnionType):
            return {"anyOf": [self.of(option) for option in inside]}
        if origin is tuple:
            return self._tuple(inside)
        if origin in {dict, Mapping}:
            return {"type": "object", "additionalProperties": self.of(inside[1])}
        raise _untellable(kind)

    def _tuple(self, inside: tuple[object, ...]) -> Schema:
        if len(inside) == 2 and inside[1] is Ellipsis:
            return {"type": "array", "items": self.of(inside[0])}
        return {
            "type": "array",
            "prefixItems": [self.of(item) for item in inside],
            "minItems": len(inside),
            "maxItems": len(inside),
        }

    def _record(self, kind: type) -> Schema:
        name = kind.__name__
        if name in self._records and self._records[name][0] is not kind:
            text = f"two records are called {name}; a schema needs one meaning for each name"
            raise TypeError(text)
        if name not in self._records:
            self._define(name, kind)
        return {"$ref": f"#/$defs/{name}"}

    def _define(self, name: str, kind: type) -> None:
        properties: Schema = {}
        self._records[name] = (kind, properties)
        hints = get_type_hints(kind)
        for item in dataclasses.fields(kind):
            told = json_name(item.name)
            properties[told] = _unit() if told == "unit" else self.of(hints[item.name])
        shape: Schema = {
            "type": "object",
            "description": (kind.__doc__ or "").strip().splitlines()[0],
            "properties": properties,
            "required": list[JsonValue](properties),
        }
        self._records[name] = (kind, shape)


def _unit() -> Schema:
    return {"type": "string", "pattern": UCUM_PATTERN, "description": "UCUM"}


def _untellable(kind: object) -> TypeError:
    return TypeError(f"{kind} has no form in JSON; ages, not dates, and tuples, not sets")
