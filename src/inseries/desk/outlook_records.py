"""What the verb ``outlook`` tells, as records."""

from __future__ import annotations

from collections.abc import Mapping  # noqa: TC003 - read by the schema at run time
from dataclasses import dataclass

from inseries.base.findings import Estimate  # noqa: TC001 - read by the schema at run time
from inseries.desk.published import (
    Published,  # noqa: TC001 - read by the schema at run time
    PublishedCurve,  # noqa: TC001 - read by the schema
)
from inseries.desk.suitability import Suitability  # noqa: TC001 - read by the schema
from inseries.desk.urgency import Urgency  # noqa: TC001 - read by the schema at run time
from inseries.draw.outlook_view import OutlookView  # noqa: TC001 - read by the schema


@dataclass(frozen=True, slots=True, kw_only=True)
class ByRepair:
    """One quantity under each of four repairs, by age: the middle of the draws and 90 %."""

    direct: tuple[Estimate, ...]
    autologous_fresh: tuple[Estimate, ...]
    autologous_fixed: tuple[Estimate, ...]
    xenograft_or_synthetic: tuple[Estimate, ...]

    def of(self, repair: str) -> tuple[Estimate, ...]:
        """The repair of that name."""
        found: tuple[Estimate, ...] = getattr(self, repair)
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairTold:
    """One repair: what closes the wall, how far that grows, on what evidence.

    Parameters
    ----------
    name, words : key and plain words
    patch_share : share of the girth that is patch, a fraction
    growth_fraction : 1 grows with the body, 0 keeps its size; None for native wall
    evidence, caution : with their small numbers
    why_this_spread : of the growth fraction
    sources : bibliography keys
    """

    name: str
    words: str
    patch_share: float
    growth_fraction: Estimate | None
    evidence: str
    caution: str
    why_this_spread: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Crosses:
    """Share of the draws that have been above a gradient by each age, fractions.

    Parameters
    ----------
    repair, limit_mmhg : which
    above_the_valve : at the repaired site
    site_or_branch : there or in a branch
    """

    repair: str
    limit_mmhg: float
    above_the_valve: tuple[float, ...]
    site_or_branch: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TensionTold:
    """What a direct join would be pulled by.

    Parameters
    ----------
    gap_mm : between the cut ends once the branches are freed; negative means slack
    stretch_pct : tied down, of the freed length
    branch_area_pct : of a branch bent over the aorta, of its round one
    pulled : share of the draws in which the ends do not meet, a fraction
    high_pulled, high_slack : share of those, and of the others, with more than 36 mmHg at the site
        or in a branch by 18 years
    """

    gap_mm: Estimate
    stretch_pct: Estimate
    branch_area_pct: Estimate
    pulled: float
    high_pulled: float
    high_slack: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RootTold:
    """The new aortic root by one published course of growth; courses are never averaged.

    Parameters
    ----------
    growth, words : key and plain words
    in_whom : population
    mm : by age
    wide : share of the draws that have been at Z 3 or more by the child's table, by age while it
        holds
    sources : bibliography keys
    """

    growth: str
    words: str
    in_whom: str
    mm: tuple[Estimate, ...]
    wide: tuple[float, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RootZ:
    """Z of the root by one course and one table, at the ages that the table holds."""

    growth: str
    reference: str
    ages_y: tuple[float, ...]
    z: tuple[Estimate, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CoronaryTold:
    """The left coronary opening at one age.

    Parameters
    ----------
    age_y : years
    narrowing_pct : of its usual diameter, by scar
    reserve : hyperaemic flow over flow at rest
    pressure_ratio : mean pressure beyond the opening over the aorta's, in hyperaemia
    reserve_below_2, pressure_below_0_80 : shares of the draws, fractions; limits made in adults
    """

    age_y: float
    narrowing_pct: Estimate
    reserve: Estimate
    pressure_ratio: Estimate
    reserve_below_2: float
    pressure_below_0_80: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NarrowingTold:
    """What a narrowing would leave of reserve at one age, over factors of hyperaemia."""

    age_y: float
    narrowing_pct: float
    reserve: Estimate
    pressure_ratio: Estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlookFindings:
    """What will grow and what will not, from the operation to forty years.

    Parameters
    ----------
    operation_days : age at the switch
    operated : whether the record has it already
    sex, size_z, size_measured : body, kept at that Z; whether it was weighed
    measured : sizes and later readings of this baby that were used
    ages_y : ages of every quantity by age, the first is the operation's
    circuit_ages_y, circuit_draws : ages and number of draws of the whole circuit
    surface_m2 : body surface by age
    tension : of a direct join
    site_mm, inert_pct : diameter above the valve, share of its girth that does not grow
    pulmonary_gradient_mmhg : peak gradient above the valve by the edge law
    branch_gradient_mmhg : the greater one of both branches
    valve_gradient_mmhg, below_valve_gradient_mmhg : under every repair alike
    catheter_gradient_mmhg, rv_systolic_mmhg, rv_lv_systolic_pressure_ratio, rv_mass_g_m2 : by the
        whole circuit at ``circuit_ages_y``
    root_mm, root_z : by published courses and by two tables
    leak : published only; nothing of it is simulated
    coronary_flow_reserve, coronary_by_narrowing : by the circuit's coronary bed
    published, published_rows : beside the simulation and no part of it
    effective_draws : draws that count once later readings are in, by repair and course of the root
    page : file that the printed page was written to, empty where none was asked for
    """

    operation_days: float
    operated: bool
    sex: str
    size_z: float
    size_measured: bool
    measured: tuple[str, ...]
    urgency: Urgency
    suitability: Suitability
    ages_y: tuple[float, ...]
    circuit_ages_y: tuple[float, ...]
    circuit_draws: int
    surface_m2: tuple[float, ...]
    repairs: tuple[RepairTold, ...]
    tension: TensionTold
    site_mm: ByRepair
    inert_pct: ByRepair
    pulmonary_gradient_mmhg: ByRepair
    branch_gradient_mmhg: ByRepair
    valve_gradient_mmhg: tuple[Estimate, ...]
    below_valve_gradient_mmhg: tuple[Estimate, ...]
    crosses: tuple[Crosses, ...]
    catheter_gradient_mmhg: ByRepair
    rv_systolic_mmhg: ByRepair
    rv_lv_systolic_pressure_ratio: ByRepair
    rv_mass_g_m2: ByRepair
    root_mm: tuple[RootTold, ...]
    root_z: tuple[RootZ, ...]
    leak: tuple[PublishedCurve, ...]
    coronary_flow_reserve: tuple[CoronaryTold, ...]
    coronary_by_narrowing: tuple[NarrowingTold, ...]
    published: tuple[PublishedCurve, ...]
    published_rows: tuple[Published, ...]
    effective_draws: Mapping[str, float]
    what: str
    why: str
    how_sure: str
    picture: OutlookView
    page: str = ""

    def place(self, year: float) -> int:
        """Place in ``ages_y`` of the age nearest to a year."""
        return min(range(len(self.ages_y)), key=lambda i: abs(self.ages_y[i] - year))

    @property
    def sentences(self) -> tuple[str, str, str]:
        """What, why, how sure."""
        return self.what, self.why, self.how_sure
