//! What the columns of a table mean, told by their headings or, without headings,
//! by what stands in them.

use super::{Cell, Table, cell_name};
use crate::amount::number::{self, Unit};
use crate::cas::Cas;
use crate::search::words_of;

/// What a column holds.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Kind {
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
    /// Free words.
    Note,
    /// What the raw material contains.
    Composition,
}

impl Kind {
    /// All kinds, in the order of display.
    pub const ALL: [Self; 16] = [
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
        Self::Note,
        Self::Composition,
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
            Self::Note => "note",
            Self::Composition => "composition",
        }
    }
}

/// A column whose meaning is known.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Column {
    /// What it holds.
    pub kind: Kind,
    /// The unit its heading names: of amounts, or the one a price is for.
    pub unit: Option<Unit>,
}

/// Where the list stands in a table and what its columns mean.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Layout {
    /// The row of headings, counted from 0.
    pub headings: Option<usize>,
    /// What each column means; none is left out.
    pub columns: Vec<Option<Column>>,
}

impl Layout {
    /// The first column of a kind.
    pub fn place(&self, kind: Kind) -> Option<usize> {
        self.columns
            .iter()
            .position(|c| c.is_some_and(|c| c.kind == kind))
    }
    /// The unit that the heading of the first column of a kind names.
    pub fn unit(&self, kind: Kind) -> Option<Unit> {
        self.place(kind)
            .and_then(|at| self.columns.get(at).copied().flatten())
            .and_then(|c| c.unit)
    }
    /// Whether a row has the same headings again, as above a second list.
    pub fn is_repeated_in(&self, table: &Table, row: usize) -> bool {
        let told = |at: usize| match table.cell(row, at) {
            Cell::Text(text) => heading(text).map(|c| c.kind),
            _ => None,
        };
        let same = (self.columns.iter().enumerate())
            .filter(|(at, column)| column.is_some_and(|c| told(*at) == Some(c.kind)))
            .count();
        self.headings.is_some() && same >= 2
    }
    /// Columns left out because an earlier one holds the same, in words.
    pub fn doubled_in(&self, table: &Table) -> Option<String> {
        let row = self.headings?;
        let of = |kind: Kind| -> Vec<String> {
            (0..table.width())
                .filter(|&at| match table.cell(row, at) {
                    Cell::Text(text) => heading(text).is_some_and(|c| c.kind == kind),
                    _ => false,
                })
                .map(|at| format!("{} “{}”", cell_name(row, at), table.cell(row, at).words()))
                .collect()
        };
        let kind = [Kind::Percent, Kind::Amount]
            .into_iter()
            .find(|&kind| of(kind).len() > 1)?;
        let place = self.place(kind)?;
        Some(format!(
            "several columns hold a {}: {}; {} was taken, choose another if it is not the one",
            kind.label(),
            of(kind).join(", "),
            cell_name(row, place)
        ))
    }
    /// The first row below the headings.
    pub fn first_row(&self) -> usize {
        self.headings.map_or(0, |row| row + 1)
    }
    /// Takes a column for a kind, and no other column for it.
    pub fn assign(&mut self, column: usize, kind: Option<Kind>) {
        if self.columns.len() <= column {
            self.columns.resize(column + 1, None);
        }
        for (place, known) in self.columns.iter_mut().enumerate() {
            if place == column {
                let unit = known.and_then(|c| c.unit);
                *known = kind.map(|kind| Column { kind, unit });
            } else if known.is_some_and(|c| Some(c.kind) == kind) {
                *known = None;
            }
        }
    }
}

/// Words of headings, plain and in lower case, with what they mean. English, German,
/// French, Spanish and Italian; the longer phrase of two that fit wins. From general
/// knowledge of the languages.
const HEADINGS: [(&str, Kind); 123] = [
    ("phase", Kind::Phase),
    ("phasen", Kind::Phase),
    ("fase", Kind::Phase),
    ("ingredient", Kind::Name),
    ("ingredients", Kind::Name),
    ("raw material", Kind::Name),
    ("raw materials", Kind::Name),
    ("material", Kind::Name),
    ("materials", Kind::Name),
    ("name", Kind::Name),
    ("trade name", Kind::Name),
    ("product", Kind::Name),
    ("product name", Kind::Name),
    ("component", Kind::Name),
    ("components", Kind::Name),
    ("item", Kind::Name),
    ("description", Kind::Name),
    ("article", Kind::Name),
    ("rohstoff", Kind::Name),
    ("rohstoffe", Kind::Name),
    ("zutat", Kind::Name),
    ("zutaten", Kind::Name),
    ("inhaltsstoff", Kind::Name),
    ("inhaltsstoffe", Kind::Name),
    ("bezeichnung", Kind::Name),
    ("handelsname", Kind::Name),
    ("artikel", Kind::Name),
    ("produkt", Kind::Name),
    ("matiere premiere", Kind::Name),
    ("matieres premieres", Kind::Name),
    ("nom", Kind::Name),
    ("nom commercial", Kind::Name),
    ("produit", Kind::Name),
    ("ingrediente", Kind::Name),
    ("ingredientes", Kind::Name),
    ("ingredienti", Kind::Name),
    ("materia prima", Kind::Name),
    ("materie prime", Kind::Name),
    ("nombre", Kind::Name),
    ("nome", Kind::Name),
    ("inci", Kind::Inci),
    ("inci name", Kind::Inci),
    ("inci bezeichnung", Kind::Inci),
    ("nom inci", Kind::Inci),
    ("cas", Kind::Cas),
    ("cas number", Kind::Cas),
    ("cas no", Kind::Cas),
    ("cas nr", Kind::Cas),
    ("cas nummer", Kind::Cas),
    ("percent", Kind::Percent),
    ("percentage", Kind::Percent),
    ("prozent", Kind::Percent),
    ("anteil", Kind::Percent),
    ("pourcentage", Kind::Percent),
    ("porcentaje", Kind::Percent),
    ("percentuale", Kind::Percent),
    ("concentration", Kind::Percent),
    ("konzentration", Kind::Percent),
    ("amount", Kind::Amount),
    ("parts", Kind::Amount),
    ("teile", Kind::Amount),
    ("parties", Kind::Amount),
    ("partes", Kind::Amount),
    ("parti", Kind::Amount),
    ("weight", Kind::Amount),
    ("mass", Kind::Amount),
    ("quantity", Kind::Amount),
    ("qty", Kind::Amount),
    ("menge", Kind::Amount),
    ("gewicht", Kind::Amount),
    ("masse", Kind::Amount),
    ("einwaage", Kind::Amount),
    ("quantite", Kind::Amount),
    ("poids", Kind::Amount),
    ("cantidad", Kind::Amount),
    ("peso", Kind::Amount),
    ("quantita", Kind::Amount),
    ("unit", Kind::Unit),
    ("units", Kind::Unit),
    ("einheit", Kind::Unit),
    ("unite", Kind::Unit),
    ("unidad", Kind::Unit),
    ("function", Kind::Role),
    ("role", Kind::Role),
    ("purpose", Kind::Role),
    ("funktion", Kind::Role),
    ("fonction", Kind::Role),
    ("funcion", Kind::Role),
    ("funzione", Kind::Role),
    ("supplier", Kind::Supplier),
    ("vendor", Kind::Supplier),
    ("manufacturer", Kind::Supplier),
    ("lieferant", Kind::Supplier),
    ("hersteller", Kind::Supplier),
    ("fournisseur", Kind::Supplier),
    ("proveedor", Kind::Supplier),
    ("fornitore", Kind::Supplier),
    ("price", Kind::Price),
    ("cost", Kind::Price),
    ("preis", Kind::Price),
    ("prix", Kind::Price),
    ("precio", Kind::Price),
    ("prezzo", Kind::Price),
    ("currency", Kind::Currency),
    ("wahrung", Kind::Currency),
    ("devise", Kind::Currency),
    ("pack", Kind::Pack),
    ("pack size", Kind::Pack),
    ("size", Kind::Pack),
    ("packung", Kind::Pack),
    ("gebinde", Kind::Pack),
    ("conditionnement", Kind::Pack),
    ("lot", Kind::Lot),
    ("lot number", Kind::Lot),
    ("batch number", Kind::Lot),
    ("charge", Kind::Lot),
    ("expiry", Kind::Expiry),
    ("expires", Kind::Expiry),
    ("best before", Kind::Expiry),
    ("mhd", Kind::Expiry),
    ("note", Kind::Note),
    ("notes", Kind::Note),
    ("composition", Kind::Composition),
];

/// What a heading means.
pub fn heading(text: &str) -> Option<Column> {
    let text = text.trim();
    if text.is_empty() || text.len() > 60 {
        return None;
    }
    // Units stand between blanks, brackets or after a stroke; "%" may touch a word.
    let spaced = text.replace('%', " % ");
    let unit = spaced
        .split(|c: char| c.is_whitespace() || "()[]/,;:".contains(c))
        .filter(|t| !t.is_empty())
        .find_map(Unit::named);
    let words = words_of(text);
    let mut best: Option<(usize, Kind)> = None;
    for (phrase, kind) in HEADINGS {
        let count = phrase.split(' ').count();
        let found = words
            .windows(count)
            .any(|w| w.iter().map(String::as_str).eq(phrase.split(' ')));
        if found && best.is_none_or(|(most, known)| beats(count, kind, most, known)) {
            best = Some((count, kind));
        }
    }
    let kind = match (best.map(|(_, kind)| kind), unit) {
        // "Amount %", "Menge in %", "%".
        (Some(Kind::Amount | Kind::Percent) | None, Some(Unit::Percent)) => Kind::Percent,
        // "Weight (g)", and a mass even under "percentage".
        (Some(Kind::Amount | Kind::Percent), Some(_)) => Kind::Amount,
        (Some(kind), _) => kind,
        // A unit alone, as in "g / 500 g".
        (None, Some(_)) if words.len() <= 4 => Kind::Amount,
        (None, _) => return None,
    };
    let unit = unit.filter(|u| *u != Unit::Percent);
    Some(Column { kind, unit })
}

/// A longer phrase wins. Of equally long ones the more telling kind does: "raw
/// material price" is a price, "ingredient function" a role.
fn beats(count: usize, kind: Kind, most: usize, known: Kind) -> bool {
    let telling = |kind: Kind| match kind {
        Kind::Price | Kind::Currency | Kind::Cas | Kind::Inci => 3,
        Kind::Supplier | Kind::Role | Kind::Lot | Kind::Expiry | Kind::Percent => 2,
        Kind::Name => 0,
        _ => 1,
    };
    (telling(kind), count) > (telling(known), most)
}

/// Rows looked at for headings.
const ROWS_FOR_HEADINGS: usize = 40;

/// Finds the headings of a table, or what its columns mean by their content. The
/// first column of each kind is taken; further ones of the same kind are left out.
/// `None` if no column of names and none of numbers is found.
pub fn recognise(table: &Table) -> Option<Layout> {
    let by_headings = (0..table.rows.len().min(ROWS_FOR_HEADINGS))
        .map(|row| (layout_of_row(table, row), row))
        .max_by_key(|(layout, row)| {
            (
                layout.columns.iter().flatten().count(),
                std::cmp::Reverse(*row),
            )
        })
        .map(|(layout, _)| layout);
    if let Some(layout) = by_headings {
        let told = layout.columns.iter().flatten().count();
        let numbers = layout.place(Kind::Percent).is_some() || layout.place(Kind::Amount).is_some();
        if told >= 2 || (told == 1 && numbers) {
            let layout = complete(table, layout);
            if has_names(&layout) {
                return Some(layout);
            }
        }
    }
    let layout = complete(table, Layout::default());
    has_names(&layout).then_some(layout)
}

fn has_names(layout: &Layout) -> bool {
    layout.place(Kind::Name).is_some() || layout.place(Kind::Inci).is_some()
}

fn layout_of_row(table: &Table, row: usize) -> Layout {
    let mut layout = Layout {
        headings: Some(row),
        columns: Vec::new(),
    };
    for column in 0..table.width() {
        let found = match table.cell(row, column) {
            Cell::Text(text) => heading(text),
            _ => None,
        };
        let taken = found.is_some_and(|f| layout.place(f.kind).is_some());
        layout.columns.push(found.filter(|_| !taken));
    }
    layout
}

/// Fills in, from what stands in them, the names and numbers that no heading tells.
fn complete(table: &Table, mut layout: Layout) -> Layout {
    layout.columns.resize(table.width(), None);
    let rows = layout.first_row()..table.rows.len();
    let free: Vec<usize> = (0..layout.columns.len())
        .filter(|&c| {
            let untitled = layout
                .headings
                .is_none_or(|row| table.cell(row, c).is_empty());
            untitled && layout.columns.get(c).copied().flatten().is_none()
        })
        .collect();
    let contents: Vec<Content> = free
        .iter()
        .map(|&column| Content::of(table, column, rows.clone()))
        .collect();
    let has_numbers = layout.place(Kind::Percent).is_some() || layout.place(Kind::Amount).is_some();
    let mut give = |kind: Kind, best: Option<usize>, unit: Option<Unit>| {
        if let Some(slot) = best.and_then(|at| layout.columns.get_mut(at)) {
            *slot = Some(Column { kind, unit });
        }
    };
    let best = |score: &dyn Fn(&Content) -> usize| {
        free.iter()
            .zip(&contents)
            .map(|(&column, content)| (score(content), column))
            .filter(|(score, _)| *score >= 2)
            .max_by_key(|&(score, column)| (score, std::cmp::Reverse(column)))
            .map(|(_, column)| column)
    };
    let cas = best(&|c| if c.cas * 2 > c.filled { c.cas } else { 0 });
    give(Kind::Cas, cas, None);
    if !has_numbers {
        let numbers = best(&|c| {
            if c.numbers * 2 > c.filled {
                c.numbers
            } else {
                0
            }
        });
        let content = numbers.and_then(|at| {
            free.iter()
                .position(|&c| c == at)
                .and_then(|n| contents.get(n))
        });
        let kind = if content.is_some_and(|c| c.unit.is_some_and(|u| u != Unit::Percent)) {
            Kind::Amount
        } else {
            Kind::Percent
        };
        give(kind, numbers, None);
    }
    let phase = best(&|c| {
        if c.letters > 0 && c.letters == c.filled {
            c.letters
        } else {
            0
        }
    });
    let names = best(&|c| {
        if c.words * 2 > c.filled && c.letters < c.filled && c.cas == 0 {
            c.words
        } else {
            0
        }
    });
    let untitled = layout.headings.is_none();
    let give_free = |kind: Kind, best: Option<usize>, layout: &mut Layout| {
        if let Some(slot) = best.and_then(|at| layout.columns.get_mut(at))
            && slot.is_none()
        {
            *slot = Some(Column { kind, unit: None });
        }
    };
    if untitled {
        give_free(Kind::Phase, phase, &mut layout);
    }
    if !has_names(&layout) {
        give_free(Kind::Name, names, &mut layout);
    }
    layout
}

/// What stands in a column.
#[derive(Default)]
struct Content {
    filled: usize,
    numbers: usize,
    words: usize,
    /// One or two letters or digits, as phases are named.
    letters: usize,
    cas: usize,
    unit: Option<Unit>,
}

impl Content {
    fn of(table: &Table, column: usize, rows: std::ops::Range<usize>) -> Self {
        let mut content = Self::default();
        for row in rows.take(500) {
            let cell = table.cell(row, column);
            if cell.is_empty() {
                continue;
            }
            content.filled += 1;
            match cell {
                Cell::Number { .. } => content.numbers += 1,
                Cell::Text(text) => {
                    let text = text.trim();
                    if text.parse::<Cas>().is_ok() {
                        content.cas += 1;
                    } else if let Ok(amount) = number::amount(text, None) {
                        content.numbers += 1;
                        content.unit = content.unit.or(amount.unit);
                    } else if super::qs::is_qs(text) {
                        content.numbers += 1;
                    } else {
                        content.words += 1;
                        if text.chars().count() <= 2 {
                            content.letters += 1;
                        }
                    }
                }
                _ => {}
            }
        }
        content
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, kind: Option<Kind>, unit: Option<Unit>) {
        assert_eq!(
            heading(text),
            kind.map(|kind| Column { kind, unit }),
            "for “{text}”"
        );
    }

    #[test]
    fn headings_in_several_languages() {
        check("Phase", Some(Kind::Phase), None);
        check("Ingredient", Some(Kind::Name), None);
        check("Ingredients (trade name)", Some(Kind::Name), None);
        check("INCI-Bezeichnung", Some(Kind::Inci), None);
        check("INCI name", Some(Kind::Inci), None);
        check("CAS-Nr.", Some(Kind::Cas), None);
        check("%", Some(Kind::Percent), None);
        check("% w/w", Some(Kind::Percent), None);
        check("Menge in %", Some(Kind::Percent), None);
        check("Menge (g)", Some(Kind::Amount), Some(Unit::Gram));
        check("Weight [kg]", Some(Kind::Amount), Some(Unit::Kilogram));
        check("g", Some(Kind::Amount), Some(Unit::Gram));
        check("Quantité", Some(Kind::Amount), None);
        check("Matière première", Some(Kind::Name), None);
        check("Price per kg", Some(Kind::Price), Some(Unit::Kilogram));
        check("Preis / kg", Some(Kind::Price), Some(Unit::Kilogram));
        check("Ingredient function", Some(Kind::Role), None);
        check("Währung", Some(Kind::Currency), None);
        check("Best before", Some(Kind::Expiry), None);
        check("Colour of the jar", None, None);
        check("", None, None);
    }

    #[test]
    fn a_table_without_headings_is_understood_by_its_content() {
        let table =
            super::super::text::read("A;Water;70,0\nA;Glycerin;5,0\nB;Betaine;25,0\n").unwrap();
        let layout = recognise(&table).unwrap();
        assert_eq!(layout.headings, None);
        assert_eq!(layout.place(Kind::Phase), Some(0));
        assert_eq!(layout.place(Kind::Name), Some(1));
        assert_eq!(layout.place(Kind::Percent), Some(2));
    }

    #[test]
    fn headings_below_a_title_are_found() {
        let table = super::super::text::read(
            "Moss conditioner;;\nversion 3;;\n;;\nPhase;Ingredient;%\nA;Water;70\n",
        )
        .unwrap();
        let layout = recognise(&table).unwrap();
        assert_eq!(layout.headings, Some(3));
        assert_eq!(layout.place(Kind::Percent), Some(2));
    }

    #[test]
    fn a_column_is_assigned_once() {
        let mut layout = Layout::default();
        layout.assign(2, Some(Kind::Percent));
        layout.assign(4, Some(Kind::Percent));
        assert_eq!(layout.place(Kind::Percent), Some(4));
        layout.assign(4, None);
        assert_eq!(layout.place(Kind::Percent), None);
    }
}
