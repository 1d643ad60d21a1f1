//! What a column of a table may hold.

/// What a column holds.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum ColumnKind {
    /// Letter or name of the phase.
    Phase,
    /// Name of the raw material.
    Name,
    /// INCI name.
    Inci,
    /// CAS number.
    Cas,
    /// Percentage by weight.
    Percent,
    /// Mass or volume.
    Amount,
    /// Unit of the mass or volume.
    Unit,
    /// What the material does.
    Role,
    /// Supplier.
    Supplier,
    /// Price of the pack, or per unit.
    Price,
    /// Currency of the price.
    Currency,
    /// Content of the pack.
    Pack,
    /// Lot number.
    Lot,
    /// Day of expiry.
    Expiry,
    /// Day of the price, or on which it came in.
    Dated,
    /// Free words.
    Note,
    /// What the raw material contains.
    Composition,
    /// Trade name beside a generic one.
    Trade,
    /// What the line is there for in the sense of the law.
    Purpose,
    /// Number or code of the material; never its name.
    Code,
    /// Strength or purity of the raw material.
    Strength,
    /// Usual or highest level; never the percentage of the recipe.
    UseLevel,
    /// Percentages or prices of an earlier version.
    Earlier,
    /// Price with tax, or the tax.
    Gross,
    /// Price of all packs of a row.
    TotalPrice,
    /// Number of packs.
    Packs,
    /// What is in stock.
    Stock,
    /// Marks the line that takes up the rest.
    Filler,
    /// Marks lines that no automatic step may change.
    Held,
    /// The maker's lowest percentage.
    Lowest,
    /// The maker's highest percentage.
    Highest,
    /// What is done with the phase of the row.
    Procedure,
    /// Ticks off what has been weighed.
    Ticked,
}

impl ColumnKind {
    /// All kinds, in the order of display.
    pub const ALL: [Self; 33] = [
        Self::Phase,
        Self::Name,
        Self::Inci,
        Self::Cas,
        Self::Percent,
        Self::Amount,
        Self::Unit,
        Self::Role,
        Self::Supplier,
        Self::Price,
        Self::Currency,
        Self::Pack,
        Self::Lot,
        Self::Expiry,
        Self::Dated,
        Self::Note,
        Self::Composition,
        Self::Trade,
        Self::Purpose,
        Self::Code,
        Self::Strength,
        Self::UseLevel,
        Self::Earlier,
        Self::Gross,
        Self::TotalPrice,
        Self::Packs,
        Self::Stock,
        Self::Filler,
        Self::Held,
        Self::Lowest,
        Self::Highest,
        Self::Procedure,
        Self::Ticked,
    ];

    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Phase => "phase",
            Self::Name => "material",
            Self::Inci => "INCI name",
            Self::Cas => "CAS number",
            Self::Percent => "percent",
            Self::Amount => "amount",
            Self::Unit => "unit",
            Self::Role => "role",
            Self::Supplier => "supplier",
            Self::Price => "price",
            Self::Currency => "currency",
            Self::Pack => "pack size",
            Self::Lot => "lot",
            Self::Expiry => "expiry",
            Self::Dated => "date",
            Self::Note => "note",
            Self::Composition => "composition",
            Self::Trade => "trade name",
            Self::Purpose => "purpose",
            Self::Code => "code",
            Self::Strength => "strength",
            Self::UseLevel => "use level",
            Self::Earlier => "earlier",
            Self::Gross => "gross price",
            Self::TotalPrice => "total price",
            Self::Packs => "packs",
            Self::Stock => "in stock",
            Self::Filler => "filler",
            Self::Held => "held",
            Self::Lowest => "lowest",
            Self::Highest => "highest",
            Self::Procedure => "procedure",
            Self::Ticked => "ticked off",
        }
    }

    /// Whether a column of it goes into a recipe; what the material costs and where it lies does
    /// not.
    pub const fn is_of_a_recipe(self) -> bool {
        !matches!(
            self,
            Self::Code
                | Self::UseLevel
                | Self::Earlier
                | Self::Gross
                | Self::TotalPrice
                | Self::Packs
                | Self::Stock
                | Self::Price
                | Self::Currency
                | Self::Pack
                | Self::Lot
                | Self::Expiry
                | Self::Dated
        )
    }

    /// Whether a column of it goes into a list of prices, stock or materials; what a recipe does
    /// with the material does not.
    pub const fn is_of_a_list(self) -> bool {
        !matches!(
            self,
            Self::Code
                | Self::Earlier
                | Self::Phase
                | Self::Purpose
                | Self::Filler
                | Self::Held
                | Self::Lowest
                | Self::Highest
                | Self::Procedure
                | Self::Ticked
        )
    }
}
