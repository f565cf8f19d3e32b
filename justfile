# Recipes for everyday work; `just` alone lists them.

_list:
    @just --list

# Check formatting and lints, as .ci/run does
lint:
    cargo fmt --check
    cargo clippy --all-targets -- -D warnings

# Run every test that needs nothing but this tree
test *args:
    ./check {{args}}

# Accept the snapshots the tests now give; read the difference before you commit
bless:
    INSTA_UPDATE=always UPDATE_SNAPSHOTS=true ./check

# Redraw the pictures of the window
screenshots:
    UPDATE_SCREENSHOTS=1 cargo test --test capabilities screenshots::

# Time the stages
bench *args:
    cargo bench {{args}}

# Time widths by shape against a peer and write the table into benches/README.md (needs g++ and Boost)
bench-report *args:
    benches/peers/run report {{args}}

# Open the window
run *files:
    cargo run --release -- {{files}}

# Proof a design on the command line
proof *args:
    cargo run --release -- proof {{args}}

# Redraw the sample designs
samples:
    python3 sample-designs/make.py

# Redraw the figures of the documentation
figures:
    cargo run --example figures

# Redraw the icon at every size
icons:
    cargo run --example icon

# Build the release, with its commit in spelk --version
build:
    SPELK_COMMIT=$(git rev-parse --short=12 HEAD) cargo build --release

# Write the manual page and completions into target/package
_package: build
    rm -rf target/package && mkdir -p target/package/completions target/package/icons
    target/release/spelk manual > target/package/spelk.1
    target/release/spelk completions bash > target/package/completions/spelk.bash
    target/release/spelk completions zsh > target/package/completions/_spelk
    target/release/spelk completions fish > target/package/completions/spelk.fish

# Pack one tar to unpack anywhere
portable: _package
    cp target/release/spelk packaging/install.sh packaging/spelk.svg packaging/spelk.desktop packaging/spelk-mime.xml LICENSE-MIT LICENSE-APACHE README.md target/package
    cp packaging/icons/*.png target/package/icons
    cp -r packaging/licences target/package
    cp -r docs target/package
    tar --sort=name --owner=0 --group=0 --numeric-owner -C target --transform s/^package/spelk/ -czf target/spelk-portable.tar.gz package

# Build a Debian package (needs cargo-deb)
deb: _package
    cargo deb --no-build

# Open the documentation in a browser
doc:
    cargo doc --no-deps --document-private-items --open

# Check licences and sources of dependencies
deny:
    cargo deny check licenses bans sources

# Run everything a change must pass
ci:
    .ci/run
