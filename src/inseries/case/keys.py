"""Every key of the case file: what it means, its unit, bounds, methods.

The tables are ``keys.toml`` (values of readings), ``bounds.toml`` (bounds on body size that
widen with age) and ``fields.toml`` (everything else).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import cast

from inseries.base.numbers import read_rows
from inseries.case.record import EventKind, Method

SUFFIXES = {
    "kg": "kg", "g": "g", "mg": "mg", "cm": "cm", "mm": "mm", "m": "m", "g_dl": "g/dL",
    "g_l": "g/L", "pct": "%", "percent": "%", "fraction": "1", "ratio": "1", "mmhg": "mm[Hg]",
    "kpa": "kPa", "cmh2o": "cm[H2O]", "mmol_l": "mmol/L", "mg_dl": "mg/dL", "ml": "mL", "l": "L",
    "per_min": "/min", "bpm": "/min", "per_s": "/s", "ml_min": "mL/min", "l_min": "L/min",
    "ml_s": "mL/s", "m_s": "m/s", "cm_s": "cm/s", "ng_kg_min": "ng/kg/min",
    "ug_kg_min": "ug/kg/min", "mcg_kg_min": "ug/kg/min", "weeks": "wk", "days": "d", "d": "d",
    "h": "h", "hours": "h", "min": "min",
}  # fmt: skip
"""Endings of keys, ours and those others would write, with the unit each means."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One key of a reading."""

    name: str
    word: str
    unit: str
    methods: tuple[Method, ...]
    default: Method | None = None
    choices: tuple[str, ...] = ()
    low: float = float("-inf")
    high: float = float("inf")
    zero: bool = False
    error: float | None = None
    error_share: float | None = None

    @property
    def stem(self) -> str:
        """The key without its unit: ``lv_mass`` of ``lv_mass_g``."""
        return stem(self.name)

    def error_of(self, value: float) -> float:
        """The usual measurement error (1 SD) at a value, in the key's unit."""
        return self.error if self.error is not None else (self.error_share or 0.0) * abs(value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One field outside the readings: of the case, the anatomy or an event."""

    name: str
    table: str
    kind: str
    word: str
    help: str
    unit: str = ""
    choices: tuple[str, ...] = ()
    pattern: str = ""
    example: str = ""
    low: float = float("-inf")
    high: float = float("inf")
    events: tuple[str, ...] = ()
    required: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bound:
    key: str
    age_days: float
    low: float
    high: float


def stem(name: str) -> str:
    """A key without its unit suffix; the key itself where it has none."""
    parts = name.split("_")
    for first in range(1, len(parts)):
        if "_".join(parts[first:]) in SUFFIXES:
            return "_".join(parts[:first])
    return name


@cache
def keys() -> dict[str, Key]:
    """Every key of a reading, by name, in the order of the table."""
    return {name: _key(name, row) for name, row in read_rows("inseries.case", "keys.toml").items()}


@cache
def fields(table: str) -> dict[str, Field]:
    """Every field of ``case``, ``anatomy`` or ``event``, by name."""
    rows = cast("dict[str, dict[str, object]]", read_rows("inseries.case", "fields.toml")[table])
    return {name: _field(name, table, row) for name, row in rows.items()}


def event_fields(kind: EventKind) -> dict[str, Field]:
    """Every detail that one kind of event may carry."""
    return {name: f for name, f in fields("event").items() if kind in f.events}


@cache
def companions() -> dict[str, tuple[str, str]]:
    """Names that accompany a value, such as ``lv_mass_method``: to its key and what it says."""
    return {
        f"{name}_{what}": (key, what)
        for key in keys()
        for name in dict.fromkeys((key, stem(key)))
        for what in ("sd", "method")
    }


def bounds(key: Key, age_days: float) -> tuple[float, float]:
    """Lowest and highest value that is taken at an age, in the key's unit.

    Parameters
    ----------
    key : Key
    age_days : float, days since birth
    """
    rows = _bounds().get(key.name, ())
    if not rows:
        return key.low, key.high
    if age_days >= rows[-1].age_days:
        return rows[-1].low, rows[-1].high
    after = next(i for i, row in enumerate(rows) if row.age_days > age_days)
    a, b = rows[after - 1], rows[after]
    share = (age_days - a.age_days) / (b.age_days - a.age_days)
    return a.low + share * (b.low - a.low), a.high + share * (b.high - a.high)


@cache
def _bounds() -> dict[str, tuple[_Bound, ...]]:
    found: dict[str, list[_Bound]] = {}
    for row in read_rows("inseries.case", "bounds.toml").values():
        taken = {name: row[name] for name in ("key", "age_days", "low", "high")}
        bound = _Bound(**taken)  # pyright: ignore[reportArgumentType]
        found.setdefault(bound.key, []).append(bound)
    return {key: tuple(sorted(rows, key=lambda b: b.age_days)) for key, rows in found.items()}


def _key(name: str, row: dict[str, object]) -> Key:
    taken = {k: v for k, v in row.items() if k not in {"provenance", "because"}}
    taken["methods"] = tuple(Method(m) for m in cast("list[str]", taken["methods"]))
    taken["choices"] = tuple(cast("list[str]", taken.get("choices", [])))
    if "default" in taken:
        taken["default"] = Method(str(taken["default"]))
    return Key(name=name, **taken)  # pyright: ignore[reportArgumentType]


def _field(name: str, table: str, row: dict[str, object]) -> Field:
    taken = {k: v for k, v in row.items() if k not in {"provenance", "because"}}
    for several in ("choices", "events"):
        taken[several] = tuple(cast("list[str]", taken.get(several, [])))
    return Field(name=name, table=table, **taken)  # pyright: ignore[reportArgumentType]
