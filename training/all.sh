#!/usr/bin/env bash
# Data, training and export in one go on a machine with a GPU; songs are made while the network already learns.
#   training/all.sh WORK "FONT_A FONT_B" MINUTES [WEIGHTS_TO_GO_ON_FROM [RATE [FIRST_SEED]]]
set -eu
here=$(cd "$(dirname "$0")" && pwd); work=$1; fonts=$2; minutes=$3; start=${4:-}; rate=${5:-1.2e-3}; first=${6:-0}
mkdir -p "$work/data"; cores=$(nproc)
# shellcheck disable=SC2086
nice -n 5 python3 "$here/make.py" --out "$work/data" --fonts $fonts --first 1000000 --songs 96 --workers 4 >"$work/held.log" 2>&1 &
# shellcheck disable=SC2086
nice -n 10 python3 "$here/make.py" --out "$work/data" --fonts $fonts --first "$first" --songs 60000 \
  --minutes "$(python3 -c "print($minutes - 0.7)")" --workers $((cores - 1)) >"$work/make.log" 2>&1 &
python3 "$here/train.py" --data "$work/data" --out "$work/listener.pt" --minutes "$minutes" --wait 300 --rate "$rate" \
  ${start:+--start "$start"} >"$work/train.log" 2>&1
python3 "$here/export.py" --net "$work/listener.pt" --out "$work/listener.npz" --example "$work/model_example.npz" >>"$work/train.log" 2>&1
touch "$work/done"
