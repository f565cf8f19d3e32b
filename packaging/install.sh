#!/bin/sh
# Copies the program and its files into ~/.local, or into the folder you name.
set -eu
from=$(cd "$(dirname "$0")" && pwd)
to=${1:-$HOME/.local}
mkdir -p "$to"
to=$(cd "$to" && pwd)
put() { mkdir -p "$to/$2" && cp "$from/$1" "$to/$2/$3"; }
put spelk bin spelk
chmod 755 "$to/bin/spelk"
put spelk.desktop share/applications spelk.desktop
# A menu may not search the PATH of a terminal, so its entry names the whole path.
place=$(printf '%s' "$to/bin/spelk" | sed 's/[&|\\]/\\&/g')
sed "s|^Exec=spelk|Exec=\"$place\"|" "$from/spelk.desktop" >"$to/share/applications/spelk.desktop"
put spelk-mime.xml share/mime/packages spelk.xml
put spelk.1 share/man/man1 spelk.1
put spelk.svg share/icons/hicolor/scalable/apps spelk.svg
for size in 16 32 48 128 256 512; do
    put "icons/spelk-$size.png" "share/icons/hicolor/${size}x$size/apps" spelk.png
done
for text in "$from"/licences/*; do
    name=$(basename "$text")
    put "licences/$name" share/doc/spelk/licences "$name"
done
for text in LICENSE-MIT LICENSE-APACHE README.md CHANGELOG.md; do
    put "$text" share/doc/spelk "$text"
done
for page in "$from"/docs/*.md; do
    name=$(basename "$page")
    put "docs/$name" share/doc/spelk/docs "$name"
done
for figure in "$from"/docs/figures/*.svg; do
    name=$(basename "$figure")
    put "docs/figures/$name" share/doc/spelk/docs/figures "$name"
done
put completions/spelk.bash share/bash-completion/completions spelk
put completions/_spelk share/zsh/site-functions _spelk
put completions/spelk.fish share/fish/vendor_completions.d spelk.fish
# A package's own scripts do the rest where it is unpacked.
[ -z "${STAGED:-}" ] || exit 0
# Only a desktop has these; with them it notices the new files sooner.
command -v update-mime-database >/dev/null 2>&1 && update-mime-database "$to/share/mime" || true
command -v update-desktop-database >/dev/null 2>&1 && update-desktop-database "$to/share/applications" || true
echo "Spelk is in $to/bin"
