"""The verb ``routes``: whether a switch is the operation, which way, and if the window has gone.

Five routes stand beside one another, simulated and published apart. None is recommended; an order
is made only by the one thing that the user asks for.
"""

from __future__ import annotations

from collections.abc import Mapping  # noqa: TC003 - read by the schema at run time
from dataclasses import replace as altered
from pathlib import Path
from typing import TYPE_CHECKING

from inseries.base.files import write_private
from inseries.base.findings import Caution, Severity
from inseries.base.sources import bibliography
from inseries.brief.page import page_pdf
from inseries.case import Case, read_case
from inseries.desk.answer import Answer, Progress
from inseries.desk.cautions import ensemble_cautions, standing_cautions
from inseries.desk.criteria import tiers_of
from inseries.desk.now import DEFAULT_SEED, refuse_after_switch
from inseries.desk.reachable import refuse_unreachable
from inseries.desk.readouts import readouts_today
from inseries.desk.routes_build import Built
from inseries.desk.routes_page import routes_page
from inseries.desk.routes_picture import routes_picture
from inseries.desk.routes_plan import routes_numbers, routes_plan
from inseries.desk.routes_rank import ranking, refuse_unknown
from inseries.desk.routes_result import ROUTE_WORDS, Route
from inseries.desk.routes_told import RoutesResult
from inseries.desk.routes_walks import Walks
from inseries.desk.run import run_record
from inseries.desk.suitability import suitability
from inseries.desk.urgency import urgency
from inseries.prior.importance import unheard
from inseries.prior.narrow import Narrowed, narrowed

if TYPE_CHECKING:
    from inseries.prior.operation import Tier

ROUTES_DRAWS = 200  # chosen: as for the window


def compare_routes(  # noqa: PLR0913 - what a user may say of routes, all by name
    case: Case | Path | str,
    *,
    switch_day: float | None = None,
    band_day: float | None = None,
    band_mm: float | None = None,
    second_stage_day: float | None = None,
    atrial_day: float | None = None,
    shunt_mm: float | None = None,
    rank_by: str | None = None,
    seed: int = DEFAULT_SEED,
    draws: int = ROUTES_DRAWS,
    criteria: Mapping[str, float] | None = None,
    page_path: Path | str | None = None,
    replace: bool = False,
    progress: Progress | None = None,
) -> Answer:
    """Wait, switch, band first, conditioning, atrial switch: side by side, no verdict.

    Parameters
    ----------
    case : Case, path of a case file, or its text
    switch_day, band_day, second_stage_day, atrial_day : ages in days; usual ones where not said
    band_mm : lumen that the band leaves, mm; set by pressure where not said
    shunt_mm : diameter of a systemic-to-pulmonary shunt put in with the band, mm
    rank_by : the one thing to order routes by, such as ``"survivable"``; no order without it
    seed : start of the random numbers
    draws : circuits kept; after an operation and beyond two months fewer are followed
    criteria : changes to the packaged criteria of the tiers
    page_path : PDF to write the printed page to, readable by its owner only
    replace : whether an existing file may be replaced
    progress : told stage and share done

    Returns
    -------
    Answer with a RoutesResult

    Raises
    ------
    CaseError, PriorError, RouteNotPossible, OutputError
        the case cannot be read, is too thin or past its repair, what is asked contradicts itself,
        or the page cannot be written
    """
    record = case if isinstance(case, Case) else read_case(case)
    refuse_after_switch(record, "routes")
    refuse_unknown(rank_by)
    refuse_unreachable(criteria)
    tiers = tiers_of(criteria)
    plan = routes_plan(
        record.age_days,
        switch_day=switch_day,
        band_day=band_day,
        band_mm=band_mm,
        second_stage_day=second_stage_day,
        atrial_day=atrial_day,
        shunt_mm=shunt_mm,
        banded=record.event("band") is not None,
    )
    today = narrowed(record, draws=draws, seed=seed, progress=progress)
    pressing = urgency(record, readouts_today(today))
    walks = Walks(record, today, plan, tiers, seed, progress or unheard)
    routes = Built(walks, emergency=pressing.level == "emergency").all()
    today.refuse_failed()
    suits = suitability(record)
    result = RoutesResult(
        age_days=today.age_days,
        urgency=pressing,
        suitability=suits,
        draws_beyond=min(round(routes_numbers()["far_draws"]), draws),
        criteria={tier.name: _asked(tier) for tier in tiers},
        routes=routes,
        ranking=ranking(routes, rank_by),
        what=_what(routes),
        why=_why(routes),
        how_sure=_how_sure(draws),
        picture=routes_picture(routes, plan),
    )
    answer = Answer(
        verb="routes",
        case_id=record.id,
        result=result,
        cautions=_cautions(record, today, result),
        sources=_sources(routes),
        run=run_record(
            record.digest,
            seed=seed,
            draws=draws,
            effective_draws=today.effective_draws,
            criteria={tier.name: _asked(tier) for tier in tiers},
        ),
    )
    if page_path is None:
        return answer
    pdf = page_pdf(routes_page(record, answer, result))
    written = write_private(Path(page_path), pdf, replace=replace)
    return altered(answer, result=altered(result, page=written.name))


def _asked(tier: Tier) -> dict[str, float]:
    return {
        "cardiac_index_min_l_min_m2": tier.cardiac_index_min_l_min_m2,
        "la_mean_max_mmhg": tier.la_mean_max_mmhg,
        "arterial_mean_min_mmhg": tier.arterial_mean_min_mmhg,
    }


def _what(routes: tuple[Route, ...]) -> str:
    open_ones = [ROUTE_WORDS[route.name] for route in routes if route.possible]
    closed = [ROUTE_WORDS[route.name] for route in routes if not route.possible]
    told = f"Open by what is recorded and computed: {'; '.join(open_ones) or 'none'}."
    return f"{told} Not open: {'; '.join(closed)}." if closed else told


def _why(routes: tuple[Route, ...]) -> str:
    closed = [route for route in routes if not route.possible]
    if not closed:
        return "Nothing recorded closes a route, and the ventricle has more than an even chance."
    reasons = dict.fromkeys(route.why.split(". ")[0].rstrip(".") for route in closed)
    return f"{'. '.join(reasons)}."


def _how_sure(draws: int) -> str:
    beyond = min(round(routes_numbers()["far_draws"]), draws)
    return (
        f"All {draws} draws are followed while nothing is operated and under a band; after an "
        f"operation and beyond two months {beyond} of them, whose intervals are rough. Published "
        "series count other babies and are never mixed in; the order of the routes is that of the "
        "table and no verdict."
    )


def _cautions(record: Case, today: Narrowed, result: RoutesResult) -> tuple[Caution, ...]:
    found: list[str] = []
    if result.urgency.level == "emergency":
        found.append("This is an emergency now: oxygen comes before any of these routes.")
    if result.suitability.standing != "shown":
        found.append(result.suitability.sentence)
    thin = "Conditioning for hours is shown as a test of load; evidence for it is thin."
    return (
        *(Caution(severity=Severity.CAUTION, text=text) for text in found),
        *standing_cautions(record),
        *ensemble_cautions(today),
        Caution(severity=Severity.NOTE, text=thin),
    )


def _sources(routes: tuple[Route, ...]) -> tuple[str, ...]:
    rows = [row.source for route in routes for row in route.published]
    curves = [curve.source for route in routes for curve in route.published_curves]
    fixed = ["boutin1994", "yacoub1980", "nakazawa1988"]
    return tuple(key for key in dict.fromkeys([*fixed, *rows, *curves]) if key in bibliography())
