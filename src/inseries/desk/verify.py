"""The verb ``verify``: every outside check, hits and misses alike, and what was never fitted."""

from __future__ import annotations

from collections.abc import Mapping  # noqa: TC003 - read by the schema at run time
from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.base.findings import Caution, Severity
from inseries.base.numbers import Provenance, read_rows
from inseries.course.laws import DEFAULT, LAWS
from inseries.desk.answer import Answer, Progress, Shown, Table
from inseries.desk.experiments.catalogue import SITUATIONS
from inseries.desk.run import run_record
from inseries.desk.targets import Interval, Role, Target, targets

if TYPE_CHECKING:
    from collections.abc import Iterable

# Constants that set the level of the window, and that no published figure pins down.
_LEVEL = ("left_strength", "stiffness", "loss_time", "loss_rate", "strength_gain")
# Tables of constants: its word, the room, and its files, a later one over an earlier one.
_TABLES = (
    ("newborn", "inseries.circuit", ("newborn.toml", "fitted.toml")),
    ("cavity", "inseries.course", ("cavity.toml", "fitted_cavity.toml")),
    ("strength", "inseries.course", ("strength.toml", "fitted_strength.toml")),
    ("mean stress", "inseries.course", ("mean_stress.toml", "fitted_mean_stress.toml")),
    ("emptied stretch", "inseries.course", ("emptied_stretch.toml", "fitted_emptied_stretch.toml")),
    ("regulation", "inseries.prior", ("regulation.toml", "fitted.toml")),
    ("operation", "inseries.prior", ("operation.toml",)),
    ("spread", "inseries.prior", ("spread.toml",)),
)
# What the laws of growth are called in a table.
LAW_WORDS = {"mean_stress": "mean stress", "emptied_stretch": "emptied stretch"}
# Units as a reader at a terminal says them.
_SPOKEN = {"1": "", "mm[Hg]": "mmHg", "kdyn/cm2": "10³ dyn/cm²"}
UNEXPLAINED = "not explained yet"


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One published figure beside ours.

    Parameters
    ----------
    name : situation and measure
    what, population : in words
    source : bibliography key, None for common practice
    role : used to fit, or kept to judge
    published : the printed figure, or None
    sd_or_range : what counts as inside
    ours : our number, by the default law of growth
    inside : whether ours lies inside
    reason : why it is missed; None while it is not
    ours_by_law, inside_by_law : the same under each law of growth; empty where none plays a part
    reason_by_law : why it is missed, by the laws that miss it
    """

    name: str
    what: str
    population: str
    source: str | None
    role: Role
    published: float | None
    sd_or_range: Interval
    unit: str
    ours: float
    inside: bool
    reason: str | None
    ours_by_law: Mapping[str, float]
    inside_by_law: Mapping[str, bool]
    reason_by_law: Mapping[str, str]

    @property
    def missed(self) -> bool:
        """Whether ours, or that of any law of growth, lies outside."""
        return not (self.inside and all(self.inside_by_law.values()))


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """A constant that was chosen and never fitted: its table, value, and why that value."""

    name: str
    table: str
    value: float
    unit: str
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class VerifyResult:
    """Every outside check, and every constant that was chosen and never fitted."""

    checks: tuple[Check, ...]
    chosen: tuple[Chosen, ...]

    def shown(self) -> Shown:
        """The count, one table for each role, misses with their reasons, chosen constants."""
        inside = sum(check.inside for check in self.checks)
        return Shown(
            sentences=(
                f"{inside} of {len(self.checks)} published figures hold our number; "
                f"{len(self.checks) - inside} do not, and stay listed.",
                *law_sentences(self.checks),
                f"{len(self.chosen)} constants were chosen and never fitted. The level of the "
                f"window hangs on {_and(_LEVEL)} among them.",
            ),
            tables=(
                _table("Used to fit", self.checks, "calibrated"),
                _table("Kept to judge", self.checks, "validated"),
                _law_table(self.checks),
                _miss_table(tuple(check for check in self.checks if check.missed)),
                _chosen_table(self.chosen),
            ),
        )


def verify(*, progress: Progress | None = None) -> Answer:
    """Every outside check: published, ours, inside or not, used to fit or kept to judge.

    Parameters
    ----------
    progress : told the situation at hand and the fraction done

    Returns
    -------
    Answer with a VerifyResult; cautions where a published figure is missed
    """
    found: dict[str, dict[str, dict[str, float]]] = {}
    for done, (name, situation) in enumerate(SITUATIONS.items()):
        if progress is not None:
            progress(situation.words, done / len(SITUATIONS))
        found[name] = situation.found()
    checks = tuple(_check(target, found[target.situation]) for target in targets())
    sources = tuple(dict.fromkeys(check.source for check in checks if check.source))
    return Answer(
        verb="verify",
        result=VerifyResult(checks=checks, chosen=chosen_constants()),
        cautions=_cautions(checks),
        sources=sources,
        run=run_record(None),
    )


def chosen_constants() -> tuple[Chosen, ...]:
    """Constants chosen and never fitted, by table."""
    return tuple(
        item for table, package, files in _TABLES for item in _chosen(table, package, files)
    )


def _check(target: Target, found: Mapping[str, Mapping[str, float]]) -> Check:
    by_law = {law: told[target.measure] for law, told in found.items()}
    inside = {law: target.interval.holds(ours) for law, ours in by_law.items()}
    reasons = {law: target.why(law) or UNEXPLAINED for law, held in inside.items() if not held}
    grows = len(by_law) > 1
    return Check(
        name=target.name,
        what=target.what,
        population=target.population,
        source=target.source,
        role=target.role,
        published=target.published,
        sd_or_range=target.interval,
        unit=target.unit,
        ours=by_law[DEFAULT],
        inside=inside[DEFAULT],
        reason=reasons.get(DEFAULT),
        ours_by_law=by_law if grows else {},
        inside_by_law=inside if grows else {},
        reason_by_law=reasons if grows else {},
    )


def law_sentences(checks: tuple[Check, ...]) -> tuple[str, ...]:
    """How many of the figures kept to judge, in which walls grow, each law holds."""
    judging = [check for check in checks if check.ours_by_law and check.role == "validated"]
    if not judging:
        return ()
    counts = [
        f"{sum(check.inside_by_law[law] for check in judging)} under {LAW_WORDS[law]}"
        for law in LAWS
    ]
    return (
        f"Of the {len(judging)} figures kept to judge in which walls grow, {_and(counts)} hold "
        f"our number; {LAW_WORDS[DEFAULT]} speaks where one number is printed.",
    )


def _cautions(checks: tuple[Check, ...]) -> tuple[Caution, ...]:
    missed = [check.what for check in checks if not check.inside and check.role == "calibrated"]
    used = Caution(
        severity=Severity.NOTE,
        text="A figure that was used to fit proves little; those kept to judge prove more.",
    )
    if not missed:
        return (used,)
    text = f"Missed although it was used to fit: {_and(missed)}."
    return (used, Caution(severity=Severity.CAUTION, text=text))


def _chosen(table: str, package: str, files: tuple[str, ...]) -> Iterable[Chosen]:
    rows: dict[str, dict[str, object]] = {}
    for file in files:
        rows |= read_rows(package, file)
    for name, row in rows.items():
        value = row["value"]
        if row["provenance"] == Provenance.CHOSEN and isinstance(value, int | float):
            yield Chosen(
                name=name,
                table=table,
                value=float(value),
                unit=str(row["unit"]),
                because=str(row["because"]),
            )


def _table(title: str, checks: tuple[Check, ...], role: Role) -> Table:
    return Table(
        title=title,
        columns=("what", "published", "ours", "in", "source"),
        rows=tuple(
            (
                check.what,
                printed(check),
                _plain(check.ours),
                "yes" if check.inside else "NO",
                check.source or "practice",
            )
            for check in checks
            if check.role == role
        ),
    )


def printed(check: Check) -> str:
    """What counts as inside, as a reader says it."""
    inside, unit = check.sd_or_range, _SPOKEN.get(check.unit, check.unit)
    if inside.sd is not None and check.published is not None:
        told = f"{_plain(check.published)} ± {_plain(inside.sd)}"
    elif inside.low is not None and inside.high is not None:
        told = f"{_plain(inside.low)} to {_plain(inside.high)}"
    elif inside.low is not None:
        told = f"above {_plain(inside.low)}"
    else:
        told = f"below {_plain(inside.high or 0.0)}"
    return f"{told} {unit}".rstrip()


def _plain(value: float) -> str:
    return f"{value:.3g}" if abs(value) < 1000.0 else f"{value:.0f}"


def _law_table(checks: tuple[Check, ...]) -> Table:
    return Table(
        title="Where walls grow: under each law",
        columns=("what", "published", *(LAW_WORDS[law] for law in LAWS)),
        rows=tuple(
            (
                check.what,
                printed(check),
                *(_held(check.ours_by_law[law], check.inside_by_law[law]) for law in LAWS),
            )
            for check in checks
            if check.ours_by_law
        ),
    )


def _held(ours: float, inside: bool) -> str:
    return _plain(ours) if inside else f"{_plain(ours)} NO"


def _miss_table(missed: tuple[Check, ...]) -> Table:
    return Table(
        title="Missed, and why we think so",
        columns=("what", "why"),
        rows=tuple((check.what, " / ".join(reasons(check))) for check in missed),
    )


def reasons(check: Check) -> tuple[str, ...]:
    """Why a figure is missed: one reason, or each law's own with the law's name."""
    if not check.reason_by_law:
        return (check.reason or UNEXPLAINED,)
    if len(check.reason_by_law) == len(LAWS) and len(set(check.reason_by_law.values())) == 1:
        return (check.reason or UNEXPLAINED,)
    return tuple(f"{LAW_WORDS[law]}: {why}" for law, why in check.reason_by_law.items())


def _chosen_table(chosen: tuple[Chosen, ...]) -> Table:
    tables = dict.fromkeys(item.table for item in chosen)
    return Table(
        title="Chosen, never fitted",
        columns=("table", "constants"),
        rows=tuple(
            (table, ", ".join(item.name for item in chosen if item.table == table))
            for table in tables
        ),
    )


def _and(words: Iterable[str]) -> str:
    listed = list(words)
    return listed[0] if len(listed) == 1 else f"{', '.join(listed[:-1])} and {listed[-1]}"
