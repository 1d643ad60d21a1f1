//! One call from a formula to everything the screen shows.
