"""What was seen of one baby, as frozen records: ages, never dates, once read.

``Case.born`` exists only so that the reader can turn times into ages; nothing prints it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime


class Sex(StrEnum):
    """Sex for the growth standard."""

    FEMALE = "female"
    MALE = "male"


class Method(StrEnum):
    """How a value came about."""

    ECHO_2D = "echo-2d"
    ECHO_3D = "echo-3d"
    ECHO_M_MODE = "echo-m-mode"
    ECHO_DOPPLER = "echo-doppler"
    CMR = "cmr"
    CT = "ct"
    CATHETER = "catheter"
    ANGIOGRAPHY = "angiography"
    SURGICAL_VIEW = "surgical-view"
    ARTERIAL_LINE = "arterial-line"
    CUFF = "cuff"
    OXIMETER = "oximeter"
    MONITOR = "monitor"
    LABORATORY = "laboratory"
    CO_OXIMETER = "co-oximeter"
    CALCULATED = "calculated"
    CALORIMETRY = "calorimetry"
    SCALE = "scale"
    TAPE = "tape"
    CHART = "chart"
    CLINICAL_ESTIMATE = "clinical-estimate"


class EventKind(StrEnum):
    """What was done, or happened."""

    SEPTOSTOMY = "septostomy"
    PROSTAGLANDIN_START = "prostaglandin_start"
    PROSTAGLANDIN_STOP = "prostaglandin_stop"
    DUCT_CLOSED = "duct_closed"
    DUCT_STENT = "duct_stent"
    SHUNT = "shunt"
    BAND = "band"
    SWITCH = "switch"
    ATRIAL_SWITCH = "atrial_switch"
    MECHANICAL_SUPPORT = "mechanical_support"
    REINTERVENTION = "reintervention"
    RELEASED = "released"


class Septum(StrEnum):
    """Ventricular septum."""

    INTACT = "intact"
    VSD = "vsd"


class LvOutflow(StrEnum):
    """Left ventricular outflow; ``dynamic`` yields when the septum moves back."""

    OPEN = "open"
    DYNAMIC = "dynamic"
    FIXED = "fixed"
    VALVAR = "valvar"


@dataclass(frozen=True, slots=True, kw_only=True)
class Value:
    """One value: what, how much, in which unit, how it came about, how sure, when."""

    key: str
    value: float | str
    unit: str
    age_days: float
    method: Method | None = None
    sd: float | None = None
    source: str | None = None

    @property
    def number(self) -> float:
        """The value as a number; TypeError for a word such as ``flat``."""
        if isinstance(self.value, str):
            message = f"{self.key} is a word, not a number"
            raise TypeError(message)
        return self.value


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """Values taken at one time."""

    age_days: float
    values: tuple[Value, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Something done, or something that happened."""

    kind: EventKind
    age_days: float
    details: Mapping[str, float | str | tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Anatomy:
    """Anatomy in trade terms; None where it is not stated."""

    segments: str | None = None
    septum: Septum | None = None
    vsd_mm: float | None = None
    vsd_site: str | None = None
    great_arteries: str | None = None
    lv_outflow: LvOutflow | None = None
    pulmonary_valve: str | None = None
    arch: str | None = None
    coronary: str | None = None
    coronary_certainty: str | None = None
    coronary_intramural: bool | None = None
    coronary_height: str | None = None
    coronary_commissures: str | None = None
    coronary_transfer: str | None = None
    lung_vessels: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One baby: who, what anatomy, what was read when, what was done when.

    ``readings`` and ``events`` are in order of age. ``digest`` is the SHA-256 of what a
    calculation can see (ages, values, methods, anatomy, events), without label or dates.
    """

    id: str
    anatomy: Anatomy
    readings: tuple[Reading, ...]
    events: tuple[Event, ...]
    digest: str
    sex: Sex | None = None
    born: datetime | None = None
    gestation_weeks: float | None = None

    @property
    def age_days(self) -> float:
        """Age in days at the last reading or event; 0 where there is none."""
        ages = [item.age_days for item in (*self.readings, *self.events)]
        return max(ages, default=0.0)

    def all(self, key: str) -> tuple[Value, ...]:
        """Every value of one key, oldest first.

        Parameters
        ----------
        key : str, such as ``"lv_mass_g"``
        """
        return tuple(v for r in self.readings for v in r.values if v.key == key)

    def latest(self, key: str, at_age_days: float | None = None) -> Value | None:
        """Find the last value of one key, at or before an age in days where one is given."""
        seen = [v for v in self.all(key) if at_age_days is None or v.age_days <= at_age_days]
        return seen[-1] if seen else None

    def event(self, kind: str) -> Event | None:
        """Find the first event of a kind, or None."""
        return next((e for e in self.events if e.kind == kind), None)

    def events_of(self, kind: str) -> tuple[Event, ...]:
        """Every event of a kind, oldest first."""
        return tuple(e for e in self.events if e.kind == kind)
