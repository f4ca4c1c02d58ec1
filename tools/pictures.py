"""Makes the pictures of the README and the docs from the invented cases.

Run: ``python tools/pictures.py``. Writes SVG files under ``docs/pictures``.
"""

from __future__ import annotations

import sys
from pathlib import Path

from inseries.base.files import write_private
from inseries.desk.band import band
from inseries.desk.band_result import BandResult
from inseries.desk.demonstration import demo_case
from inseries.desk.now import DEFAULT_SEED, describe
from inseries.desk.outlook import look_ahead
from inseries.desk.outlook_result import OutlookResult
from inseries.desk.repair import plan_repair
from inseries.desk.repair_result import RepairResult
from inseries.desk.routes import compare_routes
from inseries.desk.routes_told import RoutesResult
from inseries.desk.window import WINDOW_DRAWS, answered
from inseries.draw.band_course import band_svg
from inseries.draw.outlook_strip import outlook_svg
from inseries.draw.patch_sheet import patch_sheet_svg
from inseries.draw.repair_view import repair_svg
from inseries.draw.ribbons import ribbon_svg
from inseries.draw.routes_lanes import routes_svg
from inseries.draw.window_curve import window_svg
from inseries.prior.narrow import snapshot

FOLDER = Path(__file__).resolve().parent.parent / "docs" / "pictures"
WINDOWS = ("harbour-07", "ridge-03")
LOOPS = ("harbour-07", "tight-01")
LATE = "meadow-11"


def main() -> None:
    """Every picture, one after another."""
    FOLDER.mkdir(exist_ok=True)
    for name in LOOPS:
        record = demo_case(name)
        today = snapshot(record, draws=WINDOW_DRAWS, seed=DEFAULT_SEED)
        _write(f"{name}-loops.svg", ribbon_svg(describe(record, today)[0].picture))
    decades = look_ahead(demo_case(WINDOWS[0]), seed=DEFAULT_SEED).result
    assert isinstance(decades, OutlookResult)
    _write(f"{WINDOWS[0]}-outlook.svg", outlook_svg(decades.picture))
    _operations()
    for name in WINDOWS:
        _, ahead, _ = answered(
            demo_case(name), seed=DEFAULT_SEED, draws=WINDOW_DRAWS, criteria=None, progress=None
        )
        _write(f"{name}-window.svg", window_svg(ahead.picture))
        if name == WINDOWS[0]:
            _write(f"{name}-ring.svg", ribbon_svg(ahead.picture_after))
        for tier, answer in ahead.tiers.items():
            sys.stdout.write(f"{name} {tier} {answer.below_90_day} {answer.below_50_day}\n")


def _operations() -> None:
    """What a repair, a band and the routes look like."""
    pieces = plan_repair(demo_case(WINDOWS[0]), seed=DEFAULT_SEED).result
    assert isinstance(pieces, RepairResult)
    _write(f"{WINDOWS[0]}-repair.svg", repair_svg(pieces.picture))
    _write(f"{WINDOWS[0]}-patch.svg", patch_sheet_svg(pieces.sheet))
    banded = band(demo_case(LATE), seed=DEFAULT_SEED).result
    assert isinstance(banded, BandResult)
    _write(f"{LATE}-band.svg", band_svg(banded.picture))
    compared = compare_routes(demo_case(LATE), seed=DEFAULT_SEED).result
    assert isinstance(compared, RoutesResult)
    _write(f"{LATE}-routes.svg", routes_svg(compared.picture))


def _write(name: str, svg: str) -> None:
    target = write_private(FOLDER / name, svg.encode(), replace=True)
    target.chmod(0o644)
    sys.stdout.write(f"{name}\n")


if __name__ == "__main__":
    main()
