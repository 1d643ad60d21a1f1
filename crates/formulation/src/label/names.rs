//! The name of an ingredient on the label of each market.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use crate::formula::Market;
use crate::material::Class;
use crate::notation::label_tables::{self, NamesTable};
use crate::notation::read_error::ReadError;
use crate::substance_words::{is_culture, is_plant_product, plant_parts};

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

    /// The longest Latin name at the head of an ingredient name, as it is written there, and its
    /// common name.
    fn common_name<'a>(&'a self, name: &'a str) -> Option<(&'a str, &'a str)> {
        let head_of = |latin: &str| {
            let head = name.get(..latin.len())?;
            let is_whole = name.get(latin.len()..)?.starts_with(' ');
            (is_whole && head.eq_ignore_ascii_case(latin)).then_some(head)
        };
        self.table
            .common
            .iter()
            .filter_map(|(latin, common)| Some((head_of(latin)?, common.as_str())))
            .max_by_key(|(latin, _)| latin.len())
    }

    /// The Latin name of a plant at the head of an ingredient name of which no common name is
    /// known here; none where one is, and for what is no plant by its name: two words, the second
    /// with a Latin ending, before a part or product of a plant.
    pub fn without_common_name<'a>(&self, inci: &'a str) -> Option<&'a str> {
        let american = &self.table.us;
        if find(american, inci).is_some() || self.common_name(inci).is_some() || is_culture(inci) {
            return None;
        }
        let mut words = inci.splitn(3, ' ');
        let (genus, species, rest) = (words.next()?, words.next()?, words.next()?);
        let is_among = |list: &[String], word: &str| list.iter().any(|w| w == word);
        let is_latin = |word: &str| word.chars().all(|c| c.is_ascii_alphabetic() || c == '-');
        let small = species.to_lowercase();
        let latin = is_latin(genus)
            && is_latin(species)
            && !is_among(&self.table.not_latin, &genus.to_lowercase())
            && (self.table.latin_endings.iter()).any(|ending| small.ends_with(ending.as_str()));
        let rest = rest.to_lowercase();
        let mut parts = rest.split(|c: char| !c.is_alphabetic());
        let plant = plant_parts(&rest) != 0
            || is_plant_product(&rest)
            || parts.any(|word| is_among(&self.table.plant_words, word));
        let name = inci.get(..genus.len() + 1 + species.len());
        name.filter(|_| latin && plant)
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

    /// Common names after the trade's dictionary, from memory; milk by its own name.
    #[test]
    fn plants_have_the_name_that_consumers_know() {
        for (inci, on_label) in [
            ("Elaeis Guineensis Oil", "Elaeis Guineensis (Palm) Oil"),
            (
                "Elaeis Guineensis Kernel Oil",
                "Elaeis Guineensis (Palm) Kernel Oil",
            ),
            ("Arachis Hypogaea Oil", "Arachis Hypogaea (Peanut) Oil"),
            (
                "Cucurbita Pepo Seed Oil",
                "Cucurbita Pepo (Pumpkin) Seed Oil",
            ),
            (
                "Foeniculum Vulgare Dulce Fruit Oil",
                "Foeniculum Vulgare Dulce (Fennel) Fruit Oil",
            ),
            ("ELAEIS GUINEENSIS OIL", "ELAEIS GUINEENSIS (Palm) OIL"),
            ("Lac Powder", "Milk Powder"),
        ] {
            assert_eq!(us(inci, Class::Oil), on_label);
            assert_eq!(eu(inci, Class::Oil), inci);
        }
    }

    /// Every plant of the shelf has its common name; of another the label says that it has none.
    #[test]
    fn a_plant_without_a_common_name_is_told() {
        let mut nameless = Vec::new();
        for material in crate::shelf::built_in().iter() {
            for c in &material.constituents {
                nameless.extend(names().without_common_name(&c.inci));
            }
        }
        assert_eq!(nameless, Vec::<&str>::new());
        for (inci, latin) in [
            ("Lactuca Virosa Leaf Extract", "Lactuca Virosa"),
            ("MALPIGHIA GLABRA FRUIT POWDER", "MALPIGHIA GLABRA"),
            ("Irvingia Gabonensis Kernel Butter", "Irvingia Gabonensis"),
        ] {
            assert_eq!(names().without_common_name(inci), Some(latin));
        }
        for inci in [
            "Hydrogenated Jojoba Oil",
            "PEG-40 Hydrogenated Castor Oil",
            "Hydrolyzed Pea Protein",
            "Simmondsia Chinensis Seed Oil",
            "Lactobacillus Ferment Filtrate",
            "Potassium Sorbate",
            "Tapioca Starch",
            "Cera Alba",
            "",
        ] {
            assert_eq!(names().without_common_name(inci), None, "{inci}");
        }
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
