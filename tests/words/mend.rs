use super::{Said, compare};
use crate::support::{job, rectangle};
use spelk::job::Treatment;
use spelk::proof::mend::Mended;
use spelk::words::mend;

#[test]
fn mended() {
    let mut said = Said::default();
    let job = job(Treatment::Sunk, &[("panel", vec![rectangle(0.0, 0.0, 60.0, 20.0)])]);
    for (thickened, widened) in [(0, 0), (1, 0), (154, 0), (0, 1), (0, 12)] {
        let mended = Mended { job: job.clone(), thickened, widened, reshaped: Vec::new(), measured: None };
        said.line("mend::done", mend::done(&mended));
    }
    said.line("mend::reshaped", mend::reshaped(&["outline".to_owned(), "letters".to_owned()]));
    compare("mend", &said);
}
