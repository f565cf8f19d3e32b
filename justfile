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

# Make the packages for Linux and Windows in target/packages (see packaging/README.md)
package *args:
    packaging/package {{args}}

# Open the documentation in a browser
doc:
    cargo doc --no-deps --document-private-items --open

# Check licences and sources of dependencies
deny:
    cargo deny check licenses bans sources

# Run everything a change must pass
ci:
    .ci/run
