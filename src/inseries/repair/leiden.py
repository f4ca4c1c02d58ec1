"""The Leiden code of the coronary arteries: read, written, seen both ways, and computed anew.

The code follows from geometry. Surgical: stand in the non-facing sinus and look toward the other
valve; the right hand points at sinus 1. Imaging: on the page of a CT section, seen from the feet,
stand in the non-facing sinus with the back to the other valve; the page's right hand points at
sinus 1. The second page is a mirror of the first, so both give one code.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import CaseError
from inseries.repair.frames import SeenFrom, on_page, turned
from inseries.repair.numbers import number
from inseries.repair.roots import SINUS_DEG

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from inseries.repair.roots import Root

ARTERIES = ("L", "Cx", "R")
# The way each sinus is usually written; the order within a sinus differs between authors.
WRITTEN = ("R", "L", "Cx")
USUAL = "1LCx-2R"
CIRCUMFLEX_RIGHT = "1L-2RCx"
SPELLING = re.compile(r"^(?:1(?P<one>(?:L|Cx|R)+))?-?(?:2(?P<two>(?:L|Cx|R)+))?$")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """Which arteries leave which facing sinus; compared as sets, not by order."""

    sinus_1: frozenset[str]
    sinus_2: frozenset[str]

    @property
    def code(self) -> str:
        """The Leiden code, such as ``1LCx-2R``; a single origin is written alone."""
        sides = [("1", self.sinus_1), ("2", self.sinus_2)]
        return "-".join(f"{name}{_written(held)}" for name, held in sides if held)

    @property
    def single(self) -> bool:
        """Whether all arteries leave one sinus."""
        return not (self.sinus_1 and self.sinus_2)


def _written(held: frozenset[str]) -> str:
    return "".join(artery for artery in WRITTEN if artery in held)


def all_patterns() -> tuple[Pattern, ...]:
    """The eight ways in which three arteries can leave two sinuses, the usual one first."""
    found = [
        Pattern(
            sinus_1=frozenset(a for a, s in zip(ARTERIES, sides, strict=True) if s == 1),
            sinus_2=frozenset(a for a, s in zip(ARTERIES, sides, strict=True) if s != 1),
        )
        for sides in product((1, 2), repeat=len(ARTERIES))
    ]
    return tuple(sorted(found, key=lambda pattern: pattern.code != USUAL))


def read_pattern(text: str) -> Pattern:
    """A pattern from its code.

    Parameters
    ----------
    text : str, such as ``1LCx-2R``; older spellings (``1L,Cx;2R``, ``1LAD-2R,Cx``) are read too

    Raises
    ------
    CaseError, code ``not_leiden``, naming the nearest code

    Source: gittenberger2018, koppel2022
    """
    plain = re.sub(r"[,\s]", "", text).replace(";", "-").replace("LAD", "L").replace("AD", "L")
    match = SPELLING.match(plain)
    groups = [match["one"] or "", match["two"] or ""] if match else ["", ""]
    held = [re.findall(r"L|Cx|R", group) for group in groups]
    if sorted(held[0] + held[1]) != sorted(ARTERIES):
        raise CaseError(
            "this is no Leiden code",
            code="not_leiden",
            where="coronary pattern",
            value=text,
            remedy=f"{_nearest(plain)}, or another that names L, Cx and R once each.",
        )
    return Pattern(sinus_1=frozenset(held[0]), sinus_2=frozenset(held[1]))


def _nearest(text: str) -> str:
    codes = [pattern.code for pattern in all_patterns()]
    return next(iter(get_close_matches(text, codes, n=1, cutoff=0.0)), USUAL)


def sinus_surgical(root: Root, other_mm: NDArray[np.float64], angle_deg: float) -> int | None:
    """Sinus 1 or 2 of a position on a root as a surgeon numbers them; None where it faces away.

    Parameters
    ----------
    root : Root
    other_mm : array, shape (2,), centre of the other root, mm
    angle_deg : float, of the position on the root

    Source: gittenberger2018
    """
    look = other_mm - root.centre_mm
    return _hand(root, look, look, angle_deg, SeenFrom.HEAD)


def sinus_imaging(root: Root, other_mm: NDArray[np.float64], angle_deg: float) -> int | None:
    """Sinus 1 or 2 as an imager numbers them on a section seen from the feet; source koppel2022."""
    toward = other_mm - root.centre_mm
    return _hand(root, toward, -toward, angle_deg, SeenFrom.FEET)


def _hand(
    root: Root,
    toward: NDArray[np.float64],
    look: NDArray[np.float64],
    angle_deg: float,
    seen_from: SeenFrom,
) -> int | None:
    """The side of the line of sight on which a facing position lies, on one page."""
    if abs(float(turned(angle_deg - root.commissure_deg))) > SINUS_DEG:
        return None
    sight = on_page(look, seen_from)
    place = on_page(root.point_mm(angle_deg) - root.point_mm(root.commissure_deg), seen_from)
    right = float(place @ np.array([sight[1], -sight[0]]))
    return 1 if right > 0.0 else 2


def code_on(
    root: Root, other_mm: NDArray[np.float64], angles_deg: Mapping[str, float]
) -> str | None:
    """The code that arteries at angles on a root have, as a result of where they lie.

    Parameters
    ----------
    root : Root, the root that carries the coronaries: the new aorta after a switch
    other_mm : array, shape (2,), centre of the other great artery at that level, mm
    angles_deg : mapping of ``L``, ``Cx``, ``R`` to the angle of their opening

    Returns
    -------
    str, or None where an opening lies in the non-facing sinus, for which there is no number
    """
    sinuses = {name: sinus_surgical(root, other_mm, angle) for name, angle in angles_deg.items()}
    if None in sinuses.values():
        return None
    one = frozenset(name for name, sinus in sinuses.items() if sinus == 1)
    return Pattern(sinus_1=one, sinus_2=frozenset(sinuses) - one).code


def plausible_readings(code: str, certainty: str | None) -> tuple[tuple[Pattern, float], ...]:
    """Patterns that a stated code may be in truth, each with its weight; weights sum to one.

    Of 125 babies echo called 17 unusual and operation found 7 (mirzaaghayan2020): a call of
    unusual holds in at most 7 of 17; for a usual call half a case of 108 is granted. A confirmed
    pattern is taken as it is; one called likely is wrong half as often.

    Parameters
    ----------
    code : str, Leiden code
    certainty : str, ``confirmed``, ``likely``, ``uncertain`` or None, which counts as uncertain
    """
    said = read_pattern(code)
    if certainty == "confirmed":
        return ((said, 1.0),)
    wrong = _wrong(said) * (number("likely_factor") if certainty == "likely" else 1.0)
    shares = {each: _share(each) for each in all_patterns() if each != said}
    total = sum(shares.values())
    others = [(each, wrong * share / total) for each, share in shares.items()]
    return ((said, 1.0 - wrong), *others)


def _wrong(said: Pattern) -> float:
    called, found = number("echo_called_unusual"), number("found_unusual")
    if said.code != USUAL:
        return 1.0 - found / called
    return 0.5 / (number("echo_patients") - called + 1.0)


def _share(pattern: Pattern) -> float:
    """Share of hearts with a pattern: two are published, the rest share what is left evenly."""
    known = {
        USUAL: number("share_usual"),
        read_pattern(CIRCUMFLEX_RIGHT).code: number("share_circumflex_right"),
    }
    rest = (1.0 - sum(known.values())) / (len(all_patterns()) - len(known))
    return known.get(pattern.code, rest)
