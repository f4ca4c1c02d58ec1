"""What rules a route out beforehand: outflow, valve, coronaries, lung vessels."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from inseries.desk.routes_plan import routes_numbers
from inseries.desk.suitability import MEASURE, SuitabilityCheck, suitability

if TYPE_CHECKING:
    from inseries.case import Case
    from inseries.desk.suitability import Standing
    from inseries.prior.baby import Baby


def switch_checks(case: Case, baby: Baby, age_days: float) -> tuple[SuitabilityCheck, ...]:
    """Preconditions of any arterial switch.

    Parameters
    ----------
    case : what is recorded of the anatomy
    baby : the draws, for lung resistance where nothing is recorded
    age_days : age at the operation

    Returns
    -------
    tuple of SuitabilityCheck
    """
    found = (*suitability(case).checks, lung_check(case, baby, age_days))
    return tuple(dict.fromkeys(found))


def lung_check(case: Case, baby: Baby, age_days: float) -> SuitabilityCheck:
    """Whether the lung vessels bear a repair."""
    stated = case.anatomy.lung_vessels
    if stated == "diseased":
        return _lungs("not shown", "pulmonary vascular disease is recorded")
    if stated == "normal":
        return _lungs("shown", "normal by what is recorded")
    n = routes_numbers()
    index = float(np.median(baby.lung_index(age_days)))
    told = f"resistance about {index:.0f} Wood units m², computed and not measured by catheter"
    measured = case.latest("pulmonary_artery_mean_mmhg") is not None
    if measured:
        told = f"resistance about {index:.0f} Wood units m² in draws that fit the pressure read"
    if age_days >= n["resistance_counts_from"] and index >= n["diseased_index"]:
        return _lungs("not shown", f"{told}: pulmonary vascular disease is not excluded")
    return _lungs("shown", told)


def _lungs(standing: Standing, why: str) -> SuitabilityCheck:
    return SuitabilityCheck(
        name="Lung vessels",
        standing=standing,
        why=why,
        nearest=(MEASURE,) if standing != "shown" else (),
    )
