"""Invented cases and draws that the tests of prior and desk share."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.case import Case, read_case
from inseries.course.walls import Walls, wall
from inseries.prior.baby import Baby
from inseries.prior.importance import Carried
from inseries.prior.observe import Observed
from inseries.prior.plain import plain_story
from inseries.prior.traits import Traits, spreads

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.prior.traits import Floats

HEAD = '[case]\nid = "thin-01"\nsex = "female"\n'
ANATOMY = '[anatomy]\nseptum = "intact"\nlv_outflow = "open"\npulmonary_valve = "normal"\n'
BIRTH = "[[readings]]\nage_h = 1\nweight_kg = 3.4\n"
# A baby of 30 hours with two readings that narrow: quick to compute.
THIN = (
    HEAD
    + ANATOMY
    + BIRTH
    + "[[readings]]\nage_h = 30\nspo2_right_hand_pct = 72\nlactate_mmol_l = 2\nlv_mass_g = 8\n"
    + 'lv_mass_method = "echo-2d"\n'
)


def baby_case(*entries: str, anatomy: str = ANATOMY) -> Case:
    """A girl of 3.4 kg at birth with further entries."""
    return read_case(HEAD + anatomy + BIRTH + "\n".join(entries) + "\n")


def reading(age_h: float, **values: float | str) -> str:
    """One reading of a case file."""
    lines = (f'{k} = "{v}"' if isinstance(v, str) else f"{k} = {v}" for k, v in values.items())
    return "\n".join(["[[readings]]", f"age_h = {age_h}", *lines])


def event(age_h: float, kind: str, **details: float) -> str:
    """One event of a case file."""
    lines = (f"{name} = {value}" for name, value in details.items())
    return "\n".join(["[[events]]", f"age_h = {age_h}", f'kind = "{kind}"', *lines])


def column(name: str) -> int:
    """Column of a trait in a matrix of draws."""
    return next(i for i, trait in enumerate(spreads()) if trait.name == name)


def seen(value: float, sd: float) -> Observed:
    """A reading whose model side is given elsewhere."""
    return Observed(
        key="anything",
        age_days=1.0,
        value=value,
        sd=sd,
        predict=lambda _r, w, _t: w.left.mass_g,
    )


def carried_by(answer: Callable[[Floats], Floats]) -> Callable[[Traits], Carried]:
    """A model without any circuit: draws to answers, shape (n, readings)."""
    story = replace(plain_story(), outflow="dynamic")

    def carry(traits: Traits) -> Carried:
        ones = np.ones(traits.members)
        one = wall(ones, ones)
        return Carried(
            baby=Baby(traits, story), walls=Walls(left=one, right=one), answers=answer(traits.z)
        )

    return carry
