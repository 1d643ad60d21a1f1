//! What differs in what is stated for the label, field by field, in words.

use std::sync::Arc;

use jiff::civil::Date;

use crate::amount::measure::tidy;
use crate::inci::Inci;
use crate::label_info::{Durability, LabelInfo, LeftOut, NetContents};
use crate::quantity::{in_grams, in_millilitres};

/// Every field that differs, with what stood in it before and after.
pub(super) fn words(before: &LabelInfo, after: &LabelInfo) -> String {
    // Taken apart so that a new field does not compile until it is told here.
    let LabelInfo {
        product_name: _,
        function: _,
        directions: _,
        responsible_person: _,
        responsible_person_uk: _,
        made_by_us: _,
        us_contact: _,
        country: _,
        net_contents: _,
        durability: _,
        batch_code: _,
        cautions,
        low_order: _,
        left_out: _,
        may_contain: _,
        oils_as_perfume: _,
        reaction_products: _,
        width_mm: _,
        height_mm: _,
        x_height_mm: _,
        panel_area_cm2: _,
        surface_cm2: _,
    } = before;
    let mut parts = Vec::new();
    let mut both = |what: &str, said: &dyn Fn(&LabelInfo) -> String| {
        let (a, b) = (said(before), said(after));
        if a != b {
            parts.push(format!("{what} {a} → {b}"));
        }
    };
    both("name", &|l| quoted(&l.product_name));
    both("function", &|l| quoted(&l.function));
    both("directions", &|l| quoted(&l.directions));
    both("responsible person", &|l| quoted(&l.responsible_person));
    both("responsible person in the UK", &|l| {
        quoted(&l.responsible_person_uk)
    });
    both("made, packed or distributed in the US by", &|l| {
        quoted(&l.made_by_us)
    });
    both("US contact", &|l| quoted(&l.us_contact));
    both("country of origin", &|l| quoted(&l.country));
    both("net contents", &|l| net(l.net_contents));
    both("how long it keeps", &|l| keeps(&l.durability));
    both("batch code", &|l| quoted(&l.batch_code));
    both("order of ingredients up to 1 %", &|l| names(&l.low_order));
    both("ingredients left out", &|l| left_out(&l.left_out));
    both("may contain", &|l| names(&l.may_contain));
    both("oils listed as perfume", &|l| yes(l.oils_as_perfume));
    both("salts as they form in the product", &|l| {
        yes(l.reaction_products)
    });
    both("width", &|l| millimetres(l.width_mm));
    both("height", &|l| millimetres(l.height_mm));
    both("height of the letter x", &|l| millimetres(l.x_height_mm));
    both("area of the main panel", &|l| area(l.panel_area_cm2));
    both("surface of the pack", &|l| area(l.surface_cm2));
    parts.extend(caution_words(cautions, &after.cautions));
    parts.join("; ")
}

/// Cautions that came, went or stand in another order.
fn caution_words(before: &[Arc<str>], after: &[Arc<str>]) -> Vec<String> {
    let gone = before.iter().filter(|c| !after.contains(c));
    let new = after.iter().filter(|c| !before.contains(c));
    let mut told: Vec<String> = gone.map(|c| format!("caution “{c}” removed")).collect();
    told.extend(new.map(|c| format!("caution “{c}” added")));
    if told.is_empty() && before != after {
        told.push("cautions in another order".to_owned());
    }
    told
}

fn stated(text: String) -> String {
    if text.is_empty() {
        "not stated".to_owned()
    } else {
        text
    }
}

fn quoted(text: &str) -> String {
    if text.is_empty() {
        stated(String::new())
    } else {
        format!("“{text}”")
    }
}

/// As stated, not as a market prints it, which may cut what differs.
fn net(net: Option<NetContents>) -> String {
    match net {
        None => stated(String::new()),
        Some(NetContents::Mass(mass)) => format!("{} g", tidy(in_grams(mass), 6)),
        Some(NetContents::Volume(volume)) => format!("{} ml", tidy(in_millilitres(volume), 6)),
        Some(NetContents::Pieces(1)) => "1 piece".to_owned(),
        Some(NetContents::Pieces(pieces)) => format!("{pieces} pieces"),
    }
}

/// To the day, which the label does not print.
fn keeps(durability: &Durability) -> String {
    match durability {
        Durability::BestBefore(date) => format!("best used before the end of {}", day(*date)),
        other => stated(other.words().unwrap_or_default()),
    }
}

fn day(date: Date) -> String {
    date.to_string()
}

fn names(list: &[Inci]) -> String {
    let list: Vec<String> = list.iter().map(Inci::to_string).collect();
    stated(list.join(", "))
}

fn left_out(list: &[LeftOut]) -> String {
    let one = |l: &LeftOut| format!("{} (“{}”)", l.inci, l.reason);
    let list: Vec<String> = list.iter().map(one).collect();
    stated(list.join(", "))
}

fn yes(flag: bool) -> String {
    if flag { "yes" } else { "no" }.to_owned()
}

fn millimetres(value: f64) -> String {
    format!("{} mm", tidy(value, 6))
}

fn area(value: Option<f64>) -> String {
    stated(value.map_or_else(String::new, |v| format!("{} cm²", tidy(v, 6))))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::grams;

    #[test]
    fn every_field_of_a_label_is_told_with_before_and_after() {
        let before = LabelInfo {
            net_contents: Some(NetContents::Mass(grams(60.0))),
            durability: Durability::AfterOpening(12),
            cautions: vec!["Keep dry.".into()],
            ..LabelInfo::default()
        };
        let after = LabelInfo {
            net_contents: Some(NetContents::Mass(grams(75.0))),
            durability: Durability::AfterOpening(24),
            cautions: vec!["Keep dry.".into(), "Keep out of the eyes.".into()],
            low_order: vec!["Parfum".into()],
            panel_area_cm2: Some(40.0),
            ..LabelInfo::default()
        };
        let told = words(&before, &after);
        for part in [
            "net contents 60 g → 75 g",
            "12 months after opening → more than 30 months unopened, 24 months after opening",
            "caution “Keep out of the eyes.” added",
            "order of ingredients up to 1 % not stated → Parfum",
            "area of the main panel not stated → 40 cm²",
        ] {
            assert!(told.contains(part), "{part}: {told}");
        }
        assert_eq!(words(&before, &before), "");
    }
}
