use super::{Said, UNITS, compare, say};
use spelk::proof::wall::{Governs, Limit};
use spelk::proof::{HeldWall, WallRun};
use spelk::units::Mm;
use spelk::words::lesson;

#[test]
fn lesson() {
    let mut said = Said::default();
    let mm = Mm::new;
    say!(said, lesson::TITLE);
    say!(said, lesson::RULE);
    say!(said, lesson::WALL_FROM_ABOVE);
    say!(said, lesson::WALL_IN_SECTION);
    say!(said, lesson::V_IN_SECTION);
    say!(said, lesson::POINT_FROM_ABOVE);
    say!(said, lesson::FREE_END_FROM_ABOVE);
    say!(said, lesson::PASS_IN_SECTION);
    say!(said, lesson::TURNED_FROM_ABOVE);
    say!(said, lesson::ALONG_THE_GRAIN);
    say!(said, lesson::ACROSS_THE_GRAIN);
    say!(said, lesson::both_ways([mm(1.5), mm(2.5)], UNITS[0]));
    say!(said, lesson::IN_THE_AIR);
    say!(said, lesson::TIED);
    say!(said, lesson::THIS_PASS);
    say!(said, lesson::HALF_THE_PASS);
    say!(said, lesson::AS_TALL_AS_BEFORE);
    say!(said, lesson::AS_DRAWN);
    say!(said, lesson::share_of_that(0.5));
    say!(said, lesson::share_lost(0.333));
    say!(said, lesson::OTHER_SAMPLE);
    say!(said, lesson::OPEN_SAMPLE);
    say!(said, lesson::END_TOUR);
    say!(said, lesson::NEXT);
    say!(said, lesson::BACK);
    say!(said, lesson::NEXT_STEP);
    say!(said, lesson::STEP_BEFORE);
    say!(said, lesson::TURN_THE_WALL);
    say!(said, lesson::TURN_OF_THE_WALL);
    say!(said, lesson::turned(45.0, mm(1.9), [mm(1.5), mm(2.5)], UNITS[0]));
    say!(said, lesson::GUESS_FIRST);
    say!(said, lesson::LEAVE_FULL_SCREEN);
    say!(said, lesson::guessed("The wall"));
    say!(said, lesson::guess_held("The wall", true));
    say!(said, lesson::guess_held("The limit", false));
    say!(said, lesson::step(2, 6, "Gate sign"));
    say!(said, lesson::answered("From 337 mm: there the thinnest place is just at its limit"));
    say!(said, lesson::figure(lesson::WALL_FROM_ABOVE, "It is thick enough in every direction"));
    for unit in UNITS {
        say!(said, lesson::wall_label(mm(1.19), unit));
        say!(said, lesson::limit_label(mm(2.27), unit));
        say!(said, lesson::push(3.47, unit));
        for length in [f64::INFINITY, 30.0] {
            let run = WallRun { length: mm(length), ..WallRun::ENDLESS };
            let limit = Limit { thickness: mm(1.8), governs: Governs::Root, k: 0.855, push: 3.47 };
            let wall = HeldWall { height: mm(3.0), run, limit };
            say!(said, lesson::how_long(&wall, unit));
            say!(said, lesson::standing(&wall, unit));
        }
        say!(said, lesson::free_end(mm(2.27), mm(1.3), unit));
        say!(said, lesson::pass((mm(1.5), mm(1.4)), (mm(0.75), mm(0.99)), unit));
        say!(said, lesson::thick_and_tall(mm(1.19), mm(3.0), unit));
        say!(said, lesson::depth_label(mm(1.2), unit));
        for (own, now) in [(true, 3.0), (true, 2.0), (false, 1.0)] {
            say!(said, lesson::wall(own, mm(3.0), mm(now), [mm(1.5), mm(2.5)], unit));
        }
        for (own, now) in [(true, 4.0), (false, 2.0)] {
            say!(said, lesson::groove(own, mm(4.0), mm(now), mm(3.18), unit));
        }
        let angle = std::f64::consts::FRAC_PI_2;
        say!(said, lesson::v_groove(angle, [mm(4.0), mm(2.0)], [mm(2.0), mm(1.0)], unit));
        say!(said, lesson::point(angle / 3.0, mm(4.83), [1.0 / 3.0, 2.0 / 3.0], unit));
    }
    compare("lesson", &said);
}
