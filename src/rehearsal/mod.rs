//! A stand-in for the platform.
