#!/bin/sh
# same-figure.sh PROGRAM SOLIDS SVG: the committed figure is what the program draws, byte for byte, with one root-level group for
# each region, in the order in which they hide one another; and it stays small enough to draw at once.
set -eu
out=$(mktemp)
regions=$(mktemp)
trap 'rm -f "$out" "$regions"' EXIT
"$1" draw "$2" -o "$out"
cmp "$out" "$3"
"$1" slides "$2" | cut -d ' ' -f 1 > "$regions"
sed -n 's/^  <g id="\([^"]*\)".*/\1/p' "$3" | grep -v '^axis-' | cmp - "$regions"
guides=$(sed -n 's/^  <g id="axis-\([^"]*\)" class="axis">$/\1/p' "$3")
test -n "$guides" || { echo "no axis line leads to any part"; exit 1; }
for guide in $guides; do
  grep -qx "$guide" "$regions" || { echo "axis lines lead to $guide, which is no region"; exit 1; }
done
"$1" slides "$2" | grep -q ' 0,0$' || { echo "no part is drawn in its seat"; exit 1; }
test "$(wc -c < "$3")" -lt 1500000
test "$(grep -c '<path' "$3")" -lt 12000
if grep -qE '<use|<script|<image|<text|href|url\(' "$3"; then echo "the figure refers to something, or has text"; exit 1; fi
