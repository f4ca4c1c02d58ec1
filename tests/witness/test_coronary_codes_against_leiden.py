"""Leiden codes against the two published conventions and the codes seen after a switch.

Sources: gittenberger2018 and koppel2022 (abstracts: surgical and imaging conventions give the same
code; the normal heart is 1R-2LCx); switch_ct30 (abstract: 30 adults after a switch, 1R-2LCx in
80 %, 1RCx-2L in 17 %, 2RLCx in 3 %). Codes are exact; nothing is tolerated.
"""

from __future__ import annotations

import pytest

from inseries.repair import code_on, sinus_imaging, sinus_surgical, two_roots

FACING = {1: -60.0, 2: 60.0}


@pytest.mark.parametrize("relation", [-30.0, 0.0, 30.0, 60.0, 90.0, 180.0])
def test_both_conventions_give_the_same_sinus(relation: float) -> None:
    """A surgeon looking in and an imager looking out number every position alike."""
    roots = two_roots(aortic_mm=9.6, pulmonary_mm=9.0, relation_deg=relation)
    for here, there in ((roots.aortic, roots.pulmonary), (roots.pulmonary, roots.aortic)):
        for step in range(-175, 180, 10):
            angle = here.commissure_deg + step
            seen = sinus_surgical(here, there.centre_mm, angle)
            assert seen == sinus_imaging(here, there.centre_mm, angle)


def test_the_normal_heart_is_coded_as_published() -> None:
    """With the aorta behind and to the right, the right artery in front is 1R-2LCx."""
    roots = two_roots(aortic_mm=9.6, pulmonary_mm=9.6, relation_deg=150.0)
    aorta = roots.aortic
    angles = {"R": 0.0, "L": 100.0, "Cx": 100.0}
    assert code_on(aorta, roots.pulmonary.centre_mm, angles) == "1R-2LCx"


@pytest.mark.parametrize(
    ("left", "circumflex", "right", "before", "after"),
    [(1, 1, 2, "1LCx-2R", "1R-2LCx"), (1, 2, 2, "1L-2RCx", "1RCx-2L"),
     (1, 1, 1, "1RLCx", "2RLCx")],
)  # fmt: skip
@pytest.mark.parametrize("relation", [0.0, 30.0])
def test_codes_after_a_switch_are_those_seen_by_ct(
    left: int, circumflex: int, right: int, before: str, after: str, relation: float
) -> None:
    """Arteries moved straight across to the facing sinuses have the codes seen in adults."""
    roots = two_roots(aortic_mm=9.6, pulmonary_mm=9.6, relation_deg=relation)
    aorta, new = roots.aortic, roots.pulmonary
    sinuses = {"L": left, "Cx": circumflex, "R": right}
    old = {name: aorta.commissure_deg + FACING[sinus] for name, sinus in sinuses.items()}
    across = {name: new.commissure_deg - FACING[sinus] for name, sinus in sinuses.items()}
    assert code_on(aorta, new.centre_mm, old) == before
    assert code_on(new, aorta.centre_mm, across) == after
