"""Two resting ventricles side by side, as in excised hearts with a balloon in each."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from scipy.optimize import brentq

from inseries.circuit.given_state import beat_from
from inseries.circuit.network import Circuit, Edge, Restriction, Ventricle
from inseries.circuit.newborn import normal_newborn
from inseries.prior.constants import Constants
from inseries.routes import with_pericardium, with_septum

if TYPE_CHECKING:
    from collections.abc import Mapping

# chosen: near the reference newborn's end-diastolic volumes; those of the lambs are not given
FILLED_ML = (8.87, 10.66)
# chosen: what is added to the right, small against its volume
ADDED_ML = 0.2
# chosen: long and fine enough for the septum to come to rest
PERIOD_S, STEPS = 0.5, 500
# chosen: a stress too small to matter, since none is refused
AT_REST_MMHG = 1e-9


def resting_heart(constants: Constants | None = None) -> dict[str, float]:
    """What the septum at its default passes on of what is added to the right ventricle.

    Parameters
    ----------
    constants : numbers under trial; the packaged ones when not given

    Returns
    -------
    dict of str to float, shares
    """
    return {"pressure_share": pressure_share((constants or Constants()).newborn)}


def pressure_share(
    newborn: Mapping[str, float] | None = None,
    *,
    elastance: float | None = None,
    sac_ml: float | None = None,
) -> float:
    """Rise of left over rise of right pressure as blood is added to the right.

    Parameters
    ----------
    newborn : numbers of the reference newborn; the packaged ones when not given
    elastance : of the septum, mmHg/mL; its default when not given
    sac_ml : volume at which a sac around both begins to resist; no sac when not given

    Returns
    -------
    float
    """
    left, right = FILLED_ML
    before, after = (
        pressures_mmhg(left, right + added, newborn, elastance=elastance, sac_ml=sac_ml)
        for added in (0.0, ADDED_ML)
    )
    return (after[0] - before[0]) / (after[1] - before[1])


def volume_share(*, elastance: float | None = None, sac_ml: float | None = None) -> float:
    """Left volume given up at equal left pressure over what is added to the right.

    Parameters
    ----------
    elastance, sac_ml : as for ``pressure_share``

    Returns
    -------
    float
    """
    left, right = FILLED_ML

    def left_mmhg(left_ml: float, right_ml: float) -> float:
        return pressures_mmhg(left_ml, right_ml, elastance=elastance, sac_ml=sac_ml)[0]

    kept = left_mmhg(left, right)

    def gained(left_ml: float) -> float:
        return left_mmhg(left_ml, right + ADDED_ML) - kept

    return (left - float(brentq(gained, left - 2.0 * ADDED_ML, left))) / ADDED_ML


def pressures_mmhg(
    left_ml: float,
    right_ml: float,
    newborn: Mapping[str, float] | None = None,
    *,
    elastance: float | None = None,
    sac_ml: float | None = None,
) -> tuple[float, float]:
    """Pressures of both resting ventricles, once the septum has shifted.

    Parameters
    ----------
    left_ml, right_ml : volumes
    newborn, elastance, sac_ml : as for ``pressure_share``

    Returns
    -------
    left and right, mmHg
    """
    heart = with_septum(
        _heart(normal_newborn(newborn), left_ml + right_ml), elastance_mmhg_ml=elastance
    )
    heart = heart if sac_ml is None else with_pericardium(heart, volume_ml=sac_ml)
    _time, wave, _end = beat_from(heart, [left_ml, right_ml, 0.0], steps=STEPS)
    return float(wave[-1, 2]), float(wave[-1, 3])


def _heart(newborn: Circuit, volume_ml: float) -> Circuit:
    """Both ventricles at rest with no way between them; a shut one, since none is refused."""
    shut = Edge(
        name="shut",
        start="LV",
        end="RV",
        resistance_mmhg_s_ml=1.0,
        restrictions=(Restriction(name="opening", area_cm2=0.0, discharge=1.0),),
    )
    return replace(
        newborn,
        topology="resting heart",
        parts=tuple(_resting(newborn, name) for name in ("LV", "RV")),
        edges=(shut,),
        rate_per_min=60.0 / PERIOD_S,
        volume_ml=volume_ml,
        pressure_part="LV",
        filling_part="LV",
    )


def _resting(newborn: Circuit, name: str) -> Ventricle:
    part = newborn.part(name)
    assert isinstance(part, Ventricle)
    return replace(part, active_stress_mmhg=AT_REST_MMHG)
