# Shared by the scripts beside it; sourced, never run. Plain sh, so that a fresh machine can run it. What it says of its own
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
  set -- -Dpostgresql=enabled "$@" # what the packages are there for
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
  # Builds that differ in options alone share what they have in common: meson takes ccache where there is one.
  export CCACHE_DIR="$root/build-ccache" CCACHE_BASEDIR="$root" CCACHE_NOHASHDIR=1
  if "$@" >"$log" 2>&1 && printf '%s\n' "$options" >"$dir/pawl-options" && ninja -C "$dir" >>"$log" 2>&1; then
    return 0
  fi
  tail -n 60 "$log" >&2
  say "The build in $dir failed; the whole of its output is in $log" >&2
  return 1
}

# Nothing of the user who runs this is read or written from here on: own home, own runtime folder, own settings. The folder is
# $scratch, and goes when the script ends.
own_desk ()
{
  scratch=$(mktemp -d)
  trap 'rm -rf "$scratch"' EXIT
  trap 'exit 130' INT TERM HUP
  for name in home run data config cache state; do mkdir -m 700 "$scratch/$name"; done
  export HOME="$scratch/home" XDG_RUNTIME_DIR="$scratch/run" XDG_DATA_HOME="$scratch/data" XDG_CONFIG_HOME="$scratch/config" \
         XDG_CACHE_HOME="$scratch/cache" XDG_STATE_HOME="$scratch/state"
  export LC_ALL=C.UTF-8 TZ=UTC GSETTINGS_BACKEND=memory GTK_USE_PORTAL=0 GIO_USE_VFS=local \
         GDK_BACKEND=x11 GSK_RENDERER=cairo GTK_A11Y=test
  unset WAYLAND_DISPLAY LANGUAGE G_MESSAGES_DEBUG
}

# on_display WIDTHxHEIGHT COMMAND...: with a display and a session bus of its own.
on_display ()
{
  screen=$1; shift
  xvfb-run -a -s "-screen 0 ${screen}x24 -nolisten tcp" dbus-run-session -- "$@"
}
