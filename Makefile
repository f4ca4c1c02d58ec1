# Each target sets up what it needs by itself; a second run sets nothing up again.
#
#   make demo      the invented cases through the whole line
#   make test      everything that must hold; pytest comes last
#   make help      the other targets

SHELL := bash
.SHELLFLAGS := -euo pipefail -c
.DELETE_ON_ERROR:
.NOTPARALLEL:
.DEFAULT_GOAL := help

PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/.ready
UV := $(BIN)/uv
PYTEST_ARGS ?=
PYTEST = $(BIN)/python -m pytest -n 2 --dist loadfile $(PYTEST_ARGS)

export UV_PYTHON_DOWNLOADS := never
export UV_NO_PROGRESS := 1
export PIP_DISABLE_PIP_VERSION_CHECK := 1

.PHONY: help setup chromium demo test lint types contracts docs wheel pytest format lock clean

help:
	@sed -n 's/^#   //p' Makefile
	@echo "make lint | types | contracts | docs | wheel | pytest   one part of make test"
	@echo "make format    rewrites the sources in the house style"
	@echo "make lock      refreshes requirements.lock from pyproject.toml"
	@echo "make clean     takes away everything that was made here"

setup: $(READY)

# A Python with venv, from the package manager only as root. Nothing else of the system is needed.
$(BIN)/python:
	@if ! $(PYTHON) -c 'import venv, ensurepip' 2>/dev/null; then \
	  if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then \
	    apt-get update -qq && apt-get install -yqq python3 python3-venv >/dev/null; \
	  else \
	    echo "Python's venv module is missing: install the packages python3 and python3-venv, then run make again." >&2; \
	    exit 1; \
	  fi; \
	fi
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || \
	  { echo "Python 3.11 or later is needed; say which with: make PYTHON=python3.11" >&2; exit 1; }
	$(PYTHON) -m venv $(VENV)

# uv itself is one of the locked packages: pip fetches exactly that one, by its hash.
$(READY): requirements.lock pyproject.toml | $(BIN)/python
	@awk '/^uv==/ {found = 1} found {print} found && !/\\$$/ {exit}' requirements.lock > $(VENV)/uv.txt
	$(BIN)/python -m pip install --quiet --require-hashes -r $(VENV)/uv.txt
	$(UV) pip sync --quiet --python $(BIN)/python --require-hashes requirements.lock
	$(UV) pip install --quiet --python $(BIN)/python --no-deps --no-build-isolation -e .
	@touch $(READY)

# A browser for the tests of the desk, from the package manager only as root; without one they are skipped, and say so.
chromium:
	@if ! command -v chromium >/dev/null && ! command -v chromium-browser >/dev/null; then \
	  if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then \
	    apt-get update -qq && apt-get install -yqq chromium >/dev/null || \
	      echo "Chromium could not be installed: tests in a browser will be skipped." >&2; \
	  else \
	    echo "Chromium is missing: install the package chromium to have the desk tested in a browser." >&2; \
	  fi; \
	fi

demo: $(READY)
	$(BIN)/inseries demo

test: lint types contracts docs wheel pytest

lint: $(READY)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .

types: $(READY)
	$(BIN)/basedpyright

contracts: $(READY)
	$(BIN)/lint-imports --no-cache

docs: $(READY)
	$(BIN)/sphinx-build -q -n -W --keep-going -E -b html docs docs/_build/html
	$(BIN)/sphinx-build -q -n -W --keep-going -E -b doctest docs docs/_build/doctest

wheel: $(READY)
	tools/try-wheel

pytest: $(READY) chromium
	$(PYTEST)

format: $(READY)
	$(BIN)/ruff check --fix .
	$(BIN)/ruff format .

lock: $(READY)
	@echo "# Every package of the product, its tests, its docs and its build, with hashes. Made by: make lock" > $(VENV)/requirements.lock
	$(UV) pip compile pyproject.toml --group dev --universal --python-version 3.11 --generate-hashes \
	  --no-annotate --no-header --quiet --upgrade >> $(VENV)/requirements.lock
	mv $(VENV)/requirements.lock requirements.lock

clean:
	rm -rf $(VENV) build dist out docs/_build .pytest_cache .ruff_cache .hypothesis .import_linter_cache
	find src tests tools benchmarks docs -name __pycache__ -type d -prune -exec rm -rf {} +
