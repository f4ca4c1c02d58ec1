"""The team brief as a record: only words, numbers already written out, and pictures.

Whoever fills it has done the computing; this room only sets it on paper. Ages stand here, never
dates, and nothing that could name a child, a person or a place.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Level = Literal["emergency", "urgent", "planned"]
Standing = Literal["shown", "not shown"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing with the words for those who cannot see it.

    Parameters
    ----------
    svg : str, the whole SVG document
    alt : str, what the picture shows, in a sentence or two, with its main numbers
    caption : str, the line printed beneath
    """

    svg: str
    alt: str
    caption: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part of the anatomy, as stated in the case.

    Parameters
    ----------
    name : str, such as ``"Segments"``, ``"Septum"``, ``"Arch"``, ``"Coronary arteries"``
    text : str, what is stated, or ``"not stated"``
    certainty : str, such as ``"probable, by echo"``; ``""`` where there is nothing to say
    """

    name: str
    text: str
    certainty: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Urgency:
    """What must happen first, and within which hours.

    Parameters
    ----------
    level : how pressing it is
    headline : str, one short line, such as ``"The atrial septum is tight"``
    hours : str, the time there is, such as ``"within the hour"``
    reasons : tuple of str, each a reading or a computed number with what it means
    """

    level: Level
    headline: str
    hours: str
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelRow:
    """One line of the bedside panel of the left ventricle.

    Parameters
    ----------
    what : str, such as ``"Mass"``
    value : str, with unit and interval, such as ``"8.4 g; 37 g/m²"``
    method : str, how it was measured, or ``"computed"``
    z : str, the Z against a reference of the same method, such as ``"−1.4"``; ``""`` if none
    z_note : str, the reference of that Z, or the reason why there is none
    threshold : str, the published or usual threshold; ``""`` if none applies
    population : str, whom that threshold was found in; must be given with a threshold
    """

    what: str
    value: str
    method: str
    z: str
    z_note: str
    threshold: str = ""
    population: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoopsPart:
    """How the circulation works today.

    Parameters
    ----------
    picture : the two loops as ribbons
    upper_saturation : str, above the duct, such as ``"71 % (66 to 75)"``
    lower_saturation : str, below the duct
    sentences : tuple of str, at most three, what the picture says
    """

    picture: Picture
    upper_saturation: str
    lower_saturation: str
    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIf:
    """A change that could be made, its gain, and its harm beside it; neither may be empty."""

    change: str
    gain: str
    harm: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Outside:
    """One published result.

    Parameters
    ----------
    text : str, what was found, in our own words
    population : str, in whom, how many, in which years
    source : str, short form such as ``"O'Byrne 2018"``
    """

    text: str
    population: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A limit of waiting that is not the left ventricle's: its name and a sentence."""

    name: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Driver:
    """What the window hangs on, and by how much, such as ``"about 5 days longer with ..."``."""

    name: str
    effect: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowPart:
    """How late a switch would still be possible, with everything that must stand beside it.

    Parameters
    ----------
    picture : the chance per day in both tiers, with the published ages beneath
    sentences : tuple of str, what, why and how sure; chances in steps of 5 points
    published : tuple of Outside, late series standing beside the curve
    cost_of_waiting : tuple of Outside; may not be empty
    other_limits : tuple of Limit, the limits that are not the left ventricle's; may not be empty
    drivers : tuple of Driver, what the window hangs on
    moves : tuple of WhatIf, what would move it, gain and harm; neither may be empty
    rule : tuple of Outside, the rule of practice, where model and series stand beside it
    """

    picture: Picture
    sentences: tuple[str, ...]
    published: tuple[Outside, ...]
    cost_of_waiting: tuple[Outside, ...]
    other_limits: tuple[Limit, ...]
    drivers: tuple[Driver, ...]
    moves: tuple[WhatIf, ...] = ()
    rule: tuple[Outside, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One precondition of the switch: its name, whether it is shown, and on what grounds."""

    name: str
    standing: Standing
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Suitability:
    """Whether a switch is the operation at all: the left outflow and the pulmonary valve.

    Parameters
    ----------
    standing : ``"shown"`` only when every check is
    sentence : str, the answer in words, with what is out of scope when not shown
    checks : tuple of Check
    """

    standing: Standing
    sentence: str
    checks: tuple[Check, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NextMeasurement:
    """The next measurement worth making, and why."""

    what: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PageTable:
    """A table on paper; every cell is text and says its own unit.

    Parameters
    ----------
    title, columns : its heading and the names of its columns
    widths : tuple of float, how wide the columns are against one another
    rows : tuple of rows
    """

    title: str
    columns: tuple[str, ...]
    widths: tuple[float, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FurtherPage:
    """A page of its own behind the brief, for one more question.

    Parameters
    ----------
    title : str, the question
    sentences : tuple of str: what, why, how sure
    picture : with its description in words
    tables : tuple of PageTable
    cautions : tuple of str
    """

    title: str
    sentences: tuple[str, ...]
    picture: Picture
    tables: tuple[PageTable, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TeamBrief:
    """Three pages for the team, two where few words stand beside the window, and further ones.

    Parameters
    ----------
    case_id : str, the invented or local case name, never a person's
    age : str, such as ``"9 days old"``
    baby : str, the baby in a sentence
    anatomy : tuple of Part: segments, septum, pulmonary valve, left outflow, arch, coronaries
    urgency, panel, loops, what_if : the first page
    suitability : whether a switch is the operation
    window : the window with its company, or None where it is refused
    window_refused : str, why there is no window; given exactly when ``window`` is None
    next_measurements : tuple of NextMeasurement, the best first
    unknown : tuple of str, what is not known about this baby
    cautions : tuple of str, beginning with what every result carries
    sources : tuple of str, citations used in this run
    run : str, version, seed, draws and effective draws in a line
    further : tuple of FurtherPage, behind all of this
    """

    case_id: str
    age: str
    baby: str
    anatomy: tuple[Part, ...]
    urgency: Urgency
    panel: tuple[PanelRow, ...]
    loops: LoopsPart
    what_if: tuple[WhatIf, ...]
    suitability: Suitability
    window: WindowPart | None
    window_refused: str
    next_measurements: tuple[NextMeasurement, ...]
    unknown: tuple[str, ...]
    cautions: tuple[str, ...]
    sources: tuple[str, ...]
    run: str
    further: tuple[FurtherPage, ...] = ()
