"""Coronary openings where they were measured, and in the middle of their sinuses elsewhere."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from inseries.base.errors import RouteNotPossible
from inseries.repair import button, buttons_of
from inseries.repair.roots import SINUS_DEG

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.repair import Button, Pattern, TwoRoots

ARTERIES = ("L", "Cx", "R")


def opened(
    pattern: Pattern,
    roots: TwoRoots,
    *,
    said: Mapping[str, float],
    intramural: bool,
    height_mm: float,
) -> tuple[Button, ...]:
    """The buttons of a pattern.

    Parameters
    ----------
    pattern, roots : which
    said : artery to degrees from the facing commissure into its own sinus, where measured
    intramural, height_mm : as of ``buttons_of``

    Raises
    ------
    RouteNotPossible, code ``no_artery`` or ``outside_sinus``
    """
    _refuse_unknown(said)
    usual = buttons_of(pattern, roots, intramural=intramural, height_mm=height_mm)
    return tuple(_moved(each, pattern, roots, said) for each in usual)


def _moved(usual: Button, pattern: Pattern, roots: TwoRoots, said: Mapping[str, float]) -> Button:
    named = [name for name in usual.arteries if name in said]
    if not named:
        return usual
    into = said[named[0]]
    if not 0.0 <= into <= SINUS_DEG:
        raise RouteNotPossible(
            "this coronary opening lies outside any sinus that faces the other root",
            code="outside_sinus",
            where=f"opening of {named[0]}",
            value=into,
            unit="deg",
            remedy="0 to 120 degrees from the facing commissure into the artery's own sinus.",
        )
    side = -1.0 if named[0] in pattern.sinus_1 else 1.0
    placed = button(
        usual.arteries,
        roots,
        angle_deg=roots.aortic.commissure_deg + side * into,
        height_mm=usual.height_mm,
    )
    return replace(placed, course=usual.course)


def _refuse_unknown(said: Mapping[str, float]) -> None:
    unknown = [name for name in said if name not in ARTERIES]
    if unknown:
        raise RouteNotPossible(
            "there is no coronary artery of this name",
            code="no_artery",
            where="opening",
            value=unknown[0],
            remedy="L, Cx or R, such as --opening L=60.",
        )
