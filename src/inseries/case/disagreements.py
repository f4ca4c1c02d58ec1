"""Values of one moment that do not fit one another: volumes, pressures, saturations."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.base.ages import HOURS_PER_DAY, age_words
from inseries.case.keys import keys
from inseries.case.record import EventKind, Method, Value
from inseries.case.slips import tell

if TYPE_CHECKING:
    from collections.abc import Iterator

    from inseries.case.record import Case

Found = tuple[str, str]

TOGETHER_DAYS = 1 / HOURS_PER_DAY  # chosen: bedside values and an echo within an hour are one state
EF_POINTS = 10.0  # chosen: an ejection fraction and the volumes it comes from differ by rounding
SATURATION_POINTS = 12.0  # chosen: a good oximeter at 70 % errs by a few points
HB_PER_HAEMATOCRIT = 0.33  # common practice: haemoglobin in g/dL is a third of haematocrit in %
HB_SHARE = 0.25  # chosen: red cells of newborns vary, but not by a quarter
PRESSURE_MMHG = 15.0  # chosen: two estimates of one pressure by two methods differ by this much
ATRIAL_MMHG = 4.0  # chosen: a mean gradient by Doppler and by catheter differ by this much


def disagreements(case: Case) -> Iterator[Found]:
    """Names and sentences of what does not fit within one moment."""
    for side, word in (("lv", "left"), ("rv", "right")):
        yield from _volumes(case, side, word)
    yield from _arterial(case)
    yield from _atria(case)
    yield from _saturations(case)
    yield from _haemoglobin(case)
    yield from _ventricle_and_artery(case, "lv", "pulmonary_artery_systolic_mmhg")
    yield from _ventricle_and_artery(case, "rv", "systolic_mmhg")
    yield from _septum(case)


def together(case: Case, *names: str) -> Iterator[tuple[Value, ...]]:
    """Values of several keys taken at the same time: one of the first, the nearest of the rest.

    Parameters
    ----------
    case : Case
    names : keys; moments at which one of them was not taken are left out
    """
    for first in case.all(names[0]):
        near = [_nearest(case, name, first.age_days) for name in names[1:]]
        found = [value for value in near if value is not None]
        if len(found) == len(near):
            yield (first, *found)


def _nearest(case: Case, name: str, age: float) -> Value | None:
    taken = min(case.all(name), key=lambda v: abs(v.age_days - age), default=None)
    if taken is None or abs(taken.age_days - age) > TOGETHER_DAYS:
        return None
    return taken


def _at(value: Value) -> str:
    return f"At {age_words(value.age_days)}"


def _volumes(case: Case, side: str, word: str) -> Iterator[Found]:
    edv_key, esv_key = f"{side}_edv_ml", f"{side}_esv_ml"
    for edv, esv in together(case, edv_key, esv_key):
        if edv.number <= esv.number:
            yield (
                "volumes",
                f"{_at(edv)} the {word} ventricle is no larger before it contracts "
                f"({tell(edv.number)} mL) than after ({tell(esv.number)} mL).",
            )
    for edv, esv, ef in together(case, edv_key, esv_key, f"{side}_ef_pct"):
        ejected = 100 * (1 - esv.number / edv.number)
        if ejected > 0 and abs(ef.number - ejected) > EF_POINTS:
            yield (
                "ejection_fraction",
                f"{_at(edv)} the {word} ventricular ejection fraction is given as "
                f"{tell(ef.number)} %, but the volumes give {ejected:.0f} %.",
            )


def _arterial(case: Case) -> Iterator[Found]:
    order = (
        ("systolic_mmhg", "diastolic_mmhg", "systolic", "diastolic"),
        ("systolic_mmhg", "mean_mmhg", "systolic", "mean"),
        ("mean_mmhg", "diastolic_mmhg", "mean", "diastolic"),
    )
    for upper, lower, high_word, low_word in order:
        for high, low in together(case, upper, lower):
            if high.number <= low.number:
                yield (
                    "arterial_pressure",
                    f"{_at(high)} the {high_word} arterial pressure ({tell(high.number)} mmHg) is "
                    f"not above the {low_word} ({tell(low.number)} mmHg).",
                )


def _atria(case: Case) -> Iterator[Found]:
    names = ("la_mean_mmhg", "ra_mean_mmhg", "atrial_gradient_mmhg")
    for la, ra, gradient in together(case, *names):
        step = la.number - ra.number
        if abs(abs(step) - gradient.number) > ATRIAL_MMHG:
            yield (
                "atrial_gradient",
                f"{_at(la)} the atrial gradient is given as {tell(gradient.number)} mmHg, but the "
                f"two atrial pressures differ by {tell(abs(step))} mmHg.",
            )
    for gradient, size in together(case, "atrial_gradient_mmhg", "atrial_defect_mm"):
        # A catheter can measure a gradient across a closed septum; Doppler needs a jet.
        if size.number == 0 and gradient.number > 0 and gradient.method == Method.ECHO_DOPPLER:
            yield (
                "atrial_defect",
                f"{_at(gradient)} Doppler sees a jet across an atrial septum given as closed.",
            )


def _saturations(case: Case) -> Iterator[Found]:
    sites = ("spo2_right_hand_pct", "spo2_foot_pct")
    for blood in case.all("sao2_pct"):
        taken = [v for s in sites if (v := _nearest(case, s, blood.age_days)) is not None]
        # The sample may come from above or below the duct: it has to fit one of the two.
        if taken and all(abs(v.number - blood.number) > SATURATION_POINTS for v in taken):
            seen = " and ".join(f"{keys()[v.key].word} {tell(v.number)} %" for v in taken)
            yield (
                "saturation",
                f"{_at(blood)} arterial blood holds {tell(blood.number)} % of its oxygen, but the "
                f"oximeter reads otherwise ({seen}).",
            )


def _haemoglobin(case: Case) -> Iterator[Found]:
    for hb, hct in together(case, "haemoglobin_g_dl", "haematocrit_pct"):
        if abs(hb.number / (HB_PER_HAEMATOCRIT * hct.number) - 1) > HB_SHARE:
            yield (
                "haemoglobin",
                f"{_at(hb)} haemoglobin {tell(hb.number)} g/dL and haematocrit "
                f"{tell(hct.number)} % do not belong to the same blood.",
            )


def _ventricle_and_artery(case: Case, side: str, artery_key: str) -> Iterator[Found]:
    word = {"lv": "left", "rv": "right"}[side]
    switch = case.event(EventKind.SWITCH)
    for ventricle, artery in together(case, f"{side}_systolic_mmhg", artery_key):
        # After the switch each ventricle fills the other artery.
        if switch is not None and ventricle.age_days >= switch.age_days:
            continue
        if artery.number - ventricle.number > PRESSURE_MMHG:
            yield (
                f"{side}_pressure",
                f"{_at(ventricle)} the {keys()[artery_key].word} ({tell(artery.number)} mmHg) "
                f"stands above that of the {word} ventricle, which fills this artery "
                f"({tell(ventricle.number)} mmHg).",
            )


def _septum(case: Case) -> Iterator[Found]:
    names = ("septum_position", "lv_systolic_mmhg", "rv_systolic_mmhg")
    for septum, lv, rv in together(case, *names):
        # The septum bows toward the ventricle of lower pressure.
        lead = lv.number - rv.number if septum.value == "toward_left" else rv.number - lv.number
        if septum.value != "flat" and lead > PRESSURE_MMHG:
            yield (
                "septum_position",
                f"{_at(septum)} the ventricular septum bows toward the ventricle of higher "
                f"pressure (left {tell(lv.number)}, right {tell(rv.number)} mmHg).",
            )
