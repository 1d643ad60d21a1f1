//! What a formula file says about the label.

use serde::{Deserialize, Serialize};

use super::number::{self, Within};
use crate::formula::Date;
use crate::label_info::{Durability, LabelInfo, LeftOut, NetContents};
use crate::quantity;

/// What the maker states for the label, as written in a file; what is left out has
/// its usual value.
#[derive(Clone, PartialEq, Debug, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct LabelEntry {
    #[serde(skip_serializing_if = "String::is_empty")]
    product_name: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    function: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    directions: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    responsible_person: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    responsible_person_uk: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    made_by_us: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    us_contact: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    country: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    net_contents: Option<NetContentsEntry>,
    #[serde(skip_serializing_if = "Option::is_none")]
    durability: Option<DurabilityEntry>,
    #[serde(skip_serializing_if = "String::is_empty")]
    batch_code: String,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    cautions: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    low_order: Vec<String>,
    /// INCI name and reason.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    left_out: Vec<(String, String)>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    may_contain: Vec<String>,
    #[serde(skip_serializing_if = "is_false")]
    oils_as_perfume: bool,
    #[serde(skip_serializing_if = "is_false")]
    reaction_products: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    width_mm: Option<Within<1, 2000>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    height_mm: Option<Within<1, 2000>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    x_height_mm: Option<Within<0, 50>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    panel_area_cm2: Option<Within<0, 100_000>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    surface_cm2: Option<Within<0, 100_000>>,
}

/// How much a pack holds.
#[derive(Clone, Copy, PartialEq, Debug, Serialize, Deserialize)]
enum NetContentsEntry {
    Grams(Within<0, 1_000_000>),
    Millilitres(Within<0, 1_000_000>),
    Pieces(u32),
}

/// How long the product keeps.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
enum DurabilityEntry {
    MonthsAfterOpening(u32),
    BestBefore(Date),
    NotNeeded(String),
}

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde calls it with a reference"
)]
fn is_false(value: &bool) -> bool {
    !value
}

impl LabelEntry {
    /// Whether nothing is stated.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

fn texts<T: ToString>(items: &[T]) -> Vec<String> {
    items.iter().map(ToString::to_string).collect()
}

impl From<&LabelInfo> for LabelEntry {
    fn from(info: &LabelInfo) -> Self {
        let LabelInfo {
            product_name,
            function,
            directions,
            responsible_person,
            responsible_person_uk,
            made_by_us,
            us_contact,
            country,
            net_contents,
            durability,
            batch_code,
            cautions,
            low_order,
            left_out,
            may_contain,
            oils_as_perfume,
            reaction_products,
            width_mm,
            height_mm,
            x_height_mm,
            panel_area_cm2,
            surface_cm2,
        } = info;
        let usual = LabelInfo::default();
        Self {
            product_name: product_name.to_string(),
            function: function.to_string(),
            directions: directions.to_string(),
            responsible_person: responsible_person.to_string(),
            responsible_person_uk: responsible_person_uk.to_string(),
            made_by_us: made_by_us.to_string(),
            us_contact: us_contact.to_string(),
            country: country.to_string(),
            net_contents: net_contents.map(|net| match net {
                NetContents::Mass(mass) => {
                    let guess = quantity::in_grams(mass);
                    let exact = number::shortest(mass.value, guess, |g| quantity::grams(g).value);
                    NetContentsEntry::Grams(Within(exact.unwrap_or(guess)))
                }
                NetContents::Volume(volume) => {
                    let guess = quantity::in_millilitres(volume);
                    let exact =
                        number::shortest(volume.value, guess, |v| quantity::millilitres(v).value);
                    NetContentsEntry::Millilitres(Within(exact.unwrap_or(guess)))
                }
                NetContents::Pieces(count) => NetContentsEntry::Pieces(count),
            }),
            durability: match durability {
                Durability::Unstated => None,
                Durability::AfterOpening(months) => {
                    Some(DurabilityEntry::MonthsAfterOpening(*months))
                }
                Durability::BestBefore(date) => Some(DurabilityEntry::BestBefore(*date)),
                Durability::NotNeeded(reason) => {
                    Some(DurabilityEntry::NotNeeded(reason.to_string()))
                }
            },
            batch_code: batch_code.to_string(),
            cautions: texts(cautions),
            low_order: texts(low_order),
            left_out: left_out
                .iter()
                .map(|l| (l.inci.to_string(), l.reason.to_string()))
                .collect(),
            may_contain: texts(may_contain),
            oils_as_perfume: *oils_as_perfume,
            reaction_products: *reaction_products,
            width_mm: (*width_mm != usual.width_mm).then_some(Within(*width_mm)),
            height_mm: (*height_mm != usual.height_mm).then_some(Within(*height_mm)),
            x_height_mm: (*x_height_mm != usual.x_height_mm).then_some(Within(*x_height_mm)),
            panel_area_cm2: panel_area_cm2.map(Within),
            surface_cm2: surface_cm2.map(Within),
        }
    }
}

impl From<LabelEntry> for LabelInfo {
    fn from(entry: LabelEntry) -> Self {
        let usual = Self::default();
        fn read<T: From<String>>(texts: Vec<String>) -> Vec<T> {
            texts.into_iter().map(Into::into).collect()
        }
        Self {
            product_name: entry.product_name.into(),
            function: entry.function.into(),
            directions: entry.directions.into(),
            responsible_person: entry.responsible_person.into(),
            responsible_person_uk: entry.responsible_person_uk.into(),
            made_by_us: entry.made_by_us.into(),
            us_contact: entry.us_contact.into(),
            country: entry.country.into(),
            net_contents: entry.net_contents.map(|net| match net {
                NetContentsEntry::Grams(g) => NetContents::Mass(quantity::grams(g.0)),
                NetContentsEntry::Millilitres(v) => NetContents::Volume(quantity::millilitres(v.0)),
                NetContentsEntry::Pieces(count) => NetContents::Pieces(count),
            }),
            durability: match entry.durability {
                None => Durability::Unstated,
                Some(DurabilityEntry::MonthsAfterOpening(months)) => {
                    Durability::AfterOpening(months)
                }
                Some(DurabilityEntry::BestBefore(date)) => Durability::BestBefore(date),
                Some(DurabilityEntry::NotNeeded(reason)) => Durability::NotNeeded(reason.into()),
            },
            batch_code: entry.batch_code.into(),
            cautions: read(entry.cautions),
            low_order: read(entry.low_order),
            left_out: entry
                .left_out
                .into_iter()
                .map(|(inci, reason)| LeftOut {
                    inci: inci.into(),
                    reason: reason.into(),
                })
                .collect(),
            may_contain: read(entry.may_contain),
            oils_as_perfume: entry.oils_as_perfume,
            reaction_products: entry.reaction_products,
            width_mm: entry.width_mm.map_or(usual.width_mm, |n| n.0),
            height_mm: entry.height_mm.map_or(usual.height_mm, |n| n.0),
            x_height_mm: entry.x_height_mm.map_or(usual.x_height_mm, |n| n.0),
            panel_area_cm2: entry.panel_area_cm2.map(|n| n.0),
            surface_cm2: entry.surface_cm2.map(|n| n.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_reads_back_the_same() {
        let usual = LabelInfo::default();
        assert!(LabelEntry::from(&usual).is_empty());
        assert_eq!(LabelInfo::from(LabelEntry::default()), usual);
        let full = LabelInfo {
            product_name: "Moss conditioner".into(),
            function: "hair conditioner".into(),
            directions: "work in, rinse".into(),
            responsible_person: "Larkmoor Studio\nOld Dairy".into(),
            responsible_person_uk: "Larkmoor Agents".into(),
            made_by_us: "Larkmoor Imports".into(),
            us_contact: "+1 555 0100".into(),
            country: "UK".into(),
            net_contents: Some(NetContents::Volume(quantity::millilitres(236.6))),
            durability: Durability::BestBefore(Date::constant(2027, 3, 31)),
            batch_code: "see base".into(),
            cautions: vec!["Keep out of eyes".into()],
            low_order: vec!["Parfum".into()],
            left_out: vec![LeftOut {
                inci: "Sodium Sulfate".into(),
                reason: "left from making the surfactant".into(),
            }],
            may_contain: vec!["CI 77491".into()],
            oils_as_perfume: true,
            reaction_products: true,
            width_mm: 70.5,
            height_mm: 40.0,
            x_height_mm: 0.9,
            panel_area_cm2: Some(31.0),
            surface_cm2: Some(90.0),
        };
        let text = ron::to_string(&LabelEntry::from(&full)).unwrap();
        let entry: LabelEntry = ron::from_str(&text).unwrap();
        assert_eq!(LabelInfo::from(entry), full);
    }
}
