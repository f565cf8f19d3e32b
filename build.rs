//! Gives the Windows programs their icon and manifest, where the tool for it is there. Without them they work
//! all the same: the window sets its icon and its sharpness itself.

use std::env;
use std::path::Path;
use std::process::Command;

fn main() {
    println!("cargo:rerun-if-changed=build.rs");
    let is = |name: &str, value: &str| env::var(name).is_ok_and(|is| is == value);
    if !(is("CARGO_CFG_TARGET_OS", "windows") && is("CARGO_CFG_TARGET_ENV", "gnu")) {
        return;
    }
    let folder = Path::new("packaging/windows");
    for file in ["spelk.rc", "spelk.ico", "spelk.manifest"] {
        println!("cargo:rerun-if-changed={}", folder.join(file).display());
    }
    let out = Path::new(&env::var_os("OUT_DIR").expect("cargo sets it")).join("spelk.res.o");
    // The first is its name on other systems.
    let made = ["x86_64-w64-mingw32-windres", "windres"].into_iter().any(|windres| {
        Command::new(windres)
            .current_dir(folder)
            .args(["--input", "spelk.rc", "--output-format", "coff", "--output"])
            .arg(&out)
            .status()
            .is_ok_and(|status| status.success())
    });
    if made {
        println!("cargo:rustc-link-arg-bins={}", out.display());
    } else {
        println!("cargo:warning=no windres: the programs have no icon of their own");
    }
}
