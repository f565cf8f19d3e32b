//! All pieces of a board as one design: for outlines, which know no ground.

use super::shape::grid_for;
use crate::design::{Design, Element};
use crate::geometry::{FillRule, Rect, Region};
use crate::job::{Carving, Edit, EditKind, Frame, Job, Placement, Rejected, Size, Turn};
use crate::notice::Notices;
use crate::proof::fit::board_from_design;
use crate::units::Mm;
use glam::DVec2;
use std::collections::BTreeSet;
use std::sync::Arc;

/// A job of one design that has every element of every laid copy where it lies; its page is the board. An element is
/// called after its piece, the number of the copy and itself: `coaster 3 rim`.
///
/// For drawings and templates alone. Its ground would be one round all pieces, which no piece has.
///
/// # Errors
///
/// Where that many elements are no design.
pub fn whole(job: &Job) -> Result<Job, Rejected> {
    let grid = grid_for(job, job.board().length);
    let (mut elements, mut carvings): (Vec<Element>, Vec<Carving>) = (Vec::new(), Vec::new());
    let mut names = BTreeSet::new();
    for piece in 0..job.piece_count() {
        for (number, lie) in job.lies(piece).into_iter().enumerate() {
            let copy = job.copy(piece, lie);
            let on_board = board_from_design(&copy, copy.factor());
            for (element, carving) in copy.design().elements.iter().zip(copy.carvings()) {
                let rings: Vec<Vec<DVec2>> = element
                    .region
                    .rings()
                    .map(|ring| ring.points().map(|point| on_board.transform_point2(point)).collect())
                    .collect();
                let name = format!("{} {} {}", copy.design().name, number + 1, element.name);
                let more = (2..).map(|more| format!("{name} ({more})"));
                let name = std::iter::once(name.clone()).chain(more).find(|name| !names.contains(name));
                let name = name.unwrap_or_default();
                names.insert(name.clone());
                elements.push(Element::new(name, Region::clean(grid, &rings, FillRule::NonZero)));
                carvings.push(carving.clone());
            }
        }
    }
    let board = job.board();
    let page = Rect::new(DVec2::ZERO, DVec2::new(board.length.get(), board.width.get()));
    let name = if job.piece_count() == 1 { job.piece_name(0).to_owned() } else { "board".to_owned() };
    let design = Design { name, elements, page: Some(page), grid, notices: Notices::new(), sharpness: None };
    let mut edits = vec![
        Edit::Board(Box::new(board.clone())),
        Edit::Wood(Box::new(job.wood().clone())),
        Edit::Machine(Box::new(job.machine().clone())),
        Edit::Cutter(Box::new(job.cutter().clone())),
        Edit::Depth(job.depth()),
        Edit::Ends(job.ends()),
        Edit::Frame(Frame::Page),
        Edit::Size(Size::Factor(1.0)),
        Edit::Turn(Turn::AsDrawn),
        Edit::Place(Placement::At { x: Mm::ZERO, y: Mm::ZERO }),
    ];
    for (element, carving) in carvings.into_iter().enumerate() {
        let elements = vec![element];
        edits.push(Edit::Treat { elements: elements.clone(), treatment: carving.treatment });
        edits.push(Edit::OwnDepth { elements: elements.clone(), depth: carving.depth });
        edits.push(Edit::OwnCutter { elements, cutter: carving.cutter.map(Box::new) });
    }
    Job::new(Arc::new(design)).with([Edit::Several(EditKind::Options, edits)])
}
