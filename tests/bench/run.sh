#!/bin/sh
# tests/bench/run.sh - solves a sample of the published sets, compares with the best known values.
#
#   run.sh PROGRAM BENCH OUT EVERY SECONDS [SET...]
#
# BENCH has a folder per set with instances.tar.xz and best-known.csv; of each set (of all, where
# none is named) every EVERY-th file is solved. A row per set: files, with a schedule or shown to
# have none, proved, mean and worst gap to the best known value in percent, mean gap to the critical
# path, median and 90th percentile time (seconds of the processor); values better than the best known
# one (possible where that is open, and then to be doubted); and, which must both be 0, answers that
# contradict the published ones, and schedules that do not hold against the instance file (check_starts.py,
# where there is a python3; else a dash).
set -eu
program=$1 bench=$2 out=$3 every=$4 seconds=$5
shift 5
mkdir -p "$out"
sample="file 1 of each set and every ${every}th after it, by name"
[ "$every" -gt 1 ] || sample="every file of each set"
echo "# $sample; $seconds s of the processor each"
echo "set,files,solved,proved,mean_gap,worst_gap,mean_over_path,median_s,p90_s,better,contradictions,faulty"
for known in "$bench"/rcpsp/*/best-known.csv "$bench"/rcpsp-max/*/best-known.csv; do
    [ -e "$known" ] || continue
    folder=$(dirname "$known")
    name=$(basename "$folder")
    case " ${*:-$name} " in *" $name "*) ;; *) continue ;; esac
    mkdir -p "$out/$name"
    [ -e "$out/$name.unpacked" ] || tar -xJf "$folder/instances.tar.xz" -C "$out/$name"
    touch "$out/$name.unpacked"
    rm -f "$out/$name.starts"
    : > "$out/$name.starts"
    find "$out/$name" -type f | LC_ALL=C sort | awk -v e="$every" 'NR % e == 1 || e == 1' |
        xargs "$program" --seconds "$seconds" --starts "$out/$name.starts" > "$out/$name.csv"
    faulty=-
    if command -v python3 > /dev/null; then
        python3 -B "$(dirname "$0")/check_starts.py" "$out/$name" "$out/$name.starts" \
            > "$out/$name.checked" || :
        faulty=$(sed -n 's/.* hold, \([0-9]*\) do not$/\1/p' "$out/$name.checked")
    fi
    awk -F, -v name="$name" -v faulty="${faulty:-failed}" '
        NR == FNR {
            if (FNR > 1) { low[$1] = $2; best[$1] = $3; kind[$1] = $4; path[$1] = $5 }
            next
        }
        $1 == "instance" { next }
        {
            n++; time[n] = $5
            if ($2 == "optimal" || $2 == "infeasible") proved++
            if ($2 == "infeasible") { solved++; if (kind[$1] != "infeasible") wrong++ }
            if ($3 != "") {
                solved++; with++
                gap = best[$1] > 0 ? 100 * ($3 - best[$1]) / best[$1] : 0
                if (gap < 0) better++
                sum += gap; if (gap > worst) worst = gap
                if (path[$1] > 0) over += 100 * ($3 - path[$1]) / path[$1]
                if (kind[$1] == "infeasible" || $3 < low[$1]) wrong++
                else if ($2 == "optimal" && $3 > best[$1]) wrong++
            }
        }
        END {
            for (i = 2; i <= n; i++) for (j = i; j > 1 && time[j] < time[j-1]; j--) {
                t = time[j]; time[j] = time[j-1]; time[j-1] = t }
            if (with) { sum /= with; over /= with }
            printf "%s,%d,%d,%d,%.2f,%.2f,%.2f,%.3f,%.3f,%d,%d,%s\n", name, n, solved, proved, sum, worst,
                over, time[int((n + 1) / 2)], time[int(n * 0.9 + 0.999)], better, wrong, faulty
        }' "$known" "$out/$name.csv"
done
