"""One colour for each saturation, even to the eye and safe for colour-blind readers.

The scale runs from deep ink at 20 % through plum and rose to apricot at 100 %. Lightness rises
all the way, so a grey print keeps the order; equal steps of saturation are equal steps in OKLab,
so a gradient shows no false edges. The number is always written beside the colour.
"""

from __future__ import annotations

from bisect import bisect_left
from functools import cache, lru_cache
from itertools import pairwise
from math import dist

LOW_PCT = 20.0  # chosen: lowest saturation that the scale tells apart
HIGH_PCT = 100.0  # chosen: highest saturation

# chosen: ink, plum, rose, apricot; lightness rises evenly, hue turns one way only
ANCHORS = ("#1d2150", "#5c3072", "#a34a78", "#dd7668", "#f4b56b")

STEPS = 256  # chosen: steps along the anchors when measuring their length in OKLab

# published: ottosson2020
TO_CONES = (
    (0.4122214708, 0.5363325363, 0.0514459929),
    (0.2119034982, 0.6806995451, 0.1073969566),
    (0.0883024619, 0.2817188376, 0.6299787005),
)
# published: ottosson2020
TO_LAB = (
    (0.2104542553, 0.7936177850, -0.0040720468),
    (1.9779984951, -2.4285922050, 0.4505937099),
    (0.0259040371, 0.7827717662, -0.8086757660),
)
# published: ottosson2020
FROM_LAB = (
    (1.0, 0.3963377774, 0.2158037573),
    (1.0, -0.1055613458, -0.0638541728),
    (1.0, -0.0894841775, -1.2914855480),
)
# published: ottosson2020
FROM_CONES = (
    (4.0767416621, -3.3077115913, 0.2309699292),
    (-1.2684380046, 2.6097574011, -0.3413193965),
    (-0.0041960863, -0.7034186147, 1.7076147010),
)

Triple = tuple[float, float, float]


def saturation_colour(saturation_pct: float) -> str:
    """The colour of one saturation.

    Parameters
    ----------
    saturation_pct : float, %; outside 20 to 100 the end of the scale is given

    Returns
    -------
    str, ``"#rrggbb"``
    """
    share = (saturation_pct - LOW_PCT) / (HIGH_PCT - LOW_PCT)
    return _step_of_scale(round(SHADES * min(1.0, max(0.0, share))))


# chosen: colours told apart along the scale, a tenth of a percent each: finer than a screen's
SHADES = 800


@lru_cache(maxsize=SHADES + 1)
def _step_of_scale(step: int) -> str:
    return hex_of(_along(step / SHADES))


def ink_on(saturation_pct: float) -> str:
    """White or near-black, whichever reads better upon the colour of this saturation."""
    # chosen: below this OKLab lightness white has the higher contrast
    return "#ffffff" if lab_of(saturation_colour(saturation_pct))[0] < 0.65 else "#1b1d2a"


def lab_of(colour: str) -> Triple:
    """OKLab lightness, green-red and blue-yellow of ``"#rrggbb"``.

    Source: ottosson2020.
    """
    linear = [_linear(int(colour[i : i + 2], 16) / 255) for i in (1, 3, 5)]
    cones = _times(TO_CONES, (linear[0], linear[1], linear[2]))
    return _times(TO_LAB, (_root(cones[0]), _root(cones[1]), _root(cones[2])))


def hex_of(lab: Triple) -> str:
    """``"#rrggbb"`` of an OKLab colour, clipped to what a screen can show.

    Source: ottosson2020.
    """
    roots = _times(FROM_LAB, lab)
    linear = _times(FROM_CONES, (roots[0] ** 3, roots[1] ** 3, roots[2] ** 3))
    return "#" + "".join(f"{round(255 * _curved(min(1.0, max(0.0, x)))):02x}" for x in linear)


def _along(share: float) -> Triple:
    """The OKLab colour after this share of the scale's length."""
    track, lengths = _track()
    wanted = share * lengths[-1]
    index = bisect_left(lengths, wanted)
    if index == 0:
        return track[0]
    part = (wanted - lengths[index - 1]) / (lengths[index] - lengths[index - 1])
    return _between(track[index - 1], track[index], part)


@cache
def _track() -> tuple[tuple[Triple, ...], tuple[float, ...]]:
    """Points along a smooth curve through the anchors, and the OKLab length up to each."""
    knots = [lab_of(anchor) for anchor in ANCHORS]
    spans = len(knots) - 1
    track = tuple(_smooth(knots, i * spans / STEPS) for i in range(STEPS + 1))
    lengths = [0.0]
    for here, there in pairwise(track):
        lengths.append(lengths[-1] + dist(here, there))
    return track, tuple(lengths)


def _smooth(knots: list[Triple], place: float) -> Triple:
    """A Catmull-Rom curve through the knots; ``place`` counts knots from 0."""
    i = min(int(place), len(knots) - 2)
    t = place - i
    a, b, c, d = (knots[min(max(j, 0), len(knots) - 1)] for j in (i - 1, i, i + 1, i + 2))

    def axis(k: int) -> float:
        return 0.5 * (
            2 * b[k]
            + (c[k] - a[k]) * t
            + (2 * a[k] - 5 * b[k] + 4 * c[k] - d[k]) * t**2
            + (3 * b[k] - a[k] - 3 * c[k] + d[k]) * t**3
        )

    return axis(0), axis(1), axis(2)


def _between(a: Triple, b: Triple, part: float) -> Triple:
    return (
        a[0] + part * (b[0] - a[0]),
        a[1] + part * (b[1] - a[1]),
        a[2] + part * (b[2] - a[2]),
    )


def _times(matrix: tuple[Triple, Triple, Triple], vector: Triple) -> Triple:
    x, y, z = vector
    (a, b, c), (d, e, f), (g, h, i) = matrix
    return a * x + b * y + c * z, d * x + e * y + f * z, g * x + h * y + i * z


def _root(value: float) -> float:
    return max(0.0, value) ** (1 / 3)


def _linear(channel: float) -> float:
    """Light of an sRGB channel (IEC 61966-2-1)."""
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4


def _curved(light: float) -> float:
    """SRGB channel of a light (IEC 61966-2-1)."""
    return 12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055
