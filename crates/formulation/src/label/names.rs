//! The name of an ingredient on the label of each market.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use crate::formula::Market;
use crate::material::Class;
use crate::notation::label_tables::{self, NamesTable};
use crate::notation::read_error::ReadError;

/// Names that differ between markets, ready to be looked up.
#[derive(Debug, Default)]
pub struct Names {
    table: NamesTable,
    /// European name by lower-case name of the United States.
    to_eu: BTreeMap<String, String>,
}

/// The names that come with the program.
pub fn names() -> &'static Names {
    &loaded().0
}

/// Why the names could not be read; `None` unless the program was built with a damaged
/// table.
pub fn fault() -> Option<&'static ReadError> {
    loaded().1.as_ref()
}

fn loaded() -> &'static (Names, Option<ReadError>) {
    static NAMES: OnceLock<(Names, Option<ReadError>)> = OnceLock::new();
    NAMES.get_or_init(|| {
        let text = include_str!("../../../../assets/label/names.ron");
        match label_tables::read_names(text, "assets/label/names.ron") {
            Ok(table) => (Names::new(table), None),
            Err(error) => (Names::default(), Some(error)),
        }
    })
}

impl Names {
    fn new(table: NamesTable) -> Self {
        let to_eu = table
            .us
            .iter()
            .map(|(eu, us)| (us.to_lowercase(), eu.clone()))
            .collect();
        Self { table, to_eu }
    }

    /// The European INCI name of an ingredient given under either name.
    pub fn european<'a>(&'a self, inci: &'a str) -> &'a str {
        self.to_eu
            .get(&inci.to_lowercase())
            .map_or(inci, String::as_str)
    }

    /// The name for the ingredient list of a market.
    ///
    /// European Union and United Kingdom: the INCI name, colorants by colour index
    /// number. United States: English names, plants with their common name in brackets,
    /// colour additives by the name of their listing, without the mark for nanomaterials.
    pub fn on_label(&self, inci: &str, class: Class, market: Market) -> String {
        let european = self.european(inci);
        match market {
            Market::Eu | Market::Uk => {
                if class == Class::Colour
                    && let Some(number) = find(&self.table.eu_colours, european)
                {
                    return number.to_owned();
                }
                european.to_owned()
            }
            Market::Us => self.american(european),
        }
    }

    fn american(&self, european: &str) -> String {
        let plain = european.strip_suffix(" (nano)").unwrap_or(european);
        if let Some(name) = find(&self.table.us, plain) {
            return name.to_owned();
        }
        if let Some(name) = find(&self.table.us_colours, plain) {
            return name.to_owned();
        }
        let mut name = plain.to_owned();
        for (ending, english) in &self.table.us_endings {
            if let Some(stem) = name.strip_suffix(ending.as_str()) {
                name = format!("{stem}{english}");
                break;
            }
        }
        match self.common_name(&name) {
            Some((latin, common)) => {
                let rest = name.get(latin.len()..).unwrap_or("");
                format!("{latin} ({common}){rest}")
            }
            None => name,
        }
    }

    /// The longest Latin name at the head of an ingredient name, and its common name.
    fn common_name(&self, name: &str) -> Option<(&str, &str)> {
        self.table
            .common
            .iter()
            .filter(|(latin, _)| {
                name.strip_prefix(latin.as_str())
                    .is_some_and(|rest| rest.starts_with(' '))
            })
            .max_by_key(|(latin, _)| latin.len())
            .map(|(latin, common)| (latin.as_str(), common.as_str()))
    }

    /// Whether a colorant has a name in the listings of the United States.
    pub fn is_us_colour(&self, inci: &str) -> bool {
        let inci = inci.strip_suffix(" (nano)").unwrap_or(inci);
        let own_name = |name: &String| name.eq_ignore_ascii_case(inci);
        find(&self.table.us_colours, inci).is_some()
            || self.table.us_colours.values().any(own_name)
            || inci.eq_ignore_ascii_case("Caramel")
    }
}

fn find<'a>(map: &'a BTreeMap<String, String>, name: &str) -> Option<&'a str> {
    map.get(name)
        .or_else(|| {
            map.iter()
                .find(|(key, _)| key.eq_ignore_ascii_case(name))
                .map(|(_, value)| value)
        })
        .map(String::as_str)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn us(inci: &str, class: Class) -> String {
        names().on_label(inci, class, Market::Us)
    }
    fn eu(inci: &str, class: Class) -> String {
        names().on_label(inci, class, Market::Eu)
    }

    #[test]
    fn the_table_is_read() {
        assert_eq!(fault(), None);
    }

    #[test]
    fn names_follow_the_market() {
        assert_eq!(us("Aqua", Class::Water), "Water");
        assert_eq!(eu("Water", Class::Water), "Aqua");
        assert_eq!(us("Parfum", Class::Fragrance), "Fragrance");
        assert_eq!(eu("Fragrance", Class::Fragrance), "Parfum");
        assert_eq!(us("CI 77491", Class::Colour), "Iron Oxides");
        assert_eq!(us("CI 42090", Class::Colour), "Blue 1");
        assert_eq!(eu("Mica", Class::Colour), "CI 77019");
        assert_eq!(us("Mica", Class::Colour), "Mica");
        assert_eq!(
            us("Helianthus Annuus Seed Oil", Class::Oil),
            "Helianthus Annuus (Sunflower) Seed Oil"
        );
        assert_eq!(
            us("Citrus Aurantium Dulcis Peel Oil", Class::Fragrance),
            "Citrus Aurantium Dulcis (Orange) Peel Oil"
        );
        assert_eq!(
            us("Euphorbia Cerifera Cera", Class::Oil),
            "Euphorbia Cerifera (Candelilla) Wax"
        );
        assert_eq!(us("Zinc Oxide (nano)", Class::Other), "Zinc Oxide");
        assert_eq!(eu("Zinc Oxide (nano)", Class::Other), "Zinc Oxide (nano)");
        assert_eq!(eu("Glycerin", Class::Humectant), "Glycerin");
    }
}
