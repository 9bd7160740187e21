"""Judges notebook files by the reference implementation of the format: validate-notebooks.py FILE...

Needs Debian's python3-nbformat; call it with Debian's own interpreter, /usr/bin/python3.
"""
import sys

import nbformat

if len(sys.argv) < 2:
    sys.exit("no notebook given")
for path in sys.argv[1:]:
    with open(path, encoding="utf-8") as file:
        notebook = nbformat.reads(file.read(), as_version=nbformat.NO_CONVERT)
    if (notebook.nbformat, notebook.nbformat_minor) < (4, 5):
        sys.exit(f"{path}: format {notebook.nbformat}.{notebook.nbformat_minor}, expected 4.5")
    try:
        nbformat.validate(notebook)
    except nbformat.ValidationError as error:
        sys.exit(f"{path}: {error}")
    print(f"{path}: valid")
