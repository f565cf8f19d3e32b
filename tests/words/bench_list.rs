use super::{Said, UNITS, compare};
use spelk::proof::Severity;
use spelk::proof::stock::{StockReason, StockRow};
use spelk::shop::Check;
use spelk::units::Mm;
use spelk::words::bench_list;

/// A cup that makes the depth, and a V's width, wrong by so much.
pub(crate) fn cup(length: f64, depth: f64, width: f64) -> StockRow {
    let tolerance = Mm::new(0.25);
    row(Check::Cup, Some(length), [depth, width, 0.0], StockReason::TooDeep { tolerance })
}

fn row(
    check: Check,
    length: Option<f64>,
    [depth, width, sideways]: [f64; 3],
    reason: StockReason,
) -> StockRow {
    StockRow {
        check,
        measured: reason != StockReason::NotChecked,
        length: length.map(Mm::new),
        depth_error: Mm::new(depth),
        width_error: Mm::new(width),
        sideways: Mm::new(sideways),
        severity: Severity::Chancy,
        reason,
    }
}

#[test]
fn bench_list() {
    let mut said = Said::default();
    let tolerance = Mm::new(0.5);
    let within = StockReason::Within;
    let aside = StockReason::TooFarAside { tolerance };
    let moves = |moisture, by: Option<f64>| StockReason::Moves { moisture, by: by.map(Mm::new) };
    let rows = [
        ("deep", cup(1.6, 1.5, 0.0)),
        ("deep and wide", cup(1.6, 1.5, 1.8)),
        ("within", row(Check::Bow, Some(0.4), [0.1, 0.0, 0.0], within)),
        ("within aside", row(Check::Crook, Some(0.4), [0.0, 0.0, 0.1], within)),
        ("as it should be", row(Check::Planed, None, [0.0; 3], within)),
        ("twist", row(Check::Twist, Some(9.0), [3.0, 0.0, 0.0], StockReason::TooDeep { tolerance })),
        ("crook", row(Check::Crook, Some(3.0), [0.0, 0.0, 1.2], aside)),
        ("width", row(Check::UnequalWidth, Some(3.0), [0.0, 0.0, 1.2], aside)),
        ("square", row(Check::OffSquare, Some(1.0), [0.0, 0.0, 1.0], aside)),
        (
            "crack",
            row(
                Check::Cup,
                Some(6.0),
                [1.5, 0.0, 0.0],
                StockReason::MayCrack { stress: 4.61, strength: 2.4 },
            ),
        ),
        ("rough", row(Check::Planed, None, [0.0; 3], StockReason::Rough)),
        ("wet", row(Check::Moisture, None, [0.0; 3], moves(20.0, Some(-4.2)))),
        ("dry", row(Check::Moisture, None, [0.0; 3], moves(3.0, Some(1.2)))),
        ("wet or dry", row(Check::Moisture, None, [0.0; 3], moves(20.0, None))),
    ];
    for (name, row) in &rows {
        for unit in UNITS {
            said.line(&format!("bench_list::row({name}, {unit:?})"), bench_list::row(row, unit));
            if row.reason != StockReason::Within {
                said.line(&format!("bench_list::fault({name}, {unit:?})"), bench_list::fault(row, unit));
            }
        }
        said.line(&format!("bench_list::advice({name})"), bench_list::advice(row));
    }
    for check in Check::ALL {
        let unknown = row(check, None, [0.0; 3], StockReason::NotChecked);
        said.line(&format!("bench_list::row({check:?})"), bench_list::row(&unknown, UNITS[0]));
        said.line(&format!("bench_list::advice({check:?})"), bench_list::advice(&unknown));
    }
    compare("bench_list", &said);
}
