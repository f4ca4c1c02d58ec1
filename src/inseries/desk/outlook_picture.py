"""An outlook as a record to draw."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from inseries.desk.outlook_tables import SHORT
from inseries.desk.outlook_told import by_age
from inseries.desk.published import published_curves
from inseries.draw.outlook_view import AgeLine, OutlookView, PointSeries, Ring, RingRow
from inseries.outlook import site_courses, tensions
from inseries.outlook.root import ADULT_TABLE, CHILD_TABLE

if TYPE_CHECKING:
    from inseries.base.findings import Estimate
    from inseries.desk.outlook_plan import Plan
    from inseries.desk.outlook_told import Ahead
    from inseries.outlook import Frame, SiteCourse
    from inseries.outlook.numbers import Floats

# chosen: ages of the strip, years; the first is the operation's
STRIP_YEARS = (1.0, 5.0, 18.0)
# chosen: the gap of the example of a join under tension, mm: twice the middle of usual mobilising
PULLED_GAP_MM = 6.0
# common practice: 3 m/s
LIMIT_MMHG = 36.0
# published series of late outcome that are drawn, with a short name
DRAWN = {
    "right_side_munich": "free of reintervention at the right outflow, Munich",
    "right_side_chss": "free of it on the right side, 23 centres 1985-1989",
    "root_z3_boston": "root below Z 3, Boston",
    "leak_boston": "free of a moderate leak of the new aortic valve, Boston",
    "leak_leiden": "free of a moderate leak, the Netherlands",
    "coronary_event_paris": "free of a coronary event, Paris",
}


def outlook_view(plan: Plan, found: Ahead) -> OutlookView:
    """The picture: a growth strip to scale, courses by age, published series apart."""
    return OutlookView(
        title="What will grow and what will not",
        sentence=(
            "Rings to scale, everything unknown at its middle; lines over all draws. Computed, but "
            "for the framed field: published in other children."
        ),
        columns=("at operation", *(f"{year:.0f} y" for year in STRIP_YEARS)),
        rows=_rows(plan),
        limit_mmhg=LIMIT_MMHG,
        years=_floats(plan.frame.years),
        gradients=tuple(
            _line(SHORT[each.technique.material.value], by_age(each.site, "mm[Hg]"))
            for each in found.courses
        ),
        roots=tuple(_line(each.words, by_age(each.root_mm, "mm")) for each in found.roots),
        usual_root=tuple(
            AgeLine(
                name="usual, child's table" if each.key == CHILD_TABLE else "usual, adult's table",
                value=_floats(each.expected_mm),
                low=_floats(each.expected_mm - 2.0 * each.sd_mm),
                high=_floats(each.expected_mm + 2.0 * each.sd_mm),
            )
            for each in found.references
            if each.key in (CHILD_TABLE, ADULT_TABLE)
        ),
        usual_years=tuple(_floats(plan.frame.years[each.places]) for each in found.references),
        published=tuple(
            PointSeries(name=DRAWN[each.id], years=each.years, pct=each.pct)
            for each in published_curves("late_outcome")
            if each.id in DRAWN
        ),
        figure_id="outlook",
    )


def _floats(values: Floats) -> tuple[float, ...]:
    return tuple(round(float(value), 4) for value in values)


def _line(name: str, told: tuple[Estimate, ...]) -> AgeLine:
    return AgeLine(
        name=name,
        value=tuple(each.value for each in told),
        low=tuple(each.value if each.low is None else each.low for each in told),
        high=tuple(each.value if each.high is None else each.high for each in told),
    )


def _rows(plan: Plan) -> tuple[RingRow, ...]:
    """Four repairs of this child, then two that fail: pulled, and a whole ring that is inert."""
    frame = plan.frame.middle()
    usual = site_courses(frame, plan.start, tensions(frame, plan.start))
    pulled, whole = replace(plan.start, gap_mm=PULLED_GAP_MM), replace(plan.start, patch_share=1.0)
    by_tension = site_courses(frame, pulled, tensions(frame, pulled))[0]
    ring = site_courses(frame, whole, tensions(frame, whole))[-1]
    share = round(100.0 * plan.start.patch_share)
    notes = ("no patch", *(f"{share} % of the girth is patch" for _ in usual[1:]))
    return (
        *(
            _row(frame, each, SHORT[each.technique.material.value], note)
            for each, note in zip(usual, notes, strict=True)
        ),
        _row(
            frame,
            by_tension,
            "Direct join under tension",
            f"example: a gap of {PULLED_GAP_MM:g} mm pulled together",
            extreme=True,
        ),
        _row(
            frame,
            ring,
            "Whole ring that cannot grow",
            "example: a tube graft",
            extreme=True,
        ),
    )


def _row(
    frame: Frame, course: SiteCourse, name: str, note: str, *, extreme: bool = False
) -> RingRow:
    usual = frame.usual_mm("pulmonary_trunk_mm")
    places = (0, *(frame.at(year) for year in STRIP_YEARS))
    return RingRow(
        name=name,
        note=f"{note}{_from(frame, course)}",
        rings=tuple(_ring(course, place, float(usual[place])) for place in places),
        extreme=extreme,
    )


def _from(frame: Frame, course: SiteCourse) -> str:
    """From which age on the middle is above the limit, in words; nothing while it is not."""
    above = course.greatest[:, 0] >= LIMIT_MMHG
    if not above.any():
        return ""
    first = int(above.argmax())
    if first == 0:
        last = frame.years[len(above) - 1 - int(above[::-1].argmax())]
        return f"; {LIMIT_MMHG:.0f} mmHg or more from the start to {last:.0f} years"
    low, high = course.greatest[first - 1, 0], course.greatest[first, 0]
    part = (LIMIT_MMHG - low) / (high - low)
    age = frame.years[first - 1] + part * (frame.years[first] - frame.years[first - 1])
    return f"; {LIMIT_MMHG:.0f} mmHg or more from {age:.0f} years on"


# chosen: a branch is told of where its gradient is so much above the site's, mmHg
NEARLY = 10.0


def _ring(course: SiteCourse, place: int, usual_mm: float) -> Ring:
    site, branch = float(course.site[place, 0]), float(course.branch[place, 0])
    in_branch = branch > site + NEARLY
    return Ring(
        diameter_mm=round(float(course.site_mm[place, 0]), 3),
        usual_mm=round(usual_mm, 3),
        inert_share=round(float(course.inert_share[place, 0]), 4),
        gradient_mmhg=round(branch if in_branch else site, 2),
        in_branch=in_branch,
    )
