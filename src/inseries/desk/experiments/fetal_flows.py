"""How the fetus near term divides its flow: nothing regulated, no coronary bed.

Our outlets carry the coronaries' blood, about 3 % of the output, which published flows leave out.
"""

from __future__ import annotations

from inseries.circuit.fetus import fetus
from inseries.circuit.orbit import FINE, find_orbit
from inseries.circuit.readouts import Readings, read
from inseries.desk.experiments.babies import one
from inseries.prior.constants import Constants

# derived: mL/s to mL/min
MINUTE_S = 60.0


def fetal_flows(constants: Constants | None = None) -> dict[str, float]:
    """Flow of the great vessels of the fetus, per kg and as share of the combined output.

    Parameters
    ----------
    constants : numbers under trial; the packaged ones when not given

    Returns
    -------
    dict of str to float, units in the names
    """
    newborn = (constants or Constants()).newborn
    readings = read(find_orbit(fetus(newborn=newborn), settings=FINE))
    flows = {
        name: flow * MINUTE_S / newborn["weight"] for name, flow in _flows_ml_s(readings).items()
    }
    whole = flows["combined_output"]
    return {f"{name}_ml_min_kg": flow for name, flow in flows.items()} | {
        f"{name}_share_pct": 100.0 * flow / whole for name, flow in flows.items()
    }


def _flows_ml_s(readings: Readings) -> dict[str, float]:
    def flow(edge: str) -> float:
        return one(readings.flow_ml_s(edge))

    trunk, aorta = flow("rv_outlet"), flow("lv_outlet")
    return {
        "combined_output": trunk + aorta,
        "lung_trunk": trunk,
        "ascending_aorta": aorta,
        "superior_vena_cava": flow("body_veins"),
        "duct": -flow("duct"),
        "lungs": flow("lungs"),
        "descending_aorta": flow("lower_body") + flow("placenta"),
        "umbilical_vein": flow("umbilical_vein"),
        "oval_foramen": flow("oval_foramen"),
    }
