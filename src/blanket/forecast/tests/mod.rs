//! The forecast as a whole: worked values, and what must hold of every one.

mod laws;
mod weighing;
mod worked;
