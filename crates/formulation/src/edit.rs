//! Every change of a formula, as one enum and one function.
