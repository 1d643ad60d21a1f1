//! Whether a product is washed off, stays on, or is used either way.

/// Whether the product stays on the skin.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum ProductKind {
    /// Washed off after use.
    RinseOff,
    /// Stays on.
    LeaveOn,
}

impl ProductKind {
    /// All kinds, in the order of display.
    pub const ALL: [Self; 2] = [Self::RinseOff, Self::LeaveOn];
    /// The trade's word.
    pub const fn label(self) -> &'static str {
        match self {
            Self::RinseOff => "rinse-off",
            Self::LeaveOn => "leave-on",
        }
    }
}

/// The kinds of product that one is, at least one: a balm that cleanses and is left on as well
/// is both. Where the two differ, the stricter binds.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Kinds {
    /// Of one kind.
    Only(ProductKind),
    /// Washed off in one use and left on in another.
    Both,
}

impl Kinds {
    /// These kinds; none if there are none.
    pub fn of(kinds: impl IntoIterator<Item = ProductKind>) -> Option<Self> {
        kinds.into_iter().fold(None, |all, kind| {
            Some(all.map_or(Self::Only(kind), |all: Self| all.with(kind)))
        })
    }

    /// Whether it is of a kind.
    pub fn contains(self, kind: ProductKind) -> bool {
        match self {
            Self::Only(only) => only == kind,
            Self::Both => true,
        }
    }

    /// The first of them.
    pub const fn first(self) -> ProductKind {
        match self {
            Self::Only(kind) => kind,
            Self::Both => ProductKind::RinseOff,
        }
    }

    /// Each of them.
    pub fn iter(self) -> impl Iterator<Item = ProductKind> {
        ProductKind::ALL
            .into_iter()
            .filter(move |&k| self.contains(k))
    }

    /// With one more.
    #[must_use]
    pub fn with(self, kind: ProductKind) -> Self {
        if self.contains(kind) {
            self
        } else {
            Self::Both
        }
    }

    /// Without one of them; the last stays.
    #[must_use]
    pub fn without(self, kind: ProductKind) -> Self {
        Self::of(self.iter().filter(|&k| k != kind)).unwrap_or(self)
    }

    /// In the words of the trade.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Only(kind) => kind.label(),
            Self::Both => "rinse-off and leave-on",
        }
    }
}

impl From<ProductKind> for Kinds {
    fn from(kind: ProductKind) -> Self {
        Self::Only(kind)
    }
}

#[cfg(test)]
mod tests {
    use super::ProductKind::{LeaveOn, RinseOff};
    use super::*;

    #[test]
    fn there_is_always_a_kind() {
        assert_eq!(Kinds::of([]), None);
        assert_eq!(Kinds::of([LeaveOn, LeaveOn]), Some(Kinds::Only(LeaveOn)));
        assert_eq!(Kinds::of([LeaveOn, RinseOff]), Some(Kinds::Both));
        let both = Kinds::from(RinseOff).with(LeaveOn);
        assert_eq!(both.iter().collect::<Vec<_>>(), [RinseOff, LeaveOn]);
        assert_eq!(both.without(RinseOff), Kinds::Only(LeaveOn));
        assert_eq!(Kinds::Only(LeaveOn).without(LeaveOn), Kinds::Only(LeaveOn));
        for kinds in [both, RinseOff.into(), LeaveOn.into()] {
            for kind in ProductKind::ALL {
                assert_eq!(kinds.contains(kind), kinds.label().contains(kind.label()));
            }
        }
    }
}
