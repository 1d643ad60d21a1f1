//! What the maker states for the label of a product, beside what follows from the
//! formula.

use std::sync::Arc;

use jiff::civil::Date;

use crate::inci::{Inci, equal_as_spelt};
use crate::quantity::{Mass, Volume};

/// How much a pack holds.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum NetContents {
    /// By weight.
    Mass(Mass),
    /// By volume.
    Volume(Volume),
    /// A number of pieces.
    Pieces(u32),
}

/// How long the product keeps.
#[derive(Clone, PartialEq, Debug, Default)]
pub enum Durability {
    /// Not stated yet.
    #[default]
    Unstated,
    /// Keeps more than 30 months unopened; months of use after opening.
    AfterOpening(u32),
    /// Keeps 30 months or less; best used before this day, or before the end of its month where
    /// it is the last day of that.
    BestBefore(Date),
    /// A period after opening does not apply, with the reason, for example a pack for
    /// a single use or one that does not open.
    NotNeeded(Arc<str>),
}

impl Durability {
    /// How long the product keeps, in words; `None` if it is not stated.
    pub fn words(&self) -> Option<String> {
        match self {
            Self::Unstated => None,
            Self::AfterOpening(months) => Some(format!(
                "more than 30 months unopened, {months} months after opening"
            )),
            Self::BestBefore(date) => Some(match BestBefore::of(*date) {
                BestBefore::EndOf(month) => format!("best used before the end of {month}"),
                BestBefore::Day(day) => format!("best used before {day}"),
            }),
            Self::NotNeeded(reason) if reason.trim().is_empty() => {
                Some("no period after opening, without a reason stated".to_owned())
            }
            Self::NotNeeded(reason) => Some(format!("no period after opening: {reason}")),
        }
    }
}

/// A date of best use as the label gives it: Regulation (EC) No 1223/2009, Article 19(1)(c), month
/// and year, or day, month and year. It is never a later day than the one stated.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum BestBefore {
    /// The end of a month, such as 05/2027.
    EndOf(String),
    /// A day, such as 15/05/2027.
    Day(String),
}

impl BestBefore {
    /// How a day is given.
    pub fn of(date: Date) -> Self {
        let (month, year) = (date.month(), date.year());
        if date == date.last_of_month() {
            Self::EndOf(format!("{month:02}/{year:04}"))
        } else {
            Self::Day(format!("{:02}/{month:02}/{year:04}", date.day()))
        }
    }
}

/// An ingredient that the maker leaves off the list, and why.
#[derive(Clone, Debug)]
pub struct LeftOut {
    /// INCI name.
    pub inci: Inci,
    /// The reason, kept with the formula.
    pub reason: Arc<str>,
}

equal_as_spelt!(LeftOut: names inci; rest reason);

/// What the maker states for the label.
#[derive(Clone, Debug)]
pub struct LabelInfo {
    /// Name on the label; the formula's name if empty.
    pub product_name: Arc<str>,
    /// What it is for, in words, if the presentation does not make it clear.
    pub function: Arc<str>,
    /// How to use it.
    pub directions: Arc<str>,
    /// Name and address of the responsible person (EU, UK) or of the manufacturer,
    /// packer or distributor (US).
    pub responsible_person: Arc<str>,
    /// The responsible person in the United Kingdom, where it is another; empty if it is not.
    pub responsible_person_uk: Arc<str>,
    /// The manufacturer, packer or distributor named in the United States, where it is another;
    /// empty if it is not.
    pub made_by_us: Arc<str>,
    /// US address, telephone or electronic contact for reports of adverse events.
    pub us_contact: Arc<str>,
    /// Country of origin.
    pub country: Arc<str>,
    /// Net contents of one pack.
    pub net_contents: Option<NetContents>,
    /// How long it keeps.
    pub durability: Durability,
    /// Batch code, or where on the pack it stands.
    pub batch_code: Arc<str>,
    /// The maker's own cautions.
    pub cautions: Vec<Arc<str>>,
    /// Ingredients of at most 1 % in the order the maker wants, by INCI name; those
    /// not named follow by weight.
    pub low_order: Vec<Inci>,
    /// Ingredients left off as incidental.
    pub left_out: Vec<LeftOut>,
    /// Colorants that may be in other shades of the range, by INCI name.
    pub may_contain: Vec<Inci>,
    /// Lists perfumes and essential oils under the one name for perfume.
    pub oils_as_perfume: bool,
    /// Lists acids and bases as the salts they form in the product.
    pub reaction_products: bool,
    /// Width of the label, mm.
    pub width_mm: f64,
    /// Height of the label, mm.
    pub height_mm: f64,
    /// Height of the small letter x of the text, mm.
    pub x_height_mm: f64,
    /// Area of the main panel, cm², which sets the type size of net contents in the US.
    pub panel_area_cm2: Option<f64>,
    /// Total surface of the pack that can bear labelling, cm².
    pub surface_cm2: Option<f64>,
}

equal_as_spelt!(LabelInfo: names low_order, may_contain; rest product_name, function, directions, responsible_person, responsible_person_uk, made_by_us, us_contact, country, net_contents, durability, batch_code, cautions, left_out, oils_as_perfume, reaction_products, width_mm, height_mm, x_height_mm, panel_area_cm2, surface_cm2);

impl LabelInfo {
    /// What a sheet of these labels is called: the product, and the batch if it is stated.
    pub fn run_title(&self, formula_name: &str) -> String {
        let own = self.product_name.trim();
        let product = if own.is_empty() { formula_name } else { own };
        match self.batch_code.trim() {
            "" => product.to_owned(),
            code => format!("{product}, batch {code}"),
        }
    }

    /// The same for the packs of one batch: its code stands on them, and the day before which
    /// it is best used if one is given; that takes the place of a period after opening.
    #[must_use]
    pub fn of_batch(&self, code: &str, best_before: Option<Date>) -> Self {
        let code = code.trim();
        Self {
            batch_code: if code.is_empty() {
                self.batch_code.clone()
            } else {
                code.into()
            },
            durability: best_before.map_or_else(|| self.durability.clone(), Durability::BestBefore),
            ..self.clone()
        }
    }
}

impl Default for LabelInfo {
    fn default() -> Self {
        let none: Arc<str> = "".into();
        Self {
            product_name: none.clone(),
            function: none.clone(),
            directions: none.clone(),
            responsible_person: none.clone(),
            responsible_person_uk: none.clone(),
            made_by_us: none.clone(),
            us_contact: none.clone(),
            country: none.clone(),
            net_contents: None,
            durability: Durability::Unstated,
            batch_code: none,
            cautions: Vec::new(),
            low_order: Vec::new(),
            left_out: Vec::new(),
            may_contain: Vec::new(),
            oils_as_perfume: false,
            reaction_products: false,
            width_mm: 100.0,
            height_mm: 60.0,
            x_height_mm: 1.2,
            panel_area_cm2: None,
            surface_cm2: None,
        }
    }
}
