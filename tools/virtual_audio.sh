#!/usr/bin/env bash
# A sound card made of nothing: three PulseAudio null sinks (mic44, mic48, mic96), each at its own rate, that ALSA
# programs record from and play to under those names. What is played to mic48 is what mic48 hears, sample by sample.
#
#   virtual_audio.sh start DIR    starts a server that keeps everything in DIR (made when missing); prints its process
#                                 id and writes DIR/environment, to be sourced by those who want to use it
#   virtual_audio.sh stop DIR     stops that server, by its process id
#   virtual_audio.sh run COMMAND...   starts one in a new folder, runs COMMAND with it, stops it
#
# Several servers may run side by side. Needs no desktop, no sound card, no D-Bus and no root.
set -eu

sinks=(mic44:44100 mic48:48000 mic96:96000)

write_alsa_configuration() {
    local sink
    for sink in "${sinks[@]}"; do
        printf 'pcm.%s { type pulse device "%s.monitor" }\n' "${sink%:*}" "${sink%:*}"
        printf 'pcm.play%s { type pulse device "%s" }\n' "${sink%:*}" "${sink%:*}"
    done
    # PortAudio 19.6 aborts when there is no default device.
    printf 'pcm.default { type pulse device "mic48.monitor" }\nctl.default { type pulse }\n'
}

write_environment() {
    local dir=$1
    printf 'export PULSE_RUNTIME_PATH=%q PULSE_SERVER=%q ALSA_CONFIG_PATH=%q JACK_NO_START_SERVER=1\n' \
        "$dir" "unix:$dir/native" "$dir/asound.conf"
}

ready() {
    [ "$(HOME=$1 XDG_CONFIG_HOME=$1/config PULSE_SERVER=unix:$1/native pactl list short sources 2>/dev/null | grep -c '\.monitor')" = "${#sinks[@]}" ]
}

# A process that has ended stays visible until its parent looks, which may be never.
alive() {
    kill -0 "$1" 2> /dev/null && ! grep -q '^State:[[:space:]]*Z' "/proc/$1/status" 2> /dev/null
}

start() {
    local dir=$1 pid sink modules=()
    mkdir -p -m 700 "$dir"
    dir=$(cd "$dir" && pwd)
    write_alsa_configuration > "$dir/asound.conf"
    write_environment "$dir" > "$dir/environment"
    for sink in "${sinks[@]}"; do
        # Without norewinds the sink idles in blocks of two seconds, and a recorder that starts then waits for them.
        modules+=(-L "module-null-sink sink_name=${sink%:*} rate=${sink#*:} channels=2 format=float32le norewinds=1")
    done
    HOME=$dir XDG_CONFIG_HOME=$dir/config PULSE_RUNTIME_PATH=$dir setsid pulseaudio -n --daemonize=no \
        --exit-idle-time=-1 --disallow-exit --use-pid-file=no --log-target=stderr --log-level=notice \
        -L "module-native-protocol-unix socket=$dir/native auth-anonymous=1 auth-cookie-enabled=0" \
        "${modules[@]}" < /dev/null > "$dir/pulse.log" 2>&1 &
    pid=$!
    echo "$pid" > "$dir/pid"
    for _ in $(seq 250); do
        if ! alive "$pid"; then
            cat "$dir/pulse.log" >&2
            echo "virtual_audio.sh: the sound server ended at once" >&2
            return 1
        fi
        if ready "$dir"; then
            echo "$pid"
            return 0
        fi
        sleep 0.02
    done
    kill "$pid"
    echo "virtual_audio.sh: the sound server does not get ready" >&2
    return 1
}

stop() {
    local dir=$1 pid
    pid=$(cat "$dir/pid" 2> /dev/null) || return 0
    rm -f "$dir/pid"
    kill -CONT "$pid" 2> /dev/null || return 0
    kill "$pid" 2> /dev/null || return 0
    for _ in $(seq 100); do
        alive "$pid" || return 0
        sleep 0.02
    done
    kill -KILL "$pid" 2> /dev/null || true
}

run() {
    local dir status=0
    dir=$(mktemp -d)
    trap 'stop "$dir"; rm -rf "$dir"' EXIT
    start "$dir" > /dev/null
    # shellcheck source=/dev/null
    . "$dir/environment"
    "$@" || status=$?
    exit "$status"
}

case ${1:-} in
start | stop | run) "$@" ;;
*)
    sed -n '2,/^set/s/^# \{0,1\}//p' "$0" >&2
    exit 2
    ;;
esac
