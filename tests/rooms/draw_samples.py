"""Invented views for the tests of pictures; no baby stands behind them."""

from __future__ import annotations

from hypothesis import strategies as st

from inseries.draw.views import (
    Crossing,
    LoopsView,
    Mark,
    PublishedSpan,
    Station,
    Tier,
    WindowView,
)

NAMES = {
    "SV": "body veins",
    "RA": "right atrium",
    "RV": "right ventricle",
    "AoU": "aorta (arms, head)",
    "AoD": "aorta (legs)",
    "PA": "lung artery",
    "PV": "lung veins",
    "LA": "left atrium",
    "LV": "left ventricle",
}
PRESSURES = ("", "6", "68/44 (53)", "120/100 (110)")
WORDS = st.text(alphabet="abcdefghij klm <>&\"'°→漢", max_size=60)


def loops(
    pcts: tuple[float, ...] = (52, 74, 73, 72, 76, 86, 98, 88, 87),
    *,
    topology: str = "parallel",
    crossings: tuple[Crossing, ...] = (),
    body: float = 240,
    lung: float = 330,
    upper: float | None = 125,
) -> LoopsView:
    """One invented pair of loops."""
    stations = tuple(
        Station(name=name, code=code, saturation_pct=pct, pressure_text="68/44 (53)")
        for (code, name), pct in zip(NAMES.items(), pcts, strict=True)
    )
    return LoopsView(
        title="Day 9",
        topology=topology,
        stations=stations,
        crossings=crossings,
        body_flow_ml_min_kg=body,
        lung_flow_ml_min_kg=lung,
        effective_flow_ml_min_kg=112,
        upper_saturation_pct=71,
        lower_saturation_pct=77,
        sentence="Two loops side by side.",
        figure_id="loops",
        upper_flow_ml_min_kg=upper,
    )


ATRIAL = Crossing(
    site="atrial",
    size_mm=6.5,
    left_to_right_ml_min_kg=205,
    right_to_left_ml_min_kg=115,
    note="",
    eddy_ml_min_kg=21,
)
DUCTAL = Crossing(
    site="ductal", size_mm=2.8, left_to_right_ml_min_kg=7, right_to_left_ml_min_kg=97, note=""
)

flows = st.one_of(st.just(0.0), st.floats(0, 600))
saturations = st.floats(15, 100)


@st.composite
def any_loops(draw: st.DrawFn) -> LoopsView:
    """Any loops that a computation might hand over, conserved or not."""
    sites = draw(st.sets(st.sampled_from(["atrial", "ventricular", "ductal"])))
    crossings = tuple(
        Crossing(
            site=site,
            size_mm=draw(st.none() | st.floats(0.1, 15)),
            left_to_right_ml_min_kg=draw(flows),
            right_to_left_ml_min_kg=draw(flows),
            note=draw(st.just("") | WORDS),
            eddy_ml_min_kg=draw(st.just(0.0) | st.floats(0, 200)),
        )
        for site in sorted(sites)
    )
    stations = tuple(
        Station(
            name=name,
            code=code,
            saturation_pct=draw(saturations),
            pressure_text=draw(st.sampled_from(PRESSURES)),
        )
        for code, name in NAMES.items()
    )
    return LoopsView(
        title=draw(WORDS),
        topology=draw(st.sampled_from(["parallel", "series"])),
        stations=stations,
        crossings=crossings,
        body_flow_ml_min_kg=draw(flows),
        lung_flow_ml_min_kg=draw(flows),
        effective_flow_ml_min_kg=draw(flows),
        upper_saturation_pct=draw(saturations),
        lower_saturation_pct=draw(saturations),
        sentence=draw(st.text(alphabet="abc defgh", max_size=400)),
        figure_id="any",
        upper_flow_ml_min_kg=draw(st.none() | flows),
    )


def window(**changes: object) -> WindowView:
    """One invented window."""
    fields: dict[str, object] = {
        "title": "How late?",
        "days": (9.0, 20.0, 40.0, 60.0),
        "tiers": (
            Tier(
                name="survivable",
                chance=(0.97, 0.93, 0.6, 0.22),
                low=(0.9, 0.85, 0.4, 0.1),
                high=(0.99, 0.97, 0.8, 0.4),
                meaning="carries the body, if need be with support",
            ),
            Tier(
                name="comfortable",
                chance=(0.9, 0.6, 0.1, 0.01),
                low=(0.8, 0.4, 0.0, 0.0),
                high=(0.95, 0.8, 0.3, 0.05),
            ),
        ),
        "horizon_day": 60.0,
        "marks": (
            Mark(day=0.1, label="septostomy", kind="event"),
            Mark(day=9, label="echo", kind="reading"),
        ),
        "published": (
            PublishedSpan(
                label="invented series, n = 19", low_day=22, high_day=125, source_text="invented"
            ),
        ),
        "cost_lines": ("Invented odds rise with each day.",),
        "sentence": "A sentence.",
        "figure_id": "window",
    }
    return WindowView(**(fields | changes))  # type: ignore[arg-type]


@st.composite
def any_window(draw: st.DrawFn) -> WindowView:
    """Any window that a computation might hand over."""
    days = tuple(sorted(draw(st.sets(st.floats(0, 200), min_size=2, max_size=16))))
    shares = st.lists(st.floats(0, 1), min_size=len(days), max_size=len(days)).map(tuple)
    tiers = tuple(
        Tier(name=n, chance=draw(shares), low=draw(shares), high=draw(shares), meaning=draw(WORDS))
        for n in ("survivable", "comfortable")
    )
    kinds = st.sampled_from(["reading", "event"])
    marks = st.builds(Mark, day=st.floats(0, 200), label=WORDS, kind=kinds)
    spans = st.builds(
        PublishedSpan,
        label=WORDS,
        low_day=st.floats(0, 100),
        high_day=st.floats(100, 400),
        source_text=WORDS,
    )
    return window(
        days=days,
        tiers=tiers,
        horizon_day=draw(st.floats(1, 200)),
        marks=tuple(draw(st.lists(marks, max_size=8))),
        published=tuple(draw(st.lists(spans, max_size=4))),
        cost_lines=tuple(draw(st.lists(WORDS.filter(str.strip), min_size=1, max_size=3))),
        figure_id="any",
    )
