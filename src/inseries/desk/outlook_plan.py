"""From a case to what an outlook starts from: body, sizes, operation, urgency."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.base.errors import NormsError, RouteNotPossible
from inseries.case import EventKind
from inseries.desk.now import urgency_now
from inseries.desk.urgency import Urgency, limits
from inseries.norms.body import LAST_YEAR
from inseries.norms.growth import weight_z
from inseries.outlook import Start, Tension, frame_of, start_of, tensions
from inseries.prior.from_case import growth_sex
from inseries.repair import number as repair_number

if TYPE_CHECKING:
    from inseries.base.errors import InseriesError
    from inseries.case import Case
    from inseries.case.record import Value
    from inseries.norms.lms import Sex
    from inseries.outlook import Frame

# sizes of the record that an outlook starts from
SIZES = (
    "aortic_annulus_mm",
    "aortic_root_mm",
    "pulmonary_root_mm",
    "right_pulmonary_artery_mm",
    "left_pulmonary_artery_mm",
)
# chosen: a switch after this age, years, leaves nothing to look ahead to
LATEST_YEARS = 18.0
# readings after the operation that narrow an outlook
LATER = ("pulmonary_velocity_m_s", "neoaortic_root_mm")
# chosen: draws to choose from for each that is kept where later readings narrow them
MORE = 15
# derived: days in a year
YEAR_DAYS = 365.25


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What an outlook starts from.

    Parameters
    ----------
    draws : how many are kept
    operation_days, operated : age at the switch, and whether the record has it
    sex, z, weighed : body; whether a weight was recorded within the table
    frame, start, tension : of the outlook
    """

    draws: int
    operation_days: float
    operated: bool
    sex: Sex
    z: float
    weighed: bool
    frame: Frame
    start: Start
    tension: Tension


def plan_of(
    case: Case,
    *,
    switch_day: float | None,
    patch_share: float | None,
    gap_mm: float | None,
    draws: int,
    seed: int,
) -> Plan:
    """What is looked ahead from.

    Parameters
    ----------
    case : the record
    switch_day : age at the switch; the record's, or its last entry's, when not given
    patch_share, gap_mm : as of ``start_of``
    draws, seed : of the frame

    Raises
    ------
    RouteNotPossible : an atrial switch, or a switch too late to look ahead from
    NormsError : an age outside the tables
    """
    _refuse_atrial(case)
    done = case.event(EventKind.SWITCH)
    day = done.age_days if done is not None else switch_day
    day = case.age_days if day is None else day
    _refuse_age(day)
    sex = growth_sex(case)
    narrows = done is not None and any(_read_after(case, day, key) for key in LATER)
    z = _size_z(case, sex)
    frame = frame_of(
        sex,
        z=0.0 if z is None else z,
        operation_days=day,
        draws=draws * (MORE if narrows else 1),
        seed=seed,
        digest=case.digest,
    )
    start = start_of(
        frame,
        relation_deg=_relation_deg(case),
        seen_mm=_sizes(case, day),
        patch_share=patch_share,
        gap_mm=gap_mm,
    )
    return Plan(
        draws=draws,
        operation_days=day,
        operated=done is not None,
        sex=sex,
        z=frame.z,
        weighed=z is not None,
        frame=frame,
        start=start,
        tension=tensions(frame, start),
    )


def after_switch(case: Case, plan: Plan, key: str) -> tuple[Value, ...]:
    """Readings of one key taken after the operation."""
    return _read_after(case, plan.operation_days, key) if plan.operated else ()


def _read_after(case: Case, day: float, key: str) -> tuple[Value, ...]:
    return tuple(value for value in case.all(key) if value.age_days > day)


def urgency_of(case: Case, plan: Plan, seed: int) -> Urgency:
    """Hours before years: today's urgency before the operation, the next visit after it."""
    if plan.operated:
        return Urgency(
            level="planned",
            hours=limits()["planned_hours"],
            headline="After the switch: this page looks at decades and seeks no emergency",
            why=("Nothing of today's circulation is computed after a switch.",),
        )
    return urgency_now(case, seed)


def _size_z(case: Case, sex: Sex) -> float | None:
    """Z of the last weight within the first growth standard, None where there is none."""
    for seen in reversed(case.all("weight_kg")):
        try:
            return weight_z(sex, seen.age_days, seen.number)
        except NormsError as error:
            if error.code == "beyond_three_deviations":
                return _edge(error)
    return None


def _edge(error: InseriesError) -> float:
    return 3.0 if isinstance(error.value, float) and error.value > 0.0 else -3.0


def _sizes(case: Case, day: float) -> dict[str, float]:
    found = {name: case.latest(name, day) for name in SIZES}
    return {name: seen.number for name, seen in found.items() if seen is not None}


def _relation_deg(case: Case) -> float:
    said = case.anatomy.great_arteries or "anterior-right"
    return repair_number(f"relation_{said.replace('-', '_')}")


def _refuse_atrial(case: Case) -> None:
    event = case.event(EventKind.ATRIAL_SWITCH)
    if event is not None:
        raise RouteNotPossible(
            "an outlook is one of the arterial switch",
            code="after_atrial_switch",
            where=f"outlook: event {event.kind.value}",
            value=round(event.age_days, 1),
            unit="d of age",
            remedy="routes, which has published series after an atrial switch",
        )


def _refuse_age(day: float) -> None:
    if not 0.0 <= day <= LATEST_YEARS * YEAR_DAYS:
        raise RouteNotPossible(
            "an outlook starts from a switch in childhood",
            code="age_out_of_bounds",
            where="switch day",
            value=day,
            unit="d",
            remedy=f"an age from birth to {LATEST_YEARS:g} years; it ends at {LAST_YEAR:g}.",
        )
