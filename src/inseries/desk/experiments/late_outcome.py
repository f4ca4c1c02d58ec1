"""Decades after a switch, against published series: gradients by technique, reintervention, root.

A series does not tell its repairs, gaps and patch shares one by one. What stands against it is a
band: the repairs and patch shares that were in use, or the published courses of the root. Told is
the value in our band that lies nearest to the published one.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.outlook import (
    crossing,
    frame_of,
    root_courses,
    root_references,
    site_courses,
    start_of,
    tensions,
)
from inseries.outlook.root import WIDE_Z
from inseries.repair import number as repair_number

if TYPE_CHECKING:
    from inseries.outlook import Frame, SiteCourse
    from inseries.outlook.numbers import Floats
    from inseries.prior.constants import Constants

# chosen: a boy of usual size, operated in the second week
DRAWS, SEED, DIGEST, OPERATION_DAYS = 400, 1, "late outcome", 8.0
# published: limited_button2012, whole sinuses cut out need a patch over about two thirds
SINUS_SHARE = 2.0 / 3.0
# published: pulmonary_three_methods counts more than 30 mmHg
NARROW_MMHG = 30.0
# chosen: its follow-up was not read; ten years
NARROW_YEARS = 10.0
# common practice: surgery is offered above 50 mmHg
OFFERED_MMHG = 50.0
# published: cleuziou2019, williams_chss; free of reintervention by year, %
RIGHT_PCT = {"right_1_y": (1.0, 96.0), "right_10_y": (10.0, 89.0), "right_25_y": (25.0, 83.0),
             "right_chss_10_y": (10.0, 83.0)}  # fmt: skip
# published: schwartz2004, root below Z 3 by year, %
ROOT_PCT = {"root_1_y": (1.0, 97.0), "root_2_y": (2.0, 92.0), "root_5_y": (5.0, 82.0),
            "root_10_y": (10.0, 51.0)}  # fmt: skip
# published: limited_button2012, mean follow-up, years
BUTTON_YEARS = 5.5


def late_outcome(constants: Constants | None = None) -> dict[str, float]:
    """Shares above 30 mmHg by technique, and what lies nearest to published freedom.

    Parameters
    ----------
    constants : not used: nothing of an outlook is calibrated

    Returns
    -------
    dict of str to float, % or mmHg
    """
    del constants
    frame = frame_of(
        "male", z=0.0, operation_days=OPERATION_DAYS, draws=DRAWS, seed=SEED, digest=DIGEST
    )
    few, many = repairs(frame)
    direct, fresh, _, inert = many
    told = {
        "above_30_direct_pct": _above(frame, direct),
        "above_30_fresh_pct": _above(frame, fresh),
        "above_30_xenograft_pct": _above(frame, inert),
        "limited_button_mmhg": float(
            np.maximum(few[0].greatest, few[0].valve)[frame.at(BUTTON_YEARS)].mean()
        ),
    }
    free = [100.0 * (1.0 - crossing(each.greatest, OFFERED_MMHG)) for each in (*few, *many)]
    told |= {f"{n}_pct": _nearest(frame, free, *at) for n, at in RIGHT_PCT.items()}
    free = root_freedom(frame)
    return told | {f"{n}_pct": _nearest(frame, free, *at) for n, at in ROOT_PCT.items()}


def repairs(frame: Frame) -> tuple[tuple[SiteCourse, ...], tuple[SiteCourse, ...]]:
    """All repairs with two small buttons cut out, and with whole sinuses cut out."""
    start = start_of(frame, relation_deg=repair_number("relation_anterior_right"))
    tension = tensions(frame, start)
    wide = replace(start, patch_share=SINUS_SHARE)
    return site_courses(frame, start, tension), site_courses(frame, wide, tension)


def root_freedom(frame: Frame) -> list[Floats]:
    """Share of the draws below Z 3 so far by each published course of the root, %, by age."""
    start = start_of(frame, relation_deg=repair_number("relation_anterior_right"))
    table = root_references(frame)[0]
    return [
        100.0 * (1.0 - crossing(table.z(each.root_mm), WIDE_Z))
        for each in root_courses(frame, start)
    ]


def _above(frame: Frame, course: SiteCourse) -> float:
    return 100.0 * float(crossing(course.site, NARROW_MMHG)[frame.at(NARROW_YEARS)])


def _nearest(frame: Frame, free: list[Floats], year: float, published: float) -> float:
    """The published value where it lies in our band, else the end of the band next to it."""
    at = [float(each[frame.at(year)]) for each in free]
    return float(np.clip(published, min(at), max(at)))
