"""Single values of a case file: numbers within bounds, words from a list, methods."""

from __future__ import annotations

import re
from difflib import get_close_matches
from typing import TYPE_CHECKING, cast

from inseries.base.ages import age_words
from inseries.case.keys import Field, Key, bounds, keys
from inseries.case.record import Method, Value
from inseries.case.slips import probably_meant, tell, unit_word

if TYPE_CHECKING:
    from inseries.case.place import Place
    from inseries.case.source import Table

LARGEST = 1e15  # chosen: far beyond any value here; keeps huge whole numbers out of float()
LONGEST_WORD = 200  # chosen: a source or a name fits; a pasted report does not
# chosen: an id is printed and names files, so letters, digits, space, dot, dash, underscore only
ID = re.compile(r"^\w[\w. -]{0,63}$")


def finite(value: object, place: Place, key: str) -> float:
    """A finite number; CaseError for words, true and false, dates, nan and inf."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        quoted = isinstance(value, str)
        raise place.refuse(
            "this needs a number",
            "wrong_type",
            "the number without quotes." if quoted else f"{key} = 1.0, with a decimal point.",
            key,
            value=value,
        )
    if not abs(value) < LARGEST:  # so that nan, which compares with nothing, is caught too
        raise place.refuse(
            "this is not a number one can measure",
            "impossible_value",
            "leave the line out where the value is not known.",
            key,
            value=value,
        )
    return float(value)


def word_of(value: object, place: Place, key: str) -> str:
    """A short single line of text."""
    short = isinstance(value, str) and len(value.strip()) > 0 and len(value) <= LONGEST_WORD
    if isinstance(value, str) and short and value.isprintable():
        return value.strip()
    raise place.refuse(
        f"this needs one line of text in quotes, at most {LONGEST_WORD} letters",
        "wrong_type",
        f'{key} = "…".',
        key,
    )


def field_value(field: Field, value: object, place: Place) -> object:
    """A field of the case, the anatomy or an event, checked against its row in the table."""
    if field.kind == "number":
        number = finite(value, place, field.name)
        if not field.low <= number <= field.high:
            raise _outside(place, field, number, field.low, field.high)
        return number
    if field.kind == "flag":
        return _flag(value, place, field.name)
    if field.kind == "choice":
        return place.choice(value, field.choices, field.name, field.word)
    if field.kind == "list":
        items = cast("list[object]", value) if isinstance(value, list) else [value]
        return tuple(place.choice(i, field.choices, field.name, field.word) for i in items)
    return _text(field, value, place)


def read_value(key: str, row: Table, method: Method | None, age: float, place: Place) -> Value:
    """One value of a reading, with its error and its method.

    Parameters
    ----------
    key : str, a key that the row holds
    row : the whole reading
    method : Method or None, the reading's method, taken where the key allows it
    age : float, days
    place : Place
    """
    known = keys()[key]
    number = (
        place.choice(row[key], known.choices, key, known.word)
        if known.choices
        else _within(known, finite(row[key], place, key), age, place)
    )
    own = _companion(known, "method", row, place)
    stated = stated_method(row[own], place, own, known) if own else None
    if stated is None:
        stated = method if method in known.methods else known.default
    return Value(
        key=key,
        value=number,
        unit=known.unit,
        age_days=age,
        method=stated,
        sd=_sd(known, row, place),
    )


def stated_method(value: object, place: Place, name: str, key: Key | None = None) -> Method:
    """A method as written, allowed for the key where one is given."""
    allowed = key.methods if key else tuple(Method)
    word = f"method for {key.word}" if key else "method"
    return Method(place.choice(value, [str(m) for m in allowed], name, word))


def _within(key: Key, number: float, age: float, place: Place) -> float:
    low, high = bounds(key, age)
    if low <= number <= high or (key.zero and number == 0):
        return number
    raise _outside(place, key, number, low, high, age if key.name in _GROWING else None)


_GROWING = frozenset({"weight_kg", "length_cm", "head_cm"})


def _outside(
    place: Place, key: Key | Field, number: float, low: float, high: float, age: float | None = None
) -> Exception:
    at = f" at {age_words(age)}" if age is not None else ""
    slip = key.unit == "ng/kg/min"
    what = (
        "this dose is outside anything in use: µg was probably written for ng, or ng for µg"
        if slip
        else f"this {key.word} is not possible{at}"
    )
    return place.refuse(
        what,
        "unit_slip" if slip else "impossible_value",
        probably_meant(key, number, low, high),
        key.name,
        value=number,
        unit=key.unit,
    )


def _flag(value: object, place: Place, key: str) -> bool:
    if isinstance(value, bool):
        return value
    raise place.refuse(
        "this needs true or false, without quotes", "wrong_type", f"{key} = true.", key, value=value
    )


def _text(field: Field, value: object, place: Place) -> str:
    text = word_of(value, place, field.name)
    if field.name == "id" and not ID.match(text):
        raise place.refuse(
            "an id is at most 64 letters, digits, dots, dashes and spaces",
            "wrong_type",
            'a label of your own, such as id = "harbour-07".',
            "id",
        )
    if field.pattern and not re.match(field.pattern, text):
        raise place.refuse(
            f"this does not describe {field.word}",
            "unknown_word",
            f'{field.name} = "{_nearest_example(field, text)}".',
            field.name,
            value=text,
        )
    return text


# the eight ways in which three arteries leave two sinuses, as the Leiden convention writes them
LEIDEN = ("1LCx-2R", "1L-2RCx", "1RLCx", "2RLCx", "1R-2LCx", "1RL-2Cx", "1RCx-2L", "1Cx-2RL")

# chosen: below this likeness of letters nothing is guessed
LIKE = 0.5


def _nearest_example(field: Field, text: str) -> str:
    """What was probably meant, of coronary codes; else the field's example."""
    if field.name != "coronary":
        return field.example
    return next(iter(get_close_matches(text, LEIDEN, n=1, cutoff=LIKE)), field.example)


def _companion(key: Key, what: str, row: Table, place: Place) -> str | None:
    names = dict.fromkeys((f"{key.name}_{what}", f"{key.stem}_{what}"))
    given = [name for name in names if name in row]
    if len(given) > 1:
        raise place.refuse(
            f"the same is said twice, as {given[0]} and {given[1]}",
            "said_twice",
            "keep one of them.",
            given[1],
        )
    return given[0] if given else None


def _sd(key: Key, row: Table, place: Place) -> float | None:
    name = _companion(key, "sd", row, place)
    if name is None:
        return None
    if key.choices:
        raise place.refuse("a word has no sd", "wrong_type", "leave this line out.", name)
    sd = finite(row[name], place, name)
    if 0 < sd <= key.high - key.low:
        return sd
    unit = unit_word(key.unit)
    raise place.refuse(
        f"an sd is above 0 and below {tell(key.high - key.low)}{' ' + unit if unit else ''}",
        "impossible_value",
        f"the standard deviation in the unit of {key.name}.",
        name,
        value=sd,
        unit=key.unit,
    )
