#!/usr/bin/env bash
# Kills audits with signal 9 at random moments, as many as asked for (those that end before they are killed do not count), and
# looks at what is left: the result must be the old one or the new one, whole, and every rerun must end in the same
# findings, with no folder in the making left behind.
#
#   npm run build && tests/batch/kill.sh [TIMES]
set -euo pipefail
times=${1:-50}
repo=$(cd "$(dirname "$0")/../.." && pwd)
cli=${KEYWORTHY_BUILD:-$repo/.build}/cli.js
work=$(mktemp -d /tmp/keyworthy-kill.XXXXXX)
trap 'rm -rf "$work"' EXIT
cd "$work"
words=("$cli" audit "$repo/sample-data/household/site.yaml" --from 2026-10-05 --to 2026-10-09 --out out/result --quiet)
audit() { node "${words[@]}"; }
digest() { sed 's/"at": "[^"]*"//' out/result/findings.json | sha256sum | cut -d' ' -f1; }
from=$(date +%s%N)
audit || [ $? = 3 ]
length=$((($(date +%s%N) - from) / 1000000))
whole=$(digest)
files=$(ls out/result | sort | tr '\n' ' ')
tries=0 killed=0 half=0 gone=0 differing=0 left=0
while [ "$killed" -lt "$times" ]; do
  tries=$((tries + 1))
  # Every second time there is an earlier result to be replaced.
  [ $((tries % 2)) = 0 ] || rm -rf out/result
  # Not the function: its shell would die, and the program go on.
  node "${words[@]}" & pid=$!
  # $RANDOM alone would never reach the end of a long run.
  sleep "$(awk -v r="$RANDOM" -v l="$length" 'BEGIN { printf "%.3f", r / 32767 * l * 1.1 / 1000 }')"
  if kill -9 "$pid" 2>/dev/null; then killed=$((killed + 1)); fi
  wait "$pid" 2>/dev/null || true
  if [ -e out/result ]; then
    [ "$(ls out/result | sort | tr '\n' ' ')" = "$files" ] && [ "$(digest)" = "$whole" ] || half=$((half + 1))
  else
    gone=$((gone + 1))
  fi
  audit || [ $? = 3 ]
  [ "$(digest)" = "$whole" ] || differing=$((differing + 1))
  [ -z "$(find out -name '.keyworthy-making-*')" ] || left=$((left + 1))
done
echo "$killed of $tries audits killed while they ran (about $length ms each); results neither old nor new: $half; no result yet: $gone; reruns with other findings: $differing; reruns that left something in the making: $left"
[ "$half" = 0 ] && [ "$differing" = 0 ] && [ "$left" = 0 ]
