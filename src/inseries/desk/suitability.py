"""Is a switch the operation? The left outflow and the pulmonary valve become the body's.

Coronary arteries and lung vessels stand beside them where the record speaks against a switch.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from inseries.case.record import Case, LvOutflow

Standing = Literal["shown", "not shown"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SuitabilityCheck:
    """One precondition: its name, whether it is shown, on what grounds, what to do if it is not."""

    name: str
    standing: Standing
    why: str
    nearest: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Suitability:
    """Shown only when every precondition is."""

    standing: Standing
    sentence: str
    checks: tuple[SuitabilityCheck, ...]


OTHER_ROUTES = (
    "Rastelli-type and root-translocation operations, which answer a narrow left outflow, are out "
    "of scope here."
)
LEAVE_THEM = "Nearest: the atrial switch, which leaves the coronary arteries where they are."
MEASURE = "Nearest: measure the resistance of the lungs by catheter before any repair."
LOOK = "Nearest: look by echo, and write down what is seen."
NOT_STATED = "not stated"

_OUTFLOW: dict[LvOutflow | None, tuple[Standing, str]] = {
    LvOutflow.OPEN: ("shown", "open by what is recorded"),
    LvOutflow.DYNAMIC: (
        "shown",
        "dynamic: taken to yield when the septum moves back; if it does not, its gradient stays in "
        "the body's path",
    ),
    LvOutflow.FIXED: ("not shown", "fixed: it would stay in the body's path with its gradient"),
    LvOutflow.VALVAR: ("not shown", "valvar: the narrowed valve would become the body's"),
    None: ("not shown", NOT_STATED),
}


def suitability(case: Case) -> Suitability:
    """Whether the left outflow and the pulmonary valve can be shown to serve the body.

    Parameters
    ----------
    case : the anatomy

    Returns
    -------
    Suitability
    """
    standing, why = _OUTFLOW[case.anatomy.lv_outflow]
    checks = (
        SuitabilityCheck(
            name="Left outflow", standing=standing, why=why, nearest=_nearest(standing, why)
        ),
        _valve(case),
        *_recorded_against(case),
    )
    shown = all(check.standing == "shown" for check in checks)
    sentence = (
        "Nothing recorded about the left outflow and the pulmonary valve speaks against a switch."
        if shown
        else f"Not shown: {lacking(checks)}. {nearest(checks)}"
    )
    return Suitability(standing="shown" if shown else "not shown", sentence=sentence, checks=checks)


def _valve(case: Case) -> SuitabilityCheck:
    stated = case.anatomy.pulmonary_valve
    if stated is None:
        return SuitabilityCheck(
            name="Pulmonary valve",
            standing="not shown",
            why=NOT_STATED,
            nearest=(LOOK, OTHER_ROUTES),
        )
    standing: Standing = "shown" if stated == "normal" else "not shown"
    why = f"{stated} by what is recorded"
    return SuitabilityCheck(
        name="Pulmonary valve", standing=standing, why=why, nearest=_nearest(standing, why)
    )


def _recorded_against(case: Case) -> tuple[SuitabilityCheck, ...]:
    found: list[SuitabilityCheck] = []
    if case.anatomy.coronary_transfer == "untransferable":
        found.append(
            SuitabilityCheck(
                name="Coronary arteries",
                standing="not shown",
                why="recorded as untransferable",
                nearest=(LEAVE_THEM,),
            )
        )
    if case.anatomy.lung_vessels == "diseased":
        found.append(
            SuitabilityCheck(
                name="Lung vessels",
                standing="not shown",
                why="pulmonary vascular disease is recorded",
                nearest=(MEASURE,),
            )
        )
    return tuple(found)


def _nearest(standing: Standing, why: str) -> tuple[str, ...]:
    if standing == "shown":
        return ()
    return (LOOK, OTHER_ROUTES) if why == NOT_STATED else (OTHER_ROUTES,)


def lacking(checks: tuple[SuitabilityCheck, ...]) -> str:
    """What is not shown, in words; empty where all is."""
    return "; ".join(
        f"{check.name.lower()} ({check.why})" for check in checks if check.standing != "shown"
    )


def nearest(checks: tuple[SuitabilityCheck, ...]) -> str:
    """What can be done about each thing that is not shown, said once."""
    return " ".join(dict.fromkeys(told for check in checks for told in check.nearest))
