#!/bin/sh
# One way in: sets up what is missing, then does what was asked. Everything it installs for the
# program goes into .venv and node_modules beside this file; system packages only where a tool
# of the system is missing (virtual environments, a browser for the tests).
set -eu
cd -- "$(dirname -- "$0")"

APP_LOCK=requirements/app.lock
DEV_LOCK=requirements/dev.lock
NODE_LOCK=requirements/node.lock
PARTS=src/buttonhole/web/static/parts
PY=.venv/bin/python
SPHINX="--quiet --fail-on-warning --keep-going -b html"

usage() {
    cat <<'TEXT'
usage: ./go demo | test | check | bench | docs

  demo    set up, load the demonstration and serve it; prints the address (Ctrl+C stops it)
  test    set up, browser included, and run the tests; further words go to pytest
  check   format, types, layers, dependencies, docstrings, forbidden words, documentation
  bench   run the comparisons in benchmarks/, or those named
  docs    build the documentation into docs/_build/html

For maintainers: setup (the program only), setup-dev, parts (front-end parts only), lock (needs uv).
TEXT
}

say() { printf '%s\n' "go: $*" >&2; }
die() { say "$*"; exit 1; }

# --- what the system must have -------------------------------------------------------------

system_packages() { # $1: what for; the rest: Debian package names
    reason=$1
    shift
    as_root=
    if [ "$(id -u)" -ne 0 ]; then
        if command -v sudo >/dev/null 2>&1; then as_root=sudo; else as_root=none; fi
    fi
    if ! command -v apt-get >/dev/null 2>&1 || [ "$as_root" = none ]; then
        die "$reason: please install these and start again: $*" \
            "(on Debian, as root: apt-get install $*)"
    fi
    say "$reason: installing $*"
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get -qq -o Acquire::Retries=3 update
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get -qq -y -o Acquire::Retries=3 \
        -o Dpkg::Use-Pty=0 --no-install-recommends install "$@" >/dev/null
}

find_python() {
    for candidate in "${BUTTONHOLE_PYTHON:-}" python3 python3.14 python3.13 python3.12 python3.11; do
        if [ -n "$candidate" ] && command -v "$candidate" >/dev/null 2>&1 &&
            "$candidate" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
            printf '%s' "$candidate"
            return
        fi
    done
    die "Python 3.11 or newer is needed and was not found (on Debian 12: apt-get install python3)"
}

# --- the environment of the program --------------------------------------------------------

virtual_environment() {
    # A folder that was moved or whose Python is gone can't be repaired, only made again.
    if [ -x "$PY" ] && "$PY" -c 'import pip, pathlib, sys
sys.exit(pathlib.Path(sys.prefix) != pathlib.Path(".venv").resolve())' 2>/dev/null; then
        return
    fi
    python=$(find_python)
    if ! "$python" -c 'import ensurepip, venv' 2>/dev/null; then
        system_packages "for a virtual environment" python3-venv
    fi
    say "making .venv with $("$python" --version)"
    rm -rf .venv
    "$python" -m venv .venv
}

stamp_of() { # one hash over the names and bytes of the files given
    "$PY" - "$@" <<'CODE'
import hashlib, pathlib, sys
total = hashlib.sha256(sys.version.encode())
for name in sys.argv[1:]:
    total.update(name.encode() + b"\0" + pathlib.Path(name).read_bytes())
print(total.hexdigest())
CODE
}

done_already() { [ -f ".venv/$1.stamp" ] && [ "$(cat ".venv/$1.stamp")" = "$2" ]; }

pip_install() {
    "$PY" -m pip --disable-pip-version-check install --quiet --quiet --no-input "$@"
}

install_locked() { # $1: name of the stamp, $2: lock file
    want=$(stamp_of "$2" pyproject.toml)
    if done_already "$1" "$want"; then return; fi
    say "installing the packages of $2, each checked against its hash"
    pip_install --only-binary :all: --require-hashes -r "$2"
    pip_install --no-deps --no-build-isolation --editable .
    printf '%s\n' "$want" >".venv/$1.stamp"
}

# --- front-end parts: by version and integrity, never committed -----------------------------

install_parts() {
    want=$(stamp_of package.json package-lock.json)
    if [ -d "$PARTS" ] && done_already parts "$want"; then return; fi
    if command -v npm >/dev/null 2>&1; then
        npm=npm
    else
        pip_install --only-binary :all: --require-hashes -r "$NODE_LOCK"
        PATH="$PWD/.venv/bin:$PATH"
        export PATH
        npm=.venv/bin/npm
    fi
    say "installing the front-end parts, each checked against its integrity"
    "$npm" ci --ignore-scripts --no-audit --no-fund --loglevel=error >/dev/null
    rm -rf "$PARTS"
    mkdir -p "$PARTS/htmx"
    cp node_modules/htmx.org/dist/htmx.min.js node_modules/htmx.org/LICENSE "$PARTS/htmx/"
    printf '%s\n' "$want" >.venv/parts.stamp
}

warm() {
    say "warming the compiled kernels (two minutes the first time, then at once)"
    "$PY" -c 'from buttonhole.weld import spot; from buttonhole.weld.arc import plug, seam; spot.warm(); plug.warm(); seam.warm()'
}

setup() {
    virtual_environment
    # With the developers' packages in place the program's own are there too, in the same versions.
    if ! done_already dev "$(stamp_of "$DEV_LOCK" pyproject.toml)"; then
        install_locked app "$APP_LOCK"
    fi
    install_parts
}

setup_dev() {
    virtual_environment
    install_locked dev "$DEV_LOCK"
    install_parts
}

browser() {
    # What drives the browser brings its own runtime, which a small system has no library for.
    if command -v chromium >/dev/null 2>&1 && "$PY" -m playwright --version >/dev/null 2>&1; then
        return
    fi
    system_packages "for the browser tests" chromium fonts-dejavu-core libatomic1
}

# --- what can be asked for -----------------------------------------------------------------

check() {
    setup_dev
    failed=
    for step in \
        "ruff check ." \
        "ruff format --check ." \
        "mypy" \
        "lint-imports --no-logo" \
        "deptry src" \
        "python -m buttonhole.sources.manifest --check" \
        "python checks/kernels.py" \
        "python checks/docstrings.py" \
        "python checks/length.py" \
        "python checks/sweep.py" \
        "python checks/messages.py templates tables web vehicle photo paper/figure" \
        "sphinx-build $SPHINX docs docs/_build/html"; do
        printf '\n--- %s\n' "$step"
        # shellcheck disable=SC2086 # the words of a step are meant to be split
        .venv/bin/$step || failed="$failed
  $step"
    done
    if [ -n "$failed" ]; then die "these checks failed:$failed"; fi
    printf '\nall checks passed\n'
}

run_tests() {
    setup_dev
    browser
    warm
    "$PY" -m pytest "$@"
}

lock() {
    command -v uv >/dev/null 2>&1 || die "uv is needed to lock (it is a maintainer's tool only)"
    cd requirements
    for name in app dev node; do
        say "locking $name"
        uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-header \
            --no-annotate --no-emit-index-url "$@" "$name.in" --output-file "$name.lock" >/dev/null
    done
}

case "${1:-}" in
demo)
    shift
    setup
    warm
    exec .venv/bin/buttonhole demo "$@"
    ;;
test)
    shift
    run_tests "$@"
    ;;
check) check ;;
bench)
    shift
    setup_dev
    warm
    # Not in the list: what fits constants. It takes long and is asked for by its name.
    if [ $# -eq 0 ]; then set -- start_up validate_spot validate_plug; fi
    for name in "$@"; do
        printf '\n--- benchmarks/%s.py\n' "$name"
        "$PY" -m "benchmarks.$name"
    done
    ;;
docs)
    setup_dev
    # shellcheck disable=SC2086 # words meant to be split
    .venv/bin/sphinx-build $SPHINX docs docs/_build/html
    say "open docs/_build/html/index.html"
    ;;
setup) setup ;;
setup-dev) setup_dev ;;
parts)
    virtual_environment
    install_parts
    ;;
lock)
    shift
    lock "$@"
    ;;
-h | --help | help) usage ;;
*)
    usage >&2
    exit 2
    ;;
esac
