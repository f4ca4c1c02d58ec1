"""An outlook in three sentences' worth of words, and the cautions it carries."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.base.ages import age_words
from inseries.base.findings import Caution, Severity
from inseries.desk.outlook_tables import by_name
from inseries.desk.spans import span
from inseries.desk.window_curve import five
from inseries.draw.window_curve import in_fives

if TYPE_CHECKING:
    from inseries.desk.outlook_plan import Plan
    from inseries.desk.outlook_result import OutlookResult

# chosen: the age that the first sentence speaks of, years
GROWN = 18.0
# chosen: draws that count below which a later reading fits no repair well
FEW = 20.0


def what(r: OutlookResult) -> str:
    """What the gradient above the valve comes to, how often it is high, and the root."""
    place = r.place(GROWN)
    by = by_name(r.pulmonary_gradient_mmhg)
    gradients = "; ".join(
        f"{words} {span(by[name][place])}"
        for name, words in (
            ("direct", "direct join"),
            ("autologous_fresh", "fresh autologous patch"),
            ("autologous_fixed", "fixed autologous patch"),
            ("xenograft_or_synthetic", "xenograft or synthetic"),
        )
    )
    high = {
        each.repair: each.site_or_branch[place] for each in r.crosses if each.limit_mmhg == 36.0
    }
    middles = [each.mm[place].value for each in r.root_mm]
    return (
        f"Peak gradient above the new lung valve at {GROWN:g} years, mmHg: {gradients}. More than "
        f"36 mmHg there or in a branch by then: {in_fives(high['direct'])} of the draws after a "
        f"direct join, {in_fives(high['xenograft_or_synthetic'])} with a patch that cannot grow. "
        f"The new aortic root measures {min(middles):.0f} to {max(middles):.0f} mm then, and "
        f"{min(each.mm[-1].value for each in r.root_mm):.0f} to "
        f"{max(each.mm[-1].value for each in r.root_mm):.0f} mm at forty, by published courses "
        "that disagree."
    )


def why(plan: Plan, r: OutlookResult) -> str:
    """What grows, what does not, and what pulls."""
    frame = plan.frame
    times = float(frame.growth[frame.at(GROWN)])
    share = five(plan.start.patch_share)
    pulled, slack = in_fives(r.tension.high_pulled), in_fives(r.tension.high_slack)
    first = r.coronary_flow_reserve[-1] if r.coronary_flow_reserve else None
    coronary = (
        ""
        if first is None
        else f" Scar narrows the left coronary opening by {span(first.narrowing_pct)} % at "
        f"{first.age_y:g} years, which leaves a flow reserve of {span(first.reserve, 1)}."
    )
    return (
        f"From the operation to {GROWN:g} years native arteries grow {times:.1f} times as wide; "
        f"about {share} % of the girth is patch, and what the patch does not grow native wall "
        f"cannot make up. A direct join is pulled in {in_fives(r.tension.pulled)} of the draws "
        "even with its branches freed; scar there grows no more than a patch does, and branches "
        f"bent over the aorta are flattened: more than 36 mmHg in {pulled} "
        f"where it is pulled, {slack} where the ends meet.{coronary}"
    )


def how_sure(r: OutlookResult) -> str:
    """On how few children it rests, and what was read since."""
    words = {"pulmonary_velocity_m_s": "velocity", "neoaortic_root_mm": "root"}
    read = [words[name] for name in r.measured if name in words]
    since = f"Draws are narrowed by what was read since: {' and '.join(read)}. " if read else ""
    return (
        f"{since}Little is known: growth of each material rests on 14 to 17 children of one "
        "centre, scar and tension on none, so both were chosen wide and never fitted to a "
        "published rate. "
        f"Pressure and wall of the right ventricle come from {r.circuit_draws} draws run in the "
        "whole circuit. A leak of the new aortic valve is not simulated at all: only published "
        "rates stand here. It says what geometry and growth do, not which repair is best."
    )


def cautions(plan: Plan, r: OutlookResult) -> tuple[Caution, ...]:
    """What this outlook meets in this child."""
    found: list[str] = []
    if r.urgency.level == "emergency":
        found.append("This is an emergency now: its page comes before this one.")
    if not r.operated and r.suitability.standing != "shown":
        found.append(r.suitability.sentence)
    if not r.size_measured:
        found.append("No weight was read that a growth standard holds: a usual body was taken.")
    if not r.measured:
        found.append("No root, annulus or branch was measured in this baby: usual sizes are taken.")
    few = [name for name, count in r.effective_draws.items() if count < FEW]
    if few:
        found.append(
            "What was read after the operation fits few draws of some repairs or courses; their "
            "intervals are rough."
        )
    if plan.start.patch_share > WHOLE:
        found.append("Most of the ring is patch: hardly any native wall is left to grow.")
    found.append(
        "Growth of the heart's walls was compared with published babies of two months and younger; "
        "to forty years it is the same law carried on."
    )
    return (
        *(Caution(severity=Severity.CAUTION, text=text) for text in found),
        *(Caution(severity=Severity.NOTE, text=text) for text in unknowns(plan)),
    )


# chosen: a patch of more of the ring is called most of it
WHOLE = 0.6


def unknowns(plan: Plan) -> tuple[str, ...]:
    """What an outlook does not know, in sentences."""
    return (
        f"The switch is looked at as done at {age_words(plan.operation_days)}; reinterventions are "
        "not simulated: a gradient runs on as if nobody acted.",
        "Not known: infection, calcium in a patch, a valve that thickens, muscle that grows below "
        "it, a branch that clots, pregnancy, sport.",
        "Past twenty the body is held at the last row of its reference; weight that adults put on "
        "is not in it.",
    )
