# SPDX-License-Identifier: BSD-3-Clause
# `make` alone lists the targets. ARGS goes to the program behind a target: make demo ARGS="--no-serve".
PYTHON ?= $(shell command -v python3.11 || echo python3)
VENV := .venv
BIN := $(VENV)/bin
PIP := $(BIN)/python -m pip install --quiet --no-input --disable-pip-version-check
ARGS ?=
SECONDS ?= 600
SEED ?= 0

.PHONY: help setup demo serve test lint bench docs fuzz properties sabotage lock

help: ## list the targets
	@sed -n 's/^\([a-z]*\):.*## /  \1	/p' $(MAKEFILE_LIST)

setup: $(VENV)/.program ## make .venv from the lock and install the program into it

demo: setup ## two rings, from design to prediction
	@$(BIN)/ringwright demo $(ARGS)

serve: setup ## the program's pages, for a browser on this machine
	@$(BIN)/ringwright serve $(ARGS)

test: $(VENV)/.tools ## every test that this machine can run, on all its cores; names what it left out
	@$(BIN)/python -m pytest -n auto --dist loadfile $(ARGS)

lint: $(VENV)/.tools ## format, lint, types, imports, docstrings, words
	@$(BIN)/ruff format --check .
	@$(BIN)/ruff check .
	@$(BIN)/mypy --num-workers 2
	@$(BIN)/lint-imports --no-logo
	@$(BIN)/python -m scripts.check_docstrings
	@$(BIN)/python -m scripts.check_words

bench: setup ## speed in units: median and 95th percentile
	@$(BIN)/python -m benchmarks.run $(ARGS)

docs: $(VENV)/.tools ## the documentation as pages in site/
	@NO_MKDOCS_2_WARNING=1 $(BIN)/mkdocs build --quiet --strict
	@echo "site/index.html"

fuzz: $(VENV)/.tools ## every reader by coverage, ten minutes each: make fuzz SECONDS=60 ARGS="design adif"
	@$(BIN)/python -m scripts.fuzz_readers --seconds $(SECONDS) --seed $(SEED) $(ARGS)

properties: $(VENV)/.tools ## the property tests at random, 50 times as many examples: make properties ARGS=tests/antenna
	@$(BIN)/python -m pytest -m hypothesis --hypothesis-profile=fuzz $(ARGS)

sabotage: $(VENV)/.tools ## plant known errors one at a time, every one must fail a test: make sabotage ARGS=antenna
	@$(BIN)/python -m scripts.sabotage $(ARGS)

lock: ## pin the newest versions that pyproject.toml admits
	@PYTHON=$(PYTHON) scripts/lock

$(VENV)/.program: pyproject.toml requirements.lock
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { \
		echo "Python 3.11 or newer is needed; if it has another name: make PYTHON=python3.12 $(MAKECMDGOALS)" >&2; exit 1; }
	@test -x $(BIN)/python || { echo "making $(VENV) with $(PYTHON)"; $(PYTHON) -m venv $(VENV); }
	@echo "installing the program into $(VENV)"
	@$(PIP) --constraint requirements.lock hatchling editables
	@$(PIP) --constraint requirements.lock --no-build-isolation --editable .
	@touch $@

$(VENV)/.tools: $(VENV)/.program requirements-dev.lock
	@echo "installing the developers' tools into $(VENV)"
	@$(PIP) --constraint requirements-dev.lock --no-build-isolation --editable '.[dev]'
	@touch $@
