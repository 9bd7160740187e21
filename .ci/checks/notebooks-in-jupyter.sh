#!/usr/bin/env bash
set -euo pipefail
bash .ci/run-notebooks-in-jupyter.sh
# What notebooks wrote by hand is no issue, and no fault of those issued.
node dist/cli.js audit
