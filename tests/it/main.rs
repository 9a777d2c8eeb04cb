//! The bot as a person meets it: one test binary, one file for each side it is met from.
#![allow(clippy::unwrap_used, reason = "in a test, a panic is the report")]

#[path = "../outside/fillers.rs"]
mod fillers;
#[path = "../outside/rfc5545.rs"]
mod rfc5545;
mod talks;
#[path = "../outside/zones.rs"]
mod zones;
