//! How strong a solution is, as names and compositions tell: "Lye 30 %".

use std::ops::Range;

use rust_decimal::prelude::ToPrimitive as _;

use crate::amount::number;
use crate::material::{Class, Material};

/// Share of its main substance (of 1) from which a material is taken for the substance itself.
pub const NEARLY_PURE: f64 = 0.9;
/// Below this share (of 1), what a material in a carrier is called by is thinned by the carrier.
pub(super) const THIN: f64 = 0.5;
/// How far a stated strength may lie from that of a material, in percent. Our own
/// choice: as sold, strengths are rounded to whole percents.
pub(super) const SLACK: f64 = 1.0;

/// How far the purities of two nearly pure sorts of an acid or base may lie apart, in percent: 97 %
/// goes for 99 %, but 95 % does not for flakes of 90 %. Our own choice.
const PURE_SLACK: f64 = 3.0;

/// Where percentages stand in a text, with their values.
fn places(text: &str) -> Vec<(Range<usize>, f64)> {
    let bytes = text.as_bytes();
    let mut found = Vec::new();
    for (percent, sign) in text.char_indices() {
        if sign != '%' {
            continue;
        }
        let before = text.get(..percent).unwrap_or_default().trim_end();
        let start = before
            .rfind(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')))
            .map_or(0, |at| {
                at + before
                    .get(at..)
                    .and_then(|rest| rest.chars().next())
                    .map_or(1, char::len_utf8)
            });
        let number = before.get(start..).unwrap_or_default();
        // "C12-30 %" would be a part of a name.
        let within = start > 0 && bytes.get(start - 1).is_some_and(u8::is_ascii_alphanumeric);
        if let Some(value) = value_of(number)
            && !within
            && value > 0.0
            && value <= 100.0
        {
            // "50 %ig", "30 %ige".
            let behind = text.get(percent + 1..).unwrap_or_default();
            let ending: usize = behind
                .chars()
                .take_while(|c| c.is_alphabetic())
                .map(char::len_utf8)
                .sum();
            let ending = if behind.starts_with("ig") && ending <= 4 {
                ending
            } else {
                0
            };
            found.push((start..percent + 1 + ending, value));
        }
    }
    found
}

/// A number as it stands in a name.
pub(super) fn value_of(text: &str) -> Option<f64> {
    number::amount(text, None).ok()?.value.to_f64()
}

/// The strength that a name states, in percent: the last one if there are several.
pub fn stated(name: &str) -> Option<f64> {
    places(name).last().map(|(_, value)| *value)
}

/// The strength that words beside a name state, in percent: "28 % active", "as a 50 %
/// solution"; `None` where a percentage is of something else, as in "up to 1 %".
pub fn said(text: &str) -> Option<f64> {
    let of_strength = super::words_of(text)
        .iter()
        .any(|w| super::words::words().strength.contains(w));
    match places(text).as_slice() {
        [(_, percent)] if of_strength => Some(*percent),
        _ => None,
    }
}

/// A name without its percentages.
pub fn without(name: &str) -> String {
    let mut rest = name.to_owned();
    for (range, _) in places(name).into_iter().rev() {
        rest.replace_range(range, " ");
    }
    rest
}

/// Whether more water is in a material than what a pure substance draws in.
pub(super) fn is_solution(material: &Material) -> bool {
    /// Up to this share of 1, water is what a pure substance has drawn in.
    const A_LITTLE: f64 = 0.05;
    material.constituents.iter().any(|c| {
        c.class == Class::Water && c.incidental.is_none() && c.share.typical.value() > A_LITTLE
    })
}

/// Whether the name of its substance alone leaves open how strong a material is, and much hangs
/// on it: an acid or a base, by which the pH goes, a chelator, or a preservative, by whose limits
/// the law goes, that is sold diluted.
pub(super) fn is_left_open(material: &Material) -> bool {
    let Some(main) = material.main_constituent() else {
        return false;
    };
    match main.class {
        // A chelator that is sold dissolved, as phytic acid is, goes by either.
        Class::AcidBase | Class::Chelator => is_solution(material),
        Class::Preservative => {
            main.share.typical.value() < NEARLY_PURE && stated(&material.name).is_some()
        }
        _ => false,
    }
}

/// Whether a material may have a strength; `None` if nothing is known of it.
///
/// It may if its name states it, if its main substance does within its range, or if all
/// that is neither water nor salt makes it up: suppliers state either.
pub fn fits(material: &Material, percent: f64) -> Option<bool> {
    let near = |value: f64| (value - percent).abs() <= SLACK;
    let named = places(&material.name);
    if named.iter().any(|(_, value)| near(*value)) {
        return Some(true);
    }
    let main = material
        .main_constituent()
        .or_else(|| material.constituents.first());
    let Some(main) = main else {
        return if named.is_empty() { None } else { Some(false) };
    };
    let (low, high) = (main.share.low.as_percent(), main.share.high.as_percent());
    if (low..=high).contains(&percent) || near(main.share.typical.as_percent()) {
        return Some(true);
    }
    if main.share.typical.value() >= NEARLY_PURE {
        let off = (percent - main.share.typical.as_percent()).abs();
        // Of a powder with its moisture people say “100 %”; of a lye every percent counts.
        let near = main.class != Class::AcidBase || off <= PURE_SLACK;
        return Some(percent >= NEARLY_PURE * 100.0 && near);
    }
    Some(near(solids(material)))
}

/// All that is no water in a material, in percent.
fn solids(material: &Material) -> f64 {
    let dry = material.constituents.iter();
    let dry = dry.filter(|c| c.class != Class::Water);
    dry.map(|c| c.share.typical.as_percent()).sum()
}

/// What is told where a strength is that of all that is no water in a material, not of its main
/// substance nor of its name: "35 %" of a betaine of 30 % with its salt.
pub(super) fn by_solids_alone(material: &Material, percent: f64) -> Option<String> {
    let near = |value: f64| (value - percent).abs() <= SLACK;
    let main = material.main_constituent()?;
    let typical = main.share.typical.as_percent();
    let of_main = main.share.low.as_percent() <= percent && percent <= main.share.high.as_percent();
    let named = places(&material.name).iter().any(|(_, value)| near(*value));
    let alone = !of_main && !near(typical) && !named && near(solids(material));
    (alone && main.share.typical.value() < NEARLY_PURE).then(|| {
        format!(
            "it holds so much besides water, but {typical:.0} % of {}",
            main.inci
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture;

    #[test]
    fn strengths_are_read_out_of_names() {
        assert_eq!(stated("Lye solution 30 %"), Some(30.0));
        assert_eq!(stated("Betain (37,5% aktiv)"), Some(37.5));
        assert_eq!(without("Milchsäure 80 %ige"), "Milchsäure  ");
        assert_eq!(stated("Polysorbate 20"), None);
        assert_eq!(stated("Urea 140 %"), None);
        assert_eq!(said("28 % active"), Some(28.0));
        assert_eq!(said("as a 50 % solution in water"), Some(50.0));
        assert_eq!(said("up to 1 %"), None);
        assert_eq!(said("active, use at 1-5 %, 20 % at most"), None);
        assert_eq!(without("Lye 30 % solution"), "Lye   solution");
    }

    #[test]
    fn a_material_has_the_strength_of_its_name_and_of_its_substance() {
        let lye = fixture::material(
            "Lye 30 %",
            &[
                ("Sodium Hydroxide", 30.0, Class::AcidBase),
                ("Aqua", 70.0, Class::Water),
            ],
        );
        assert_eq!(fits(&lye, 30.0), Some(true));
        assert_eq!(fits(&lye, 10.0), Some(false));
        let pellets = fixture::material("Pellets", &[("Sodium Hydroxide", 98.0, Class::AcidBase)]);
        assert_eq!(fits(&pellets, 99.0), Some(true));
        let flakes = fixture::material(
            "Flakes 90 %",
            &[("Potassium Hydroxide", 90.0, Class::AcidBase)],
        );
        assert_eq!(fits(&flakes, 90.0), Some(true));
        assert_eq!(fits(&flakes, 95.0), Some(false));
        assert_eq!(fits(&pellets, 30.0), Some(false));
    }
}
