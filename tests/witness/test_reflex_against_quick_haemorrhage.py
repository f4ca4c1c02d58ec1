"""The reflex, against the way its gain is measured and the closed form of proportional control.

Who: dogs bled by 2 mL/kg within two seconds (abstract of the open-loop gains after massive
haemorrhage): gain is the immediate over the steady fall of pressure, less one; 7.8 in the intact
adult dog. Piglets bled by 5 mL/kg at a time (abstract): most beat faster. What is lost is taken
from the blood that stretches; nothing comes back from tissue or cord in that time.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from inseries.circuit.newborn import newborn_values, normal_newborn
from inseries.circuit.orbit import FINE, Reflex, Regulation, find_orbit
from inseries.circuit.readouts import read
from inseries.routes import newborn_reflex

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit
    from inseries.circuit.orbit import Orbit

BLED_ML_KG = 2.0
DOG_GAIN = 7.8


def _usual_mmhg() -> float:
    return _pressure(find_orbit(normal_newborn(), settings=FINE))


def _bled(ml_kg: float) -> Circuit:
    newborn = normal_newborn()
    return replace(newborn, volume_ml=newborn.volume_ml - ml_kg * newborn_values()["weight"])


def _answered(circuit: Circuit, reflex: Reflex, *, tone: float | None = None) -> Orbit:
    """The orbit with a reflex that keeps the usual pressure, or with its tone given."""
    low, high = (-1.2, 1.2) if tone is None else (tone, tone)
    held = Regulation(
        pressure_mmhg=_usual_mmhg(),
        filling_mmhg=None,
        resistance_low=float(np.exp(low)),
        resistance_high=float(np.exp(high)),
        reflex=reflex,
    )
    return find_orbit(circuit, held, settings=FINE)


def _pressure(orbit: Orbit) -> float:
    return float(read(orbit).mean_mmhg("AoU")[0])


def _falls(reflex: Reflex, ml_kg: float) -> tuple[float, float]:
    """Immediate and steady fall of arterial pressure, mmHg."""
    usual, circuit = _usual_mmhg(), _bled(ml_kg)
    at_once = usual - _pressure(find_orbit(circuit, settings=FINE))
    return at_once, usual - _pressure(_answered(circuit, reflex))


@pytest.mark.parametrize("gain", [2.0, DOG_GAIN])
def test_quick_haemorrhage_finds_the_gain(gain: float) -> None:
    """Bled as the dogs were, the gain found is the one put in, to a tenth."""
    at_once, steady = _falls(replace(newborn_reflex(), gain=gain), BLED_ML_KG)
    assert at_once / steady - 1.0 == pytest.approx(gain, rel=0.1)


@pytest.mark.parametrize("gain", [0.5, 2.0, 6.0])
def test_what_is_left_is_the_closed_form_of_proportional_control(gain: float) -> None:
    """The steady fall is the immediate one over 1 + gain times what a tone of 1 does, to 3 %."""
    reflex = replace(newborn_reflex(), gain=gain)
    circuit, small = _bled(BLED_ML_KG), 0.02
    more, less = (_pressure(_answered(circuit, reflex, tone=t)) for t in (small, -small))
    reach = (more - less) / (2.0 * small * _usual_mmhg())
    at_once, steady = _falls(reflex, BLED_ML_KG)
    assert steady == pytest.approx(at_once / (1.0 + gain * reach), rel=0.03)


def test_no_gain_is_no_reflex_and_a_great_one_holds() -> None:
    """As gain goes to nothing pressure falls as it would; as it grows pressure is held."""
    at_once, barely = _falls(Reflex(gain=1e-6), BLED_ML_KG)
    _, held = _falls(Reflex(gain=300.0), BLED_ML_KG)
    assert barely == pytest.approx(at_once, rel=1e-3)
    assert held < 0.02 * at_once


def test_a_bled_newborn_beats_faster_and_narrows() -> None:
    """As 5, 10 and 15 mL/kg are lost rate and resistance rise, and pressure falls less."""
    reflex, rates, factors = newborn_reflex(), [], []
    for lost in (0.0, 5.0, 10.0, 15.0):
        orbit = _answered(_bled(lost), reflex)
        rates.append(float(np.ravel(orbit.as_regulated().rate_per_min)[0]))
        factors.append(float(orbit.resistance_factor[0]))
        if lost:
            at_once, steady = _falls(reflex, lost)
            assert 0.0 < steady < 0.6 * at_once
    assert np.all(np.diff(rates) > 0.0)
    assert np.all(np.diff(factors) > 0.0)
