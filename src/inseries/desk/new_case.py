"""A case begun with five answers: a label, the sex, the age, the weight, the septum."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.base.errors import CaseError
from inseries.case import read_case
from inseries.case.rewrite import with_setting, with_table
from inseries.desk.typed import as_written

if TYPE_CHECKING:
    from collections.abc import Mapping

BEGUN = "# A case begun at the desk. Ages are hours since birth.\n\n[case]\n\n[anatomy]\n"
ASKED = ("id", "sex", "age", "weight", "septum")


def begun(answers: Mapping[str, str]) -> str:
    """The text of a case file from five answers.

    Parameters
    ----------
    answers : by name, as typed; an empty one is left out, but for the label and the age

    Raises
    ------
    CaseError, in the words of the command line
    """
    text = BEGUN
    for table, key in (("case", "id"), ("case", "sex"), ("anatomy", "septum")):
        told = as_written(table, key, answers.get(key, ""))
        text = with_setting(text, table, 0, key, told)
    age = as_written("readings", "age_h", answers.get("age", ""))
    if age is None:
        raise CaseError(
            "no time is given",
            code="missing_time",
            where="age",
            remedy="hours since birth, such as 20, or days, such as 9 d.",
        )
    weight = as_written("readings", "weight_kg", answers.get("weight", ""))
    if weight is not None:
        text = with_table(text, "readings", (("age_h", age), ("weight_kg", weight)))
    read_case(text)
    return text
