//! The lesson's handout. What it shows is said in [`crate::words::lesson`].

/// What the foot of its pages calls it.
pub const NAME: &str = "Handout";

/// What the handout is about.
pub const WHY: &str = "A design that is sound at one size can fail at a smaller one.";

/// How to read the figures.
pub const KEY: &str = "The two halves of a figure are drawn to one scale. Grey is wood, the white shape is the cutter, \
     crossed lines are wood that breaks off, and the broken lines are the limit across the grain.";

/// What the second page is about.
pub fn questions(count: usize) -> String {
    format!("{count} questions")
}

/// How to answer them.
pub const HOW: &str = "Open each sample in Spelk and change it until you can answer the question.";

/// The heading of a question: its number from 1, and its sample's title.
pub fn heading(number: usize, title: &str) -> String {
    format!("{number}. {title}")
}
