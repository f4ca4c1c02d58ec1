"""How do I explain it? Printed pages for the team."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from inseries.base.files import write_private
from inseries.brief.team import team_brief_pdf
from inseries.case import Case, read_case
from inseries.desk.answer import Answer, Progress, Shown
from inseries.desk.brief_view import team_brief
from inseries.desk.now import DEFAULT_SEED
from inseries.desk.repair_brief import repair_in_brief
from inseries.desk.window import WINDOW_DRAWS, answered


@dataclass(frozen=True, slots=True, kw_only=True)
class BriefResult:
    """The brief that was written: its file's name, pages, and what its first lines say."""

    written: str
    size_bytes: int
    first_lines: tuple[str, ...]

    def shown(self) -> Shown:
        """What was written where."""
        return Shown(
            sentences=(
                f"The team brief is in {self.written}, readable by you alone.",
                *self.first_lines,
            )
        )


def write_brief(
    case: Case | Path | str,
    *,
    out_path: Path | str | None = None,
    replace: bool = False,
    seed: int = DEFAULT_SEED,
    draws: int = WINDOW_DRAWS,
    progress: Progress | None = None,
) -> Answer:
    """Printed pages for the team: urgency, left ventricle, loops, window, cost of waiting.

    Parameters
    ----------
    case : Case, path of a case file, or its text
    out_path : PDF to write, readable by its owner only; without it, named after the case
    replace : whether an existing file may be replaced
    seed, draws, progress : as for the window

    Returns
    -------
    Answer with a BriefResult

    Raises
    ------
    CaseError, PriorError, RouteNotPossible, OutputError
        no answer, or nowhere to write it
    """
    record = case if isinstance(case, Case) else read_case(case)
    answer, ahead, now = answered(record, seed=seed, draws=draws, criteria=None, progress=progress)
    repair = repair_in_brief(record, now.urgency, seed)
    pdf = team_brief_pdf(team_brief(record, answer, ahead, now, repair))
    target = write_private(Path(out_path or f"{record.id}-brief.pdf"), pdf, replace=replace)
    result = BriefResult(
        written=target.name,
        size_bytes=len(pdf),
        first_lines=(f"{now.urgency.level.upper()}: {now.urgency.headline}.", *ahead.sentences),
    )
    return Answer(
        verb="brief",
        case_id=record.id,
        result=result,
        cautions=answer.cautions,
        sources=answer.sources,
        run=answer.run,
    )
