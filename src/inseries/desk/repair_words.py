"""A repair in three sentences' worth of words, its cautions, and what the patch sheet says."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.base.findings import Caution, Severity
from inseries.desk.repair_tables import ends_words, hour
from inseries.desk.spans import figure, span
from inseries.draw.window_curve import in_fives

if TYPE_CHECKING:
    from inseries.desk.repair_plan import Plan
    from inseries.desk.repair_records import ButtonTold, RepairFindings

# chosen: a tension above which a direct join is named as pulling, as a fraction
PULLS = 0.05


def what(r: RepairFindings) -> str:
    """Buttons, ends, gap, patch."""
    buttons = " ".join(_button(each) for each in r.buttons)
    after = (
        f"The code after the switch is then {r.code_after}. "
        if r.code_after is not None
        else "The code after the switch is open. "
    )
    return f"{buttons} {after}{_ends(r)} {_gap(r)} {_patch(r)}"


def _button(b: ButtonTold) -> str:
    if b.best is None or b.path_mm is None or b.stretch_pct is None or b.rotation_deg is None:
        return f"Button {b.artery} {b.concern[0]}."
    concern = f" Of concern: {'; '.join(b.concern)}.{_clear(b)}" if b.concern else ""
    return (
        f"Button {b.artery} lands at {hour(b.best.clock_hour)} on the new aorta, "
        f"{b.best.height_mm:.1f} mm above the hinge, by a {b.best.opening}: path "
        f"{span(b.path_mm, 1)} mm, stretch {span(b.stretch_pct)} %, rotation "
        f"{span(b.rotation_deg)}°.{concern}"
    )


def _clear(b: ButtonTold) -> str:
    """A next best place where the best lies in the region of concern and that one does not."""
    other = b.runner_up
    if other is None or other.near_region or b.best is None or not b.best.near_region:
        return ""
    return f" Next best and clear of that region: {hour(other.clock_hour)}, by a {other.opening}."


def _ends(r: RepairFindings) -> str:
    return (
        f"The {r.mismatch.larger} is the larger aortic end, {span(r.mismatch_ratio, 2)} times the "
        f"other: {ends_words(r.mismatch)}."
    )


def _gap(r: RepairFindings) -> str:
    way = r.ways[0]
    named = "measured" if way.gap_mm.low == way.gap_mm.high else "expected"
    if r.gap_mm.value < 0.0:
        kind = f"slack of {-r.gap_mm.value:.1f} mm is {named} once the branches are freed"
    else:
        kind = f"a gap of {r.gap_mm.value:.1f} mm is {named} once the branches are freed"
    low, high = r.gap_mm.low, r.gap_mm.high
    spread = (
        f" ({figure(low, 1)} to {figure(high, 1)}, negative is slack)"
        if low is not None and high is not None and low != high
        else ""
    )
    return (
        f"Lung artery, {r.way}: {kind}{spread}; a direct join meets without stretch in "
        f"{in_fives(way.meets)} of the draws."
    )


def _patch(r: RepairFindings) -> str:
    first = r.patch
    form = "A patch in one piece" if first.name == "one piece" else f"The patch, {first.name},"
    return (
        f"{form} has {span(first.area_mm2)} mm² within its suture and makes up "
        f"{in_fives(first.inert_share)} of the girth where it is widest."
    )


def why(plan: Plan, r: RepairFindings) -> str:
    """What sets the places, the gap and the share that will not grow."""
    limits = [each for each in r.buttons if each.best is not None]
    flat = "; ".join(
        f"{each.artery} within {each.flat_deg:.0f}° and {each.flat_mm:.1f} mm" for each in limits
    )
    places = (
        f"Of {limits[0].positions:,} places for each button the best bends, stretches and turns "
        f"the vessel least, clear of hinge, commissures and lung artery; about as good: {flat}. "
        if limits
        else ""
    )
    gained = r.ways[0].gained_mm
    return (
        f"{places}Freeing the branches gains {span(gained, 1)} mm; what is left is pulled along "
        "both branches, and a branch bent over the new aorta lies flatter the more it is pulled. "
        "The wall that was cut out with the buttons is what a patch replaces; only native wall "
        f"surely grows. The aorta's place is {plan.relation_said}; openings' height "
        f"{plan.height_said}."
    )


def how_sure(plan: Plan, r: RepairFindings) -> str:
    """What was measured, what is expected, what the pattern may be."""
    measured = [size.words for size in r.sizes if size.basis == "measured"]
    scaled = [size.words for size in r.sizes if size.basis == "scaled from what was measured"]
    expected = [size.words for size in r.sizes if size.basis == "expected for this size"]
    known = "; ".join(
        f"{kind}: {', '.join(names)}"
        for kind, names in (
            ("measured", measured),
            ("scaled from what was measured", scaled),
            ("expected for this body", expected),
        )
        if names
    )
    lengths = [size.words for size in r.sizes if size.basis == "chosen"]
    others = r.readings[1:]
    pattern = (
        f"The pattern {r.pattern} is called {r.certainty}; averaged in are "
        + ", ".join(f"{each.code} ({in_fives(each.weight)})" for each in others)
        if others
        else f"The pattern {r.pattern} is called {r.certainty} and is taken as read"
    )
    return (
        f"Sizes, {known}. Chosen, as none was ever measured in newborns: {', '.join(lengths)}; and "
        f"wall and stiffness of the vessels. {pattern}. Places compare with one "
        "another better than they foretell an operation; some chosen sizes were tuned after their "
        "answers were seen."
    )


def cautions(plan: Plan, r: RepairFindings) -> tuple[Caution, ...]:
    """What has to be said beside the geometry."""
    found = ["Planning only: nothing here says that an operation is possible."]
    if r.certainty != "confirmed":
        found.append(
            "Echo called 17 of 125 patterns unusual and operation found 7: look again before the "
            "buttons are cut."
        )
    if plan.intramural:
        found.append(
            "An artery in the wall has no simple button; the left one is taken to be meant."
        )
    if len(plan.variants) > 1:
        found.append(
            "The side of the commissures' misalignment is not recorded; both are averaged, the "
            "pictures show one."
        )
    if plan.weighed[0][0].single:
        found.append("All coronaries by one button: a single error reaches the whole heart.")
    if r.one_piece_refused:
        found.append(f"Patch: {r.one_piece_refused}")
    inner = r.patch.inner_seam_mm
    if inner is not None and inner < r.patch.seam_mm:
        found.append(
            f"Between the legs of the patch there is room for {inner:.1f} mm of seam, not "
            f"{r.patch.seam_mm:g}."
        )
    if r.direct_tension.value > PULLS:
        found.append(
            "A direct join would pull: stretched and flattened branches narrow too, as a patch "
            "that does not grow does later."
        )
    return tuple(Caution(severity=Severity.CAUTION, text=text) for text in found)


def sheet_notes(r: RepairFindings) -> tuple[str, ...]:
    """What the sheet in true size says beside its pieces."""
    inner = r.patch.inner_seam_mm
    seam = f"Seam {r.patch.seam_mm:g} mm beyond the suture"
    if inner is not None and inner < r.patch.seam_mm:
        seam += f", {inner:.1f} mm between the legs"
    root = next(size for size in r.sizes if size.name == "aortic_root_mm")
    return (f"{seam}. Aortic root {root.mm.value:.1f} mm, {root.basis}.",)
