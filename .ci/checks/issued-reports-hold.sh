#!/usr/bin/env bash
set -euo pipefail
node dist/cli.js audit
