#!/bin/sh
# The program as a process, where a golden file cannot tell: exit statuses, output files whole or not there, streams
# that fail. Usage: command_line.sh PROGRAM WORK_FOLDER DOCS
set -eu
program=$1
work=$2
docs=$3
rm -rf "$work"
mkdir -p "$work"
cd "$work"
checks=0

# status WANTED NAME COMMAND...: the command's exit status, its standard output thrown away.
status() {
  wanted=$1
  name=$2
  shift 2
  set +e
  "$@" >/dev/null 2>stderr.txt
  got=$?
  set -e
  checks=$((checks + 1))
  if [ "$got" -ne "$wanted" ]; then
    echo "$name: exit status $got, expected $wanted" >&2
    cat stderr.txt >&2
    exit 1
  fi
}

require() {
  name=$1
  shift
  checks=$((checks + 1))
  if ! "$@"; then
    echo "$name: failed" >&2
    exit 1
  fi
}

png_file() { [ "$(head -c 4 "$1" | od -An -tx1 | tr -d ' ')" = 89504e47 ]; }
no_leftovers() { [ -z "$(find . -name '.linkmargin-*')" ]; }

"$program" starter --output site.yaml
require "the starter is not empty" test -s site.yaml

status 0 "help" "$program" --help
for command in $("$program" suggest -- '' | sed -n '2,$s/^\([a-z]*\)\t.*/\1/p'); do
  status 0 "$command --help" "$program" "$command" --help
  "$program" "$command" --help >help.txt
  for part in USAGE OPTIONS 'EXIT STATUS' EXAMPLES; do require "$command --help has $part" grep -q "^$part" help.txt; done
  page=$docs/commands/$command.md
  require "$command has its page" grep -q "^# $command\$" "$page"
  require "$command is in the list of commands" grep -q "(commands/$command.md)" "$docs/commands.md"
  for option in $(sed -n 's/^  \(-h, \)\{0,1\}\(--[a-z-]*\).*/\2/p' help.txt); do
    require "$command $option is in its page or in what all share" grep -q -- "^| .$option" "$page" "$docs/commands.md"
  done
done
status 2 "no command" "$program"
status 2 "unknown command" "$program" chek
require "the nearest command is named" grep -q "did you mean 'check'" stderr.txt
status 2 "unknown option" "$program" check site.yaml --doorz open
require "the nearest option is named" grep -q "did you mean '--doors'" stderr.txt
status 2 "an option's beginning is not the option" "$program" check site.yaml --door open
status 2 "option twice" "$program" check site.yaml --doors open --doors armed
status 2 "too many names" "$program" check site.yaml other.yaml
status 2 "threads 0" "$program" check site.yaml --threads 0
status 2 "threads 257" "$program" check site.yaml --threads 257
status 0 "threads 256" "$program" check site.yaml --threads 256
status 2 "draw has no text" "$program" draw site.yaml --format text
status 1 "no such file" "$program" check nothing.yaml
status 1 "a folder" "$program" check .
status 0 "standard input" sh -c "'$program' check - <site.yaml"
status 2 "an empty standard input" sh -c "'$program' check - </dev/null"

status 0 "places are written into a site" "$program" place site.yaml --brief --step 1 --hubs 2 --apply placed.yaml
status 0 "and that is a sound site" "$program" check placed.yaml
require "with the second hub in it" grep -q 'hub 2' placed.yaml

# A search of many seconds, ended: what there is so far is written. A scale that asks for much keeps it searching.
sed 's/weak_below_percent: 40/weak_below_percent: 99/; s/full_dbm: -55/full_dbm: -20/' site.yaml >strict.yaml
set +e
timeout --foreground --preserve-status -s INT 2 "$program" place strict.yaml --hubs 3 --repeaters 3 --step 0.1 >places.txt 2>stderr.txt
got=$?
set -e
require "Ctrl-C has its own status" test "$got" -eq 130
require "Ctrl-C has its own message" grep -q '^linkmargin: interrupted' stderr.txt
require "what there is so far is written" grep -Eq 'Stopped|Worst of all' places.txt

printf 'site: x\nradio: {frequency_mhz: 868.3, modle: walls}\nstoreys: []\n' >faulty.yaml
status 2 "a faulty file" "$program" check faulty.yaml
require "several faults are told, and counted" grep -Eq '^[2-9] faults in faulty.yaml$' stderr.txt

mkdir some.folder
for command in draw coverage; do
  status 2 "$command: an unknown ending" "$program" $command site.yaml --output map.jpg
  require "$command: the known endings are named" grep -q "'.jpg'.*\.svg.*\.png" stderr.txt
  status 2 "$command: an ending against --format" "$program" $command site.yaml --format svg --output map.png
  require "$command: both are named" grep -q "'.png', but --format says svg" stderr.txt
  require "$command: nothing was written" test ! -e map.jpg -a ! -e map.png
  status 0 "$command: capitals" "$program" $command site.yaml --output MAP.PNG
  require "$command: capitals choose too" png_file MAP.PNG
  rm MAP.PNG
  status 0 "$command: no ending" "$program" $command site.yaml --output some.folder/../map
  require "$command: an ending of a folder counts not" test -s map
  rm map
done
status 0 "coverage: text" "$program" coverage site.yaml --output map.txt
require "coverage: no progress where no terminal is" test ! -s stderr.txt
status 0 "a stream's ending counts not" sh -c "mkfifo pipe.out; cat pipe.out >/dev/null & '$program' draw site.yaml --output pipe.out"

status 0 "written to a file" "$program" check site.yaml --output out.txt
"$program" check site.yaml >stdout.txt
require "a file gets what the standard output gets" cmp out.txt stdout.txt
ln -s target.txt link.txt
status 0 "written through a link" "$program" check site.yaml --output link.txt
require "the link stays" test -L link.txt
require "its target is written" cmp target.txt out.txt
mkfifo pipe
cat pipe >from_pipe.txt &
status 0 "written to a pipe" "$program" check site.yaml --output pipe
wait
require "the pipe stays" test -p pipe
require "the pipe carried all" cmp from_pipe.txt out.txt

echo before >kept.svg
status 2 "over its own input" "$program" check site.yaml --output site.yaml
require "the input stays" grep -q '^site:' site.yaml
status 1 "no such folder" "$program" check site.yaml --output nowhere/out.txt
status 1 "onto a folder" "$program" check site.yaml --output .
status 1 "a file that may grow no further" sh -c "ulimit -f 1; exec '$program' draw site.yaml --output kept.svg"
require "what was there stays" grep -q '^before$' kept.svg
require "nothing is left beside it" no_leftovers
if [ -c /dev/full ]; then
  status 1 "a full device" "$program" check site.yaml --output /dev/full
  status 1 "a full standard output" sh -c "'$program' check site.yaml >/dev/full"
fi
status 1 "a closed standard output" sh -c "'$program' check site.yaml >&-"

for threads in 1 3 8; do "$program" check site.yaml --format json --threads $threads >json.$threads; done
require "threads change no byte" cmp json.1 json.3
require "threads change no byte" cmp json.1 json.8
"$program" check site.yaml --doors open --format json >json.open
require "doors are told" grep -q '"doors": "open"' json.open

status 0 "a plan as PNG by its name" "$program" draw site.yaml --output plan.png
require "it is a PNG" png_file plan.png
for format in svg png csv json text; do
  for threads in 1 3; do
    "$program" coverage site.yaml --step 0.5 --format $format --threads $threads >map.$threads.$format
  done
  require "threads change no byte of a map" cmp map.1.$format map.3.$format
  ending=$format
  if [ $format = text ]; then ending=txt; fi
  status 0 "a map by its name" "$program" coverage site.yaml --step 0.5 --output map.$ending
  require "the name tells the format" cmp map.1.$format map.$ending
done
require "a map is a PNG" png_file map.png
"$program" coverage site.yaml --step 0.5 --format csv --output x
require "a name without an ending takes any format" cmp x map.csv
"$program" coverage site.yaml --step 0.5 --doors open --format csv >open.csv
require "open doors change a map" sh -c "! cmp -s open.csv map.csv"

# calibrate: readings as the site predicts them, but for one that is far lower.
"$program" check site.yaml --format csv | tr -d '\r' | awk -F, '
  NR == 1 { print "device,level_dbm"; next } { print $1 "," $6 - (NR == 2 ? 40 : 6) }' >read.csv
cp site.yaml site.before
status 0 "calibrate" "$program" calibrate site.yaml read.csv --output learned.yaml --learned walls.yaml --picture fit.png
require "the site that was read is as it was" cmp site.yaml site.before
require "the calibrated site says what was learned" grep -q '^calibration:' learned.yaml
require "comments stay" sh -c '[ "$(grep -c "#" learned.yaml)" -eq "$(grep -c "#" site.yaml)" ]'
status 0 "check takes the calibrated site" "$program" check learned.yaml
status 0 "check takes learned walls" "$program" check site.yaml --materials walls.yaml
require "a picture is a PNG" png_file fit.png
"$program" calibrate site.yaml read.csv --picture fit.svg >told.txt
require "a picture is an SVG" grep -q '^<svg' fit.svg
require "what was written is told" grep -q "fit.svg: " told.txt
require "the reading far off is named" grep -q '^ ! Line 2' told.txt
status 0 "the calibrated site may be calibrated again" "$program" calibrate learned.yaml read.csv --output again.yaml
status 2 "a calibrated site is not written over itself" "$program" calibrate learned.yaml read.csv --output learned.yaml
mkdir calibrated
cp site.yaml other.yaml
status 0 "several sites go to a folder" "$program" calibrate site.yaml read.csv other.yaml read.csv --output calibrated
for site in site other; do status 0 "check takes each" "$program" check calibrated/$site.yaml; done
status 2 "the folder of the sites is none for them" "$program" calibrate site.yaml read.csv other.yaml read.csv --output .
require "they are as they were" cmp other.yaml site.before
status 2 "several sites need a folder" "$program" calibrate site.yaml read.csv other.yaml read.csv --output one.yaml
require "nothing was written" sh -c '! test -e one.yaml'
status 1 "a folder that is not there" "$program" calibrate site.yaml read.csv --output nowhere/one.yaml
status 0 "readings from the standard input" sh -c "'$program' calibrate site.yaml - <read.csv"
for threads in 1 3; do
  "$program" calibrate site.yaml read.csv --advise 2 --format json --threads $threads >calibrate.$threads
done
require "threads change no byte of a calibration" cmp calibrate.1 calibrate.3

TERM=xterm "$program" check site.yaml >plain.txt
require "no colour where no terminal is" sh -c "! grep -q '$(printf '\033')' plain.txt"
echo "$checks checks passed"
