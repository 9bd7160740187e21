#!/usr/bin/env bash
# The newest issued report in headless Chromium: every figure is drawn, nothing is fetched, the page prints to A4.
set -euo pipefail
report=$(ls -d reports/zircon-pigment/[0-9]*/report.html | tail -n 1)
page=$(mktemp -d)
flags=(--headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking
  --disable-component-update --disable-sync "--user-data-dir=$page/profile")
chromium "${flags[@]}" --virtual-time-budget=20000 --dump-dom "file://$PWD/$report" >"$page/dom.html" 2>/dev/null
figures=$(grep -o '<figure' "$page/dom.html" | wc -l)
drawn=$(grep -o 'data-drawn="yes"' "$page/dom.html" | wc -l)
chromium "${flags[@]}" --virtual-time-budget=20000 --no-pdf-header-footer "--print-to-pdf=$page/report.pdf" "file://$PWD/$report" >/dev/null 2>&1
size=$(head -c 5 "$page/report.pdf")
rm -rf "$page"
echo "$report: $drawn of $figures figures drawn"
[ "$figures" -gt 20 ] && [ "$drawn" -eq "$figures" ] && [ "$size" = "%PDF-" ]
