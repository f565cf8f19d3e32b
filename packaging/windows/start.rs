//! `Spelk.exe` of the Windows packages: opens the window without a console behind it, for the menu, the file type and
//! a click. The program itself is `bin\spelk.exe`, which a terminal can use; see `src/app/console.rs`.

#![windows_subsystem = "windows"]

use std::env;
use std::io;
use std::process::{Command, ExitCode};

fn main() -> ExitCode {
    // Whoever clicked sees nothing of an error here; the window tells its own.
    if start().is_ok() { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

fn start() -> io::Result<()> {
    let own = env::current_exe()?;
    let folder = own.parent().ok_or(io::ErrorKind::NotFound)?;
    let mut program = Command::new(folder.join("bin").join("spelk.exe"));
    program.args(env::args_os().skip(1)).env("SPELK_HAS_NO_CONSOLE", "1");
    #[cfg(windows)]
    {
        use std::os::windows::process::CommandExt as _;
        // `CREATE_NO_WINDOW` of Microsoft Learn, "Process Creation Flags".
        program.creation_flags(0x0800_0000);
    }
    program.spawn().map(drop)
}
