//! The Phasewright window.
