//! Can what a request carries be read, and does it keep the platform's limits?
//!
//! Pure: a text, a keyboard, a picture's header in; the thing itself or a refusal out.

pub mod entities;
pub mod html;
pub mod images;
pub mod keyboard;
pub mod params;
