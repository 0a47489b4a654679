# Each target does its own set-up: see .ci/setup. PYTHON=/path/to/python chooses the interpreter for a new .venv.
.PHONY: run test ready collect lint coverage bench soak docs clean

export PYTHON
# The tests start hundreds of programs: what was compiled once is kept, whatever this machine prefers.
unexport PYTHONDONTWRITEBYTECODE
BIN := .venv/bin
# Much of what the tests do is waiting; a file stays in one process, and those that wait come first.
TESTS := $(BIN)/pytest -n 3 --dist loadfile --no-loadscope-reorder

# With a display: the window. Without: a 40 s session on the virtual scales, and a picture of what was on the screen.
run:
	@sh .ci/setup run
	@$(BIN)/python -m weightshare.cli.demo

# The checks of types take one processor for as long as the collecting of the tests and then the documentation's site
# take the other; the tests themselves want both.
test: ready
	@$(MAKE) --no-print-directory -j 2 lint collect docs
	$(TESTS)

ready:
	@sh .ci/setup dev

# The tests are prepared once, and not by each process anew; what is wrong with them is told when they run.
collect: ready
	@$(BIN)/pytest --collect-only --quiet >/dev/null 2>&1 || true

lint: ready
	$(BIN)/ruff check
	$(BIN)/ruff format --check
	$(BIN)/mypy

# The same tests, and which lines they reach; takes longer.
coverage: ready
	$(TESTS) --cov --cov-report=term:skip-covered

# Speeds, as ratios within one run; on an otherwise idle machine. `make bench ONLY="cli decode"` picks some.
bench: ready
	$(BIN)/python tests/bench/run.py $(ONLY)

# The long run: twenty times as many random examples, and what is marked soak.
soak: ready
	SOAK_TIMES=20 $(BIN)/pytest -m "" --timeout 7200 tests/property tests/device tests/air tests/firmware tests/window

# The documentation as a site, in build/docs/index.html: strict, and nothing in it comes from a network.
docs:
	@sh .ci/setup run
	@$(BIN)/python -c "import sphinx, myst_parser, matplotlib" 2>/dev/null || \
		$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable ".[docs,plot]"
	$(BIN)/python -m sphinx -q -W --keep-going -b html -d build/doctrees -c docs/site . build/docs

clean:
	rm -rf .venv .mypy_cache .ruff_cache .pytest_cache .hypothesis .coverage build dist *.egg-info
