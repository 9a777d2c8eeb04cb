//! Conversations with the core alone: what a maker reads, what is kept, and what never happens.

mod agenda;
mod buttons;
mod evening;
mod refusals;
mod rows;
mod samples;
mod setup;
mod talker;
mod today;
mod ways_on;
mod wording;
