"""Wording: rules that hold for every sentence by itself.

No lone last day, no false fineness, no threshold without its population, no dose advice, no
one-word verdict, no dates and no places of files.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

# common practice: a bedside reader can tell chances apart in steps of about five points
CHANCE_STEP: Final = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Violation:
    """One rule that a text breaks, and the words that break it.

    Parameters
    ----------
    rule : str, short stable name
    found : str, the words, or ``""`` where words are missing
    why : str, the rule in a sentence
    """

    rule: str
    found: str
    why: str

    def __str__(self) -> str:
        """The rule, and the words that break it."""
        return f"{self.why} ({self.found!r})" if self.found else self.why


def wording_sense(text: str) -> list[Violation]:
    """What single sentences get wrong, wherever they stand; empty if nothing.

    Parameters
    ----------
    text : str, one or more sentences

    Returns
    -------
    list of Violation
    """
    found = [
        violation(rule, match.group(), why)
        for rule, pattern, why in _FORBIDDEN
        for match in pattern.finditer(text)
    ]
    for sentence in _sentences(text):
        for rule in _SENTENCE_RULES:
            found += rule(sentence)
    return found


# ---- patterns that are wrong wherever they stand ---------------------------------------------


def any_case(expression: str) -> re.Pattern[str]:
    """A pattern that takes capitals and small letters alike."""
    return re.compile(expression, re.IGNORECASE)


_MONTH = (
    r"(?:Jan(?:uary)?|Feb(?:ruary)?|Mar(?:ch)?|Apr(?:il)?|May|June?|July?|Aug(?:ust)?"
    r"|Sept?(?:ember)?|Oct(?:ober)?|Nov(?:ember)?|Dec(?:ember)?)"
)
_DAY = r"(?:0?[1-9]|[12]\d|3[01])"
_MONTH_NUMBER = r"(?:0?[1-9]|1[0-2])"
_DOSE_UNIT = r"(?:ng|nanograms?|µg|μg|ug|mcg|micrograms?|mg|milligrams?)\s*(?:/|per\s)\s*kg"
_NOT_A = r"(?<!no )(?<!not a )(?<!never a )(?<!no single )(?<!not a single )"

_FORBIDDEN: Final = (
    (
        "lone_last_day",
        any_case(
            _NOT_A
            + r"\b(?:last (?:possible |safe |good )?day|deadline|point of no return|latest day"
            r"|latest (?:possible |safe )?date|cut-off day|expir(?:y|es) (?:on|at|by)?)"
            r"|(?<!computed )\b(?:until|till|up to|no later than|not later than|not after"
            r"|not beyond) day \d+"
            r"|\bday \d+ at the latest|\bwindow (?:closes|ends|shuts) (?:on|at|by) day \d+"
            r"|\btoo late (?:after|from|beyond|past) day \d+"
        ),
        "A single last day is never given",
    ),
    (
        "one_word_verdict",
        any_case(r"\b(?:in)?adequate\b"),
        "'Adequate' is not a verdict: name the tier and its criteria",
    ),
    (
        "date",
        any_case(
            r"\b(?:19|20)\d\d-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01])(?!\d)"
            rf"|(?<![\d./]){_DAY}\.{_MONTH_NUMBER}\.(?:19|20)\d\d\b"
            rf"|(?<![\d./]){_DAY}/{_MONTH_NUMBER}/(?:19|20)?\d\d\b(?!/)"
            rf"|(?<![\d./]){_MONTH_NUMBER}/{_DAY}/(?:19|20)\d\d\b"
            rf"|\b{_DAY}(?:st|nd|rd|th)?\.? {_MONTH}\.?,? (?:19|20)\d\d\b"
            rf"|\b{_MONTH}\.? {_DAY}(?:st|nd|rd|th)?,? (?:19|20)\d\d\b"
        ),
        "Ages stand in a text, never dates",
    ),
    (
        "place_of_a_file",
        any_case(
            r"(?<![\w/.:²])/(?:[\w.-]+/)+\S*"
            r"|\b[a-z]:\\\S+|(?<!\S)~/\S+|\b[\w.+-]+@[\w-]+\.[\w.]+"
        ),
        "No place of a file and no address stands in a text",
    ),
    (
        "dose_advice",
        any_case(
            rf"\b(?:give|start|begin|use|set|run|titrate|increase|raise|reduce|lower|double|halve"
            rf"|recommend\w*|should|suggest\w*|aim)\b[^.;\n]{{0,60}}?\d+(?:\.\d+)?\s*{_DOSE_UNIT}"
            r"|\brecommended dose\b|\bdose of \d"
            r"|\b(?:increase|raise|reduce|lower|double|halve|titrate) the (?:\w+ )?"
            r"(?:dose|infusion)"
        ),
        "No dose is advised",
    ),
)


# ---- rules on one sentence -------------------------------------------------------------------

_NUMBER = r"\d+(?:[.,]\d+)?"
_RANGE = rf"{_NUMBER}\s*(?:to|–|-|and)\s*{_NUMBER}"
PERCENT: Final = r"(?:%|per ?cent\b|points?\b)"
_PERCENTAGE: Final = any_case(
    rf"(?<![\d.,+])(?:{_NUMBER}\s*\(\s*{_RANGE}\s*\)\s*{PERCENT}"
    rf"|{_NUMBER}\s*\(\s*{_RANGE}\s*{PERCENT}\s*\)"
    rf"|{_NUMBER}\s*{PERCENT}\s*\(\s*{_RANGE}\s*(?:{PERCENT})?\s*\)"
    rf"|{_RANGE}\s*{PERCENT}|{_NUMBER}\s*{PERCENT})"
)
_CHANCE: Final = any_case(r"\b(?:chances?|probabilit\w+|survivable|comfortable|likel\w+)\b")
# "below 5 %" is the smallest chance there are words for, not a crossing on some day
_BELOW_ON_A_DAY: Final = any_case(
    r"\b(?:below|under|less than)\b(?! 5 ?%)[^.;\n]{0,30}?\b(?:on|at|by|from|after|around|about)"
    r" (?:about |around )?day \d+|\bbelow_\d+_day\b|\bday \d+[^.;\n]{0,20}\bbelow (?!5 ?%)\d+\s*%"
)
_DAY_RANGE: Final = any_case(
    r"\bdays? \d+ (?:to|and|–|-) (?:day )?\d+|\(\s*(?:days? )?\d+\s*(?:to|–|-)\s*(?:day )?\d+"
)
_THRESHOLD: Final = any_case(r"\b(?:thresholds?|cut-?offs?)\b(?=[^.;\n]*\d)")
_POPULATION: Final = any_case(
    r"\b(?:newborns?|neonat\w+|bab(?:y|ies)|infants?|children|adults?|patients?|banded"
    r"|after (?:a )?band|cctga|primary_neonatal|prepared_after_band|congenitally corrected"
    r"|hearts|common practice)\b"
)
_FINE_DAY: Final = any_case(r"\bday \d+[.,]\d+|\b\d+[.,]\d+ days (?:later|earlier|sooner|longer)")


def _fine_chance(sentence: str) -> list[Violation]:
    if not _CHANCE.search(sentence):
        return []
    why = f"A chance is given in steps of {CHANCE_STEP} points"
    return [
        violation("fine_chance", match.group(), why)
        for match in _PERCENTAGE.finditer(sentence)
        if any(not _in_steps(number) for number in re.findall(_NUMBER, match.group()))
    ]


def _in_steps(number: str) -> bool:
    return float(number.replace(",", ".")) % CHANCE_STEP == 0


def _fine_day(sentence: str) -> list[Violation]:
    why = "A day of the window is not given finer than a day"
    return [violation("fine_day", found.group(), why) for found in _FINE_DAY.finditer(sentence)]


def _day_alone(sentence: str) -> list[Violation]:
    if _DAY_RANGE.search(sentence):
        return []
    why = "The day below a chance never stands without its interval"
    return [
        violation("lone_last_day", found.group(), why)
        for found in _BELOW_ON_A_DAY.finditer(sentence)
    ]


def _nobody_in_threshold(sentence: str) -> list[Violation]:
    found = _THRESHOLD.search(sentence)
    if found is None or _POPULATION.search(sentence):
        return []
    why = "A threshold names the population it was found in"
    return [violation("threshold_without_population", sentence, why)]


_SENTENCE_RULES: Final[tuple[Callable[[str], list[Violation]], ...]] = (
    _fine_chance,
    _fine_day,
    _day_alone,
    _nobody_in_threshold,
)


def _sentences(text: str) -> Iterator[str]:
    return (part for part in re.split(r"(?<=[.!?])\s+|[\n\f;]", text) if part.strip())


def violation(rule: str, found: str, why: str) -> Violation:
    """The violation with its words on one line."""
    return Violation(rule=rule, found=" ".join(found.split()), why=why)
