"""What a reader of a record should know before trusting an answer from it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.base.ages import age_words
from inseries.base.findings import Caution, Severity
from inseries.case.disagreements import together
from inseries.case.keys import keys
from inseries.case.record import LvOutflow, Method
from inseries.case.slips import tell
from inseries.case.words import method_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from inseries.case.record import Case

SITES_DIFFER_PCT = 3.0  # common practice: screening rules count a difference above 3 points
OXIMETER_FLOOR_PCT = 70.0  # common practice: oximeters are calibrated on volunteers down to 70 %
TRANSPOSED = ("D", "X", "L", "A", "I")
_ECHO = (Method.ECHO_2D, Method.ECHO_3D, Method.ECHO_M_MODE)


def remarks(case: Case) -> tuple[Caution, ...]:
    """Remarks on method, on what a sign means, and on what cannot be shown.

    Parameters
    ----------
    case : Case

    Returns
    -------
    tuple of Caution, the binding ones first
    """
    found = (
        *_other_circulation(case),
        *_suitability(case),
        *_mass_methods(case),
        *_methods_not_stated(case),
        *_foot_above_hand(case),
        *_oximeter(case),
        *_calculated_saturation(case),
    )
    return tuple(sorted(found, key=lambda c: c.severity != Severity.CAUTION))


def _caution(text: str) -> Caution:
    return Caution(severity=Severity.CAUTION, text=text)


def _note(text: str) -> Caution:
    return Caution(severity=Severity.NOTE, text=text)


def _other_circulation(case: Case) -> Iterator[Caution]:
    segments = case.anatomy.segments
    if segments is None:
        return
    _, ventricles, arteries = segments.strip("{}").split(",")
    if ventricles == "L" and arteries == "L":
        yield _caution(
            f"{segments} is usually corrected transposition: its circulations lie in series, and "
            "nothing here computes them."
        )
    elif arteries == "S":
        yield _caution(f"{segments} describes great arteries that are not transposed.")


def _suitability(case: Case) -> Iterator[Caution]:
    outflow, valve = case.anatomy.lv_outflow, case.anatomy.pulmonary_valve
    shown = "that a switch is the operation is not shown."
    if outflow in {LvOutflow.FIXED, LvOutflow.VALVAR}:
        yield _caution(
            f"The left ventricular outflow is narrowed ({outflow}) and would become the body's: "
            f"{shown} Operations that go round it are not computed here."
        )
    elif outflow is None:
        yield _caution(f"The left ventricular outflow is not stated: {shown}")
    if valve is None:
        yield _caution(f"The pulmonary valve is not stated and would become the body's: {shown}")
    elif valve in {"stenotic", "regurgitant", "thickened"}:
        yield _caution(f"The pulmonary valve is {valve} and would become the body's: {shown}")


def _mass_methods(case: Case) -> Iterator[Caution]:
    masses = case.all("lv_mass_g")
    methods = {m.method for m in masses}
    if methods & set(_ECHO) and Method.CMR in methods:
        yield _caution(
            "Left ventricular mass was taken by echo and by CMR: in healthy newborns echo gives "
            "about 36 g/m2 and CMR about 26, so the two are different quantities and make no trend."
        )
    elif len(methods - {None}) > 1:
        told = " and ".join(sorted(method_words(m) for m in methods if m))
        yield _caution(f"Left ventricular mass was taken by {told}: compare only within a method.")
    if None in methods:
        yield _caution(
            "Left ventricular mass without its method can be compared with no reference: echo and "
            "CMR differ by about a third."
        )


def _methods_not_stated(case: Case) -> Iterator[Caution]:
    open_ = dict.fromkeys(
        keys()[v.key].word
        for r in case.readings
        for v in r.values
        if v.method is None and v.key not in {"lv_mass_g", "sao2_pct"}
    )
    if open_:
        yield _note(f"No method is stated for: {', '.join(open_)}.")


def _foot_above_hand(case: Case) -> Iterator[Caution]:
    pairs = together(case, "spo2_right_hand_pct", "spo2_foot_pct")
    ages = [age_words(h.age_days) for h, f in pairs if f.number - h.number > SITES_DIFFER_PCT]
    if ages:
        yield _note(
            f"At {' and '.join(ages)} the foot is better saturated than the hand. Here this is a "
            "sign, not an error: blood from the lung artery reaches the lower body, because lung "
            "resistance is high or the arch is obstructed. Its absence excludes neither."
        )


def _oximeter(case: Case) -> Iterator[Caution]:
    low = [v for v in case.all("spo2_right_hand_pct") if v.number < OXIMETER_FLOOR_PCT]
    if low:
        least = min(v.number for v in low)
        yield _note(
            f"Oximeters are hardly tested below {tell(OXIMETER_FLOOR_PCT)} %, and mostly read too "
            f"high there (lowest here {tell(least)} %): arterial blood by co-oximetry tells more."
        )


def _calculated_saturation(case: Case) -> Iterator[Caution]:
    if any(v.method in {None, Method.CALCULATED} for v in case.all("sao2_pct")):
        yield _note(
            "An arterial saturation that the analyser calculates from the oxygen pressure follows "
            "the adult curve, and is too low for fetal haemoglobin; by co-oximetry it is measured."
        )
