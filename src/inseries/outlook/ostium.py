"""A coronary opening that grows less than the heart: flow reserve and pressure behind it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from inseries.circuit.orbit import find_orbit
from inseries.circuit.readouts import read
from inseries.norms.body import DAYS_PER_YEAR
from inseries.outlook.numbers import draw, number
from inseries.outlook.repaired import grown, usual_walls
from inseries.prior.traits import Traits, spreads
from inseries.routes import with_ostial_stenosis

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit
    from inseries.outlook.baby import Frame
    from inseries.outlook.numbers import Floats

# chosen: narrowings looked at, % of the usual diameter
NARROWINGS_PCT = (0.0, 30.0, 45.0, 60.0, 70.0, 78.0, 85.0)
# chosen: factors of hyperaemia looked at; between them is interpolated
FACTORS = (2.5, 3.0, 4.0, 5.0, 6.5)
# chosen: ages looked at, years
OSTIUM_YEARS = (1.0, 5.0, 18.0)
# chosen: columns of further draws: scar and its ripening at the ostium are its own
SCAR_COLUMN, RIPE_COLUMN = 10, 11
# published: lopez2017, left main artery of 1 m2, mm, and its power of body surface
MAIN_MM, MAIN_POWER = 2.95, 0.45


@dataclass(frozen=True, slots=True, kw_only=True)
class Reserve:
    """Flow reserve and pressure by narrowing and hyperaemia at one age, by the circuit.

    Parameters
    ----------
    year : float
    narrowing_pct : array, shape (k,), of the usual diameter
    reserve, pressure_ratio : arrays, shape (factors, k): hyperaemic flow over flow at rest of an
        open ostium; mean pressure beyond the ostium over that of the aorta, in hyperaemia
    """

    year: float
    narrowing_pct: Floats
    reserve: Floats
    pressure_ratio: Floats

    def at(self, values: Floats, narrowing_pct: Floats, factor: Floats) -> Floats:
        """One of the two tables at draws, straight between its points, shape (n,)."""
        by_factor: Floats = np.stack(
            [self._between(values[i], narrowing_pct) for i in range(len(FACTORS))]
        )
        place = np.interp(factor, FACTORS, np.arange(len(FACTORS)))
        low = np.minimum(place.astype(np.int64), len(FACTORS) - 2)
        part, draws = place - low, np.arange(factor.size)
        return (1.0 - part) * by_factor[low, draws] + part * by_factor[low + 1, draws]

    def _between(self, row: Floats, narrowing_pct: Floats) -> Floats:
        return np.asarray(np.interp(narrowing_pct, self.narrowing_pct, row), dtype=np.float64)


@dataclass(frozen=True, slots=True, kw_only=True)
class OstiumCourse:
    """The opening in every draw at one age; arrays, shape (n,)."""

    year: float
    diameter_mm: Floats
    narrowing_pct: Floats
    reserve: Floats
    pressure_ratio: Floats
    by_narrowing: Reserve


def ostium_course(frame: Frame) -> tuple[OstiumCourse, ...]:
    """The left opening at the ages looked at: narrowing by scar, and what it leaves of reserve."""
    return tuple(
        _at(frame, reserve_curve(frame, year)) for year in OSTIUM_YEARS if year > frame.years[0]
    )


def _at(frame: Frame, curve: Reserve) -> OstiumCourse:
    place = frame.at(curve.year)
    ratio = _over_usual(frame, place)
    narrowing = np.clip(100.0 * (1.0 - ratio), 0.0, NARROWINGS_PCT[-1])
    factor = frame.drawn("hyperaemia")
    return OstiumCourse(
        year=curve.year,
        diameter_mm=ratio * usual_main_mm(frame)[place],
        narrowing_pct=narrowing,
        reserve=curve.at(curve.reserve, narrowing, factor),
        pressure_ratio=curve.at(curve.pressure_ratio, narrowing, factor),
        by_narrowing=curve,
    )


def usual_main_mm(frame: Frame) -> Floats:
    """Usual left main artery at every age, mm, by lopez2017."""
    return MAIN_MM * frame.surface_m2**MAIN_POWER


def _over_usual(frame: Frame, place: int) -> Floats:
    """Diameter of the opening over the usual one: native ring, part of it scar."""
    scar = 1.0 - np.exp(-draw("scar_share", frame.extra(SCAR_COLUMN)))
    lost = 1.0 - np.exp(-draw("scar_contraction", frame.extra(RIPE_COLUMN)))
    since = frame.years[place] - frame.years[0]
    ripened = 1.0 - lost * (1.0 - np.exp(-since / number("scar_years")))
    grown_main = usual_main_mm(frame)[place] / usual_main_mm(frame)[0]
    return frame.drawn("ostium_start") * ripened * ((1.0 - scar) + scar / grown_main)


def reserve_curve(frame: Frame, year: float) -> Reserve:
    """Reserve and pressure behind every narrowing looked at, by the repaired circuit of an age."""
    age = year * DAYS_PER_YEAR
    baby = grown(frame, Traits(z=np.zeros((1, len(spreads())))))
    walls = usual_walls(baby, year)
    open_circuit = baby.undivided(age, walls)
    held = baby.regulation(age)
    usual = float(usual_main_mm(frame)[frame.at(year)])
    settled = find_orbit(open_circuit, held).as_regulated()
    resting = _flow(with_ostial_stenosis(settled, usual))[0]
    k, f = len(NARROWINGS_PCT), len(FACTORS)
    diameters = np.tile(usual * (1.0 - np.array(NARROWINGS_PCT) / 100.0), f)
    circuit = with_ostial_stenosis(settled, diameters)
    flow, ratio = _hyperaemic(circuit, np.repeat(np.array(FACTORS), k))
    return Reserve(
        year=year,
        narrowing_pct=np.array(NARROWINGS_PCT),
        reserve=(flow / resting).reshape(f, k),
        pressure_ratio=ratio.reshape(f, k),
    )


def _flow(circuit: Circuit) -> Floats:
    return read(find_orbit(circuit)).flow_ml_s("coronary_bed")


def _hyperaemic(circuit: Circuit, factor: Floats) -> tuple[Floats, Floats]:
    """Flow, and pressure beyond the ostium over the aorta's, with the small vessels widened."""
    for name in ("coronary_bed", "coronary_sinus"):
        edge = circuit.edge(name)
        circuit = circuit.with_edge(name, resistance_mmhg_s_ml=edge.resistance_mmhg_s_ml / factor)
    readings = read(find_orbit(circuit))
    flow, aorta = readings.flow_ml_s("coronary_bed"), readings.mean_mmhg("AoU")
    along = circuit.edge("coronary_artery").resistance_mmhg_s_ml * flow
    return flow, np.maximum(readings.mean_mmhg("CA") + along, 0.0) / aorta
