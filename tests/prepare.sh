#!/bin/sh
# Bring what the tests need beside Python packages: a browser and a database server. Says what is left out, and why.
missing=""
[ -x /usr/bin/chromium ] || missing="chromium"
command -v initdb >/dev/null 2>&1 || ls /usr/lib/postgresql/*/bin/initdb >/dev/null 2>&1 || missing="$missing postgresql"
command -v openssl >/dev/null 2>&1 || missing="$missing openssl"
for name in "$@"; do
  command -v "$name" >/dev/null 2>&1 || missing="$missing $name"
done
[ -n "$missing" ] || exit 0

asroot=""
if [ "$(id -u)" != 0 ]; then
  sudo -n true 2>/dev/null && asroot="sudo -n"
fi
if command -v apt-get >/dev/null 2>&1 && { [ "$(id -u)" = 0 ] || [ -n "$asroot" ]; }; then
  echo "Installing for the tests:$( [ -n "$missing" ] && echo " $missing")"
  $asroot apt-get update -qq &&
    $asroot env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null && exit 0
fi
for name in $missing; do
  echo "Left out: the tests that need $name, which is not installed and cannot be installed from here."
done
[ "$CI" = true ] && { echo "In CI nothing may be left out."; exit 1; }
exit 0
