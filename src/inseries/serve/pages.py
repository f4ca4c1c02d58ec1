"""Each page from one function of the desk: what is asked, what is at hand, what is still coming."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING, TypeVar
from urllib.parse import quote, urlencode

from jinja2 import Environment, PackageLoader

from inseries.base.errors import InseriesError, OutputError
from inseries.desk.answer import Answer, refuse
from inseries.desk.cautions import AID
from inseries.desk.editing import Editor
from inseries.desk.glance import first_look, full, fuller_look, paper
from inseries.desk.handles import COARSE, FULLER, handles, options, pages
from inseries.desk.life import life
from inseries.desk.new_case import begun
from inseries.desk.notes import Notes
from inseries.desk.pair import BY, ORDERS, PAIR, choices, picked
from inseries.desk.plain import JsonValue, plain
from inseries.desk.record import opened
from inseries.desk.sheet import said, sheet
from inseries.desk.shelf import INVENTED, Shelf, invented_text
from inseries.desk.story import story
from inseries.desk.verbs import VERBS, Verb
from inseries.serve.files import edition
from inseries.serve.kept import Kept
from inseries.serve.work import Job, Work

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.desk.answer import Progress
    from inseries.desk.draft import Draft
    from inseries.desk.record import Case
    from inseries.serve.guard import Keys

# chosen: seconds that one look at a job may wait; a page asks again
PATIENCE_S = 0.7
# chosen: seconds after which a printed page or an answer asked for as a file is given up
LONG_S = 300.0
BEFORE = ("first", "fuller")
"""Looks that go before the full answer, in a lane of their own."""
Whole = TypeVar("Whole")


class Desk:
    """The pages of one shelf.

    Parameters
    ----------
    shelf : the cases
    keys : secrets of this start; pages carry the one that forms send back
    """

    def __init__(self, shelf: Shelf, keys: Keys) -> None:
        self.shelf = shelf
        self.editor = Editor(shelf)
        self.notes = Notes(shelf)
        self.work: Work[Answer | bytes] = Work()
        self._pieces: Kept[str] = Kept()
        self._environment = Environment(
            loader=PackageLoader("inseries.serve"),
            autoescape=True,
            trim_blocks=True,
            auto_reload=False,
        )
        self._always = {"form": keys.form, "aid": AID, "static": f"/static/{edition()}"}
        self._environment.filters["name"] = quote

    # pages

    def home(self) -> str:
        """The list of cases, and three ways to begin one."""
        return self._render("home.html", names=self.shelf.names(), invented=INVENTED)

    def page(self, name: str, verb: str, asked: Mapping[str, str]) -> str:
        """One question about one case; what is at hand is in it already."""
        known = _page_verb(verb)
        draft = self.editor.draft(name)
        shell = {
            "name": name,
            "verb": known,
            "verbs": (VERBS["check"], *pages()),
            "editor": self._editor(draft),
            "handles": handles(known),
            "asked": asked,
            "looks": _looks(verb),
            "notes": self._notes(name, verb),
            "routes": choices() if verb == "routes" else (),
            "orders": ORDERS,
        }
        if draft.trouble is not None:
            return self._render("page.html", **shell, part=self._refused(draft.trouble), life=None)
        record = self._record(name)
        key = _key(record, verb, _safe_options(known, asked), "full")
        life = self._life(record)
        job = self.work.find(key)
        answer = job.made if job is not None else None
        try:
            part = self._part(key, answer, life, asked) if isinstance(answer, Answer) else ""
        except InseriesError as error:
            part = self._refused(said(error))
        if verb == "check" and not part:
            part = self._checked(record, life)
        return self._render("page.html", **shell, part=part, life=life)

    def present(self, name: str) -> str:
        """The story of one case, one picture at a time."""
        record = self._record(name)
        made = {v.name: self._made(record, v.name) for v in pages()}
        return self._render("present.html", name=name, steps=story(record, made))

    def history(self, name: str) -> str:
        """Who changed what, and when."""
        changes, notes = self.editor.history(name), self.notes.all(name)
        return self._render("history.html", name=name, changes=changes, notes=notes)

    def address(self, name: str) -> str:
        """Where a case is; refuses a name that is not on the shelf."""
        self.shelf.path(name)
        return f"/case/{quote(name)}"

    # long work

    def part(self, name: str, verb: str, asked: Mapping[str, str]) -> dict[str, JsonValue]:
        """How far a question is, and its part of the page once it is answered."""
        known = _page_verb(verb)
        look = asked.get("look", "full")
        look = look if look in _looks(verb) else "full"
        record = self._record(name)
        job = self._job(record, known, options(known, asked), look, asked.get("client", ""))
        self.work.wait(job, PATIENCE_S)
        told: dict[str, JsonValue] = {
            "stand": job.stand,
            "look": look,
            "stage": job.stage,
            "share": round(job.share, 3),
        }
        if isinstance(job.made, Answer):
            told["html"] = self._part(job.key, job.made, self._life(record), asked)
        if job.error is not None:
            told["html"] = self._refused(said(job.error))
            told["refused"] = plain(said(job.error), "refused")
        return told

    def answer(self, name: str, verb: str, asked: Mapping[str, str]) -> str:
        """The same JSON as the command line prints."""
        known = _page_verb(verb)
        record = self._record(name)
        job = self._job(record, known, options(known, asked), "full", "")
        self.work.wait(job, LONG_S)
        if job.error is not None:
            return refuse(verb, job.error).to_json()
        return _whole(job.made, Answer).to_json()

    def paper(self, name: str, verb: str, asked: Mapping[str, str]) -> bytes:
        """The printed page."""
        known = _page_verb(verb)
        record = self._record(name)
        job = self._job(record, known, options(known, asked), "paper", "")
        self.work.wait(job, LONG_S)
        if job.error is not None:
            raise job.error
        return _whole(job.made, bytes)

    def cancel(self, name: str, verb: str, asked: Mapping[str, str]) -> None:
        """Stop what a page asked for."""
        known = _page_verb(verb)
        record = self._record(name)
        for look in (*BEFORE, "full"):
            self.work.cancel(_key(record, verb, options(known, asked), look))

    # changes

    def draft(self, name: str) -> dict[str, JsonValue]:
        """A case for editing, and the piece of page that shows it."""
        draft = self.editor.draft(name)
        return {"revision": draft.revision, "html": self._editor(draft)}

    def set(self, name: str, sent: Mapping[str, object]) -> dict[str, JsonValue]:
        """One field changed."""
        where = (_word(sent, "table"), _count(sent, "index"), _word(sent, "key"))
        self.editor.set(
            name,
            where,
            _word(sent, "value"),
            saw=_word(sent, "saw"),
            anchor=_word(sent, "anchor"),
            who=_word(sent, "who"),
        )
        return self.draft(name)

    def add(self, name: str, sent: Mapping[str, object]) -> dict[str, JsonValue]:
        """One more reading or event."""
        keys = ("age_h", "kind", "key", "value")
        typed = {key: _word(sent, key) for key in keys}
        told = [("age_h", typed["age_h"])]
        if _word(sent, "table") == "events":
            told.append(("kind", typed["kind"]))
        elif typed["key"]:
            told.append((typed["key"], typed["value"]))
        self.editor.add(name, _word(sent, "table"), tuple(told), _word(sent, "who"))
        return self.draft(name)

    def drop(self, name: str, sent: Mapping[str, object]) -> dict[str, JsonValue]:
        """One reading or event taken away."""
        self.editor.drop(
            name,
            _word(sent, "table"),
            _count(sent, "index"),
            anchor=_word(sent, "anchor"),
            who=_word(sent, "who"),
        )
        return self.draft(name)

    def note(self, name: str, sent: Mapping[str, object]) -> dict[str, JsonValue]:
        """One more note on a page."""
        page = _word(sent, "page")
        words = _word(sent, "day"), _word(sent, "text"), _word(sent, "who")
        self.notes.add(name, page, *words)
        return {"html": self._notes(name, page)}

    def no_note(self, name: str, sent: Mapping[str, object]) -> dict[str, JsonValue]:
        """A note taken away from its page."""
        self.notes.take_away(name, _count(sent, "number"), _word(sent, "who"))
        return {"html": self._notes(name, _word(sent, "page"))}

    def undo(self, name: str, who: str) -> dict[str, JsonValue]:
        """The last change taken back."""
        self.editor.undo(name, who)
        return self.draft(name)

    def redo(self, name: str, who: str) -> dict[str, JsonValue]:
        """And made again."""
        self.editor.redo(name, who)
        return self.draft(name)

    def new(self, sent: Mapping[str, object]) -> str:
        """A new case: from five answers, from a file, or an invented one; gives its address."""
        name = _word(sent, "id")
        if _word(sent, "invented"):
            name = _word(sent, "invented")
            text = invented_text(name)
        elif _word(sent, "text"):
            text = _word(sent, "text").replace("\r\n", "\n")
        else:
            text = begun({key: _word(sent, key) for key in sent})
        return self.address(self.shelf.add(name, text))

    # inside

    def _job(
        self, record: Case, verb: Verb, asked: Mapping[str, float], look: str, client: str
    ) -> Job[Answer | bytes]:
        def compute(tell: Progress) -> Answer | bytes:
            if look == "paper":
                return paper(verb.name, record, asked, tell)
            if look == "first":
                return first_look(verb.name, record, asked, tell)
            if look == "fuller":
                return fuller_look(verb.name, record, asked, tell)
            return full(verb.name, record, asked, tell)

        key = _key(record, verb.name, asked, look)
        return self.work.ask(key, "quick" if look in BEFORE else "full", client, compute)

    def _made(self, record: Case, verb: str) -> Answer | None:
        """The full answer without options, where it is at hand."""
        job = self.work.find(_key(record, verb, {}, "full"))
        return job.made if job is not None and isinstance(job.made, Answer) else None

    def _record(self, name: str) -> Case:
        return opened(self.shelf.text(name))

    def _editor(self, draft: Draft) -> str:
        """The fields of a case; rendered once for each state of its file."""
        undo = self.editor.can(draft.name)
        key = ("editor", draft.name, draft.revision, undo)
        return self._pieces.get(
            key, lambda: self._render("editor.html", name=draft.name, draft=draft, undo=undo)
        )

    def _life(self, record: Case) -> str:
        window, outlook = (self._made(record, verb) for verb in ("window", "outlook"))
        key = ("life", record.digest, window is None, outlook is None)
        return self._pieces.get(
            key, lambda: self._render("life.html", figure=life(record, window, outlook))
        )

    def _part(self, key: str, answer: Answer, life: str, asked: Mapping[str, str]) -> str:
        told = picked(answer, asked)
        return self._pieces.get(
            (key, life, asked.get(PAIR, ""), asked.get(BY, "")),
            lambda: self._render("part.html", sheet=sheet(told), life=life),
        )

    def _notes(self, name: str, page: str) -> str:
        return self._render("notes.html", notes=self.notes.standing(name, page))

    def _checked(self, record: Case, life: str) -> str:
        """The page of the record itself, which is never long in coming."""
        key = _key(record, "check", {}, "page")
        return self._pieces.get(
            (key, life),
            lambda: self._render("part.html", sheet=sheet(full("check", record, {})), life=life),
        )

    def _refused(self, told: object) -> str:
        return self._render("refused.html", refused=told)

    def _render(self, template: str, **given: object) -> str:
        return self._environment.get_template(template).render(**self._always, **given)


def _page_verb(name: str) -> Verb:
    known = {verb.name: verb for verb in (VERBS["check"], *pages())}
    if name not in known:
        raise OutputError(
            "there is no such page",
            code="no_page",
            where="desk",
            value=name[:32],
            remedy=", ".join(known) + ".",
        )
    return known[name]


def _looks(verb: str) -> tuple[str, ...]:
    """What a page asks for, one after the other."""
    has = (verb in COARSE, verb in FULLER)
    return (*(look for look, one in zip(BEFORE, has, strict=True) if one), "full")


def _key(record: Case, verb: str, asked: Mapping[str, float], look: str) -> str:
    """What is asked, in full: the same key has the same answer."""
    told = f"{record.id}\n{record.digest}\n{verb}\n{look}\n{urlencode(sorted(asked.items()))}"
    return hashlib.sha256(told.encode()).hexdigest()


def _safe_options(verb: Verb, asked: Mapping[str, str]) -> dict[str, float]:
    """What an address asks for; nothing where it cannot be, for the page then says so itself."""
    try:
        return options(verb, asked)
    except InseriesError:
        return {}


def _word(sent: Mapping[str, object], key: str) -> str:
    value = sent.get(key, "")
    return value if isinstance(value, str) else ""


def _count(sent: Mapping[str, object], key: str) -> int:
    value = sent.get(key, 0)
    return value if isinstance(value, int) else 0


def _whole(made: Answer | bytes | None, kind: type[Whole]) -> Whole:
    """What was made, if it was made in time."""
    if isinstance(made, kind):
        return made
    raise OutputError("this was stopped", code="stopped", where="desk", remedy="the same again.")
