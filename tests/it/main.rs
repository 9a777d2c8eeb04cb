//! One binary: the bot as a person meets it, and checks against the outside world.

#[path = "../outside/fillers.rs"]
mod fillers;
#[path = "../outside/rfc5545.rs"]
mod rfc5545;
#[path = "../outside/zones.rs"]
mod zones;
