"""What may come later, one thing at a time, from an outlook's answer."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.desk.figures import Figure
from inseries.desk.outlook_words import GROWN
from inseries.desk.spans import figure, span
from inseries.desk.switch_story import SwitchStep
from inseries.draw.switch_later import LaterRing, LaterRow, LaterView, later_svg, spoken
from inseries.draw.window_curve import in_fives

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.desk.outlook_records import OutlookFindings, RootTold
    from inseries.draw.outlook_view import RingRow

# chosen: ages at which the root is shown, years
ROOT_YEARS = (5.0, 18.0, 40.0)
# chosen: a narrowing shown as an example, per cent of the width
EXAMPLE_PCT = 60.0
# derived: per cent to a fraction
PER_CENT = 100.0
TITLES = ("Later: what cannot grow narrows", "Later: the root widens", "Later: a coronary opening")
QUESTIONS = (
    "The child grows threefold. What does a patch do?",
    "The lung artery's root now bears the body's pressure. What becomes of it?",
    "What if a button's opening narrows?",
)
UNKNOWN = (
    "Not known: growth of each material rests on 14 to 17 children; it was chosen wide.",
    "A leak of the new aortic valve is not simulated at all; only published rates stand here.",
    "Not known: how scar at a coronary opening grows; it was chosen wide, never measured here.",
)


def later_steps(r: OutlookFindings | None) -> tuple[SwitchStep, ...]:
    """Stenosis, the widening root, the narrow opening.

    Parameters
    ----------
    r : what ``outlook`` answered, None where it has not been asked
    """
    made: tuple[Callable[[OutlookFindings], tuple[LaterView, str, tuple[str, ...]]], ...]
    made = (_stenosis, _root, _ostium)
    return tuple(_step(place, None if r is None else each(r)) for place, each in enumerate(made))


def _step(place: int, told: tuple[LaterView, str, tuple[str, ...]] | None) -> SwitchStep:
    view, says, published = told or (None, "", ())
    drawn = view is not None and bool(view.rows)
    return SwitchStep(
        title=TITLES[place],
        asks=QUESTIONS[place],
        says=says,
        notes=(UNKNOWN[place], *published) if told else (),
        figure=Figure(name="later", svg=later_svg(view), alt=spoken(view))
        if view is not None and drawn
        else None,
        settled=told is not None and not drawn,
    )


def _published(r: OutlookFindings, *ids: str) -> tuple[str, ...]:
    rows = {row.id: row for row in r.published_rows}
    return tuple(f"Published: {rows[i].text} ({rows[i].in_whom})" for i in ids if i in rows)


# --- stenosis -----------------------------------------------------------------------------------


def _stenosis(r: OutlookFindings) -> tuple[LaterView, str, tuple[str, ...]]:
    own = [row for row in r.picture.rows if not row.extreme][-1]
    whole = [row for row in r.picture.rows if row.extreme][-1]
    view = LaterView(
        title=TITLES[0],
        usual_words="usual lung trunk of that age",
        columns=r.picture.columns,
        rows=(_ring_row(own), _ring_row(whole)),
        bar_mm=10.0,
        figure_id="later-stenosis",
    )
    place = r.place(GROWN)
    gradient = r.pulmonary_gradient_mmhg.xenograft_or_synthetic[place]
    high = next(
        each.site_or_branch[place]
        for each in r.crosses
        if each.repair == "xenograft_or_synthetic" and each.limit_mmhg == r.picture.limit_mmhg
    )
    rows = _published(r, "late_equine_pericardium", "late_direct_join", "late_right_risk")
    says = (
        f"With a patch that cannot grow: peak gradient {span(gradient)} mmHg at {GROWN:g} years; "
        f"above {r.picture.limit_mmhg:.0f} there or in a branch: {in_fives(high)} of the draws. "
        f"{_short(r, 'late_equine_pericardium')}"
    )
    return view, says, rows


def _short(r: OutlookFindings, wanted: str) -> str:
    text = next((row.text for row in r.published_rows if row.id == wanted), "")
    return f"Published, other children: {text}" if text else ""


def _ring_row(row: RingRow) -> LaterRow:
    return LaterRow(
        name=row.name,
        note=row.note.split(";")[0],
        rings=tuple(
            LaterRing(
                wide=ring.diameter_mm,
                usual=ring.usual_mm,
                inert_share=ring.inert_share,
                words=(
                    f"{ring.diameter_mm:.1f} mm",
                    f"{ring.gradient_mmhg:.0f} mmHg{' in a branch' if ring.in_branch else ''}",
                ),
            )
            for ring in row.rings
        ),
        example=row.extreme,
    )


# --- root ---------------------------------------------------------------------------------------


def _root(r: OutlookFindings) -> tuple[LaterView, str, tuple[str, ...]]:
    slow = min(r.root_mm, key=lambda each: each.mm[-1].value)
    fast = max(r.root_mm, key=lambda each: each.mm[-1].value)
    view = LaterView(
        title=TITLES[1],
        usual_words="usual aortic root",
        columns=("at operation", *(f"{year:.0f} y" for year in ROOT_YEARS)),
        rows=tuple(_root_row(r, each) for each in (slow, fast)),
        bar_mm=10.0,
        figure_id="later-root",
    )
    last = "; ".join(
        f"{each.pct[-1]:g} % at {each.years[-1]:g} years ({each.in_whom})" for each in r.leak
    )
    place = r.place(ROOT_YEARS[-1])
    low, high = (figure(each.mm[place].value) for each in (slow, fast))
    says = (
        f"{low} to {high} mm at {ROOT_YEARS[-1]:.0f} years, by published courses that disagree. "
        f"Published, free of a moderate leak of its valve: {last}."
    )
    return view, says, _published(r, "late_root_mismatch", "late_root_per_mm")


def _root_row(r: OutlookFindings, course: RootTold) -> LaterRow:
    places = (0, *(r.place(year) for year in ROOT_YEARS))
    return LaterRow(
        name=course.words,
        note="a published course, from this baby's root on",
        rings=tuple(
            LaterRing(
                wide=course.mm[place].value,
                usual=_usual_root(r, r.ages_y[place]),
                inert_share=0.0,
                words=(f"{span(course.mm[place])} mm",),
            )
            for place in places
        ),
        example=False,
    )


def _usual_root(r: OutlookFindings, age_y: float) -> float | None:
    """By the table that holds at an age; the adult's where both do."""
    found = None
    for years, line in zip(r.picture.usual_years, r.picture.usual_root, strict=True):
        found = dict(zip(years, line.value, strict=True)).get(round(age_y, 4), found)
    return found


# --- coronary opening ---------------------------------------------------------------------------


def _ostium(r: OutlookFindings) -> tuple[LaterView, str, tuple[str, ...]]:
    told = r.coronary_flow_reserve
    tried = [each for each in r.coronary_by_narrowing if each.narrowing_pct == EXAMPLE_PCT]
    rows = (
        _opening_row(
            "Scar as it is taken to be",
            "middle of all draws",
            tuple((each.narrowing_pct.value, span(each.reserve, 1)) for each in told),
        ),
        _opening_row(
            f"Narrowed by {EXAMPLE_PCT:.0f} %",
            "an example",
            tuple((each.narrowing_pct, span(each.reserve, 1)) for each in tried),
            example=True,
        ),
    )
    view = LaterView(
        title=TITLES[2],
        usual_words="its usual width; rings are shares of it",
        columns=tuple(f"{each.age_y:.0f} y" for each in told),
        rows=rows if told and len(tried) == len(told) else (),
        bar_mm=None,
        figure_id="later-opening",
    )
    if not told:
        return view, "The coronary opening is not computed for this baby.", ()
    last = told[-1]
    says = (
        f"At {last.age_y:g} years scar takes {span(last.narrowing_pct)} % of the left opening's "
        f"width; in need its flow can still rise {span(last.reserve, 1)} times. "
        f"{_short(r, 'late_coronary_lesions')}"
    )
    return view, says, _published(r, "late_coronary_lesions", "late_ostium_falls", "late_reserve")


def _opening_row(
    name: str, note: str, told: tuple[tuple[float, str], ...], *, example: bool = False
) -> LaterRow:
    return LaterRow(
        name=name,
        note=note,
        rings=tuple(
            LaterRing(
                wide=1.0 - pct / PER_CENT,
                usual=1.0,
                inert_share=0.0,
                words=(f"narrowed by {pct:.0f} %", f"flow can rise × {reserve}"),
            )
            for pct, reserve in told
        ),
        example=example,
    )
