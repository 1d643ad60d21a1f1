//! Two variants line by line.
