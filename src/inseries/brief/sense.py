"""Clinical sense: rules that no text for a reader may break.

Beside the wording of each sentence (``wording.py``), the *company* in which it stands: a chance
never without the cost of waiting and the limits that are not the left ventricle's, cautions
there, an emergency first, engine words off the first page.
"""

from __future__ import annotations

import re
from typing import Final

from inseries.brief.wording import PERCENT, Violation, any_case, violation, wording_sense

PAGE_BREAK: Final = "\f"


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
        violation("engine_words", match.group(), "Engine words stay off the first page")
        for match in _ENGINE.finditer(first_page)
    ]
    for rule in (_cost_missing, _limits_missing, _cautions_missing, _forecast_first):
        found += rule(text)
    return found


_ENGINE: Final = any_case(
    r"\brod energy\b|\bshapley\b|\bper-criterion\b|\bshares? of (?:each|the|every) criteri\w+"
    r"|\btheta\b|θ|\bkalman\b|\blaplace\b|\bposterior\b|\bnewton\b|\bjacobian\b|\bkernels?\b"
    r"|\bone-fibre\b|\bprior weights?\b|\beffective draws\b|\brunge\b|\bphilox\b"
    r"|\b[a-z]+(?:_[a-z0-9]+)+\b"
)
_FORECAST: Final = any_case(
    rf"\b(?:chances?|survivable|comfortable)\b[^.;\n]{{0,80}}?\d+\s*{PERCENT}"
    rf"|\d+\s*{PERCENT}[^.;\n]{{0,40}}\b(?:chances?|survivable|comfortable)\b"
)
_COST: Final = any_case(r"\bcost of waiting\b")
_ODDS: Final = any_case(r"\bodds\b")
_LIMITS: Final = (
    ("hypoxaemia", any_case(r"\bhypox(?:a?emia|i[ac])")),
    (
        "lung vessels",
        any_case(r"\b(?:lung|pulmonary) (?:vessels?|vascular)|\bvessels of the lungs?"),
    ),
    ("heart failure", any_case(r"\bheart failure\b|\bfailing heart\b")),
    ("brain", any_case(r"\bbrain\b")),
    ("gut", any_case(r"\b(?:gut|bowel|enterocolitis)\b")),
    ("infection", any_case(r"\b(?:infections?|sepsis)\b")),
)
_CAUTIONS: Final = ("decision aid", "not a device", "does not know")
_EMERGENCY: Final = re.compile(r"\bEMERGENCY\b|^\s*Emergency\b", re.MULTILINE)


def _cost_missing(text: str) -> list[Violation]:
    if not _FORECAST.search(text) or (_COST.search(text) and _ODDS.search(text)):
        return []
    why = "A chance never stands without the published cost of waiting"
    return [violation("cost_missing", "", why)]


def _limits_missing(text: str) -> list[Violation]:
    if not _FORECAST.search(text):
        return []
    return [
        violation(
            "limits_missing",
            "",
            f"A chance never stands without the limits beyond the left ventricle: {name}",
        )
        for name, pattern in _LIMITS
        if not pattern.search(text)
    ]


def _cautions_missing(text: str) -> list[Violation]:
    said = " ".join(text.lower().split())
    return [
        violation("caution_missing", "", f"Every text for a reader says '{phrase}'")
        for phrase in _CAUTIONS
        if phrase not in said
    ]


def _forecast_first(text: str) -> list[Violation]:
    alarm, forecast = _EMERGENCY.search(text), _FORECAST.search(text)
    if alarm is None or forecast is None or alarm.start() < forecast.start():
        return []
    why = "A forecast never stands above an emergency"
    return [violation("forecast_first", forecast.group(), why)]
