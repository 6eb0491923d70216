#!/bin/sh
# One scrimmage in eight parts with GNU parallel (Debian: apt-get install parallel), then put together.
#   sh parallel.sh 100000 demo
# With more machines add `--sshlogin one,two --transfer ... --return part-{}` as its manual says.
set -eu
possessions=${1:-100000}
scenario=${2:-demo}
parts=${PARTS:-8}
lanelight=${LANELIGHT:-lanelight}

# One thread each: there are as many parts at work as processors. A part that is there is not played again.
parallel --halt now,fail=1 \
    "[ -e part-{}-of-$parts ] || $lanelight scrimmage $scenario --possessions $possessions --threads 1 \
        --part {}/$parts --part-file part-{}-of-$parts" \
    ::: $(seq "$parts")
$lanelight merge $(seq -f "part-%g-of-$parts" "$parts") --summary-json figures.json --rows rows.csv
