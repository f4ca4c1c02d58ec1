"""How the docs are built: MyST pages, executed examples, the list of sources from its table."""

from __future__ import annotations

import doctest
from typing import TYPE_CHECKING

from inseries import __version__
from inseries.base.sources import Source, bibliography

if TYPE_CHECKING:
    from sphinx.application import Sphinx

project = "inseries"
author = "inseries maintainers"
copyright = "inseries maintainers, Apache-2.0"
version = release = __version__

extensions = ["myst_parser", "sphinx.ext.doctest", "sphinx.ext.mathjax"]
myst_enable_extensions = ["dollarmath", "deflist", "colon_fence"]
myst_heading_anchors = 3
exclude_patterns = ["_build"]
nitpicky = True

html_theme = "furo"
html_title = f"inseries {version}"
html_copy_source = False

# Examples are compared as a reader sees them: how a line wraps does not count.
doctest_default_flags = doctest.NORMALIZE_WHITESPACE | doctest.ELLIPSIS


def setup(app: Sphinx) -> None:
    """Joins the list of sources to its page."""
    app.connect("source-read", fill_in_sources)


def fill_in_sources(_app: Sphinx, page: str, text: list[str]) -> None:
    """Puts the bibliography where its page asks for it."""
    if page == "reference/sources":
        listed = "\n\n".join(_entry(source) for source in bibliography().values())
        text[0] = text[0].replace("<!-- the sources -->", listed)


def _entry(source: Source) -> str:
    said = [source.authors, source.title, f"{source.journal} {source.place}".strip()]
    if source.year is not None:
        said.append(str(source.year))
    if source.doi:
        said.append(f"doi:{source.doi}")
    if source.pmid:
        said.append(f"PMID {source.pmid}")
    cited = ". ".join(part.rstrip(".") for part in said if part)
    doubt = f" Unconfirmed: {', '.join(source.unconfirmed)}." if source.unconfirmed else ""
    return f"`{source.key}`\n: {cited}. *Seen: {source.seen}.*{doubt}"
