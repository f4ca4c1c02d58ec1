"""The norms room: what is usual, and what it refuses to say."""

from __future__ import annotations

import subprocess
import sys

import pytest

from inseries.base.errors import NormsError
from inseries.base.numbers import Provenance
from inseries.base.sources import bibliography, citation
from inseries.norms import blood, growth, oxygen, pressure, surface, thresholds, zscores


def test_weight_beyond_three_deviations_is_refused() -> None:
    """A weight beyond three deviations has no z-score, since the equation does not hold there."""
    with pytest.raises(NormsError) as refusal:
        growth.weight_z("female", 3, 35.0)
    assert refusal.value.code == "beyond_three_deviations"


@pytest.mark.parametrize("age_days", [-0.1, 1826.5])
def test_age_outside_growth_is_refused(age_days: float) -> None:
    """Before birth and after day 1826 there is no growth standard."""
    with pytest.raises(NormsError) as refusal:
        growth.length_cm("male", age_days)
    assert refusal.value.code == "age_outside_table"


def test_last_day_of_growth_is_in_the_table() -> None:
    """The last day itself can be asked for."""
    assert growth.weight_kg("male", growth.LAST_DAY) == pytest.approx(18.3352)


def test_no_line_between_lying_and_standing() -> None:
    """Half a day after day 730 a child is still as long as lying: tables are not mixed."""
    assert growth.length_cm("male", 730.5) == growth.length_cm("male", 730)
    assert growth.length_cm("male", 731) < growth.length_cm("male", 730)


def test_sex_unknown_is_refused() -> None:
    """Growth asks for a girl or a boy, and says so."""
    with pytest.raises(NormsError) as refusal:
        growth.weight_kg("unknown", 3)  # type: ignore[arg-type]
    assert refusal.value.code == "sex_unknown"


def test_surface_formula_is_named_or_refused() -> None:
    """An unknown formula is refused, and the refusal lists the known ones."""
    with pytest.raises(NormsError, match="haycock"):
        surface.body_surface_m2(3.5, 50.0, "guess")


def test_du_bois_is_seven_per_cent_low_at_birth() -> None:
    """The formula matters at birth: Du Bois lies 7 % below Haycock."""
    haycock = surface.body_surface_m2(3.3464, 49.8842)
    du_bois = surface.body_surface_m2(3.3464, 49.8842, "du-bois")
    assert du_bois / haycock == pytest.approx(0.93, abs=0.005)


def test_every_z_carries_its_method_and_reference() -> None:
    """A Z-score says by which method and against which reference it was made."""
    echo = zscores.echo_z("lv_mass_g", 7.9, 0.22)
    cmr = zscores.newborn_cmr_z("lv_mass_g_m2", 26.4, 3)
    assert (echo.method, echo.reference_key) == ("echo-2d", "lopez2017")
    assert (cmr.method, cmr.reference_key) == ("cmr", "jhaveri2023")


@pytest.mark.parametrize("method", ["cmr", "echo-m-mode", "clinical-estimate"])
def test_echo_mass_takes_no_other_method(method: str) -> None:
    """A mass by another method gets no Z-score from the echo reference."""
    with pytest.raises(NormsError) as refusal:
        zscores.echo_z("lv_mass_g", 7.9, 0.22, method)
    assert refusal.value.code == "other_method"


def test_wall_by_m_mode_is_the_same_method() -> None:
    """A wall along one line may come from M-mode."""
    assert zscores.echo_z("lv_wall_mm", 3.1, 0.22, "echo-m-mode").method == "echo-m-mode"


def test_cmr_reference_ends_after_a_week() -> None:
    """On day eight there is no CMR reference any more, and none is stretched."""
    with pytest.raises(NormsError) as refusal:
        zscores.newborn_cmr_z("lv_mass_g_m2", 26.4, 8)
    assert refusal.value.code == "age_outside_table"


def test_echo_is_not_scored_by_cmr() -> None:
    """An echo value gets no Z-score from the CMR reference."""
    with pytest.raises(NormsError) as refusal:
        zscores.newborn_cmr_z("lv_mass_g_m2", 35.0, 3, "echo-2d")
    assert refusal.value.code == "other_method"


def test_echo_and_cmr_mass_are_not_interchangeable() -> None:
    """The mass of 35 g/m² is about normal by echo and three deviations up by CMR."""
    echo = zscores.echo_z("lv_mass_g", 35.0 * 0.2189, 0.2189)
    cmr = zscores.newborn_cmr_z("lv_mass_g_m2", 35.0, 3)
    assert echo.z == pytest.approx(-0.20, abs=0.01)
    assert cmr.z == pytest.approx(3.07, abs=0.01)


def test_unknown_item_names_the_nearest() -> None:
    """A misspelt item is refused with the nearest known one."""
    with pytest.raises(NormsError, match="lv_mass_g"):
        zscores.echo_z("lv_mas_g", 7.9, 0.22)


def test_grams_for_square_metres_are_refused() -> None:
    """A body surface that no child has is refused."""
    with pytest.raises(NormsError) as refusal:
        zscores.echo_z("lv_mass_g", 7.9, 3.5)
    assert refusal.value.code == "surface_outside"


@pytest.mark.parametrize("name", ["wall_4_mm", "pressure_ratio_0_83", "predicted_stress_120"])
def test_thresholds_of_banded_ventricles_stay_there(name: str) -> None:
    """Limits found in banded ventricles are refused for an unprepared newborn."""
    assert thresholds.threshold(name, "prepared_after_band").name == name
    with pytest.raises(NormsError) as refusal:
        thresholds.threshold(name, "primary_neonatal")
    assert refusal.value.code == "other_population"


def test_normal_newborn_wall_lies_below_the_banded_limit() -> None:
    """Misusing the wall of 4 mm would condemn a normal newborn: hence the population."""
    normal = zscores.echo_z("lv_wall_mm", 4.0, 0.2189).expected
    assert normal < thresholds.threshold("wall_4_mm", "prepared_after_band").limit.value


def test_thresholds_take_only_their_method() -> None:
    """A CMR mass is not held against an echo limit."""
    ask = {"population": "primary_neonatal"}
    assert thresholds.meets("mass_35_g_m2", 36.0, method="echo-2d", **ask)
    assert not thresholds.meets("mass_35_g_m2", 34.9, method="echo-2d", **ask)
    with pytest.raises(NormsError) as refusal:
        thresholds.meets("mass_35_g_m2", 36.0, method="cmr", **ask)
    assert refusal.value.code == "other_method"


def test_a_stress_limit_is_an_upper_one() -> None:
    """A wall stress is good below its limit, not above."""
    ask = {"population": "prepared_after_band", "method": "derived"}
    assert thresholds.meets("predicted_stress_120", 110.0, **ask)
    assert not thresholds.meets("predicted_stress_120", 151.0, **ask)


def test_threshold_text_names_population_and_doubt() -> None:
    """In words a threshold says in whom it was found, and that one is from memory."""
    banded = thresholds.threshold("wall_4_mm", "prepared_after_band").text
    remembered = thresholds.threshold("mass_35_g_m2", "primary_neonatal").text
    assert "banded ventricles" in banded
    assert "from memory" in remembered
    assert "from memory" not in banded


def test_thresholds_for_one_population() -> None:
    """Asked by population and quantity, only those come back."""
    found = thresholds.thresholds_for("cctga", "lv_mass_g_m2")
    assert [item.name for item in found] == ["cctga_mass_45_g_m2"]
    with pytest.raises(NormsError):
        thresholds.thresholds_for("everyone")


def test_unknown_threshold_is_refused() -> None:
    """An unknown threshold is refused with the list of known ones."""
    with pytest.raises(NormsError, match="wall_4_mm"):
        thresholds.threshold("wall", "cctga")


def test_between_ages_a_number_is_derived() -> None:
    """On an age of the table the row is published; between two it is derived and says from what."""
    assert blood.haemoglobin_g_dl(7).provenance is Provenance.PUBLISHED
    between = blood.haemoglobin_g_dl(4.5)
    assert between.value == pytest.approx(18.0)
    assert between.provenance is Provenance.DERIVED
    assert "dallman" in between.because


@pytest.mark.parametrize(
    "ask",
    [
        blood.haematocrit_pct,
        blood.fetal_haemoglobin,
        oxygen.consumption_ml_min_kg,
        oxygen.consumption_at_catheter_ml_min_m2,
        pressure.arterial_pressure,
        pressure.output_ml_min_kg,
        pressure.duct_mm,
        pressure.pulmonary_mean_mmhg,
    ],
)
def test_no_reference_is_stretched_to_school_age(ask: object) -> None:
    """At ten years every newborn table refuses."""
    with pytest.raises(NormsError):
        ask(3650.0)  # type: ignore[operator]


def test_oxygen_need_is_a_spread() -> None:
    """The need of one newborn is never a constant: its spread holds both published values."""
    need = oxygen.consumption_ml_min_kg(2)
    assert need.sd is not None
    heart_disease = 133.0 * 0.2244 / 3.5
    assert abs(heart_disease - need.value) < 1.645 * need.sd


def test_oxygen_need_at_catheter_by_class() -> None:
    """At catheterisation there is one value to three months and one after."""
    assert oxygen.consumption_at_catheter_ml_min_m2(20).value == 133.0
    assert oxygen.consumption_at_catheter_ml_min_m2(200).value == 171.0


def test_lafarge_is_blocked_under_three_years() -> None:
    """The equation made from three years on is refused for a baby."""
    with pytest.raises(NormsError):
        oxygen.lafarge_ml_min_m2("female", 0.02, 140)


def test_a_transfusion_dilutes_fetal_haemoglobin() -> None:
    """Thirty mL/kg of packed cells in a child of 90 mL/kg at 15 g/dL: 600 of 1350 are a donor's."""
    share = blood.fetal_share_after_transfusion(0.8, 30.0, 15.0)
    assert share == pytest.approx(0.8 * (1.0 - 600.0 / 1350.0))
    with pytest.raises(NormsError):
        blood.fetal_share_after_transfusion(0.8, 30.0, 0.0)


def test_every_reference_is_in_the_bibliography() -> None:
    """Each published number of the room cites a listed source."""
    cited = {item.limit.because for item in thresholds.thresholds()}
    published = {
        t.limit.because for t in thresholds.thresholds() if "published" in t.limit.provenance
    }
    assert published <= set(bibliography())
    assert cited - published == {"quoted for switches beyond three weeks; not found in print"}


def test_citation_says_what_is_from_memory() -> None:
    """A citation with an unconfirmed author or year says so; a confirmed one does not."""
    assert citation("jhaveri2023") == "Jhaveri et al. 2023, J Cardiovasc Magn Reson 25:26"
    assert "from memory" in citation("nakazawa1988")


def test_unknown_key_is_refused() -> None:
    """A key that is not listed is refused."""
    with pytest.raises(Exception, match="not in the bibliography"):
        citation("nobody1900")


def test_norms_start_quickly() -> None:
    """Importing the room loads neither numpy nor the packages that carry the growth tables."""
    code = (
        "import sys; from inseries.norms import growth, oxygen, thresholds, zscores;"
        "from inseries.norms import body, growth_scores, oxygen_equations, size_scores, vitals;"
        "growth_scores.growth_scores('weight', 'male', 3, 3.4);"
        "print({'numpy', 'numba', 'pygrowup'} & set(sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "set()"
