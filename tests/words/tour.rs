use super::{Said, UNITS, compare};
use spelk::design::samples::find;
use spelk::job::sample::sample_job;
use spelk::proof::lesson::TOUR;
use spelk::proof::proof_of;
use spelk::words::tour;

#[test]
fn tour_questions_and_answers() {
    let mut said = Said::default();
    for step in TOUR {
        said.line("tour::say", tour::say(step.question));
        said.line("tour::ask", tour::ask(step.question));
        said.line("tour::hint", tour::hint(step.question));
        for guess in tour::guesses(step.question) {
            said.line("tour::guesses", guess);
        }
        let mut proof = proof_of(&sample_job(find(step.sample).unwrap()).unwrap());
        for unit in UNITS {
            said.line("tour::answer", tour::answer(step.goal, &proof, unit));
        }
        (proof.thinnest.wall, proof.thinnest.groove, proof.findings) = (None, None, Vec::new());
        said.line("tour::answer of nothing", tour::answer(step.goal, &proof, UNITS[0]));
    }
    compare("tour", &said);
}
