"""The answer of ``now`` in three sentences: what, why, how sure."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from inseries.desk.readouts import Readouts
    from inseries.draw.views import LoopsView
    from inseries.prior.narrow import Narrowed

SITES = {
    "atrial": "the atrial septum",
    "ventricular": "the ventricular defect",
    "ductal": "the duct",
}
# chosen: need met below this is said, %
ENOUGH_NEED_PCT = 99.0


def what(r: Readouts) -> str:
    """What this circulation does today."""
    met = r.oxygen_need_met_pct.value
    need = "" if met >= ENOUGH_NEED_PCT else f", which meets about {met:.0f} % of the oxygen need"
    return (
        f"About {r.effective_flow_ml_min_kg.value:.0f} of {r.systemic_flow_ml_min_kg.value:.0f} "
        "mL/min/kg that the body receives are freshly oxygenated, and saturation of the upper body "
        f"comes to about {r.sao2_upper_pct.value:.0f} %{need}; the left ventricle works at "
        f"{100.0 * r.lv_rv_systolic_pressure_ratio.value:.0f} % of the right one's pressure."
    )


def why(view: LoopsView, shunt_ml_min_kg: float) -> str:
    """Through which crossing the loops exchange most, and what a shunt gives the lungs."""
    if shunt_ml_min_kg <= 0.0:
        return _crossed(view)
    return (
        f"{_crossed(view)} The shunt (not in the picture) sends about {shunt_ml_min_kg:.0f} "
        "mL/min/kg of the body's blood to the lungs."
    )


def _crossed(view: LoopsView) -> str:
    if view.topology != "parallel":
        return "The loops are in series: all blood passes the lungs before the body."
    by_site = {
        crossing.site: min(crossing.left_to_right_ml_min_kg, crossing.right_to_left_ml_min_kg)
        + crossing.eddy_ml_min_kg
        for crossing in view.crossings
    }
    total = sum(by_site.values())
    if not by_site or total <= 0.0:
        return "Hardly anything crosses between the two loops: nothing mixes."
    most = max(by_site, key=lambda site: by_site[site])
    rest = " and ".join(SITES[site] for site in by_site if site != most)
    if rest:
        return (
            f"The loops exchange mostly through {SITES[most]}, the rest through {rest}; what "
            "crosses one way must return the other."
        )
    return (
        f"The loops exchange through {SITES[most]} alone; what crosses one way must return the "
        "other."
    )


def how_sure(r: Readouts, today: Narrowed) -> str:
    """The interval of saturation, and what stands behind it."""
    s = r.sao2_upper_pct
    return (
        f"Nine in ten of the circuits that fit {today.readings_used} readings lie between "
        f"{s.low:.0f} and {s.high:.0f} % ({today.effective_draws:.0f} effective draws); the model "
        "knows no respiration, brain or gut, and its mixing is one number for each opening."
    )
