//! Findings and sizes as CSV, for a spreadsheet: RFC 4180, a point before decimals, millimetres.

use crate::arrange::Batch;
use crate::proof::price::PriceItem;
use crate::proof::sizes::{BoardTaken, RowKind, SizeRow};
use crate::proof::{Finding, Proof};
use crate::units::{LengthUnit, Mm};
use crate::words;

/// What is said of each finding.
const FINDING: [&str; 10] = [
    "kind",
    "severity",
    "element",
    "x_mm",
    "y_mm",
    "measured_mm",
    "limit_mm",
    "length_mm",
    "message",
    "advice",
];

fn finding_cells(finding: &Finding, unit: LengthUnit) -> [String; 10] {
    [
        finding.kind().id().to_owned(),
        finding.severity().label().to_lowercase(),
        finding.element().unwrap_or_default().to_owned(),
        number(finding.at.x),
        number(finding.at.y),
        mm(finding.measured().unwrap_or_default()),
        mm(finding.limit().unwrap_or_default()),
        mm(finding.run().unwrap_or_default()),
        words::finding::message(finding, unit),
        words::finding::advice(finding, unit),
    ]
}

/// The findings of a proof, worst first, a row each; messages are in `unit`.
pub fn findings_csv(proof: &Proof, unit: LengthUnit) -> String {
    let mut table = Table::new(&FINDING);
    for finding in &proof.findings {
        table.row(finding_cells(finding, unit));
    }
    table.finish()
}

/// The findings of every laid copy, copy by copy, each row with its piece and the number of its copy, from 1.
pub fn batch_findings_csv(batch: &Batch, unit: LengthUnit) -> String {
    let mut table = Table::new(&[&["piece", "copy"][..], &FINDING[..]].concat());
    for copy in &batch.copies {
        let whose = [batch.pieces[copy.piece].name.clone(), (copy.copy + 1).to_string()];
        for finding in &copy.proof.findings {
            table.row(whose.iter().cloned().chain(finding_cells(finding, unit)));
        }
    }
    table.finish()
}

/// Sizes, smallest first, a row each, with every line of their prices; what is not worked out is blank.
pub fn sizes_csv(rows: &[SizeRow], unit: LengthUnit) -> String {
    const PRICED: [(PriceItem, &str); 12] = [
        (PriceItem::Wood, "wood"),
        (PriceItem::Machine, "machine"),
        (PriceItem::CutterWear, "cutter_wear"),
        (PriceItem::Bench, "bench"),
        (PriceItem::Finish, "finish"),
        (PriceItem::Cost, "cost"),
        (PriceItem::Margin, "margin"),
        (PriceItem::Minimum, "minimum"),
        (PriceItem::RoundingUp, "rounding_up"),
        (PriceItem::BeforeTax, "before_tax"),
        (PriceItem::Tax, "tax"),
        (PriceItem::Total, "price"),
    ];
    let mut heads = vec![
        "name",
        "kind",
        "factor",
        "length_mm",
        "width_mm",
        "board",
        "board_length_mm",
        "board_width_mm",
        "board_thickness_mm",
        "dressed_size",
        "thinnest_wall_mm",
        "lost",
        "minutes",
        "board_feet",
        "verdict",
        "why",
    ];
    heads.extend(PRICED.iter().map(|(_, head)| *head));
    let mut table = Table::new(&heads);
    for row in rows {
        let kind = match row.kind {
            RowKind::Picked => "picked",
            RowKind::LeastSound => "least_sound",
            RowKind::LargestForBoard => "largest_for_board",
        };
        let board = match row.board {
            BoardTaken::Own => "own",
            BoardTaken::Other => "other",
        };
        let mut cells = vec![
            words::sizes::name(&row.name).to_owned(),
            kind.to_owned(),
            number(row.proof.factor),
            mm(row.proof.length),
            mm(row.proof.width),
            board.to_owned(),
        ];
        cells.extend(row.to_buy.map(mm));
        cells.extend([
            row.dressed.clone().unwrap_or_default(),
            row.proof.thinnest.wall.map(mm).unwrap_or_default(),
            words::sizes::lost(&row.lost, unit),
            row.minutes.map(number).unwrap_or_default(),
            number(row.price.feet.feet),
            row.severity().label().to_lowercase(),
            words::verdict::why(&row.proof.verdict, unit),
        ]);
        let amount = |item| row.price.line(item).and_then(|line| line.amount).map(number).unwrap_or_default();
        cells.extend(PRICED.iter().map(|&(item, _)| amount(item)));
        table.row(cells);
    }
    table.finish()
}

struct Table {
    writer: csv::Writer<Vec<u8>>,
}

impl Table {
    fn new(heads: &[&str]) -> Table {
        let mut table = Table { writer: csv::Writer::from_writer(Vec::new()) };
        table.row(heads.iter().map(|&head| head.to_owned()));
        table
    }

    fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        self.writer.write_record(cells).expect("every row has as many cells as the head, in memory");
    }

    fn finish(self) -> String {
        let bytes = self.writer.into_inner().expect("writing to memory does not fail");
        String::from_utf8(bytes).expect("the cells were text")
    }
}

fn mm(length: Mm) -> String {
    number(length.get())
}

/// To a ten-thousandth, in its shortest form.
fn number(value: f64) -> String {
    super::outline::Short(value).to_string()
}
