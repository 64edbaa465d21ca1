#!/bin/sh
# same-figure.sh PROGRAM SOLIDS SVG: the committed figure is what the program draws, byte for byte, in any locale.
set -eu
out=$(mktemp)
trap 'rm -f "$out"' EXIT
"$1" draw "$2" -o "$out"
cmp "$out" "$3"
"$1" slides "$2" | grep -qx 'body-behind 0,0'
if "$1" draw /nowhere.xml 2>/dev/null; then echo "a missing file is not refused"; exit 1; fi
