//! The simulation, a test binary of its own, so that years of it can be built optimised without
//! all the other tests.
#![allow(clippy::unwrap_used, reason = "in a test, a panic is the report")]

#[path = "it/simulation/mod.rs"]
mod simulation;
#[path = "it/world/zones.rs"]
mod zones;
