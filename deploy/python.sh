# Read by the scripts beside it: find a Python, install a lock file once, compile the search once.

find_python() {
    for name in ${PYTHON:-} python3 python3.14 python3.13 python3.12 python3.11; do
        if "$name" -c 'import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1; then
            command -v "$name"
            return 0
        fi
    done
    return 1
}

# install_locked PYTHON LOCK: make .venv and install the lock file, unless that was done before.
install_locked() {
    stamp=.venv/installed-$(basename "$2")
    if [ -x .venv/bin/python ] && cmp -s "$2" "$stamp" && .venv/bin/python -c '' 2>/dev/null; then
        return 0
    fi
    if ! .venv/bin/python -c 'import sys, pip; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1; then
        say "Making .venv with $("$1" --version) ..."
        "$1" -m venv --clear .venv >/dev/null ||
            fail "Could not make .venv with $1: the lines above say why."
    fi
    say "Installing what $2 names (a minute or two, the first time only) ..."
    .venv/bin/python -m pip install --disable-pip-version-check --no-input --progress-bar off \
        --quiet --quiet --require-hashes -r "$2" ||
        fail "The packages of $2 could not be installed: the lines above say why. Is there a way to the package index? Run this again once there is."
    cp "$2" "$stamp"
}

# compile_search: compile the planner's search, unless that was done since its sources changed.
compile_search() {
    stamp=.venv/compiled
    if [ -e "$stamp" ] && [ -z "$(find dispatch/planner/core -name '*.py' -newer "$stamp")" ]; then
        return 0
    fi
    say "Compiling the planner's search (a minute or two, the first time only) ..."
    .venv/bin/python -m dispatch.planner.prepare ||
        fail "The planner's search could not be compiled: the lines above say why."
    touch "$stamp"
}
