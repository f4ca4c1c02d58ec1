"""Z-scores of the heart's sizes, each against a reference made with the same method."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches

from inseries.base.errors import NormsError
from inseries.norms.tables import age_outside, number, real, rows

ECHO_TABLE = "phn2017.toml"
CMR_TABLE = "newborn_cmr.toml"

# chosen: wider than any healthy child of the reference; it keeps grams and centimetres out
SURFACE_RANGE_M2 = (0.12, 2.6)
CMR_LAST_DAY = 7.0  # published: jhaveri2023, all within the first week


@dataclass(frozen=True, slots=True, kw_only=True)
class ZScore:
    """A Z-score with the reference and the method it belongs to.

    Parameters
    ----------
    z : float, deviations from the reference mean
    item : str, what was measured
    method : str, ``"echo-2d"``, ``"echo-m-mode"`` or ``"cmr"``
    reference_key : str, bibliography key
    expected, sd : float, reference mean and deviation for this child, in ``unit``
    unit : str, UCUM
    """

    z: float
    item: str
    method: str
    reference_key: str
    expected: float
    sd: float
    unit: str


def echo_z(item: str, value: float, body_surface_m2: float, method: str = "echo-2d") -> ZScore:
    """Z-score of an echo measurement.

    Parameters
    ----------
    item : str, with its unit, such as ``"lv_mass_g"`` or ``"pulmonary_annulus_mm"``. A valve that
        is to become the body's may be scored against ``"aortic_annulus_mm"``: say so, since the
        normal pulmonary annulus is already about +3 there on the day of birth
    value : float, in the item's unit
    body_surface_m2 : float, m², by Haycock, as the reference's
    method : str, ``"echo-2d"``; ``"echo-m-mode"`` only for walls, septum and cavity diameter

    Returns
    -------
    ZScore by the first reference alone. *Holds* from birth to 18 years. *Source* lopez2017; what
    others say is in ``size_scores``

    Raises
    ------
    NormsError, code ``item_unknown``, ``other_method`` or ``surface_outside``
    """
    row = _row(ECHO_TABLE, item)
    _same_method(item, method, ("echo-2d", "echo-m-mode") if row["m_mode"] else ("echo-2d",))
    low, high = SURFACE_RANGE_M2
    if not low <= body_surface_m2 <= high:
        raise NormsError(
            "this body surface is no child's",
            code="surface_outside",
            where=item,
            value=body_surface_m2,
            unit="m2",
            remedy=f"{low:g} to {high:g} m2, by Haycock.",
        )
    scale = body_surface_m2 ** real(row, "exponent")
    return _score(row, item=item, value=value, scale=scale, method=method)


def newborn_cmr_z(item: str, indexed_value: float, age_days: float, method: str = "cmr") -> ZScore:
    """Z-score of an indexed CMR measurement in the first week of life.

    Parameters
    ----------
    item : str, with its unit, such as ``"lv_mass_g_m2"``, ``"lv_edv_ml_m2"`` or ``"lv_ef_pct"``
    indexed_value : float, in the item's unit, per body surface
    age_days : float, days, 0 to 7
    method : str, ``"cmr"``

    Returns
    -------
    ZScore. *Holds* in the first week, at term; 20 newborns. *Source* jhaveri2023

    Raises
    ------
    NormsError, code ``item_unknown``, ``other_method`` or ``age_outside_table``
    """
    row = _row(CMR_TABLE, item)
    _same_method(item, method, ("cmr",))
    if not 0.0 <= age_days <= CMR_LAST_DAY:
        raise age_outside("newborn CMR", age_days, 0.0, CMR_LAST_DAY)
    return _score(row, item=item, value=indexed_value, scale=1.0, method=method)


def echo_items() -> tuple[str, ...]:
    """Names of all items that have an echo reference."""
    return tuple(rows(ECHO_TABLE))


def cmr_items() -> tuple[str, ...]:
    """Names of all items that have a newborn CMR reference."""
    return tuple(rows(CMR_TABLE))


def _score(row: dict[str, object], *, item: str, value: float, scale: float, method: str) -> ZScore:
    reference = number(row)
    sd = real(row, "sd")
    return ZScore(
        z=(value / scale - reference.value) / sd,
        item=item,
        method=method,
        reference_key=reference.because,
        expected=reference.value * scale,
        sd=sd * scale,
        unit=reference.unit,
    )


def _row(table: str, item: str) -> dict[str, object]:
    known = rows(table)
    if item in known:
        return known[item]
    near = get_close_matches(item, known, n=1)
    raise NormsError(
        "no reference for this item",
        code="item_unknown",
        where="Z-score",
        value=item,
        remedy=f"{near[0]}." if near else "one of " + ", ".join(known) + ".",
    )


def _same_method(item: str, method: str, allowed: tuple[str, ...]) -> None:
    if method not in allowed:
        raise NormsError(
            "a Z-score needs a reference made with the same method",
            code="other_method",
            where=item,
            value=method,
            remedy=f"a value by {' or '.join(allowed)}, or no Z-score.",
        )
