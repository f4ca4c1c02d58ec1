"""From a case to what a repair is planned from: sizes and how each is known, roots, pattern."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from inseries.base.errors import CaseError, RouteNotPossible
from inseries.base.findings import Estimate
from inseries.case.keys import keys
from inseries.desk.repair_openings import opened
from inseries.norms.body import DAYS_PER_YEAR, body_at
from inseries.norms.surface import body_surface_m2
from inseries.norms.zscores import echo_z
from inseries.outlook.numbers import draw as outlook_draw
from inseries.outlook.numbers import number as outlook_number
from inseries.outlook.site import ROOT_SD_SHARE
from inseries.prior.from_case import growth_sex
from inseries.repair import (
    Doubt,
    LungArtery,
    Pattern,
    TwoRoots,
    Way,
    join,
    number,
    plausible_readings,
    read_pattern,
    spread,
    two_roots,
    usual_lung_artery,
)

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.case import Case
    from inseries.case.record import Value
    from inseries.repair import Button

Basis = Literal["measured", "scaled from what was measured", "expected for this size", "chosen"]
# derived: nine tenths of a normal distribution lie within so many deviations
NINETY = 1.645
# chosen: sizes of the norms that a repair needs
NORMED = {
    "aortic_annulus_mm": "aortic annulus",
    "aortic_root_mm": "aortic root at the sinuses",
    "sinotubular_junction_mm": "aorta just above its sinuses",
    "ascending_aorta_mm": "ascending aorta",
    "pulmonary_annulus_mm": "pulmonary annulus",
    "pulmonary_trunk_mm": "lung artery trunk",
    "right_pulmonary_artery_mm": "right lung artery",
    "left_pulmonary_artery_mm": "left lung artery",
}
# what a size that was not measured is scaled from, in this order
SCALED_FROM = {
    "aortic_root_mm": ("aortic_annulus_mm",),
    "aortic_annulus_mm": ("aortic_root_mm",),
    "sinotubular_junction_mm": ("aortic_root_mm", "aortic_annulus_mm"),
    "ascending_aorta_mm": ("aortic_root_mm", "aortic_annulus_mm"),
    "pulmonary_root_mm": ("pulmonary_annulus_mm",),
    "pulmonary_annulus_mm": ("pulmonary_root_mm",),
    "pulmonary_trunk_mm": ("pulmonary_root_mm", "pulmonary_annulus_mm"),
    "right_pulmonary_artery_mm": ("left_pulmonary_artery_mm",),
    "left_pulmonary_artery_mm": ("right_pulmonary_artery_mm",),
}
# chosen: degrees beyond these are no position of the aorta
FARTHEST_DEG = 180.0


@dataclass(frozen=True, slots=True, kw_only=True)
class UsedSize:
    """One size that the repair starts from.

    Parameters
    ----------
    name, words : key and plain words
    mm : Estimate, with the 90 % interval of its error
    sd_mm : standard deviation of that error
    basis : how it is known
    from_what : method of a measurement, or what stands behind the rest
    age_days : of the measurement, None otherwise
    """

    name: str
    words: str
    mm: Estimate
    sd_mm: float
    basis: Basis
    from_what: str
    age_days: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What is planned.

    Parameters
    ----------
    surface_m2 : body surface
    sizes : by name
    lengths : of the lung artery and of the freed coronaries
    relation_deg : where the aorta lies; ``relation_said`` how that is known
    variants : roots with the weight of each: two where the side of a misalignment is not recorded
    pattern, certainty, weighed : as stated, and every reading of it with its weight
    intramural, height_mm : of the openings
    said : openings that were measured, angle from the front by artery
    lung : LungArtery, at its middle
    gap_mm : measured at the table, None where computed
    doubt : Doubt
    """

    surface_m2: float
    sizes: dict[str, UsedSize]
    lengths: tuple[UsedSize, ...]
    relation_deg: float
    relation_said: str
    variants: tuple[tuple[TwoRoots, float], ...]
    pattern: Pattern
    certainty: str | None
    weighed: tuple[tuple[Pattern, float], ...]
    intramural: bool
    height_mm: float
    height_said: str
    said: Mapping[str, float]
    lung: LungArtery
    gap_mm: float | None
    doubt: Doubt

    @property
    def roots(self) -> TwoRoots:
        """The first of the roots."""
        return self.variants[0][0]

    def buttons(self, pattern: Pattern, roots: TwoRoots) -> tuple[Button, ...]:
        """The buttons of a pattern on some roots, in the places that were measured if any."""
        return opened(
            pattern,
            roots,
            said=self.said,
            intramural=self.intramural,
            height_mm=self.height_mm,
        )


def plan_of(
    case: Case,
    *,
    coronary: str | None = None,
    opening: Mapping[str, float] | None = None,
    relation_deg: float | None = None,
    root_gap_mm: float | None = None,
    gap_mm: float | None = None,
) -> Plan:
    """What a repair is planned from.

    Parameters
    ----------
    case : the record
    coronary : Leiden code in place of the recorded one, as seen at the table
    opening : artery to degrees from the facing commissure into its own sinus
    relation_deg : where the aorta lies, 0 in front, positive to the right
    root_gap_mm : between the walls of the roots
    gap_mm : between the cut ends of the lung artery

    Raises
    ------
    CaseError, RouteNotPossible
    """
    stated, certainty = _pattern(case, coronary)
    surface = _surface(case)
    sizes = _sizes(case, surface)
    where, where_sd, said = _relation(case, relation_deg)
    variants = _variants(case, sizes, where, root_gap_mm)
    lung = _lung(case, sizes, surface)
    height, height_said = _height(case, variants[0][0])
    plan = Plan(
        surface_m2=surface,
        sizes=sizes,
        lengths=_lengths(case, lung),
        relation_deg=where,
        relation_said=said,
        variants=variants,
        pattern=read_pattern(stated),
        certainty=certainty,
        weighed=plausible_readings(stated, certainty),
        intramural=bool(case.anatomy.coronary_intramural),
        height_mm=height,
        height_said=height_said,
        said=dict(opening or {}),
        lung=lung,
        gap_mm=gap_mm,
        doubt=Doubt(
            new_share=_share(sizes["pulmonary_root_mm"]),
            old_share=_share(sizes["aortic_root_mm"]),
            angle_deg=number("angle_error"),
            relation_deg=where_sd,
        ),
    )
    # What cannot be is refused before anything is searched.
    plan.buttons(plan.pattern, plan.roots)
    join(lung, plan.roots, Way.LECOMPTE, measured_gap_mm=gap_mm)
    return plan


def _share(size: UsedSize) -> float:
    return size.sd_mm / size.mm.value


def _pattern(case: Case, coronary: str | None) -> tuple[str, str | None]:
    if coronary is not None:
        return coronary, "confirmed"
    if case.anatomy.coronary is None:
        raise CaseError(
            "no coronary pattern was recorded, and the buttons follow from it",
            code="no_coronary",
            where="anatomy: coronary",
            remedy='coronary = "1LCx-2R" in the case, or --coronary 1LCx-2R, with what was seen.',
        )
    return case.anatomy.coronary, case.anatomy.coronary_certainty


def _surface(case: Case) -> float:
    weight, length = case.latest("weight_kg"), case.latest("length_cm")
    usual = body_at(growth_sex(case), case.age_days / DAYS_PER_YEAR)
    return body_surface_m2(
        weight.number if weight else usual.weight_kg,
        length.number if length else usual.length_cm,
    )


def _sizes(case: Case, surface: float) -> dict[str, UsedSize]:
    usual = _usual(surface)
    seen = {name: case.latest(name) for name in usual if name in keys()}
    found = {name: _measured(value) for name, value in seen.items() if value is not None}
    return {name: found.get(name) or _unmeasured(name, usual, found) for name in usual}


def _usual(surface: float) -> dict[str, tuple[str, float, float]]:
    """Words, usual size and its spread by name; the pulmonary root by the aortic table."""
    table = {
        name: (words, score.expected, score.sd)
        for name, words in NORMED.items()
        for score in (echo_z(name, 1.0, surface),)
    }
    root = table["aortic_root_mm"][1]
    sd, middle = root * ROOT_SD_SHARE, outlook_number("root_start_z")
    table["pulmonary_root_mm"] = (
        "pulmonary root at the sinuses",
        root + middle * sd,
        (float(outlook_draw("root_start_z", np.ones(1))[0]) - middle) * sd,
    )
    return table


def _measured(value: Value) -> UsedSize:
    known = keys()[value.key]
    sd = known.error_of(value.number) if value.sd is None else value.sd
    return _size(
        value.key,
        known.word,
        value.number,
        sd,
        basis="measured",
        from_what=f"{value.method or 'method not stated'}, SD {sd:.2g} mm"
        + ("" if value.sd is not None else " (usual error)"),
        age_days=value.age_days,
    )


def _unmeasured(
    name: str, usual: dict[str, tuple[str, float, float]], found: dict[str, UsedSize]
) -> UsedSize:
    """Scaled from a neighbour that was measured, or expected for the body's size."""
    words, expected, spread_mm = usual[name]
    for source in SCALED_FROM.get(name, ()):
        if source in found:
            other = found[source]
            ratio = expected / usual[source][1]
            # chosen: what a neighbour tells halves the spread that is left
            sd = max(0.5 * spread_mm, ratio * other.sd_mm)
            told = f"{other.words} {other.mm.value:g} mm, by their usual ratio {ratio:.2f}"
            return _size(
                name,
                words,
                ratio * other.mm.value,
                sd,
                basis="scaled from what was measured",
                from_what=told,
            )
    told = "PHN 2017, by body surface"
    if name == "pulmonary_root_mm":
        told = "Z 1.6 of a new aortic root by the aortic table"
    return _size(name, words, expected, spread_mm, basis="expected for this size", from_what=told)


def _size(
    name: str,
    words: str,
    mm: float,
    sd: float,
    *,
    basis: Basis,
    from_what: str,
    age_days: float | None = None,
) -> UsedSize:
    return UsedSize(
        name=name,
        words=words,
        mm=Estimate(value=mm, unit="mm", low=max(0.1, mm - NINETY * sd), high=mm + NINETY * sd),
        sd_mm=sd,
        basis=basis,
        from_what=from_what,
        age_days=age_days,
    )


def _relation(case: Case, relation_deg: float | None) -> tuple[float, float, str]:
    """Where the aorta lies, its spread, and how that is known."""
    if relation_deg is not None:
        if not -FARTHEST_DEG <= relation_deg <= FARTHEST_DEG:
            raise RouteNotPossible(
                "this is no position of the aorta",
                code="relation_outside",
                where="relation of the great arteries",
                value=relation_deg,
                unit="deg",
                remedy="-180 to 180 degrees: 0 straight in front, 90 to the right.",
            )
        return relation_deg, number("angle_error"), "as measured"
    word = case.anatomy.great_arteries
    name = f"relation_{(word or 'anterior-right').replace('-', '_')}"
    sd = spread(name) or number("angle_error")
    said = f'recorded as "{word}"' if word else "not recorded: anterior-right is taken"
    return number(name), sd, f"{said}, {sd:g} degrees of doubt"


def _variants(
    case: Case, sizes: dict[str, UsedSize], relation_deg: float, root_gap_mm: float | None
) -> tuple[tuple[TwoRoots, float], ...]:
    """Roots with their weights; a misalignment is recorded without its side, so both are taken."""
    off = {
        "minor-misalignment": number("commissure_minor"),
        "major-misalignment": number("commissure_major"),
    }.get(case.anatomy.coronary_commissures or "", 0.0)
    sides = (off, -off) if off else (0.0,)
    return tuple(
        (
            two_roots(
                aortic_mm=sizes["aortic_root_mm"].mm.value,
                pulmonary_mm=sizes["pulmonary_root_mm"].mm.value,
                relation_deg=relation_deg,
                gap_mm=root_gap_mm,
                misaligned_deg=side,
            ),
            1.0 / len(sides),
        )
        for side in sides
    )


def _height(case: Case, roots: TwoRoots) -> tuple[float, str]:
    word = case.anatomy.coronary_height
    name = {"high": "ostium_height_high", "low": "ostium_height_low"}.get(
        word or "", "ostium_height_share"
    )
    said = f'recorded as "{word}"' if word else "not recorded: taken as usual"
    return number(name) * roots.aortic.junction_mm, said


# derived: body surface of the newborn that the lengths of the repair were chosen for, m²
NEWBORN_M2 = 0.2244


def _lung(case: Case, sizes: dict[str, UsedSize], surface: float) -> LungArtery:
    """Branches as measured; lengths of a larger body are longer; a measured trunk is used."""
    larger = (surface / NEWBORN_M2) ** 0.5
    right, left = (sizes[f"{side}_pulmonary_artery_mm"].mm.value for side in ("right", "left"))
    usual = usual_lung_artery((right + left) / 2.0)
    trunk = case.latest("pulmonary_trunk_length_mm")
    kept = usual.trunk_mm * larger
    if trunk is not None:
        stays = number("sinus_height_share") * sizes["pulmonary_root_mm"].mm.value
        kept = max(0.0, trunk.number - stays)
    return LungArtery(
        branch_mm=usual.branch_mm * larger,
        hilar_mm=usual.hilar_mm * larger,
        mobilisation=usual.mobilisation,
        resected_mm=usual.resected_mm * larger,
        trunk_mm=kept,
        branch_diameter_mm=usual.branch_diameter_mm,
    )


def _lengths(case: Case, lung: LungArtery) -> tuple[UsedSize, ...]:
    """Lengths that are measured at most in part."""
    trunk = case.latest("pulmonary_trunk_length_mm")
    chosen = (
        ("branch_length_mm", "branch of the lung artery freed to its hilum", "branch_length"),
        ("hilar_width_mm", "from hilum to hilum", "hilar_width"),
        ("resected_mm", "wall lost with buttons and cut ends", "resected"),
        ("mobilised_mm", "first course of a coronary that is freed", "mobilised"),
    )
    middles = (lung.branch_mm, lung.hilar_mm, lung.resected_mm, number("mobilised"))
    found = [
        _size(
            name,
            words,
            middle,
            spread(row) / number(row) * middle,
            basis="chosen",
            from_what="no measurement in newborns found",
        )
        for (name, words, row), middle in zip(chosen, middles, strict=True)
    ]
    if trunk is not None:
        found.append(_measured(trunk))
        return tuple(found)
    left = _size(
        "trunk_left_mm",
        "lung artery trunk left on the branches",
        lung.trunk_mm,
        spread("trunk_left"),
        basis="chosen",
        from_what="no measurement in newborns found",
    )
    return (*found, left)
