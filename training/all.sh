#!/usr/bin/env bash
# Data, training, export and hearing in one go on a machine with GPUs; songs are made while the network already learns.
#   training/all.sh WORK "FONT_A FONT_B" TUNES MINUTES [WEIGHTS_TO_GO_ON_FROM [RATE [FIRST_SEED [MORE OF train.py …]]]]
# With weights to go on from, the mean of them and the new ones is heard too. MINUTES are those of learning.
set -eu
here=$(cd "$(dirname "$0")" && pwd); work=$1; fonts=$2; tunes=$3; minutes=$4; start=${5:-}; rate=${6:-1.2e-3}; first=${7:-0}
[ $# -gt 7 ] && shift 7 || shift $#
mkdir -p "$work/data"; cores=$(nproc); gpus=$(python3 -c "import torch; print(max(1, torch.cuda.device_count()))")
export MASTER_ADDR=127.0.0.1 MASTER_PORT=29511 WORLD_SIZE=$gpus PYTHONUNBUFFERED=1
# shellcheck disable=SC2086
(nice -n 5 python3 "$here/make.py" --out "$work/data" --fonts $fonts --printed "$tunes" --first 1000000 --songs 96 \
  --workers $((cores - gpus)) >"$work/make.log" 2>&1
 nice -n 10 python3 "$here/make.py" --out "$work/data" --fonts $fonts --printed "$tunes" --first "$first" --songs 200000 \
  --minutes "$(python3 -c "print($minutes - 1)")" --workers $((cores - gpus)) >>"$work/make.log" 2>&1
 nice -n 10 python3 "$here/hear.py" --work "$work/heard" --fonts $fonts --printed "$tunes" --make --share "${SHARE:-1}" >>"$work/make.log" 2>&1) &
making=$!
learning=()
for ((rank = 0; rank < gpus; rank++)); do
  RANK=$rank python3 "$here/train.py" --data "$work/data" --out "$work/listener.pt" --minutes "$minutes" --wait 300 \
    --rate "$rate" ${start:+--start "$start"} "$@" >"$work/train$rank.log" 2>&1 &
  learning+=($!)
done
for one in "${learning[@]}"; do wait "$one"; done
export WORLD_SIZE=1
python3 "$here/export.py" --net "$work/listener.pt" --out "$work/new.npz" --example "$work/new_example.npz" >>"$work/train0.log" 2>&1
nets=(new)
if [ -n "$start" ]; then
  python3 "$here/export.py" --net "$work/listener.pt" --mean "$start" --out "$work/mean.npz" --example "$work/mean_example.npz" >>"$work/train0.log" 2>&1
  cp "$start" "$work/before.npz"; nets=(before new mean)
fi
wait $making
for net in "${nets[@]}"; do
  python3 "$here/hear.py" --work "$work/heard" --net "$work/$net.npz" --out "$work/$net" >>"$work/train0.log" 2>&1
done
(cd "$work" && python3 "$here/apart.py" "${nets[@]}" --rows apart.json >apart.txt 2>&1) || true
touch "$work/done"
