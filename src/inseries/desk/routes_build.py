"""The five routes of one baby, each from its walk."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.base.errors import RouteNotPossible
from inseries.desk import routes_words as words
from inseries.desk.readouts import estimate
from inseries.desk.routes_checks import lung_check, switch_checks
from inseries.desk.routes_days import (
    chance_at,
    curves_of,
    route_day,
    route_days,
    rows_of,
    support_rows,
)
from inseries.desk.routes_plan import routes_numbers
from inseries.desk.routes_result import (
    Route,
    RouteChance,
    RouteDay,
    RouteName,
    RouteOption,
    RouteStep,
)
from inseries.desk.routes_walks import WAITED, Banded, Walks, banded_days
from inseries.desk.suitability import lacking, nearest
from inseries.prior.actions import Action, Kind, usual_sizes

if TYPE_CHECKING:
    from inseries.desk.routes_result import ChanceAt, Suits
    from inseries.prior.narrow import Narrowed

# chosen: of the days waited, the one whose chance stands for waiting
STANDS_FOR_WAITING = 14.0


class Built:
    """Builds routes from one set of walks.

    Parameters
    ----------
    walks : the walks, waited already
    emergency : whether something else comes first
    """

    def __init__(self, walks: Walks, *, emergency: bool) -> None:
        self.walks = walks
        self.emergency = emergency
        self.case, self.plan = walks.case, walks.plan
        baby = walks.today.baby
        asked = switch_checks(self.case, baby, self.plan.switch_day)
        self.switch_lacks, self.switch_nearest = lacking(asked), nearest(asked)
        lungs = (lung_check(self.case, baby, self.plan.atrial_day),)
        self.atrial_lacks, self.atrial_nearest = lacking(lungs), nearest(lungs)
        self.primary_chance = self._tried(walks.state_at(self.plan.switch_day))

    def all(self) -> tuple[Route, ...]:
        """All five, in the order of the table."""
        band = self._band()
        return (
            self.wait(),
            self.primary(),
            self.band(band),
            self.conditioning(band),
            self.atrial(),
        )

    @property
    def suits(self) -> Suits:
        """Whether a switch is shown to be the operation."""
        return "not shown" if self.switch_lacks else "shown"

    def wait(self) -> Route:
        """Nothing done."""
        walks = self.walks
        tried = [self._tried(walks.state_at(self.plan.after(days))) for days in WAITED]
        middle = tried[WAITED.index(STANDS_FOR_WAITING)]
        chance = RouteChance(
            age_days=middle.age_days,
            survivable=middle.survivable,
            comfortable=middle.comfortable,
            by_age=(self.primary_chance, *tried),
        )
        days = route_days(walks.waited)
        why = words.wait_why(days)
        if self.emergency:
            why = f"This is an emergency: oxygen comes first, and waiting is no route. {why}"
        return _route(
            "wait",
            possible=not self.emergency,
            suitability=self.suits,
            what=words.wait_what(days, None if self.switch_lacks else chance, middle.age_days),
            why=why,
            how_sure=words.wait_sure(None if self.switch_lacks else chance),
            timeline=(RouteStep(age_days=round(self.plan.today, 2), what="today"),),
            by_day=days,
            chance=None if self.switch_lacks else chance,
            chance_why=f"Not shown: {self.switch_lacks}." if self.switch_lacks else "",
        )

    def primary(self) -> Route:
        """A switch on the asked day."""
        if self.switch_lacks:
            return self._ruled_out("primary_switch")
        walks, day = self.walks, self.plan.switch_day
        start = walks.state_at(day)
        after = walks.after(start, [Action(kind=Kind.SWITCH, age_days=day)], loops="one ring")
        one = self.primary_chance
        chance = _chance(one, ())
        gone = one.survivable.value < routes_numbers()["gone_chance"]
        days = route_days(after)
        return _route(
            "primary_switch",
            possible=not gone,
            suitability="shown",
            what=words.primary_what(chance, days),
            why=words.primary_why(self._waiting_at(day), gone),
            how_sure=words.primary_sure(),
            timeline=(RouteStep(age_days=day, what="arterial switch"),),
            by_day=(*self._waiting_before(day), *days),
            chance=chance,
            options=(self._support(start, days[0]),),
        )

    def band(self, banded: Banded | RouteNotPossible) -> Route:
        """A band, then the switch when it is ready."""
        if self.switch_lacks:
            return self._ruled_out("band_then_switch")
        if isinstance(banded, RouteNotPossible):
            return self._refused("band_then_switch", banded)
        walks, second = self.walks, banded.second_day
        one = self._tried(banded.state)
        chance = _chance(one, ())
        action = Action(kind=Kind.SWITCH, age_days=second)
        after = route_days(walks.after(banded.state, [action], loops="one ring"))
        under = route_days(banded_days(banded))
        gone = one.survivable.value < routes_numbers()["gone_chance"]
        return _route(
            "band_then_switch",
            possible=not gone,
            suitability="shown",
            what=words.band_what(banded, chance, _before(banded)),
            why=words.band_why(banded, self.primary_chance, gone),
            how_sure=words.band_sure(),
            timeline=(
                RouteStep(age_days=round(walks.banded_day, 2), what="band"),
                RouteStep(age_days=second, what="arterial switch, band off"),
            ),
            by_day=(*self._waiting_before(banded.course.before.age_days), *under, *after),
            chance=chance,
        )

    def conditioning(self, banded: Banded | RouteNotPossible) -> Route:
        """A band for hours, then the switch: a test of load."""
        name: RouteName = "conditioning_then_switch"
        if self.switch_lacks:
            return self._ruled_out(name)
        if isinstance(banded, RouteNotPossible):
            return self._refused(name, banded)
        hours = routes_numbers()["conditioning_hours"]
        looked = self.walks.conditioned(banded.course)
        gain = looked[-1].day.walls.left.mass_g / looked[0].day.walls.left.mass_g - 1.0
        days = route_days(looked)
        start = days[0].age_days
        return _route(
            name,
            possible=True,
            suitability="shown",
            what=words.conditioning_what(hours, estimate(100.0 * gain, "%"), days[0], days[1]),
            why=words.CONDITIONING_WHY,
            how_sure=words.CONDITIONING_SURE,
            timeline=(
                RouteStep(age_days=start, what=f"band for {hours:.0f} hours in theatre"),
                RouteStep(age_days=round(start + hours / 24.0, 2), what="arterial switch"),
            ),
            by_day=days,
            chance=None,
            chance_why=words.NO_CHANCE[name],
        )

    def atrial(self) -> Route:
        """Veins crossed, the right ventricle for the body."""
        walks, day = self.walks, self.plan.atrial_day
        action = Action(kind=Kind.ATRIAL_SWITCH, age_days=day)
        after = walks.after(walks.state_at(day), [action], loops="atrial switch")
        days = route_days(after)
        return _route(
            "atrial_switch",
            possible=not self.atrial_lacks,
            suitability="not asked",
            what=words.atrial_what(days[0], days[-1]),
            why=words.atrial_why(self.atrial_lacks, self.atrial_nearest),
            how_sure=words.ATRIAL_SURE,
            timeline=(RouteStep(age_days=day, what="atrial switch"),),
            by_day=(*self._waiting_before(day), *days),
            chance=None,
            chance_why=words.NO_CHANCE["atrial_switch"],
        )

    # ---- parts -----------------------------------------------------------------------------

    def _band(self) -> Banded | RouteNotPossible:
        """The band's walk, or why there is none; not asked where no switch can follow."""
        if self.switch_lacks:
            return RouteNotPossible(self.switch_lacks, code="not_shown")
        try:
            return self.walks.banded()
        except RouteNotPossible as refusal:
            if self.plan.band_mm is not None:
                raise
            return refusal

    def _tried(self, state: Narrowed) -> ChanceAt:
        return chance_at(state.age_days, self.walks.chance_at(state))

    def _waiting_before(self, age: float) -> tuple[RouteDay, ...]:
        return route_days(tuple(d for d in self.walks.waited if d.day.age_days < age))

    def _waiting_at(self, age: float) -> RouteDay:
        near = min(self.walks.waited, key=lambda looked: abs(looked.day.age_days - age))
        return route_day(near)

    def _support(self, start: Narrowed, without: RouteDay) -> RouteOption:
        days = route_days(self.walks.supported(start))
        until = start.age_days + usual_sizes()["support_days"]
        weaned = [day for day in days if day.age_days > until]
        return RouteOption(
            name="mechanical support for some days after the switch",
            gain=words.support_gain(without, days[1], weaned[-1]),
            harm=words.SUPPORT_HARM,
            by_day=days,
            published=support_rows(),
        )

    def _ruled_out(self, name: RouteName) -> Route:
        """A route that what is recorded does not show to be open; nothing is computed of it."""
        why = f"Not shown: {self.switch_lacks}."
        return _route(
            name,
            possible=False,
            suitability="not shown",
            what="Not computed.",
            why=f"{why} {self.switch_nearest}",
            how_sure="It follows from what is recorded, not from the model.",
            timeline=(),
            by_day=(),
            chance=None,
            chance_why=why,
        )

    def _refused(self, name: RouteName, refusal: RouteNotPossible) -> Route:
        nearest = f" Nearest: {refusal.remedy}." if refusal.remedy else ""
        why = f"{refusal.what[0].upper()}{refusal.what[1:]}.{nearest}"
        return _route(
            name,
            possible=False,
            suitability=self.suits,
            what="Not computed.",
            why=why,
            how_sure="It follows from the load that the ventricle bears today in the model.",
            timeline=(),
            by_day=(),
            chance=None,
            chance_why=why,
        )


def _before(banded: Banded) -> RouteDay:
    """The last day under the band."""
    return route_days(banded_days(banded))[-1]


def _chance(one: ChanceAt, others: tuple[ChanceAt, ...]) -> RouteChance:
    return RouteChance(
        age_days=one.age_days,
        survivable=one.survivable,
        comfortable=one.comfortable,
        by_age=(one, *others),
    )


def _route(  # noqa: PLR0913 - a route's parts, by name
    name: RouteName,
    *,
    possible: bool,
    suitability: Suits,
    what: str,
    why: str,
    how_sure: str,
    timeline: tuple[RouteStep, ...],
    by_day: tuple[RouteDay, ...],
    chance: RouteChance | None,
    chance_why: str = "",
    options: tuple[RouteOption, ...] = (),
) -> Route:
    return Route(
        name=name,
        possible=possible,
        suitability=suitability,
        what=what,
        why=why,
        how_sure=how_sure,
        timeline=timeline,
        by_day=by_day,
        chance=chance,
        chance_why=chance_why,
        harms=words.harms_of(name),
        options=options,
        published=rows_of(name),
        published_curves=curves_of(name),
    )
