//! What is said of a fault of the program's own.

use super::window::SPELK;

/// The report of a fault, for whoever mends the program: the version, what the program was doing, where in its
/// source it stopped, and what it said where that holds nothing of a design.
pub fn report(version: &str, thread: &str, location: &str, message: Option<&str>) -> String {
    let message = message.unwrap_or("left out, for it may hold something of a design");
    format!("{SPELK} {version}\nStopped in: {thread}\nAt: {location}\nMessage: {message}\n\n")
}

/// Where the report of a fault is, on standard error.
pub fn reported(report: &str) -> String {
    format!("spelk: this is a fault in {SPELK}; a report that holds nothing of your designs is in {report}")
}

/// An earlier run stopped; its report is there.
pub fn left(report: &str) -> String {
    format!(
        "{SPELK} stopped because of a fault when it last ran. A report that holds nothing of your designs is in {report}"
    )
}

/// A piece of work ended through a fault, which a report tells of.
pub fn broke_off(about: &str, report: &str) -> String {
    format!(
        "{about}: the work stopped because of a fault in {SPELK}. The job is unchanged. A report is in {report}"
    )
}

/// The window ended through a fault.
pub fn window_stopped(report: Option<&str>) -> String {
    match report {
        None => format!(
            "{SPELK} stopped because of a fault. Start it again: it offers you the changes you had not saved"
        ),
        Some(report) => format!(
            "{SPELK} stopped because of a fault. Start it again: it offers you the changes you had not saved. A report that holds nothing of your designs is in {report}"
        ),
    }
}
