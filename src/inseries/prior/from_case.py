"""The story of one baby from its case: size, blood and openings over age."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, TypeAlias

from inseries.base.errors import PriorError
from inseries.case.record import Case, Event, EventKind, Sex
from inseries.norms.blood import fetal_share_after_transfusion
from inseries.norms.growth import Sex as GrowthSex
from inseries.norms.growth import length_cm, length_z, weight_kg, weight_z
from inseries.norms.surface import body_surface_m2
from inseries.prior.actions import Action, Kind, with_actions
from inseries.prior.plain import (
    CLOSING_DAYS,
    CLOSING_DUCT,
    NODES_DAYS,
    USUAL_CARBON_DIOXIDE_MMHG,
    USUAL_INSPIRED_FRACTION,
    USUAL_PH,
    cyanotic_haemoglobin,
    plain_story,
    usual_fetal_share,
    usual_rate,
)
from inseries.prior.story import Story, Track
from inseries.routes import band_lumen_mm

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.case.record import Value

Points: TypeAlias = "list[tuple[float, float]]"
"""Age in days and a size at that age."""

# chosen: duct under prostaglandin when nobody has measured it, mm
DUCT_UNDER_PROSTAGLANDIN_MM = 3.0
# published: who2006, centiles by LMS reach three deviations
GREATEST_Z = 3.0
# chosen: inspired oxygen and blood gases are taken to stay as read for so long, days, then usual
GAS_HELD_DAYS = 1.0
# chosen: nothing here was compared with older babies, days
OLDEST_DAYS = 180.0


def story_of(case: Case) -> Story:
    """What the case says of a baby over time.

    Parameters
    ----------
    case : Case with at least one weight

    Returns
    -------
    Story with parallel circulations

    Raises
    ------
    PriorError
        no weight was recorded, or the child is too old
    """
    _refuse_old(case)
    sex = growth_sex(case)
    weight = _weight(case, sex)
    length = _length(case, sex, weight)
    septostomy = case.event(EventKind.SEPTOSTOMY)
    torn = septostomy.age_days if septostomy else None
    duct, breaks = duct_track(case)
    story = replace(
        plain_story(sex, 0.0),
        weight_kg=weight,
        surface_m2=_surface(weight, length),
        heart_rate_per_min=_read_track(case, "heart_rate_per_min") or usual_rate(weight),
        haemoglobin_g_dl=_haemoglobin(case),
        fetal_share=_fetal_share(case, weight),
        inspired_fraction=_inspired(case),
        carbon_dioxide_mmhg=_gas(case, "pco2_mmhg", USUAL_CARBON_DIOXIDE_MMHG),
        ph=_gas(case, "ph", USUAL_PH),
        haemoglobin_measured=bool(case.all("haemoglobin_g_dl")),
        duct_mm=duct,
        septostomy_day=torn,
        foramen_mm=_atrial(case, before=torn),
        tear_mm=_atrial(case, after=torn) if torn is not None else None,
        ventricular_mm=_ventricular(case),
        outflow=case.anatomy.lv_outflow.value if case.anatomy.lv_outflow else None,
        breaks_days=tuple(sorted({*breaks, *((torn,) if torn is not None else ())})),
    )
    return with_actions(story, palliations(case))


def palliations(case: Case) -> tuple[Action, ...]:
    """Bands and shunts that the case has.

    Raises
    ------
    PriorError
        one whose size was not recorded
    """
    found: list[Action] = []
    for event in case.events:
        if event.kind is EventKind.BAND:
            lumen = band_lumen_mm(_detail(event, "band_circumference_mm"))
            found.append(Action(kind=Kind.BAND, age_days=event.age_days, size=lumen))
        if event.kind is EventKind.SHUNT or "shunt_mm" in event.details:
            size = _detail(event, "shunt_mm")
            found.append(Action(kind=Kind.SHUNT, age_days=event.age_days, size=size))
    return tuple(found)


def _detail(event: Event, name: str) -> float:
    given = event.details.get(name)
    if isinstance(given, float | int):
        return float(given)
    raise PriorError(
        f"the size of this {event.kind.value} was not recorded, and the circulation hangs on it",
        code="no_size",
        where=f"event {event.kind.value}",
        value=round(event.age_days, 1),
        unit="d of age",
        remedy=f"add {name} to the event",
    )


def _refuse_old(case: Case) -> None:
    if case.age_days > OLDEST_DAYS:
        raise PriorError(
            "this edition computes babies in their first months only",
            code="too_old",
            where="age at the last entry",
            value=round(case.age_days),
            unit="d",
            remedy=f"a baby younger than {OLDEST_DAYS:g} days",
        )


def growth_sex(case: Case) -> GrowthSex:
    """Which growth standard is used; girls' when the sex is not stated (``check`` says so)."""
    return "male" if case.sex is Sex.MALE else "female"


def _weight(case: Case, sex: GrowthSex) -> Track:
    seen = case.all("weight_kg")
    if not seen:
        raise PriorError(
            "no weight was recorded, and every size follows from it",
            code="no_weight",
            where="readings",
            unit="kg",
            remedy="add weight_kg to a reading",
        )
    first, last = seen[0], seen[-1]
    before, after = _centile(sex, first), _centile(sex, last)
    shift = last.number - after(last.age_days)
    share = first.number / before(first.age_days)
    return _track(
        [
            *((age, share * before(age)) for age in NODES_DAYS if age < first.age_days - 1.0),
            *((value.age_days, value.number) for value in seen),
            *((age, shift + after(age)) for age in NODES_DAYS if age > last.age_days + 1.0),
        ]
    )


def _centile(sex: GrowthSex, seen: Value) -> Callable[[float], float]:
    """Weight by age on the centile of one weight, or on the outermost one in the tables."""
    z = _within(weight_z(sex, seen.age_days, seen.number))
    return lambda age: weight_kg(sex, age, z)


def _length(case: Case, sex: GrowthSex, weight: Track) -> Track:
    """Length by age: as read, else as long for age as the baby is heavy for age."""
    seen = case.latest("length_cm")
    if seen is not None:
        z = _within(length_z(sex, seen.age_days, seen.number))
    else:
        z = _within(weight_z(sex, weight.ages_days[0], weight.values[0]))
    return Track(ages_days=NODES_DAYS, values=tuple(length_cm(sex, age, z) for age in NODES_DAYS))


def _surface(weight: Track, length: Track) -> Track:
    ages = tuple(sorted({*weight.ages_days, *length.ages_days}))
    return Track(
        ages_days=ages, values=tuple(body_surface_m2(weight(age), length(age)) for age in ages)
    )


def _haemoglobin(case: Case) -> Track:
    read = _read_track(case, "haemoglobin_g_dl")
    if read is not None:
        return read
    return cyanotic_haemoglobin()


def _fetal_share(case: Case, weight: Track) -> Track:
    """Fetal share of haemoglobin by age: as usual, less what each transfusion replaced."""
    usual, haemoglobin = usual_fetal_share(), _haemoglobin(case)
    kept, points = 1.0, list(zip(usual.ages_days, usual.values, strict=True))
    for given in case.all("transfused_ml"):
        age = given.age_days
        before = kept
        kept = fetal_share_after_transfusion(before, given.number / weight(age), haemoglobin(age))
        later = [(day, share * kept / before) for day, share in points if day > age]
        here = _track(points)(age)
        earlier = [point for point in points if point[0] <= age]
        points = [*earlier, (age, here), (age, here * kept / before), *later]
    return _track(points)


def _inspired(case: Case) -> Track:
    percent = _gas(case, "inspired_oxygen_pct", 100.0 * USUAL_INSPIRED_FRACTION)
    return replace(percent, values=tuple(value / 100.0 for value in percent.values))


def _gas(case: Case, key: str, usual: float) -> Track:
    """As read until it is read again, for a day at most; usual before and after."""
    points: Points = []
    for seen in case.all(key):
        if points and points[-1][0] > seen.age_days:
            points = [*points[:-2], (seen.age_days, points[-2][1])]
        else:
            points.append((seen.age_days, usual))
        until = seen.age_days + GAS_HELD_DAYS
        points += [(seen.age_days, seen.number), (until, seen.number), (until, usual)]
    return _track(points or [(0.0, usual)])


def duct_track(case: Case) -> tuple[Track, tuple[float, ...]]:
    """Diameter of the duct by age and the ages at which it begins or ends to close.

    Readings are joined by straight lines; prostaglandin or a stent holds it open; without them it
    closes as ducts do, at the latest when it was recorded closed; without readings the usual sizes
    are taken.
    """
    seen = [(v.age_days, v.number) for v in case.all("duct_mm")]
    points, breaks = _without_stent(case, seen)
    stent = case.event(EventKind.DUCT_STENT)
    if stent is None:
        return _track(points), breaks
    age = stent.age_days
    was = _track(points)(age)
    given = stent.details.get("stent_mm")
    width = given if isinstance(given, float | int) else was or DUCT_UNDER_PROSTAGLANDIN_MM
    earlier = [point for point in points if point[0] < age]
    later = [point for point in seen if point[0] > age]
    return _track([*earlier, (age, was), (age, width), *later]), (*breaks, age)


def _without_stent(case: Case, seen: Points) -> tuple[Points, tuple[float, ...]]:
    """Diameters and breaks as prostaglandin and time would have them."""
    start, stop = case.event(EventKind.PROSTAGLANDIN_START), _last_stop(case)
    closed = case.event(EventKind.DUCT_CLOSED)
    points = (
        _closing(seen) if start is None else seen or [(start.age_days, DUCT_UNDER_PROSTAGLANDIN_MM)]
    )
    if closed is not None:
        points = [point for point in points if point[0] < closed.age_days]
    if stop is not None and (closed is None or stop < closed.age_days):
        points = _held(points, stop)
    if closed is not None:
        ends = {age for age in (stop, closed.age_days) if age is not None}
        return [*points, (closed.age_days, 0.0)], tuple(sorted(ends))
    if stop is None or points[-1][1] == 0.0:
        return points, ()
    end = points[-1][0] + CLOSING_DAYS
    return [*points, (end, 0.0)], (stop, end)


def _held(points: Points, stop: float) -> Points:
    """As read, and as wide as last read until prostaglandin stops."""
    if not points:
        return [(stop, DUCT_UNDER_PROSTAGLANDIN_MM)]
    return points if points[-1][0] >= stop else [*points, (stop, points[-1][1])]


def _closing(seen: Points) -> Points:
    """A duct that nothing holds open: as read, then in step with the usual one, while that is open.

    One that is still open when the usual one has closed is taken to stay as it was last read.
    """
    usual = list(zip(CLOSING_DUCT.ages_days, CLOSING_DUCT.values, strict=True))
    if not seen:
        return usual
    age, size = seen[-1]
    then = CLOSING_DUCT(age)
    ahead = [(day, size * mm / then) for day, mm in usual if day > age] if then > 0.0 else []
    return seen + ahead


def _last_stop(case: Case) -> float | None:
    """Age at which prostaglandin was stopped for good, or None."""
    starts = [event.age_days for event in case.events_of(EventKind.PROSTAGLANDIN_START)]
    stops = [event.age_days for event in case.events_of(EventKind.PROSTAGLANDIN_STOP)]
    if not stops or (starts and starts[-1] > stops[-1]):
        return None
    return stops[-1]


def _atrial(case: Case, *, before: float | None = None, after: float | None = None) -> float | None:
    seen = [
        value.number
        for value in case.all("atrial_defect_mm")
        if (before is None or value.age_days < before)
        and (after is None or value.age_days >= after)
    ]
    return sum(seen) / len(seen) if seen else None


def _ventricular(case: Case) -> float:
    seen = case.latest("ventricular_defect_mm")
    if seen is not None:
        return seen.number
    return case.anatomy.vsd_mm or 0.0


def _read_track(case: Case, key: str) -> Track | None:
    seen = case.all(key)
    if not seen:
        return None
    return _track([(v.age_days, v.number) for v in seen])


def _track(points: Points) -> Track:
    pairs = sorted(points, key=lambda point: point[0])
    return Track(ages_days=tuple(p[0] for p in pairs), values=tuple(p[1] for p in pairs))


def _within(z: float) -> float:
    return min(max(z, -GREATEST_Z), GREATEST_Z)
