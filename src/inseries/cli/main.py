"""The command ``inseries``: a list of questions, each a verb."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from inseries.cli.ask import ask
from inseries.cli.open_desk import DESK, desk
from inseries.cli.options import parameters
from inseries.desk.verbs import VERBS

if TYPE_CHECKING:
    from inseries.desk.verbs import Verb

_EPILOG = """
Each verb answers one question about one case file, or about the text on standard input
where the case is given as a dash. Exit code 0: answered; 1: refused, with the reason;
2: the call itself was wrong.
"""
# chosen: the width that every screen and every saved log can show.
_WIDTH = 80


class Questions(click.Group):
    """The verbs of the desk; none of them is loaded before it is asked."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Names in the order in which a case is worked through."""
        return [*VERBS, DESK]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of a verb, or None where there is no such verb."""
        if cmd_name == DESK:
            return desk
        verb = VERBS.get(cmd_name)
        return None if verb is None else _command(verb)


def _command(verb: Verb) -> click.Command:
    def callback(**given: object) -> None:
        click.get_current_context().exit(ask(verb, given))

    return click.Command(
        verb.name,
        params=parameters(verb),
        callback=callback,
        help=verb.question,
        short_help=verb.question,
    )


def _print_version(ctx: click.Context, _: click.Parameter, wanted: bool) -> None:
    if not wanted:
        return
    from inseries.desk.version import version

    click.echo(f"inseries {version()}")
    ctx.exit()


@click.group(
    cls=Questions,
    help="How late would a switch still be possible for this baby, why, and what does each day "
    "of waiting cost?",
    epilog=_EPILOG,
    context_settings={
        "help_option_names": ["-h", "--help"],
        "max_content_width": _WIDTH,
    },
)
@click.option(
    "--version",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_print_version,
    help="Print the version and leave.",
)
def main() -> None:
    """Take a question and put it to the desk."""
