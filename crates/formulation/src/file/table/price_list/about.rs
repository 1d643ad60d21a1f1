//! What a list of materials says of them besides their names: trade name, supplier,
//! function, use level and composition, in one cell, in columns or over several rows.

use std::sync::Arc;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use crate::amount::number;
use crate::file::table::columns::{self, ColumnKind, Layout};
use crate::file::table::{Cell, Shown, Table};
use crate::inventory::{self, inventory};
use crate::material::{Basis, Class, Constituent, Material, ProductKind, Role, Source, UseRange};
use crate::naming::{functions, words_of};
use crate::quantity::{MassFraction, Percent, Spread};

/// A substance of a material and how much of it there is.
#[derive(Clone, PartialEq, Debug)]
pub struct Piece {
    /// INCI name as written.
    pub inci: String,
    /// Lowest and highest percentage; `None` if the list does not say.
    pub percent: Option<(Decimal, Decimal)>,
}

/// What a row says of its material.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct RowMaterial {
    /// Trade name beside the name.
    pub trade: String,
    /// Function in words.
    pub role: String,
    /// Use level in words, in percent.
    pub use_level: String,
    /// Composition, if it is stated.
    pub pieces: Vec<Piece>,
    /// Fragrance allergens that the list states to be in it.
    pub allergens: Vec<Piece>,
    pub(super) doubts: Vec<String>,
}

/// The numbers of a text, decimals with either mark.
fn numbers(text: &str) -> Vec<Decimal> {
    text.split(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')))
        .filter_map(|t| number::amount(t.trim_matches(['.', ',']), None).ok())
        .map(|a| a.value)
        .collect()
}

/// "60-65 %", "90", "<5 %" as lowest and highest percentage.
fn share(text: &str) -> Option<(Decimal, Decimal)> {
    let found = numbers(text);
    let both = match *found.as_slice() {
        [one] if text.contains(['<', '≤']) => (Decimal::ZERO, one),
        [one] if text.contains(['>', '≥']) => (one, Decimal::ONE_HUNDRED),
        [one] => (one, one),
        [low, high] if low <= high => (low, high),
        _ => return None,
    };
    (both.1 <= Decimal::ONE_HUNDRED).then_some(both)
}

/// A number of a composition that is a cell of its own.
pub(super) fn share_of(cell: &Cell) -> Option<(Decimal, Decimal)> {
    match cell {
        Cell::Number { value, shown } => {
            let value = if *shown == Shown::Percent {
                *value * Decimal::ONE_HUNDRED
            } else {
                *value
            };
            (value <= Decimal::ONE_HUNDRED && value >= Decimal::ZERO).then_some((value, value))
        }
        cell => share(&cell.words()),
    }
}

/// Whether most of the filled cells of a column are shares.
pub(super) fn shares_of_column(table: &Table, layout: &Layout, column: usize) -> bool {
    let rows = (layout.first_row()..table.rows.len()).take(300);
    let filled = rows
        .map(|row| table.cell(row, column))
        .filter(|c| !c.is_empty());
    let (mut all, mut shares) = (0_usize, 0_usize);
    for cell in filled {
        all += 1;
        shares += usize::from(share_of(cell).is_some());
    }
    shares > 0 && shares * 2 >= all
}

/// The heading of a numbered column: "INCI 2", "% 2".
fn numbered(heading: &str) -> Option<(bool, u32)> {
    let folded = words_of(heading);
    let number = folded.last()?.parse::<u32>().ok().filter(|n| *n <= 30)?;
    let kind =
        columns::heading(heading.trim_end_matches(|c: char| c.is_ascii_digit() || c == ' '))?.kind;
    match kind {
        ColumnKind::Inci | ColumnKind::Name => Some((true, number)),
        ColumnKind::Percent | ColumnKind::Strength => Some((false, number)),
        _ => None,
    }
}

/// Whether a heading is one of numbered columns of a composition.
pub(super) fn is_piece(heading: &str) -> bool {
    numbered(heading).is_some()
}

/// A column of INCI names, and the one of their percentages.
pub(super) type Pair = (usize, Option<usize>);

/// The columns of INCI names and percentages that belong together.
pub(super) fn pairs(table: &Table, layout: &Layout) -> Vec<Pair> {
    let all: Vec<(usize, bool, u32)> = (0..table.width())
        .filter_map(|c| {
            let (inci, number) = numbered(&layout.heading(table, c))?;
            Some((c, inci, number))
        })
        .collect();
    let found: Vec<(usize, Option<usize>)> = all
        .iter()
        .filter(|(_, inci, _)| *inci)
        .map(|&(column, _, number)| {
            let share = all
                .iter()
                .find(|(_, inci, n)| !inci && *n == number)
                .map(|(c, _, _)| *c)
                // "Component 1", "%", "Component 2", "%".
                .or_else(|| {
                    let heading = columns::heading(&layout.heading(table, column + 1))?;
                    matches!(heading.kind, ColumnKind::Percent | ColumnKind::Strength)
                        .then_some(column + 1)
                });
            (column, share)
        })
        .collect();
    if found.len() > 1 { found } else { Vec::new() }
}

/// Whether the constituents of the materials stand in numbered columns with their shares.
pub(super) fn has_components(table: &Table, layout: &Layout) -> bool {
    let pairs = pairs(table, layout);
    pairs.len() > 1 && pairs.iter().all(|(_, share)| share.is_some())
}

/// The columns of a list of materials whose constituents stand in numbered columns with their
/// shares, where the first of these was taken for the material: "Blend", "Component 1", "%".
pub(super) fn with_components(table: &Table, layout: &Layout) -> Option<Layout> {
    let pairs = pairs(table, layout);
    let taken = layout.place(ColumnKind::Name)?;
    if !pairs.iter().any(|(column, _)| *column == taken) || pairs.iter().any(|(_, c)| c.is_none()) {
        return None;
    }
    let first = (0..taken).find(|&column| {
        (layout.first_row()..table.rows.len()).any(|row| !table.cell(row, column).is_empty())
    })?;
    let mut layout = layout.clone();
    for (column, share) in pairs {
        layout.assign(column, None);
        if let Some(share) = share {
            layout.assign(share, None);
        }
    }
    layout.assign(first, Some(ColumnKind::Name));
    Some(layout)
}

/// Whether the composition of materials stands in rows of its own below them: names with
/// gaps, INCI names without, and shares that make each material whole.
pub(super) fn has_pieces(table: &Table, layout: &Layout) -> bool {
    if pairs(table, layout).len() > 1 {
        // These are in columns; rows are whole materials.
        return false;
    }
    let (Some(names), Some(inci)) = (
        layout.place(ColumnKind::Name),
        layout.place(ColumnKind::Inci),
    ) else {
        return false;
    };
    // Rows without a name of their own belong to the one above, whatever their shares are.
    let rows =
        || (layout.first_row()..table.rows.len()).filter(|&r| !table.cell(r, inci).is_empty());
    let nameless = rows().filter(|&r| table.cell(r, names).is_empty()).count();
    let Some(shares) = layout
        .place(ColumnKind::Percent)
        .or(layout.place(ColumnKind::Strength))
    else {
        return nameless > 0 && layout.place(ColumnKind::UseLevel).is_some();
    };
    let hundred = |sum: Decimal| (sum - Decimal::ONE_HUNDRED).abs() <= Decimal::ONE;
    let (mut sum, mut wholes, mut groups, mut gaps) = (Decimal::ZERO, 0_usize, 0_usize, 0_usize);
    for row in layout.first_row()..table.rows.len() {
        if table.cell(row, inci).is_empty() {
            continue;
        }
        let named = !table.cell(row, names).is_empty();
        if named {
            wholes += usize::from(groups > 0 && hundred(sum));
            groups += 1;
            sum = Decimal::ZERO;
        } else {
            gaps += 1;
        }
        if let Some((low, high)) = share_of(table.cell(row, shares)) {
            sum += (low + high) / Decimal::TWO;
        }
    }
    wholes += usize::from(groups > 0 && hundred(sum));
    gaps > 0 && groups > 1 && wholes * 2 >= groups
}

impl RowMaterial {
    /// One more fragrance allergen, unless the list says that there is none of it.
    pub(super) fn add_allergen(&mut self, name: &str, cell: &Cell) {
        let percent = share_of(cell);
        let none = percent.is_some_and(|(_, high)| high.is_zero())
            || percent.is_none() && !cell.words().contains(|c: char| c.is_ascii_digit());
        if !name.trim().is_empty() && !none {
            self.allergens.push(Piece {
                inci: name.trim().to_owned(),
                percent,
            });
        }
    }

    /// One more substance.
    pub(super) fn add_piece(&mut self, inci: &str, percent: &str) {
        if !inci.trim().is_empty() {
            self.pieces.push(Piece {
                inci: inci.trim().to_owned(),
                percent: share(percent),
            });
        }
    }

    /// Reads the column of compositions and the numbered columns.
    pub(super) fn read(&mut self, table: &Table, layout: &Layout, pairs: &[Pair], row: usize) {
        for &(inci, percent) in pairs {
            let name = table.cell(row, inci).words();
            if !name.is_empty() {
                self.pieces.push(Piece {
                    inci: name,
                    percent: percent.and_then(|c| share_of(table.cell(row, c))),
                });
            }
        }
        let Some(column) = layout.place(ColumnKind::Composition) else {
            return;
        };
        let text = match table.cell(row, column) {
            Cell::Text(text) => text.clone(),
            cell => cell.words(),
        };
        if text.trim().is_empty() {
            return;
        }
        let pieces = composition(&text);
        if pieces.is_empty() {
            self.doubts.push(format!(
                "the composition “{}” was not understood and is kept as a note",
                text.trim()
            ));
        } else {
            self.pieces = pieces;
        }
    }

    /// The INCI names of the composition as a list.
    pub(super) fn inci_list(&self) -> String {
        let names: Vec<&str> = self.pieces.iter().map(|p| p.inci.as_str()).collect();
        names.join(", ")
    }

    /// Whether the row says something that a generic material does not.
    pub(super) fn is_own(&self) -> bool {
        !self.trade.is_empty()
            || !self.use_level.is_empty()
            || !self.pieces.is_empty()
            || !self.allergens.is_empty()
    }

    /// What is kept, in words.
    pub(super) fn words(&self) -> Vec<String> {
        let mut told = Vec::new();
        if !self.trade.is_empty() {
            told.push(format!("trade name {}", self.trade));
        }
        if !self.role.is_empty() {
            told.push(format!("function {}", self.role));
        }
        if !self.use_level.is_empty() {
            told.push(format!("use level {}", self.use_level));
        }
        if !self.pieces.is_empty() {
            told.push(format!("composition of {} substances", self.pieces.len()));
        }
        if !self.allergens.is_empty() {
            let names: Vec<&str> = self.allergens.iter().map(|p| p.inci.as_str()).collect();
            told.push(format!("fragrance allergens {}", names.join(", ")));
        }
        told
    }

    /// Writes all of it into a material.
    pub(super) fn put_into(&self, material: &mut Material) {
        let source = || Source::new(Basis::Supplier, "as stated in the list brought in");
        if !self.trade.is_empty() && !material.synonyms.iter().any(|s| **s == *self.trade) {
            material.synonyms.push(self.trade.as_str().into());
        }
        let roles = roles(&self.role);
        if !roles.is_empty() {
            material.roles = roles;
        } else if !self.role.is_empty() {
            add_note(material, &format!("Function: {}", self.role));
        }
        if let Some((low, high, maximum)) = use_range(&self.use_level) {
            material.use_ranges = [ProductKind::RinseOff, ProductKind::LeaveOn]
                .into_iter()
                .map(|kind| UseRange {
                    kind,
                    low,
                    high,
                    supplier_maximum: maximum,
                    source: source(),
                })
                .collect();
        } else if !self.use_level.is_empty() {
            add_note(material, &format!("Use level: {}", self.use_level));
        }
        if !self.pieces.is_empty() && self.pieces.iter().all(|p| p.percent.is_some()) {
            material.constituents = self.pieces.iter().map(constituent).collect();
            material.source = source();
        } else if !self.pieces.is_empty() && material.constituents.is_empty() {
            material.constituents = self.pieces.iter().map(constituent).collect();
        }
        put_allergens(&self.allergens, material);
    }
}

/// Writes the fragrance allergens that a list states into a material, in the place of those
/// that are known of others of its kind. What is declared of it takes up the rest.
fn put_allergens(allergens: &[Piece], material: &mut Material) {
    const COMPONENT: &str =
        "component stated by the supplier, named on the label only where the law demands it";
    if allergens.is_empty() {
        return;
    }
    let mut stated: Vec<Constituent> = allergens.iter().map(constituent).collect();
    for one in &mut stated {
        one.class = Class::Fragrance;
        one.incidental = Some(COMPONENT.into());
        one.source = Some(Source::new(
            Basis::Supplier,
            "as stated in the list brought in",
        ));
    }
    let is_component = |c: &Constituent| c.incidental.is_some() && c.class == Class::Fragrance;
    material.constituents.retain(|c| !is_component(c));
    let sum = |of: fn(&Spread) -> MassFraction| -> f64 {
        stated.iter().map(|c| of(&c.share).value()).sum()
    };
    let (low, typical, high) = (sum(|s| s.low), sum(|s| s.typical), sum(|s| s.high));
    if let [declared] = material.constituents.as_mut_slice() {
        let rest = |taken: f64| MassFraction::new((1.0 - taken).clamp(0.0, 1.0));
        declared.share = Spread {
            low: rest(high),
            typical: rest(typical),
            high: rest(low),
        };
    }
    material.constituents.extend(stated);
}

fn add_note(material: &mut Material, words: &str) {
    let note = if material.note.is_empty() {
        words.to_owned()
    } else {
        format!("{}\n{words}", material.note)
    };
    material.note = Arc::from(note);
}

fn constituent(piece: &Piece) -> Constituent {
    let entry = inventory().by_name(&piece.inci).or_else(|| {
        // "Aqua (Water)".
        inventory().by_name(piece.inci.split('(').next().unwrap_or(&piece.inci).trim())
    });
    let fraction = |value: Decimal| MassFraction::from_percent(value.to_f64().unwrap_or(0.0));
    let share = match piece.percent {
        Some((low, high)) => Spread {
            low: fraction(low),
            typical: fraction((low + high) / Decimal::TWO),
            high: fraction(high),
        },
        None => Spread {
            low: MassFraction::ZERO,
            typical: MassFraction::ZERO,
            high: MassFraction::ONE,
        },
    };
    Constituent {
        inci: entry
            .map_or_else(|| piece.inci.clone(), inventory::InventoryName::label_name)
            .into(),
        cas: entry.and_then(|e| e.cas),
        share,
        class: entry.map_or(Class::Other, inventory::InventoryName::likely_class),
        incidental: None,
        source: None,
    }
}

/// The roles that words of a function name, in the languages read.
fn roles(text: &str) -> Vec<Role> {
    let mut found = Vec::new();
    for part in text.split([',', ';', '/', '+', '&']) {
        let folded = words_of(part);
        let joined = folded.join(" ");
        let role = functions()
            .iter()
            .find(|(phrase, _)| *phrase == joined)
            .or_else(|| {
                functions()
                    .iter()
                    .find(|(phrase, _)| folded.contains(phrase))
            })
            .map(|(_, role)| *role);
        if let Some(role) = role
            && !found.contains(&role)
        {
            found.push(role);
        }
    }
    found
}

/// "0.5–1 %", "max 1": lowest, highest, and whether it is a maximum.
fn use_range(text: &str) -> Option<(Percent, Percent, bool)> {
    let found = numbers(text);
    let (low, high, maximum) = match *found.as_slice() {
        [one] => (Decimal::ZERO, one, true),
        [low, high] if low <= high => (low, high, false),
        _ => return None,
    };
    if high > Decimal::ONE_HUNDRED || high.is_zero() {
        return None;
    }
    Some((
        Percent::of_decimal(low)?,
        Percent::of_decimal(high)?,
        maximum,
    ))
}

/// The substances of a composition in one cell: "Aqua 60-65 %; Glycerin 35-40 %", "90 %
/// Phenoxyethanol, 10 % Ethylhexylglycerin". Empty if a piece has no share.
fn composition(text: &str) -> Vec<Piece> {
    // A comma between digits divides nothing.
    let letters: Vec<char> = text.chars().collect();
    let mut pieces = vec![String::new()];
    for (n, &letter) in letters.iter().enumerate() {
        let digit = |at: Option<usize>| {
            at.and_then(|a| letters.get(a))
                .is_some_and(char::is_ascii_digit)
        };
        let decimal = letter == ',' && digit(n.checked_sub(1)) && digit(Some(n + 1));
        if matches!(letter, ';' | '\n' | '|' | '+') || letter == ',' && !decimal {
            pieces.push(String::new());
        } else if let Some(piece) = pieces.last_mut() {
            piece.push(letter);
        }
    }
    let mut found = Vec::new();
    for piece in pieces.iter().map(|p| p.trim()).filter(|p| !p.is_empty()) {
        let Some(one) = piece_of(piece) else {
            return Vec::new();
        };
        found.push(one);
    }
    found
}

/// "Aqua 60-65 %", "Aqua (60-65 %)", "90 % Phenoxyethanol".
fn piece_of(text: &str) -> Option<Piece> {
    let amount = |c: char| {
        c.is_ascii_digit()
            || matches!(
                c,
                '.' | ','
                    | '%'
                    | ' '
                    | '-'
                    | '–'
                    | '<'
                    | '>'
                    | '≤'
                    | '≥'
                    | '~'
                    | '('
                    | ')'
                    | '['
                    | ']'
                    | ':'
                    | '='
            )
    };
    let name_end = text.trim_end_matches(amount);
    let (name, percent) = if name_end.len() < text.len() && !name_end.is_empty() {
        // "Ceteareth-20 30 %": the number of the name stays with it.
        let tail = text.get(name_end.len()..)?;
        let glued = tail.len()
            - tail
                .trim_start_matches(|c: char| c.is_ascii_digit() || c == '-')
                .len();
        let keep = if glued > 0 && !tail.starts_with(' ') {
            glued
        } else {
            0
        };
        (text.get(..name_end.len() + keep)?, tail.get(keep..)?)
    } else {
        let rest = text.trim_start_matches(amount);
        (rest, text.get(..text.len() - rest.len())?)
    };
    let percent = share(&percent.replace(['(', ')', '[', ']'], " "))?;
    let name = name.trim_matches(|c: char| c.is_whitespace() || matches!(c, ':' | '=' | '-' | '('));
    name.contains(char::is_alphabetic).then(|| Piece {
        inci: name.to_owned(),
        percent: Some(percent),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn d(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    #[test]
    fn compositions_are_read_in_every_form() {
        let check = |text: &str, expected: &[(&str, &str, &str)]| {
            let found = composition(text);
            let told: Vec<(&str, Decimal, Decimal)> = found
                .iter()
                .map(|p| (p.inci.as_str(), p.percent.unwrap().0, p.percent.unwrap().1))
                .collect();
            let expected: Vec<(&str, Decimal, Decimal)> =
                expected.iter().map(|(n, a, b)| (*n, d(a), d(b))).collect();
            assert_eq!(told, expected, "{text}");
        };
        check(
            "Phenoxyethanol 90 %, Ethylhexylglycerin 10 %",
            &[
                ("Phenoxyethanol", "90", "90"),
                ("Ethylhexylglycerin", "10", "10"),
            ],
        );
        check(
            "Aqua 60-65 %; Sodium Chloride 4,5-6 %",
            &[("Aqua", "60", "65"), ("Sodium Chloride", "4.5", "6")],
        );
        check("90% Phenoxyethanol", &[("Phenoxyethanol", "90", "90")]);
        check("Tocopherol <1 %", &[("Tocopherol", "0", "1")]);
        check("Ceteareth-20 30 %", &[("Ceteareth-20", "30", "30")]);
        check("a blend of oils", &[]);
    }

    #[test]
    fn functions_and_use_levels_are_kept() {
        assert_eq!(roles("Humectant"), [Role::Humectant]);
        assert_eq!(roles("Konservierung"), [Role::Preservative]);
        assert_eq!(
            roles("Émollient, épaississant"),
            [Role::Emollient, Role::Thickener]
        );
        let range = use_range("0,5-1 %").unwrap();
        assert_eq!(
            (range.0.to_string(), range.1.to_string(), range.2),
            ("0.5".to_owned(), "1".to_owned(), false)
        );
        assert!(use_range("max. 1 %").unwrap().2);
        assert_eq!(use_range("as needed"), None);
    }
}
