"""Body surface by five published formulas; the formula travels with the number."""

from __future__ import annotations

from enum import StrEnum
from math import log10, sqrt

from inseries.base.errors import NormsError


class SurfaceFormula(StrEnum):
    """Which formula a body surface was computed by."""

    HAYCOCK = "haycock"
    MOSTELLER = "mosteller"
    DU_BOIS = "du-bois"
    BOYD = "boyd"
    GEHAN_GEORGE = "gehan-george"


def body_surface_m2(weight_kg: float, length_cm: float, formula: str = "haycock") -> float:
    """Body surface area.

    Parameters
    ----------
    weight_kg : float, kg
    length_cm : float, cm
    formula : str, one of ``SurfaceFormula``. Haycock fits the young best (cantinotti2014);
        Du Bois is 7 % below it at birth, so an index is only comparable with its formula named

    Returns
    -------
    float, m². *Source* haycock1978, mosteller1987, dubois1916, boyd1935, gehan_george1970. Boyd's
    constant is 0.0003207 for grams; the DICOM dictionary prints it ten times too large

    Raises
    ------
    NormsError, code ``not_positive`` or ``formula_unknown``
    """
    if not (weight_kg > 0.0 and length_cm > 0.0):
        raise NormsError(
            "weight and length are above zero",
            code="not_positive",
            where="body surface",
            value=min(weight_kg, length_cm),
            remedy="measured weight in kg and length in cm.",
        )
    match _formula(formula):
        case SurfaceFormula.HAYCOCK:
            return 0.024265 * weight_kg**0.5378 * length_cm**0.3964
        case SurfaceFormula.MOSTELLER:
            return sqrt(weight_kg * length_cm / 3600.0)
        case SurfaceFormula.DU_BOIS:
            return 0.007184 * weight_kg**0.425 * length_cm**0.725
        case SurfaceFormula.BOYD:
            grams = 1000.0 * weight_kg
            return 0.0003207 * grams ** (0.7285 - 0.0188 * log10(grams)) * length_cm**0.3
        case SurfaceFormula.GEHAN_GEORGE:
            return 0.0235 * weight_kg**0.51456 * length_cm**0.42246


def _formula(name: str) -> SurfaceFormula:
    try:
        return SurfaceFormula(name)
    except ValueError:
        raise NormsError(
            "no body surface formula of this name",
            code="formula_unknown",
            where="body surface",
            value=name,
            remedy=", ".join(SurfaceFormula) + ".",
        ) from None
