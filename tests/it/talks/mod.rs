//! Conversations with the core alone: what a maker reads, what is kept, and what never happens.

mod agenda;
mod buttons;
mod erasing;
mod evening;
mod for_now;
mod habits;
mod halfway;
mod later;
mod many;
mod not_sure;
mod notes;
mod nudges;
mod open;
mod pause;
mod recap;
mod refusals;
mod rows;
mod samples;
mod settings;
mod setup;
mod talker;
mod today;
mod unasked;
mod wording;
mod worked_up_to;
mod yarn;
