#!/usr/bin/env bash
# Data, training, export and hearing in one go on a machine with GPUs; songs are made while the network already learns.
#   training/all.sh WORK "FONT_A FONT_B" TUNES MINUTES [WEIGHTS_TO_GO_ON_FROM [RATE [FIRST_SEED [MORE OF train.py …]]]]
set -eu
here=$(cd "$(dirname "$0")" && pwd); work=$1; fonts=$2; tunes=$3; minutes=$4; start=${5:-}; rate=${6:-1.2e-3}; first=${7:-0}
[ $# -gt 7 ] && shift 7 || shift $#
mkdir -p "$work/data"; cores=$(nproc); gpus=$(python3 -c "import torch; print(max(1, torch.cuda.device_count()))")
# shellcheck disable=SC2086
nice -n 5 python3 "$here/make.py" --out "$work/data" --fonts $fonts --printed "$tunes" --first 1000000 --songs 96 \
  --workers 4 >"$work/held.log" 2>&1 &
# shellcheck disable=SC2086
(nice -n 10 python3 "$here/make.py" --out "$work/data" --fonts $fonts --printed "$tunes" --first "$first" --songs 200000 \
  --minutes "$(python3 -c "print($minutes - 0.9)")" --workers $((cores - gpus)) >"$work/make.log" 2>&1
 nice -n 10 python3 "$here/hear.py" --work "$work/heard" --fonts $fonts --printed "$tunes" --make --share "${SHARE:-1}" >>"$work/make.log" 2>&1) &
making=$!
export MASTER_ADDR=127.0.0.1 MASTER_PORT=29511 WORLD_SIZE=$gpus PYTHONUNBUFFERED=1
learning=()
for ((rank = 0; rank < gpus; rank++)); do
  RANK=$rank python3 "$here/train.py" --data "$work/data" --out "$work/listener.pt" --minutes "$minutes" --wait 300 \
    --rate "$rate" ${start:+--start "$start"} "$@" >"$work/train$rank.log" 2>&1 &
  learning+=($!)
done
for one in "${learning[@]}"; do wait "$one"; done
python3 "$here/export.py" --net "$work/listener.pt" --out "$work/listener.npz" --example "$work/model_example.npz" >>"$work/train0.log" 2>&1
wait $making
python3 "$here/hear.py" --work "$work/heard" --net "$work/listener.pt" --out "$work/likely" >>"$work/train0.log" 2>&1
touch "$work/done"
