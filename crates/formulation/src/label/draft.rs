//! An ingredient of the list that is being made.

use std::sync::Arc;

use crate::formula::ItemId;
use crate::material::Class;
use crate::quantity::{MassFraction, Spread};

/// An ingredient before it has a place and a name.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Draft {
    pub inci: Arc<str>,
    pub class: Class,
    pub share: Spread,
    /// The greatest share that one line brings in.
    pub most: MassFraction,
    pub lines: Vec<ItemId>,
}
