#!/bin/sh
# program.sh PROGRAM SOLIDS: what the program says of the carburetor, and of a file that is not there.
set -eu
test "$("$1" profile "$2" bushing-drilled)" = '0,3.975 0,5.5 15.2,5.5 16,4.7 16,3.975'
"$1" slides "$2" | grep -qx 'body-behind 0,0'
if "$1" draw /nowhere.xml 2>/dev/null; then echo "a missing file is not refused"; exit 1; fi
"$1" draw /nowhere.xml 2>/dev/null || test $? -eq 2
