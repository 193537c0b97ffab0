# shellcheck shell=bash
# Functions that get a machine ready. Sourced by the other scripts; does nothing by itself.

say() { printf '%s\n' "$*" >&2; }

# The packages among the given ones that are not there. A Node that came from elsewhere than Debian counts as there,
# and so does its npm: Debian's npm would not go beside it.
missing_packages() {
    local package
    for package in "$@"; do
        case "$package" in
        nodejs) command -v node >/dev/null && continue ;;
        npm) command -v npm >/dev/null && continue ;;
        esac
        [ "$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null)" = installed ] || printf '%s\n' "$package"
    done
}

# Installs what is missing of the given packages. No network is used when nothing is.
install_missing() {
    command -v dpkg-query >/dev/null || {
        say "This script sets up Debian 12, and this system has no dpkg. Install by hand what is listed in tools/packages.sh,"
        say "then build with: cmake -B build -DCMAKE_BUILD_TYPE=Release && cmake --build build"
        return 1
    }
    local missing
    mapfile -t missing < <(missing_packages "$@")
    [ "${#missing[@]}" -gt 0 ] || return 0
    local as_root=()
    if [ "$(id -u)" -ne 0 ]; then
        if command -v sudo >/dev/null && { sudo -n true 2>/dev/null || [ -t 0 ]; }; then
            as_root=(sudo)
        else
            say "These Debian packages are missing, and installing them takes rights that $(id -un) does not have here:"
            say "  ${missing[*]}"
            say "Run this script as root or with sudo, or have somebody run: apt-get install ${missing[*]}"
            return 1
        fi
    fi
    say "Installing: ${missing[*]}"
    local apt=("${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -y -q -o Acquire::Retries=3 -o DPkg::Lock::Timeout=300)
    "${apt[@]}" update </dev/null >&2 || say "The package lists could not be refreshed; trying with the ones that are here."
    "${apt[@]}" install --no-install-recommends "${missing[@]}" </dev/null >&2 || {
        say "The packages above could not be installed. What apt-get printed says why; mend that and run this script again."
        return 1
    }
}

# How to build, said once for all scripts: every core, Ninja, and ccache where there is one.
use_every_core() {
    local cores
    cores="$(nproc)"
    export CMAKE_GENERATOR=Ninja
    export CMAKE_BUILD_PARALLEL_LEVEL="${CMAKE_BUILD_PARALLEL_LEVEL:-$cores}"
    export CTEST_PARALLEL_LEVEL="${CTEST_PARALLEL_LEVEL:-$cores}"
    if command -v ccache >/dev/null; then
        export CMAKE_CXX_COMPILER_LAUNCHER=ccache
    fi
}

# Our C++ sources whose names match the pattern, sorted.
our_sources() {
    find dsp src tests tools -name node_modules -prune -o -name "$1" -print | sort
}
