//! What a long command is doing, said once it takes long.

use std::sync::mpsc::{RecvTimeoutError, Sender, channel};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// So long nothing is said: whoever waits less wonders about nothing. A round value of our own.
pub(super) const PATIENCE: Duration = Duration::from_millis(500);

/// Says each stage as it is entered, from some time after the start on.
pub(super) struct Stages {
    sender: Option<Sender<&'static str>>,
    teller: Option<JoinHandle<()>>,
}

impl Stages {
    /// Starts the clock. Where no thread can be had, nothing is said.
    pub(super) fn new(patience: Duration, say: impl Fn(&str) + Send + 'static) -> Stages {
        let (sender, receiver) = channel();
        let started = Instant::now();
        let teller = std::thread::Builder::new().name("stages".to_owned()).spawn(move || {
            let mut entered: Option<&'static str> = None;
            loop {
                let left = patience.saturating_sub(started.elapsed());
                if left.is_zero()
                    && let Some(stage) = entered.take()
                {
                    say(stage);
                }
                let next = if left.is_zero() {
                    receiver.recv().map_err(|_ended| RecvTimeoutError::Disconnected)
                } else {
                    receiver.recv_timeout(left)
                };
                match next {
                    Ok(stage) => entered = Some(stage),
                    Err(RecvTimeoutError::Timeout) => {}
                    Err(RecvTimeoutError::Disconnected) => return,
                }
            }
        });
        Stages { sender: Some(sender), teller: teller.ok() }
    }

    /// Another stage begins.
    pub(super) fn enter(&self, stage: &'static str) {
        if let Some(sender) = &self.sender {
            // Without a thread nobody listens.
            let _ = sender.send(stage);
        }
    }
}

impl Drop for Stages {
    fn drop(&mut self) {
        drop(self.sender.take());
        if let Some(teller) = self.teller.take() {
            // A panic of the thread has been reported already.
            let _ = teller.join();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::{Arc, Mutex};

    fn said(patience: Duration, work: impl FnOnce(&Stages)) -> Vec<String> {
        let said = Arc::new(Mutex::new(Vec::new()));
        let kept = said.clone();
        let stages = Stages::new(patience, move |stage| kept.lock().unwrap().push(stage.to_owned()));
        work(&stages);
        drop(stages);
        said.lock().unwrap().clone()
    }

    #[test]
    fn short_work_says_nothing() {
        let all = |stages: &Stages| ["one", "two"].iter().for_each(|stage| stages.enter(stage));
        assert!(said(Duration::from_hours(1), all).is_empty());
    }

    #[test]
    fn long_work_says_where_it_is_and_what_follows() {
        let said = said(Duration::from_millis(50), |stages| {
            stages.enter("one");
            stages.enter("two");
            std::thread::sleep(Duration::from_millis(400));
            stages.enter("three");
            std::thread::sleep(Duration::from_millis(100));
        });
        assert_eq!(said, ["two", "three"]);
    }
}
