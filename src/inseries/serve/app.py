"""Every address of the desk, and which function of the room `desk` answers it."""

from __future__ import annotations

from contextlib import asynccontextmanager
from html import escape
from typing import TYPE_CHECKING, Annotated

from fastapi import Body, FastAPI, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from inseries.base.errors import InseriesError
from inseries.desk.editing import Clash
from inseries.desk.plain import plain
from inseries.desk.sheet import said
from inseries.serve.files import edition, packaged
from inseries.serve.pages import Desk

if TYPE_CHECKING:
    from collections.abc import AsyncGenerator

    from inseries.desk.shelf import Shelf
    from inseries.serve.guard import Keys

Sent = Annotated[dict[str, str | int | list[list[str]]], Body()]


def application(shelf: Shelf, keys: Keys) -> FastAPI:
    """The application of one shelf; its guard stands outside.

    Parameters
    ----------
    shelf : the cases that may be opened
    keys : secrets of this start
    """
    desk = Desk(shelf, keys)

    @asynccontextmanager
    async def life(_: FastAPI) -> AsyncGenerator[None]:
        yield
        desk.work.close()

    app = FastAPI(docs_url=None, redoc_url=None, openapi_url=None, lifespan=life)
    app.add_exception_handler(InseriesError, _refused)
    app.add_exception_handler(Clash, _clash)
    _reading(app, desk)
    _questions(app, desk)
    _changing(app, desk)
    return app


def _refused(request: Request, error: Exception) -> Response:
    """A refusal: as data where a page asked for it, else as a page."""
    assert isinstance(error, InseriesError)
    status = 404 if error.code in {"not_found", "no_page"} else 422
    if request.method == "POST" or "application/json" in request.headers.get("accept", ""):
        return JSONResponse({"refused": plain(said(error), "refused")}, status)
    return HTMLResponse(
        f"<!doctype html><html lang='en'><title>Not here</title><p>{escape(str(error))}", status
    )


def _clash(_: Request, error: Exception) -> Response:
    assert isinstance(error, Clash)
    return JSONResponse({"clash": {"theirs": error.theirs, "yours": error.yours}}, 409)


def _reading(app: FastAPI, desk: Desk) -> None:
    """What is only looked at."""

    @app.get("/")
    def home() -> Response:
        return HTMLResponse(desk.home())

    @app.get("/go")
    def go(case: str) -> Response:
        return RedirectResponse(desk.address(case), 303)

    @app.get("/static/{of}/{name}")
    async def static(of: str, name: str) -> Response:
        content, kind = packaged(name)
        lasting = "max-age=31536000, immutable" if of == edition() else "no-cache"
        return Response(content, media_type=kind, headers={"cache-control": lasting})

    @app.get("/favicon.ico")
    def favicon() -> Response:
        return Response(status_code=204)

    @app.get("/case/{name}")
    def case(name: str) -> Response:
        return RedirectResponse(f"{desk.address(name)}/check", 303)

    @app.get("/case/{name}/draft")
    def draft(name: str) -> Response:
        return JSONResponse(desk.draft(name))

    @app.get("/case/{name}/history")
    def history(name: str) -> Response:
        return HTMLResponse(desk.history(name))

    @app.get("/case/{name}/present")
    def present(name: str) -> Response:
        return HTMLResponse(desk.present(name))


def _questions(app: FastAPI, desk: Desk) -> None:
    """The pages of the verbs, and what comes of each."""

    @app.get("/case/{name}/{verb}")
    def page(name: str, verb: str, request: Request) -> Response:
        return HTMLResponse(desk.page(name, verb, dict(request.query_params)))

    @app.get("/case/{name}/{verb}/part")
    def part(name: str, verb: str, request: Request) -> Response:
        return JSONResponse(desk.part(name, verb, dict(request.query_params)))

    @app.get("/case/{name}/{verb}/answer.json")
    def answer(name: str, verb: str, request: Request) -> Response:
        told = desk.answer(name, verb, dict(request.query_params))
        return Response(told, media_type="application/json")

    @app.get("/case/{name}/{verb}/page.pdf")
    def paper(name: str, verb: str, request: Request) -> Response:
        pdf = desk.paper(name, verb, dict(request.query_params))
        return Response(pdf, media_type="application/pdf")


def _changing(app: FastAPI, desk: Desk) -> None:
    """What changes a file, or stops what is being computed."""

    @app.post("/case/{name}/set")
    def set_field(name: str, sent: Sent) -> Response:
        return JSONResponse(desk.set(name, sent))

    @app.post("/case/{name}/add")
    def add(name: str, sent: Sent) -> Response:
        return JSONResponse(desk.add(name, sent))

    @app.post("/case/{name}/drop")
    def drop(name: str, sent: Sent) -> Response:
        return JSONResponse(desk.drop(name, sent))

    @app.post("/case/{name}/note")
    def note(name: str, sent: Sent) -> Response:
        return JSONResponse(desk.note(name, sent))

    @app.post("/case/{name}/no-note")
    def no_note(name: str, sent: Sent) -> Response:
        return JSONResponse(desk.no_note(name, sent))

    @app.post("/case/{name}/undo")
    def undo(name: str, sent: Sent) -> Response:
        return JSONResponse(desk.undo(name, str(sent.get("who", ""))))

    @app.post("/case/{name}/redo")
    def redo(name: str, sent: Sent) -> Response:
        return JSONResponse(desk.redo(name, str(sent.get("who", ""))))

    @app.post("/case/{name}/{verb}/cancel")
    def cancel(name: str, verb: str, sent: Sent) -> Response:
        desk.cancel(name, verb, {k: str(v) for k, v in sent.items()})
        return JSONResponse({})

    @app.post("/cases")
    def new(sent: Sent) -> Response:
        return JSONResponse({"address": desk.new(sent)})
