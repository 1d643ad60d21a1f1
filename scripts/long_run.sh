#!/usr/bin/env bash
# The long runs: millions of changed inputs for every reader, a thousand kills of a process
# that records. Prints what stands in docs/reliability.md; inputs that broke a reader are left
# in fuzz/artifacts, to be put into fuzz/corpus once mended.
#
# usage: scripts/long_run.sh [INPUTS] [SEED] [KILLS]
set -euo pipefail
cd "$(dirname "$0")/.."
inputs=${1:-10000000}
seed=${2:-$(date +%s)}
kills=${3:-1000}
# PROFILE=dev uses what is built already; the default is six times as fast.
profile=${PROFILE:-release}
echo "seed $seed"
cargo build --quiet --profile "$profile" --workspace --bins
folder=$profile
[ "$profile" = dev ] && folder=debug
"${CARGO_TARGET_DIR:-target}/$folder/long_run" "$inputs" "$seed" fuzz/artifacts
# What is killed waits for the disk, not for the processor: the usual build will do.
PHASEWRIGHT_KILLS=$kills cargo test --quiet --workspace --test model -- killed
echo "$kills kills: nothing confirmed was lost"
