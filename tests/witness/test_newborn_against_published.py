"""The reference newborn in health against what was measured in healthy newborns.

All of these were used to fit the reference, so they show that the fit holds and are no proof of
anything else. The interval of each row is the published mean and one standard deviation, because
the reference stands for an average baby.
"""

from __future__ import annotations

import pytest

from inseries.circuit.newborn import newborn_values, normal_newborn
from inseries.circuit.orbit import FINE, find_orbit
from inseries.circuit.readouts import P_MAX, P_MEAN, V_MAX, V_MIN, Readings, read

# Jhaveri et al. 2023, J Cardiovasc Magn Reson 25:26 (abstract): 20 healthy term newborns in their
# first week, CMR; mL/m², EF in per cent.
VOLUMES = {
    ("LV", V_MAX): (39.0, 4.1),
    ("LV", V_MIN): (14.5, 2.5),
    ("RV", V_MAX): (47.4, 4.5),
    ("RV", V_MIN): (22.6, 2.9),
}
EJECTION = {"LV": (63.2, 3.4), "RV": (52.5, 3.3)}
# Walther et al. 1985, Pediatrics (abstract): Doppler in the first week, above 2500 g; mL/min/kg.
OUTPUT = (241.0, 33.0)
# PMC4998292 (abstract): 76 normal newborns at 72 h, echo by the ductal gradient, mmHg.
LUNG_ARTERY = {P_MAX: (36.0, 6.5), P_MEAN: (25.3, 8.3)}


@pytest.fixture(scope="module")
def seen() -> Readings:
    """What one reads off the reference newborn."""
    return read(find_orbit(normal_newborn(), settings=FINE))


@pytest.mark.parametrize(("part", "column"), VOLUMES)
def test_volumes_against_jhaveri(seen: Readings, part: str, column: int) -> None:
    """Largest and smallest volume of both ventricles lie within one deviation of the mean."""
    mean, sd = VOLUMES[part, column]
    index = seen.part(part, column)[0] / newborn_values()["body_surface"]
    assert index == pytest.approx(mean, abs=sd)


@pytest.mark.parametrize("part", EJECTION)
def test_ejection_against_jhaveri(seen: Readings, part: str) -> None:
    """The ejection fraction of both ventricles lies within one deviation of the mean."""
    mean, sd = EJECTION[part]
    assert seen.ejection_pct(part)[0] == pytest.approx(mean, abs=sd)


def test_output_against_walther(seen: Readings) -> None:
    """Systemic flow per kilogram lies within one deviation of the mean."""
    mean, sd = OUTPUT
    per_kg = seen.systemic_flow_ml_s[0] * 60.0 / newborn_values()["weight"]
    assert per_kg == pytest.approx(mean, abs=sd)


@pytest.mark.parametrize("column", LUNG_ARTERY)
def test_lung_artery_pressure_at_72_hours_against_pmc4998292(seen: Readings, column: int) -> None:
    """Systolic and mean pressure of the lung artery lie within one deviation of the mean."""
    mean, sd = LUNG_ARTERY[column]
    assert seen.part("PA", column)[0] == pytest.approx(mean, abs=sd)
