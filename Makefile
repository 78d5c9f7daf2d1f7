# What one can do here. `make` alone prints this index.
# Every target makes and uses its own virtual environment (.venv) and rebuilds it only when the pins change.

PYTHON ?= python3
COURSE ?= course
FOR ?= lesson
TESTS ?= tests
PYTEST_ARGS ?=

ifeq ($(OS),Windows_NT)
BIN := $(CURDIR)/.venv/Scripts
else
BIN := $(CURDIR)/.venv/bin
endif
ENVIRONMENT := $(PYTHON) tools/environment.py
RUN := "$(BIN)/python"
GYROCHALK := "$(BIN)/gyrochalk"
SHOWN := src tests tools
# A test that hangs fails after five minutes, with what it was doing; the others go on.
PYTEST := $(RUN) -m pytest -q -n auto -m "not evidence" --timeout=300

.DEFAULT_GOAL := help
.PHONY: help setup run lesson test bounds coverage check format evidence pins wheel clean

help:  ## this index
	@sed -n 's/^\([a-z]*\): .*## \(.*\)/make \1\t\2/p' $(MAKEFILE_LIST) | expand -t 16
	@echo
	@echo "PYTHON=python3.12 make ...   uses another interpreter, 3.11 or later"

setup: environment-develop  ## the environment for work on the code (the other targets call it themselves)

run: lesson  ## set up, check and build the demo lesson, print its claims, serve it at the address printed
	@$(GYROCHALK) serve $(COURSE)

lesson: environment-run  ## the same without serving
	@cd $(COURSE) && $(GYROCHALK) check
	@cd $(COURSE) && $(GYROCHALK) build

test: environment-develop  ## the tests; TESTS=tests/units and PYTEST_ARGS=-x narrow them
	@$(PYTEST) $(PYTEST_ARGS) $(TESTS)

bounds: environment-develop  ## the tests of the compiled kernels once more, with array bounds checked
	@NUMBA_BOUNDSCHECK=1 NUMBA_CACHE_DIR="$(CURDIR)/build/numba-bounds" \
	  $(PYTEST) $(PYTEST_ARGS) tests/physics tests/systems

coverage: environment-develop  ## the tests with the lines they reach counted (compiled kernels are not)
	@$(PYTEST) --cov=gyrochalk --cov-report=term-missing:skip-covered $(TESTS)

check: environment-develop  ## format, lint, types, layers
	@$(RUN) -m ruff format --check $(SHOWN)
	@$(RUN) -m ruff check $(SHOWN)
	@$(RUN) -m mypy $(SHOWN)
	@"$(BIN)/lint-imports" --no-cache

format: environment-develop  ## format the code and mend what the linter can
	@$(RUN) -m ruff format $(SHOWN)
	@$(RUN) -m ruff check --fix $(SHOWN)

evidence: environment-develop  ## what is too slow for `make test`, one row a line; FOR=lesson names the topic
	@$(RUN) -m tools.evidence $(FOR)

pins:  ## write the pinned, hashed requirement files anew; ARGS=--upgrade takes newer releases
	@$(PYTHON) -m tools.pins $(ARGS)

wheel: environment-develop  ## source and binary distribution, the latter tried in an empty environment
	@$(RUN) -m tools.distribution

clean:  ## remove what was built and cached here (the environment stays)
	@$(PYTHON) -m tools.cleaning

.PHONY: environment-run environment-develop
environment-run:
	@$(ENVIRONMENT) run
environment-develop:
	@$(ENVIRONMENT) develop
