//! A window without a console behind it, on Windows.
//!
//! The program is one for terminals there, so that its commands print where they are typed and a script can read
//! them. Windows gives such a program a console of its own where it is started by a click. So the window opens in a
//! second process that has none, and the first one ends. `packaging/windows/start.rs` starts it so at once,
//! for menus and the file type.

/// Set for the process that opens the window itself.
#[cfg(windows)]
const HAS_NO_CONSOLE: &str = "SPELK_HAS_NO_CONSOLE";

/// `CREATE_NO_WINDOW` of Microsoft Learn, "Process Creation Flags".
#[cfg(windows)]
const CREATE_NO_WINDOW: u32 = 0x0800_0000;

/// Starts the window in a process without a console; whether this process has nothing more to do.
#[cfg(windows)]
pub(crate) fn left_behind() -> bool {
    use std::os::windows::process::CommandExt as _;
    use std::process::{Command, Stdio};
    if std::env::var_os(HAS_NO_CONSOLE).is_some() {
        return false;
    }
    let Ok(program) = std::env::current_exe() else { return false };
    Command::new(program)
        .args(std::env::args_os().skip(1))
        .env(HAS_NO_CONSOLE, "1")
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .creation_flags(CREATE_NO_WINDOW)
        .spawn()
        .is_ok()
}

/// Elsewhere a window has no console.
#[cfg(not(windows))]
pub(crate) fn left_behind() -> bool {
    false
}

/// Shows why there is no window where nobody reads standard error.
#[cfg(any(windows, target_os = "macos"))]
pub(crate) fn show(why: &str) {
    rfd::MessageDialog::new()
        .set_level(rfd::MessageLevel::Error)
        .set_title(crate::words::window::SPELK)
        .set_description(why)
        .show();
}

/// Elsewhere the error goes to standard error, which a desktop keeps.
#[cfg(not(any(windows, target_os = "macos")))]
pub(crate) fn show(_: &str) {}
