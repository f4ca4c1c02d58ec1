"""What a change at the bedside would do within minutes, its harm beside its gain."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from inseries.base.numbers import read_numbers
from inseries.desk.readouts import Body, Readouts, readouts
from inseries.evidence.rows import rows_on
from inseries.prior.actions import Action, Kind, with_actions

if TYPE_CHECKING:
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
def when_worth_asking() -> dict[str, float]:
    """When a change is worth asking about."""
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

    def changed(action: Action) -> Readings:
        """The beat minutes after an action."""
        other = baby.with_story(with_actions(baby.story, [action]))
        return other.read(readings.orbit.regulating(other.circuit(age, walls)), None)

    return tuple(
        WhatIf(
            change=name,
            readouts=readouts(changed(action), walls, baby.traits["echo_over_cmr"], body),
            harms=harms,
        )
        for name, action, harms in _changes(baby, age)
    )


def _changes(baby: Baby, age: float) -> list[tuple[str, Action, tuple[str, ...]]]:
    worth = when_worth_asking()
    found: list[tuple[str, Action, tuple[str, ...]]] = []
    if float(baby.atrial_mm(age).mean()) < worth["tear_worth_trying_below"]:
        found.append(("Septostomy", _now(Kind.SEPTOSTOMY, age), _septostomy_harms()))
    if baby.story.duct_mm(age) > 0.0:
        found.append(("The duct closes", _now(Kind.DUCT_CLOSES, age), _closing_harms()))
    else:
        action = _now(Kind.PROSTAGLANDIN, age)
        found.append(("Prostaglandin reopens the duct", action, prostaglandin_harms()))
    if baby.story.inspired_fraction(age) < worth["oxygen_worth_trying_below"]:
        found.append(("Pure oxygen to breathe", _now(Kind.OXYGEN, age), _oxygen_harms()))
    found.append(("An inotrope", _now(Kind.INOTROPE, age), _inotrope_harms()))
    return found


def _now(kind: Kind, age: float) -> Action:
    return Action(kind=kind, age_days=age)


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


def _inotrope_harms() -> tuple[str, ...]:
    return (
        "The heart needs more oxygen than before, and its rhythm may suffer.",
        "A stronger heart does not mix more: with a tight septum saturation stays low.",
    )
