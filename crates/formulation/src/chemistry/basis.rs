//! How sure a constant of the chemistry is.

use crate::material::Basis;

/// How sure a constant is, by the words of its source: those in the code of the chemistry say
/// “from memory” where nothing was looked up, “taken as” where another substance stands in.
pub fn basis_of(source: &str) -> Basis {
    if source.contains("memory") || source.contains("taken as") || source.contains("our ") {
        Basis::Typical
    } else if source.contains("Raoult") || source.contains("structure") {
        Basis::Estimate
    } else {
        Basis::Published
    }
}
