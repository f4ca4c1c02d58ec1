"""The one place where units are converted.

Inside: mmHg, mL, s, g, cm, days. Outside: UCUM. A unit knows what it measures and how many of
the inner unit it holds; converting between two that measure different things is refused.
"""

from __future__ import annotations

from dataclasses import dataclass

from inseries.base.errors import CaseError

# derived: 1 mm of conventional mercury, 13.5951 g/cm3 x 9.80665 m/s2 = 0.133322387 kPa
MMHG_PER_KPA = 1 / 0.133322387
# derived: 1 cm of conventional water, 1 g/cm3 x 9.80665 m/s2 = 0.0980665 kPa
MMHG_PER_CMH2O = 0.0980665 / 0.133322387
KDYN_CM2_PER_MMHG = 1.33322387  # derived: 1 kPa = 10 kdyn/cm2, so 10 x 0.133322387
# derived: molar mass of C3H6O3 from standard atomic weights
MG_DL_PER_MMOL_L_OF_LACTATE = 9.008


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """A unit: UCUM code, what it measures, and how many inner units one of it is."""

    ucum: str
    measures: str
    inner: float


def _unit(ucum: str, measures: str, inner: float) -> tuple[str, Unit]:
    return ucum, Unit(ucum=ucum, measures=measures, inner=inner)


# derived: powers of ten, 60 s, 24 h, 7 days, and the constants above
UNITS: dict[str, Unit] = dict(
    (
        _unit("mm[Hg]", "pressure", 1.0),
        _unit("kPa", "pressure", MMHG_PER_KPA),
        _unit("cm[H2O]", "pressure", MMHG_PER_CMH2O),
        _unit("kdyn/cm2", "pressure", 1 / KDYN_CM2_PER_MMHG),
        _unit("mL", "volume", 1.0),
        _unit("L", "volume", 1000.0),
        _unit("g", "mass", 1.0),
        _unit("kg", "mass", 1000.0),
        _unit("cm", "length", 1.0),
        _unit("mm", "length", 0.1),
        _unit("m", "length", 100.0),
        _unit("d", "time", 1.0),
        _unit("h", "time", 1 / 24),
        _unit("min", "time", 1 / 1440),
        _unit("wk", "time", 7.0),
        _unit("%", "share", 0.01),
        _unit("1", "share", 1.0),
        _unit("g/dL", "haemoglobin", 1.0),
        _unit("g/L", "haemoglobin", 0.1),
        _unit("mmol/L", "lactate", 1.0),
        _unit("mg/dL", "lactate", 1 / MG_DL_PER_MMOL_L_OF_LACTATE),
        _unit("mL/s", "flow", 1.0),
        _unit("mL/min", "flow", 1 / 60),
        _unit("L/min", "flow", 1000 / 60),
        _unit("m/s", "speed", 100.0),
        _unit("cm/s", "speed", 1.0),
        _unit("/min", "rate", 1 / 60),
        _unit("/s", "rate", 1.0),
        _unit("ng/kg/min", "dose", 1.0),
        _unit("ug/kg/min", "dose", 1000.0),
        _unit("mm[Hg].s/mL", "resistance", 1.0),
        _unit("mm[Hg].min/L", "resistance", 0.06),
    )
)


def convert(value: float, unit: str, to: str) -> float:
    """A value in another unit.

    Parameters
    ----------
    value : float, in ``unit``
    unit, to : str, UCUM codes of :data:`UNITS`

    Raises
    ------
    CaseError
        ``unknown_unit`` for a unit that is not known here, ``wrong_unit`` for two units that
        measure different things.
    """
    source, target = _known(unit), _known(to)
    if source.measures != target.measures:
        raise CaseError(
            f"{unit} measures {source.measures} and {to} measures {target.measures}",
            code="wrong_unit",
            value=value,
            unit=unit,
            remedy="use a unit of the same quantity.",
        )
    return value * source.inner / target.inner


def same_quantity(unit: str) -> tuple[str, ...]:
    """Other units that measure what a unit measures; empty for a unit not known here."""
    if unit not in UNITS:
        return ()
    measures = UNITS[unit].measures
    return tuple(u.ucum for u in UNITS.values() if u.measures == measures and u.ucum != unit)


def _known(unit: str) -> Unit:
    if unit not in UNITS:
        raise CaseError(
            f"the unit {unit!r} is not known",
            code="unknown_unit",
            remedy="use a unit that the case file's keys name.",
        )
    return UNITS[unit]
