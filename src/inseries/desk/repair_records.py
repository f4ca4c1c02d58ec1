"""What the verb ``repair`` finds, as records."""

from __future__ import annotations

from dataclasses import dataclass

from inseries.base.findings import Estimate  # noqa: TC001 - read by the schema at run time
from inseries.desk.published import Published  # noqa: TC001 - read by the schema at run time
from inseries.desk.repair_plan import UsedSize  # noqa: TC001 - read by the schema at run time
from inseries.desk.suitability import Suitability  # noqa: TC001 - read by the schema
from inseries.desk.urgency import Urgency  # noqa: TC001 - read by the schema at run time
from inseries.draw.patch_sheet import PatchSheet  # noqa: TC001 - read by the schema
from inseries.draw.repair_view import RepairView  # noqa: TC001 - read by the schema
from inseries.draw.switch_view import SwitchView  # noqa: TC001 - read by the schema


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceTold:
    """A place for a button on the new aorta.

    Parameters
    ----------
    angle_deg : from the front of the chest, positive to the patient's left
    clock_hour : on a clock seen from the feet, twelve at the front
    height_mm : above the hinge of the valve
    opening : punch, or a hinged flap that opens toward the vessel
    swing_deg : how far the button's face is turned in the section
    take_off_deg : between vessel and wall, 90 at right angles
    to_hinge_mm, to_commissure_mm, to_lung_artery_mm : distances kept
    near_region : whether it lies in or near the region of concern for this button
    cost : what the search makes least; compares places of one button and nothing else
    """

    angle_deg: float
    clock_hour: float
    height_mm: float
    opening: str
    swing_deg: float
    take_off_deg: float
    to_hinge_mm: float
    to_commissure_mm: float
    to_lung_artery_mm: float
    near_region: bool
    cost: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ButtonTold:
    """One button, averaged over every plausible reading of the coronary pattern.

    Parameters
    ----------
    artery : arteries of the button in the stated pattern, such as ``LCx``
    course : usual, looping, intramural or single
    opening_mm : inner diameter, a healthy child's share of the annulus
    path_mm, rotation_deg, stretch_pct, kink_index : over the draws; None where no simple button
        can be cut
    kinks, in_region : shares of the draws bent past the limit of a thin tube, and within the region
        of concern; fractions
    best, runner_up : places by the stated pattern
    flat_deg, flat_mm : how far one can stray before the cost is a tenth more
    positions : places tried
    concern : in words; empty where none
    """

    artery: str
    course: str
    opening_mm: float
    path_mm: Estimate | None
    rotation_deg: Estimate | None
    stretch_pct: Estimate | None
    kink_index: Estimate | None
    kinks: float | None
    in_region: float | None
    best: PlaceTold | None
    runner_up: PlaceTold | None
    flat_deg: float | None
    flat_mm: float | None
    positions: int
    concern: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternTold:
    """One plausible reading of the coronary pattern: code, weight, code after the switch."""

    code: str
    weight: float
    code_after: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class MismatchTold:
    """Two ends of different size and how the difference is taken up.

    Parameters
    ----------
    larger : which end
    surplus_mm : circumference by which it exceeds the other
    oblique_deg, sensible_deg : cut of the smaller end that would take up all, and what is sensible
    gather : spacing of stitches on the larger over the smaller end
    inset_mm : circumference that the buttons let into the smaller end add
    left_mm, dart_deg : what is left for a dart, and its angle
    """

    larger: str
    surplus_mm: Estimate
    oblique_deg: float
    sensible_deg: float
    gather: float
    inset_mm: float
    left_mm: float
    dart_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WayTold:
    """One way to lead the lung artery to its new root.

    Parameters
    ----------
    way : Lecompte, spiral, or shifted toward the right branch
    gap_mm : between the cut ends once the branches are freed; negative means slack
    gained_mm : by freeing the branches
    tension : stretch of a direct join, gap over the freed length of both branches, a fraction
    branch_area_pct : area of a branch bent over the aorta, of its round one
    bronchus_mm : between left branch and left main bronchus
    meets : share of the draws in which the ends meet without stretch, a fraction
    """

    way: str
    gap_mm: Estimate
    gained_mm: Estimate
    tension: Estimate
    branch_area_pct: Estimate
    bronchus_mm: Estimate
    meets: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PatchTold:
    """A piece to be cut from a flat sheet.

    Parameters
    ----------
    name : one piece, piece 1, piece 2
    outline_mm, stitch_mm : closed lines, x to the right and y upward: to cut, and of the suture
    area_mm2 : within the suture, over the draws of sizes
    cut_mm2 : of the whole piece
    girth_mm, inert_share : wall that it makes up where it is widest; of the girth there, a fraction
    seam_mm, inner_seam_mm : allowance beyond the suture, and between the legs
    """

    name: str
    outline_mm: tuple[tuple[float, float], ...]
    stitch_mm: tuple[tuple[float, float], ...]
    area_mm2: Estimate
    cut_mm2: float
    girth_mm: float
    inert_share: float
    seam_mm: float
    inner_seam_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteTold:
    """One repaired site on the day of the operation, as an outlook starts from it.

    Parameters
    ----------
    name : which site and how it is closed
    diameter_mm : then
    inert_share : share of its girth that will not grow if the patch does not, a fraction
    tension : stretch tied down at it, a fraction; None where none is asked of it
    """

    name: str
    diameter_mm: Estimate
    inert_share: Estimate
    tension: Estimate | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairFindings:
    """How the pieces fit.

    Parameters
    ----------
    sizes : what it starts from, measured or expected, and how each is known
    relation_deg, relation_said : where the aorta lies, positive to the right
    seen_from : viewpoint of every angle
    pattern, certainty : as stated
    readings : every plausible reading of it
    code_after : Leiden code after the switch, by where the buttons then lie
    buttons : averaged over the readings
    mismatch_ratio, mismatch : of the two aortic ends
    lung_mismatch_ratio : of the two ends of the lung artery
    way, gap_mm, direct_tension : of the usual way for this relation of the arteries
    ways : all of them
    patch : in one piece where there is room for it, else the first of two
    patches : every piece
    sites : as an outlook starts from them
    published : rows beside the geometry and no part of it
    picture_steps : what every step of the switch is drawn from
    page, patch_page, drawing : files written, empty where none was asked for
    """

    age_days: float
    surface_m2: float
    urgency: Urgency
    suitability: Suitability
    sizes: tuple[UsedSize, ...]
    relation_deg: float
    relation_said: str
    height_said: str
    seen_from: str
    pattern: str
    certainty: str
    readings: tuple[PatternTold, ...]
    code_after: str | None
    buttons: tuple[ButtonTold, ...]
    mismatch_ratio: Estimate
    mismatch: MismatchTold
    lung_mismatch_ratio: Estimate
    way: str
    gap_mm: Estimate
    direct_tension: Estimate
    ways: tuple[WayTold, ...]
    patch: PatchTold
    patches: tuple[PatchTold, ...]
    one_piece_refused: str
    sites: tuple[SiteTold, ...]
    published: tuple[Published, ...]
    what: str
    why: str
    how_sure: str
    picture: RepairView
    picture_steps: SwitchView
    sheet: PatchSheet
    page: str = ""
    patch_page: str = ""
    drawing: str = ""

    @property
    def sentences(self) -> tuple[str, str, str]:
        """What, why, how sure."""
        return self.what, self.why, self.how_sure
