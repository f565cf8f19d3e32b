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
    UPDATE_SCREENSHOTS=1 cargo test --test capabilities window::

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

# The documents, in a browser
doc:
    cargo doc --no-deps --document-private-items --open

# Licences, sources, duplicates
deny:
    cargo deny check licenses bans sources

# Everything, as before a change is taken
ci:
    .ci/run
