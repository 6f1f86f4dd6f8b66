# The environment is .venv/ in this checkout; its two stamps say what is installed in it. PYTHON=... chooses another Python.

PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
SITE_READY := $(VENV)/ready-for-site
TOOLS_READY := $(VENV)/ready-for-tests
PINS := .ci/constraints.txt
INSTALL := $(BIN)/python -m pip install --quiet --disable-pip-version-check --constraint $(PINS)

.DEFAULT_GOAL := help
.PHONY: help ready site test check bench coverage-bench preview pins system-packages test-packages

help: ## Print this list.
	@awk -F ':.*## ' '/^[a-z-]+:.*## / { printf "make %-14s %s\n", $$1, $$2 }' $(MAKEFILE_LIST)

ready: $(SITE_READY) ## Set everything up that publishing needs, and publish nothing.

site: $(SITE_READY) ## Publish records/ as a site with PDFs: output/index.html.
	$(BIN)/inward publish

test: check test-packages ## Check the code, then run every test.
	$(BIN)/python -m pytest --numprocesses auto --dist loadscope --no-loadscope-reorder

check: $(TOOLS_READY) ## Check format, style, types and import rules of the code.
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(BIN)/lint-imports

bench: coverage-bench ## Measure coverage, then loading and publishing against the least that the libraries need.
	$(BIN)/python tests/bench/bench.py
	$(BIN)/python tests/bench/long_log.py

coverage-bench: $(TOOLS_READY) ## Measure how often intervals and bounds hold the truth: 10,000 sessions a row.
	$(BIN)/python tests/bench/interval_coverage.py
	$(BIN)/python tests/bench/wearer_coverage.py

preview: $(SITE_READY) ## Show records/ to this machine's browser while they are written; writes nothing.
	$(BIN)/inward preview

pins: ## Choose the newest versions anew and write them to .ci/constraints.txt.
	$(PYTHON) .ci/choose_versions.py $(PINS)

system-packages:
	@$(PYTHON) .ci/system_packages.py site

test-packages:
	@$(PYTHON) .ci/system_packages.py test

$(BIN)/python: | system-packages
	$(PYTHON) -m venv $(VENV)
	$(INSTALL) pip setuptools

$(SITE_READY): pyproject.toml $(PINS) $(BIN)/python | system-packages
	@# Without its long advice on editable installations.
	PYTHONWARNINGS=ignore $(INSTALL) --no-build-isolation --editable .
	@touch $@

$(TOOLS_READY): $(SITE_READY)
	$(INSTALL) --group test --group lint
	@touch $@
