//! The true-size template.

/// A template would take more pages than are printed.
pub fn too_many_pages(pages: usize, most: usize) -> String {
    format!("a true-size template would take {pages} pages, and at most {most} are printed; carve it smaller")
}
