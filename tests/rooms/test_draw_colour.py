"""The saturation scale: even, rising in lightness, told apart by colour-blind readers."""

from __future__ import annotations

from itertools import pairwise
from math import dist

import pytest

from inseries.draw.colour import hex_of, ink_on, lab_of, saturation_colour

# Machado, Oliveira and Fernandes 2009, severity 1.0, on linear light; as in public programs.
BLIND = {
    "deuteranopia": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "protanopia": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
}
PCTS = range(20, 101, 5)
# Differences in OKLab; 0.02 is about what a trained eye tells apart side by side.
NOTICED = 0.02


def _linear(colour: str) -> list[float]:
    shares = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    return [s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares]


def _hex(linear: list[float]) -> str:
    kept = [min(1.0, max(0.0, x)) for x in linear]
    curved = [12.92 * x if x <= 0.0031308 else 1.055 * x ** (1 / 2.4) - 0.055 for x in kept]
    return "#" + "".join(f"{round(255 * x):02x}" for x in curved)


def _seen(colour: str, kind: str) -> str:
    light = _linear(colour)
    return _hex([sum(m * x for m, x in zip(row, light, strict=True)) for row in BLIND[kind]])


def _luminance(colour: str) -> float:
    red, green, blue = _linear(colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_lightness_rises_with_saturation() -> None:
    """A grey print keeps the order: each five points are lighter than the last."""
    lights = [_luminance(saturation_colour(pct)) for pct in PCTS]
    assert all(b > a for a, b in pairwise(lights))


def test_equal_steps_look_equal() -> None:
    """Steps of five points are equal in OKLab, but for what eight bits a channel round away."""
    labs = [lab_of(saturation_colour(pct)) for pct in PCTS]
    steps = [dist(a, b) for a, b in pairwise(labs)]
    assert max(steps) / min(steps) < 1.15


@pytest.mark.parametrize("kind", sorted(BLIND))
def test_colour_blind_readers_tell_five_points_apart(kind: str) -> None:
    """Each five points remain a visible and rising step under simulated colour blindness."""
    labs = [lab_of(_seen(saturation_colour(pct), kind)) for pct in PCTS]
    assert all(dist(a, b) > NOTICED for a, b in pairwise(labs))
    assert all(b[0] > a[0] for a, b in pairwise(labs))


def test_scale_stays_put_beyond_its_ends() -> None:
    """Outside 20 to 100 % the end of the scale is given, not a colour of its own."""
    assert saturation_colour(3) == saturation_colour(20)
    assert saturation_colour(101) == saturation_colour(100)


def test_oklab_of_known_colours() -> None:
    """White, and pure red as the author of OKLab prints it, come out as published."""
    assert lab_of("#ffffff") == pytest.approx((1, 0, 0), abs=1e-3)
    assert lab_of("#ff0000") == pytest.approx((0.628, 0.225, 0.126), abs=1e-3)


@pytest.mark.parametrize("pct", PCTS)
def test_there_and_back(pct: int) -> None:
    """A colour comes back from OKLab as it went."""
    assert hex_of(lab_of(saturation_colour(pct))) == saturation_colour(pct)


@pytest.mark.parametrize("pct", range(20, 101))
def test_marks_stand_out_on_the_ribbon(pct: int) -> None:
    """Arrowheads on the ribbon have at least the contrast that signs need, 3 to 1."""
    mark, ground = _luminance(ink_on(pct)), _luminance(saturation_colour(pct))
    high, low = max(mark, ground), min(mark, ground)
    assert (high + 0.05) / (low + 0.05) >= 3
