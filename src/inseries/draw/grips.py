"""What a finger may take hold of in a picture, said to whoever shows it; nothing of it is seen.

A group without content carries places and values. A page lays its own handle there; on paper
there is none.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from inseries.draw.svg import Sheet, number

if TYPE_CHECKING:
    from collections.abc import Iterable

    from inseries.draw.axes import Axis

Places = list[tuple[float, float]]


def along(axis: Axis, first: float, last: float) -> Places:
    """Both ends of a straight axis as places and values."""
    return [(axis.at(first), first), (axis.at(last), last)]


def axis_grip(
    sheet: Sheet,
    of: str,
    places: Places,
    field: tuple[float, float],
    *,
    unit: str,
    value: float,
    runs: Literal["across", "up"] = "across",
) -> None:
    """An axis along which a handle runs.

    Parameters
    ----------
    sheet : Sheet
    of : what the axis measures, such as ``"age"``
    places : place and value of each bend of the scale, in drawing units, along the axis
    field : where the handle's line begins and ends across the axis, drawing units
    unit : of the values
    value : where the handle rests until it is moved
    runs : across the page, or up and down
    """
    _group(
        sheet,
        data_axis=of,
        data_runs=runs,
        data_unit=unit,
        data_value=number(value),
        data_places=" ".join(f"{number(x)},{number(value)}" for x, value in places),
        data_field=f"{number(field[0])},{number(field[1])}",
    )


def told_grip(
    sheet: Sheet,
    of: str,
    name: str,
    rows: Iterable[tuple[float, float, str]],
    *,
    colour: str,
) -> None:
    """What stands at each value of an axis: value, height in drawing units, words."""
    told = tuple(rows)
    _group(
        sheet,
        data_told=of,
        data_name=name,
        data_colour=colour,
        data_values=" ".join(number(value) for value, _, _ in told),
        data_heights=" ".join(number(height) for _, height, _ in told),
        data_words="|".join(words for _, _, words in told),
    )


def mark_grip(sheet: Sheet, of: str, at: tuple[float, float], value: float) -> None:
    """A sign that stands at a value of the axis of the same picture and can be moved along it."""
    place = f"{number(at[0])},{number(at[1])}"
    _group(sheet, data_mark=of, data_at=place, data_value=number(value))


def pull_grip(
    sheet: Sheet,
    of: str,
    at: tuple[float, float],
    value: float,
    *,
    per: float,
    runs: Literal["across", "up", "down"] = "down",
) -> None:
    """Something that is pulled where it is drawn.

    Parameters
    ----------
    sheet : Sheet
    of : what is pulled, such as ``"atrial"``
    at : where, drawing units
    value : as it is drawn
    per : drawing units of one unit of the value
    runs : the way in which it becomes more
    """
    _group(
        sheet,
        data_pull=of,
        data_runs=runs,
        data_at=f"{number(at[0])},{number(at[1])}",
        data_value=number(value),
        data_per=number(per),
    )


def _group(sheet: Sheet, **told: str) -> None:
    sheet.add("g", **told)
