"""What is known of one baby over time: size, blood, openings, as functions of age."""

from __future__ import annotations

import math
from bisect import bisect_right
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable


@dataclass(frozen=True, slots=True, kw_only=True)
class Track:
    """A quantity over age, straight between its points, flat before and after.

    Parameters
    ----------
    ages_days, values : points, ages ascending; a repeated age is a jump
    """

    ages_days: tuple[float, ...]
    values: tuple[float, ...]

    def __call__(self, age_days: float) -> float:
        """Value at an age; at a jump, the later one."""
        after = bisect_right(self.ages_days, age_days)
        if after == 0:
            return self.values[0]
        if after == len(self.ages_days):
            return self.values[-1]
        left, right = self.ages_days[after - 1], self.ages_days[after]
        share = (age_days - left) / (right - left)
        return self.values[after - 1] + share * (self.values[after] - self.values[after - 1])


def constant(value: float) -> Track:
    """A quantity that does not change."""
    return Track(ages_days=(0.0,), values=(value,))


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """A quantity over age that is another between two ages, the first included."""

    base: Callable[[float], float]
    other: Callable[[float], float]
    start_days: float
    end_days: float = math.inf

    def __call__(self, age_days: float) -> float:
        """Value at an age."""
        inside = self.start_days <= age_days < self.end_days
        return self.other(age_days) if inside else self.base(age_days)


# derived: nothing there, and nothing changed
NONE, UNCHANGED = constant(0.0), constant(1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Story:
    """One baby's outward course.

    Parameters
    ----------
    weight_kg, surface_m2 : body size by age
    heart_rate_per_min, haemoglobin_g_dl, consumption_ml_min_kg : by age
    fetal_share : fetal over all haemoglobin, by age
    inspired_fraction, carbon_dioxide_mmhg, ph : inspired oxygen and arterial blood, by age
    duct_mm : diameter of the arterial duct by age, 0 closed
    foramen_mm, tear_mm : atrial defect by echo before and after septostomy; None not measured
    septostomy_day : age at septostomy, or None
    torn_again : age at a second septostomy and the diameter it leaves, or None
    ventricular_mm : diameter of a ventricular defect, 0 none
    outflow : ``open``, ``dynamic``, ``fixed`` or ``valvar``; None when nobody looked
    narrowing_mm : diameter of a dynamic narrowing that comes on in an open left outflow, 0 none
    band_mm, shunt_mm, support_l_min_m2 : lumen that a band leaves, diameter of a
        systemic-to-pulmonary shunt, flow of mechanical support, by age; 0 none
    lung_factor, strength_factor : what oxygen does to lung resistance and an inotrope to both
        ventricles, by age
    switch_day, atrial_switch_day : age at that operation, or None
    haemoglobin_measured : whether the track was read, not usual
    breaks_days : ages at which something changes at once
    topology : ``parallel`` or ``normal``
    """

    weight_kg: Callable[[float], float]
    surface_m2: Callable[[float], float]
    heart_rate_per_min: Callable[[float], float]
    haemoglobin_g_dl: Callable[[float], float]
    consumption_ml_min_kg: Callable[[float], float]
    fetal_share: Callable[[float], float]
    inspired_fraction: Callable[[float], float]
    carbon_dioxide_mmhg: Callable[[float], float]
    ph: Callable[[float], float]
    duct_mm: Callable[[float], float]
    foramen_mm: float | None = None
    tear_mm: float | None = None
    septostomy_day: float | None = None
    torn_again: tuple[float, float] | None = None
    ventricular_mm: float = 0.0
    outflow: str | None = "open"
    narrowing_mm: Callable[[float], float] = NONE
    band_mm: Callable[[float], float] = NONE
    shunt_mm: Callable[[float], float] = NONE
    support_l_min_m2: Callable[[float], float] = NONE
    lung_factor: Callable[[float], float] = UNCHANGED
    strength_factor: Callable[[float], float] = UNCHANGED
    switch_day: float | None = None
    atrial_switch_day: float | None = None
    haemoglobin_measured: bool = False
    breaks_days: tuple[float, ...] = ()
    topology: str = "parallel"

    def route_at(self, age_days: float) -> str:
        """The topology at an age: as born, ``repaired`` or ``atrial_switched``."""
        for day, topology in (
            (self.switch_day, "repaired"),
            (self.atrial_switch_day, "atrial_switched"),
        ):
            if day is not None and age_days >= day:
                return topology
        return self.topology

    @property
    def outflow_yields(self) -> bool:
        """Whether a switch leaves no narrowing in the left outflow; fixed and valvar ones stay."""
        return self.outflow in ("dynamic", "open", None)
