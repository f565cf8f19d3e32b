use super::{Said, UNITS, compare};
use spelk::job::Side;
use spelk::job::Turn;
use spelk::proof::{BoardNeeded, Fit, FitOutcome, Offer};
use spelk::shop::{dressed_size, surfaced_size};
use spelk::units::Mm;
use spelk::words::fit;

fn needed(width: f64, thickness: f64) -> BoardNeeded {
    let [width, thickness] = [width, thickness].map(Mm::new);
    BoardNeeded {
        length: Mm::new(483.0),
        width,
        thickness,
        dressed: dressed_size(width, thickness),
        surfaced: surfaced_size(thickness),
    }
}

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
                offers: Vec::new(),
            };
            let name = format!("fit::outcome({outcome:?}, {decided_by:?})");
            said.line(&name, fit::outcome(&one, UNITS[0]));
        }
    }
    let offers = [
        Offer::CarveAsDrawn,
        Offer::Grow { factor: 1.25 },
        Offer::Turn { turn: Turn::Quarter, factor: 1.2 },
        Offer::Shrink { factor: 0.7846 },
        Offer::SkipAllowance { factor: 1.1, step: Mm::new(0.3) },
        Offer::TakeBoard(needed(127.0, 19.0)),
        Offer::TakeBoard(needed(400.0, 19.0)),
        Offer::TakeBoard(needed(400.0, 200.0)),
        Offer::Carrier,
    ];
    for offer in &offers {
        for unit in UNITS {
            said.line("fit::offer", fit::offer(offer, unit));
        }
    }
    for (room, thickness) in [([431.8, 190.5], 19.0), ([431.8, 190.5], 3.0), ([431.8, 0.0], 19.0)] {
        said.line("fit::draw_for", fit::draw_for(room.map(Mm::new), Mm::new(thickness), UNITS[0]));
    }
    compare("fit", &said);
}
