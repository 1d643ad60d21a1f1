//! An ingredient of the list that is being made.

use crate::formula::ItemId;
use crate::inci::{Inci, equal_as_spelt};
use crate::material::Class;
use crate::quantity::{MassFraction, Spread};

/// An ingredient before it has a place and a name.
#[derive(Clone, Debug)]
pub(super) struct Draft {
    pub inci: Inci,
    pub class: Class,
    pub share: Spread,
    /// The greatest share that one line brings in.
    pub most: MassFraction,
    pub lines: Vec<ItemId>,
}

equal_as_spelt!(Draft: names inci; rest class, share, most, lines);
