"""An answer as text for a terminal: sentences, tables, picture, cautions, sources."""

from __future__ import annotations

import re
import textwrap
from io import StringIO
from typing import TYPE_CHECKING

from rich import box
from rich.console import Console
from rich.table import Table as Grid
from rich.text import Text

from inseries.base.findings import Severity
from inseries.base.sources import citation

if TYPE_CHECKING:
    from inseries.base.findings import Caution
    from inseries.desk.answer import Answer, Refusal, Shown, Table

# chosen: the width that every screen and every saved log can show
WIDTH = 80

_NO_BREAK = "\u00a0"

# A sign and a word first; the colour only repeats them.
_SIGNS = {
    Severity.REFUSE: ("✗ refused:", "bold red"),
    Severity.CAUTION: ("! caution:", "bold yellow"),
    Severity.NOTE: ("· note:", "bold cyan"),
}


def screen_text(answer: Answer, *, colour: bool) -> str:
    """The whole answer as lines of at most 80 columns.

    Parameters
    ----------
    answer : Answer
    colour : bool, whether the terminal shows colour; no meaning is lost without it

    Returns
    -------
    str, ends with a line break
    """
    page = StringIO()
    console = Console(
        file=page,
        width=WIDTH,
        force_terminal=colour,
        no_color=not colour,
        color_system="standard" if colour else None,
        highlight=False,
        markup=False,
        emoji=False,
    )
    if answer.result is not None:
        _show(console, answer.result.shown())
    if answer.refused is not None:
        _remark(console, Severity.REFUSE, _refusal_sentence(answer.refused))
    _print_cautions(console, answer.cautions)
    _print_sources(console, answer.sources)
    return "\n".join(line.rstrip() for line in page.getvalue().splitlines()).strip("\n") + "\n"


def _show(console: Console, shown: Shown) -> None:
    for sentence in shown.sentences:
        _lines(console, Text(), sentence)
    for table in shown.tables:
        console.print()
        console.print(_grid(table))
    if shown.picture:
        console.print()
        console.print(Text(shown.picture), no_wrap=True, overflow="ignore", crop=False)


def _grid(table: Table) -> Grid:
    grid = Grid(
        title=Text(table.title, style="bold") if table.title else None,
        title_justify="left",
        box=box.SIMPLE_HEAD,
        show_edge=False,
        pad_edge=False,
    )
    for column in table.columns:
        grid.add_column(Text(column), overflow="fold")
    for row in table.rows:
        grid.add_row(*(Text(cell) for cell in row))
    return grid


def _print_cautions(console: Console, cautions: tuple[Caution, ...]) -> None:
    if cautions:
        console.print()
    gravest_first = list(Severity)
    for caution in sorted(cautions, key=lambda each: gravest_first.index(each.severity)):
        _remark(console, caution.severity, caution.text)


def _remark(console: Console, severity: Severity, text: str) -> None:
    sign, style = _SIGNS[severity]
    _lines(console, Text(f"{sign} ", style), text, indent="  ")


def _lines(console: Console, opening: Text, text: str, indent: str = "") -> None:
    """A paragraph in which no line ends between a number and its unit."""
    together = re.sub(r"(?<=\d) (?=\S)", _NO_BREAK, text)
    told = textwrap.fill(
        together,
        WIDTH,
        initial_indent=opening.plain,
        subsequent_indent=indent,
        break_on_hyphens=False,
    )
    rest = told.replace(_NO_BREAK, " ")[len(opening.plain) :]
    console.print(opening + Text(rest), no_wrap=True, overflow="ignore", crop=False)


def _print_sources(console: Console, sources: tuple[str, ...]) -> None:
    if not sources:
        return
    console.print()
    console.print(Text("Sources", style="bold"))
    for key in sources:
        _lines(console, Text("  "), citation(key), indent="    ")


def _refusal_sentence(refusal: Refusal) -> str:
    place = f"{refusal.where}: " if refusal.where else ""
    unit = f" {refusal.unit}" if refusal.unit else ""
    value = "" if refusal.value is None else f" (got {refusal.value}{unit})"
    remedy = f" Try: {refusal.try_}" if refusal.try_ else ""
    return f"{place}{refusal.what.rstrip('.')}{value}.{remedy}"
