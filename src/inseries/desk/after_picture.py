"""The circulation on the first day after a switch as a picture: two loops joined into one ring."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from inseries.base.ages import age_words
from inseries.circuit.orbit import find_orbit
from inseries.circuit.readouts import read
from inseries.desk.pictures import loops_view
from inseries.desk.readouts import body_at
from inseries.prior.bypass import usual_after_bypass
from inseries.routes import arterial_switch

if TYPE_CHECKING:
    from inseries.draw.views import LoopsView
    from inseries.prior.narrow import Narrowed

if TYPE_CHECKING:
    from inseries.draw.views import LoopsView
    from inseries.prior.narrow import Narrowed

# chosen: filling after bypass stops here, mmHg; the survivable tier's limit
FILLING_MMHG = 15.0


def after_switch_view(today: Narrowed) -> LoopsView:
    """The ring that a switch today would make, bypass at its middle, filled to the body's need.

    Parameters
    ----------
    today : narrowed draws; the one nearest the middle is drawn

    Returns
    -------
    LoopsView, topology ``"series"``
    """
    baby, age = today.baby, today.age_days
    relieved = baby.story.outflow_yields
    circuit = arterial_switch(
        baby.unrepaired(age, today.walls), usual_after_bypass(), relieve_outflow=relieved
    )
    held = replace(baby.regulation(age), filling_mmhg=FILLING_MMHG)
    readings = read(find_orbit(circuit, held, check=False))
    return loops_view(
        readings,
        body_at(baby, age),
        title=f"One ring: the first day after a switch at {age_words(age)} (computed)",
        figure_id="ring",
        sizes_mm={},
        tight=False,
    )
