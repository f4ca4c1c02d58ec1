"""A patch on paper in true size."""

from __future__ import annotations

import json

from inseries.brief.setting import set_pages


def patch_page_pdf(svg: str, *, title: str, alt: str) -> bytes:
    """A page of A4 on which one unit of the drawing is one millimetre.

    Parameters
    ----------
    svg : str, a drawing 180 units wide
    title, alt : str, title of the file and words for the picture

    Returns
    -------
    bytes, a tagged PDF
    """
    footer = "Planning only, trim in theatre. Print at 100 %, measure the square and the bar."
    data = {"svg": svg, "title": title, "alt": alt, "footer": footer}
    return set_pages("patch.typ", json.dumps(data))
