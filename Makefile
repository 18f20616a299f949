# `make demo` plans the demo, `make test` proves the program; both set up .venv first if it is not there or not up to date.
# Needed beforehand: Python 3.11 or newer with its venv module, and make.

PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/.ready
PIP := $(BIN)/python -m pip install --quiet --disable-pip-version-check

.DEFAULT_GOAL := help
.PHONY: help demo demo-week test bench bench-full docs pictures sample clean

help:
	@echo "make demo    plan the demo and say where the results lie"
	@echo "make demo-week  play a week on it: what happens is recorded, the rest is planned again"
	@echo "make test    lint, types, import contracts and all tests"
	@echo "make bench   figures of the search beside what people would use instead, under ten minutes; bench-full takes many hours"
	@echo "make docs    the docs site, into build/site; make pictures takes its pictures from the demo"
	@echo "make sample  the rendered sample in reports/sample, from the demo"
	@echo "make clean   remove .venv, caches and build files; reports stay"

demo-week: $(READY)
	$(BIN)/python demo/week/week.py

demo: $(READY)
	$(BIN)/coatrun demo

test: $(READY)
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(BIN)/python -m pytest -n 2

# Nothing that is timed is a test. Benchmarks of one subject are named bench_*.py, so that plain pytest passes them by.
bench: $(READY)
	$(BIN)/python -m tests.benchmarks.run --short
	$(BIN)/python -m tests.benchmarks.published --short
	$(BIN)/python -m pytest -s -o python_files='bench_*.py' tests/benchmarks/bench_demo.py tests/benchmarks/bench_answers.py

bench-full: $(READY)
	$(BIN)/python -m tests.benchmarks.run --full
	$(BIN)/python -m tests.benchmarks.published
	$(BIN)/python -m tests.benchmarks.bench_replan
	$(BIN)/python -m pytest -s -o python_files='bench_*.py' tests/benchmarks

# Warnings are errors, as in the tests; nothing is fetched from elsewhere.
docs: $(READY)
	NO_MKDOCS_2_WARNING=1 $(BIN)/mkdocs build --strict -q -f scheduler/documents/site/mkdocs.yml
	@echo "build/site/index.html"

pictures: $(READY)
	$(BIN)/coatrun demo --out reports/pictures
	$(BIN)/python -m scheduler.documents.site.pictures reports/pictures

# The rendered sample that the README shows.
sample: $(READY)
	$(BIN)/coatrun demo --out reports/pictures
	$(BIN)/python demo/week/week.py --out reports/pictures-week > /dev/null
	$(BIN)/python -m scheduler.documents.site.sample reports/pictures demo/county reports/sample reports/pictures-week/choices-tuesday.html

clean:
	rm -rf $(VENV) .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache build dist *.egg-info
	find . -name __pycache__ -type d -prune -exec rm -rf {} +

# The stamp is touched last: a set-up that broke off starts again.
$(READY): requirements.txt pyproject.toml
	@$(PYTHON) -c 'import sys; sys.exit(None if sys.version_info >= (3, 11) else "Python 3.11 or newer is needed; say which with: make PYTHON=python3.12 demo")'
	$(PYTHON) -m venv $(VENV)
	$(PIP) --use-pep517 -r requirements.txt
	$(PIP) --no-deps --no-build-isolation --editable .
	@touch $@
