//! The yarn of a blanket: what is on hand, what it is needed for, whether it lasts, what to buy.

pub mod estimate;
mod lots;
pub mod need;
pub mod outlook;
pub mod settings;
mod status;

pub use estimate::Lacking;
pub use lots::{TwoLots, two_lots};
pub use need::{Edging, Need};
pub use outlook::{Ahead, Lasts, Outlook, Purchase, When};
pub use settings::{BallLabel, Join, ScaleStep, Target, Units, YarnSettings};
pub use status::{KnownBy, PerRow, YarnStatus, yarn_status};
