//! The name of an ingredient on the label of each market.

use std::collections::{BTreeMap, HashMap};
use std::sync::OnceLock;

use packed::packed;

use crate::formula::Market;
use crate::inci::{Inci, InciKey};
use crate::material::Class;
use crate::notation::label_tables::{self, NamesTable};
use crate::notation::read_error::ReadError;
use crate::substance_words::{is_culture, is_plant_product, plant_parts};

/// Names that differ between markets, ready to be looked up.
#[derive(Debug, Default)]
pub struct Names {
    table: NamesTable,
    /// European names by those of the United States.
    to_eu: HashMap<InciKey, Inci>,
    /// Names in the United States by European name.
    us: ByInci,
    /// Colour index numbers by European name.
    eu_colours: ByInci,
    /// Colour additives of the United States by colour index number.
    us_colours: ByInci,
}

type ByInci = HashMap<InciKey, String>;

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
        let text = packed!("label/names.ron").text();
        match label_tables::read_names(&text, "assets/label/names.ron") {
            Ok(table) => (Names::new(table), None),
            Err(error) => (Names::default(), Some(error)),
        }
    })
}

impl Names {
    fn new(table: NamesTable) -> Self {
        let by_inci = |names: &BTreeMap<String, String>| -> ByInci {
            let names = names.iter();
            names
                .map(|(name, other)| (key(name), other.clone()))
                .collect()
        };
        let names = table.us.iter();
        Self {
            to_eu: names
                .map(|(eu, us)| (key(us), eu.as_str().into()))
                .collect(),
            us: by_inci(&table.us),
            eu_colours: by_inci(&table.eu_colours),
            us_colours: by_inci(&table.us_colours),
            table,
        }
    }

    /// The European INCI name of an ingredient given under either name.
    pub fn european<'a>(&'a self, inci: &'a Inci) -> &'a Inci {
        self.to_eu.get(&inci.key()).unwrap_or(inci)
    }

    /// The name for the ingredient list of a market.
    ///
    /// European Union and United Kingdom: the INCI name, colorants by colour index
    /// number. United States: English names, plants with their common name in brackets,
    /// colour additives by the name of their listing, without the mark for nanomaterials.
    pub fn on_label(&self, inci: &Inci, class: Class, market: Market) -> String {
        let european = self.european(inci);
        match market {
            Market::Eu | Market::Uk => {
                if class == Class::Colour
                    && let Some(number) = self.eu_colours.get(&european.key())
                {
                    return number.clone();
                }
                european.to_string()
            }
            Market::Us => self.american(european),
        }
    }

    fn american(&self, european: &Inci) -> String {
        let plain = without_nano(european.spelling());
        let identity = key(plain);
        let own = self.us.get(&identity);
        if let Some(name) = own.or_else(|| self.us_colours.get(&identity)) {
            return name.clone();
        }
        let mut name = plain.to_owned();
        for (ending, english) in &self.table.us_endings {
            if let Some(stem) = without_ending(&name, ending) {
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
    pub fn without_common_name<'a>(&self, inci: &'a Inci) -> Option<&'a str> {
        let has_own = self.us.contains_key(&inci.key());
        let inci = inci.spelling();
        if has_own || self.common_name(inci).is_some() || is_culture(inci) {
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
    pub fn is_us_colour(&self, inci: &Inci) -> bool {
        let inci = Inci::from(without_nano(inci.spelling()));
        self.us_colours.contains_key(&inci.key())
            || self.us_colours.values().any(|name| inci.is(name))
            || inci.is("Caramel")
    }
}

fn key(name: &str) -> InciKey {
    Inci::from(name).key()
}

/// A name without the mark of a nanomaterial.
fn without_nano(name: &str) -> &str {
    without_ending(name, " (nano)").unwrap_or(name)
}

/// The beginning of a name that ends so, whatever the case of its letters.
fn without_ending<'a>(name: &'a str, ending: &str) -> Option<&'a str> {
    let (stem, end) = name.split_at_checked(name.len().checked_sub(ending.len())?)?;
    end.eq_ignore_ascii_case(ending).then_some(stem)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn us(inci: &str, class: Class) -> String {
        names().on_label(&inci.into(), class, Market::Us)
    }
    fn eu(inci: &str, class: Class) -> String {
        names().on_label(&inci.into(), class, Market::Eu)
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
            (
                "euphorbia cerifera cera",
                "euphorbia cerifera (Candelilla) Wax",
            ),
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
            assert_eq!(names().without_common_name(&inci.into()), Some(latin));
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
            assert_eq!(names().without_common_name(&inci.into()), None, "{inci}");
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
        // However a name is written, it is one substance.
        assert_eq!(us("ZINC OXIDE (NANO)", Class::Other), "ZINC OXIDE");
        assert_eq!(us(" AQUA", Class::Water), "Water");
        assert!(names().is_us_colour(&"ci 77947 (NANO)".into()));
        assert_eq!(eu("Glycerin", Class::Humectant), "Glycerin");
    }
}
