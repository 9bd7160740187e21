#!/usr/bin/env bash
set -euo pipefail
bash .ci/run-notebooks-in-jupyter.sh
