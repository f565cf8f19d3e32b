//! What the command line writes destroys nothing: every case here once lost a file.

use crate::cli::spelk;
use std::fs;
use std::path::{Path, PathBuf};

/// Two blocks joined by a bar 2 mm thick.
const BAR: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" width="110mm" height="40mm" viewBox="0 0 110 40">
<path id="bar" d="M0 0H40V19H70V0H110V40H70V21H40V40H0Z"/></svg>"#;

/// A folder with a design in it.
struct Shop {
    folder: tempfile::TempDir,
}

impl Shop {
    fn new() -> Shop {
        let shop = Shop { folder: tempfile::tempdir().unwrap() };
        fs::write(shop.at("bar.svg"), BAR).unwrap();
        shop
    }

    fn at(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn text(&self, name: &str) -> String {
        self.at(name).to_str().unwrap().to_owned()
    }

    /// The names of all files there, in order.
    fn files(&self) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(self.folder.path())
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }
}

fn is_png(path: &Path) -> bool {
    fs::read(path).unwrap().starts_with(b"\x89PNG")
}

#[test]
fn no_command_writes_over_what_it_reads() {
    let shop = Shop::new();
    let bar = shop.text("bar.svg");
    let there = ["bar.svg"];
    for command in [
        ["mend", &bar, "-o", &bar],
        ["sheet", &bar, "-o", &bar],
        ["proof", &bar, "--picture", &bar],
        ["export", &bar, "-o", &shop.text("./bar.svg")],
        ["relief", &bar, "-o", &bar],
        ["sizes", &bar, "-o", &bar],
    ] {
        for force in [&[][..], &["--force"]] {
            spelk(&[&command, force].concat()).refused(&["bar.svg is what this command reads"]);
        }
    }
    assert_eq!(fs::read_to_string(shop.at("bar.svg")).unwrap(), BAR);
    assert_eq!(shop.files(), there);
}

#[test]
fn a_file_that_is_there_is_replaced_only_with_force() {
    let shop = Shop::new();
    let (bar, out) = (shop.text("bar.svg"), shop.text("out.svg"));
    fs::write(&out, "precious").unwrap();
    for command in [
        &["mend", &bar, "-o", &out][..],
        &["coupon", "-o", &out],
        &["coupon", "-o", &shop.text("new.svg"), "--key", &out],
        &["letter", "Inn", "-o", &out],
        &["relief", &bar, "-o", &out, "--pitch", "2mm"],
        &["sizes", &bar, "-o", &out],
        &["sheet", &bar, "-o", &out],
        &["export", &bar, "-o", &out],
        &["proof", &bar, "--carrier", &out],
        &["proof", &bar, "--picture", &out],
    ] {
        spelk(command).refused(&["out.svg is already there", "--force"]);
        assert_eq!(fs::read_to_string(&out).unwrap(), "precious");
    }
    assert_eq!(shop.files(), ["bar.svg", "out.svg"], "nothing is written in part");
    let run = spelk(&["mend", &bar, "-o", &out, "--force"]);
    assert_eq!(run.status, 0, "{}", run.err);
    assert!(fs::read_to_string(&out).unwrap().contains("<svg"));
}

#[test]
fn two_results_of_one_name_are_refused() {
    let shop = Shop::new();
    let (bar, out) = (shop.text("bar.svg"), shop.text("out.png"));
    spelk(&["relief", &bar, "-o", &out, "--stl", &shop.text("./out.png")]).refused(&["two results"]);
    spelk(&["coupon", "-o", &out, "--key", &out]).refused(&["two results"]);
    spelk(&["proof", &bar, "--picture", &out, "--carrier", &out]).refused(&["two results"]);
    assert_eq!(shop.files(), ["bar.svg"]);
}

#[test]
fn a_dash_is_no_file_name() {
    let shop = Shop::new();
    spelk(&["mend", &shop.text("bar.svg"), "-o", "-"]).refused(&["not to -"]);
}

#[cfg(unix)]
#[test]
fn links_are_followed_and_devices_stay_devices() {
    use std::os::unix::fs::symlink;
    let shop = Shop::new();
    let bar = shop.text("bar.svg");
    fs::create_dir(shop.at("far")).unwrap();
    symlink("far/out.png", shop.at("link.png")).unwrap();
    let draw = |out: &str, force: &[&str]| spelk(&[&["proof", &bar, "--picture", out], force].concat());
    draw(&shop.text("link.png"), &[]);
    assert!(shop.at("link.png").symlink_metadata().unwrap().is_symlink());
    assert!(is_png(&shop.at("far/out.png")));
    draw(&shop.text("link.png"), &[]).refused(&["already there"]);
    // A link to what is read is what is read.
    symlink("bar.svg", shop.at("other.svg")).unwrap();
    spelk(&["mend", &bar, "-o", &shop.text("other.svg"), "--force"]).refused(&["what this command reads"]);
    spelk(&["mend", &bar, "-o", "/dev/full"]).refused(&["/dev/full", "the disk is full"]);
    assert_eq!(spelk(&["mend", &bar, "-o", "/dev/null"]).status, 0);
    assert!(!fs::metadata("/dev/null").unwrap().is_file());
}

#[test]
fn a_read_only_file_is_not_replaced() {
    let shop = Shop::new();
    let out = shop.at("out.svg");
    fs::write(&out, "precious").unwrap();
    let mut permissions = fs::metadata(&out).unwrap().permissions();
    permissions.set_readonly(true);
    fs::set_permissions(&out, permissions).unwrap();
    spelk(&["mend", &shop.text("bar.svg"), "-o", &shop.text("out.svg"), "--force"]).refused(&["read-only"]);
    assert_eq!(fs::read_to_string(&out).unwrap(), "precious");
}

#[cfg(unix)]
#[test]
fn standard_output_or_error_that_takes_nothing_is_an_error_and_no_panic() {
    use std::process::{Command, Stdio};
    let shop = Shop::new();
    let full = || Stdio::from(fs::File::options().write(true).open("/dev/full").unwrap());
    let program = || {
        let mut program = Command::new(env!("CARGO_BIN_EXE_spelk"));
        program.env("XDG_CONFIG_HOME", shop.at("config"));
        program
    };
    let out = program().args(["proof", &shop.text("bar.svg")]).stdout(full()).output().unwrap();
    assert_eq!(out.status.code(), Some(2));
    assert!(
        String::from_utf8(out.stderr).unwrap().contains("the result cannot be printed (the disk is full)")
    );
    // With nowhere to say why.
    let run = program().args(["proof", "nowhere.svg"]).stdout(Stdio::null()).stderr(full()).status().unwrap();
    assert_eq!(run.code(), Some(2));
    // A note that cannot be said: the result is there, and the status says that something is not.
    let timed =
        program().args(["proof", &shop.text("bar.svg"), "--timings"]).stderr(full()).output().unwrap();
    assert_eq!(timed.status.code(), Some(2));
    assert!(String::from_utf8(timed.stdout).unwrap().contains("bar"));
}

#[cfg(unix)]
#[test]
fn a_pipe_or_a_device_is_not_read() {
    let shop = Shop::new();
    let bar = shop.text("bar.svg");
    let pipe = shop.text("pipe.spelk");
    assert!(std::process::Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    spelk(&["proof", &pipe]).refused(&["pipe.spelk", "not an ordinary file"]);
    spelk(&["proof", &bar, "--job", &pipe]).refused(&["not an ordinary file"]);
    let out = shop.text("out.svg");
    spelk(&["letter", "Inn", "-o", &out, "--font-file", "/dev/zero"]).refused(&["not an ordinary file"]);
    spelk(&["sheet", &bar, "-o", &out, "--mark", "/dev/zero"]).refused(&["not an ordinary file"]);
    spelk(&["rack", &bar, "--boards", &pipe]).refused(&["not an ordinary file"]);
}
