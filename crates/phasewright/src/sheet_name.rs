//! The names of the sheets.

/// A work area of the window.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum SheetName {
    /// Edit phases, lines and percentages.
    #[default]
    Formula,
    /// Two variants, line by line and bar by bar.
    SideBySide,
    /// What the formula must reach.
    Aim,
    /// Batches.
    Make,
    /// Ingredient list and label text.
    Label,
    /// Raw materials.
    Shelf,
    /// What was made on the bench and read.
    Trials,
}

impl SheetName {
    /// All sheets, in the order of their tabs.
    pub const ALL: [Self; 7] = [
        Self::Formula,
        Self::SideBySide,
        Self::Aim,
        Self::Make,
        Self::Label,
        Self::Shelf,
        Self::Trials,
    ];

    /// The word on its tab.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Formula => "Formula",
            Self::SideBySide => "Side by side",
            Self::Aim => "Aim",
            Self::Make => "Make",
            Self::Label => "Label",
            Self::Shelf => "Shelf",
            Self::Trials => "Trials",
        }
    }

    /// What it is for.
    pub const fn tooltip(self) -> &'static str {
        match self {
            Self::Formula => "Edit phases, lines and percentages with the live chart",
            Self::SideBySide => "Two variants, line by line and bar by bar",
            Self::Aim => "State what the formula must reach and get percentages proposed",
            Self::Make => "Scale to a batch, weigh sheet, batch record, cost",
            Self::Label => "Ingredient list and label text per market",
            Self::Shelf => "Raw materials: composition, limits, prices, lots in stock",
            Self::Trials => "Readings on the bench, curves, planned sets, stability calendar",
        }
    }
}
