"""The strict reader of a case file.

Nothing is guessed: an unknown key, a wrong unit, an impossible value is refused with file, line,
key, value and what to try. Times become ages here and nowhere else.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar, cast

from inseries.case.canonical import digest
from inseries.case.keys import companions, event_fields, fields, keys
from inseries.case.place import Place
from inseries.case.positions import Positions
from inseries.case.record import (
    Anatomy,
    Case,
    Event,
    EventKind,
    LvOutflow,
    Method,
    Reading,
    Septum,
    Sex,
    Value,
)
from inseries.case.scalars import field_value, read_value, stated_method, word_of
from inseries.case.slips import nearest, unknown_key
from inseries.case.source import Table, as_table, file_text, tables
from inseries.case.times import TIMES, Clock, moment

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from os import PathLike

TABLES = {
    "case": "[case]",
    "anatomy": "[anatomy]",
    "readings": "[[readings]]",
    "events": "[[events]]",
}
_Timed = TypeVar("_Timed", Reading, Event)


def read_case(path_or_text: str | PathLike[str]) -> Case:
    """Read a case file, or the text of one.

    Parameters
    ----------
    path_or_text : path of a TOML file; or its text, where a string is blank or has a line break
        or an equals sign

    Returns
    -------
    Case, with readings and events in order of age

    Raises
    ------
    CaseError
        with code, place, value and remedy, for anything that cannot be taken as it is.
    """
    if isinstance(path_or_text, str) and _is_text(path_or_text):
        return _Reader(path_or_text, "case text").case()
    return _Reader(file_text(path_or_text), Path(path_or_text).name).case()


def _is_text(told: str) -> bool:
    return not told.strip() or "\n" in told or "=" in told


class _Reader:
    """One text on its way to a case."""

    def __init__(self, text: str, name: str) -> None:
        self._name = name
        self._tables = tables(text, name)
        self._lines = Positions(text)

    def case(self) -> Case:
        """Read every table, in the order in which one needs another."""
        self._known_tables()
        head = self._head()
        clock = Clock(moment(head["born"], self._place("case"), "born") if "born" in head else None)
        anatomy, weeks = self._anatomy()
        case = Case(
            id=str(head["id"]),
            sex=Sex(str(head["sex"])) if "sex" in head else None,
            born=clock.born,
            gestation_weeks=weeks,
            anatomy=anatomy,
            readings=_by_age(self._reading(*row, clock) for row in self._rows("readings")),
            events=_by_age(self._event(*row, clock) for row in self._rows("events")),
            digest="",
        )
        return replace(case, digest=digest(case))

    def _place(self, table: str, index: int = 0) -> Place:
        return Place(self._name, self._lines, table, index)

    def _known_tables(self) -> None:
        for name in self._tables:
            if name in TABLES:
                continue
            home = _home(name)
            if home:
                what, remedy = f"the key {name!r} stands in no table", f"move it under {home}."
            else:
                found = nearest(name, TABLES)
                what = f"there is no {name!r} in a case file"
                remedy = f"{TABLES[found] if found else ', '.join(TABLES.values())}."
            raise self._place(name).refuse(what, "unknown_key", remedy, name)

    def _single(self, name: str) -> tuple[Table, Place]:
        row = as_table(self._tables.get(name, {}))
        if row is None:
            raise self._place(name).refuse(
                f"there is one {name}", "wrong_type", f"one pair of brackets: [{name}]."
            )
        return row, self._place(name)

    def _rows(self, name: str) -> Iterator[tuple[Table, Place]]:
        rows = self._tables.get(name, [])
        items = cast("list[object]", rows) if isinstance(rows, list) else [None]
        for index, item in enumerate(items):
            row = as_table(item)
            if row is None:
                raise self._place(name).refuse(
                    f"there may be several {name}",
                    "wrong_type",
                    f"two pairs of brackets: [[{name}]].",
                )
            yield row, self._place(name, index)

    def _head(self) -> Table:
        row, place = self._single("case")
        if "id" not in row:
            raise place.refuse(
                "the case has no id", "missing_key", 'id = "a-label-of-your-own" under [case].'
            )
        known = fields("case")
        _all_known(row, place, known)
        return {k: v if k == "born" else field_value(known[k], v, place) for k, v in row.items()}

    def _anatomy(self) -> tuple[Anatomy, float | None]:
        row, place = self._single("anatomy")
        known = fields("anatomy")
        _all_known(row, place, known)
        told: Table = {k: field_value(known[k], v, place) for k, v in row.items()}
        weeks = cast("float | None", told.pop("gestation_weeks", None))
        if "septum" in told:
            told["septum"] = Septum(str(told["septum"]))
        if "lv_outflow" in told:
            told["lv_outflow"] = LvOutflow(str(told["lv_outflow"]))
        return Anatomy(**told), weeks  # pyright: ignore[reportArgumentType]

    def _reading(self, row: Table, place: Place, clock: Clock) -> Reading:
        _all_known(row, place, (*keys(), *TIMES, "method", "source", *companions()))
        age = clock.age(row, place)
        method = stated_method(row["method"], place, "method") if "method" in row else None
        values = [read_value(key, row, method, age, place) for key in keys() if key in row]
        if not values:
            raise place.refuse(
                "this reading holds no value", "empty_reading", "a value such as weight_kg = 3.4."
            )
        _companions_belong(row, place)
        _method_fits(method, values, place)
        source = word_of(row["source"], place, "source") if "source" in row else None
        return Reading(age_days=age, values=tuple(replace(v, source=source) for v in values))

    def _event(self, row: Table, place: Place, clock: Clock) -> Event:
        if "kind" not in row:
            raise place.refuse(
                "this event does not say what it is", "missing_key", 'kind = "septostomy".'
            )
        kinds = [str(kind) for kind in EventKind]
        kind = EventKind(place.choice(row["kind"], kinds, "kind", "kind of event"))
        known = event_fields(kind)
        _all_known(row, place, ("kind", *TIMES, *known))
        age = clock.age(row, place)
        told = {k: field_value(known[k], v, place) for k, v in row.items() if k in known}
        details = cast("dict[str, float | str | tuple[str, ...]]", told)
        return Event(kind=kind, age_days=age, details=details)


def _all_known(row: Table, place: Place, known: Iterable[str]) -> None:
    names = tuple(known)
    for key, value in row.items():
        if key not in names:
            error = unknown_key(key, value, place.table, names)
            error.where = place.where(key)
            raise error


def _companions_belong(row: Table, place: Place) -> None:
    for name, (key, what) in companions().items():
        if name in row and key not in row:
            raise place.refuse(
                f"this reading gives the {what} of {key}, but not {key} itself",
                "missing_key",
                f"{key} = …, or leave this line out.",
                name,
                value=row[name],
            )


def _method_fits(method: Method | None, values: list[Value], place: Place) -> None:
    if method is None or any(method in keys()[v.key].methods for v in values):
        return
    allowed = dict.fromkeys(str(m) for v in values for m in keys()[v.key].methods)
    raise place.refuse(
        "none of the values of this reading can come about by this method",
        "unknown_word",
        "one of: " + ", ".join(allowed) + ".",
        "method",
        value=str(method),
    )


def _home(name: str) -> str | None:
    if name in keys():
        return TABLES["readings"]
    return next((TABLES[t] for t in ("case", "anatomy") if name in fields(t)), None)


def _by_age(items: Iterable[_Timed]) -> tuple[_Timed, ...]:
    return tuple(sorted(items, key=lambda item: item.age_days))
