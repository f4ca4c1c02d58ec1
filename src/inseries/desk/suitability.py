"""Is a switch the operation? The left outflow and the pulmonary valve become the body's."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from inseries.case.record import Case, LvOutflow

Standing = Literal["shown", "not shown"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SuitabilityCheck:
    """One precondition: its name, whether it is shown, and on what grounds."""

    name: str
    standing: Standing
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Suitability:
    """Shown only when every precondition is."""

    standing: Standing
    sentence: str
    checks: tuple[SuitabilityCheck, ...]


_OUTFLOW: dict[LvOutflow | None, tuple[Standing, str]] = {
    LvOutflow.OPEN: ("shown", "open by what is recorded"),
    LvOutflow.DYNAMIC: (
        "shown",
        "dynamic: taken to yield when the septum moves back; if it does not, its gradient stays in "
        "the body's path",
    ),
    LvOutflow.FIXED: ("not shown", "fixed: it would stay in the body's path with its gradient"),
    LvOutflow.VALVAR: ("not shown", "valvar: the narrowed valve would become the body's"),
    None: ("not shown", "not stated"),
}
OTHER_ROUTES = (
    "Rastelli-type and root-translocation operations, which answer a narrow left outflow, are out "
    "of scope here."
)


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
        SuitabilityCheck(name="Left outflow", standing=standing, why=why),
        _valve(case),
    )
    shown = all(check.standing == "shown" for check in checks)
    sentence = (
        "Nothing recorded about the left outflow and the pulmonary valve speaks against a switch."
        if shown
        else f"Not shown: {_lacking(checks)}. {OTHER_ROUTES}"
    )
    return Suitability(standing="shown" if shown else "not shown", sentence=sentence, checks=checks)


def _valve(case: Case) -> SuitabilityCheck:
    stated = case.anatomy.pulmonary_valve
    if stated is None:
        return SuitabilityCheck(name="Pulmonary valve", standing="not shown", why="not stated")
    normal = stated == "normal"
    return SuitabilityCheck(
        name="Pulmonary valve",
        standing="shown" if normal else "not shown",
        why=f"{stated} by what is recorded",
    )


def _lacking(checks: tuple[SuitabilityCheck, ...]) -> str:
    return "; ".join(
        f"{check.name.lower()} {check.why}" for check in checks if check.standing != "shown"
    )
