"""What the verb ``routes`` answers, and how it shows itself."""

from __future__ import annotations

from collections.abc import Mapping  # noqa: TC003 - read by the schema at run time
from dataclasses import dataclass

from inseries.desk.answer import Shown
from inseries.desk.routes_result import ROUTE_WORDS, Ranking, Route
from inseries.desk.routes_tables import route_tables
from inseries.desk.suitability import Suitability  # noqa: TC001 - read by the schema
from inseries.desk.urgency import Urgency  # noqa: TC001 - read by the schema
from inseries.draw.routes_text import routes_text
from inseries.draw.routes_view import RoutesView  # noqa: TC001 - read by the schema


@dataclass(frozen=True, slots=True, kw_only=True)
class RoutesResult:
    """Five routes beside one another, urgency and suitability first; no verdict."""

    age_days: float
    urgency: Urgency
    suitability: Suitability
    draws_beyond: int
    criteria: Mapping[str, Mapping[str, float]]
    routes: tuple[Route, ...]
    ranking: Ranking | None
    what: str
    why: str
    how_sure: str
    picture: RoutesView
    page: str = ""

    def shown(self) -> Shown:
        """Urgency first, then each route in three sentences, tables and the lanes."""
        u = self.urgency
        first = f"{u.level.upper()}: {u.headline}. Next decision within {u.hours:g} h."
        told = [
            f"{ROUTE_WORDS[route.name].upper()}. {route.what} {route.why} {route.how_sure}"
            for route in self.routes
        ]
        return Shown(
            sentences=(
                first,
                f"Is a switch the operation? {self.suitability.sentence}",
                self.what,
                self.why,
                self.how_sure,
                *told,
                *((f"The printed page is in {self.page}.",) if self.page else ()),
            ),
            tables=route_tables(self.routes, self.ranking),
            picture=routes_text(self.picture),
        )
