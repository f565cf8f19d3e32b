//! The board from above: the canvas, what lies and is marked on it, and the windows about it.

pub(crate) mod batch;
pub(crate) mod bench_list;
pub(crate) mod blemishes;
pub(crate) mod canvas;
pub(crate) mod done;
pub(crate) mod fit;
pub(crate) mod hand;
pub(crate) mod painting;
pub(crate) mod photo;
pub(crate) mod pieces;
pub(crate) mod placing;
pub(crate) mod rulers;
pub(crate) mod tools;
pub(crate) mod view;
