"""One measurement of one child against every reference that holds for it, shown together."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from inseries.base.errors import NormsError
from inseries.norms.body import DAYS_PER_YEAR, body_at
from inseries.norms.lms import known_sex
from inseries.norms.size_forms import Build, Normal, normal
from inseries.norms.size_references import Reference, references_for
from inseries.norms.surface import SurfaceFormula, body_surface_m2

if TYPE_CHECKING:
    from inseries.norms.lms import Sex

# chosen: a body surface beyond these shares of the usual one for the age is a slip of digit or
# unit; the smallest survivors of extreme prematurity and very heavy children lie inside
LOW_SHARE_FIRST_YEAR, LOW_SHARE, HIGH_SHARE = 0.17, 0.27, 2.5
SECOND_HAND = "its coefficients were read in an open calculator, not in the paper"
NO_SPREAD = "its spread was not read"


@dataclass(frozen=True, slots=True, kw_only=True)
class Child:
    """Whom a size is scored for.

    Parameters
    ----------
    weight_kg, length_cm : float
    age_days : float, days
    sex : ``"female"``, ``"male"`` or None where not stated
    """

    weight_kg: float
    length_cm: float
    age_days: float
    sex: Sex | None = None

    @property
    def age_years(self) -> float:
        """Age in years of 365.25 days."""
        return self.age_days / DAYS_PER_YEAR

    def surface_m2(self, formula: str = "haycock") -> float:
        """Body surface by one formula, m², refused where no child of this age has it."""
        return plausible_surface_m2(
            body_surface_m2(self.weight_kg, self.length_cm, formula), self.age_days
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Score:
    """One reference's answer.

    Parameters
    ----------
    reference : Reference
    z : float or None, deviations from what is usual; None where the reference has no spread
    expected : float or None, in the item's unit; None where it only gives an upper limit
    low, high : float or None, two deviations to either side; a limit is in ``high`` alone
    surface_m2 : float or None, by the reference's own formula
    notes : tuple of str, what has to be said beside it
    """

    reference: Reference
    z: float | None
    expected: float | None
    low: float | None
    high: float | None
    surface_m2: float | None
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NotHeld:
    """A reference of the same item that does not hold here, and why, with what to try."""

    reference: Reference
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Scores:
    """All answers for one measurement, and the references that gave none.

    Parameters
    ----------
    item : str
    value : float, in the item's unit
    held : tuple of Score, the default reference first
    not_held : tuple of NotHeld
    """

    item: str
    value: float
    held: tuple[Score, ...]
    not_held: tuple[NotHeld, ...]

    @property
    def z_range(self) -> tuple[float, float] | None:
        """Lowest and highest Z of the references that hold."""
        found = [score.z for score in self.held if score.z is not None]
        return (min(found), max(found)) if found else None


def scores(item: str, value: float, child: Child, method: str = "echo-2d") -> Scores:
    """One measurement against every reference of its item.

    Parameters
    ----------
    item : str, with its unit, such as ``"pulmonary_annulus_mm"``
    value : float, in that unit
    child : Child; each reference gets body surface by the formula it was made with
    method : str, how it was measured; a reference made with another method gives no Z

    Returns
    -------
    Scores; references that disagree stand beside one another and are never averaged

    Raises
    ------
    NormsError, code ``item_unknown``, ``not_positive``, or ``surface_outside`` where no child of
    this age has such a body surface
    """
    if value <= 0.0:
        raise _not_positive(item, value)
    child.surface_m2()
    held: list[Score] = []
    without: list[NotHeld] = []
    for reference in _of_sex(item, child.sex):
        why = _why_not(reference, child, method)
        if why:
            without.append(NotHeld(reference=reference, why=why))
        else:
            held.append(_score(reference, value, child))
    return Scores(item=item, value=value, held=tuple(held), not_held=tuple(without))


def usual(item: str, child: Child, method: str = "echo-2d") -> tuple[Score, ...]:
    """What each reference that holds calls usual for a child, without a measurement.

    Parameters
    ----------
    item, child, method : as of ``scores``

    Returns
    -------
    tuple of Score, ``z`` None
    """
    fitting = [each for each in _of_sex(item, child.sex) if not _why_not(each, child, method)]
    return tuple(_score(each, None, child) for each in fitting)


def z_by_surface(
    reference: Reference, value: float, *, surface_m2: float, formula: str, age_years: float
) -> float | None:
    """Z from a body surface that is given, refused where it is by another formula.

    Parameters
    ----------
    reference : Reference that asks for body surface
    value : float, in the item's unit
    surface_m2 : float, m²
    formula : str, the formula it was computed by
    age_years : float, years

    Returns
    -------
    float or None, where the reference has no spread

    Raises
    ------
    NormsError, code ``other_surface_formula``: at birth Du Bois lies 7 % below Haycock, which is a
    quarter of a deviation of an annulus
    """
    wanted = reference.made.surface if reference.asks_surface else None
    if wanted is None or SurfaceFormula(formula) is not wanted:
        raise NormsError(
            "this reference was made with body surface by another formula",
            code="other_surface_formula",
            where=reference.item,
            value=formula,
            remedy=f"body surface by {wanted}." if wanted else "weight, length and sex.",
        )
    plausible_surface_m2(surface_m2, age_years * DAYS_PER_YEAR)
    build = Build(surface_m2=surface_m2, length_cm=0.0, age_years=age_years)
    return _normal(reference, build).z(value)


def plausible_surface_m2(surface_m2: float, age_days: float) -> float:
    """A body surface that a child of this age may have; any other is refused.

    Parameters
    ----------
    surface_m2 : float, m²
    age_days : float, days

    Returns
    -------
    float, m², as given

    Raises
    ------
    NormsError, code ``surface_outside`` or ``age_outside_table``
    """
    low, high = _surface_limits(age_days / DAYS_PER_YEAR)
    if low <= surface_m2 <= high:
        return surface_m2
    raise NormsError(
        "no child of this age has this body surface",
        code="surface_outside",
        where="body surface",
        value=round(surface_m2, 3),
        unit="m2",
        remedy=f"{low:.2g} to {high:.2g} m2 at this age: check weight in kg and length in cm.",
    )


@cache
def _surface_limits(age_years: float) -> tuple[float, float]:
    both = [body_at(sex, age_years).surface_m2 for sex in ("female", "male")]
    low = LOW_SHARE_FIRST_YEAR if age_years < 1.0 else LOW_SHARE
    return low * min(both), HIGH_SHARE * max(both)


def _of_sex(item: str, sex: Sex | None) -> list[Reference]:
    if sex is not None:
        known_sex(sex)
    # Where sex is not stated, the rows for girls stand for both: they say why they give no answer.
    return [each for each in references_for(item) if each.sex in {None, sex or "female"}]


def _why_not(reference: Reference, child: Child, method: str) -> str:
    """Why a reference gives no answer, with what to try; empty where it does."""
    made = reference.made
    if method not in reference.methods:
        return f"made by {' or '.join(reference.methods)}, not {method}"
    if reference.sex is not None and child.sex is None:
        return "made for each sex apart, and sex is not stated"
    low, high = made.ages
    if not low <= child.age_years <= reference.last_year:
        return f"made from {low:g} to {high:g} years"
    if made.length_cm and not made.length_cm[0] <= child.length_cm < made.length_cm[1]:
        return f"made from {made.length_cm[0]:g} to {made.length_cm[1]:g} cm of length"
    if made.weight_kg and not made.weight_kg[0] <= child.weight_kg <= made.weight_kg[1]:
        return f"made from {made.weight_kg[0]:g} to {made.weight_kg[1]:g} kg"
    return _why_not_by_surface(reference, child)


def _why_not_by_surface(reference: Reference, child: Child) -> str:
    made = reference.made
    if made.surface is None or made.surface_m2 is None:
        return ""
    low, high = made.surface_m2
    if low <= child.surface_m2(made.surface) <= high:
        return ""
    return f"made from {low:g} to {high:g} m² by {made.surface}"


def _score(reference: Reference, value: float | None, child: Child) -> Score:
    made = reference.made
    surface = child.surface_m2(made.surface) if made.surface and reference.asks_surface else None
    build = Build(
        surface_m2=surface or child.surface_m2(),
        length_cm=child.length_cm,
        age_years=child.age_years,
        weight_kg=child.weight_kg,
    )
    curve = _normal(reference, build)
    limit = reference.form == "limit"
    even = curve.spread is not None
    return Score(
        reference=reference,
        z=None if value is None or limit else curve.z(value),
        expected=None if limit else curve.value(0.0),
        low=curve.value(-2.0) if even else None,
        high=curve.value(2.0) if even or limit else None,
        surface_m2=surface,
        notes=_notes(reference, child),
    )


def _normal(reference: Reference, build: Build) -> Normal:
    return normal(
        reference.form, reference.coefficients, reference.sd, build, reference.unit_factor
    )


def _notes(reference: Reference, child: Child) -> tuple[str, ...]:
    made = reference.made
    found: list[str] = []
    if child.age_years > made.ages[1]:
        found.append(f"past the {made.ages[1]:g} years it was made to, for the hand-over only")
    if reference.asks_surface and not made.surface_read:
        found.append("its body surface formula was not read; Haycock taken")
    if made.second_hand:
        found.append(SECOND_HAND)
    if reference.form == "limit":
        found.append("an upper limit, no Z")
    elif not reference.sd:
        found.append(NO_SPREAD)
    return tuple(found)


def _not_positive(item: str, value: float) -> NormsError:
    return NormsError(
        "a size is above zero",
        code="not_positive",
        where=item,
        value=value,
        remedy="the measured value.",
    )
