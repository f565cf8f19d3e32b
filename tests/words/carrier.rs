use super::{Said, UNITS, compare};
use crate::support::{job, rectangle};
use spelk::job::Treatment;
use spelk::proof::carrier::{CarrierReason, Measure, carrier as carrier_of};
use spelk::shop::Check;
use spelk::units::Mm;
use spelk::words::carrier;

#[test]
fn carriers() {
    let mut said = Said::default();
    let job = job(Treatment::Sunk, &[("panel", vec![rectangle(0.0, 0.0, 60.0, 20.0)])]);
    let mut made = carrier_of(&job);
    made.too_large = vec![Measure::Length, Measure::Width, Measure::Thickness];
    let least = Mm::new(203.2);
    made.reasons = vec![
        CarrierReason::Short { least },
        CarrierReason::Narrow { least },
        CarrierReason::Thin { least },
        CarrierReason::NoAllowance,
        CarrierReason::Warped { check: Check::Planed },
        CarrierReason::Warped { check: Check::Cup },
    ];
    for unit in UNITS {
        for part in carrier::parts(&made, unit) {
            said.line("carrier::parts", part);
        }
        for &reason in &made.reasons {
            said.line("carrier::reason", carrier::reason(reason, unit));
        }
        said.line("carrier::because", carrier::because(&made.reasons[..2], unit));
        said.line("carrier::because nothing", carrier::because(&[], unit));
        said.line("carrier::in_short", carrier::in_short(&made, unit));
        said.line("carrier::with_its_wood", carrier::with_its_wood(&made, unit));
    }
    compare("carrier", &said);
}
