use super::{Said, compare};
use spelk::job::SettingError;
use spelk::units::Mm;
use std::fmt::Display;

#[test]
fn errors() {
    let mut said = Said::default();
    let mut say = |name: &str, error: &dyn Display| said.line(name, error);
    let (length, least) = (Mm::new(-1.0), Mm::new(0.001));
    say("SettingError::Length", &SettingError::Length { setting: "depth", length, least });
    say("SettingError::Moisture", &SettingError::Moisture { moisture: 301.0 });
    say("SettingError::Machine", &SettingError::Machine { setting: "hold-down", value: -1.0 });
    say("SettingError::Feed", &SettingError::Feed { setting: "feed", feed: 0.0 });
    say("SettingError::Factor", &SettingError::Factor { factor: 0.0 });
    compare("errors", &said);
}
