"""The verbs about the record: a new case to fill in, and what we know of a baby.

``check`` joins the case with what is usual at its age and size.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from inseries.base.ages import age_words
from inseries.base.files import write_private
from inseries.base.findings import Caution, Finding, Severity
from inseries.case import Case, Loss, Missing, read_case, skeleton
from inseries.case import check as check_case
from inseries.case.scalars import ID
from inseries.desk.answer import Answer, Shown, Table
from inseries.desk.run import run_record
from inseries.desk.sizes import Size, SizeZ, short_name, sizes
from inseries.desk.spans import signed
from inseries.norms.size_references import made
from inseries.norms.size_scores import SECOND_HAND

SHOWN_OTHERS = 2  # chosen: more references than these are told by the lowest and the highest
STATES = 48  # chosen: states of case files kept as they were read; each is some kilobytes


@dataclass(frozen=True, slots=True, kw_only=True)
class NewResult:
    """A case to fill in: its text, and the name of the file that now holds it."""

    skeleton: str
    written: str | None

    def shown(self) -> Shown:
        """The text itself, or where it was written."""
        if self.written is None:
            return Shown(picture=self.skeleton)
        return Shown(
            sentences=(
                f"A case to fill in is in {self.written}, readable by you alone. "
                f"Then: inseries check {self.written}",
            )
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckResult:
    """What a case holds, how large, what it lacks, and what in it cannot be."""

    age_days: float
    sentences: tuple[str, ...]
    sizes: tuple[Size, ...]
    missing: tuple[Missing, ...]
    contradictions: tuple[Finding, ...]

    def shown(self) -> Shown:
        """The record, its contradictions, sizes as Z, and what each verb lacks."""
        found = tuple(f"Cannot be: {c.sentence}" for c in self.contradictions)
        nothing = () if self.contradictions else ("Nothing in the record contradicts the rest.",)
        tables = (_size_table(self.sizes), _missing_table(self.missing))
        return Shown(
            sentences=(*self.sentences, *found, *nothing),
            tables=tuple(table for table in tables if table.rows),
        )


def new(*, out_path: Path | str | None = None, replace: bool = False) -> Answer:
    """A commented case file to fill in.

    Parameters
    ----------
    out_path : path of the file to write, or None to be given the text
    replace : bool, whether an existing file may be replaced

    Returns
    -------
    Answer with a NewResult; the file is readable by its owner only

    Raises
    ------
    OutputError
        where a file of this name exists, or it cannot be written
    """
    if out_path is None:
        return Answer(verb="new", result=NewResult(skeleton=skeleton(), written=None))
    target = Path(out_path)
    text = skeleton(target.stem if ID.match(target.stem) else "my-case")
    write_private(target, text.encode(), replace=replace)
    return Answer(verb="new", result=NewResult(skeleton=text, written=target.name))


@lru_cache(maxsize=STATES)
def opened(text: str) -> Case:
    """The case that a text holds, whatever number of lines it has; each text is read once."""
    return read_case(text if "\n" in text else text + "\n")


def check(case: Case | Path | str) -> Answer:
    """What is known of a baby, what is missing, what contradicts what, sizes as Z.

    Parameters
    ----------
    case : Case, path of a case file, or its text

    Returns
    -------
    Answer with a CheckResult; remarks on method are its cautions

    Raises
    ------
    CaseError
        where the case cannot be taken as it is
    """
    record = case if isinstance(case, Case) else read_case(case)
    report = check_case(record)
    measured = sizes(record)
    result = CheckResult(
        age_days=report.age_days,
        sentences=report.sentences,
        sizes=measured,
        missing=report.missing,
        contradictions=report.contradictions,
    )
    return Answer(
        verb="check",
        case_id=record.id,
        result=result,
        cautions=(*report.remarks, *_size_remarks(measured)),
        sources=_references(measured),
        run=run_record(record.digest),
    )


def _size_table(measured: tuple[Size, ...]) -> Table:
    return Table(
        title="Sizes for this age and body surface",
        columns=("what", "value", "at", "Z", "by other references"),
        rows=tuple(
            (
                size.word,
                f"{size.value.value:.3g} {size.value.unit} ({size.method_words})",
                age_words(size.age_days),
                _z_words(size),
                _other_words(size.others) or "none",
            )
            for size in measured
        ),
    )


def _z_words(size: Size) -> str:
    """The first reference's Z with its name, or why there is none."""
    if size.z is None or size.reference is None:
        return f"none: {size.reason}"
    return f"{signed(size.z, 1)} {short_name(size.reference)}"


def _other_words(others: tuple[SizeZ, ...]) -> str:
    """What the other references say; of more than two, the lowest and the highest."""
    scored = sorted((other.z, other.reference) for other in others if other.z is not None)
    told = [f"{signed(z, 1)} {short_name(reference)}" for z, reference in scored]
    if len(told) > SHOWN_OTHERS:
        return f"{len(told)} more: {told[0]} to {told[-1]}"
    unscored = [f"no Z by {short_name(o.reference)}" for o in others if o.z is None]
    return "; ".join([*told, *unscored])


def _references(measured: tuple[Size, ...]) -> tuple[str, ...]:
    """Keys of every reference that gave an answer."""
    first = [size.reference for size in measured if size.reference]
    rest = [other.reference for size in measured for other in size.others]
    return tuple(dict.fromkeys([*first, *rest]))


def _size_remarks(measured: tuple[Size, ...]) -> tuple[Caution, ...]:
    """What is said beside a first Z, and which references were not read in their own paper."""
    words: dict[str, list[str]] = {}
    for size in measured:
        for note in size.notes:
            if note != SECOND_HAND:
                words.setdefault(note, []).append(size.word)
    said = [f"Z of the {', '.join(whose)}: {note}." for note, whose in words.items()]
    found = [key for key in _references(measured) if key in made() and made()[key].second_hand]
    if found:
        names = ", ".join(short_name(key) for key in found)
        said.append(f"Coefficients of {names} were read in an open calculator, not in the papers.")
    return tuple(Caution(severity=Severity.NOTE, text=text) for text in said)


def _missing_table(missing: tuple[Missing, ...]) -> Table:
    loss = {Loss.LARGE: "much", Loss.MODERATE: "some", Loss.SMALL: "little"}
    return Table(
        title="Missing, and what certainty it costs",
        columns=("for", "what", "cost", "lost"),
        rows=tuple(
            (
                lack.verb,
                lack.what
                if lack.age_days is None
                else f"{lack.what} (last at {age_words(lack.age_days)})",
                lack.cost,
                loss[lack.loss],
            )
            for lack in missing
        ),
    )
