"""Days on which each route does what it does, and what is refused before anything is computed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, NoReturn

from inseries.base.errors import RouteNotPossible
from inseries.base.numbers import read_numbers
from inseries.desk.band_plan import refuse_shunt
from inseries.prior.actions import ONE_HOUR_DAYS

if TYPE_CHECKING:
    from collections.abc import Mapping


@lru_cache(maxsize=1)
def routes_numbers() -> Mapping[str, float]:
    """Numbers of the routes, without their origins."""
    return {name: n.value for name, n in read_numbers("inseries.desk", "routes.toml").items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class RoutesPlan:
    """Ages in days; None where the course itself decides.

    Parameters
    ----------
    today : age at the last entry
    switch_day : of the primary switch and of the one after conditioning
    band_day, band_mm : of the band, and the lumen it leaves; None is set by pressure
    second_stage_day : of the switch after the band; None when most draws are ready
    atrial_day : of the atrial switch
    shunt_mm : of a shunt put in with the band; None for none beyond what is there
    near_day : to this age all draws are followed
    last_day : last age
    """

    today: float
    switch_day: float
    band_day: float
    band_mm: float | None
    second_stage_day: float | None
    atrial_day: float
    shunt_mm: float | None
    near_day: float
    last_day: float

    def after(self, days: float) -> float:
        """Whole age some days after today, the last day at most."""
        return min(math.floor(self.today + days), self.last_day)


def routes_plan(  # noqa: PLR0913 - ages and sizes a user may name, all by name
    today: float,
    *,
    switch_day: float | None = None,
    band_day: float | None = None,
    band_mm: float | None = None,
    second_stage_day: float | None = None,
    atrial_day: float | None = None,
    shunt_mm: float | None = None,
    banded: bool = False,
) -> RoutesPlan:
    """The plan, with usual days where none are said.

    Parameters
    ----------
    today : age at the last entry, days
    switch_day, band_day, second_stage_day, atrial_day : ages, days
    band_mm : lumen that the band leaves
    shunt_mm : diameter of a shunt put in with the band
    banded : whether there is a band already: it counts from today

    Returns
    -------
    RoutesPlan

    Raises
    ------
    RouteNotPossible
        before birth or before today, beyond the norms, two operations at one hour, a band after
        the switch, a lumen that is none; each with the nearest thing that can be done
    """
    n = routes_numbers()
    last = n["last_day"]
    asked = {
        "switch": switch_day,
        "band": band_day,
        "second stage": second_stage_day,
        "atrial switch": atrial_day,
    }
    for name, day in asked.items():
        if day is not None:
            _refuse_age(name, day, today, last)
    usual = min(math.floor(today + n["days_ahead"]), last)
    switch = usual if switch_day is None else switch_day
    band = (switch if second_stage_day is None else usual) if band_day is None else band_day
    if banded:
        band = _banded(today, band_day, band_mm)
    if shunt_mm is not None:
        refuse_shunt(shunt_mm)
    if second_stage_day is not None:
        _refuse_stages(band, second_stage_day, today)
    if band_mm is not None and not (math.isfinite(band_mm) and band_mm > 0.0):
        _refuse("a band leaves a lumen", "not_positive", "band", band_mm, "mm", "a number above 0")
    return RoutesPlan(
        today=today,
        switch_day=switch,
        band_day=band,
        band_mm=band_mm,
        second_stage_day=second_stage_day,
        atrial_day=(
            min(max(n["atrial_switch_day"], usual), last) if atrial_day is None else atrial_day
        ),
        shunt_mm=shunt_mm,
        near_day=min(max(n["near_days"], math.ceil(today + n["least_near"])), last),
        last_day=last,
    )


def _banded(today: float, band_day: float | None, band_mm: float | None) -> float:
    """There is no second band beside the first here."""
    asked = band_day if band_day is not None else band_mm
    if asked is not None:
        what = "there is a band already"
        _refuse(what, "twice", "band", asked, "", "a second stage day, or `band` to set it again")
    return today


def _refuse_age(name: str, day: float, today: float, last: float) -> None:
    if not day >= 0.0:
        what = f"a {name} before birth is none"
        _refuse(what, "before_birth", name, day, "d", f"an age from {_up(today)} d on")
    if day < today:
        what = f"the {name} lies before the last entry of the record"
        _refuse(what, "before_today", name, day, "d", f"an age from {_up(today)} d on")
    if day > last:
        _refuse("the norms end at one year", "beyond_norms", name, day, "d", f"up to {last:g} d")


def _refuse_stages(band: float, second: float, today: float) -> None:
    """A band is for a switch that comes after it."""
    if abs(second - band) < ONE_HOUR_DAYS:
        what = "band and switch are asked for at one hour"
        nearest = f"a second stage at {band + routes_numbers()['second_stage_after']:g} d"
        _refuse(what, "one_hour", "second stage", second, "d", nearest)
    if second < band:
        what = "the band would come after the switch"
        nearest = f"a band day from {_up(today)} to {second:g} d, or a later second stage"
        _refuse(what, "band_after_switch", "band", band, "d", nearest)


def _up(age: float) -> str:
    return f"{math.ceil(10.0 * age) / 10.0:g}"


def _refuse(what: str, code: str, where: str, value: object, unit: str, remedy: str) -> NoReturn:
    raise RouteNotPossible(what, code=code, where=where, value=value, unit=unit, remedy=remedy)
