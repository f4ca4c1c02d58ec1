"""The repair as a page behind the team brief, where the coronary pattern is recorded."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.base.errors import InseriesError
from inseries.desk.repair import planned
from inseries.desk.repair_page import further_page
from inseries.desk.repair_plan import plan_of
from inseries.desk.repair_words import cautions

if TYPE_CHECKING:
    from inseries.brief.view import FurtherPage
    from inseries.case import Case
    from inseries.desk.urgency import Urgency


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairInBrief:
    """Pages of the repair, and sentences that say why there is none."""

    pages: tuple[FurtherPage, ...] = ()
    untold: tuple[str, ...] = ()


NO_REPAIR = RepairInBrief()


def repair_in_brief(record: Case, pressing: Urgency, seed: int) -> RepairInBrief:
    """How the pieces fit, for the brief.

    Parameters
    ----------
    record : the case
    pressing : today's urgency; no plan of an operation stands behind an emergency
    seed : start of the random numbers

    Returns
    -------
    RepairInBrief; empty where no coronary pattern is recorded
    """
    if record.anatomy.coronary is None or pressing.level == "emergency":
        return NO_REPAIR
    try:
        plan = plan_of(record)
        result = planned(record, plan, pressing, seed=seed)
    except InseriesError as error:
        return RepairInBrief(untold=(f"How the pieces fit is not told: {error.what}.",))
    said = tuple(item.text for item in cautions(plan, result))
    return RepairInBrief(pages=(further_page(result, said),))
