# Shared by scripts/run and scripts/test; sourced, never run. Plain sh, so that a fresh machine can run it. What it says of its own
# work goes to stderr: stdout belongs to what is run.

root=$(cd "$(dirname "$0")/.." && pwd)

say () { printf '%s\n' "$*"; }
die () { printf '%s: %s\n' "$(basename "$0")" "$*" >&2; exit 2; }

# The packages of the named sections of scripts/packages.
list_packages ()
{
  awk -v wanted=" $* " '
    /^\[/ { section = $1; gsub (/[][]/, "", section); next }
    $1 !~ /^#/ && NF && index (wanted, " " section " ") { print $1 }' "$root/scripts/packages"
}

# Those of them that are not installed.
list_missing ()
{
  for package in $(list_packages "$@"); do
    state=$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null) || state=
    [ "$state" = installed ] || printf '%s ' "$package"
  done
}

# Installs what is missing of the named sections, and touches nothing when nothing is.
set_up ()
{
  if ! command -v dpkg-query >/dev/null || ! command -v apt-get >/dev/null; then
    if ! command -v meson >/dev/null || ! command -v ninja >/dev/null; then
      die "this is not Debian: install what scripts/packages lists, by this system's names, then run this again"
    fi
    return 0
  fi
  missing=$(list_missing "$@")
  [ -n "$missing" ] || return 0

  if [ "$(id -u)" -eq 0 ]; then
    as_root=
  elif command -v sudo >/dev/null; then
    as_root=sudo
  else
    die "needs root once, to install: apt-get install $missing"
  fi

  say "Installing with apt-get: $missing" >&2
  log=$(mktemp)
  for command in update "install --no-install-recommends $missing"; do
    # shellcheck disable=SC2086 # both are lists of words
    if ! $as_root env DEBIAN_FRONTEND=noninteractive apt-get -y -qq -o DPkg::Lock::Timeout=300 $command >"$log" 2>&1 </dev/null; then
      tail -n 20 "$log" >&2
      rm -f "$log"
      die "apt-get could not install everything that is needed; its last lines are above"
    fi
  done
  rm -f "$log"
}

# build_in FOLDER MESON-OPTION...: configures FOLDER of the tree at first, later only when the options differ, and builds.
build_in ()
{
  dir=$root/$1; shift
  mkdir -p "$dir"
  log=$dir/build.log
  options="$*"
  if [ ! -f "$dir/build.ninja" ]; then
    set -- meson setup "$dir" "$root" "$@"
  elif [ "$(cat "$dir/pawl-options" 2>/dev/null)" != "$options" ]; then
    set -- meson setup --reconfigure "$dir" "$root" "$@"
  else
    set -- true
  fi
  say "Building in $dir" >&2
  if "$@" >"$log" 2>&1 && printf '%s\n' "$options" >"$dir/pawl-options" && ninja -C "$dir" >>"$log" 2>&1; then
    return 0
  fi
  tail -n 60 "$log" >&2
  say "The build in $dir failed; the whole of its output is in $log" >&2
  return 1
}
