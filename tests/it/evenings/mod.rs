//! Evenings as a maker lives them, through the one door for conversations: [`World`].
//!
//! Tests tap buttons by what is written on them and read what the maker reads. Nothing here knows
//! a token or a table.

mod autumn;
mod brought_back;
mod colours;
mod delivered;
mod drawn;
mod erased;
mod exported;
mod faults;
mod faulty;
mod first;
mod forged;
mod hostile;
mod hours;
mod household;
mod hung;
pub mod invited;
mod jumps;
mod linen;
mod made;
mod makers;
mod moved;
mod odd_updates;
mod owners;
mod replayed;
mod restarts;
mod rush;
mod scale;
mod script;
mod strangers;
mod unreachable;
mod week;
mod zone_data;

use crate::world::World;

/// A transcript without the buttons, which other tests hold.
fn spoken(transcript: &str) -> String {
    let lines = transcript.lines().filter(|line| !line.starts_with("  ["));
    lines.map(|line| format!("{line}\n")).collect()
}

/// The tiers of the days that have one, by day and label.
async fn answers(world: &World) -> Vec<String> {
    let book = world.book().await;
    let tier = |day| book.tier_of(day).unwrap().label.to_string();
    book.answers().keys().map(|day| format!("{day} {}", tier(*day))).collect()
}
