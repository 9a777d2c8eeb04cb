//! `/invite`: a link for one more person. The owner's alone; to anybody else it is no command.
//!
//! Says no link itself: a code is drawn outside of here and never kept in clear.

use super::Asked;
use crate::chat::outcome::Outcome;

pub fn run(asked: &Asked<'_>) -> Outcome {
    Outcome { invites: asked.maker.owner, ..asked.maker.quiet() }
}
