use super::{Said, UNITS, compare};
use spelk::job::Side;
use spelk::proof::{Fit, FitOutcome};
use spelk::units::Mm;
use spelk::words::fit;

#[test]
fn fits() {
    let mut said = Said::default();
    for outcome in [
        FitOutcome::Fits,
        FitOutcome::Misplaced,
        FitOutcome::FitsTurned,
        FitOutcome::Shrink,
        FitOutcome::NoRoom,
    ] {
        for decided_by in [Side::Length, Side::Width] {
            let one = Fit {
                outcome,
                largest_factor: 0.7846,
                turned_factor: 1.2,
                decided_by,
                room: [Mm::new(431.8), Mm::new(190.5)],
                length_needed: Mm::new(483.0),
                width_needed: Mm::new(127.0),
            };
            let name = format!("fit::outcome({outcome:?}, {decided_by:?})");
            said.line(&name, fit::outcome(&one, UNITS[0]));
        }
    }
    for (room, thickness) in [([431.8, 190.5], 19.0), ([431.8, 190.5], 3.0), ([431.8, 0.0], 19.0)] {
        said.line("fit::draw_for", fit::draw_for(room.map(Mm::new), Mm::new(thickness), UNITS[0]));
    }
    compare("fit", &said);
}
