"""The section of the roots for a terminal: letters in proportion, at most 78 columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from inseries.draw.repair_plan import Points
    from inseries.draw.repair_view import RepairView

# chosen: columns of the picture; a letter is about twice as high as it is wide
COLUMNS, TALL = 48, 2.0
WALL, BEFORE, AFTER, CONCERN, COURSE = "·", "o", "●", "■", "+"


def repair_text(view: RepairView) -> str:
    """Roots, openings before and after, first courses, as text.

    Parameters
    ----------
    view : RepairView

    Returns
    -------
    str, lines of at most 78 columns
    """
    plan = view.plan
    points = [p for ring in plan.roots for p in ring.outline]
    points += [p for move in plan.moves for p in (move.old, *move.path)]
    xs, ys = zip(*points, strict=True)
    scale = (COLUMNS - 1) / (max(xs) - min(xs))
    rows = round((max(ys) - min(ys)) * scale / TALL) + 1
    grid = [[" "] * COLUMNS for _ in range(rows)]

    def put(place: tuple[float, float], sign: str) -> None:
        column = round((place[0] - min(xs)) * scale)
        row = round((max(ys) - place[1]) * scale / TALL)
        grid[row][column] = sign

    def along(line: Points, sign: str) -> None:
        for place in line:
            put(place, sign)

    for ring in plan.roots:
        along(ring.outline, WALL)
    for move in plan.moves:
        along(move.path, COURSE)
        put(move.old, BEFORE)
        put(move.new, CONCERN if move.concern else AFTER)
    named = {ring.name: ring for ring in plan.roots}
    for name, ring in named.items():
        _lettered(grid, name, ring.outline, (min(xs), max(ys)), scale)
    told = f"{BEFORE} opening before, {AFTER} after, {CONCERN} after, of concern, {COURSE} course"
    return "\n".join(["".join(row).rstrip() for row in grid] + [told, *_seen(plan.seen_from)])


def _seen(words: str) -> list[str]:
    return words.replace(": ", ":\n").splitlines()


def _lettered(
    grid: list[list[str]],
    name: str,
    outline: Points,
    corner: tuple[float, float],
    scale: float,
) -> None:
    """A root's name in its middle, where nothing else stands."""
    xs, ys = zip(*outline, strict=True)
    row = round((corner[1] - (max(ys) + min(ys)) / 2.0) * scale / TALL)
    middle = round(((max(xs) + min(xs)) / 2.0 - corner[0]) * scale)
    for i, letter in enumerate(name, middle - len(name) // 2):
        if 0 <= i < COLUMNS and grid[row][i] == " ":
            grid[row][i] = letter
