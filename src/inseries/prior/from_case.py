"""The story of one baby from its case: size, blood and openings over age."""

from __future__ import annotations

from dataclasses import replace

from inseries.base.errors import PriorError
from inseries.case.record import Case, EventKind, Sex
from inseries.norms.growth import Sex as GrowthSex
from inseries.norms.growth import length_cm, length_z, weight_kg, weight_z
from inseries.norms.surface import body_surface_m2
from inseries.prior.plain import (
    CLOSING_DUCT,
    NODES_DAYS,
    plain_story,
    usual_haemoglobin,
    usual_rate,
)
from inseries.prior.story import Story, Track

# chosen: duct under prostaglandin when nobody has measured it, mm
DUCT_UNDER_PROSTAGLANDIN_MM = 3.0
# chosen: days a duct takes to close once prostaglandin stops
CLOSING_DAYS = 2.0
# published: who2006, centiles by LMS reach three deviations
GREATEST_Z = 3.0
# chosen: in cyanosis the physiological fall of haemoglobin is taken to stop here, g/dL
CYANOTIC_FLOOR_G_DL = 15.0


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
        no weight was recorded
    """
    sex = growth_sex(case)
    weight = _weight(case, sex)
    length = _length(case, sex, weight)
    septostomy = case.event(EventKind.SEPTOSTOMY)
    torn = septostomy.age_days if septostomy else None
    duct, breaks = duct_track(case)
    return replace(
        plain_story(sex, 0.0),
        weight_kg=weight,
        surface_m2=_surface(weight, length),
        heart_rate_per_min=_read_track(case, "heart_rate_per_min") or usual_rate(weight),
        haemoglobin_g_dl=_haemoglobin(case),
        haemoglobin_measured=bool(case.all("haemoglobin_g_dl")),
        duct_mm=duct,
        septostomy_day=torn,
        foramen_mm=_atrial(case, before=torn),
        tear_mm=_atrial(case, after=torn) if torn is not None else None,
        ventricular_mm=_ventricular(case),
        outflow=case.anatomy.lv_outflow.value if case.anatomy.lv_outflow else None,
        breaks_days=tuple(sorted({*breaks, *((torn,) if torn is not None else ())})),
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
    ages = [value.age_days for value in seen]
    kilos = [value.number for value in seen]
    z = _within(weight_z(sex, ages[-1], kilos[-1]))
    shift = kilos[-1] - weight_kg(sex, ages[-1], z)
    later = [age for age in NODES_DAYS if age > ages[-1] + 1.0]
    return _ascending(ages + later, kilos + [weight_kg(sex, age, z) + shift for age in later])


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
    usual = usual_haemoglobin()
    return replace(usual, values=tuple(max(g, CYANOTIC_FLOOR_G_DL) for g in usual.values))


def duct_track(case: Case) -> tuple[Track, tuple[float, ...]]:
    """Diameter of the duct by age and the ages at which it begins or ends to close.

    Readings are joined by straight lines; prostaglandin holds it open; once it stops, or a closed
    duct is recorded, it closes; without readings the usual sizes are taken.
    """
    points = [(v.age_days, v.number) for v in case.all("duct_mm")]
    start, stop = case.event(EventKind.PROSTAGLANDIN_START), _last_stop(case)
    closed = case.event(EventKind.DUCT_CLOSED)
    stent = case.event(EventKind.DUCT_STENT)
    if not points and start is None:
        points = list(zip(CLOSING_DUCT.ages_days, CLOSING_DUCT.values, strict=True))
    elif not points and start is not None:
        points = [(start.age_days, DUCT_UNDER_PROSTAGLANDIN_MM)]
    points = [point for point in points if closed is None or point[0] < closed.age_days]
    size = points[-1][1] if points else DUCT_UNDER_PROSTAGLANDIN_MM
    breaks: list[float] = []
    if stop is not None and size > 0.0:
        points = [point for point in points if point[0] < stop] + [(stop, size)]
        end = closed.age_days if closed is not None else stop + CLOSING_DAYS
        points.append((max(end, stop + 1e-6), 0.0))
        breaks = [stop, end]
    elif closed is not None:
        points.append((closed.age_days, 0.0))
        breaks = [closed.age_days]
    if stent is not None:
        width = float(stent.details.get("stent_mm", size))  # pyright: ignore[reportArgumentType]
        points = [p for p in points if p[0] < stent.age_days] + [(stent.age_days, width)]
        breaks.append(stent.age_days)
    return _ascending([p[0] for p in points], [p[1] for p in points]), tuple(breaks)


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
    return _ascending([v.age_days for v in seen], [v.number for v in seen])


def _ascending(ages: list[float], values: list[float]) -> Track:
    pairs = sorted(zip(ages, values, strict=True), key=lambda pair: pair[0])
    return Track(ages_days=tuple(p[0] for p in pairs), values=tuple(p[1] for p in pairs))


def _within(z: float) -> float:
    return min(max(z, -GREATEST_Z), GREATEST_Z)
