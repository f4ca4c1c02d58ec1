"""An invented case through the whole line: the record, today, the window, the printed brief."""

from __future__ import annotations

from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

from inseries.base.files import write_private
from inseries.brief.team import team_brief_pdf
from inseries.case import Case, read_case
from inseries.desk.answer import Answer, Progress, Shown
from inseries.desk.brief_view import team_brief
from inseries.desk.now import DEFAULT_SEED, NowResult
from inseries.desk.now import now as ask_now
from inseries.desk.record import CheckResult, check
from inseries.desk.repair_brief import repair_in_brief
from inseries.desk.urgency import Urgency  # noqa: TC001 - read by the schema at run time
from inseries.desk.window import WINDOW_DRAWS, WindowResult, answered

INVENTED = "An invented scenario: no such child exists, and every reading was made up."
DEMO_CASE, EMERGENCY_CASE = "harbour-07", "tight-01"


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoResult:
    """The whole line for the invented case, and the first line of an emergency."""

    invented: str
    record: CheckResult
    now: NowResult
    window: WindowResult
    emergency: Urgency
    written: str

    def shown(self) -> Shown:
        """What was recorded, today's urgency, the window, and where the brief is."""
        shown = self.window.shown()
        e = self.emergency
        return Shown(
            sentences=(
                self.invented,
                *self.record.sentences,
                *shown.sentences,
                f"The team brief is in {self.written}, readable by you alone.",
                f"Another invented baby, {EMERGENCY_CASE}, five hours old, begins: "
                f"{e.level.upper()}: {e.headline}. {e.why[0]}",
            ),
            tables=shown.tables[:3],
            picture=shown.picture,
        )


def demo_case(name: str = DEMO_CASE) -> Case:
    """An invented case that comes with the package."""
    text = files("inseries.desk").joinpath("demo", f"{name}.toml").read_text(encoding="utf-8")
    return read_case(text)


def demo(
    *,
    out_path: Path | str | None = None,
    replace: bool = False,
    seed: int = DEFAULT_SEED,
    draws: int = WINDOW_DRAWS,
    progress: Progress | None = None,
) -> Answer:
    """The invented case from its record to its printed brief.

    Parameters
    ----------
    out_path : PDF to write; without it, harbour-07-brief.pdf here, made anew each time
    replace : whether an existing file of that path may be replaced
    seed, draws, progress : as for the window

    Returns
    -------
    Answer with a DemoResult
    """
    record = demo_case()
    answer, ahead, today = answered(
        record, seed=seed, draws=draws, criteria=None, progress=progress
    )
    repair = repair_in_brief(record, today.urgency, seed)
    pdf = team_brief_pdf(team_brief(record, answer, ahead, today, repair))
    target = Path(out_path) if out_path is not None else Path(f"{DEMO_CASE}-brief.pdf")
    written = write_private(target, pdf, replace=replace or out_path is None)
    emergency = ask_now(demo_case(EMERGENCY_CASE), seed=seed).result
    checked = check(record).result
    assert isinstance(emergency, NowResult)
    assert isinstance(checked, CheckResult)
    result = DemoResult(
        invented=INVENTED,
        record=checked,
        now=today,
        window=ahead,
        emergency=emergency.urgency,
        written=written.name,
    )
    return Answer(
        verb="demo",
        case_id=record.id,
        result=result,
        cautions=answer.cautions,
        sources=answer.sources,
        run=answer.run,
    )
