"""Clinical sense of words: rules that no text for a reader may break.

Two sets. *Wording* holds for every sentence by itself: no lone last day, no false fineness, no
threshold without its population, no dose advice, no one-word verdict, no dates or places of
files. *Company* holds for a whole text: a chance never stands without the cost of waiting and the
limits that are not the left ventricle's, cautions are there, an emergency comes first.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

PAGE_BREAK: Final = "\f"

# common practice: a bedside reader can tell chances apart in steps of about five points
CHANCE_STEP = 5


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


def clinical_sense(text: str) -> list[Violation]:
    """What a whole text for a reader gets wrong; empty if nothing.

    Parameters
    ----------
    text : str, a screen or a brief; pages parted by a form feed

    Returns
    -------
    list of Violation
    """
    first_page = text.split(PAGE_BREAK, maxsplit=1)[0]
    found = wording_sense(text)
    found += [
        _violation("engine_words", match.group(), "Engine words stay off the first page")
        for match in _ENGINE.finditer(first_page)
    ]
    for rule in (_cost_missing, _limits_missing, _cautions_missing, _forecast_first):
        found += rule(text)
    return found


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
        _violation(rule, match.group(), why)
        for rule, pattern, why in _FORBIDDEN
        for match in pattern.finditer(text)
    ]
    for sentence in _sentences(text):
        for rule in _SENTENCE_RULES:
            found += rule(sentence)
    return found


# ---- wording: patterns that are wrong wherever they stand -----------------------------------


def _words(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern, re.IGNORECASE)


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
        _words(
            _NOT_A
            + r"\b(?:last (?:possible |safe |good )?day|deadline|point of no return|latest day"
            r"|latest (?:possible |safe )?date|cut-off day|expir(?:y|es) (?:on|at|by)?)"
            r"|\b(?:until|till|up to|no later than|not later than|not after|not beyond) day \d+"
            r"|\bday \d+ at the latest|\bwindow (?:closes|ends|shuts) (?:on|at|by) day \d+"
            r"|\btoo late (?:after|from|beyond|past) day \d+"
        ),
        "A single last day is never given",
    ),
    (
        "one_word_verdict",
        _words(r"\b(?:in)?adequate\b"),
        "'Adequate' is not a verdict: name the tier and its criteria",
    ),
    (
        "date",
        _words(
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
        _words(
            r"(?<![\w/.:])/(?:home|users|root|tmp|var|mnt|media|srv|opt|etc|usr|private|work)/\S*"
            r"|\b[a-z]:\\\S+|(?<!\S)~/\S+|\b[\w.+-]+@[\w-]+\.[\w.]+"
        ),
        "No place of a file and no address stands in a text",
    ),
    (
        "dose_advice",
        _words(
            rf"\b(?:give|start|begin|use|set|run|titrate|increase|raise|reduce|lower|double|halve"
            rf"|recommend\w*|should|suggest\w*|aim)\b[^.;\n]{{0,60}}?\d+(?:\.\d+)?\s*{_DOSE_UNIT}"
            r"|\brecommended dose\b|\bdose of \d"
            r"|\b(?:increase|raise|reduce|lower|double|halve|titrate) the (?:\w+ )?(?:dose|infusion)"
        ),
        "No dose is advised",
    ),
)

_ENGINE: Final = _words(
    r"\brod energy\b|\bshapley\b|\bper-criterion\b|\bshares? of (?:each|the|every) criteri\w+"
    r"|\btheta\b|θ|\bkalman\b|\blaplace\b|\bposterior\b|\bnewton\b|\bjacobian\b|\bkernels?\b"
    r"|\bone-fibre\b|\bprior weights?\b|\beffective draws\b|\brunge\b|\bphilox\b"
    r"|\b[a-z]+(?:_[a-z0-9]+)+\b"
)


# ---- wording: rules on one sentence ----------------------------------------------------------

_NUMBER = r"\d+(?:[.,]\d+)?"
_RANGE = rf"{_NUMBER}\s*(?:to|–|-|and)\s*{_NUMBER}"
_PERCENT = r"(?:%|per ?cent\b|points?\b)"
_PERCENTAGE: Final = _words(
    rf"(?<![\d.,+])(?:{_NUMBER}\s*\(\s*{_RANGE}\s*\)\s*{_PERCENT}"
    rf"|{_NUMBER}\s*\(\s*{_RANGE}\s*{_PERCENT}\s*\)"
    rf"|{_NUMBER}\s*{_PERCENT}\s*\(\s*{_RANGE}\s*(?:{_PERCENT})?\s*\)"
    rf"|{_RANGE}\s*{_PERCENT}|{_NUMBER}\s*{_PERCENT})"
)
_CHANCE: Final = _words(r"\b(?:chances?|probabilit\w+|survivable|comfortable|likel\w+)\b")
_FORECAST: Final = _words(
    rf"\b(?:chances?|survivable|comfortable)\b[^.;\n]{{0,80}}?\d+\s*{_PERCENT}"
    rf"|\d+\s*{_PERCENT}[^.;\n]{{0,40}}\b(?:chances?|survivable|comfortable)\b"
)
_BELOW_ON_A_DAY: Final = _words(
    r"\b(?:below|under|less than)\b[^.;\n]{0,30}?\b(?:on|at|by|from|after|around|about)"
    r" (?:about |around )?day \d+|\bbelow_\d+_day\b|\bday \d+[^.;\n]{0,20}\bbelow \d+\s*%"
)
_DAY_RANGE: Final = _words(
    r"\bdays? \d+ (?:to|and|–|-) (?:day )?\d+|\(\s*(?:days? )?\d+\s*(?:to|–|-)\s*(?:day )?\d+"
)
_THRESHOLD: Final = _words(r"\b(?:thresholds?|cut-?offs?)\b(?=[^.;\n]*\d)")
_POPULATION: Final = _words(
    r"\b(?:newborns?|neonat\w+|bab(?:y|ies)|infants?|children|adults?|patients?|banded|after (?:a )?band"
    r"|cctga|primary_neonatal|prepared_after_band|congenitally corrected|hearts|common practice)\b"
)
_FINE_DAY: Final = _words(r"\bday \d+[.,]\d+|\b\d+[.,]\d+ days (?:later|earlier|sooner|longer)")


def _fine_chance(sentence: str) -> list[Violation]:
    if not _CHANCE.search(sentence):
        return []
    why = f"A chance is given in steps of {CHANCE_STEP} points"
    return [
        _violation("fine_chance", match.group(), why)
        for match in _PERCENTAGE.finditer(sentence)
        if any(not _in_steps(number) for number in re.findall(_NUMBER, match.group()))
    ]


def _in_steps(number: str) -> bool:
    return float(number.replace(",", ".")) % CHANCE_STEP == 0


def _fine_day(sentence: str) -> list[Violation]:
    why = "A day of the window is not given finer than a day"
    return [_violation("fine_day", found.group(), why) for found in _FINE_DAY.finditer(sentence)]


def _day_alone(sentence: str) -> list[Violation]:
    if _DAY_RANGE.search(sentence):
        return []
    why = "The day below a chance never stands without its interval"
    return [
        _violation("lone_last_day", found.group(), why)
        for found in _BELOW_ON_A_DAY.finditer(sentence)
    ]


def _nobody_in_threshold(sentence: str) -> list[Violation]:
    found = _THRESHOLD.search(sentence)
    if found is None or _POPULATION.search(sentence):
        return []
    why = "A threshold names the population it was found in"
    return [_violation("threshold_without_population", sentence, why)]


_SENTENCE_RULES: Final[tuple[Callable[[str], list[Violation]], ...]] = (
    _fine_chance,
    _fine_day,
    _day_alone,
    _nobody_in_threshold,
)


# ---- company: what a whole text must hold ----------------------------------------------------

_COST: Final = _words(r"\bcost of waiting\b")
_ODDS: Final = _words(r"\bodds\b")
_LIMITS: Final = (
    ("hypoxaemia", _words(r"\bhypox(?:a?emia|i[ac])")),
    ("lung vessels", _words(r"\b(?:lung|pulmonary) (?:vessels?|vascular)|\bvessels of the lungs?")),
    ("heart failure", _words(r"\bheart failure\b|\bfailing heart\b")),
    ("brain", _words(r"\bbrain\b")),
    ("gut", _words(r"\b(?:gut|bowel|enterocolitis)\b")),
    ("infection", _words(r"\b(?:infections?|sepsis)\b")),
)
_CAUTIONS: Final = ("decision aid", "not a device", "does not know")
_EMERGENCY: Final = re.compile(r"\bEMERGENCY\b|^\s*Emergency\b", re.MULTILINE)


def _cost_missing(text: str) -> list[Violation]:
    if not _FORECAST.search(text) or (_COST.search(text) and _ODDS.search(text)):
        return []
    why = "A chance never stands without the published cost of waiting"
    return [_violation("cost_missing", "", why)]


def _limits_missing(text: str) -> list[Violation]:
    if not _FORECAST.search(text):
        return []
    return [
        _violation(
            "limits_missing",
            "",
            f"A chance never stands without the limits beyond the left ventricle: {name} is missing",
        )
        for name, pattern in _LIMITS
        if not pattern.search(text)
    ]


def _cautions_missing(text: str) -> list[Violation]:
    words = " ".join(text.lower().split())
    return [
        _violation("caution_missing", "", f"Every text for a reader says '{phrase}'")
        for phrase in _CAUTIONS
        if phrase not in words
    ]


def _forecast_first(text: str) -> list[Violation]:
    alarm, forecast = _EMERGENCY.search(text), _FORECAST.search(text)
    if alarm is None or forecast is None or alarm.start() < forecast.start():
        return []
    why = "A forecast never stands above an emergency"
    return [_violation("forecast_first", forecast.group(), why)]


def _sentences(text: str) -> Iterator[str]:
    return (part for part in re.split(r"(?<=[.!?])\s+|[\n\f;]", text) if part.strip())


def _violation(rule: str, found: str, why: str) -> Violation:
    return Violation(rule=rule, found=" ".join(found.split()), why=why)
