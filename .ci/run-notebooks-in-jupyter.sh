#!/usr/bin/env bash
# Executes notebooks under Debian's Jupyter with the project's own kernel and, for comparison, by the project's own
# runner; both results must be valid to the reference implementation of the format and print the same text.
# usage: .ci/run-notebooks-in-jupyter.sh [NOTEBOOK...]   (after the build; all in notebooks/ and the small one of the
# tests unless given). Needs jupyter-nbconvert and python3-nbformat.
set -euo pipefail
root=$(cd "$(dirname "$0")/.." && pwd)
cd "$root"
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
mkdir -p "$out"/{config,data,runtime}

# The path must be absolute: from a relative one the kernel is listed and cannot be started.
export JUPYTER_PATH="$root/.jupyter" JUPYTER_CONFIG_DIR="$out/config" JUPYTER_DATA_DIR="$out/data" \
  JUPYTER_RUNTIME_DIR="$out/runtime" TZ=UTC

shopt -s nullglob
given=("$@")
[ ${#given[@]} -gt 0 ] || given=(notebooks/*.ipynb tests/notebook/small.ipynb)

for notebook in "${given[@]}"; do
  name=$(basename "$notebook" .ipynb)
  jupyter nbconvert --to notebook --execute "$notebook" --output "$out/$name.jupyter.ipynb" --ExecutePreprocessor.timeout=600
  node .ci/run-notebook.cjs "$notebook" "$out/$name.own.ipynb"
  /usr/bin/python3 .ci/validate-notebooks.py "$notebook" "$out/$name.jupyter.ipynb" "$out/$name.own.ipynb"
  node .ci/compare-outputs.cjs "$out/$name.jupyter.ipynb" "$out/$name.own.ipynb"
done

# A failing notebook fails in Jupyter too, and says why.
if jupyter nbconvert --to notebook --execute tests/notebook/failing.ipynb --output "$out/failing.ipynb" 2> "$out/reason"; then
  echo "a failing notebook passed in Jupyter" >&2
  exit 1
fi
grep -q "RangeError: out of range" "$out/reason" || { cat "$out/reason" >&2; exit 1; }
echo "notebooks run in Jupyter: ${#given[@]}"
