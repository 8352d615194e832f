#!/usr/bin/env bash
# The long rounds of the tests of saving: kills (every run has 1,000 of each kind), several processes, the scripted day,
# the mutated files.
#   tests/persist/rounds.sh 10000
set -euo pipefail
cd "$(dirname "$0")/../.."
export TRIMSIDE_TEST_ROUNDS="${1:-10000}"
nice cargo test --release --test all -- --nocapture persist::kill persist::real soak fuzz
nice cargo test --release --test all -- --nocapture --ignored the_longest_list
