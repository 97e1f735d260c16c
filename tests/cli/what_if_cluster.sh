#!/bin/sh
# The recipes of docs/examples on engines of their own: GNU Parallel, and a Slurm of one node that is started here (as
# root, with munge). In both one shard is killed the first time. The merged file must be the one of a quiet run.
# usage: what_if_cluster.sh PROGRAM SOURCE_FOLDER WORK_FOLDER parallel|slurm
set -eu
program=$1 source=$2 work=$3 engine=$4
rm -rf "$work"
mkdir -p "$work"
cd "$work"
cat > runs.yaml <<RUNS
# Invented, as the site is.
site: $source/data/sites/corner-kiosk.yaml
sweep:
  /hubs/hub/height_m: {from: 0.9, to: 2.3, step: 0.1}
random: {runs: 8000, seed: 3}
RUNS
cat > failing <<FAILING
#!/bin/sh
case " \$* " in *" 2/5 "*)
  if [ ! -e $work/killed ]; then
    touch $work/killed
    "$program" "\$@" & sleep 0.03; kill -9 \$! 2> /dev/null; wait
    cp all.csv.parts/2.csv.journal $work/killed.journal; exit 1
  fi
esac
exec "$program" "\$@"
FAILING
chmod +x failing
"$program" whatif runs.yaml --output quiet.csv > /dev/null

if [ "$engine" = slurm ]; then
  [ -d /run/munge ] || mkdir -p /run/munge
  chown munge: /run/munge /var/log/munge /var/lib/munge /etc/munge 2> /dev/null || true
  pgrep -x munged > /dev/null || su -s /bin/sh munge -c /usr/sbin/munged
  host=$(hostname -s)
  mkdir -p state spool
  cat > slurm.conf <<CONF
ClusterName=trial
SlurmctldHost=$host(127.0.0.1)
SlurmUser=root
SlurmdUser=root
AuthType=auth/munge
CredType=cred/munge
StateSaveLocation=$work/state
SlurmdSpoolDir=$work/spool
SlurmctldPidFile=$work/slurmctld.pid
SlurmdPidFile=$work/slurmd.pid
SlurmctldPort=26817
SlurmdPort=26818
ProctrackType=proctrack/pgid
TaskPlugin=task/none
SelectType=select/cons_tres
SelectTypeParameters=CR_CPU
SwitchType=switch/none
MpiDefault=none
ReturnToService=2
JobCompType=jobcomp/none
AccountingStorageType=accounting_storage/none
NodeName=$host NodeAddr=127.0.0.1 CPUs=$(nproc) State=UNKNOWN
PartitionName=trial Nodes=$host Default=YES MaxTime=INFINITE State=UP
CONF
  export SLURM_CONF="$work/slurm.conf"
  slurmctld -c -L "$work/slurmctld.log"
  slurmd -c -L "$work/slurmd.log"
  trap 'kill $(cat "$work/slurmd.pid" "$work/slurmctld.pid") 2> /dev/null' EXIT
  for try in $(seq 30); do
    sinfo -h -o %t 2> /dev/null | grep -q idle && break
    sleep 1
  done
  sinfo -h -o %t | grep -q idle || { tail -5 slurmctld.log slurmd.log; exit 1; }
fi
LINKMARGIN="$work/failing" "$source/docs/examples/what_if_$engine.sh" runs.yaml 5 all.csv 2> said || { cat said; exit 1; }
[ -e killed ] || { echo "no shard was killed"; exit 1; }
grep -q "all rows" killed.journal && { echo "the shard was ended before it was killed"; exit 1; }
cmp quiet.csv all.csv
echo "$engine: 5 shards, one killed and begun again: equal"
