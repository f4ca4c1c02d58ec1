"""The sac when much is given, against conscious dogs and anaesthetised pigs.

Who: Tyson 1984, abstract, 25 dogs: after blood the sac bore 4.1 mmHg while the left ventricle ended
filling at 19.3 mmHg: 21 % of it (2.3 mmHg before). A table of pigs (Circ Heart Fail) before and
after the sac was cut: with saline the left ventricle widened by 13 of 43 mL inside it, and by 22 of
44 without. Both are adult animals, whose sac is not silent at rest; ours is nearly so by choice.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from inseries.circuit.network import Pericardium
from inseries.circuit.newborn import normal_newborn
from inseries.circuit.waveforms import Waveforms, waveforms
from inseries.routes import with_pericardium

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit

PIG_SHARE = (13.0 / 43.0) / (22.0 / 44.0)
DOG_SHARE, DOG_FILLING = 0.21, 19.3


def _given(circuit: Circuit, factor: float) -> Waveforms:
    return waveforms(replace(circuit, volume_ml=normal_newborn().volume_ml * factor))


def _end(waves: Waveforms) -> int:
    """Place of the end of filling."""
    return int(np.argmax(waves.volume_ml("LV")))


def test_the_sac_bears_its_share_of_high_filling() -> None:
    """Where the left ventricle ends filling near 19 mmHg the sac bears 21 % of it, within half."""
    circuit = with_pericardium(normal_newborn())
    sac = circuit.pericardium
    assert isinstance(sac, Pericardium)
    waves = _given(circuit, 2.4)
    end = _end(waves)
    filling = waves.pressure_mmhg("LV")[end]
    assert filling == pytest.approx(DOG_FILLING, abs=1.0)
    inside = sum(waves.volume_ml(name)[end] for name in sac.around)
    steep = float(sac.exponent)
    borne = float(sac.pressure_mmhg) * (
        np.exp(steep * (inside / float(sac.volume_ml) - 1.0)) - np.exp(-steep)
    )
    assert borne / filling == pytest.approx(DOG_SHARE, rel=0.5)


def test_inside_the_sac_the_ventricle_widens_less() -> None:
    """Given the same, it widens by the share of the pigs, 0.6, to a third of it."""
    rises = []
    for circuit in (with_pericardium(normal_newborn()), normal_newborn()):
        volumes = [
            waves.volume_ml("LV").max() for waves in (_given(circuit, f) for f in (1.0, 2.6))
        ]
        rises.append(volumes[1] / volumes[0] - 1.0)
    assert rises[0] / rises[1] == pytest.approx(PIG_SHARE, rel=0.33)


def test_the_stiffer_heart_fills_at_higher_pressure() -> None:
    """At equal left volume the pressure at the end of filling is higher inside the sac."""
    held = _given(with_pericardium(normal_newborn()), 2.2)
    free = [_given(normal_newborn(), factor) for factor in (1.4, 1.6, 1.8, 2.0)]
    volumes = [waves.volume_ml("LV")[_end(waves)] for waves in free]
    pressures = [waves.pressure_mmhg("LV")[_end(waves)] for waves in free]
    end = _end(held)
    alike = np.interp(held.volume_ml("LV")[end], volumes, pressures)
    assert held.pressure_mmhg("LV")[end] > alike + 2.0
