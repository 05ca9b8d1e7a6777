# make run: the first page. make test: everything, as CI does it. make check: the quick part. make bench: speed. faults: kill -9 and the like.
.POSIX:
PYTHON = python3
VENV = .venv
BIN = $(VENV)/bin
RUN = $(VENV)/.run
DEV = $(VENV)/.dev
SOLVER = $(VENV)/.solver

run: $(RUN)
	@$(BIN)/python -m webapp serve

install: $(DEV)

test: $(DEV)
	@sh tests/prepare.sh
	@$(MAKE) --no-print-directory lint
	@$(BIN)/python -m pytest -n auto --maxprocesses 4 --dist loadfile --no-loadscope-reorder

check: $(DEV) lint
	@$(BIN)/python -m pytest -m "not browser and not postgres"

lint: $(DEV)
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check .
	@$(BIN)/mypy

bench: $(SOLVER)
	@for file in $$(grep -l "^if __name__" tests/speed/*.py); do $(BIN)/python $$file; done

faults: $(DEV)
	@sh tests/prepare.sh strace
	@$(BIN)/python -m tests.faults

$(VENV)/bin/python:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "Benchtide needs Python 3.11 or newer: make PYTHON=python3.12 run"; exit 1; }
	@$(PYTHON) -m venv $(VENV) || { rm -rf $(VENV); echo "This Python cannot make a venv. On Debian: apt install python3-venv"; exit 1; }

$(RUN): pyproject.toml $(VENV)/bin/python
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check $$($(BIN)/python .ci/requirements.py)
	@touch $(RUN)

$(DEV): $(RUN)
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check $$($(BIN)/python .ci/requirements.py dev)
	@touch $(DEV)

$(SOLVER): $(DEV)
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check $$($(BIN)/python .ci/requirements.py solver)
	@touch $(SOLVER)

.PHONY: run install test check lint bench faults
