"""The circuit's promises: what it refuses, what an orbit is, what it costs, what one reads off."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from rooms.circuit_samples import BLOOD, HELD, narrow, pump, small, smooth, two_vessels

from inseries.base.errors import CircuitError, NotPeriodic
from inseries.circuit.flat import CLOSED_AREA_CM2, activation, flatten, quadratic_loss
from inseries.circuit.network import ATRIAL, VENTRICULAR, Edge, Part, Vessel
from inseries.circuit.newborn import normal_newborn, parallel_newborn
from inseries.circuit.orbit import FINE, QUICK, Settings, find_orbit
from inseries.circuit.readouts import read
from inseries.circuit.repeated import repeated
from inseries.circuit.scaling import scaled
from inseries.circuit.status import Status
from inseries.circuit.waveforms import waveforms
from inseries.routes import with_atrial_defect, with_duct

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.circuit.network import Circuit

NAN = float("nan")
# Beats a search may take. They are bounds on work, not results: a cold start from the reference
# newborns, and a start from a neighbour whose numbers differ by a few per cent. With an open duct
# output hardly tells filling from resistance, and the search is longer.
COLD_BEATS, NEIGHBOUR_BEATS = 60, 12
COLD_BEATS_WITH_DUCT, NEIGHBOUR_BEATS_WITH_DUCT = 100, 30


def _septostomy(circuit: Circuit) -> Circuit:
    return with_atrial_defect(circuit, 7.0)


REFERENCES = {
    "normal": normal_newborn,
    "parallel": lambda: _septostomy(parallel_newborn()),
    "parallel with duct": lambda: with_duct(_septostomy(parallel_newborn()), 3.0),
}


# ---- refusals -----------------------------------------------------------------------------------

WRONG: dict[str, tuple[Callable[[Circuit], Circuit], str, str]] = {
    "NaN compliance": (
        lambda c: c.with_part("PA", compliance_ml_mmhg=NAN),
        "not_finite",
        "PA",
    ),
    "infinite resistance": (
        lambda c: c.with_edge("lungs", resistance_mmhg_s_ml=float("inf")),
        "not_finite",
        "lungs",
    ),
    "compliance of zero": (
        lambda c: c.with_part("AoU", compliance_ml_mmhg=0.0),
        "not_positive",
        "AoU",
    ),
    "resistance below zero in one of many": (
        lambda c: c.with_edge("arch", resistance_mmhg_s_ml=np.array([0.1, -0.1])),
        "not_positive",
        "arch",
    ),
    "no heart rate": (lambda c: replace(c, rate_per_min=0.0), "not_positive", "rate_per_min"),
    "no blood": (lambda c: replace(c, volume_ml=-1.0), "not_positive", "volume_ml"),
    "no haemoglobin": (
        lambda c: c.with_blood(haemoglobin_g_dl=0.0),
        "not_positive",
        "haemoglobin_g_dl",
    ),
    "area below zero": (
        lambda c: c.with_area("duct", "opening", -0.1),
        "not_positive",
        "duct, opening",
    ),
    "wall without mass": (lambda c: c.with_part("LV", mass_g=0.0), "not_positive", "LV"),
    "inertance below zero": (
        lambda c: c.with_edge("arch", inertance_mmhg_s2_ml=-1.0),
        "not_positive",
        "arch",
    ),
    "valve with inertance": (
        lambda c: c.with_edge("mitral", inertance_mmhg_s2_ml=0.01),
        "valve_with_inertance",
        "mitral",
    ),
    "inertance of some members": (
        lambda c: c.with_edge("arch", inertance_mmhg_s2_ml=np.array([0.0, 0.1])),
        "inertance_of_some",
        "arch",
    ),
}


@pytest.mark.parametrize("name", WRONG)
def test_wrong_numbers_are_refused_by_name(name: str) -> None:
    """A number that no circulation can have is refused, and the place that is meant is named."""
    change, code, where = WRONG[name]
    with pytest.raises(CircuitError) as refused:
        find_orbit(change(normal_newborn()))
    assert refused.value.code == code
    assert where in refused.value.where


def test_members_of_different_number_are_refused() -> None:
    """Three members of one quantity and two of another are no ensemble."""
    circuit = normal_newborn().with_part("PA", compliance_ml_mmhg=np.full(3, 0.2))
    with pytest.raises(CircuitError, match="members differ"):
        flatten(replace(circuit, rate_per_min=np.full(2, 140.0)))


A, B, C = (Vessel(name=name, compliance_ml_mmhg=1.0) for name in "ABC")


def _way(name: str, start: str, end: str, *, valve: bool = False) -> Edge:
    return Edge(name=name, start=start, end=end, resistance_mmhg_s_ml=1.0, valve=valve)


UNJOINED: dict[str, tuple[tuple[Part, ...], tuple[Edge, ...], str, str]] = {
    "part twice": ((A, B, A), (_way("ab", "A", "B"),), "part_twice", "A"),
    "edge twice": ((A, B), (_way("ab", "A", "B"), _way("ab", "B", "A")), "edge_twice", "ab"),
    "unknown part": ((A, B), (_way("ab", "A", "B"), _way("bx", "B", "X")), "no_such_part", "bx"),
    "edge to itself": (
        (A, B),
        (_way("ab", "A", "B"), _way("aa", "A", "A")),
        "edge_to_itself",
        "aa",
    ),
    "part without edge": ((A, B, C), (_way("ab", "A", "B"),), "dead_end", "C"),
    "no way out": (
        (A, B, C),
        (_way("ab", "A", "B"), _way("bc", "B", "C", valve=True)),
        "dead_end",
        "C",
    ),
}


@pytest.mark.parametrize("name", UNJOINED)
def test_networks_that_do_not_join_are_refused(name: str) -> None:
    """A network with a dead end, a double name or an end in nothing is refused by name."""
    parts, edges, code, where = UNJOINED[name]
    with pytest.raises(CircuitError) as refused:
        small(parts, edges, volume_ml=10.0, period_s=1.0)
    assert refused.value.code == code
    assert refused.value.where == where


def test_a_part_to_watch_must_be_there() -> None:
    """Regulation cannot watch the pressure of a part that is not there."""
    with pytest.raises(CircuitError, match="watched"):
        replace(normal_newborn(), filling_part="LAA")


@pytest.mark.parametrize("ask", ["part", "edge"])
def test_asking_for_what_is_not_there(ask: str) -> None:
    """A name that is not in the circuit is answered by an error that repeats it."""
    with pytest.raises(CircuitError, match="nowhere"):
        getattr(normal_newborn(), ask)("nowhere")


# ---- arrays -------------------------------------------------------------------------------------


def test_closed_places_leak_next_to_nothing() -> None:
    """A duct closed to zero lets less than 0.001 mL/s through at 60 mmHg."""
    loss = quadratic_loss(normal_newborn().edge("duct"))
    assert np.sqrt(60.0 / loss) < 1e-3
    shut = Edge(name="e", start="A", end="B", resistance_mmhg_s_ml=1.0, restrictions=(narrow(0.0),))
    assert quadratic_loss(shut) == pytest.approx(4e-4 / CLOSED_AREA_CM2**2)


def test_narrow_places_in_series_add_their_losses() -> None:
    """Two narrow places one behind the other lose the sum of what each loses."""
    way = Edge(
        name="e",
        start="A",
        end="B",
        resistance_mmhg_s_ml=1.0,
        restrictions=(narrow(0.2), narrow(0.1)),
    )
    assert quadratic_loss(way) == pytest.approx(4e-4 * (1 / 0.2**2 + 1 / 0.1**2))


def test_activation_is_a_share() -> None:
    """Activation stays between none and full, reaches both, and closes over the beat."""
    for curve in activation((VENTRICULAR, ATRIAL), 100):
        assert curve.shape == (101,)
        assert curve.min() == 0.0
        assert curve.max() == pytest.approx(1.0, abs=1e-3)
        assert curve[0] == pytest.approx(curve[-1], abs=1e-12)


# ---- the orbit ----------------------------------------------------------------------------------


@pytest.mark.parametrize("settings", [QUICK, FINE], ids=["quick", "fine"])
@pytest.mark.parametrize("held", [None, HELD], ids=["free", "regulated"])
@pytest.mark.parametrize("name", REFERENCES)
def test_cold_search_is_short(name: str, held: object, settings: Settings) -> None:
    """From nothing the reference newborns settle within sixty beats, with a duct in a hundred."""
    regulation = HELD if held else None
    orbit = find_orbit(REFERENCES[name](), regulation, settings=settings)
    assert orbit.settled.all()
    assert orbit.gap_ml[0] < settings.tolerance_ml
    assert orbit.beats[0] <= (COLD_BEATS_WITH_DUCT if "duct" in name else COLD_BEATS)


@pytest.mark.parametrize("name", REFERENCES)
def test_a_neighbour_settles_in_a_few_beats(name: str) -> None:
    """With lungs and wall changed by a few per cent a warm search takes a dozen beats at most."""
    circuit = REFERENCES[name]()
    before = find_orbit(circuit, HELD)
    lungs = circuit.edge("lungs").resistance_mmhg_s_ml
    near = circuit.with_edge("lungs", resistance_mmhg_s_ml=lungs * 0.97)
    near = near.with_part("LV", mass_g=5.8)
    after = find_orbit(near, HELD, warm=before.warm)
    most = NEIGHBOUR_BEATS_WITH_DUCT if "duct" in name else NEIGHBOUR_BEATS
    assert after.beats[0] <= most


def test_a_start_from_a_stranger_is_refused() -> None:
    """An orbit of other members or other parts is no neighbour to start from."""
    one = find_orbit(normal_newborn())
    two = normal_newborn().with_part("LV", mass_g=np.array([5.0, 6.0]))
    for stranger in (two, two_vessels(period_s=1.0)):
        with pytest.raises(CircuitError, match="start"):
            find_orbit(stranger, warm=one.warm)


def test_steps_of_a_beat_are_those_asked_for() -> None:
    """Quick and fine settings take 150 and 300 steps, no more."""
    assert (QUICK.steps, FINE.steps) == (150, 300)
    assert waveforms(normal_newborn(), settings=FINE).time_s.shape == (300,)


def test_an_orbit_repeats() -> None:
    """A beat started from the orbit's unknowns ends where it began."""
    orbit = find_orbit(normal_newborn(), settings=FINE)
    again = find_orbit(normal_newborn(), settings=FINE, warm=orbit.warm)
    assert again.beats[0] == 1
    assert np.allclose(again.part_readouts, orbit.part_readouts, rtol=1e-6, atol=1e-6)


def test_regulation_holds_what_it_says() -> None:
    """Held are the arterial mean, and the flow or, before it, the filling pressure."""
    held = read(find_orbit(REFERENCES["parallel"](), HELD, settings=FINE))
    assert held.mean_mmhg("AoU")[0] == pytest.approx(HELD.pressure_mmhg, abs=1e-3)
    assert HELD.flow_ml_s is not None
    flow_short = HELD.flow_ml_s - held.systemic_flow_ml_s[0]
    filling_short = HELD.filling_mmhg - held.mean_mmhg("LA")[0]
    assert min(abs(flow_short), abs(filling_short)) < 1e-2
    assert filling_short > -1e-2


def test_bounds_of_regulation_are_kept() -> None:
    """A pressure out of reach leaves the resistance at its bound instead of beyond it."""
    orbit = find_orbit(normal_newborn(), replace(HELD, pressure_mmhg=150.0))
    assert orbit.resistance_factor[0] == pytest.approx(HELD.resistance_high, rel=1e-3)


def test_as_regulated_needs_no_regulation() -> None:
    """The circuit with the found resistance and volume has the same orbit by itself."""
    held = find_orbit(REFERENCES["parallel"](), HELD, settings=FINE)
    alone = find_orbit(held.as_regulated(), settings=FINE)
    assert np.allclose(held.part_readouts, alone.part_readouts, rtol=1e-4, atol=1e-4)


def test_members_do_not_know_each_other() -> None:
    """A member of an ensemble has the orbit that it has alone, whatever its neighbours are."""
    masses = np.linspace(3.0, 9.0, 40)
    many = find_orbit(normal_newborn().with_part("LV", mass_g=masses))
    for member in (0, 17, 39):
        alone = find_orbit(normal_newborn().with_part("LV", mass_g=float(masses[member])))
        assert np.array_equal(many.part_readouts[member], alone.part_readouts[0])


def test_one_core_gives_what_two_give() -> None:
    """The number of threads changes no digit."""
    circuit = normal_newborn().with_part("LV", mass_g=np.linspace(3.0, 9.0, 40))
    one, two = (find_orbit(circuit, settings=Settings(threads=count)) for count in (1, 2))
    assert np.array_equal(one.part_readouts, two.part_readouts)


def test_a_search_cut_short_says_so() -> None:
    """Out of beats, an orbit is refused with its remedy, or left with a status when asked."""
    hasty = Settings(most_beats=3)
    with pytest.raises(NotPeriodic, match="more beats"):
        find_orbit(normal_newborn(), settings=hasty)
    orbit = find_orbit(normal_newborn(), settings=hasty, check=False)
    assert orbit.status[0] == Status.NOT_PERIODIC
    assert not orbit.settled[0]


def test_every_status_has_a_sentence() -> None:
    """Each way a search can end is said in words."""
    assert all(status.sentence for status in Status)


# ---- inertance ----------------------------------------------------------------------------------


def test_light_blood_flows_as_blood_without_weight() -> None:
    """As inertance goes to nothing the orbit goes to the one without."""
    without = find_orbit(pump(), settings=FINE).part_readouts
    heavy = find_orbit(pump(inertance=0.05), settings=FINE).part_readouts
    light = find_orbit(pump(inertance=0.01), settings=FINE).part_readouts
    assert np.abs(light - without).max() < 0.5 * np.abs(heavy - without).max()
    assert np.allclose(light[0, :, 0], without[0, :, 0], rtol=0.01)


def test_blood_too_light_for_the_step_is_refused() -> None:
    """Inertance whose time L/R is far below a step runs away, and the refusal says so."""
    with pytest.raises(NotPeriodic, match="more steps"):
        find_orbit(pump(inertance=1e-3), settings=FINE)


def test_inertance_adds_an_unknown() -> None:
    """A flow with inertance is one more unknown of the search; other networks have none."""
    assert flatten(pump()).unknowns == 4
    assert flatten(pump(inertance=0.01)).unknowns == 5
    assert flatten(normal_newborn()).unknowns == 10


def test_inertance_travels_with_size_and_members() -> None:
    """A larger body has less inertance, and repeating members repeats theirs."""
    assert scaled(two_vessels(inertance=0.2, period_s=1.0), 2.0).edge(
        "way"
    ).inertance_mmhg_s2_ml == pytest.approx(0.1)
    heavy = two_vessels(period_s=1.0).with_edge("way", inertance_mmhg_s2_ml=np.array([0.1, 0.2]))
    wide = repeated(heavy, 2, 2).edge("way").inertance_mmhg_s2_ml
    assert np.array_equal(wide, [0.1, 0.1, 0.2, 0.2])


# ---- waveforms and readings ---------------------------------------------------------------------


def test_waveforms_are_the_beat_of_the_readouts() -> None:
    """Means of the waves are the read-outs; extremes too, but for what lies between steps."""
    circuit = parallel_newborn().with_part("LV", mass_g=np.array([4.0, 6.0]))
    orbit = find_orbit(_septostomy(circuit), HELD, settings=FINE)
    waves = waveforms(orbit, 1)
    for name in ("LV", "RV", "AoU", "PA", "LA"):
        own = orbit.part_readouts[1, circuit.index(name)]
        pressure, volume = waves.pressure_mmhg(name), waves.volume_ml(name)
        assert pressure.mean() == pytest.approx(own[0], rel=1e-6)
        highest = [pressure.max(), -pressure.min(), volume.max(), -volume.min()]
        beyond = own[[1, 2, 3, 4]] * [1, -1, 1, -1] - highest
        assert np.all(beyond >= -1e-6)
        assert np.all(beyond <= 0.1)
    assert waves.volumes_ml.sum(axis=1) == pytest.approx(orbit.volume_ml[1])
    assert waves.flow_ml_s("mitral").min() == 0.0


def test_waveforms_of_a_circuit_find_its_orbit() -> None:
    """Given a circuit alone, the waves are those of its orbit, and they close."""
    waves = waveforms(normal_newborn())
    step = waves.time_s[1]
    assert waves.time_s[-1] + step == pytest.approx(60.0 / float(waves.circuit.rate_per_min))
    gap = np.abs(waves.volumes_ml[0] - waves.volumes_ml[-1]).max()
    assert gap <= np.abs(np.diff(waves.volumes_ml, axis=0)).max()


def test_a_smooth_network_rests_when_nothing_beats() -> None:
    """Two vessels alone come to one pressure, and no flow is left between them."""
    orbit = find_orbit(two_vessels(period_s=1.0), settings=FINE)
    assert orbit.part_readouts[0, :, 0] == pytest.approx([10.0, 10.0], abs=1e-5)
    assert np.abs(orbit.edge_flows_ml_s).max() < 1e-5
    assert find_orbit(smooth()).settled.all()


def test_readings_agree_with_each_other() -> None:
    """Net flow is forward less backward; ratio, gradient and ejection follow from their parts."""
    seen = read(find_orbit(REFERENCES["parallel with duct"](), HELD))
    forward, backward = seen.both_ways_ml_s("duct")
    assert seen.flow_ml_s("duct") == pytest.approx(forward - backward)
    assert seen.pressure_ratio == pytest.approx(seen.systolic_mmhg("LV") / seen.systolic_mmhg("RV"))
    assert seen.atrial_gradient_mmhg == pytest.approx(seen.mean_mmhg("LA") - seen.mean_mmhg("RA"))
    assert 0.0 < seen.ejection_pct("LV")[0] < 100.0
    assert seen.end_diastolic_ml("LV")[0] > 0.0
    assert seen.mass_g("LV") == pytest.approx([seen.circuit.part("LV").mass_g])
    opening = seen.circuit.edge("atrial_defect")
    assert seen.eddy_ml_s("atrial_defect") == pytest.approx(
        opening.eddy_speed_cm_s * opening.restrictions[0].area_cm2
    )
    assert seen.eddy_ml_s("lungs") == pytest.approx([0.0])


def test_need_beyond_delivery_is_met_in_part() -> None:
    """With closed openings two loops cannot feed the body: the share met falls, not below zero."""
    closed = find_orbit(parallel_newborn(), HELD, check=False)
    seen = read(closed).oxygen
    assert 0.0 <= seen.need_met[0] < 0.2
    assert seen.saturation.min() > 0.0


def test_blood_reaches_a_chamber_without_through_flow() -> None:
    """A side chamber that exchanges nothing holds the blood that lies before it."""
    parts = (*normal_newborn().parts[:-1], Vessel(name="pouch", compliance_ml_mmhg=0.1))
    parts = (*parts, normal_newborn().parts[-1])
    neck = _way("neck", "AoU", "pouch")
    circuit = replace(normal_newborn(), parts=parts, edges=(*normal_newborn().edges, neck))
    circuit = circuit.with_edge("neck", resistance_mmhg_s_ml=1e3)
    seen = read(find_orbit(circuit, settings=FINE))
    assert seen.saturation_pct("pouch") == pytest.approx(seen.saturation_pct("AoU"), abs=0.5)


def test_repeating_members_repeats_every_number() -> None:
    """Each member stands several times in a row, and each copy has the member's orbit."""
    masses = np.array([4.0, 6.0])
    circuit = _septostomy(parallel_newborn()).with_part("LV", mass_g=masses)
    circuit = replace(circuit, blood=replace(BLOOD, haemoglobin_g_dl=np.array([13.0, 18.0])))
    one, wide = read(find_orbit(circuit)), read(find_orbit(repeated(circuit, 2, 3)))
    assert wide.orbit.members == 6
    assert np.array_equal(wide.systolic_mmhg("LV"), np.repeat(one.systolic_mmhg("LV"), 3))
    assert np.allclose(wide.saturation_pct("AoU"), np.repeat(one.saturation_pct("AoU"), 3))


def test_a_free_orbit_keeps_its_own_volume_wherever_it_starts() -> None:
    """Started from a regulated neighbour, an unregulated orbit is the one a cold start finds."""
    circuit = replace(_septostomy(parallel_newborn()), volume_ml=85.0)
    held = find_orbit(circuit, HELD)
    assert held.volume_ml[0] != pytest.approx(circuit.volume_ml, rel=0.05)
    cold, warm = find_orbit(circuit), find_orbit(circuit, warm=held.warm)
    assert warm.volume_ml == pytest.approx(circuit.volume_ml)
    assert warm.resistance_factor == pytest.approx(1.0)
    assert np.allclose(warm.part_readouts, cold.part_readouts, atol=0.05)
