"""The loops picture: true widths, every number written, nothing overlapping, nothing hidden."""

from __future__ import annotations

import re

import pytest
import vl_convert
from hypothesis import given, settings
from rooms.draw_samples import ATRIAL, DUCTAL, any_loops, loops
from rooms.svg_reading import BRIEF_PICTURE_MM, faults, named, root_of, smallest_points

from inseries.base.errors import OutputError
from inseries.draw.lettering import font_folder
from inseries.draw.loops_plan import flows_along
from inseries.draw.ribbons import ribbon_svg


def _texts(svg: str) -> list[str]:
    return [element.text or "" for element in named(root_of(svg), "text")]


def _spans(svg: str, group: str) -> list[tuple[float, float]]:
    """Width and height of every filled straight piece in a group."""
    holder = next(e for e in named(root_of(svg), "g") if e.get("id") == f"loops-{group}")
    boxes = [
        re.fullmatch(r"M ([\d.]+) ([\d.]+) H ([\d.]+) V ([\d.]+) H [\d.]+ Z", e.get("d", ""))
        for e in holder
        if e.get("stroke") is None
    ]
    return [(float(m[3]) - float(m[1]), float(m[4]) - float(m[2])) for m in boxes if m is not None]


@pytest.mark.parametrize("compact", [False, True])
@pytest.mark.parametrize("topology", ["parallel", "series"])
def test_every_saturation_and_pressure_is_written(topology: str, compact: bool) -> None:
    """Each station's saturation and pressure, and the hand's and the foot's saturation, stand."""
    view = loops(topology=topology, crossings=(ATRIAL, DUCTAL))
    words = _texts(ribbon_svg(view, compact=compact))
    for station in view.stations:
        assert station.name in words
        assert f"{station.saturation_pct:.0f} %" in words
    pressures = [line for line in words if "68/44 (53)" in line]
    assert len(pressures) == len(view.stations)
    assert any("right hand 71 %" in line for line in words)
    assert any("foot 77 %" in line for line in words)


def test_every_flow_is_written() -> None:
    """Both loops, the effective flow and both ways of each crossing stand as numbers."""
    words = _texts(ribbon_svg(loops(crossings=(ATRIAL, DUCTAL))))
    assert {"240 mL/min/kg", "330 mL/min/kg", "112", "205", "115", "7", "97"} <= set(words)
    assert "and 21 mixing each way" in words
    assert "atrial crossing, 6.5 mm" in words


@pytest.mark.parametrize("compact", [False, True])
def test_width_is_proportional_to_flow(compact: bool) -> None:
    """The lung ribbon is to the body ribbon as lung flow to body flow, and to the scale bar."""
    svg = ribbon_svg(loops(body=160, lung=320, upper=80), compact=compact)
    body = {round(height, 2) for width, height in _spans(svg, "body-loop") if width > 130}
    (lung,) = {round(height, 2) for width, height in _spans(svg, "lung-loop") if width > 130}
    assert sorted(lung / height for height in body) == pytest.approx([2, 4], rel=2e-3)
    legend = next(e for e in named(root_of(svg), "g") if e.get("id") == "loops-legend")
    bar = float(legend[0].get("height", "0"))
    said = int(re.findall(r"as wide as (\d+) mL/min/kg", svg)[0])
    assert lung / bar == pytest.approx(320 / said, rel=2e-3)


@pytest.mark.parametrize("flow", [50, 100, 200, 400])
def test_arrow_is_as_wide_as_its_flow(flow: float) -> None:
    """A crossing's arrow has the same scale as the ribbons."""
    crossing = type(ATRIAL)(
        site="atrial",
        size_mm=None,
        left_to_right_ml_min_kg=flow,
        right_to_left_ml_min_kg=0,
        note="",
    )
    svg = ribbon_svg(loops(crossings=(crossing,), body=100, lung=500, upper=50))
    bridges = next(e for e in named(root_of(svg), "g") if e.get("id") == "loops-bridges")
    path = next(e.get("d", "") for e in bridges if e.tag.endswith("path"))
    numbers = [float(n) for n in re.findall(r"-?[\d.]+", path)]
    shaft = numbers[-1] - numbers[1]
    said = int(re.findall(r"as wide as (\d+) mL/min/kg", svg)[0])
    legend = next(e for e in named(root_of(svg), "g") if e.get("id") == "loops-legend")
    assert shaft == pytest.approx(flow * float(legend[0].get("height", "0")) / said, rel=5e-3)


def test_flow_is_kept_along_the_way() -> None:
    """What enters at a crossing flows on: the duct takes back what the atrial crossing gave."""
    flows = flows_along(loops(crossings=(ATRIAL, DUCTAL)))
    assert flows.right_mid == 240 + 205 - 115
    assert flows.right_out == pytest.approx(flows.upper + flows.before_duct)
    assert flows.left_out + flows.aorta_to_lung - flows.lung_to_aorta == pytest.approx(330)


def test_duct_runs_by_place_not_by_side() -> None:
    """From the aorta to the lungs is right to left in parallel and left to right in series."""
    parallel = flows_along(loops(crossings=(DUCTAL,)))
    series = flows_along(loops(topology="series", crossings=(DUCTAL,)))
    assert (parallel.aorta_to_lung, parallel.lung_to_aorta) == (97, 7)
    assert (series.aorta_to_lung, series.lung_to_aorta) == (7, 97)


def test_series_is_one_ring() -> None:
    """Only in the series topology do the great arteries cross over."""
    assert "loops-great-arteries" in ribbon_svg(loops(topology="series"))
    assert "loops-great-arteries" not in ribbon_svg(loops())


def test_two_closed_loops_are_said_in_words() -> None:
    """Without any crossing the picture says so."""
    assert "no open crossing" in _texts(ribbon_svg(loops()))


def test_missing_station_is_refused() -> None:
    """The picture does not guess a saturation that it was not given."""
    view = loops()
    short = type(view)(
        **{name: getattr(view, name) for name in view.__slots__ if name != "stations"},
        stations=view.stations[1:],
    )
    with pytest.raises(OutputError) as caught:
        ribbon_svg(short)
    assert caught.value.value == "SV"


def test_number_that_is_not_finite_is_refused() -> None:
    """A hole in the data never becomes a place on the page."""
    with pytest.raises(OutputError) as caught:
        ribbon_svg(loops(body=float("nan")))
    assert caught.value.code == "not_finite"


@pytest.mark.parametrize("compact", [False, True])
@settings(max_examples=80)
@given(any_loops())
def test_any_loops_can_be_drawn(compact: bool, view: object) -> None:
    """Whatever the numbers, the picture is well formed, and no text overlaps or is cut."""
    assert not faults(ribbon_svg(view, compact=compact), "any")  # type: ignore[arg-type]


def test_compact_letters_can_be_read_on_paper() -> None:
    """At the brief's width no letter of the compact picture prints smaller than 6.5 points."""
    for topology in ("parallel", "series"):
        svg = ribbon_svg(loops(topology=topology, crossings=(ATRIAL, DUCTAL)), compact=True)
        assert smallest_points(svg, BRIEF_PICTURE_MM) >= 6.5


def test_text_is_really_drawn() -> None:
    """The rendered picture changes when its text is taken out: no font is missing."""
    vl_convert.register_font_directory(str(font_folder()))
    svg = ribbon_svg(loops(crossings=(ATRIAL,)))
    bare = re.sub(r"<text.*?</text>", "", svg)
    assert vl_convert.svg_to_png(svg, scale=1) != vl_convert.svg_to_png(bare, scale=1)
