# fingertight: bare `make` lists what there is. `make check` is what CI runs.
SHELL := /bin/bash
.SHELLFLAGS := -euo pipefail -c
.DEFAULT_GOAL := list
.PHONY: list run test test-postgres check lint docs bench examples wheel clean

PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
POSTGRES_TESTS := tests/postgres tests/web/test_whole_jobs.py tests/web/test_wall.py tests/web/people tests/web/lesson \
  tests/journeys/lessons tests/web/test_versions.py tests/web/film
export PIP_DISABLE_PIP_VERSION_CHECK := 1

list: ## list these targets
	@awk -F ':.*## ' '/^[a-z-]+:.*## /{printf "  make %-14s %s\n", $$1, $$2}' $(MAKEFILE_LIST)

run: $(VENV)/run.stamp ## install and serve the workshop in ./workshop (or FINGERTIGHT_HOME)
	@FINGERTIGHT_HOME="$${FINGERTIGHT_HOME:-workshop}" exec $(BIN)/fingertight serve

test: $(VENV)/dev.stamp $(VENV)/browser.stamp ## install what tests need, a browser too where missing, and run them
	@$(BIN)/python -m pytest -n auto --dist loadfile --no-loadscope-reorder

test-postgres: $(VENV)/dev.stamp ## start a PostgreSQL server of its own, and run what must hold there too
	@$(BIN)/python tools/postgres.py pytest -n auto --dist loadfile --no-loadscope-reorder $(POSTGRES_TESTS)

check: lint test test-postgres ## all that CI runs: ruff, mypy, the import stairs, every test on both databases

lint: $(VENV)/dev.stamp ## ruff, ruff format, mypy and the import stairs, without the tests
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports --no-cache

bench: $(VENV)/dev.stamp ## measure speed and size beside their floors, into docs/figures.md
	$(BIN)/python bench/run.py

examples: $(VENV)/dev.stamp ## make the example logs again
	$(BIN)/python examples/make_logs.py

docs: $(VENV)/dev.stamp ## write the tables of the docs anew from the code
	$(BIN)/python tools/tables.py

wheel: $(VENV)/dev.stamp ## build the wheel into ./dist
	rm -rf build dist
	$(BIN)/python -m pip wheel --quiet --no-deps --no-build-isolation --wheel-dir dist .
	@ls dist

clean: ## remove what was installed and built; the workshop stays
	rm -rf $(VENV) build dist .pytest_cache .mypy_cache .ruff_cache .hypothesis .import_linter_cache

# A stamp stands for "installed as pyproject.toml asks": nothing is installed twice.
$(VENV)/bin/python:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo 'fingertight needs Python 3.11 or newer; name one: make PYTHON=python3.12 …' >&2; exit 2; }
	@echo 'Making a virtual environment in $(VENV).'
	@$(PYTHON) -m venv $(VENV)

$(VENV)/run.stamp: pyproject.toml setup.py | $(VENV)/bin/python
	@echo 'Installing fingertight and what it runs on into $(VENV).'
	@$(BIN)/python -m pip install --quiet --editable .
	@touch $@

$(VENV)/dev.stamp: pyproject.toml setup.py | $(VENV)/bin/python
	@echo 'Installing fingertight and what its tests run on into $(VENV).'
	@$(BIN)/python -m pip install --quiet --editable '.[dev]'
	@touch $@ $(VENV)/run.stamp

$(VENV)/browser.stamp: tools/browser.py | $(VENV)/dev.stamp
	@$(BIN)/python tools/browser.py
	@touch $@
