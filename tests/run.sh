#!/usr/bin/env bash
# Installs what the tests need, builds, and runs every test:
#   1  the release build, warnings as errors: all tests, then those against a sound server and a
#      display, one at a time; the Debian package and the start script
#   2  address and undefined-behaviour sanitizers of clang over everything that has no window, but
#      for tests that take over a second in the release build
#   3  arbitrary bytes given to the readers of recordings, plans and files handed over (same build)
#   4  the thread sanitizer over what has threads
# The tests of the first part that wait for sound and windows leave the processors idle: meanwhile
# the builds for the other parts are made, with what the tests leave.
# The last line is "N passed, N failed"; the exit status is 0 when none failed.
#
#   bash tests/run.sh            all of it
#   bash tests/run.sh --quick    the first part alone, without the tests against the system
set -u

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
build=${HOLDWELL_BUILD:-$root/build-tests}
mkdir -p "$build" || exit 1
log=$build/log.txt
: >"$log"
# shellcheck source=app/packages.sh
source "$root/app/packages.sh"

passed=0
failed=0
quick=
[ "${1:-}" = --quick ] && quick=yes
processors=$(nproc 2>/dev/null || echo 2)

say() { printf '%s\n' "$*" | tee -a "$log"; }

# count PASSED FAILED WHAT: adds to the totals and says so.
count() {
    passed=$((passed + $1))
    failed=$((failed + $2))
    say "$3: $1 passed, $2 failed ($((SECONDS - stage_began)) s)"
    stage_began=$SECONDS
}

# check WHAT COMMAND...: one test case.
check() {
    local what=$1
    shift
    if "$@" >>"$log" 2>&1; then count 1 0 "$what"; else
        tail -n 20 "$log"
        count 0 1 "$what"
    fi
}

stop_display() {
    [ -z "${xvfb:-}" ] || kill "$xvfb" 2>/dev/null
}
trap stop_display EXIT

finish() {
    say ""
    say "$passed passed, $failed failed"
    [ "$failed" -eq 0 ]
    exit
}

# configure NAME -D...: makes $build/NAME ready.
configure() {
    local name=$1
    shift
    local launcher=()
    command -v ccache >/dev/null && launcher=(-DCMAKE_CXX_COMPILER_LAUNCHER=ccache)
    cmake -S "$root" -B "$build/$name" -G Ninja "${launcher[@]}" "$@" >>"$build/$name.txt" 2>&1
}

# build_in NAME TARGET...: builds $build/NAME.
build_in() {
    local name=$1
    shift
    $steady cmake --build "$build/$name" --target "$@" >>"$build/$name.txt" 2>&1
}

# failed_build NAME: says what went wrong.
failed_build() {
    grep -E -A 12 'error|FAILED|CMake Error' "$build/$1.txt" | head -n 60
    count 0 1 "building $1"
}

# run_tests NAME WHAT CTEST-ARGUMENT...: runs and counts the test cases of $build/NAME.
run_tests() {
    local name=$1 what=$2 summary bad all
    shift 2
    $steady ctest --test-dir "$build/$name" --output-on-failure "$@" >"$build/$name-tests.txt" 2>&1
    cat "$build/$name-tests.txt" >>"$log"
    summary=$(grep -E 'tests passed, [0-9]+ tests failed out of [0-9]+' "$build/$name-tests.txt")
    bad=$(sed -E 's/.* ([0-9]+) tests failed out of ([0-9]+).*/\1/' <<<"$summary")
    all=$(sed -E 's/.* ([0-9]+) tests failed out of ([0-9]+).*/\2/' <<<"$summary")
    if [ -z "$summary" ]; then
        tail -n 20 "$build/$name-tests.txt"
        count 0 1 "$what"
        return
    fi
    [ "$bad" -eq 0 ] || grep -E 'ERROR:|FATAL|Sanitizer|\*\*\*|^[[:space:]]+[0-9]+ - ' \
        "$build/$name-tests.txt" | head -n 60
    count $((all - bad)) "$bad" "$what"
}

# slow_tests SECONDS: an expression for the names of those that just took longer in the release
# build. They judge by large galleries of sounds what smaller tests run through as well, and would
# take the sanitizers minutes.
slow_tests() {
    sed -nE 's/^ *[0-9]+\/[0-9]+ Test +#[0-9]+: (.*[^ .]) \.+ +Passed +([0-9.]+) sec$/\2 \1/p' \
        "$build/release-tests.txt" |
        awk -v longest="$1" '$1 > longest { sub(/^[0-9.]+ /, ""); print }' |
        sed -E 's/[][().*+?^${}|\\]/./g; s/^/^/; s/$/$/' | paste -sd '|'
}

# The thread sanitizer of this compiler generation does not bear random addresses of many bits.
steady=
setarch "$(uname -m)" -R true 2>/dev/null && steady="setarch $(uname -m) -R"

start_display() {
    local number=$build/display.txt
    : >"$number"
    Xvfb -displayfd 7 -screen 0 1280x800x24 -nolisten tcp +extension GLX +render -noreset \
        7>"$number" >>"$log" 2>&1 &
    xvfb=$!
    for _ in $(seq 100); do
        [ -s "$number" ] && break
        sleep 0.1
    done
    DISPLAY=:$(cat "$number")
    export DISPLAY
    unset WAYLAND_DISPLAY
}

# ---- what is needed ---------------------------------------------------------------------------
stage_began=$SECONDS
if ! install_missing build run test; then
    tail -n 20 "$log"
    count 0 1 "installing packages"
    finish
fi
say "Packages are there ($((SECONDS - stage_began)) s)."
stage_began=$SECONDS
start_display

# ---- 1 the release build ----------------------------------------------------------------------
: >"$build/release.txt"
configure release -DCMAKE_BUILD_TYPE=Release -DHOLDWELL_WERROR=ON
if ! build_in release all; then
    failed_build release
    finish
fi
say "Built ($((SECONDS - stage_began)) s)."
stage_began=$SECONDS
run_tests release "tests" -j "$processors" -E '_system_tests:|^window:'
slow=$(slow_tests 1)
[ -n "$quick" ] && finish

# ---- what the other parts need, made while the system's tests wait ------------------------------
sound_and_files="support;dsp;app/engine;app/audio;app/files"
without_window="$sound_and_files;app/cli;app/practice;app/store;app/office"
with_threads="support;app/base;app/engine;app/audio;app/office;app/cli"
thread_programs="base_tests engine_tests audio_tests office_tests cli_tests"
sanitized=(-DCMAKE_BUILD_TYPE=None "-DCMAKE_CXX_FLAGS=-O0 -g1" -DHOLDWELL_WINDOW=OFF)

# make_grouped NAME TARGETS -D...: several files of a library at a time; one by one if that fails.
make_grouped() {
    local name=$1 targets=$2 grouped
    shift 2
    : >"$build/$name.txt"
    for grouped in ON OFF; do
        # shellcheck disable=SC2086  # a list of words
        configure "$name" "${sanitized[@]}" -DHOLDWELL_GROUPED=$grouped "$@" &&
            build_in "$name" $targets && return 0
        echo "Building $name failed with HOLDWELL_GROUPED=$grouped."
    done
    return 1
}
make_the_others() {
    # Idle class: a test that wants a processor has it at once.
    chrt --idle --pid 0 "$BASHPID" || renice 19 "$BASHPID"
    make_grouped address all -DHOLDWELL_SANITIZE=address,undefined \
        -DCMAKE_CXX_COMPILER=clang++ -DHOLDWELL_FUZZ=ON \
        "-DHOLDWELL_TEST_FOLDERS=$without_window;fuzz"
    echo $? >"$build/address.made"
    # By g++: the runtime of clang does not bear the tests' own operator new.
    make_grouped thread "$thread_programs" -DHOLDWELL_SANITIZE=thread \
        "-DHOLDWELL_TEST_FOLDERS=$with_threads"
    echo $? >"$build/thread.made"
}
rm -f "$build/address.made" "$build/thread.made"
make_the_others >>"$log" 2>&1 &
others=$!

run_tests release "tests against a sound server and a display" -j 1 -R '_system_tests:|^window:'
check "the Debian package" bash "$root/tests/system/package.sh" "$build/release"
check "no command on records opens a socket" \
    bash "$root/tests/system/no_network.sh" "$build/release"
check "the installation of packages" bash "$root/tests/system/packages.sh"
check "the start script" bash "$root/tests/system/start.sh" "$build/release"
wait "$others"
cat "$build/address.txt" "$build/thread.txt" >>"$log"
say "Built the others ($((SECONDS - stage_began)) s more)."
stage_began=$SECONDS

# ---- 2 address and undefined behaviour ----------------------------------------------------------
if [ "$(cat "$build/address.made")" -eq 0 ]; then
    export UBSAN_OPTIONS=halt_on_error=1:print_stacktrace=1
    run_tests address "tests under the address and undefined-behaviour sanitizers" \
        -j "$processors" -E "${slow:-^$}"
else
    failed_build address
fi

# ---- 3 arbitrary bytes --------------------------------------------------------------------------
# fuzz TARGET SECONDS [LONGEST]: from the files in $build/corpus-TARGET; LONGEST in bytes.
fuzz() {
    (cd "$build" && "$build/address/tests/fuzz/$1" -max_total_time="$2" -max_len="${3:-4096}" \
        -rss_limit_mb=1024 -timeout=10 -print_final_stats=1 "corpus-$1")
}
fuzz_recordings() {
    local corpus=$build/corpus-recording_fuzz
    rm -rf "$corpus" && mkdir -p "$corpus" || return 1
    "$build/address/tests/fuzz/make_corpus" "$corpus" && fuzz recording_fuzz 12
}
fuzz_plans() {
    local corpus=$build/corpus-plan_fuzz
    rm -rf "$corpus" && mkdir -p "$corpus" || return 1
    cp "$root"/assets/plans/*.json "$corpus" && fuzz plan_fuzz 6
}
fuzz_handed_over() {
    local practices=$build/corpus-practice_file_fuzz sealed=$build/corpus-sealed_file_fuzz
    rm -rf "$practices" "$sealed" && mkdir -p "$practices" "$sealed" || return 1
    "$build/address/tests/fuzz/make_practice_corpus" "$practices" "$sealed" &&
        fuzz practice_file_fuzz 6 20000 && fuzz sealed_file_fuzz 6
}
# Two at a time, as each keeps one processor busy.
if [ "$(cat "$build/address.made")" -eq 0 ]; then
    fuzz_recordings >"$build/fuzz-recordings.txt" 2>&1 &
    recordings=$!
    check "arbitrary bytes given to the reader of plans" fuzz_plans
    check "arbitrary bytes given to the readers of practice files and sealed files" fuzz_handed_over
    wait "$recordings"
    check "arbitrary bytes given to the reader of recordings" \
        sh -c "cat '$build/fuzz-recordings.txt'; exit $?"
fi

# ---- 4 threads ----------------------------------------------------------------------------------
if [ "$(cat "$build/thread.made")" -eq 0 ]; then
    export TSAN_OPTIONS=halt_on_error=1
    run_tests thread "tests under the thread sanitizer" -j "$processors" -R ':threads: '
else
    failed_build thread
fi

finish
