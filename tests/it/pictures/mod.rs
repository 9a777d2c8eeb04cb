//! Pictures as a maker meets them: what is on the page, where it is, which pixels it becomes, and
//! what paper and platform ask of it.

mod books;
mod geometry;
mod hostile;
mod limits;
mod listed;
mod lists;
mod pixels;
mod sheets;
mod xml;
