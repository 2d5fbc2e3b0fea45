#!/usr/bin/env bash
# Shows an audit of many sites as an array job of Slurm on this one machine: slurmctld, slurmd and munge on loopback,
# started here, with everything of theirs in one temporary folder, and ended here. Debian: apt-get install slurmctld slurmd
# slurm-client munge. Needs root (slurmd does).
#
#   npm run build && tests/batch/slurm.sh [SITES] [ROWS_A_SITE] [PARTS]
#
# Steps: 1. invented sites; 2. one run over one site, one over a tenth of them and one over all, for the figures to compare
# with; 3. the array job, one task of which is killed while it works; 4. that task alone again; 5. combine, and compare with
# the single run. Ends with 1 where a result differs, or where a million rows cost more than 10 % more in more sites.
set -euo pipefail
sites=${1:-40} rows=${2:-50000} parts=${3:-8}
repo=$(cd "$(dirname "$0")/../.." && pwd)
build=${KEYWORTHY_BUILD:-$repo/.build}
for tool in slurmctld slurmd sbatch scancel munged; do
  command -v "$tool" >/dev/null || { echo "this machine has no $tool: apt-get install slurmctld slurmd slurm-client munge" >&2; exit 2; }
done
work=$(mktemp -d /tmp/keyworthy-batch.XXXXXX)
chmod 755 "$work"
started=()
finish() {
  for pid in "${started[@]:-}"; do [ -n "$pid" ] && kill "$pid" 2>/dev/null || true; done
  wait 2>/dev/null || true
  if [ -n "${KEEP:-}" ]; then echo "kept: $work"; else rm -rf "$work"; fi
}
trap finish EXIT

# Munge, with a key of its own.
mkdir -m 700 "$work/munge"
dd if=/dev/urandom of="$work/munge/key" bs=1024 count=1 status=none
chmod 400 "$work/munge/key"
mkdir -m 755 "$work/run"
munged --foreground --force --key-file="$work/munge/key" --socket="$work/run/munge" --pid-file="$work/munge/pid" --log-file="$work/munge/log" --seed-file="$work/munge/seed" >"$work/munge/out" 2>&1 &
started+=($!)

# Slurm, on loopback.
host=$(hostname -s)
mkdir -p "$work/state" "$work/spool"
cat >"$work/slurm.conf" <<CONF
ClusterName=here
SlurmctldHost=$host(127.0.0.1)
SlurmctldPort=16817
SlurmdPort=16818
SlurmUser=root
AuthType=auth/munge
AuthInfo=socket=$work/run/munge
CredType=cred/munge
StateSaveLocation=$work/state
SlurmdSpoolDir=$work/spool
SlurmctldPidFile=$work/run/slurmctld.pid
SlurmdPidFile=$work/run/slurmd.pid
SlurmctldLogFile=$work/slurmctld.log
SlurmdLogFile=$work/slurmd.log
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
JobAcctGatherType=jobacct_gather/none
MpiDefault=none
ReturnToService=2
SchedulerParameters=sched_interval=2
SelectType=select/cons_tres
SelectTypeParameters=CR_CPU
NodeName=$host NodeAddr=127.0.0.1 CPUs=$(nproc) RealMemory=2000 State=UNKNOWN
PartitionName=all Nodes=$host Default=YES MaxTime=INFINITE State=UP
CONF
printf "CgroupPlugin=cgroup/v1\nCgroupAutomount=no\n" >"$work/cgroup.conf"
export SLURM_CONF=$work/slurm.conf
slurmctld -D -i >"$work/slurmctld.out" 2>&1 &
started+=($!)
sleep 2
slurmd -D >"$work/slurmd.out" 2>&1 &
started+=($!)
for _ in $(seq 30); do sinfo -h -o %T 2>/dev/null | grep -q idle && break; sleep 1; done
sinfo -h -o %T 2>/dev/null | grep -q idle || {
  echo "Slurm did not come up here:" >&2
  tail -n 5 "$work/slurmctld.out" "$work/slurmctld.log" "$work/slurmd.out" "$work/slurmd.log" "$work/munge/out" >&2 2>/dev/null
  exit 1
}
echo "Slurm $(sinfo --version | cut -d' ' -f2) is up: one node, $(nproc) CPUs"

# 1. The sites.
node "${KEYWORTHY_SCRIPTS:-$build/scripts}/tests/bench/many-sites.js" "$work/sites" "$sites" "$rows"
total=$((sites * rows))
cd "$work"
# A rule that is not clear (status 3) is a result, not a failure.
cat >audit.sh <<'JOB'
#!/bin/bash
status=0
node --import "data:text/javascript,process.on('exit',()=>{const u=process.resourceUsage();process.stderr.write('peak '+Math.round(u.maxRSS/1024)+' MB, cpu '+((u.userCPUTime+u.systemCPUTime)/1e6).toFixed(1)+' s\\n')})" "$KEYWORTHY" audit "$@" --month 2026-06 --alone --quiet || status=$?
[ "$status" = 3 ] && status=0
exit "$status"
JOB
chmod +x audit.sh
export KEYWORTHY=$build/cli.js
now() { date +%s.%N; }
took() { awk -v a="$1" -v b="$(now)" 'BEGIN { printf "%.1f", b - a }'; }

# What a run cost: its wall time, and what its processes say they took. FILE... of their standard errors.
cpu() { cat "$@" | grep -o 'cpu [0-9.]*' | awk '{ sum += $2 } END { printf "%.1f", sum }'; }
peak() { cat "$@" | grep -o 'peak [0-9]*' | cut -d' ' -f2 | sort -n | tail -1; }
line() { awk -v what="$1" -v n="$2" -v w="$3" -v c="$4" -v p="$5" -v r="$rows" 'BEGIN { m = n * r / 1e6; printf "%-34s %5d sites %11d rows %8.1f s wall %8.1f s of processor, peak %4d MB; a million rows: %5.1f s wall, %5.1f s of processor\n", what, n, n * r, w, c, p, w / m, c / m }'; }
per() { awk -v n="$1" -v c="$2" 'BEGIN { printf "%.4f", c / n }'; }

# 2. To compare with.
tenth=$(((sites + 9) / 10))
from=$(now); ./audit.sh sites/yard-0000/site.yaml --out one 2>one.txt; one=$(took "$from")
line "one site" 1 "$one" "$(cpu one.txt)" "$(peak one.txt)"
from=$(now); ./audit.sh $(ls sites/*/site.yaml | head -n "$tenth") --out some 2>some.txt; some=$(took "$from")
line "one run over a tenth" "$tenth" "$some" "$(cpu some.txt)" "$(peak some.txt)"
from=$(now); ./audit.sh sites/*/site.yaml --out whole 2>whole.txt; whole=$(took "$from")
line "one run over all" "$sites" "$whole" "$(cpu whole.txt)" "$(peak whole.txt)"

# 3. The array job; its second task is killed while it works.
cat >part.sh <<'JOB'
#!/bin/bash
echo "part $SLURM_ARRAY_TASK_ID of $PARTS on $(hostname -s)" >&2
exec ./audit.sh sites/*/site.yaml --part "$SLURM_ARRAY_TASK_ID/$PARTS" --out parts
JOB
chmod +x part.sh
from=$(now)
job=$(PARTS=$parts sbatch --parsable --array=1-"$parts" --cpus-per-task=1 --export=ALL --output=part-%a.txt part.sh)
echo "array job $job: tasks 1-$parts"
for _ in $(seq 200); do grep -q "part 2 of" part-2.txt 2>/dev/null && break; sleep 0.1; done
sleep 2
scancel --signal=KILL --full "${job}_2" && echo "task 2 killed while it worked"
while squeue -h -j "$job" 2>/dev/null | grep -q .; do sleep 0.5; done
echo "all tasks ended after $(took "$from") s; finished sites: $(ls -d parts/*/counts.json 2>/dev/null | wc -l) of $sites"
before=$(cd parts && find . -name findings.json -exec sha256sum {} + | sort | sha256sum)

# 4. That task alone again.
PARTS=$parts sbatch --wait --array=2 --cpus-per-task=1 --export=ALL --output=part-%a.txt part.sh >/dev/null
wall=$(took "$from")
echo "with task 2 again: $wall s wall, all that was killed included; finished sites: $(ls -d parts/*/counts.json | wc -l) of $sites; folders in the making left: $(find parts -maxdepth 1 -name '.keyworthy-making-*' | wc -l)"
line "array job, $parts parts" "$sites" "$wall" "$(cpu part-*.txt)" "$(peak part-*.txt)"
linear=0
# Processor time, since other work on the machine spoils it less than wall time.
ratio() { awk -v what="$1" -v a="$2" -v b="$3" -v most="$4" 'BEGIN { printf "%s: %.2f times the processor time a million rows%s\n", what, a / b, most == "" ? "" : sprintf(", at most %.2f: %s", most, a / b <= most ? "met" : "NOT MET"); exit most != "" && a / b > most }'; }
one=$(per 1 "$(cpu one.txt)") some=$(per "$tenth" "$(cpu some.txt)") whole=$(per "$sites" "$(cpu whole.txt)") array=$(per "$sites" "$(cpu part-*.txt)")
ratio "one run over all, against one site" "$whole" "$one" 1.1 || linear=1
ratio "one run over all, against one over a tenth" "$whole" "$some" 1.1 || linear=1
ratio "array job, against one site" "$array" "$one" 1.1 || linear=1
ratio "array job, against one run over a tenth" "$array" "$some" 1.1 || linear=1
ratio "what spreading out costs: array job, against one run over all" "$array" "$whole" ""

# 5. Joined, and held against the single run.
node "$KEYWORTHY" combine parts --out joined --quiet || [ $? = 3 ]
same() { diff -q <(sed 's/"at": "[^"]*"//' "$1") <(sed 's/"at": "[^"]*"//' "$2") >/dev/null; }
same joined/fleet.json whole/_fleet/fleet.json && cmp -s joined/bays.csv whole/_fleet/bays.csv && cmp -s joined/signals.csv whole/_fleet/signals.csv && echo "combine of $parts parts equals the single run, byte for byte but for the time of making" || { echo "combine of $parts parts DIFFERS from the single run"; exit 1; }
differing=0
for site in whole/yard-*; do same "$site/findings.json" "parts/$(basename "$site")/findings.json" || differing=$((differing + 1)); done
echo "findings that differ from the single run: $differing of $sites"
[ "$differing" = 0 ] && [ "$linear" = 0 ]
