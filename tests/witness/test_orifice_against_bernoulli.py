"""Flow through a narrow place against Bernoulli's equation.

Outside source: ΔP = ρ v²/2 with 1060 kg/m³ for blood and 133.322 Pa to the mmHg; at the bedside
rounded to 4 v², which is 0.6 % more. The tolerance of 1 % covers that rounding.
"""

from __future__ import annotations

import pytest

from inseries.circuit.flat import quadratic_loss
from inseries.circuit.kernels.edges import orifice
from inseries.circuit.network import Edge, Restriction

BLOOD_KG_M3, PA_PER_MMHG = 1060.0, 133.322


@pytest.mark.parametrize("area_cm2", [0.03, 0.2, 0.7])
@pytest.mark.parametrize("speed_m_s", [0.5, 2.0, 4.0])
def test_orifice_against_bernoulli(area_cm2: float, speed_m_s: float) -> None:
    """The pressure that a jet's speed tells drives just that speed times the area."""
    place = Restriction(name="opening", area_cm2=area_cm2, discharge=1.0)
    edge = Edge(name="e", start="A", end="B", resistance_mmhg_s_ml=1e-9, restrictions=(place,))
    drop_mmhg = 0.5 * BLOOD_KG_M3 * speed_m_s**2 / PA_PER_MMHG
    loss = float(quadratic_loss(edge))
    flow_ml_s = orifice.flow(drop_mmhg, *orifice.slots(1e-9, loss))[0]
    assert flow_ml_s == pytest.approx(speed_m_s * 100.0 * area_cm2, rel=0.01)


def test_a_jet_narrower_than_its_hole() -> None:
    """With a share of the area used, the same drop drives that share of the flow (exact)."""
    flows: list[float] = []
    for share in (1.0, 0.8):
        place = Restriction(name="opening", area_cm2=0.2, discharge=share)
        edge = Edge(name="e", start="A", end="B", resistance_mmhg_s_ml=1e-9, restrictions=(place,))
        slots = orifice.slots(1e-9, float(quadratic_loss(edge)))
        flows.append(orifice.flow(30.0, *slots)[0])
    assert flows[1] / flows[0] == pytest.approx(0.8, rel=1e-6)
