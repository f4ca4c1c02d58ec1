"""Bands that are refused once the baby's own draws were looked at, each with what to try."""

from __future__ import annotations

from typing import TYPE_CHECKING, NoReturn

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.desk.band_plan import band_numbers
from inseries.desk.band_search import Tried, tightest_lumen_mm, tightest_mm

if TYPE_CHECKING:
    from inseries.prior.narrow import Narrowed
    from inseries.prior.traits import Floats


def refuse_loaded(present: float, today: Narrowed) -> NoReturn:
    """Refuses the usual band where the ventricle is near the body's pressure without one."""
    most, told = band_numbers()["greatest_ratio"], round(present, 2)
    less = f"; or a smaller step by `band --ratio`, above {told:g} and up to {most:g}"
    raise RouteNotPossible(
        f"the left ventricle works near the body's pressure{_loaded_by(today)}; a band that "
        f"trains would add {band_numbers()['step_above_present']:g} or more, and above the body's "
        "pressure none was published",
        code="loaded_already",
        where="left over right ventricular pressure without a band",
        value=told,
        remedy="no band (`window` tells how long this ventricle could carry the body without one)"
        f"{less if told < most else ''}",
    )


def _loaded_by(today: Narrowed) -> str:
    """What loads the left ventricle of this baby, as far as the record says."""
    story, age = today.baby.story, today.age_days
    there = {
        "a defect between the ventricles": story.ventricular_mm > 0.0,
        "a left outflow that narrows as it squeezes": story.outflow == "dynamic",
        "an open duct": story.duct_mm(age) > 0.0,
        "a shunt": story.shunt_mm(age) > 0.0,
    }
    found = [words for words, here in there.items() if here]
    return f", with {' and '.join(found)}" if found else ""


def refuse_beyond(
    looked: Tried, values: Floats, wanted: float, today: Narrowed, where: str
) -> NoReturn:
    """Refuses an aim that the tightest published band does not bring to most draws."""
    reached = float(np.median(values[:, 0]))
    ratio = values is looked.ratio
    near = np.floor(20.0 * reached) / 20.0 if ratio else np.floor(reached)
    weight = today.baby.story.weight_kg(today.age_days)
    later = "a later day" if where == "tighten" else "tightening again on a later day"
    raise RouteNotPossible(
        "that pressure needs a band tighter than any published one, and a ventricle that fails "
        "behind it is not part of the model",
        code="below_tested",
        where=where,
        value=wanted,
        unit="1" if ratio else "mm[Hg]",
        remedy=f"{near:g} or less, which {tightest_mm(weight):.1f} mm of circumference gives; "
        f"{later}; or a shunt beside the band",
    )


def refuse_below(today: Narrowed, circumference: float) -> None:
    """Refuses millimetres below the tightest published band."""
    weight = today.baby.story.weight_kg(today.age_days)
    least = tightest_mm(weight)
    if circumference < least:
        raise RouteNotPossible(
            "tighter than any published band, and a ventricle that fails behind it is not part of "
            "the model",
            code="below_tested",
            where="circumference",
            value=round(circumference, 1),
            unit="mm",
            remedy=f"{least:.1f} mm or more at this weight, a lumen of "
            f"{tightest_lumen_mm(weight):.1f} mm",
        )


def refuse_there(present: float, wanted: float, where: str) -> NoReturn:
    """Refuses a pressure asked for by a user that is there without a band."""
    raise RouteNotPossible(
        "that pressure is there already: it would train nothing",
        code="already_there",
        where=where,
        value=wanted,
        remedy=f"more than {present:.2f}" if present < 2.0 else f"more than {present:.0f} mmHg",
    )
