"""A case as sentences, with ages in place of dates."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING

from inseries.base.ages import age_words
from inseries.case.keys import fields, keys
from inseries.case.record import Case, Event, EventKind, Method, Reading, Sex, Value
from inseries.case.slips import tell, unit_word

if TYPE_CHECKING:
    from inseries.case.record import Anatomy

METHOD_WORDS = {
    Method.ECHO_2D: "2D echo",
    Method.ECHO_3D: "3D echo",
    Method.ECHO_M_MODE: "M-mode echo",
    Method.ECHO_DOPPLER: "Doppler",
    Method.CMR: "CMR",
    Method.CT: "CT",
    Method.CO_OXIMETER: "co-oximetry",
    Method.CALORIMETRY: "indirect calorimetry",
    Method.SURGICAL_VIEW: "direct view at operation",
    Method.CHART: "the chart",
}
"""How a sentence names a method, where its own name with spaces would not do."""

EVENT_WORDS = {
    EventKind.PROSTAGLANDIN_START: "prostaglandin started",
    EventKind.PROSTAGLANDIN_STOP: "prostaglandin stopped",
    EventKind.DUCT_CLOSED: "duct closed",
    EventKind.DUCT_STENT: "stent in the duct",
    EventKind.SHUNT: "systemic-to-pulmonary shunt",
    EventKind.BAND: "pulmonary artery banded",
    EventKind.SWITCH: "arterial switch",
    EventKind.ATRIAL_SWITCH: "atrial switch",
    EventKind.MECHANICAL_SUPPORT: "mechanical support started",
    EventKind.RELEASED: "family brief released",
}
_POSITION = {
    "anterior-right": "aorta anterior and to the right",
    "anterior": "aorta straight in front",
    "anterior-left": "aorta anterior and to the left",
    "side-by-side": "great arteries side by side",
    "posterior": "aorta behind the pulmonary artery",
}
_SEPTUM = {
    "toward_left": "ventricular septum bowed toward the left",
    "flat": "ventricular septum flat",
    "toward_right": "ventricular septum bowed toward the right",
}


def sentences(case: Case) -> tuple[str, ...]:
    """The whole record in order of age, one sentence for each reading and event.

    Parameters
    ----------
    case : Case

    Returns
    -------
    tuple of str; the first tells who, the second the anatomy
    """
    timed = sorted(chain(case.readings, case.events), key=lambda item: item.age_days)
    told = (
        reading_sentence(item) if isinstance(item, Reading) else event_sentence(item)
        for item in timed
    )
    return (baby_sentence(case), anatomy_sentence(case.anatomy), *told)


def baby_sentence(case: Case) -> str:
    """Who: sex, gestation, age and weight at the last reading."""
    who = (
        {Sex.FEMALE: "A girl", Sex.MALE: "A boy"}.get(case.sex, "A baby") if case.sex else "A baby"
    )
    parts = [who]
    if case.gestation_weeks is not None:
        parts.append(f"born at {tell(case.gestation_weeks)} weeks")
    seen = case.readings or case.events
    parts.append(
        f"{age_words(case.age_days)} old at the last entry" if seen else "nothing seen yet"
    )
    weight = case.latest("weight_kg")
    if weight is not None:
        parts.append(f"last weight {tell(weight.number)} kg")
    return ", ".join(parts) + "."


def anatomy_sentence(anatomy: Anatomy) -> str:
    """The anatomy in trade terms, and what of it is not stated."""
    told = [text for text in _anatomy_parts(anatomy) if text]
    asked = ("segments", "septum", "great_arteries", "lv_outflow", "pulmonary_valve", "arch")
    open_ = [fields("anatomy")[n].word for n in asked if getattr(anatomy, n) is None]
    if anatomy.coronary is None:
        open_.append(fields("anatomy")["coronary"].word)
    first = ", ".join(told) + "." if told else ""
    rest = f"Not stated: {', '.join(open_)}." if open_ else ""
    return " ".join(part for part in (first[:1].upper() + first[1:], rest) if part)


def reading_sentence(reading: Reading) -> str:
    """One reading: age, then the values, those of one method together."""
    usual = [value_words(v) for v in reading.values if v.method == keys()[v.key].default]
    groups: dict[str, list[str]] = {}
    for value in reading.values:
        if value.method != keys()[value.key].default:
            groups.setdefault(_by(value.method), []).append(value_words(value))
    told = [", ".join(usual)] if usual else []
    told += [f"{how}: {', '.join(values)}" for how, values in groups.items()]
    return f"At {age_words(reading.age_days)}: {'; '.join(told)}."


def _by(method: Method | None) -> str:
    return "method not stated" if method is None else f"by {method_words(method)}"


def event_sentence(event: Event) -> str:
    """One event: age, what, and its details; who released a brief is not told."""
    what = EVENT_WORDS.get(event.kind, event.kind.replace("_", " "))
    known = fields("event")
    details = [
        f"{known[name].word} {_detail(value)} {unit_word(known[name].unit)}".strip()
        for name, value in event.details.items()
        if name != "by"
    ]
    extra = f" ({', '.join(details)})" if details else ""
    return f"At {age_words(event.age_days)}: {what}{extra}."


def value_words(value: Value) -> str:
    """One value as a sentence holds it: ``left ventricular mass 7.9 ± 0.8 g``."""
    key = keys()[value.key]
    if isinstance(value.value, str):
        told = _SEPTUM.get(value.value) if value.key == "septum_position" else None
        return told or f"{key.word} {value.value.replace('_', ' ')}"
    if value.key == "duct_mm" and value.value == 0:
        return "duct closed"
    spread = f" ± {tell(value.sd)}" if value.sd is not None else ""
    return f"{key.word} {tell(value.value)}{spread} {unit_word(key.unit)}".rstrip()


def method_words(method: Method | None) -> str:
    """A method as a sentence names it."""
    if method is None:
        return "method not stated"
    return METHOD_WORDS.get(method, method.replace("-", " "))


def _detail(value: float | str | tuple[str, ...]) -> str:
    if isinstance(value, tuple):
        return " and ".join(value) or "nothing"
    return value if isinstance(value, str) else tell(value)


def _anatomy_parts(a: Anatomy) -> tuple[str, ...]:
    defect = f" of {tell(a.vsd_mm)} mm" if a.vsd_mm is not None else ""
    site = f" ({a.vsd_site})" if a.vsd_site else ""
    septum = {"intact": "ventricular septum intact", "vsd": f"ventricular defect{defect}{site}"}
    return (
        a.segments or "",
        septum[a.septum] if a.septum else "",
        _POSITION[a.great_arteries] if a.great_arteries else "",
        f"left ventricular outflow {a.lv_outflow}" if a.lv_outflow else "",
        f"pulmonary valve {a.pulmonary_valve}" if a.pulmonary_valve else "",
        f"arch {a.arch}" if a.arch else "",
        f"lung vessels {a.lung_vessels}" if a.lung_vessels else "",
        _coronary(a),
    )


def _coronary(a: Anatomy) -> str:
    if a.coronary is None:
        return ""
    notes = [
        a.coronary_certainty or "certainty not stated",
        {True: "intramural course", False: "no intramural course", None: ""}[a.coronary_intramural],
        f"openings {a.coronary_height}" if a.coronary_height else "",
        f"commissures {a.coronary_commissures}" if a.coronary_commissures else "",
        f"transfer {a.coronary_transfer}" if a.coronary_transfer else "",
    ]
    return f"coronaries {a.coronary} ({', '.join(n for n in notes if n)})"
