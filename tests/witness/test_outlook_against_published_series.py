"""Decades after a switch, against published series.

Who: three ways to rebuild the lung artery (Japan, abstract): more than 30 mmHg in 0 of 17 direct
joins, 2 of 14 with fresh autologous and 4 of 14 with equine pericardium; Munich (Cleuziou 2019,
abstract, 688 operated) and 23 centres (Williams, abstract, 514 newborns): free of reintervention;
Boston (Schwartz 2004, abstract, 335 children): root below Z 3. Kept to judge: no constant of the
outlook was fitted to any of them.

Tolerance: for counts of 14 and 17 the 95 % confidence of the count, computed here by Clopper and
Pearson; for curves the printed error or one standard error of the count. A series does not tell
its repairs one by one: a curve counts as held where it lies in our band over repairs and patch
shares, or over published courses of the root. The patch share of the three ways was not read; two
thirds, as where whole sinuses are cut out, were supposed after a first look with two small buttons,
which gave 3 % for xenograft (a test below keeps that in sight).
"""

from __future__ import annotations

import pytest
from scipy.stats import beta
from witness.situations import ours

WIDE_START = "one root in six begins beyond Z 3 here; the series has its own table of Z"
STEEP_FALL = "no published pace of Z falls as steeply as that series does from 5 to 10 years"


def _confidence(k: int, n: int) -> tuple[float, float]:
    """Clopper and Pearson's 95 % interval of a count, %."""
    low = 0.0 if k == 0 else float(beta.ppf(0.025, k, n - k + 1))
    return 100.0 * low, 100.0 * float(beta.ppf(0.975, k + 1, n - k))


@pytest.mark.parametrize(
    ("measure", "k", "n"),
    [
        ("above_30_direct_pct", 0, 17),
        ("above_30_fresh_pct", 2, 14),
        ("above_30_xenograft_pct", 4, 14),
    ],
)
def test_stenosis_by_technique(measure: str, k: int, n: int) -> None:
    """Our share above 30 mmHg lies in the confidence of the published count."""
    low, high = _confidence(k, n)
    assert low <= ours("late_outcome")[measure] <= high


def test_techniques_keep_their_order() -> None:
    """Xenograft does worst; its share follows from geometry and growth, not from a table."""
    told = ours("late_outcome")
    assert told["above_30_xenograft_pct"] > told["above_30_fresh_pct"]
    assert told["above_30_xenograft_pct"] > told["above_30_direct_pct"]


def test_small_buttons_would_not_explain_the_series() -> None:
    """With a share of two small buttons xenograft stays below the published interval: 3 %."""
    from inseries.desk.experiments import late_outcome as series
    from inseries.outlook import crossing, frame_of

    frame = frame_of(
        "male",
        z=0.0,
        operation_days=series.OPERATION_DAYS,
        draws=series.DRAWS,
        seed=series.SEED,
        digest=series.DIGEST,
    )
    xenograft = series.repairs(frame)[0][-1]
    share = 100.0 * float(crossing(xenograft.site, 30.0)[frame.at(10.0)])
    assert share < _confidence(4, 14)[0]


def test_gradient_after_a_native_join() -> None:
    """Within one published SD of 22.5 mmHg (SD 5), 5.5 years after a join of native tissue."""
    assert ours("late_outcome")["limited_button_mmhg"] == pytest.approx(22.5, abs=5.0)


@pytest.mark.parametrize(
    ("measure", "published", "error"),
    [
        ("right_1_y_pct", 96.0, 1.0),
        ("right_10_y_pct", 89.0, 1.0),
        ("right_25_y_pct", 83.0, 2.0),
        ("right_chss_10_y_pct", 83.0, 1.7),
    ],
)
def test_freedom_from_right_sided_reintervention(
    measure: str, published: float, error: float
) -> None:
    """The published freedom lies in our band, or no further from it than its own error."""
    assert ours("late_outcome")[measure] == pytest.approx(published, abs=error)


def test_root_at_five_years() -> None:
    """82 % below Z 3 at five years lies within one standard error of our band."""
    assert ours("late_outcome")["root_5_y_pct"] == pytest.approx(82.0, abs=2.1)


@pytest.mark.xfail(strict=True, reason=WIDE_START)
@pytest.mark.parametrize(
    ("measure", "published", "error"), [("root_1_y_pct", 97.0, 0.9), ("root_2_y_pct", 92.0, 1.5)]
)
def test_root_in_the_first_years(measure: str, published: float, error: float) -> None:
    """97 and 92 % below Z 3 at one and two years."""
    assert ours("late_outcome")[measure] == pytest.approx(published, abs=error)


@pytest.mark.xfail(strict=True, reason=STEEP_FALL)
def test_root_at_ten_years() -> None:
    """51 % below Z 3 at ten years."""
    assert ours("late_outcome")["root_10_y_pct"] == pytest.approx(51.0, abs=2.7)
