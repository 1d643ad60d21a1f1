//! Acids and bases listed as the salts they form, if the maker chooses so.
//!
//! The law lists ingredients as they were added. Some makers list what is in the
//! product instead, for example a carbomer and its base as the neutralised carbomer.
//! Each base is used up on the strongest acid first; what is left of either stays on
//! the list. It is stoichiometry on paper: the pH says how far the reaction goes.

use std::sync::OnceLock;

use super::draft::Draft;
use crate::chemistry::soap::{ReactionProduct, Soap};
use crate::chemistry::substances::{self, WATER_G_PER_MOL};
use crate::inci::Inci;
use crate::inventory::inventory;
use crate::material::{Charge, Class};
use crate::notation::label_tables::{self, ReactionTable};
use crate::notation::read_error::ReadError;
use crate::quantity::{MassFraction, Spread};

fn loaded() -> &'static (ReactionTable, Option<ReadError>) {
    static TABLE: OnceLock<(ReactionTable, Option<ReadError>)> = OnceLock::new();
    TABLE.get_or_init(|| {
        let text = include_str!("../../../../assets/label/reactions.ron");
        match label_tables::read_reactions(text, "assets/label/reactions.ron") {
            Ok(table) => (table, None),
            Err(error) => (ReactionTable::default(), Some(error)),
        }
    })
}

/// Why the table could not be read; `None` unless the program was built with a damaged
/// one.
pub fn fault() -> Option<&'static ReadError> {
    loaded().1.as_ref()
}

/// Molar mass of an acid or base, g/mol: of the table of substances, else its own. The mass of
/// a proton less that of an electron is neglected: a salt weighs what acid and base weigh, less
/// one water for each proton taken by a hydroxide.
fn molar_mass(inci: &str, own: Option<f64>) -> Option<f64> {
    substances::find(inci, None).map(|s| s.molar_mass).or(own)
}

/// Less than this is left of nothing.
const NOTHING: f64 = 1e-9;

/// Replaces acids and bases by their salts. Returns a sentence for each pair.
pub(super) fn react(drafts: &mut Vec<Draft>) -> Vec<String> {
    let table = &loaded().0;
    let mut said = Vec::new();
    for base in &table.bases {
        for acid in &table.acids {
            let share_of = |drafts: &[Draft], inci: &str| {
                drafts
                    .iter()
                    .find(|d| d.inci.is(inci))
                    .map_or(0.0, |d| d.share.typical.value())
            };
            let masses = (
                molar_mass(&base.inci, base.molar_mass),
                molar_mass(&acid.inci, acid.molar_mass),
            );
            let (Some(base_mass), Some(acid_mass)) = masses else {
                continue;
            };
            let base_moles = share_of(drafts, &base.inci) / base_mass;
            let protons = share_of(drafts, &acid.inci) / acid_mass * f64::from(acid.protons);
            let reacted = base_moles.min(protons);
            if reacted * base_mass <= NOTHING {
                continue;
            }
            let salt = base.salt.replace("{}", &acid.anion);
            let Some(entry) = inventory().by_name(&salt) else {
                continue;
            };
            let hydroxide = base.inci.ends_with("Hydroxide");
            let acid_used = reacted / f64::from(acid.protons) * acid_mass;
            let base_used = reacted * base_mass;
            let water = if hydroxide {
                reacted * WATER_G_PER_MOL
            } else {
                0.0
            };
            let lines: Vec<_> = drafts
                .iter()
                .filter(|d| d.inci.is(&acid.inci) || d.inci.is(&base.inci))
                .flat_map(|d| d.lines.clone())
                .collect();
            use_up(drafts, &acid.inci, acid_used);
            use_up(drafts, &base.inci, base_used);
            let formed = MassFraction::new(acid_used + base_used - water);
            said.push(format!(
                "{} and {} are listed as {}, {:.3} %, as if they reacted completely",
                acid.inci,
                base.inci,
                entry.label_name(),
                formed.as_percent()
            ));
            add(
                drafts,
                Draft {
                    inci: salt_name(drafts, &entry.label_name()),
                    class: Class::AcidBase,
                    share: Spread::exact(formed),
                    most: formed,
                    lines,
                },
            );
            if water > 0.0 {
                add(
                    drafts,
                    Draft {
                        inci: "Aqua".into(),
                        class: Class::Water,
                        share: Spread::exact(MassFraction::new(water)),
                        most: MassFraction::new(water),
                        lines: Vec::new(),
                    },
                );
            }
        }
    }
    drafts.retain(|d| d.share.high.value() > NOTHING / 100.0);
    said
}

/// Replaces fats and lye by the soap they form and the glycerin they free, as estimated.
/// Returns a sentence on it.
pub(super) fn saponify(drafts: &mut Vec<Draft>, soap: &Soap) -> String {
    let lye = ["Sodium Hydroxide", "Potassium Hydroxide"];
    let is_fat = |d: &Draft, inci: &str| d.inci.is(inci);
    let charged = |d: &Draft| {
        lye.iter().any(|l| is_fat(d, l)) || soap.fats.iter().any(|f| is_fat(d, f.inci.spelling()))
    };
    let (gone, mut left): (Vec<Draft>, Vec<Draft>) =
        std::mem::take(drafts).into_iter().partition(charged);
    let mut nameless = Vec::new();
    for part in &soap.after {
        let share = MassFraction::from_percent(part.percent);
        if part.product == ReactionProduct::Soap
            && inventory().by_name(part.inci.spelling()).is_none()
        {
            nameless.push(part.inci.to_string());
        }
        let fat = part
            .from
            .as_ref()
            .and_then(|f| gone.iter().find(|d| is_fat(d, f.spelling())));
        add(
            &mut left,
            Draft {
                inci: part.inci.clone(),
                class: match part.product {
                    ReactionProduct::Soap => Class::Surfactant(Charge::Anionic),
                    ReactionProduct::Unreacted => Class::Oil,
                    ReactionProduct::Glycerin => Class::Humectant,
                    ReactionProduct::Water => Class::Water,
                    ReactionProduct::FreeAlkali => Class::AcidBase,
                },
                share: Spread::exact(share),
                most: share,
                lines: fat.map_or_else(|| soap.lines.clone(), |d| d.lines.clone()),
            },
        );
    }
    *drafts = left;
    let mut said = "Fats and lye are listed as the soap, glycerin and unreacted fat that they make, as estimated from saponification values".to_owned();
    if !nameless.is_empty() {
        said.push_str("; no name of the European inventory is known here for ");
        said.push_str(&nameless.join(", "));
    }
    said
}

/// The name under which the salt is already listed, or its own.
fn salt_name(drafts: &[Draft], name: &str) -> Inci {
    drafts
        .iter()
        .find(|d| d.inci.is(name))
        .map_or_else(|| name.into(), |d| d.inci.clone())
}

fn use_up(drafts: &mut [Draft], inci: &str, used: f64) {
    if let Some(draft) = drafts.iter_mut().find(|d| d.inci.is(inci)) {
        let less = |share: MassFraction| MassFraction::new((share.value() - used).max(0.0));
        draft.share = Spread {
            low: less(draft.share.low),
            typical: less(draft.share.typical),
            high: less(draft.share.high),
        };
    }
}

fn add(drafts: &mut Vec<Draft>, new: Draft) {
    match drafts.iter_mut().find(|d| d.inci.same_as(&new.inci)) {
        Some(draft) => {
            draft.share += new.share;
            for line in new.lines {
                if !draft.lines.contains(&line) {
                    draft.lines.push(line);
                }
            }
        }
        None => drafts.push(new),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn draft(inci: &str, percent: f64) -> Draft {
        Draft {
            inci: inci.into(),
            class: Class::AcidBase,
            share: Spread::exact(MassFraction::from_percent(percent)),
            most: MassFraction::from_percent(percent),
            lines: Vec::new(),
        }
    }

    #[test]
    fn the_table_is_read() {
        assert_eq!(fault(), None);
        for acid in &loaded().0.acids {
            assert!(
                inventory().by_name(&acid.inci).is_some(),
                "{} is not an INCI name",
                acid.inci
            );
        }
    }

    #[test]
    fn stearic_acid_and_triethanolamine_make_a_soap() {
        // 1 mol of each, 284.484 g and 149.188 g, make 433.672 g of the soap: arithmetic.
        let mut drafts = vec![
            draft("Stearic Acid", 2.84484),
            draft("Triethanolamine", 1.49188),
        ];
        assert_eq!(react(&mut drafts).len(), 1);
        assert_eq!(drafts.len(), 1);
        assert_eq!(drafts[0].inci.spelling(), "TEA-Stearate");
        assert!((drafts[0].share.typical.as_percent() - 4.33672).abs() < 1e-9);
    }

    #[test]
    fn soap_made_in_the_pot_is_listed_as_charged_or_as_soap() {
        use std::sync::Arc;

        use crate::{evaluation, fixture, formula::Market, shelf};

        let material = |name: &str| {
            let found = shelf::built_in().iter().find(|m| &*m.name == name);
            found.unwrap().clone()
        };
        let mut f = fixture::formula(vec![
            fixture::line(&material("Olive oil"), "65"),
            fixture::line(&material("Sodium hydroxide pellets"), "8.4"),
            fixture::line(&material("Water, demineralised"), "26.6"),
        ]);
        let listed = |f: &crate::formula::Formula| {
            let context = evaluation::Context::new(jiff::civil::date(2026, 11, 25));
            let found = evaluation::evaluate(f, f.active(), &context);
            super::super::ingredients::list(f.active(), &found, Market::Eu)
        };
        let charged = listed(&f);
        assert!(
            charged.text().contains("Sodium Hydroxide"),
            "{}",
            charged.text()
        );
        let mut variant = f.active().as_ref().clone();
        let label = crate::label_info::LabelInfo {
            reaction_products: true,
            ..Default::default()
        };
        variant.label = Arc::new(label);
        f.variants = vec![Arc::new(variant)];
        let soap = listed(&f);
        // 65 % of 193 mg/g take 8.94 % sodium hydroxide: 8.4 % leave fat, and no lye.
        let text = soap.text();
        for name in [
            "Sodium Olivate",
            "Glycerin",
            "Olea Europaea Fruit Oil",
            "Aqua",
        ] {
            assert!(text.contains(name), "{name}: {text}");
        }
        assert!(!text.contains("Hydroxide"), "{text}");
        let sum: f64 = soap
            .ingredients
            .iter()
            .map(|i| i.share.typical.as_percent())
            .sum();
        assert!((sum - 100.0).abs() < 0.2, "{sum}");
    }

    /// A molar mass stands in one place.
    #[test]
    fn every_molar_mass_is_known_once() {
        let table = &loaded().0;
        let acids = table.acids.iter().map(|a| (&a.inci, a.molar_mass));
        let bases = table.bases.iter().map(|b| (&b.inci, b.molar_mass));
        for (inci, own) in acids.chain(bases) {
            let known = substances::find(inci, None).is_some();
            assert_eq!(known, own.is_none(), "{inci}");
        }
    }

    #[test]
    fn what_is_left_of_an_acid_stays() {
        // 0.4 % sodium hydroxide is 0.1 mol (of 39.997 g) in a kilogram; citric acid gives three
        // protons for 192.124 g, so 0.64046 % of 1 % reacts and 0.18017 % water forms.
        let (acid, water) = (0.4 / 39.997 * 192.124 / 3.0, 0.4 / 39.997 * 18.01528);
        let mut drafts = vec![draft("Citric Acid", 1.0), draft("Sodium Hydroxide", 0.4)];
        react(&mut drafts);
        let share = |name: &str| {
            drafts
                .iter()
                .find(|d| d.inci.is(name))
                .map(|d| d.share.typical.as_percent())
        };
        assert!((share("Citric Acid").unwrap() - (1.0 - acid)).abs() < 1e-9);
        assert!((share("Sodium Citrate").unwrap() - (acid + 0.4 - water)).abs() < 1e-9);
        assert!((share("Aqua").unwrap() - water).abs() < 1e-9);
        assert_eq!(share("Sodium Hydroxide"), None);
    }
}
