# Three commands matter: `make site`, `make test`, `make preview`. Nothing here writes outside this folder, except
# that root on Debian or Ubuntu gets the few native packages below by itself.

PYTHON ?= python3
BIN := .venv/bin
SITE ?= site

# What a machine may lack, and the package that has it.
CAIRO := "$(BIN)/python" -c "import cairosvg" >/dev/null 2>&1
CHROMIUM := command -v chromium >/dev/null 2>&1 || command -v chromium-browser >/dev/null 2>&1
define fetch
if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then \
  export DEBIAN_FRONTEND=noninteractive; \
  apt-get install -y -qq $(1) >/dev/null 2>&1 || { apt-get update -qq >/dev/null 2>&1; apt-get install -y -qq $(1) >/dev/null 2>&1; } || true; \
fi
endef

.PHONY: help site test check preview bench fuzz clean native native-test

help:
	@echo "make site      set up, and build the demo studio into site/"
	@echo "make test      set up everything the tests need, and run them all"
	@echo "make check     types and style only"
	@echo "make preview   write with the page beside you"
	@echo "make bench     the figures"
	@echo "make fuzz      long random tests"

site: .venv/.ready native
	@$(BIN)/spiralbound publish --content content --out $(SITE)
	@echo "The site is in $(SITE)/. Open $(CURDIR)/$(SITE)/index.html in a browser."

test: .venv/.ready-test native native-test check
	$(BIN)/python -m pytest -n 2

check: .venv/.ready-test
	$(BIN)/mypy
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .

preview: .venv/.ready native
	@$(BIN)/spiralbound preview

bench: .venv/.ready-test native native-test
	$(BIN)/python -m tests.bench

fuzz: .venv/.ready-test
	HYPOTHESIS_PROFILE=long $(BIN)/python -m pytest -k "property or never" -n 2
	$(BIN)/python tests/fuzz/guided.py $(MINUTES)

.venv/bin/python:
	@"$(PYTHON)" -c "import sys; sys.exit(sys.version_info < (3, 11))" || { echo "Python 3.11 or newer is needed; make PYTHON=... names another one"; exit 1; }
	@"$(PYTHON)" -m venv .venv || { rm -rf .venv; $(call fetch,python3-venv); "$(PYTHON)" -m venv .venv; }

.venv/.ready: pyproject.toml | .venv/bin/python
	@echo "Setting up .venv ..."
	@$(BIN)/python -m pip install -qq -e .
	@touch $@

.venv/.ready-test: pyproject.toml | .venv/bin/python
	@echo "Setting up .venv with what the tests need ..."
	@$(BIN)/python -m pip install -qq -e ".[test]"
	@if [ -f tests/browser/package.json ] && command -v npm >/dev/null 2>&1; then \
	  npm install --silent --no-package-lock --no-audit --no-fund --prefix tests/browser || echo "the page checkers from npm are not there; their tests will say so"; fi
	@touch $@ .venv/.ready

# Pictures as PNG need the cairo library. Without it everything else is still built.
native: .venv/.ready
	@$(CAIRO) || { $(call fetch,libcairo2); }
	@$(CAIRO) || echo "The cairo library is not installed, so no PNG pictures are made. It is called libcairo2 on Debian and Ubuntu, cairo in Homebrew, Fedora and Arch."

native-test: .venv/.ready-test
	@$(CHROMIUM) || { $(call fetch,chromium); }
	@command -v pdftotext >/dev/null 2>&1 || { $(call fetch,poppler-utils); }
	@command -v java >/dev/null 2>&1 || { $(call fetch,default-jre-headless); }

clean:
	rm -rf .venv build dist .mypy_cache .ruff_cache .pytest_cache
