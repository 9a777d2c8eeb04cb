//! The bot as a person meets it: one test binary, one file for each side it is met from.
//! Checks against the world outside are in `tests/outside`.
#![allow(clippy::unwrap_used, reason = "in a test, a panic is the report")]

#[path = "../outside/colours.rs"]
mod colours;
mod evenings;
#[path = "../outside/fillers.rs"]
mod fillers;
#[path = "../outside/forecast.rs"]
mod forecast;
mod host;
mod house;
mod pages;
mod pictures;
mod process;
#[path = "../outside/rfc5545.rs"]
mod rfc5545;
#[path = "../outside/row_lists.rs"]
mod row_lists;
mod serving;
mod standin;
mod store;
mod stripes;
mod talks;
mod world;
#[path = "../outside/zones.rs"]
mod zones;
