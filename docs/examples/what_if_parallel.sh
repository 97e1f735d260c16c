#!/bin/sh
# What-if runs in shards on the processors of one machine, or with `--sshlogin` of GNU Parallel on many: a shard
# that is lost is begun again where its rows end, three times at most; all of them become one file.
# usage: what_if_parallel.sh FILE SHARDS OUTPUT.csv
set -eu
file=$1 shards=$2 output=$3
linkmargin=${LINKMARGIN:-linkmargin}
mkdir -p "$output.parts"
seq "$shards" | parallel --will-cite --retries 3 \
  "$linkmargin" whatif "$file" --shard "{}/$shards" --resume --threads 1 --output "$output.parts/{}.csv"
"$linkmargin" whatif --merge "$output.parts"/*.csv --output "$output"
