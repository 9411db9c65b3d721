# Two commands do all set-up: `make run` and `make test`.
PYTHON ?= python3
PORT ?= 8000
VENV := .venv
BIN := $(VENV)/bin
# `make run` needs the first: what the application runs on. The second adds the tests' tools and oracles.
RUNTIME := $(VENV)/.runtime
STAMP := $(VENV)/.installed
PIP := $(BIN)/python -m pip install --quiet --disable-pip-version-check --no-compile --constraint constraints.txt
WORKERS ?= 2
export OMP_NUM_THREADS ?= 1
export OPENBLAS_NUM_THREADS ?= 1

.PHONY: container run test lint types checks unit browser coverage audit postgres fuzz calibrate bench shots clean

$(BIN)/python:
	bash -c '. .ci/need && need_python'
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip uninstall --quiet --yes setuptools  # 10 MB that Python 3.11 adds and nothing running needs

$(RUNTIME): pyproject.toml constraints.txt | $(BIN)/python
	$(PIP) --editable .
	touch $(RUNTIME)

$(STAMP): pyproject.toml constraints.txt | $(BIN)/python
	$(PIP) --editable ".[dev,oracles]"
	touch $(RUNTIME) $(STAMP)

run: export DJANGO_DEBUG = 1
run: $(RUNTIME)
	$(BIN)/python manage.py migrate --verbosity 0
	$(BIN)/python manage.py apply_erasures
	$(BIN)/python manage.py load_demo
	@echo "Open http://localhost:$(PORT)/ (stop with Ctrl-C)"
	$(BIN)/python manage.py serve_demo localhost:$(PORT)

test: lint checks unit browser

lint: $(STAMP)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/lint-imports
	$(BIN)/djlint --lint --quiet athletes analysis
	$(BIN)/biome lint --error-on-warnings athletes analysis
	DJANGO_DEBUG=1 $(BIN)/mypy

checks: $(STAMP)
	DJANGO_DEBUG=1 $(BIN)/python manage.py makemigrations --check --dry-run
	DJANGO_SECRET_KEY=$$($(BIN)/python -c 'import secrets; print(secrets.token_urlsafe(60))') DJANGO_ALLOWED_HOSTS=stancebook.example DATABASE_URL=sqlite://:memory: \
		$(BIN)/python manage.py check --deploy --fail-level WARNING

unit: export DJANGO_DEBUG = 1
unit: $(STAMP)
	$(BIN)/python -m pytest -n $(WORKERS) --dist loadfile tests --ignore=tests/browser

browser: export DJANGO_DEBUG = 1
browser: $(STAMP)
	bash -c '. .ci/need && need_browser'
	$(BIN)/python -m pytest -n $(WORKERS) --dist loadfile tests/browser

# The unit tests once more with every line counted; fails under the floors of tests/coverage_floors.toml.
# Apart from `make test`, because counting makes them half as long again.
coverage: export DJANGO_DEBUG = 1
coverage: $(STAMP)
	$(BIN)/coverage erase
	$(BIN)/coverage run -m pytest -n $(WORKERS) --dist loadfile tests --ignore=tests/browser
	$(BIN)/coverage combine --quiet
	$(BIN)/python -m tests.coverage_floors

# The steps of docs/deploy/Containerfile in a folder of their own, without containers: installs, collects, answers.
container: $(BIN)/python
	rm -rf var/container && mkdir -p var/container
	sh docs/deploy/build.sh $(CURDIR)/var/container/app $(CURDIR)
	cd var/container && STANCEBOOK_VAR=$(CURDIR)/var/container/data DJANGO_SETTINGS_MODULE=config.settings app/bin/python -m django migrate --verbosity 0
	ls var/container/app/static/web > var/container/files && grep -q '^base\..*css' var/container/files
	rm -rf var/container build

audit: $(STAMP)
	$(PIP) --editable ".[audit]"
	$(BIN)/python .ci/audit.py

postgres: export DJANGO_DEBUG = 1
postgres: $(STAMP)
	test -n "$(DATABASE_URL)"
	$(BIN)/python -m pytest -n $(WORKERS) --dist loadfile tests/athletes tests/analysis

# New random examples for every test of free input, ROUNDS times over.
ROUNDS ?= 10
fuzz: export DJANGO_DEBUG = 1
fuzz: export STANCEBOOK_EXAMPLES = new
fuzz: $(STAMP)
	for round in $$(seq $(ROUNDS)); do $(BIN)/python -m pytest -n $(WORKERS) -m hypothesis tests --ignore=tests/browser || exit 1; done

calibrate: $(STAMP)
	for script in tests/benchmarks/calibrate_*.py tests/benchmarks/gate.py; do DJANGO_DEBUG=1 $(BIN)/python -m $$(echo $${script%.py} | tr / .) || exit 1; done

bench: $(STAMP)
	for script in tests/benchmarks/bench_*.py; do DJANGO_DEBUG=1 $(BIN)/python -m $$(echo $${script%.py} | tr / .) || exit 1; done

shots: export DJANGO_DEBUG = 1
shots: $(STAMP)
	$(BIN)/python -m tests.browser.take_shots

clean:
	rm -rf $(VENV) var staticfiles
