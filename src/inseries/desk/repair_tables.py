"""Tables of a repair, the same on screen and on paper."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.base.ages import age_words
from inseries.desk.answer import Table
from inseries.desk.spans import span
from inseries.draw.window_curve import in_fives

if TYPE_CHECKING:
    from inseries.base.findings import Estimate
    from inseries.desk.repair_records import (
        ButtonTold,
        MismatchTold,
        PlaceTold,
        RepairFindings,
        WayTold,
    )

# minutes of an hour on a clock face
MINUTES = 60  # derived: sixty minutes


def tables(r: RepairFindings) -> tuple[Table, ...]:
    """Every table, in reading order."""
    return (
        _buttons(r.buttons),
        _places(r.buttons),
        _readings(r),
        _ways(r.ways),
        _patches(r),
        _sites(r),
        _sizes(r),
        _published(r),
    )


def hour(clock: float) -> str:
    """A place on a clock face in words, to a quarter of an hour."""
    quarters = round(clock * 4.0) % 48
    whole, rest = divmod(quarters, 4)
    name = f"{whole or 12}"
    return f"{name} o'clock" if rest == 0 else f"{name}:{rest * MINUTES // 4:02d}"


def ends_words(m: MismatchTold) -> str:
    """How the surplus of the larger end is taken up, in words."""
    if m.left_mm > 0.0:
        return (
            f"a cut of {m.sensible_deg:.0f}° and gathering leave {m.left_mm:.1f} mm for a dart of "
            f"{m.dart_deg:.0f}°"
        )
    wider = f"stitches {100.0 * (m.gather - 1.0):.0f} % wider on the larger"
    cut = f"a cut of the smaller end at {min(m.oblique_deg, m.sensible_deg):.0f}°"
    let_in = f"the buttons let in add {m.inset_mm:.1f} mm, " if m.inset_mm > 0.0 else ""
    both = "or" if m.oblique_deg <= m.sensible_deg else "with"
    return f"{let_in}{cut} {both} {wider} {'takes' if both == 'with' else 'take'} it up"


def _buttons(buttons: tuple[ButtonTold, ...]) -> Table:
    return Table(
        title="Buttons, averaged over the readings of the pattern",
        columns=("button", "path, mm", "stretch, %", "rotation, °", "bend over limit", "concern"),
        rows=tuple(_button(each) for each in buttons),
    )


def _button(b: ButtonTold) -> tuple[str, ...]:
    concern = "; ".join(b.concern) or "none"
    if (
        b.path_mm is None
        or b.stretch_pct is None
        or b.rotation_deg is None
        or b.kink_index is None
        or b.in_region is None
    ):
        return (b.artery, "–", "–", "–", "–", concern)
    if b.in_region > 0.0 and "L" in b.artery:
        concern += f"; between 12 and 1 o'clock in {in_fives(b.in_region)} of the draws"
    return (
        b.artery,
        span(b.path_mm, 1),
        span(b.stretch_pct),
        span(b.rotation_deg),
        span(b.kink_index, 1),
        concern,
    )


def _places(buttons: tuple[ButtonTold, ...]) -> Table:
    rows = [
        (each.artery, name, *_place(place))
        for each in buttons
        for name, place in (("best", each.best), ("runner-up", each.runner_up))
        if place is not None
    ]
    return Table(
        title="Places on the new aorta, seen from the feet, 12 at the front",
        columns=("button", "place", "at", "height, mm", "opening", "take-off",
                 "mm to hinge, commissure, lung artery"),
        rows=tuple(rows),
    )  # fmt: skip


def _place(p: PlaceTold) -> tuple[str, ...]:
    near = f"{p.to_hinge_mm:.1f}, {p.to_commissure_mm:.1f}, {p.to_lung_artery_mm:.1f}"
    return (hour(p.clock_hour), f"{p.height_mm:.1f}", p.opening, f"{p.take_off_deg:.0f}°", near)


def _readings(r: RepairFindings) -> Table:
    return Table(
        title="What the coronary pattern may be",
        columns=("Leiden code", "weight", "code after the switch"),
        rows=tuple(
            (each.code, in_fives(each.weight), each.code_after or "open") for each in r.readings
        ),
    )


def _ways(ways: tuple[WayTold, ...]) -> Table:
    return Table(
        title="The lung artery, the usual way for this relation first",
        columns=("way", "gap, mm (− slack)", "stretch of a direct join, %", "branch's area, %",
                 "to the bronchus, mm", "meets"),
        rows=tuple(
            (
                each.way,
                span(each.gap_mm, 1),
                _percent(each.tension),
                span(each.branch_area_pct),
                span(each.bronchus_mm, 1),
                in_fives(each.meets),
            )
            for each in ways
        ),
    )  # fmt: skip


def _percent(e: Estimate) -> str:
    if e.low is None or e.high is None or e.low == e.high:
        return f"{100.0 * e.value:.0f}"
    return f"{100.0 * e.value:.0f} ({100.0 * e.low:.0f} to {100.0 * e.high:.0f})"


def _patches(r: RepairFindings) -> Table:
    return Table(
        title="Pieces of a patch",
        columns=("piece", "within the suture, mm²", "to cut, mm²", "girth, mm", "of the girth"),
        rows=tuple(
            (
                each.name,
                span(each.area_mm2),
                f"{each.cut_mm2:.0f}",
                f"{each.girth_mm:.1f}",
                in_fives(each.inert_share),
            )
            for each in r.patches
        ),
    )


def _sites(r: RepairFindings) -> Table:
    return Table(
        title="Sites on the day of the operation, where an outlook starts",
        columns=("site", "diameter, mm", "girth that will not grow, %", "stretch, %"),
        rows=tuple(
            (
                each.name,
                span(each.diameter_mm, 1),
                _percent(each.inert_share),
                "–" if each.tension is None else _percent(each.tension),
            )
            for each in r.sites
        ),
    )


def _sizes(r: RepairFindings) -> Table:
    return Table(
        title="Sizes it starts from",
        columns=("size", "mm", "known how", "from"),
        rows=tuple(
            (
                each.words,
                span(each.mm, 1),
                each.basis,
                each.from_what
                if each.age_days is None
                else f"{each.from_what}, at {age_words(each.age_days)}",
            )
            for each in r.sizes
        ),
    )


def _published(r: RepairFindings) -> Table:
    return Table(
        title="Published, beside the geometry and no part of it",
        columns=("what was seen", "in whom", "source"),
        rows=tuple((each.text, each.in_whom, each.source) for each in r.published),
    )
