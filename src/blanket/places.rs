//! Places.
