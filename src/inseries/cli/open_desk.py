"""The command that opens the whole case in a browser."""

from __future__ import annotations

from pathlib import Path

import click

from inseries.base.errors import InseriesError

DESK = "desk"
# chosen: the highest port there is
_LAST_PORT = 65_535


@click.command(
    DESK,
    help="All of it in the browser: a case file, or a folder of them, on this machine alone.",
    short_help="Where can I see and move all of it?",
)
@click.argument("case", required=False, type=click.Path(path_type=Path), metavar="[CASE]")
@click.option("--no-browser", is_flag=True, help="Only print the address.")
@click.option(
    "--port",
    type=click.IntRange(0, _LAST_PORT),
    default=0,
    help="Port to answer on; a free one when not given.",
)
def desk(case: Path | None, no_browser: bool, port: int) -> None:
    """Serve until Ctrl-C."""
    from inseries.serve.start import serve_desk

    try:
        serve_desk(case or Path(), port=port, browser=not no_browser, tell=click.echo)
    except InseriesError as error:
        click.echo(str(error), err=True)
        click.get_current_context().exit(1)
    except KeyboardInterrupt:
        click.echo("The desk is closed.", err=True)
