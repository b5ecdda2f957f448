#!/usr/bin/env bash
# Builds everything and runs every test; closes with "N passed, N failed".
# --long adds the simulations and drills and writes their figures to docs/.
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")"
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1
# programs that run for minutes: measuring code to compile it once more costs more than it gives back
export DOTNET_TieredPGO=0

long=no
for word in "$@"; do
    case $word in
        --long) long=yes ;;
        *) echo "\"$word\" is not known here; the only option is --long." >&2; exit 2 ;;
    esac
done

install_missing() {
    local missing=()
    command -v chromium >/dev/null 2>&1 || command -v chromium-browser >/dev/null 2>&1 || missing+=(chromium)
    compgen -G '/usr/lib/postgresql/*/bin/initdb' >/dev/null || missing+=(postgresql)
    [ ${#missing[@]} -eq 0 ] && return 0
    local as=()
    if [ "$(id -u)" -ne 0 ]; then
        command -v sudo >/dev/null 2>&1 || { echo "The tests need ${missing[*]}. Install them (Debian: apt-get install ${missing[*]}), then call this again." >&2; return 1; }
        as=(sudo)
    fi
    if ! command -v apt-get >/dev/null 2>&1; then
        echo "The tests need ${missing[*]}. Install them, then call this again." >&2
        return 1
    fi
    echo "Installing ${missing[*]} for the tests"
    local log
    log=$(mktemp)
    if ! { "${as[@]}" apt-get update -qq && DEBIAN_FRONTEND=noninteractive "${as[@]}" apt-get install -y -qq --no-install-recommends "${missing[@]}"; } >"$log" 2>&1 </dev/null; then
        cat "$log" >&2
        return 1
    fi
    rm -f "$log"
}

# The closing line stands whatever happened before it.
give_up() {
    echo "$1" >&2
    echo "0 passed, 1 failed"
    exit 1
}

# One build at a time in this checkout; ./knownwater waits for the same lock. No build server inherits it.
build() {
    mkdir -p artifacts
    exec 9>artifacts/build.lock
    if command -v flock >/dev/null 2>&1; then
        flock 9
    fi
    dotnet restore --locked-mode -v quiet 9>&- && dotnet build -c Release --no-restore -nologo -v quiet 9>&- || return 1
    exec 9>&-
}

install_missing || give_up "What the tests need could not be installed; the reason stands above."
command -v dotnet >/dev/null 2>&1 || give_up "The .NET 10 SDK is not on the path. Install it, then call this again."
build || give_up "The build failed; what it printed stands above."

report=$(mktemp)
trap 'rm -f "$report"' EXIT
dotnet test -c Release --no-build --max-parallel-test-modules 2 2>&1 | tee "$report"
outcome=${PIPESTATUS[0]}
passed=$(awk '/^ +succeeded:/ {n = $2} END {print n + 0}' "$report")
failed=$(awk '/^ +failed:/ {n = $2} END {print n + 0}' "$report")
skipped=$(awk '/^ +skipped:/ {n = $2} END {print n + 0}' "$report")

if [ "$long" = yes ]; then
    echo "Simulations"
    for simulation in operating-characteristics levels digits intervals comparison hand-kits same-water faults drift-study demo-seeds; do
        if ! dotnet run -c Release --no-build --project bench/Knownwater.Benchmarks -- "$simulation" --out docs/reference; then
            failed=$((failed + 1))
            outcome=1
        fi
    done
fi

if [ "$outcome" -ne 0 ] && [ "$failed" -eq 0 ]; then
    failed=1
fi
[ "$passed" -gt 0 ] || outcome=1
if [ "$skipped" -ne 0 ]; then
    grep -E '^ *skipped ' "$report" | grep -vE '^ *skipped:' | sort -u
    echo "$skipped skipped, named above"
fi
echo "$passed passed, $failed failed"
exit "$outcome"
