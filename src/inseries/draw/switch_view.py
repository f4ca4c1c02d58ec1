"""What the pictures of a switch are drawn from: millimetres, and where each piece begins and ends.

The frame is that of the repair: x toward the patient's left, y toward the front, z toward the head;
an angle counts from the front, positive toward the patient's left.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float, float]
Way = Literal["in front", "beside", "behind"]
# derived: places on the way, each a still picture: as born, cut across, buttons lifted, then
# sewn in, arteries crossed, wall closed, joined
STEPS = 7
BORN, CUT, LIFTED, SEWN, CROSSED, CLOSED, JOINED = range(STEPS)


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchRoot:
    """One arterial root: round, from the hinge of its valve to its junction.

    Attributes
    ----------
    x_mm, y_mm : float, centre
    hinge_mm, sinus_mm, end_mm : float, inner diameters at the hinge, the sinuses, the junction
    height_mm : float, of the junction above the hinge
    commissures_deg : tuple of float
    """

    x_mm: float
    y_mm: float
    hinge_mm: float
    sinus_mm: float
    end_mm: float
    height_mm: float
    commissures_deg: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchButton:
    """One coronary button with the first course of its vessel.

    Attributes
    ----------
    name : str, arteries that leave by it
    old_deg, old_height_mm : float, of its opening on the old aorta
    new_deg, new_height_mm : float or None, of its opening on the new aorta; None where no simple
        button can be cut
    width_mm, above_mm : float, of the piece of wall; from the opening up to the cut edge
    vessel_mm : float, outer width of the vessel
    before, after : tuple of (x, y, z), its course from the opening to where it is tethered
    flap : bool, whether the new aorta is opened by a hinged flap
    """

    name: str
    old_deg: float
    old_height_mm: float
    new_deg: float | None
    new_height_mm: float | None
    width_mm: float
    above_mm: float
    vessel_mm: float
    before: tuple[Point, ...]
    after: tuple[Point, ...]
    flap: bool

    @property
    def moves(self) -> bool:
        """Whether it is cut out and moved."""
        return self.new_deg is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchArteries:
    """The two great arteries beyond their roots.

    Attributes
    ----------
    aorta_mm, trunk_mm, branch_mm : float, diameters of ascending aorta, lung trunk, a lung branch
    trunk_left_mm : float, lung trunk left on the branches
    hilar_mm : float, from hilum to hilum
    parts_before_mm, parts_after_mm : float, where the branches part, in front of the new aorta's
        middle
    way : str, how the lung artery is led past the new aorta
    gap_mm : float, between the cut ends of the lung artery; negative means slack
    """

    aorta_mm: float
    trunk_mm: float
    branch_mm: float
    trunk_left_mm: float
    hilar_mm: float
    parts_before_mm: float
    parts_after_mm: float
    way: Way
    gap_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchPatch:
    """What closes the wall that went with the buttons.

    Attributes
    ----------
    waist_mm : float, height of a band that joins the pieces above the cut edge; 0 with separate
        pieces
    """

    waist_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchView:
    """A whole switch, from which every step is drawn.

    Attributes
    ----------
    title : str
    old_aorta, old_lung : SwitchRoot; the second becomes the root of the aorta
    buttons : tuple of SwitchButton
    arteries : SwitchArteries
    patch : SwitchPatch
    titles : tuple of str, of each step
    figure_id : str
    """

    title: str
    old_aorta: SwitchRoot
    old_lung: SwitchRoot
    buttons: tuple[SwitchButton, ...]
    arteries: SwitchArteries
    patch: SwitchPatch
    titles: tuple[str, ...]
    figure_id: str
