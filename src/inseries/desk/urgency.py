"""Hours before days: whether this circulation is an emergency, by readings and computed beat."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Literal, TypeAlias

from inseries.base.ages import age_words
from inseries.base.numbers import read_numbers
from inseries.case.record import Case, EventKind

if TYPE_CHECKING:
    from inseries.case.record import Value
    from inseries.desk.readouts import Readouts

Level = Literal["emergency", "urgent", "planned"]
Ranked: TypeAlias = tuple[Level, str]
NEVER = -1.0  # a computed saturation alone makes no emergency


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
    case : the readings; the last of each kind counts, with its age where it is not of today
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
                hours=_hours(case, level),
                headline=_headline(case, level),
                why=(*reasons, *lesser, *_poor_response(case)),
            )
    return Urgency(
        level="planned",
        hours=_hours(case, "planned"),
        headline=_headline(case, "planned"),
        why=_calm(case, now),
    )


def is_tight(case: Case) -> bool:
    """Whether the atrial septum holds the mixing back, by its last readings."""
    return bool(_tight_septum(case))


def _tight_septum(case: Case) -> list[Ranked]:
    lim = limits()
    defect, gradient = (
        _since_septostomy(case, key) for key in ("atrial_defect_mm", "atrial_gradient_mmhg")
    )
    narrow = defect is not None and defect.number <= lim["tight_defect"]
    steep = gradient is not None and gradient.number >= lim["tight_gradient"]
    hand = _since_septostomy(case, "spo2_right_hand_pct")
    low = hand is not None and hand.number < lim["urgent_saturation"]
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


def _oxygen(case: Case, now: Readouts) -> list[Ranked]:
    lim = limits()
    found: list[Ranked] = []
    seen, lactate = _upper(case), case.latest("lactate_mmol_l")
    number = now.sao2_upper_pct.value if seen is None else seen.number
    if seen is None and lactate is None:
        found.append(("urgent", f"{_saturation(case, now)} {_lactate(case)}"))
    else:
        _rank(
            found,
            lim["emergency_saturation"] - number if seen is not None else NEVER,
            lim["urgent_saturation"] - number,
            _saturation(case, now),
        )
    met = now.oxygen_need_met_pct.value
    if lactate is not None:
        past = lactate.number - lim["emergency_lactate"], lactate.number - lim["urgent_lactate"]
        unlike = " Computed delivery meets the need: trust the lactate."
        _rank(found, *past, _lactate(case) + (unlike if met > lim["urgent_need_met"] else ""))
    _rank(
        found,
        lim["emergency_need_met"] - met,
        lim["urgent_need_met"] - met,
        f"Computed delivery meets about {5 * round(met / 5):d} % of the oxygen need: {_want(case)}",
    )
    return found


def _rank(found: list[Ranked], past_emergency: float, past_urgent: float, text: str) -> None:
    if past_emergency >= 0.0:
        found.append(("emergency", text))
    elif past_urgent >= 0.0:
        found.append(("urgent", text))


def _upper(case: Case) -> Value | None:
    """The last upper-body saturation, by oximeter or from a blood sample."""
    seen = [
        value
        for key in ("sao2_pct", "spo2_right_hand_pct")
        if (value := case.latest(key)) is not None
    ]
    return max(seen, key=lambda value: value.age_days, default=None)


def _saturation(case: Case, now: Readouts) -> str:
    seen = _upper(case)
    if seen is not None:
        return f"Upper-body saturation {seen.number:g} %{_when(case, seen)}."
    computed = now.sao2_upper_pct
    return (
        f"Upper-body saturation was not recorded; the computed one is {computed.value:.0f} % "
        f"({computed.low:.0f} to {computed.high:.0f})."
    )


def _want(case: Case) -> str:
    """What unmet need means, beside the lactate that was seen."""
    seen = case.latest("lactate_mmol_l")
    if seen is None:
        return "lactate rises within hours; measure it."
    if seen.number >= limits()["urgent_lactate"]:
        return "the high lactate fits."
    return "lactate rises within hours; the last one was not high, so measure it again."


def _lactate(case: Case) -> str:
    seen = case.latest("lactate_mmol_l")
    if seen is None:
        return "Lactate was not recorded."
    return f"Lactate {seen.number:g} mmol/L{_trend(case)}{_when(case, seen)}."


def _trend(case: Case) -> str:
    numbers = [value.number for value in case.all("lactate_mmol_l")]
    if len(numbers) < 2 or numbers[-1] == numbers[-2]:
        return ""
    return ", rising" if numbers[-1] > numbers[-2] else ", falling"


def _when(case: Case, seen: Value) -> str:
    """Age of a reading that is not of today, or that septostomy has overtaken."""
    overtaken = _since_septostomy(case, seen.key) is None
    old = case.age_days - seen.age_days > limits()["today"]
    if not (old or overtaken):
        return ""
    before = " before septostomy" if overtaken else ""
    return f", last seen{before} at {age_words(seen.age_days)}"


def _since_septostomy(case: Case, key: str) -> Value | None:
    """The last reading, unless the septum was torn after it."""
    seen = case.latest(key)
    torn = [event.age_days for event in case.events_of(EventKind.SEPTOSTOMY)]
    return None if seen is None or seen.age_days < max(torn, default=0.0) else seen


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


def _unseen(case: Case) -> bool:
    return _upper(case) is None and case.latest("lactate_mmol_l") is None


def _hours(case: Case, level: Level) -> float:
    return limits()["unknown_hours" if level == "urgent" and _unseen(case) else f"{level}_hours"]


def _headline(case: Case, level: Level) -> str:
    if level == "emergency":
        tight = is_tight(case)
        return "The atrial septum is tight: open it first" if tight else "Oxygen first"
    if level == "urgent":
        unseen = _unseen(case)
        return "Measure saturation and lactate" if unseen else "Oxygen delivery has little to spare"
    return "No emergency by what is recorded"


def _calm(case: Case, now: Readouts) -> tuple[str, ...]:
    reasons = [_saturation(case, now), _lactate(case), _met(now)]
    defect, gradient = case.latest("atrial_defect_mm"), case.latest("atrial_gradient_mmhg")
    if defect is not None and gradient is not None and not _overtaken(case):
        reasons.append(
            f"Atrial defect {defect.number:g} mm, mean gradient {gradient.number:g} mmHg: open."
        )
    return tuple(reasons)


def _met(now: Readouts) -> str:
    """Whether delivery meets the need in every draw that counts, or only in most."""
    low = now.oxygen_need_met_pct.low
    if low is None or low >= limits()["urgent_need_met"]:
        return "Computed delivery meets the oxygen need."
    return (
        "Computed delivery meets the oxygen need in most draws, but down to about "
        f"{5 * round(low / 5):d} % in some: watch lactate."
    )


def _overtaken(case: Case) -> bool:
    return _since_septostomy(case, "atrial_defect_mm") is None
