#!/bin/sh
# What-if runs as a job array of Slurm, one task a shard; the folder must be one that all nodes share. Shards that
# are lost are given to Slurm again and go on where their rows end, three rounds at most; all become one file.
# usage: what_if_slurm.sh FILE SHARDS OUTPUT.csv
set -eu
file=$1 shards=$2 output=$3
LINKMARGIN=${LINKMARGIN:-linkmargin}
mkdir -p "$output.parts"
task="$output.parts/task.sh"
cat > "$task" <<'TASK'
#!/bin/sh
shard=$SLURM_ARRAY_TASK_ID
exec "$LINKMARGIN" whatif "$WHAT_IF" --shard "$shard/$SHARDS" --resume --threads "${SLURM_CPUS_PER_TASK:-1}" \
  --output "$PARTS/$shard.csv"
TASK

missing() { # shards that are not ended, as 1,4,5
  list=
  for shard in $(seq "$shards"); do
    grep -qs '^all rows are there$' "$output.parts/$shard.csv.journal" || list="${list:+$list,}$shard"
  done
  echo "$list"
}

export LINKMARGIN WHAT_IF="$file" SHARDS="$shards" PARTS="$output.parts"
for round in 1 2 3; do
  left=$(missing)
  [ -n "$left" ] || break
  echo "round $round: shards $left" >&2
  sbatch --wait --array="$left" --export=ALL --output="$output.parts/%a.log" "$task" > /dev/null || true
done
"$LINKMARGIN" whatif --merge "$output.parts"/*.csv --output "$output"
