use super::finding::examples;
use super::{Said, UNITS, compare, say};
use glam::{DVec2, dvec2};
use spelk::proof::{Facts, Finding, Larger, Obstacle, Reason, Severity, SoundSize, Verdict};
use spelk::shop::Check;
use spelk::units::Mm;
use spelk::words::verdict;

fn of(severity: Severity, reasons: Vec<Reason>) -> Verdict {
    Verdict { severity, reasons, larger: None, unchecked: Vec::new(), carves: true }
}

fn reason(facts: Facts, count: usize) -> Reason {
    Reason { worst: Finding { id: String::new(), at: DVec2::ZERO, facts }, count }
}

#[test]
fn verdicts() {
    let mut said = Said::default();
    let mut tell = |name: &str, verdict: &Verdict| {
        for unit in UNITS {
            said.line(&format!("verdict::sentence({name}, {unit:?})"), verdict::sentence(verdict, unit));
            said.line(&format!("verdict::advice({name}, {unit:?})"), verdict::advice(verdict, unit));
        }
        said.line(&format!("verdict::why({name})"), verdict::why(verdict, UNITS[0]));
    };
    let sound = of(Severity::Sound, Vec::new());
    tell("nothing carved", &Verdict { carves: false, ..sound.clone() });
    tell("unchecked", &Verdict { unchecked: vec![Check::Cup, Check::Bow], ..sound.clone() });
    tell("sound", &sound);
    let mut several = Vec::new();
    for (name, facts) in examples() {
        let severity = facts.severity().max(Severity::Chancy);
        tell(name, &of(severity, vec![reason(facts.clone(), 1)]));
        several.push((name, of(severity, vec![reason(facts, 4)])));
    }
    let wall = || examples().into_iter().find(|(name, _)| *name == "wall").unwrap().1;
    let thin = of(Severity::Unsound, vec![reason(wall(), 7)]);
    let size = |fits| SoundSize { factor: 2.0883, length: Mm::new(877.4), fits };
    for fits in [true, false] {
        let larger = Some(Larger::SoundFrom(size(fits)));
        tell(&format!("larger, fits {fits}"), &Verdict { larger, ..thin.clone() });
    }
    for is_wall in [true, false] {
        for element in [Some("leaves".to_owned()), None] {
            let obstacle = Obstacle { is_wall, width: Mm::new(0.0123), element, at: dvec2(120.5, 30.0) };
            let larger = Some(Larger::NoUse(obstacle.clone()));
            let name = format!("no use, wall {is_wall}, {:?}", obstacle.element);
            tell(&name, &Verdict { larger, ..thin.clone() });
        }
    }
    let touching = Obstacle { is_wall: true, width: Mm::ZERO, element: None, at: dvec2(120.5, 30.0) };
    tell("no use, touching", &Verdict { larger: Some(Larger::NoUse(touching.clone())), ..thin });
    for (name, verdict) in several {
        said.line(&format!("verdict::sentence(4 times {name})"), verdict::sentence(&verdict, UNITS[0]));
    }
    said.line("verdict::no_practical_size", verdict::no_practical_size(&touching, UNITS[0]));
    say!(said, verdict::if_applied("Sound: nothing is too thin."));
    compare("verdict", &said);
}
