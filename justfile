# Recipes for everyday work; `just` alone lists them.

_list:
    @just --list

# Form and lints, as .ci/run asks for them
lint:
    cargo fmt --check
    cargo clippy --all-targets -- -D warnings

# Every test
test *args:
    ./check {{args}}

# Accept the pictures and snapshots that the tests now give; look at the difference before committing
bless:
    INSTA_UPDATE=always UPDATE_SNAPSHOTS=true ./check

# Draw the pictures of the window anew
screenshots:
    UPDATE_SCREENSHOTS=1 cargo test --test capabilities screenshots::

# Time the stages
bench *args:
    cargo bench {{args}}

# Open the window
run *files:
    cargo run --release -- {{files}}

# Proof a design on the command line
proof *args:
    cargo run --release -- proof {{args}}

# Draw the sample designs anew
samples:
    python3 sample-designs/make.py

# Draw the icon at every size anew
icons:
    cargo run --example icon

# The program built for release, told which commit it is of
build:
    SPELK_COMMIT=$(git rev-parse --short=12 HEAD) cargo build --release

# Manual page and completions, into target/package
_package: build
    rm -rf target/package && mkdir -p target/package/completions target/package/icons
    target/release/spelk manual > target/package/spelk.1
    target/release/spelk completions bash > target/package/completions/spelk.bash
    target/release/spelk completions zsh > target/package/completions/_spelk
    target/release/spelk completions fish > target/package/completions/spelk.fish

# One tar to unpack anywhere
portable: _package
    cp target/release/spelk packaging/install.sh packaging/spelk.svg packaging/spelk.desktop packaging/spelk-mime.xml LICENSE-MIT LICENSE-APACHE README.md target/package
    cp packaging/icons/*.png target/package/icons
    tar --sort=name --owner=0 --group=0 --numeric-owner -C target --transform s/^package/spelk/ -czf target/spelk-portable.tar.gz package

# A Debian package (needs cargo-deb)
deb: _package
    cargo deb --no-build

# The documents, in a browser
doc:
    cargo doc --no-deps --document-private-items --open

# Licences, sources, duplicates
deny:
    cargo deny check licenses bans sources

# Everything, as before a change is taken
ci:
    .ci/run
