"""What each verb lacks in a case, and what that costs in certainty."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import TYPE_CHECKING, cast

from inseries.base.ages import age_words
from inseries.base.numbers import read_rows

if TYPE_CHECKING:
    from inseries.case.record import Case, Value


class Loss(StrEnum):
    """How much certainty is lost."""

    LARGE = "large"
    MODERATE = "moderate"
    SMALL = "small"


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """Something a verb would need: what, for which verb, and what is lost without it.

    ``age_days`` is the age at the last value where there is one but it is too old.
    """

    verb: str
    what: str
    keys: tuple[str, ...]
    loss: Loss
    cost: str
    sentence: str
    age_days: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Need:
    verb: str
    word: str
    keys: tuple[str, ...]
    weight: Loss
    cost: str
    at_least: int = 1
    stale_days: float = float("inf")


def missing(case: Case) -> tuple[Missing, ...]:
    """Everything that a verb would need and the case does not hold, the costly first.

    Parameters
    ----------
    case : Case
    """
    order = list(Loss)
    found = [lack for need in _needs() if (lack := _lack(need, case)) is not None]
    return tuple(sorted(found, key=lambda m: (_verbs().index(m.verb), order.index(m.loss))))


def _lack(need: _Need, case: Case) -> Missing | None:
    ages = [age for way in need.keys if (age := _age(way, case, need.at_least)) is not None]
    if not ages:
        what = f"{need.word} is missing" if need.at_least == 1 else f"{need.word} is missing so far"
        return _missing(need, what, None)
    if case.age_days - max(ages) > need.stale_days:
        what = f"{need.word} was last seen at {age_words(max(ages))}"
        return _missing(need, what, max(ages))
    return None


def _missing(need: _Need, what: str, age: float | None) -> Missing:
    return Missing(
        verb=need.verb,
        what=need.word,
        keys=need.keys,
        loss=need.weight,
        cost=need.cost,
        age_days=age,
        sentence=f"For {need.verb}: {what}; {need.cost}.",
    )


def _age(way: str, case: Case, at_least: int) -> float | None:
    """Age at the last time when all keys of one way were known; None where they are not."""
    if way.startswith("anatomy."):
        stated = getattr(case.anatomy, way.removeprefix("anatomy.")) is not None
        return case.age_days if stated else None
    if way == "sex":
        return case.age_days if case.sex is not None else None
    found = [_latest(case, name, at_least) for name in way.split(" + ")]
    ages = [value.age_days for value in found if value is not None]
    return min(ages) if len(ages) == len(found) else None


def _latest(case: Case, name: str, at_least: int) -> Value | None:
    values = case.all(name)
    if at_least == 1:
        return values[-1] if values else None
    # a trend needs one method: the last value counts with others by its own method
    same = [v for v in values if v.method is not None and v.method == values[-1].method]
    return same[-1] if len(same) >= at_least else None


@cache
def _needs() -> tuple[_Need, ...]:
    rows = read_rows("inseries.case", "needs.toml")
    return tuple(
        _need(verb, cast("dict[str, object]", row))
        for verb, needs in rows.items()
        for row in needs.values()
    )


def _verbs() -> list[str]:
    return list(dict.fromkeys(need.verb for need in _needs()))


def _need(verb: str, row: dict[str, object]) -> _Need:
    taken = {k: v for k, v in row.items() if k not in {"provenance", "because"}}
    taken["keys"] = tuple(cast("list[str]", taken["keys"]))
    taken["weight"] = Loss(str(taken["weight"]))
    return _Need(verb=verb, **taken)  # pyright: ignore[reportArgumentType]
