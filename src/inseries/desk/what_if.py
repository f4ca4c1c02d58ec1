"""What a change at the bedside would do within minutes, its harm beside its gain."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from inseries.base.numbers import read_numbers
from inseries.desk.readouts import Body, Readouts, readouts
from inseries.evidence.rows import rows_on
from inseries.routes import with_atrial_defect, with_duct

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit
    from inseries.circuit.readouts import Readings
    from inseries.course.walls import Walls
    from inseries.prior.baby import Baby


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIf:
    """One change: its read-outs and its harms."""

    change: str
    readouts: Readouts
    harms: tuple[str, ...]


@lru_cache(maxsize=1)
def sizes_of_change() -> dict[str, float]:
    """How large each change is taken to be."""
    return {
        name: number.value for name, number in read_numbers("inseries.desk", "what_if.toml").items()
    }


def what_ifs(
    baby: Baby, readings: Readings, walls: Walls, body: Body, age: float
) -> tuple[WhatIf, ...]:
    """Every change that makes sense for this baby.

    Parameters
    ----------
    baby, readings, walls, body, age : the draws, their beat now, their walls and size

    Returns
    -------
    tuple of WhatIf; volume and systemic tone as they are now
    """
    now = readings.orbit.as_regulated()
    return tuple(
        WhatIf(
            change=name,
            readouts=readouts(baby.read(circuit, None), walls, baby.traits["echo_over_cmr"], body),
            harms=harms,
        )
        for name, circuit, harms in _changes(baby, now, age)
    )


def _changes(baby: Baby, now: Circuit, age: float) -> list[tuple[str, Circuit, tuple[str, ...]]]:
    size = sizes_of_change()
    found: list[tuple[str, Circuit, tuple[str, ...]]] = []
    if float(baby.atrial_mm(age).mean()) < size["tear_worth_trying_below"]:
        found.append(("Septostomy", with_atrial_defect(now, size["tear"]), _septostomy_harms()))
    duct = baby.story.duct_mm(age)
    if duct > 0.0:
        found.append(("The duct closes", with_duct(now, 0.0), _closing_harms()))
    else:
        found.append(
            (
                "Prostaglandin reopens the duct",
                with_duct(now, size["open_duct"]),
                prostaglandin_harms(),
            )
        )
    if baby.story.inspired_fraction(age) < size["oxygen_worth_trying_below"]:
        found.append(("Pure oxygen to breathe", _oxygen(now), _oxygen_harms()))
    return found


def _oxygen(now: Circuit) -> Circuit:
    size = sizes_of_change()
    lungs = now.edge("lungs").resistance_mmhg_s_ml * size["oxygen_lung_resistance"]
    return now.with_edge("lungs", resistance_mmhg_s_ml=lungs).with_blood(
        inspired_fraction=size["oxygen_inspired"]
    )


def prostaglandin_harms() -> tuple[str, ...]:
    """Harms of prostaglandin, with what was published beside."""
    counted = tuple(row.text for row in rows_on("prostaglandin"))
    return (
        "Apnoea, more at higher dose and low weight: think of the airway on transport. Low "
        "arterial pressure. Rebound when it stops.",
        *counted,
    )


def _septostomy_harms() -> tuple[str, ...]:
    return (
        "A procedure, with its own risk to rhythm, vessels and brain; series contradict each other "
        "on brain injury.",
        "The left ventricle fills and works less afterwards, and goes on losing mass.",
        "A poor response is possible: high lung resistance, low filling, streaming; little to gain "
        "above 65 %.",
    )


def _closing_harms() -> tuple[str, ...]:
    return (
        "Less mixing; the left ventricle loses its load and shrinks faster.",
        "With a tight atrial septum saturation may fall at once.",
    )


def _oxygen_harms() -> tuple[str, ...]:
    return (
        "Lung resistance falls: the left ventricle loses load; the duct may narrow.",
        "What is gained is oxygen dissolved behind the lungs: it does not replace mixing.",
    )
