"""Hours before days: whether this circulation is an emergency, by readings and computed beat."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from inseries.base.numbers import read_numbers
from inseries.case.record import Case, EventKind

if TYPE_CHECKING:
    from inseries.desk.readouts import Readouts

Level = Literal["emergency", "urgent", "planned"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Urgency:
    """How pressing the circulation is, and why.

    Parameters
    ----------
    level : emergency, urgent or planned
    hours : time to the next decision
    headline : one line
    why : reasons, each a reading or a computed number with what it means
    """

    level: Level
    hours: float
    headline: str
    why: tuple[str, ...]


@lru_cache(maxsize=1)
def limits() -> dict[str, float]:
    """The limits between the levels."""
    return {
        name: number.value for name, number in read_numbers("inseries.desk", "urgency.toml").items()
    }


def urgency(case: Case, now: Readouts) -> Urgency:
    """How pressing this circulation is.

    Parameters
    ----------
    case : the readings, latest first in weight
    now : the computed read-outs

    Returns
    -------
    Urgency
    """
    found = [*_tight_septum(case), *_oxygen(case, now)]
    for level in ("emergency", "urgent"):
        reasons = tuple(text for rank, text in found if rank == level)
        if reasons:
            lesser = tuple(text for rank, text in found if rank != level and level == "emergency")
            return Urgency(
                level=level,
                hours=limits()[f"{level}_hours"],
                headline=_headline(level, bool(_tight_septum(case))),
                why=(*reasons, *lesser, *_poor_response(case)),
            )
    return Urgency(
        level="planned",
        hours=limits()["planned_hours"],
        headline=_headline("planned", False),
        why=_calm(case, now),
    )


def is_tight(case: Case) -> bool:
    """Whether the atrial septum holds the mixing back, by its last readings."""
    return bool(_tight_septum(case))


def _tight_septum(case: Case) -> list[tuple[Level, str]]:
    lim = limits()
    defect, gradient = case.latest("atrial_defect_mm"), case.latest("atrial_gradient_mmhg")
    narrow = defect is not None and defect.number <= lim["tight_defect"]
    steep = gradient is not None and gradient.number >= lim["tight_gradient"]
    low = _below(case, "spo2_right_hand_pct", lim["urgent_saturation"])
    if not ((narrow and (steep or low)) or (steep and low)):
        return []
    size = f"{defect.number:g} mm" if defect is not None else "not measured"
    slope = f"{gradient.number:g} mmHg" if gradient is not None else "not measured"
    return [
        (
            "emergency",
            f"The atrial septum is tight: defect {size}, mean gradient {slope}. "
            "Prostaglandin does not replace opening it and may raise left atrial pressure.",
        )
    ]


def _oxygen(case: Case, now: Readouts) -> list[tuple[Level, str]]:
    lim = limits()
    found: list[tuple[Level, str]] = []
    seen = case.latest("spo2_right_hand_pct") or case.latest("sao2_pct")
    if seen is not None:
        _rank(
            found,
            lim["emergency_saturation"] - seen.number,
            lim["urgent_saturation"] - seen.number,
            f"Upper-body saturation {seen.number:g} %.",
        )
    lactate = case.latest("lactate_mmol_l")
    if lactate is not None:
        _rank(
            found,
            lactate.number - lim["emergency_lactate"],
            lactate.number - lim["urgent_lactate"],
            f"Lactate {lactate.number:g} mmol/L{_trend(case)}.",
        )
    met = now.oxygen_need_met_pct.value
    _rank(
        found,
        lim["emergency_need_met"] - met,
        lim["urgent_need_met"] - met,
        f"Computed delivery meets about {5 * round(met / 5):d} % of the oxygen need.",
    )
    return found


def _rank(
    found: list[tuple[Level, str]], past_emergency: float, past_urgent: float, text: str
) -> None:
    if past_emergency >= 0.0:
        found.append(("emergency", text))
    elif past_urgent >= 0.0:
        found.append(("urgent", text))


def _trend(case: Case) -> str:
    seen = case.all("lactate_mmol_l")
    if len(seen) < 2:
        return ""
    return ", rising" if seen[-1].number > seen[-2].number else ", falling"


def _below(case: Case, key: str, limit: float) -> bool:
    seen = case.latest(key)
    return seen is not None and seen.number < limit


def _poor_response(case: Case) -> tuple[str, ...]:
    """Why septostomy may help less than hoped, said beforehand."""
    hand, foot = case.latest("spo2_right_hand_pct"), case.latest("spo2_foot_pct")
    if hand is None or foot is None or case.event(EventKind.SEPTOSTOMY) is not None:
        return ()
    if foot.number - hand.number < limits()["lower_above_upper"]:
        return ()
    return (
        "The legs are pinker than the arms: lung resistance may be high or the arch narrow, and "
        "opening the septum may then help less than hoped.",
    )


def _headline(level: Level, tight: bool) -> str:
    if level == "emergency":
        return "The atrial septum is tight: open it first" if tight else "Oxygen first"
    if level == "urgent":
        return "Oxygen delivery has little to spare"
    return "No emergency by what is recorded"


def _calm(case: Case, now: Readouts) -> tuple[str, ...]:
    hand, lactate = case.latest("spo2_right_hand_pct"), case.latest("lactate_mmol_l")
    defect, gradient = case.latest("atrial_defect_mm"), case.latest("atrial_gradient_mmhg")
    reasons = [
        f"Upper-body saturation {hand.number:g} %."
        if hand
        else "Upper-body saturation was not recorded; the computed one is "
        f"{now.sao2_upper_pct.value:.0f} %.",
        f"Lactate {lactate.number:g} mmol/L{_trend(case)}."
        if lactate
        else "Lactate was not recorded.",
        "Computed delivery meets the oxygen need.",
    ]
    if defect is not None and gradient is not None:
        reasons.append(
            f"Atrial defect {defect.number:g} mm, mean gradient {gradient.number:g} mmHg: open."
        )
    return tuple(reasons)
