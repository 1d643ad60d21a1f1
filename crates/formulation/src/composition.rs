//! From raw materials to constituents: what the mix contains.

use std::sync::Arc;

use crate::cas::Cas;
use crate::formula::ItemId;
use crate::material::{Charge, Class};
use crate::quantity::{MassFraction, Percent, Spread};

/// One substance of the mix, added up over all materials that bring it in.
#[derive(Clone, PartialEq, Debug)]
pub struct Amount {
    /// INCI name.
    pub inci: Arc<str>,
    /// CAS number.
    pub cas: Option<Cas>,
    /// What it is counted as.
    pub class: Class,
    /// Share of the whole formula.
    pub share: Spread,
    /// Which line brings in how much (typical), in working order.
    pub from: Vec<(ItemId, MassFraction)>,
    /// Every line brings it in as an incidental substance.
    pub incidental: bool,
}

/// What one line brings in.
#[derive(Clone, PartialEq, Debug)]
pub struct LineShare {
    /// The line.
    pub line: ItemId,
    /// The phase that holds it.
    pub phase: ItemId,
    /// Its percentage.
    pub percent: Percent,
    /// Typical share of the whole formula per class, in the order of [`Class::ALL`].
    pub classes: [MassFraction; Class::ALL.len()],
    /// Share of the whole formula whose composition is not known.
    pub unknown: MassFraction,
    /// Whether the line is water as such, not water that comes in with a material.
    pub is_water: bool,
}

/// What the mix contains, as shares of the whole formula.
#[derive(Clone, PartialEq, Debug)]
pub struct Composition {
    /// Sum of all lines.
    pub total: Percent,
    /// Line by line, in working order.
    pub lines: Vec<LineShare>,
    /// Merged substances, largest first, then by name.
    pub constituents: Vec<Amount>,
    /// Per class, in the order of [`Class::ALL`].
    pub classes: [Spread; Class::ALL.len()],
    /// Water added as such.
    pub water_added: MassFraction,
    /// Water that materials bring in.
    pub water_from_materials: Spread,
    /// Share whose composition is not known.
    pub unknown: MassFraction,
}

impl Composition {
    /// All water.
    pub fn water(&self) -> Spread {
        self.class(Class::Water)
    }
    /// The amount of a class.
    pub fn class(&self, class: Class) -> Spread {
        self.classes[class.index()]
    }
    /// Active matter of a charge class.
    pub fn active(&self, charge: Charge) -> Spread {
        self.class(Class::Surfactant(charge))
    }
    /// Total surfactant active matter.
    pub fn active_total(&self) -> Spread {
        Charge::ALL.iter().map(|&c| self.active(c)).sum()
    }
    /// Water and volatile solvents.
    pub fn volatile(&self) -> Spread {
        self.class(Class::Water) + self.class(Class::Solvent)
    }
}
