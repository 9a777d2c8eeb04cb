//! Conversations with the core alone: what a maker reads, what is kept, and what never happens.

mod agenda;
mod buttons;
mod evening;
mod for_now;
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
mod slips;
mod talker;
mod today;
mod unasked;
mod ways_on;
mod wording;
mod worked_up_to;
mod yarn;
