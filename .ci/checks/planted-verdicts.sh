#!/usr/bin/env bash
# A smaller version of `meltbook coverage --seeds 200`, with seeds that no test uses.
set -euo pipefail
node dist/cli.js coverage --seeds 20 --first 5001 2>/dev/null
node dist/cli.js coverage --seeds 5 --first 6001 --without-overlap --all-calcium-blanks 2>/dev/null
node dist/cli.js coverage --error-rates --seeds 500 --first 40001
