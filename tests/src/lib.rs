//! Shared helpers of the acceptance tests.
#![expect(
    clippy::unwrap_used,
    clippy::missing_panics_doc,
    reason = "a helper of tests fails the test by panicking"
)]

pub mod batch;
pub mod inputs;
pub mod pdf;
pub mod window;
