//! What does not go together: one engine over the table `assets/rules/compatibility.ron`.
//!
//! The table names groups of substances, by words of their ingredient names, class, role or
//! charge, and rules on groups: what must be there, what must be missing, and under which
//! conditions. It also holds what dissolves in water, pH windows of groups, flash points of
//! alcohol with water, and what a form of product is made of.

mod flash;
mod forms;
mod soluble;
mod table;

use std::sync::Arc;

pub use self::flash::FLAMMABLE;
pub(in crate::rules::practice) use self::table::{Form, Table, table};
use self::table::{Group, Holds, RemedyName, Rule};
use super::rule::Words;
use super::{LineWithMaterial, Scene};
use crate::finding::{Finding, Remedy};
use crate::formula::{BodySite, ItemId};
use crate::material::{Class, Material, ProductKind};
use crate::quantity::in_celsius;
use crate::word_groups::Groups;

/// Grams of a substance that dissolve in 100 g of water at 20 to 25 °C, an acid as far as it is
/// uncharged; none where the table does not know.
pub fn grams_in_100_g_of_water(inci: &str) -> Option<f64> {
    table().as_ref().ok()?.solubility(inci)
}

/// How much of each group there is, and in which lines.
pub(in crate::rules::practice) struct Present(Vec<OfGroup>);

#[derive(Clone, Default)]
struct OfGroup {
    percent: f64,
    lines: Vec<usize>,
}

impl Present {
    /// Nothing yet, of the groups of a table.
    pub(in crate::rules::practice) fn new(table: &Table) -> Self {
        Self(vec![OfGroup::default(); table.count])
    }

    fn percent(&self, group: Group) -> f64 {
        self.0.get(group).map_or(0.0, |of| of.percent)
    }
    fn lines(&self, group: Group) -> &[usize] {
        self.0.get(group).map_or(&[], |of| of.lines.as_slice())
    }

    /// Counts in so much of a material at a line; returns the groups of the material and of
    /// what is a good part of it.
    pub(in crate::rules::practice) fn add(
        &mut self,
        at: usize,
        material: &Arc<Material>,
        percent: f64,
        table: &Table,
    ) -> Groups {
        table.members(material, |members| {
            self.count(at, members.whole, percent);
            for (c, &(all, share)) in material.constituents.iter().zip(&members.each) {
                // What is in the whole already is not counted twice.
                let mut groups = all.without(members.whole);
                if c.incidental.is_some() {
                    // A component of an oil dissolves with it, not by itself.
                    groups = groups.without(table.all_soluble);
                }
                self.count(at, groups, percent * share);
            }
            members.with_good_parts
        })
    }

    fn count(&mut self, at: usize, groups: Groups, percent: f64) {
        for group in groups.iter() {
            if let Some(of) = self.0.get_mut(group) {
                of.percent += percent;
                if of.lines.last() != Some(&at) {
                    of.lines.push(at);
                }
            }
        }
    }
}

/// The highest temperature at which the phase of a line is worked, °C, if any is told.
fn hottest(l: &LineWithMaterial<'_>) -> Option<f64> {
    l.phase.hottest_of_lines().map(in_celsius)
}

impl<'a> Scene<'a> {
    fn at<'s>(&'s self, places: &'s [usize]) -> impl Iterator<Item = &'s LineWithMaterial<'a>> {
        places.iter().filter_map(|&at| self.laid.get(at))
    }

    /// Everything the table has to say.
    pub(in crate::rules::practice) fn compatibility(&mut self) {
        let mut found = Vec::new();
        for rule in &self.table.rules {
            found.extend(self.judge(rule));
        }
        for soluble in &self.table.soluble {
            found.extend(self.dissolves(soluble));
        }
        found.extend(self.flash_point());
        self.findings.append(&mut found);
    }

    fn judge(&self, rule: &Rule) -> Option<Finding> {
        let present = &self.present;
        let amount = present.percent(rule.on);
        if amount <= 0.0 || amount < rule.on_at_least {
            return None;
        }
        let mut on: Vec<usize> = present.lines(rule.on).to_vec();
        let mut with: Vec<usize> = Vec::new();
        if let Some(group) = rule.with {
            with = present.lines(group).to_vec();
            if with.is_empty() {
                return None;
            }
        }
        for condition in &rule.when {
            if !self.holds(condition, &mut on) {
                return None;
            }
        }
        if on.is_empty() {
            return None;
        }
        let (name, what) = (super::names(self.at(&on)), super::names(self.at(&with)));
        let ions = rule.when.iter().any(|c| matches!(c, Holds::IonsAbove(_)));
        let salt = if ions { self.ions() } else { self.salt() };
        let words = Words {
            name: &name,
            what: &what,
            value: &format!("{salt:.1}"),
            limit: &self.ph.words(),
            ..Words::default()
        };
        let mut lines: Vec<ItemId> = self.at(&on).map(|l| l.line.id).collect();
        for l in self.at(&with) {
            if !lines.contains(&l.line.id) {
                lines.push(l.line.id);
            }
        }
        let finding = Finding::new(
            rule.level,
            rule.id.clone(),
            rule.message.fill(&words),
            rule.source.clone(),
        )
        .about(rule.matter.clone());
        let finding = match rule.remedy {
            Some(RemedyName::Add(role)) => {
                finding.remedy(Remedy::AddMaterial { role: role.into() })
            }
            Some(RemedyName::Swap) => match lines.first() {
                Some(&line) => finding.remedy(Remedy::SwapMaterial { line }),
                None => finding,
            },
            Some(RemedyName::StatePh) => finding.remedy(self.ph.remedy()),
            None => finding,
        };
        Some(finding.on(lines))
    }

    fn salt(&self) -> f64 {
        let figure = &self.of.estimates.electrolyte.nacl_percent;
        figure.value.unwrap_or(0.0)
    }

    /// Salt and the salts of organic acids; the lye that neutralises a thickener is none.
    fn ions(&self) -> f64 {
        self.salt() + self.of.estimates.electrolyte.organic_added_percent
    }

    fn holds(&self, condition: &Holds, on: &mut Vec<usize>) -> bool {
        let present = &self.present;
        let water = || self.of.composition.water().typical.as_percent();
        match *condition {
            Holds::AtLeast(group, x) => present.percent(group) >= x,
            Holds::Without(group) => present.lines(group).is_empty(),
            Holds::LessThanTimes(a, x, b) => present.percent(a) < x * present.percent(b),
            Holds::WaterAbove(x) => water() > x,
            Holds::SaltAbove(x) => self.salt() > x,
            Holds::IonsAbove(x) => self.ions() > x,
            Holds::PhBelow(x) => self.ph.is_below(x),
            Holds::PhAbove(x) => self.ph.is_above(x),
            Holds::PhNotSurelyAbove(x) => !self.ph.is_above(x),
            Holds::AtEye => self.of.variant.product.places.contains(&BodySite::EyeArea),
            Holds::LeftOn => self.of.variant.product.kinds.contains(ProductKind::LeaveOn),
            Holds::HotterThan(x) => {
                on.retain(|&at| {
                    self.laid
                        .get(at)
                        .is_some_and(|l| hottest(l).is_some_and(|t| t > x))
                });
                !on.is_empty()
            }
            Holds::HotterThanOrMelting(x, group) => {
                let melting = present.lines(group);
                on.retain(|&at| {
                    self.laid.get(at).is_some_and(|l| {
                        let told = hottest(l);
                        let shares_its_phase = |m: &usize| {
                            (self.laid.get(*m)).is_some_and(|m| m.phase.id == l.phase.id)
                        };
                        told.map_or_else(|| melting.iter().any(shares_its_phase), |t| t > x)
                    })
                });
                !on.is_empty()
            }
            Holds::BesideItsForm => {
                on.retain(|&at| {
                    let line = self.laid.get(at);
                    line.is_some_and(|l| !self.is_what_it_is_made_of(l))
                });
                !on.is_empty()
            }
            Holds::WithinUsual => self
                .at(on)
                .all(|l| l.range.is_none_or(|r| self.dose(l) <= r.high)),
            Holds::WithWaterInPhase => {
                on.retain(|&at| {
                    self.laid.get(at).is_some_and(|l| {
                        self.laid.iter().any(|w| {
                            w.phase.id == l.phase.id
                                && w.material.share_of(Class::Water).value() > 0.5
                        })
                    })
                });
                !on.is_empty()
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::table::read;
    use super::*;
    use crate::fixture::material;

    #[test]
    fn the_table_reads_and_says_what_is_wrong_with_one_that_does_not() {
        assert!(table().as_ref().unwrap().rules.len() > 15);
        let unknown = "(version: 1, groups: {\"alcohol\": (), \"bound water\": ()}, rules: [(id: \"x\", level: Note, on: \"nothing\", message: \"\", basis: Practice, source: \"\")], soluble: [], windows: [], flash_points: [], forms: [])";
        assert!(read(unknown).unwrap_err().contains("“nothing”"));
        let groundless = unknown
            .replace("Note", "Breach")
            .replace("nothing", "alcohol");
        assert!(read(&groundless).unwrap_err().contains("ground"));
    }

    #[test]
    fn what_dissolves_is_within_a_tenth_of_what_was_read() {
        // Each source stands in the head of the reference table, which is in g per kg.
        let text = include_str!("../../../../../../tests/reference/chemistry/solubility.csv");
        let table = table().as_ref().unwrap();
        let mut held = 0;
        for row in text.lines().filter(|l| l.starts_with('"')) {
            let mut parts = row.split(',');
            let name = parts.next().unwrap().trim_matches('"');
            let mut figure = || parts.next().unwrap().parse::<f64>().unwrap() / 10.0;
            let (low, high) = (0.9 * figure(), 1.1 * figure());
            for soluble in table.soluble.iter().filter(|s| s.name.is(name)) {
                let grams = soluble.grams;
                assert!((low..=high).contains(&grams), "{name}: {grams}");
                assert_eq!(
                    soluble.source.basis,
                    crate::material::Basis::Published,
                    "{name}"
                );
                held += 1;
            }
        }
        assert!(held >= 15, "{held}");
    }

    /// An essential oil is one ingredient: what is known of its components neither takes from
    /// the groups it belongs to nor counts in them twice.
    #[test]
    fn an_essential_oil_counts_whole_in_its_groups() {
        let table = table().as_ref().unwrap();
        let oil = ("Citrus Limon Peel Oil", 100.0, Class::Fragrance);
        let pure = material("oil", &[oil]);
        let known = {
            let parts = [(oil.0, 30.0, oil.2), ("Limonene", 70.0, Class::Fragrance)];
            let mut known = material("oil", &parts).as_ref().clone();
            known.constituents[1].incidental = Some("component of the oil".into());
            Arc::new(known)
        };
        let mut present = [Present::new(table), Present::new(table)];
        for (present, material) in present.iter_mut().zip([&pure, &known]) {
            present.add(0, material, 10.0, table);
        }
        let [pure, known] = present.map(|p| p.0);
        let mut in_groups = 0;
        for (pure, known) in pure
            .iter()
            .zip(&known)
            .filter(|(pure, _)| pure.percent > 0.0)
        {
            in_groups += 1;
            assert!((pure.percent - 10.0).abs() < 1e-9);
            assert!((known.percent - 10.0).abs() < 1e-9, "{}", known.percent);
        }
        assert!(in_groups > 0);
    }
}
