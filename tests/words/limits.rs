use super::{Said, UNITS, compare};
use crate::support::{job, rectangle};
use spelk::job::{Edit, Treatment};
use spelk::proof::Limits;
use spelk::shop::{Cutter, Wood};
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
    compare("limits", &said);
}
