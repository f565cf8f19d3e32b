#!/bin/sh
# Copies the program and what belongs to it under ~/.local, or under the folder given.
set -eu
from=$(cd "$(dirname "$0")" && pwd)
to=${1:-$HOME/.local}
mkdir -p "$to"
to=$(cd "$to" && pwd)
put() { mkdir -p "$to/$2" && cp "$from/$1" "$to/$2/$3"; }
put spelk bin spelk
chmod 755 "$to/bin/spelk"
put spelk.desktop share/applications spelk.desktop
# The menu need not know the folder that a terminal's PATH knows.
place=$(printf '%s' "$to/bin/spelk" | sed 's/[&|\\]/\\&/g')
sed "s|^Exec=spelk|Exec=\"$place\"|" "$from/spelk.desktop" >"$to/share/applications/spelk.desktop"
put spelk-mime.xml share/mime/packages spelk.xml
put spelk.1 share/man/man1 spelk.1
put spelk.svg share/icons/hicolor/scalable/apps spelk.svg
for size in 16 32 48 128 256 512; do
    put "icons/spelk-$size.png" "share/icons/hicolor/${size}x$size/apps" spelk.png
done
put completions/spelk.bash share/bash-completion/completions spelk
put completions/_spelk share/zsh/site-functions _spelk
put completions/spelk.fish share/fish/vendor_completions.d spelk.fish
# Both are only there on a desktop, and only make it notice sooner.
command -v update-mime-database >/dev/null 2>&1 && update-mime-database "$to/share/mime" || true
command -v update-desktop-database >/dev/null 2>&1 && update-desktop-database "$to/share/applications" || true
echo "Spelk is in $to/bin"
