"""What a picture is told: plain frozen records of words and numbers, nothing else.

A view has no method that computes and knows no circuit. Whoever fills it has already rounded,
weighed and named; whoever draws it only places.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Topology = Literal["parallel", "series"]
Site = Literal["atrial", "ventricular", "ductal"]
StationCode = Literal["SV", "RA", "RV", "AoU", "AoD", "PA", "PV", "LA", "LV"]
TierName = Literal["survivable", "comfortable"]
MarkKind = Literal["reading", "event"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """One place along the loops.

    Attributes
    ----------
    name : str, what is printed, such as ``"right atrium"``
    code : str, one of SV (body veins) RA RV AoU (aorta: arms, head) AoD (aorta: legs) PA PV LA LV
    saturation_pct : float, %
    pressure_text : str, mmHg, such as ``"68/44 (53)"`` or ``"6"``; empty when not known
    """

    name: str
    code: StationCode
    saturation_pct: float
    pressure_text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """One opening through which the two sides exchange blood.

    *Left* is whatever the left ventricle fills. So left to right is left atrium to right atrium,
    left ventricle to right ventricle, and at the duct: lung artery to aorta in the parallel
    topology, aorta to lung artery in the series topology. The picture writes the places, not
    the sides.

    Attributes
    ----------
    site : str, ``"atrial"``, ``"ventricular"`` or ``"ductal"``
    size_mm : float or None, mm, diameter
    left_to_right_ml_min_kg : float, mL/min/kg, forward part of the flow through the opening
    right_to_left_ml_min_kg : float, mL/min/kg, the other way within the same beat
    note : str, such as ``"tight"``; may be empty
    eddy_ml_min_kg : float, mL/min/kg, mixing in each direction that carries no net flow
    """

    site: Site
    size_mm: float | None
    left_to_right_ml_min_kg: float
    right_to_left_ml_min_kg: float
    note: str
    eddy_ml_min_kg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LoopsView:
    """The body loop and the lung loop of one baby at one age.

    Attributes
    ----------
    title : str
    topology : str, ``"parallel"`` (each loop closes on itself) or ``"series"`` (one ring)
    stations : tuple of Station, each code at most once
    crossings : tuple of Crossing, each site at most once; absent when closed
    body_flow_ml_min_kg, lung_flow_ml_min_kg : float, mL/min/kg, through the tissue of each loop
    effective_flow_ml_min_kg : float, mL/min/kg, lung blood that reaches the body's tissue
    upper_saturation_pct, lower_saturation_pct : float, %, above and below the duct
    sentence : str, what the picture says, for readers who hear it too
    figure_id : str, prefix of every id in the SVG
    upper_flow_ml_min_kg : float or None, mL/min/kg, part of the body flow to arms and head;
        None draws the two branches equally wide and says so
    """

    title: str
    topology: Topology
    stations: tuple[Station, ...]
    crossings: tuple[Crossing, ...]
    body_flow_ml_min_kg: float
    lung_flow_ml_min_kg: float
    effective_flow_ml_min_kg: float
    upper_saturation_pct: float
    lower_saturation_pct: float
    sentence: str
    figure_id: str
    upper_flow_ml_min_kg: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tier:
    """One of the two answers to "would the left ventricle carry the body?", per day.

    Attributes
    ----------
    name : str, ``"survivable"`` or ``"comfortable"``
    chance, low, high : tuple of float, shape (n_days,), fractions 0 to 1; 90 % interval
    meaning : str, a few words printed under the name; may be empty
    """

    name: TierName
    chance: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    meaning: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LawLine:
    """The mean survivable chance per day of the draws that follow one growth law.

    Attributes
    ----------
    name : str, as printed
    chance : tuple of float, shape (n_days,), fractions 0 to 1
    """

    name: str
    chance: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedSpan:
    """The ages of a published series: other babies, their own denominator.

    Attributes
    ----------
    label : str, who and how many, such as ``"switch after day 21, n = 40"``
    low_day, high_day : float, days of age; None where no upper one was read
    source_text : str, what they report and where
    """

    label: str
    low_day: float
    high_day: float | None
    source_text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A reading or an event on the age axis, at ``day`` days of age."""

    day: float
    label: str
    kind: MarkKind


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowView:
    """The window: chance per age at switch, with everything it must never appear without.

    Attributes
    ----------
    title : str
    days : tuple of float, shape (n_days,), days of age, rising
    tiers : tuple of Tier, each with n_days values
    horizon_day : float, days of age, the last day computed
    marks : tuple of Mark
    published : tuple of PublishedSpan
    cost_lines : tuple of str, the published cost of waiting; must not be empty
    sentence : str
    figure_id : str, prefix of every id in the SVG
    laws : tuple of LawLine, each with n_days values; may be empty
    limiting : tuple of str, by what most failing operations fail on each day; may be empty
    """

    title: str
    days: tuple[float, ...]
    tiers: tuple[Tier, ...]
    horizon_day: float
    marks: tuple[Mark, ...]
    published: tuple[PublishedSpan, ...]
    cost_lines: tuple[str, ...]
    sentence: str
    figure_id: str
    laws: tuple[LawLine, ...] = ()
    limiting: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """One value seen at ``day`` days of age, with the method's short name."""

    day: float
    value: float
    method: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseLine:
    """One quantity of the left ventricle over age.

    Attributes
    ----------
    name : str, such as ``"LV mass"``
    unit : str, as printed
    value, low, high : tuple of float, shape (n_days,), in ``unit``; 90 % interval
    measured : tuple of Measured, in ``unit``
    """

    name: str
    unit: str
    value: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    measured: tuple[Measured, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class VentricleView:
    """The left ventricle over age, as small pictures side by side.

    Attributes
    ----------
    title : str
    days : tuple of float, shape (n_days,), days of age, rising
    lines : tuple of CourseLine, each with n_days values
    today_day : float, days of age; before it readings, after it simulation
    sentence : str
    figure_id : str, prefix of every id in the SVG
    """

    title: str
    days: tuple[float, ...]
    lines: tuple[CourseLine, ...]
    today_day: float
    sentence: str
    figure_id: str
