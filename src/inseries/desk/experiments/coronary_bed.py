"""Coronary bed of the reference newborn: over a beat, slack, and behind a narrow ostium.

Published narrowings are shares of a diameter; the open ostium is supposed to measure 1.5 mm, in
which blood moves as fast as in the dogs' artery.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from inseries.circuit.newborn import normal_newborn
from inseries.circuit.orbit import FINE, Regulation, find_orbit
from inseries.circuit.readouts import read
from inseries.circuit.waveforms import waveforms
from inseries.desk.experiments.babies import one
from inseries.prior.constants import Constants
from inseries.routes import coronary_need, with_coronaries, with_ostial_stenosis

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Floats

# published: sidi1981, flow of right over left ventricular wall, mL/min/100 g
RIGHT_OVER_LEFT = 126.0 / 183.0
# chosen: an open ostium
OPEN_MM = 1.5
# published: gould1974 tells of 30, 45, 85 and about 90 % of the diameter; the others lie between
STENOSIS_PCT = (0.0, 30.0, 45.0, 60.0, 75.0, 85.0, 90.0, 93.0)
# chosen: a need that no bed can meet
INSATIABLE = 50.0


def coronary_bed(constants: Constants | None = None) -> dict[str, float]:
    """Share of output, of systole, effect of squeezing, reserve, flow behind a narrow ostium.

    Parameters
    ----------
    constants : numbers under trial; the packaged ones when not given

    Returns
    -------
    dict of str to float, shares and their units in the names
    """
    newborn = normal_newborn((constants or Constants()).newborn)
    resting, raised = flows_behind_ostium(newborn)
    supplied = with_coronaries(newborn)
    return {
        "systole_over_diastole": _systole_over_diastole(supplied),
        "heart_share_of_output_pct": 100.0 * _heart_share(supplied),
        "slack_over_squeezed": _slack_over_squeezed(supplied),
        "rest_at_85_pct": float(resting[STENOSIS_PCT.index(85.0)]),
        "reserve": float(raised[0]),
        "reserve_over_lamb": float(raised[0]),
    }


def flows_behind_ostium(circuit: Circuit) -> tuple[Floats, Floats]:
    """Flow at rest and flow of a bed that asks for all it can get, over rest at an open ostium.

    Parameters
    ----------
    circuit : Circuit without a coronary bed

    Returns
    -------
    two arrays, shape (narrowings of ``STENOSIS_PCT``,)

    The aortic mean is held at 55 mmHg.
    """
    narrow = with_ostial_stenosis(circuit, OPEN_MM * (1.0 - np.array(STENOSIS_PCT) / 100.0))
    resting, raised = (_held_flow(narrow, work) for work in (1.0, INSATIABLE))
    return resting / resting[0], raised / resting[0]


def _held_flow(circuit: Circuit, work: float) -> Floats:
    held = Regulation(
        # chosen: near the reference newborn's own mean
        pressure_mmhg=55.0,
        filling_mmhg=None,
        resistance_low=0.5,
        resistance_high=2.0,
        bed=coronary_need(circuit, work=work),
    )
    return read(find_orbit(circuit, held, settings=FINE)).flow_ml_s("coronary_bed")


def _systole_over_diastole(circuit: Circuit) -> float:
    """Inflow up to the end of ejection over the inflow after it."""
    waves = waveforms(circuit)
    inflow = waves.flow_ml_s("coronary_artery")
    ejects = np.flatnonzero(waves.flow_ml_s("lv_outlet") > 0.0)
    systole = np.arange(inflow.size) <= ejects[-1]
    return float(inflow[systole].sum() / inflow[~systole].sum())


def _heart_share(circuit: Circuit) -> float:
    """Both walls at the flow of a gram of each, over output."""
    readings = read(find_orbit(circuit, settings=FINE))
    left, right = one(readings.mass_g("LV")), one(readings.mass_g("RV"))
    heart = one(readings.flow_ml_s("coronary_bed")) * (1.0 + RIGHT_OVER_LEFT * right / left)
    return heart / one(readings.flow_ml_s("lv_outlet"))


def _slack_over_squeezed(circuit: Circuit) -> float:
    """Flow at an equal bed without squeezing over flow with it."""
    squeezed, slack = (
        one(read(find_orbit(c, settings=FINE)).flow_ml_s("coronary_bed"))
        for c in (circuit, circuit.with_part("CM", share=0.0))
    )
    return slack / squeezed
