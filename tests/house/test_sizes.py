"""Files and functions stay small enough to read."""

from __future__ import annotations

from statistics import median, quantiles

from house.tree import functions, length, lines, modules

FILE_LINES = 500
FUNCTION_LINES = 80
MEDIAN_LINES = 10
NINTH_DECILE_LINES = 35

# A kernel that holds one loop over the beat may be longer: a call inside it costs its speed.
LONG_KERNELS: frozenset[str] = frozenset()


def test_files_are_short() -> None:
    """No file is longer than a sitting."""
    assert not {name: len(lines(name)) for name in modules() if len(lines(name)) > FILE_LINES}


def test_functions_are_short() -> None:
    """No function is longer than a page, its docstring apart."""
    found = {
        f"{name}:{function.name}": length(function)
        for name, tree in modules().items()
        for function in functions(tree)
        if length(function) > FUNCTION_LINES and f"{name}:{function.name}" not in LONG_KERNELS
    }
    assert not found


def test_most_functions_are_a_few_lines() -> None:
    """Half of all functions have at most ten lines, nine of ten at most thirty-five."""
    sizes = [length(function) for tree in modules().values() for function in functions(tree)]
    assert median(sizes) <= MEDIAN_LINES
    assert quantiles(sizes, n=10)[-1] <= NINTH_DECILE_LINES


def test_exemptions_are_needed() -> None:
    """The list of long kernels names only kernels, and only those that are long."""
    sizes = {
        f"{name}:{function.name}": length(function)
        for name, tree in modules().items()
        for function in functions(tree)
    }
    for name in LONG_KERNELS:
        assert name.startswith("circuit/kernels/")
        assert sizes.get(name, 0) > FUNCTION_LINES
