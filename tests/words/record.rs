use super::{Said, compare, say};
use spelk::proof::record::Told;
use spelk::shop::Experience;
use spelk::words::record;

#[test]
fn the_record_of_walls() {
    let mut said = Said::default();
    let alike = Experience { factor: [1.08; 2], likely: [[0.98, 1.2]; 2], scatter: 0.17, held: 9, broke: 3 };
    let apart = Experience { factor: [0.9, 1.3], likely: [[0.8, 0.98], [1.1, 1.5]], ..alike };
    say!(said, record::experience("Flat end, 1/8 in", &alike));
    say!(said, record::experience("Flat end, 1/8 in", &apart));
    say!(said, record::constant("Flat end, 1/8 in", 2.2, 1.1, [0.9, 1.3]));
    for (walls, held) in [(0, 0), (1, 1), (12, 9)] {
        let told = Told { from: 0.6, to: 0.8, mean: 0.71, walls, held };
        say!(said, record::told(&told));
    }
    say!(said, record::NONE);
    say!(said, record::noted(1));
    say!(said, record::noted(4));
    say!(said, record::no_wall("thin_wall-thin_wall-7"));
    say!(said, record::both("thin_wall-thin_wall-7"));
    say!(said, record::no_rung("walls-along"));
    say!(said, record::contradicts("walls-across", "walls-along", 2.4, 1.6));
    say!(said, record::agrees("walls-across", "walls-along", 1.7, 1.6));
    for chance in [0.0, 0.42, 0.9999] {
        say!(said, record::all_hold(chance));
    }
    say!(said, record::NO_CONFIG_FOLDER);
    compare("record", &said);
}
