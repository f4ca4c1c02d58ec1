"""The verb ``verify`` and the table of targets behind it."""

from __future__ import annotations

import json
from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest

from inseries.base.numbers import Provenance, read_numbers
from inseries.base.sources import bibliography
from inseries.course.laws import DEFAULT, LAWS
from inseries.desk.experiments.babies import scenario, scenario_numbers
from inseries.desk.experiments.catalogue import SITUATIONS
from inseries.desk.experiments.septostomy import septostomy
from inseries.desk.targets import Interval, targets
from inseries.desk.verify import UNEXPLAINED, VerifyResult, chosen_constants, verify

if TYPE_CHECKING:
    from pathlib import Path

    from inseries.desk.answer import Answer

TOLD: list[tuple[str, float]] = []


@cache
def _answer() -> Answer:
    TOLD.clear()
    return verify(progress=lambda stage, fraction: TOLD.append((stage, fraction)))


def _result() -> VerifyResult:
    result = _answer().result
    assert isinstance(result, VerifyResult)
    return result


def test_every_target_is_answered_in_order() -> None:
    """Each row of the table of targets comes back as one check, and none is lost."""
    assert [check.name for check in _result().checks] == [target.name for target in targets()]
    assert len({target.name for target in targets()}) == len(targets())


def test_every_situation_serves_a_target() -> None:
    """No situation is computed for nothing, and no target asks for one that is not there."""
    assert {target.situation for target in targets()} == set(SITUATIONS)


def test_inside_follows_from_the_interval() -> None:
    """A check is inside exactly when our number lies between low and high."""
    for check in _result().checks:
        low, high = check.sd_or_range.low, check.sd_or_range.high
        outside = (low is not None and check.ours < low) or (high is not None and check.ours > high)
        assert check.inside is not outside


def test_a_miss_stays_visible_with_its_reason() -> None:
    """Each miss says why it is missed, is shown, and a hit gives no reason."""
    shown = " ".join(
        cell for table in _result().shown().tables for row in table.rows for cell in row
    )
    for check in _result().checks:
        assert (check.reason is None) is check.inside
        assert check.reason != UNEXPLAINED, check.name
        assert UNEXPLAINED not in check.reason_by_law.values(), check.name
        assert check.what in shown


def test_where_walls_grow_both_laws_are_told() -> None:
    """Ours is that of the default law; the other's number, side and reason stand beside it."""
    slow = {name for name, situation in SITUATIONS.items() if situation.slow}
    assert slow
    for check in _result().checks:
        told = check.ours_by_law
        assert set(told) == (set(LAWS) if check.name.split(".")[0] in slow else set())
        if told:
            assert told[DEFAULT] == check.ours
            assert check.inside_by_law[DEFAULT] is check.inside
            missed = {law for law, inside in check.inside_by_law.items() if not inside}
            assert set(check.reason_by_law) == missed
            assert check.missed is bool(missed)


def test_most_figures_of_slow_time_are_kept_to_judge() -> None:
    """At least half of the figures in which walls grow play no part in any fit."""
    slow = [target for target in targets() if SITUATIONS[target.situation].slow]
    judging = [target for target in slow if target.role == "validated"]
    assert len(judging) >= len(slow) / 2


def test_the_default_law_misses_no_more_than_the_other() -> None:
    """The law that speaks for one number holds at least as many of the figures kept to judge."""
    judging = [
        check for check in _result().checks if check.ours_by_law and check.role == "validated"
    ]
    held = {law: sum(check.inside_by_law[law] for check in judging) for law in LAWS}
    assert held[DEFAULT] == max(held.values())


def test_sources_are_listed_and_tolerances_said() -> None:
    """Each source is in the bibliography; a mean without spread has a tolerance that says so."""
    assert set(_answer().sources) <= set(bibliography())
    for target in targets():
        interval = target.interval
        assert interval.low is not None or interval.high is not None, target.name
        if interval.kind == "sd":
            assert interval.sd is not None, target.name
        if interval.kind == "direction":
            assert interval.low is None or interval.high is None, target.name
        if interval.sd is None and target.published is not None:
            assert interval.kind in {"range", "tolerance"}, target.name


def test_what_judges_never_fits() -> None:
    """Series kept to judge are not among those used to fit."""
    kept = {"joyce2004", "nakazawa1988", "bano_rodrigo1980", "yasui1989", "ajprep2019", "seed2012"}
    kept |= {"wernovsky1992", "cevik2019", "training_strain2013", "cctga_bands2014"}
    assert not kept & {target.source for target in targets() if target.role == "calibrated"}


def test_least_certain_constants_are_listed_as_chosen() -> None:
    """What sets the level of the window, and has no data, stands among the chosen."""
    names = {item.name for item in chosen_constants()}
    assert {"left_strength", "stiffness", "loss_time", "strength_gain"} <= names
    assert all(item.because for item in chosen_constants())


def test_progress_names_each_situation() -> None:
    """Progress is told once for each situation, rising from nothing."""
    _answer()
    assert [stage for stage, _ in TOLD] == [situation.words for situation in SITUATIONS.values()]
    assert all(a < b < 1.0 for (_, a), (_, b) in pairwise(TOLD))


def test_json_carries_the_agreed_names() -> None:
    """The JSON form has the names that others rely on."""
    told = json.loads(_answer().to_json())["result"]
    agreed = {"name", "source", "role", "published", "sd_or_range", "ours", "inside"}
    assert all(agreed <= set(check) for check in told["checks"])
    assert {check["role"] for check in told["checks"]} == {"calibrated", "validated"}


@pytest.mark.parametrize(
    ("value", "inside"), [(1.0, True), (2.0, True), (0.999, False), (2.001, False)]
)
def test_an_interval_holds_its_ends(value: float, inside: bool) -> None:
    """Both ends of an interval count as inside."""
    assert Interval(kind="range", low=1.0, high=2.0, sd=None).holds(value) is inside


def test_supposed_inputs_can_be_replaced() -> None:
    """What a publication leaves open is an input of the experiment and moves its answer."""
    assert scenario({"septostomy_tear": 4.0})["septostomy_tear"] == 4.0
    assert all(number.because for number in scenario_numbers().values())
    wide, narrow = septostomy(None), septostomy(None, {"septostomy_tear": 3.0})
    assert narrow["saturation_after_pct"] < wide["saturation_after_pct"]


def test_each_miss_is_told_at_length(root: Path) -> None:
    """The page of limits names each figure that is missed, by the words of ``verify``."""
    page = (root / "docs" / "physics" / "limits.md").read_text(encoding="utf-8")
    missed = [check.what for check in _result().checks if check.missed]
    assert missed
    assert not [what for what in missed if f"**{what}**" not in page]


def test_the_page_of_checks_is_todays(root: Path) -> None:
    """The printed table of published figures and ours is the one that ``verify`` finds."""
    page = (root / "docs" / "physics" / "checks.md").read_text(encoding="utf-8")
    for check in _result().checks:
        row = next(line for line in page.splitlines() if line.startswith(f"| {check.what} |"))
        assert ("**no**" in row) is not check.inside
        assert float(row.split("|")[4]) == pytest.approx(check.ours, rel=0.01)


def test_the_page_of_checks_has_both_laws(root: Path) -> None:
    """The printed table under each law gives each law's number, marked where it lies outside."""
    page = (root / "docs" / "physics" / "checks.md").read_text(encoding="utf-8")
    table = page[page.index("## Under each law of growth") :]
    for check in _result().checks:
        if check.ours_by_law:
            row = next(line for line in table.splitlines() if line.startswith(f"| {check.what} |"))
            for cell, law in zip(row.split("|")[4:], LAWS, strict=False):
                assert ("**" in cell) is not check.inside_by_law[law]
                ours = float(cell.strip(" *"))
                assert ours == pytest.approx(check.ours_by_law[law], rel=0.01)


def test_fitted_tables_say_that_they_were_fitted() -> None:
    """Each fitted constant overrides a starting one of the same unit and says who wrote it."""
    for package, start, over in (
        ("inseries.circuit", "newborn.toml", "fitted.toml"),
        ("inseries.course", "cavity.toml", "fitted_cavity.toml"),
        ("inseries.course", "strength.toml", "fitted_strength.toml"),
        ("inseries.course", "mean_stress.toml", "fitted_mean_stress.toml"),
        ("inseries.course", "emptied_stretch.toml", "fitted_emptied_stretch.toml"),
        ("inseries.prior", "regulation.toml", "fitted.toml"),
        ("inseries.desk.experiments", "scenarios.toml", "fitted.toml"),
    ):
        starting, fitted = read_numbers(package, start), read_numbers(package, over)
        assert fitted
        for name, number in fitted.items():
            assert number.provenance is Provenance.FITTED
            assert number.unit == starting[name].unit
