"""Oxygen in blood: what haemoglobin binds, what is dissolved, and the way back to pressure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from inseries.circuit.network import Blood, Floats, Leaf

LINEAR = 150.0  # published: severinghaus1979, mmHg²
CUBIC = 23400.0  # published: severinghaus1979, mmHg³
ADULT_P50_MMHG = 26.857  # derived: the pressure at which the equation gives one half
# common practice: whole blood of fetal haemoglobin alone, taught as 18 to 20; with four fifths of
# it a newborn's blood comes to 20.6, between tosetti1985 (just above 20) and dicom_cid3666 (21.6)
FETAL_P50_MMHG = 19.0
USUAL_PH, USUAL_TEMPERATURE_C = 7.4, 37.0  # common practice: where half saturation is quoted
# published: siggaard1984, changes of ln P50 per pH and per °C; other sources lie to both sides
BOHR, WARMING = -1.04, 0.055
# published: siggaard1984, 0.0105 mmol/L/kPa, here mL of gas in a mL of blood per mmHg
SOLUBILITY_PER_MMHG = 3.135e-5
SOLUBILITY_WARMING = -0.012  # published: siggaard1984, change of ln solubility per °C
WATER_VAPOUR_MMHG = 47.0  # common practice: saturated water vapour at 37 °C
EXCHANGE_RATIO = 0.8  # common practice: carbon dioxide given off over oxygen taken up
# common practice: the lungs of lung_saturation breathe air at sea level, carbon dioxide is normal
AIR_FRACTION, SEA_LEVEL_MMHG, USUAL_CARBON_DIOXIDE_MMHG = 0.21, 760.0, 40.0
# chosen: saturation of venous blood in health, which the shunt of the lungs is reckoned with
USUAL_VENOUS_SATURATION = 0.70
ALVEOLAR_IN_AIR_MMHG = 101.83  # derived: the alveolar gas equation with these three
DL_ML = 100.0  # derived: dL to mL
# chosen: above this saturation pressure is sought from the dissolved share (scaled mmHg)
NEARLY_FULL, FULL_FROM_MMHG = 0.99, 150.0
# chosen: with them content and pressure close their round trip to 2e-6 from 5 to 25 g/dL
NEWTON_STEPS = 4


@dataclass(frozen=True, slots=True)
class Carriage:
    """How much oxygen a blood carries at a pressure; shapes (n, 1), for arguments (n, k).

    Parameters
    ----------
    capacity : oxygen that full haemoglobin binds, mL per mL of blood
    solubility : oxygen dissolved, mL per mL of blood and mmHg
    p50_mmhg : pressure at half saturation, as fetal share, pH and temperature shift it
    """

    capacity: Floats
    solubility: Floats
    p50_mmhg: Floats

    def content(self, po2_mmhg: Leaf) -> Floats:
        """Oxygen content, mL/mL: bound and dissolved."""
        return self.capacity * saturation(po2_mmhg, self.p50_mmhg) + self.solubility * po2_mmhg

    def content_at(self, fraction: Leaf) -> Floats:
        """Oxygen content, mL/mL, at a saturation from 0 to below 1."""
        return self.capacity * fraction + self.solubility * po2_mmhg(fraction, self.p50_mmhg)

    def pressure(self, content: Floats) -> Floats:
        """Oxygen pressure, mmHg, at a content (mL/mL); content below zero counts as none."""
        scale = self.p50_mmhg / ADULT_P50_MMHG
        return scale * _scaled_pressure(
            np.maximum(content, 0.0) / self.capacity, self.solubility * scale / self.capacity
        )


def carriage(blood: Blood, members: int) -> Carriage:
    """How a circulation's blood carries oxygen.

    Parameters
    ----------
    blood : Blood with floats or arrays, shape (n,)
    members : n

    Returns
    -------
    Carriage with columns of shape (n, 1)
    """
    capacity = np.asarray(blood.haemoglobin_g_dl * blood.capacity_ml_g / DL_ML)
    warmer = np.asarray(blood.temperature_c - USUAL_TEMPERATURE_C)
    solubility = SOLUBILITY_PER_MMHG * np.exp(SOLUBILITY_WARMING * warmer)
    half = p50_mmhg(blood.fetal_share, blood.ph, blood.temperature_c)
    return Carriage(*(column(value, members) for value in (capacity, solubility, half)))


def column(value: Leaf, members: int) -> Floats:
    """A number of every member as a column, shape (n, 1)."""
    wide: Floats = np.empty((members, 1))
    wide[:, 0] = value
    return wide


def columns(one: Leaf, other: Leaf, members: int) -> Floats:
    """Two numbers of every member side by side, shape (n, 2)."""
    wide: Floats = np.empty((members, 2))
    wide[:, 0] = one
    wide[:, 1] = other
    return wide


def p50_mmhg(
    fetal_share: Leaf, ph: Leaf = USUAL_PH, temperature_c: Leaf = USUAL_TEMPERATURE_C
) -> Floats:
    """Oxygen pressure at which half of the haemoglobin is saturated.

    Parameters
    ----------
    fetal_share : fetal over all haemoglobin, 0 to 1; mixes the two pressures in proportion
    ph : shifts by Bohr's effect
    temperature_c : °C

    Returns
    -------
    Floats, mmHg. *Source* siggaard1984 for both shifts
    """
    mixed = ADULT_P50_MMHG + fetal_share * (FETAL_P50_MMHG - ADULT_P50_MMHG)
    shift = BOHR * (ph - USUAL_PH) + WARMING * (temperature_c - USUAL_TEMPERATURE_C)
    return np.asarray(mixed * np.exp(shift), dtype=np.float64)


def saturation(po2_mmhg: Leaf, p50_mmhg: Leaf = ADULT_P50_MMHG) -> Floats:
    """Share of haemoglobin that is saturated at an oxygen pressure.

    Parameters
    ----------
    po2_mmhg : mmHg, 0 or more
    p50_mmhg : mmHg; the adult curve is stretched along the pressure axis to it, which keeps its
        shape: a modelling choice for fetal haemoglobin

    Returns
    -------
    Floats, fraction; within 0.0055 of the printed adult table. *Source* severinghaus1979
    """
    p = np.asarray(po2_mmhg) * ADULT_P50_MMHG / p50_mmhg
    bound = p * (p * p + LINEAR)
    return np.asarray(bound / (bound + CUBIC), dtype=np.float64)


def po2_mmhg(fraction: Leaf, p50_mmhg: Leaf = ADULT_P50_MMHG) -> Floats:
    """Oxygen pressure at a saturation: the exact inverse of ``saturation``.

    Parameters
    ----------
    fraction : from 0 to below 1
    p50_mmhg : mmHg

    Returns
    -------
    Floats, mmHg, the one real root of the cubic. The separate inverse printed by the same author
    does not close the round trip and is not used. *Source* severinghaus1979
    """
    return np.asarray(_root(np.asarray(fraction)) * p50_mmhg / ADULT_P50_MMHG, dtype=np.float64)


def alveolar_mmhg(
    inspired_fraction: Leaf = AIR_FRACTION,
    carbon_dioxide_mmhg: Leaf = USUAL_CARBON_DIOXIDE_MMHG,
    barometric_mmhg: Leaf = SEA_LEVEL_MMHG,
) -> Floats:
    """Oxygen pressure in the alveoli by the alveolar gas equation.

    P_A = F (P_B - 47) - P_CO2 (F + (1 - F) / R), with R = 0.8 for gas exchanged in steady state.

    Parameters
    ----------
    inspired_fraction : F, share of oxygen in dry inspired gas
    carbon_dioxide_mmhg : P_CO2, arterial, taken as alveolar
    barometric_mmhg : P_B

    Returns
    -------
    Floats, mmHg, not below zero
    """
    moist = inspired_fraction * (barometric_mmhg - WATER_VAPOUR_MMHG)
    given_off = inspired_fraction + (1.0 - inspired_fraction) / EXCHANGE_RATIO
    return np.maximum(moist - carbon_dioxide_mmhg * given_off, 0.0)


def lung_content(blood: Blood, carried: Carriage) -> Floats:
    """Oxygen content of blood that leaves the lungs, mL/mL, shape (n, 1).

    End-capillary blood has the alveolar pressure; a share s of the flow is shunted past the
    alveoli. s is what brings end-capillary blood to ``lung_saturation`` where air is breathed at
    sea level and the shunted blood is as venous as in health. In air the result is therefore
    ``lung_saturation``, and with other gas the share that meets the alveoli follows it.

    Parameters
    ----------
    blood : Blood
    carried : its Carriage

    Returns
    -------
    Floats, shape (n, 1)
    """
    members = carried.capacity.shape[0]
    alveoli = alveolar_mmhg(
        blood.inspired_fraction, blood.carbon_dioxide_mmhg, blood.barometric_mmhg
    )
    behind = carried.content_at(columns(blood.lung_saturation, USUAL_VENOUS_SATURATION, members))
    in_air, venous = behind[:, :1], behind[:, 1:]
    capillary = carried.content(columns(ALVEOLAR_IN_AIR_MMHG, alveoli, members))
    full, now = capillary[:, :1], capillary[:, 1:]
    shunt = np.minimum(np.maximum((full - in_air) / (full - venous), 0.0), 1.0)
    return np.maximum(in_air + (1.0 - shunt) * (now - full), 0.0)


def _root(fraction: Floats) -> Floats:
    """Pressure of the adult curve, mmHg, at a saturation below 1."""
    bound = CUBIC * fraction / (1.0 - fraction)
    half = 2.0 * np.sqrt(LINEAR / 3.0)
    return half * np.sinh(np.arcsinh(3.0 * bound / (LINEAR * half)) / 3.0)


def _scaled_pressure(filled: Floats, dissolved: Floats) -> Floats:
    """Pressure p of the adult curve with S(p) + dissolved p = filled, by Newton from below.

    Both are shares of the capacity. The curve is concave above 20 mmHg, so that steps from a
    lower bound never pass the root; below, the lower bound is already within a hundredth.
    """
    upper = np.where(
        filled < NEARLY_FULL,
        _root(np.minimum(filled, NEARLY_FULL)),
        np.maximum(filled - 1.0, 0.0) / dissolved + FULL_FROM_MMHG,
    )
    low = _root(np.minimum(np.maximum(filled - dissolved * upper, 0.0), NEARLY_FULL))
    p = np.maximum(low, (filled - 1.0) / dissolved)
    for _ in range(NEWTON_STEPS):
        square = p * p
        bound = p * (square + LINEAR)
        whole = bound + CUBIC
        slope = CUBIC * (3.0 * square + LINEAR) / (whole * whole) + dissolved
        p = p + (filled - bound / whole - dissolved * p) / slope
    return np.maximum(p, 0.0)
