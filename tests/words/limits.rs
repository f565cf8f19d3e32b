use super::{Said, UNITS, compare};
use crate::support::{job, rectangle};
use spelk::job::{Edit, Treatment};
use spelk::proof::wall::{Governs, Limit};
use spelk::proof::{HeldWall, Limits, WallEnds, WallRun};
use spelk::shop::{Cutter, Wood};
use spelk::units::{LengthUnit, Mm};
use spelk::words::limits;

#[test]
fn limits_and_their_arithmetic() {
    let mut said = Said::default();
    let mut job = job(Treatment::Incised, &[("panel", vec![rectangle(0.0, 0.0, 60.0, 20.0)])]);
    let mut wall = job.cutter().reference.clone();
    said.line("limits::short_source", limits::short_source(&wall));
    "test piece, 3 May".clone_into(&mut wall.source);
    said.line("limits::short_source", limits::short_source(&wall));
    for (cutter, wood) in [("flat-1/8in", "basswood_american"), ("vee-60", "maple_sugar")] {
        job.apply(Edit::Cutter(Box::new(Cutter::find(cutter).unwrap().clone()))).unwrap();
        job.apply(Edit::Wood(Box::new(Wood::find(wood).unwrap().clone()))).unwrap();
        let of = Limits::of(&job);
        for unit in UNITS {
            said.line("limits::source", limits::source(&of, unit));
            said.line("limits::limits_from", limits::limits_from(&of, unit));
            for limits::LimitStep { title, text } in limits::steps(&of, unit) {
                said.line("limits::steps", format!("{title}: {text}"));
            }
        }
    }
    for kind in
        [Governs::Root, Governs::End, Governs::Stiffness, Governs::Shear, Governs::Beam, Governs::Pillar]
    {
        said.line("limits::governs", limits::governs(kind));
    }
    for ends in [WallEnds::BothFree, WallEnds::OneFree, WallEnds::BothJoined, WallEnds::Closed] {
        for (length, to_free_end, kind) in
            [(4.0, 0.0, Governs::Root), (40.0, 20.0, Governs::Stiffness), (40.0, 0.0, Governs::Beam)]
        {
            let run = WallRun { length: Mm::new(length), ends, to_free_end: Mm::new(to_free_end) };
            let limit = Limit { thickness: Mm::new(1.5), governs: kind, k: 0.261, push: 3.47 };
            let wall = HeldWall { height: Mm::new(3.0), run, limit };
            said.line("limits::of_wall", limits::of_wall(&wall, 0.5, LengthUnit::Millimetres));
            said.line("limits::ends", limits::ends(&wall, LengthUnit::Millimetres));
            said.line("limits::support", limits::support(&wall).unwrap_or_default());
        }
    }
    let run = WallRun { length: Mm::new(1.0), ends: WallEnds::Pillar, to_free_end: Mm::ZERO };
    let limit = Limit { thickness: Mm::new(2.5), governs: Governs::Pillar, k: 1.2, push: 4.0 };
    let pillar = HeldWall { height: Mm::new(3.0), run, limit };
    said.line("limits::of_wall", limits::of_wall(&pillar, 0.0, LengthUnit::Millimetres));
    for unit in UNITS {
        said.line("limits::feed_per_tooth", limits::feed_per_tooth(Mm::new(0.04), unit));
    }
    said.line("limits::shaping", limits::shaping(Wood::find("basswood_american").unwrap()).unwrap());
    compare("limits", &said);
}
