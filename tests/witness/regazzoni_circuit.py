"""A published closed-loop adult circulation, written as data in our network.

Source: regazzoni2022, with equations and numbers as the Python package ``circulation`` 0.4.0 (MIT,
module ``regazzoni2020``) carries them. Four chambers of varying elastance, four valves with a
resistance forwards and one backwards, four vessels, four columns of blood with inertance. Vessels
have no unstressed volume and nothing presses on them from outside.

As carried, one beat lasts 0.8 s and the atria are given an onset of 0.9 s: they contract 0.1 s into
the beat, together with the ventricles. It is taken over as it stands.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from inseries.circuit.network import (
    Activation,
    Atrium,
    Blood,
    Circuit,
    Edge,
    Floats,
    OwnLaw,
    Vessel,
)
from inseries.circuit.orbit import Orbit, Settings
from inseries.circuit.waveforms import waveforms

# published: regazzoni2022, as carried: 1.25 beats a second
PERIOD_S = 0.8
# published: regazzoni2022, as carried: volumes (mL) and pressures (mmHg) that a run starts from;
# the sum of all volumes never changes
START_VOLUME_ML = {"LA": 87.183, "LV": 118.520, "RA": 86.833, "RV": 166.177}
START_PRESSURE_MMHG = {"SA": 87.675, "SV": 35.898, "PA": 19.545, "PV": 15.004}
# published: regazzoni2022, as carried, mL/mmHg
COMPLIANCE_ML_MMHG = {"SA": 1.372, "PA": 20.0, "PV": 16.0, "SV": 11.363}
# published: regazzoni2022, as carried, mmHg s/mL: an open valve, and a closed one
OPEN, CLOSED = 0.0075, 75006.2
# published: circulation2026: steepness, 1/mmHg, with which the package blends the two
STEEPNESS = 100.0 * math.pi
# chosen: an adult's blood, which no signal here depends on
BLOOD = Blood(
    haemoglobin_g_dl=14.0, capacity_ml_g=1.36, consumption_ml_min=250.0, lung_saturation=0.97
)
# derived: at their stiffest, valve and ventricle answer within 1.4 ms, and Heun's steps must be
# below twice that: 2.8 ms, or 287 steps a beat. The flow of the open aortic valve errs by the
# square of the step: 2.8 % of its range at 400 steps, 0.04 % at 3200
ADULT = Settings(steps=3200, tolerance_ml=1e-8)


@dataclass(frozen=True, slots=True, kw_only=True)
class Beat:
    """When a chamber contracts (s): onset, time to the peak, time from it."""

    onset_s: float
    rise_s: float
    fall_s: float

    def activation(self) -> Activation:
        """The same in shares of the beat."""
        rise, fall = self.rise_s / PERIOD_S, self.fall_s / PERIOD_S
        return Activation((self.onset_s % PERIOD_S) / PERIOD_S, rise, fall)


# published: regazzoni2022, as carried
ATRIAL = Beat(onset_s=0.9, rise_s=0.17, fall_s=0.17)
VENTRICULAR = Beat(onset_s=0.1, rise_s=0.25, fall_s=0.4)


def _chamber(name: str, beat: Beat, active: float, passive: float, unloaded_ml: float) -> Atrium:
    """Elastances (mmHg/mL) are theirs: what activation adds, and what is always there."""
    return Atrium(
        name=name,
        elastance_min_mmhg_ml=passive,
        elastance_max_mmhg_ml=passive + active,
        unloaded_volume_ml=unloaded_ml,
        activation=beat.activation(),
    )


def _valve(name: str, start: str, end: str) -> Edge:
    law = OwnLaw(name="two_way", numbers={"R_f": OPEN, "R_b": CLOSED})
    return Edge(name=name, start=start, end=end, own_law=law)


def _column(name: str, start: str, end: str, resistance: float, inertance: float) -> Edge:
    return Edge(
        name=name,
        start=start,
        end=end,
        resistance_mmhg_s_ml=resistance,
        inertance_mmhg_s2_ml=inertance,
    )


# published: regazzoni2022, as carried
CHAMBERS = (
    _chamber("LA", ATRIAL, 0.07, 0.18, 4.0),
    _chamber("LV", VENTRICULAR, 4.482, 0.170, 42.0),
    _chamber("RA", ATRIAL, 0.06, 0.07, 4.0),
    _chamber("RV", VENTRICULAR, 0.200, 0.029, 16.0),
)
EDGES = (
    _valve("mitral", "LA", "LV"),
    _valve("aortic", "LV", "SA"),
    _valve("tricuspid", "RA", "RV"),
    _valve("pulmonary", "RV", "PA"),
    _column("body", "SA", "SV", 0.733, 0.005),
    _column("body_veins", "SV", "RA", 0.32, 0.0005),
    _column("lungs", "PA", "PV", 0.046, 0.0005),
    _column("lung_veins", "PV", "LA", 0.0015, 0.0005),
)

# derived: their names of signals, and what we call the same
PLACES = {
    "LA": "LA", "LV": "LV", "RA": "RA", "RV": "RV",
    "AR_SYS": "SA", "VEN_SYS": "SV", "AR_PUL": "PA", "VEN_PUL": "PV",
}  # fmt: skip
WAYS = {
    "MV": "mitral", "AV": "aortic", "TV": "tricuspid", "PV": "pulmonary",
    "AR_SYS": "body", "VEN_SYS": "body_veins", "AR_PUL": "lungs", "VEN_PUL": "lung_veins",
}  # fmt: skip
STATES = (
    *(f"V_{name}" for name in ("LA", "LV", "RA", "RV")),
    *(f"p_{name}" for name in ("AR_SYS", "VEN_SYS", "AR_PUL", "VEN_PUL")),
    *(f"Q_{name}" for name in ("AR_SYS", "VEN_SYS", "AR_PUL", "VEN_PUL")),
)
SIGNALS = (
    *STATES,
    *(f"p_{name}" for name in ("LA", "LV", "RA", "RV")),
    *(f"Q_{name}" for name in ("MV", "AV", "TV", "PV")),
)


def adult(*, blended: bool = False) -> Circuit:
    """The published adult as one circulation; ``blended`` as the package writes its valves."""
    pressures = START_PRESSURE_MMHG.items()
    stretched = [COMPLIANCE_ML_MMHG[name] * pressure for name, pressure in pressures]
    vessels = [
        Vessel(name=name, compliance_ml_mmhg=compliance)
        for name, compliance in COMPLIANCE_ML_MMHG.items()
    ]
    circuit = Circuit(
        topology="series",
        parts=(*CHAMBERS, *vessels),
        edges=EDGES,
        rate_per_min=60.0 / PERIOD_S,
        volume_ml=sum(START_VOLUME_ML.values()) + sum(stretched),
        blood=BLOOD,
        pressure_part="SA",
        filling_part="LA",
    )
    if not blended:
        return circuit
    law = OwnLaw(name="blended", numbers={"R_f": OPEN, "R_b": CLOSED, "k": STEEPNESS})
    for valve in ("mitral", "aortic", "tricuspid", "pulmonary"):
        circuit = circuit.with_edge(valve, own_law=law)
    return circuit


def signals(orbit: Orbit, settings: Settings = ADULT) -> Floats:
    """Our beat under their names, shape (steps, signals)."""
    beat = waveforms(orbit, settings=settings)
    found: list[Floats] = []
    for signal in SIGNALS:
        kind, place = signal.split("_", 1)
        if kind == "Q":
            found.append(beat.flow_ml_s(WAYS[place]))
        elif kind == "V":
            found.append(beat.volume_ml(PLACES[place]))
        else:
            found.append(beat.pressure_mmhg(PLACES[place]))
    return np.array(found).T
