//! The lesson: its numbers by closed forms, its figures in one scale, and a tour whose every question
//! has an answer on the size handle.

use spelk::design::samples;
use spelk::job::sample::sample_job;
use spelk::job::{Clearing, Edit, Job, Size};
use spelk::proof::lesson::{Goal, TOUR, longest_lost};
use spelk::proof::{Proof, proof_of};
use spelk::sheet::lesson::{Figure, Half, Ink, Lesson};
use spelk::shop::Cutter;
use spelk::units::{LengthUnit, Mm};

fn sample(id: &str) -> Job {
    sample_job(samples::find(id).unwrap()).unwrap()
}

fn at(job: &Job, factor: f64) -> Proof {
    proof_of(&job.with([Edit::Size(Size::Factor(factor))]).unwrap())
}

#[test]
fn every_question_is_open_at_first_and_answered_by_some_size() {
    for (index, step) in TOUR.iter().enumerate() {
        let job = sample(step.sample);
        let drawn = at(&job, 1.0);
        assert!(!step.goal.is_met(&drawn), "step {}: answered before it is asked", index + 1);
        // A shallower pass and a smaller size answer what no size alone does.
        if let Goal::PassOf(share) = step.goal {
            let pass = job.clearing().pass_depth(job.cutter()) * share / job.cutter().shape.diameter().get();
            let clearing = Clearing { pass_depth: Some(pass), ..job.clearing().clone() };
            let shallower = job.with([Edit::Clearing(Box::new(clearing))]).unwrap();
            assert!(step.goal.is_met(&at(&shallower, 1.0)), "step {}", index + 1);
            continue;
        }
        let answer = match step.goal {
            Goal::SmallerThan(factor) | Goal::LargerThan(factor) => factor,
            Goal::JustSound(_) => drawn.thinnest.sound_factor.unwrap(),
            Goal::GroovesOpen => drawn.limits.usual().groove / drawn.thinnest.groove.unwrap() * (1.0 + 1e-9),
            Goal::FillsBoard(_) => drawn.fit.largest_factor,
            // Smaller and smaller, until the first wall grows too thin.
            Goal::FreeEndThin => {
                let smaller = (1..20).map(|step| 1.0 - 0.04 * f64::from(step));
                smaller
                    .into_iter()
                    .find(|factor| step.goal.is_met(&at(&job, *factor)))
                    .expect("some size answers it")
            }
            Goal::PassOf(_) => unreachable!("answered above"),
        };
        let answered = at(&job, answer);
        assert!(step.goal.is_met(&answered), "step {}: {answer} does not answer it", index + 1);
        // The handle goes from a hundredth to about twice what fits or is shown.
        assert!((0.05..4.0).contains(&answer), "step {}: the handle does not reach {answer}", index + 1);
        assert!(
            !spelk::words::tour::answer(step.goal, &answered, LengthUnit::Millimetres).is_empty(),
            "no answer"
        );
    }
}

#[test]
fn the_second_question_is_open_where_the_first_is_answered() {
    let job = sample(TOUR[1].sample);
    assert!(!TOUR[1].goal.is_met(&at(&job, 0.5)), "answered by the step before it");
}

#[test]
fn a_tip_loses_the_same_length_at_every_size() {
    // What the tour says of the beehive plate, measured in the proof itself.
    let job = sample("beehive-plate");
    let lost = |factor: f64| {
        let proof = at(&job, factor);
        longest_lost(&proof).map_or(0.0, Mm::get)
    };
    assert!((lost(1.5) - lost(1.0)).abs() < 0.02 * lost(1.0), "{} and {}", lost(1.0), lost(1.5));
    // And of the lesson's own tip: the circle as wide as the limit of a free end touches both sides of
    // a 30 degree corner at its radius over sin 15 degrees from it.
    let lesson = Lesson::of(&job, &at(&job, 1.0));
    assert!(lesson.tip_limit > lesson.limits[1], "a free end needs more");
    let radius = lesson.tip_limit.get() / 2.0;
    assert!((lesson.tip_lost().get() - radius / 0.258_819_045).abs() < 1e-6, "{}", lesson.tip_lost());
    assert_eq!(lesson.tip_lost(), Lesson::of(&job, &at(&job, 0.3)).tip_lost());
}

#[test]
fn a_v_groove_gets_shallower_in_proportion_until_its_depth_caps_it() {
    let mut job = sample("gate-sign");
    job.apply(Edit::Cutter(Box::new(Cutter::find("vee-90").unwrap().clone()))).unwrap();
    let lesson = Lesson::of(&job, &at(&job, 1.0));
    // 90 degrees: half as deep as wide, less the 0.1 mm flat at the point.
    let wide = |factor: f64| lesson.groove.get() * factor;
    for factor in [0.05, 0.1, 0.2] {
        let expected = ((wide(factor) - 0.1).max(0.0) / 2.0).min(job.depth().get());
        assert!((lesson.v_depth(factor).get() - expected).abs() < 1e-9, "{factor}");
    }
    assert_eq!(lesson.v_depth(100.0), job.depth(), "the depth caps it");
}

#[test]
fn the_limit_stands_still_while_the_wall_moves() {
    let job = sample("gate-sign");
    let lines = |factor: f64| {
        let lesson = Lesson::of(&job, &at(&job, factor));
        Figure::all(&lesson, LengthUnit::Millimetres).map(|figure| {
            let [_, Half { shapes, .. }] = figure.halves;
            let limit: Vec<_> = shapes.iter().filter(|shape| shape.ink == Ink::Limit).cloned().collect();
            let wood: Vec<_> = shapes.into_iter().filter(|shape| shape.ink == Ink::Wood).collect();
            (figure.frame, limit, wood)
        })
    };
    let close = |a: f64, b: f64| (a - b).abs() < 1e-9 * b.abs().max(1.0);
    for (index, (half, whole)) in lines(0.5).into_iter().zip(lines(1.0)).enumerate() {
        // To the last bits: the wall as drawn is worked back from the wall at each size.
        assert!(close(half.0.size().x, whole.0.size().x), "figure {index}: the scale moved");
        for (a, b) in half.1.iter().flat_map(|s| &s.points).zip(whole.1.iter().flat_map(|s| &s.points)) {
            assert!(close(a.x, b.x) && close(a.y, b.y), "figure {index}: the limit moved");
        }
        if index != 2 {
            assert_ne!(half.2, whole.2, "figure {index}: the wall did not move");
        }
    }
}

/// The right guess is read off the proof, so that it stays right where limits move, and it is the same at every size.
#[test]
fn each_step_of_the_tour_has_one_right_guess_whatever_the_size() {
    for step in TOUR {
        let job = sample(step.sample);
        let guesses = spelk::words::tour::guesses(step.question);
        let right = step.right_guess(&at(&job, 1.0));
        assert!(right < guesses.len(), "{:?}: guess {right} of {guesses:?}", step.question);
        assert_eq!(step.right_guess(&at(&job, 0.8)), right, "{:?} at another size", step.question);
    }
}
