"""Four invented babies, early, late, late behind a narrowing, late with a defect: they differ for
the right reasons, and the reasons are on the page.

Few draws, so only what is far apart is claimed.
"""

from __future__ import annotations

from importlib.resources import files
from typing import TYPE_CHECKING

import pytest

from inseries.case.check import check
from inseries.desk.demonstration import demo_case
from inseries.desk.window import answered

if TYPE_CHECKING:
    from inseries.desk.window_result import WindowResult

EARLY, THIN_WALL, NARROW, DEFECT = "brook-05", "meadow-11", "ledge-14", "delta-08"
BABIES = (EARLY, THIN_WALL, NARROW, DEFECT)
# chosen: draws enough to tell far things apart
DRAWS = 24


@pytest.fixture(scope="module")
def windows() -> dict[str, WindowResult]:
    """The window of each, computed once."""
    return {
        name: answered(demo_case(name), seed=1, draws=DRAWS, criteria=None, progress=None)[1]
        for name in BABIES
    }


def _chance(window: WindowResult, days_on: float, tier: str = "survivable") -> float:
    place = min(
        range(len(window.days)),
        key=lambda i: abs(window.days[i] - window.age_days - days_on),
    )
    return window.tiers[tier].chance[place]


@pytest.mark.parametrize(
    "name", sorted(path.name for path in files("inseries.desk").joinpath("demo").iterdir())
)
def test_every_case_says_first_that_it_is_invented(name: str) -> None:
    """The first line of the file; and nothing in the record contradicts the rest."""
    text = files("inseries.desk").joinpath("demo", name).read_text(encoding="utf-8")
    assert text.startswith("# An invented baby: no child like this was ever seen")
    assert check(demo_case(name.removesuffix(".toml"))).contradictions == ()


def test_the_three_late_ones_are_of_one_age() -> None:
    """What parts them is not their age."""
    ages = [demo_case(name).age_days for name in (THIN_WALL, NARROW, DEFECT)]
    assert ages == pytest.approx([ages[0]] * 3)


def test_early_and_well_is_good_today_and_loses_by_waiting(
    windows: dict[str, WindowResult],
) -> None:
    """Nine in ten at three days; less, and far less comfortable, three weeks on."""
    early = windows[EARLY]
    assert _chance(early, 0.0) > 0.9
    assert _chance(early, 21.0) < _chance(early, 0.0)
    assert _chance(early, 21.0, "comfortable") < _chance(early, 0.0, "comfortable") - 0.05


def test_a_thin_wall_is_worse_than_a_loaded_one_of_the_same_age(
    windows: dict[str, WindowResult],
) -> None:
    """Nothing loads one ventricle; a narrowing and a defect load the others."""
    thin = windows[THIN_WALL]
    for other in (NARROW, DEFECT):
        assert _chance(windows[other], 0.0) > _chance(thin, 0.0) + 0.1
        assert _chance(windows[other], 0.0, "comfortable") > _chance(thin, 0.0, "comfortable") + 0.2


def test_they_differ_by_wall_and_pressure(windows: dict[str, WindowResult]) -> None:
    """The reason is in the numbers: a heavier wall, and a pressure near the right ventricle's."""
    thin, narrow, defect = (windows[name].after_switch[0] for name in (THIN_WALL, NARROW, DEFECT))
    for loaded in (narrow, defect):
        assert loaded.lv_mass_before_g_m2.value > 1.3 * thin.lv_mass_before_g_m2.value
        assert loaded.lv_rv_ratio_before.value > thin.lv_rv_ratio_before.value + 0.2


@pytest.mark.parametrize(
    ("name", "reason"),
    [
        (EARLY, "An open duct keeps"),
        (THIN_WALL, "Nothing loads the left ventricle"),
        (NARROW, "dynamic narrowing of the left outflow keeps"),
        (DEFECT, "ventricular defect of 5.5 mm keeps"),
    ],
)
def test_the_reason_is_on_the_page(
    windows: dict[str, WindowResult], name: str, reason: str
) -> None:
    """Each says in words what loads its left ventricle, or that nothing does."""
    assert reason in windows[name].why
    assert reason in " ".join(windows[name].sentences)


@pytest.mark.parametrize(
    ("name", "change"),
    [
        (EARLY, "The duct closes"),
        (NARROW, "The narrowing of the left outflow goes"),
        (DEFECT, "The ventricular defect closes by itself"),
    ],
)
def test_without_its_reason_the_window_is_shorter(
    windows: dict[str, WindowResult], name: str, change: str
) -> None:
    """Take away what loads the ventricle, and days are lost: it was the reason."""
    told = {item.change: item for item in windows[name].what_would_move}
    assert told[change].gain_days.value < -1.0
    assert told[change].harms


def test_load_would_help_the_thin_wall(windows: dict[str, WindowResult]) -> None:
    """A band gives the unloaded ventricle days, and its harm stands beside."""
    told = {item.change: item for item in windows[THIN_WALL].what_would_move}
    band = told["A band round the lung artery today"]
    assert band.gain_days.value > 2.0
    assert any("15 %" in harm for harm in band.harms)


def test_the_rule_is_weighed_only_where_it_speaks(windows: dict[str, WindowResult]) -> None:
    """Late series of an intact septum stand beside the thin wall, loaded ones beside the rest."""
    assert "13 of 14" in windows[THIN_WALL].three_views.views[2].says
    for name in (NARROW, DEFECT):
        assert "46 of 48" in windows[name].three_views.views[2].says
