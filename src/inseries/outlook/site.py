"""The site above the new lung valve on the day of the operation: girth, inert share, tension."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.base.errors import RouteNotPossible
from inseries.outlook.numbers import number
from inseries.repair import Way, join, missing_share, two_roots, usual_lung_artery
from inseries.repair import number as repair_number
from inseries.repair import spread as repair_spread

if TYPE_CHECKING:
    from inseries.outlook.baby import Frame
    from inseries.outlook.numbers import Floats
    from inseries.repair import LungArtery, TwoRoots

# derived: ostium with a rim of wall on both sides
RIMS = 2.0
# chosen: an opening of a button in a newborn, mm; with its rims a button of 6 mm
OPENING_MM = 1.0
# chosen: columns of further draws, one for each length of the lung artery
BRANCH, HILA, RESECTED, TRUNK, ROOM = range(5)


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """Sizes on the day of the operation, mm.

    Parameters
    ----------
    aortic_root_mm, pulmonary_root_mm : native roots; the pulmonary one becomes the aorta's
    upper_mm, lower_mm : ends to be joined: lung trunk, and the native aorta above its sinuses
    annulus_mm : native aortic annulus, now before the lungs
    right_mm, left_mm : branches
    relation_deg : where the aorta lay
    patch_share : share of the girth that was cut away with the buttons
    gap_mm : gap between the cut ends where it is known, None by usual lengths
    measured : names of what was measured in this baby
    """

    aortic_root_mm: float
    pulmonary_root_mm: float
    upper_mm: float
    lower_mm: float
    annulus_mm: float
    right_mm: float
    left_mm: float
    relation_deg: float
    patch_share: float
    gap_mm: float | None
    measured: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tension:
    """What a join of the lung artery bears in each draw; arrays, shape (n,).

    Parameters
    ----------
    gap_mm : between the cut ends once the branches are freed; negative means slack
    stretch : gap over the freed length of both branches
    branch_share : area of a branch bent over the aorta, over its round one
    """

    gap_mm: Floats
    stretch: Floats
    branch_share: Floats


def start_of(
    frame: Frame,
    *,
    relation_deg: float,
    seen_mm: dict[str, float] | None = None,
    patch_share: float | None = None,
    gap_mm: float | None = None,
) -> Start:
    """Sizes at the operation: those measured, the usual ones of the body for the rest.

    Parameters
    ----------
    frame : Frame
    relation_deg : float, where the aorta lies, positive to the right
    seen_mm : measured sizes by name: ``aortic_annulus_mm``, ``aortic_root_mm``,
        ``pulmonary_root_mm``, ``right_pulmonary_artery_mm``, ``left_pulmonary_artery_mm``
    patch_share : float, share of the girth to be closed with a patch; by two buttons if None
    gap_mm : float, gap between the cut ends; by usual lengths if None

    Raises
    ------
    RouteNotPossible : a share that is none, or a negative gap
    """
    seen = seen_mm or {}
    _refuse_share(patch_share)
    _refuse_gap(gap_mm)

    def size(name: str) -> float:
        return seen.get(name) or float(frame.usual_mm(name)[0])

    root = size("aortic_root_mm")
    width = OPENING_MM + RIMS * repair_number("rim")
    share = missing_share(root, (width, width)) if patch_share is None else patch_share
    return Start(
        aortic_root_mm=root,
        pulmonary_root_mm=seen.get("pulmonary_root_mm") or usual_root_mm(frame),
        upper_mm=size("pulmonary_trunk_mm"),
        lower_mm=root * _junction_over_root(frame),
        annulus_mm=size("aortic_annulus_mm"),
        right_mm=size("right_pulmonary_artery_mm"),
        left_mm=size("left_pulmonary_artery_mm"),
        relation_deg=relation_deg,
        patch_share=share,
        gap_mm=gap_mm,
        measured=tuple(seen),
    )


def usual_root_mm(frame: Frame) -> float:
    """Native pulmonary root at the usual start Z by the aortic table, mm."""
    usual = float(frame.usual_mm("aortic_root_mm")[0])
    return usual * (1.0 + number("root_start_z") * ROOT_SD_SHARE)


# published: lopez2017, SD over mean of the aortic root at the sinuses
ROOT_SD_SHARE = 1.8 / 20.6


def _junction_over_root(frame: Frame) -> float:
    return float(frame.usual_mm("sinotubular_junction_mm")[0] / frame.usual_mm("aortic_root_mm")[0])


def tensions(frame: Frame, start: Start) -> Tension:
    """Gap, stretch and flattened branches of a direct join by Lecompte's manoeuvre, in each draw.

    Branches are freed as far as is needed, up to a limit; what gap is left then is pulled together,
    again up to a limit.
    """
    roots = two_roots(
        aortic_mm=start.aortic_root_mm,
        pulmonary_mm=start.pulmonary_root_mm,
        relation_deg=start.relation_deg,
    )
    joins = [_tied(lung, roots, start.gap_mm) for lung in _lungs(frame, start)]
    gap, stretch, share = np.array(joins).T
    return Tension(gap_mm=gap, stretch=stretch, branch_share=share)


def _lungs(frame: Frame, start: Start) -> list[LungArtery]:
    """Lung arteries of usual lengths, each draw its own; longer bodies have longer ones."""
    usual = usual_lung_artery((start.right_mm + start.left_mm) / 2.0)
    larger = float(np.sqrt(frame.surface_m2[0] / NEWBORN_M2))

    def drawn(name: str, column: int) -> Floats:
        middle, sd = repair_number(name), repair_spread(name)
        return larger * np.maximum(middle + sd * frame.extra(column), 0.2 * middle)

    lengths = zip(
        drawn("branch_length", BRANCH),
        drawn("hilar_width", HILA),
        drawn("resected", RESECTED),
        drawn("trunk_left", TRUNK),
        strict=True,
    )
    return [
        replace(
            usual,
            branch_mm=max(float(branch), float(hila) / 2.0),
            hilar_mm=float(hila),
            resected_mm=float(lost),
            trunk_mm=float(trunk),
        )
        for branch, hila, lost, trunk in lengths
    ]


# derived: body surface of the newborn that the lengths of the repair were chosen for, m²
NEWBORN_M2 = 0.2244


def _tied(lung: LungArtery, roots: TwoRoots, gap_mm: float | None) -> tuple[float, float, float]:
    """Gap left once freed, stretch tied down, and the branch's area there over its round one."""
    freed = replace(lung, mobilisation=number("greatest_mobilisation"))
    usual = join(freed, roots, Way.LECOMPTE).gap_mm
    left = usual if gap_mm is None else gap_mm
    most = 2.0 * freed.branch_mm * number("greatest_tension")
    tied = float(np.clip(left, 0.0, most))
    moved = replace(freed, resected_mm=freed.resected_mm + tied - usual)
    made = join(moved, roots, Way.LECOMPTE)
    return left, made.tension, max(made.area_share, number("least_branch_share"))


def _refuse_share(share: float | None) -> None:
    if share is not None and not 0.0 < share <= 1.0:
        raise RouteNotPossible(
            "a patch makes up a share of the girth",
            code="share_out_of_bounds",
            where="patch share",
            value=share,
            remedy="more than 0, at most 1 for a whole ring.",
        )


def _refuse_gap(gap_mm: float | None) -> None:
    if gap_mm is not None and not 0.0 <= gap_mm <= MOST_GAP_MM:
        raise RouteNotPossible(
            "a gap between two ends is none or some millimetres",
            code="gap_out_of_bounds",
            where="gap",
            value=gap_mm,
            unit="mm",
            remedy=f"0 where the ends meet, at most {MOST_GAP_MM:g} mm.",
        )


# chosen: more is a slip of the pen in a newborn
MOST_GAP_MM = 40.0
