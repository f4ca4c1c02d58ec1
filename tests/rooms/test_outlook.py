"""The outlook's own laws: growing and inert arc, scar and tension, gradients, root, refusals."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from inseries.base.errors import NormsError, RouteNotPossible
from inseries.base.sources import bibliography
from inseries.outlook import (
    Frame,
    Material,
    SiteCourse,
    Start,
    crossing,
    frame_of,
    gradient_mmhg,
    root_courses,
    root_references,
    site_courses,
    start_of,
    technique,
    techniques,
    tensions,
)
from inseries.outlook.course import GROWTH_COLUMN, beyond_usual_area
from inseries.outlook.root import ADULT_TABLE, CHILD_TABLE
from inseries.outlook.weighed import rows_by

FEW = 48  # chosen: enough draws for a comparison


@cache
def _frame(draws: int = FEW, z: float = 0.0) -> Frame:
    return frame_of("female", z=z, operation_days=9.0, draws=draws, seed=1, digest="invented")


def _start(**names: object) -> Start:
    return start_of(_frame(), relation_deg=30.0, **names)  # type: ignore[arg-type]


@cache
def _courses(patch_share: float | None = None, gap_mm: float | None = 0.0) -> dict[str, SiteCourse]:
    start = _start(patch_share=patch_share, gap_mm=gap_mm)
    told = site_courses(_frame(), start, tensions(_frame(), start))
    return {each.technique.material.value: each for each in told}


# ---- growth -------------------------------------------------------------------------------------


def test_the_site_follows_its_closed_form() -> None:
    """Diameter is growing arc plus inert arc, less what the scar loses, written out by hand."""
    frame = _frame()
    course = _courses(gap_mm=0.0)["autologous_fresh"]
    p, g = course.patch_share, frame.growth[:, None]
    gamma = technique("autologous_fresh").growth(frame.extra(GROWTH_COLUMN))
    q = 1.0 - np.exp(-frame.drawn("scar_share"))
    lost = 1.0 - np.exp(-frame.drawn("scar_contraction"))
    since = (frame.years - frame.years[0])[:, None]
    s = lost * (1.0 - np.exp(-since / frame.drawn("scar_years")))
    arcs = (1.0 - p) * ((1.0 - q) * g + q) + p * (1.0 + gamma * (g - 1.0))
    assert course.site_mm == pytest.approx(course.start_mm * (1.0 - s) * arcs)


def test_what_cannot_grow_falls_behind() -> None:
    """In every draw, at every later age, the four materials keep their order of growth fraction."""
    told = _courses()
    frame = _frame()
    rest = told["xenograft_or_synthetic"].site_mm
    assert np.all(told["autologous_fresh"].site_mm[1:] >= rest[1:])
    assert np.all(told["autologous_fixed"].site_mm[1:] >= rest[1:])
    grown = frame.at(18.0)
    assert np.median(told["autologous_fresh"].site_mm[grown]) > np.median(
        told["autologous_fixed"].site_mm[grown]
    )


def test_a_whole_inert_ring_keeps_its_size() -> None:
    """Nothing native is left to grow: the ring at forty is no wider than at the operation."""
    ring = _courses(patch_share=1.0)["xenograft_or_synthetic"]
    assert np.all(ring.site_mm[-1] <= ring.start_mm)
    assert ring.inert_share == pytest.approx(np.ones_like(ring.inert_share))


@pytest.mark.parametrize("material", ["autologous_fixed", "xenograft_or_synthetic"])
def test_more_patch_costs_more(material: str) -> None:
    """Two thirds of the girth patched gives a higher gradient than two fifths, in every draw."""
    few, many = (_courses(patch_share=p)[material].site[_frame().at(18.0)] for p in (0.4, 2 / 3))
    assert np.all(many > few)


def test_tension_makes_a_direct_join_lose_too() -> None:
    """Pulled together over six millimetres it is narrower and its branches flatter than slack."""
    slack, pulled = (_courses(gap_mm=gap)["direct"] for gap in (0.0, 6.0))
    grown = _frame().at(18.0)
    assert np.all(pulled.site_mm[grown] < slack.site_mm[grown])
    assert np.all(pulled.branch[0] > slack.branch[0])
    assert np.median(pulled.greatest[_frame().at(5.0)]) > 1.5 * np.median(
        slack.greatest[_frame().at(5.0)]
    )


def test_a_patch_is_pulled_less_than_a_direct_join() -> None:
    """A patch behind takes up part of the gap, so its branches are flattened less."""
    told = _courses(gap_mm=6.0)
    assert np.all(told["xenograft_or_synthetic"].branch[0] <= told["direct"].branch[0])


def test_a_narrow_branch_takes_back_part_of_it() -> None:
    """Flattening lessens as the branches grow and never changes sign."""
    share = _courses(gap_mm=6.0)["direct"].branch_ratio
    assert np.all(np.diff(share, axis=0) >= -1e-12)
    assert np.all(share <= 1.0)


# ---- gradients ----------------------------------------------------------------------------------


def test_a_usual_trunk_has_four_mmhg() -> None:
    """1 m/s in a vessel of usual size is 4 mmHg; at half the diameter it is sixteen times that."""
    assert float(gradient_mmhg(np.array(1.0), np.array(1.0))) == pytest.approx(4.0)
    assert float(gradient_mmhg(np.array(1.0), np.array(0.5))) == pytest.approx(64.0)


def test_once_above_stays_counted() -> None:
    """The share above a limit never falls with age, and a lower limit is crossed more often."""
    site = _courses(patch_share=1.0)["xenograft_or_synthetic"].site
    shares = [crossing(site, limit) for limit in (36.0, 50.0, 64.0)]
    for share in shares:
        assert np.all(np.diff(share) >= 0.0)
    assert np.all(shares[0] >= shares[1])
    assert np.all(shares[1] >= shares[2])


def test_only_what_is_beyond_usual_is_added_to_a_circuit() -> None:
    """Losses of the added place and of a usual vessel add up to that of the narrow one."""
    ratio = np.array([0.2, 0.5, 0.9])
    added = beyond_usual_area(ratio)
    assert 1.0 / added**2 + 1.0 == pytest.approx(1.0 / ratio**2)
    assert float(beyond_usual_area(np.array(1.5))) > 10.0


# ---- materials ----------------------------------------------------------------------------------


def test_each_material_has_its_evidence() -> None:
    """Four materials, each with evidence, a caution and listed sources, or that none was read."""
    assert {each.material for each in techniques()} == set(Material)
    for each in techniques():
        assert each.evidence
        assert each.caution
        assert set(each.sources) <= set(bibliography())
        assert each.sources or "No series" in each.evidence


def test_growth_fractions_are_wide_where_little_is_known() -> None:
    """Fresh pericardium may hardly grow or nearly keep up; inert material never grows."""
    z = np.random.default_rng(1).standard_normal(4000)
    fresh, inert = (technique(m).growth(z) for m in ("autologous_fresh", "xenograft_or_synthetic"))
    low, high = np.percentile(fresh, [5.0, 95.0])
    assert low < 0.2
    assert high > 0.8
    assert inert.max() <= 0.0


# ---- root ---------------------------------------------------------------------------------------


def test_courses_of_the_root_disagree_and_stay_apart() -> None:
    """Three published courses; at forty the widest is a centimetre wider than the narrowest."""
    told = {each.name: np.median(each.root_mm[-1]) for each in root_courses(_frame(), _start())}
    assert len(told) == 3
    assert max(told.values()) - min(told.values()) > 10.0


def test_the_table_changes_between_fifteen_and_twenty() -> None:
    """Both tables hold from 15 to 20 years, and the adult's calls the same root smaller."""
    child, adult = root_references(_frame())
    assert (child.key, adult.key) == (CHILD_TABLE, ADULT_TABLE)
    both = set(child.places.tolist()) & set(adult.places.tolist())
    assert [float(_frame().years[place]) for place in sorted(both)] == [15.0, 16.0, 18.0, 20.0]
    root = root_courses(_frame(), _start())[0].root_mm
    at = sorted(both)[-1]
    z = {t.key: np.median(t.z(root)[t.places.tolist().index(at)]) for t in (child, adult)}
    assert z[CHILD_TABLE] - z[ADULT_TABLE] > 0.8


def test_a_measured_root_is_where_it_starts() -> None:
    """A root of 12 mm read before the operation is 12 mm then, within the error of reading it."""
    start = _start(seen_mm={"pulmonary_root_mm": 12.0})
    for each in root_courses(_frame(), start):
        assert np.median(each.root_mm[0]) == pytest.approx(12.0, abs=0.3)


# ---- readings, sizes, refusals ------------------------------------------------------------------


def test_readings_draw_the_draws_to_them() -> None:
    """Draws near a reading are taken more often; two sharp readings leave few that count."""
    predicted = np.linspace(0.0, 10.0, 101)[None, :]
    rows, count = rows_by(predicted, np.array([7.0]), np.array([0.5]))
    assert predicted[0, rows].mean() == pytest.approx(7.0, abs=0.05)
    assert count < 40.0
    _, sharp = rows_by(predicted, np.array([7.0]), np.array([0.05]))
    assert sharp < count


def test_measured_sizes_replace_usual_ones() -> None:
    """What was measured is used and named; the missing share follows the measured root."""
    start = _start(seen_mm={"aortic_root_mm": 12.0})
    assert start.aortic_root_mm == 12.0
    assert start.measured == ("aortic_root_mm",)
    assert start.patch_share == pytest.approx(12.0 / (np.pi * 12.0))


def test_sizes_beyond_the_references_are_held_at_their_edge() -> None:
    """Past nine years no reference holds beyond two deviations: the body is kept at two."""
    assert _frame(4, 2.9).z == 2.0


@pytest.mark.parametrize(
    ("names", "code"),
    [
        ({"patch_share": 0.0}, "share_out_of_bounds"),
        ({"patch_share": 1.2}, "share_out_of_bounds"),
        ({"gap_mm": -1.0}, "gap_out_of_bounds"),
        ({"gap_mm": 80.0}, "gap_out_of_bounds"),
    ],
)
def test_impossible_geometry_is_refused(names: dict[str, float], code: str) -> None:
    """A share that is none, a negative gap, and a slip of the pen are refused with a reason."""
    with pytest.raises(RouteNotPossible) as refused:
        _start(**names)
    assert refused.value.code == code
    assert refused.value.remedy


def test_an_age_past_the_table_is_refused() -> None:
    """A body past forty years has no reference."""
    with pytest.raises(NormsError):
        frame_of("male", z=0.0, operation_days=-3.0, draws=2, seed=1, digest="x")


def test_the_middle_is_one_draw_without_chance() -> None:
    """The middle frame has one draw, with every unknown at its middle."""
    middle = _frame().middle()
    assert middle.draws == 1
    assert middle.drawn("normal_velocity")[0] == 1.0
    again = replace(middle)
    assert np.array_equal(again.surface_m2, _frame().surface_m2)
