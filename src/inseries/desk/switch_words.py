"""What is asked, said and noted at each step of a switch, with this case's numbers."""

from __future__ import annotations

from math import dist
from typing import TYPE_CHECKING

from inseries.desk.repair_tables import ends_words, hour
from inseries.desk.spans import span
from inseries.draw.switch_pose import opening_mm, pose
from inseries.draw.switch_view import BORN, CLOSED, CROSSED, CUT, JOINED, LIFTED, SEWN
from inseries.draw.window_curve import in_fives

if TYPE_CHECKING:
    from inseries.desk.repair_records import ButtonTold, RepairFindings

QUESTIONS = (
    "Which artery leaves which ventricle?",
    "Two ends that were never one have to meet. How different are they?",
    "What keeps a button from going anywhere one likes?",
    "How far does each button go, and what does its vessel feel?",
    "In front of the aorta, or behind it?",
    "What was cut out with the buttons. What takes its place?",
    "Do the ends of the lung artery meet?",
)


def says(place: int, r: RepairFindings) -> str:
    """The answer to the question of a step."""
    return (_born, _cut, _lifted, _sewn, _crossed, _closed, _joined)[place](r)


def _size(r: RepairFindings, name: str) -> str:
    size = next(each for each in r.sizes if each.name == name)
    return f"{size.mm.value:.1f} mm ({size.basis})"


def _born(r: RepairFindings) -> str:
    return (
        f"The aorta leaves the right ventricle, the lung artery the left one. Aortic root "
        f"{_size(r, 'aortic_root_mm')}, lung root {_size(r, 'pulmonary_root_mm')}."
    )


def _cut(r: RepairFindings) -> str:
    return (
        f"The {r.mismatch.larger} is the larger aortic end, {span(r.mismatch_ratio, 2)} times the "
        f"other: {ends_words(r.mismatch)}."
    )


def _lifted(r: RepairFindings) -> str:
    widths = {b.name: b.width_mm for b in r.picture_steps.buttons}
    cut = "; ".join(f"{name} {width:.1f} mm wide" for name, width in widths.items())
    free = next(each for each in r.sizes if each.name == "mobilised_mm")
    return (
        f"Each opening is cut out with a rim of wall: {cut}. Its vessel is freed over about "
        f"{free.mm.value:.1f} mm; beyond that it stays where it is."
    )


def travel_mm(r: RepairFindings, artery: str) -> float:
    """How far a button's opening goes, straight, mm."""
    view = r.picture_steps
    button = next(each for each in view.buttons if each.name == artery)
    before, after = (opening_mm(view, button, pose(float(at))) for at in (BORN, JOINED))
    return dist(before, after)


def _sewn(r: RepairFindings) -> str:
    return " ".join(_button(r, each) for each in r.buttons)


def _button(r: RepairFindings, b: ButtonTold) -> str:
    if b.best is None or b.stretch_pct is None or b.rotation_deg is None:
        return f"{b.artery}: {b.concern[0]}."
    return (
        f"{b.artery} goes {travel_mm(r, b.artery):.0f} mm to {hour(b.best.clock_hour)}, by a "
        f"{b.best.opening}: stretch {span(b.stretch_pct)} %, rotation {span(b.rotation_deg)}°."
    )


WAYS = {
    "in front": "Both lung arteries are brought in front of the new aorta (Lecompte).",
    "beside": "The arteries lie side by side: the join is moved toward the right lung artery.",
    "behind": "The lung arteries stay behind; the trunk winds round to its new root.",
}


def _crossed(r: RepairFindings) -> str:
    area = r.ways[0].branch_area_pct
    return (
        f"{WAYS[r.picture_steps.arteries.way]} A branch keeps {span(area)} % of its area where "
        "it is bent."
    )


def _closed(r: RepairFindings) -> str:
    first = r.patch
    form = (
        "One piece" if first.name == "one piece" else f"Separate pieces, {len(r.patches)} in all,"
    )
    return (
        f"{form} of {span(first.area_mm2)} mm² within the suture; where it is widest it makes up "
        f"{in_fives(first.inert_share)} of the girth. A patch may not grow."
    )


def _joined(r: RepairFindings) -> str:
    kind = "A gap" if r.gap_mm.value >= 0.0 else "A slack"
    return (
        f"{kind} of {abs(r.gap_mm.value):.1f} mm is expected (90 %: {span(r.gap_mm, 1)}); a direct "
        f"join meets without stretch in {in_fives(r.ways[0].meets)} of the draws."
    )


# --- for the speaker ----------------------------------------------------------------------------

DRAWN = "Roots, buttons and first courses are to scale; how the arteries run beyond is drawn."
NOTES: dict[int, tuple[str, ...]] = {
    BORN: ("The left ventricle pumps to the lungs: that is why it loses its strength.",),
    CUT: (
        "From here the heart stands still on bypass: each minute costs the heart and the brain.",
        "Not known: how the walls give when they are sewn.",
    ),
    LIFTED: (
        "Harm at this step: an opening cut too close, a branch torn, a vessel freed too short.",
        "Not known: the first branches; the length freed is chosen, not measured.",
    ),
    SEWN: (
        "Harm at this step: stretch, a kink or a twist starves the heart's muscle at once.",
        "Not known: the filled heart moves the vessels; this section stands still.",
    ),
    CROSSED: (
        "Harm at this step: branches pulled over the aorta lie flat and narrow.",
        "Which way is usual follows from where the aorta lies: common practice, no source.",
    ),
    CLOSED: (
        "Harm at this step: too small narrows at once; what does not grow narrows with the years.",
        "Not known: how far this material will grow in this child.",
    ),
    JOINED: ("Not known: bleeding, rhythm, and whether the left ventricle carries the body.",),
}


def notes(place: int, r: RepairFindings) -> tuple[str, ...]:
    """For the speaker: harm at this step, what is not known, what stands beside."""
    found = [*NOTES[place], DRAWN]
    if place == BORN:
        found.insert(0, r.suitability.sentence)
    if place in (LIFTED, SEWN):
        found += [f"{b.artery}: {'; '.join(b.concern)}." for b in r.buttons if b.concern]
    return tuple(found)
