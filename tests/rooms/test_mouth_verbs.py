"""The table of verbs and the functions behind it."""

from __future__ import annotations

import dataclasses
import inspect

import pytest

import inseries
from inseries.desk.verbs import VERBS, Verb, function_names, load, result_class

VERB = pytest.mark.parametrize("verb", VERBS.values(), ids=list(VERBS))


def test_there_are_verbs() -> None:
    """The table is filled, and each name stands for itself."""
    assert VERBS
    assert all(name == verb.name for name, verb in VERBS.items())


@VERB
def test_verb_is_what_the_table_says(verb: Verb) -> None:
    """Each verb exists and takes by name what the table says a caller may fill."""
    taken = inspect.signature(load(verb)).parameters
    names = list(taken)
    if "case" in verb.takes:
        assert taken[names[0]].kind is not inspect.Parameter.KEYWORD_ONLY
        names[0] = "case"
    assert set(verb.takes) <= set(names)
    assert verb.question.endswith("?")


@VERB
def test_verb_can_be_called_without_options(verb: Verb) -> None:
    """Only the case, and a file to write, have no default."""
    parameters = inspect.signature(load(verb)).parameters.values()
    needed = [p.name for p in parameters if p.default is inspect.Parameter.empty]
    assert len(needed) <= ("case" in verb.takes) + ("out_path" in verb.takes)


@VERB
def test_result_is_frozen_and_shows_itself(verb: Verb) -> None:
    """Each result is a frozen dataclass with a `shown` method, and documented in one line."""
    kind = result_class(verb)
    assert dataclasses.is_dataclass(kind)
    assert kind.__dataclass_params__.frozen  # type: ignore[attr-defined]
    assert callable(kind.shown)  # type: ignore[attr-defined]
    assert kind.__doc__


@VERB
def test_python_offers_the_same_function(verb: Verb) -> None:
    """`import inseries` gives each verb as a function, listed in `__all__`."""
    assert getattr(inseries, verb.function) is load(verb)
    assert verb.function in inseries.__all__
    assert verb.function in dir(inseries)
    assert (load(verb).__doc__ or "").strip()


def test_python_offers_nothing_else() -> None:
    """`__all__` is the verbs and the version, sorted; anything else is an AttributeError."""
    assert inseries.__all__ == sorted(["__version__", *function_names()])
    with pytest.raises(AttributeError, match="no attribute 'unheard'"):
        _ = inseries.unheard  # type: ignore[attr-defined]


def test_no_function_is_called_like_a_room() -> None:
    """A room loaded later would take the place of a function of the same name."""
    from inseries.desk import version

    root = version.__file__.rsplit("/", 2)[0]
    import os

    inside = {name.removesuffix(".py") for name in os.listdir(root)}  # noqa: PTH208
    assert not inside & set(function_names())
