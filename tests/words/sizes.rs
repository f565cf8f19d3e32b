use super::{Said, UNITS, compare};
use crate::support::{job, rectangle};
use spelk::job::Treatment;
use spelk::proof::sizes::{BoardTaken, Lost, SizeName, SizeRow, parse_sizes, sizes as sizes_of};
use spelk::proof::{measure, rate};
use spelk::shop::Prices;
use spelk::units::{LengthUnit, Mm};
use spelk::words::sizes;

#[test]
fn sizes_in_words() {
    let mut said = Said::default();
    let panel = job(Treatment::Sunk, &[("panel", vec![rectangle(0.0, 0.0, 300.0, 80.0)])]);
    let measured = measure(&panel);
    let ratings = rate(&panel, &measured);
    let wanted = parse_sizes("Small=200mm, drawn, As large as it goes=fit", LengthUnit::Millimetres).unwrap();
    let rows = sizes_of(&panel, &measured, &ratings, &wanted, &Prices::default(), &|_| Some(37.2)).unwrap();
    let names = [
        SizeName::Given("Small".to_owned()),
        SizeName::AsDrawn,
        SizeName::Largest,
        SizeName::LeastSound,
        SizeName::LeastSoundWalls,
    ];
    for name in &names {
        said.line("sizes::name", sizes::name(name));
    }
    for row in &rows {
        said.line("sizes::heading", sizes::heading(row));
    }
    let other = |dressed: Option<&str>| SizeRow {
        board: BoardTaken::Other,
        dressed: dressed.map(str::to_owned),
        ..rows[0].clone()
    };
    for unit in UNITS {
        said.line("sizes::finished", sizes::finished(&rows[0], unit));
        said.line("sizes::measures", sizes::measures([Mm::new(304.8), Mm::new(101.6)], unit));
        for row in [rows[0].clone(), other(Some("1 x 10")), other(None)] {
            said.line("sizes::board", sizes::board(&row, unit));
        }
        let mut walled = rows[0].clone();
        walled.proof.thinnest.wall = Some(Mm::new(1.19));
        said.line("sizes::thinnest_wall", sizes::thinnest_wall(&walled, unit));
        walled.proof.thinnest.wall = None;
        said.line("sizes::thinnest_wall none", sizes::thinnest_wall(&walled, unit));
        for number in [0, 1, 4] {
            let lost = Lost {
                walls: number,
                points: number,
                longest_point: Mm::new(7.3),
                grooves: number,
                corners: number,
                shallow: number,
            };
            said.line("sizes::lost", sizes::lost(&lost, unit));
        }
        let mut proof = rows[0].proof.clone();
        proof.thinnest.sound_factor = Some(2.0883);
        said.line("sizes::sound_from", sizes::sound_from(&proof, unit));
        proof.thinnest.sound_factor = None;
        said.line("sizes::sound_from any", sizes::sound_from(&proof, unit));
    }
    for minutes in [None, Some(37.2), Some(125.0)] {
        said.line("sizes::minutes", sizes::minutes(minutes));
    }
    said.line("sizes::NOT_DRAWN", sizes::NOT_DRAWN);
    compare("sizes", &said);
}
