# shellcheck shell=bash
# Sourced by the scripts. A step is one command with a name: a line of progress while it runs, the seconds it took
# when it is done, and its whole output in a log whose path is said when it fails.
# All of it goes to standard error, so that standard output carries only what the script is for.

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
script_name=$(basename "$0")
log_folder=$root/build/logs
step_pid=

say() { printf '%s\n' "$*" >&2; }

fail() {
  say "$script_name: $*"
  exit 1
}

wrong_usage() {
  say "$script_name: $1"
  usage >&2
  exit 2
}

stop_step() {
  if [[ -n $step_pid ]]; then kill -- "-$step_pid" 2>/dev/null; fi
  exit "$1"
}
trap 'stop_step 130' INT
trap 'stop_step 143' TERM

log_of() { printf '%s/%s.log' "$log_folder" "${1// /-}"; }

# Ninja writes [12/40], ctest 12/40 Test: the last such pair in the log is how far the step is.
percent_done() {
  tail -c 4000 "$1" | grep -oE '\[[0-9]+/[0-9]+\]|^ *[0-9]+/[0-9]+ Test' | tail -n 1 | tr -dc '0-9/' |
    awk -F/ '$2 > 0 {printf " %d %%,", 100 * $1 / $2}'
}

show_progress() {
  if [[ -t 2 ]]; then printf '\r\033[K%s' "$1" >&2; else say "$1"; fi
}

end_progress() {
  if [[ -t 2 ]]; then printf '\r\033[K' >&2; fi
  say "$1"
}

# The lines a reader needs first, then the end of the log.
show_failure() {
  grep -m 8 -E 'error:|^E:|\[  FAILED  \]|\(Failed\)|CMake Error|^ *not ok |e2e/[a-z]+\.mjs:[0-9]+' "$1" >&2 || tail -n 15 "$1" >&2
}

# run_step NAME COMMAND...: returns the command's exit code.
run_step() {
  local name=$1 log code=0 begin=$SECONDS shown=0 interval=10
  shift
  log=$(log_of "$name")
  if ! mkdir -p "$log_folder" 2>/dev/null || ! : 2>/dev/null >"$log"; then
    fail "$log cannot be written; was an earlier run made by another user?"
  fi
  if [[ -t 2 ]]; then interval=1; fi
  # A process group of its own, so that an interrupt ends the compilers too.
  set -m
  "$@" >"$log" 2>&1 </dev/null &
  step_pid=$!
  set +m
  while kill -0 "$step_pid" 2>/dev/null; do
    sleep 0.2
    if ((SECONDS - begin - shown >= interval)); then
      shown=$((SECONDS - begin))
      show_progress "$name ...$(percent_done "$log") $shown s"
    fi
  done
  wait "$step_pid" || code=$?
  step_pid=
  if ((code == 0)); then
    end_progress "$name ... done, $((SECONDS - begin)) s"
  else
    end_progress "$name ... FAILED, $((SECONDS - begin)) s"
    show_failure "$log"
    say "the whole log: $log"
  fi
  return "$code"
}

# One compiler a core, but not more than the memory carries (the largest source takes about 1 GB).
job_count() {
  local cores memory_gb
  cores=$(nproc)
  memory_gb=$(awk '/^MemAvailable/ {print int($2 / 1048576)}' /proc/meminfo)
  if ((memory_gb < 1)); then memory_gb=1; fi
  echo $((cores < memory_gb ? cores : memory_gb))
}
