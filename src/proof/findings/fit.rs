//! A board that is too small for the design or for the machine, or a design put too near its sides.

use super::AtSize;
use crate::proof::finding::{Facts, Finding, MachineBound};
use crate::proof::fit::{board_needed, deepest_floor, falls_short, floor_needs, overlaps};

/// A board that is too short, too narrow or too thin for the design at this size.
pub(super) fn fit(at_size: &AtSize) -> Vec<Finding> {
    let (job, fit) = (at_size.job, at_size.fit);
    let (length, width, thickness) = (job.board().length, job.board().width, job.board().thickness);
    let (deepest, floor) = (deepest_floor(job), floor_needs(job));
    let checks = [
        (length, fit.length_needed, Facts::BoardShort { length, needed: fit.length_needed }),
        (width, fit.width_needed, Facts::BoardNarrow { width, needed: fit.width_needed }),
        (thickness, floor, Facts::BoardThin { thickness, needed: floor, deepest }),
    ];
    let short = checks.into_iter().filter(|&(measured, needed, _)| falls_short(measured, needed));
    short.map(|(.., facts)| at_size.of_the_board(facts.kind().id(), facts)).collect()
}

/// A board that the machine does not take by itself.
pub(super) fn machine(at_size: &AtSize) -> Vec<Finding> {
    let (board, machine) = (at_size.job.board(), at_size.job.machine());
    let at_least = [
        (MachineBound::TooShort, board.length, machine.shortest),
        (MachineBound::TooNarrow, board.width, machine.narrowest),
        (MachineBound::TooThin, board.thickness, machine.thinnest),
    ];
    let at_most = [
        (MachineBound::TooLong, board.length, machine.longest),
        (MachineBound::TooWide, board.width, machine.widest),
        (MachineBound::TooThick, board.thickness, machine.thickest),
    ];
    let short = at_least.into_iter().filter(|&(_, measured, least)| falls_short(measured, least));
    let over = at_most.into_iter().filter(|&(_, measured, most)| falls_short(most, measured));
    let finding = |(bound, measured, limit): (MachineBound, _, _)| {
        at_size.of_the_board(
            format!("machine_limit-{}", bound.id()),
            Facts::MachineLimit { bound, measured, limit },
        )
    };
    short.chain(over).map(finding).collect()
}

/// A typed or dragged place that leaves too little board beyond the design.
pub(super) fn misplaced(at_size: &AtSize) -> Vec<Finding> {
    let (job, factor) = (at_size.job, at_size.factor);
    // Where the board is too small for this size, that is said already.
    let needed = board_needed(job, factor);
    if falls_short(job.board().length, needed.length) || falls_short(job.board().width, needed.width) {
        return Vec::new();
    }
    let finding = |overlap: crate::proof::fit::Overlap| {
        let facts = Facts::Misplaced { side: overlap.side, free: overlap.free, needed: overlap.needed };
        at_size.of_the_board(format!("{}-{}", facts.kind().id(), overlap.side.id()), facts)
    };
    overlaps(job, factor).into_iter().map(finding).collect()
}
