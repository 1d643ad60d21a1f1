//! What a batch costs.
