//! What cells say of a material: its name, INCI names and CAS number.

use super::Cell;
use super::amounts::is_dash;
use crate::amount::number::Unit;
use crate::cas::Cas;
use crate::inventory::inventory;
use crate::naming::{blend, is_known_name};

/// Whether all names of a list are INCI names: a column headed "INCI / name" may hold others.
pub(super) fn are_inci_names(text: &str) -> bool {
    let names = blend::parts(text);
    names.iter().all(|name| {
        let bare = name.split('(').next().unwrap_or(name).trim();
        inventory().by_name(name).is_some() || inventory().by_name(bare).is_some()
    })
}

/// A name without the marks of footnotes, and without the unit of its amount.
pub(super) fn clean_name(name: &str) -> String {
    let name = name.trim().trim_end_matches(|c: char| {
        matches!(c, '*' | '†' | '‡' | '¹' | '²' | '³') || c.is_whitespace()
    });
    Unit::taken_off(name).to_owned()
}

/// The name and the INCI names of a cell that has both below each other.
pub(super) fn name_over_inci(cell: &Cell) -> Option<(String, String)> {
    let Cell::Text(text) = cell else {
        return None;
    };
    let (name, below) = text.trim().split_once('\n')?;
    let below = below.split_whitespace().collect::<Vec<_>>().join(" ");
    let said = below
        .get(..4)
        .filter(|word| word.eq_ignore_ascii_case("inci"))
        .and_then(|word| below.strip_prefix(word))
        .map(|rest| rest.trim_start_matches([':', ' ']));
    // "Bienenwachs" over "(Cera Alba)".
    let bare = below.strip_prefix('(').and_then(|b| b.strip_suffix(')'));
    let below = bare.map_or(below.clone(), |inner| inner.trim().to_owned());
    match said {
        Some(inci) => Some((name.trim().to_owned(), inci.to_owned())),
        None => are_inci_names(&below).then(|| (name.trim().to_owned(), below)),
    }
}

/// A name in two tongues, each in a line of its cell, as "Água destilada / Distilled water".
pub(super) fn in_two_lines(cell: &Cell) -> Option<String> {
    let Cell::Text(text) = cell else {
        return None;
    };
    let (one, other) = text.trim().split_once('\n')?;
    let named = |name: &str| is_known_name(name.trim());
    (named(one) && named(other)).then(|| format!("{} / {}", one.trim(), other.trim()))
}

/// The first CAS number of a cell, or why it holds none.
pub(super) fn first_cas(text: &str) -> Result<Option<Cas>, String> {
    let text = text.trim();
    if text.is_empty() || is_dash(text) {
        return Ok(None);
    }
    let mut fault = None;
    for part in text
        .split([',', ';', '/', ' ', '\n'])
        .filter(|p| !p.is_empty())
    {
        match part.parse::<Cas>() {
            Ok(cas) => return Ok(Some(cas)),
            Err(error) => fault = fault.or(Some(error)),
        }
    }
    Err(fault.map_or_else(String::new, |f| format!("{f}; the number was left out")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_names_in_the_lines_of_a_cell_are_one_material() {
        let cell = |text: &str| Cell::Text(text.to_owned());
        let both = in_two_lines(&cell("Água destilada\nDistilled water"));
        assert_eq!(both.as_deref(), Some("Água destilada / Distilled water"));
        assert_eq!(in_two_lines(&cell("Glycerin\nfrom the blue drum")), None);
        let over = name_over_inci(&cell("Shea\nINCI: Butyrospermum Parkii Butter"));
        assert_eq!(over.unwrap().1, "Butyrospermum Parkii Butter");
        for text in ["Bienenwachs\n(Cera Alba)", "Vitamin E\n(Tocopherol)"] {
            let (name, inci) = name_over_inci(&cell(text)).unwrap();
            assert!(!name.contains('(') && !inci.contains('('), "{name} {inci}");
        }
        assert_eq!(name_over_inci(&cell("Bienenwachs\n(gelbe Perlen)")), None);
    }
}
