//! What keeps the product: whether there is a preservative, whether it works at this pH, whether
//! it is where the organisms are, and what it leaves open.

use super::low_risk::WATER_ACTIVITY_BELOW;
use super::rule::{Check, Preserved, Rule, Words};
use super::{Scene, names};
use crate::chemistry::preservation::{AcidState, Whereabouts};
use crate::chemistry::solubility::g_per_kg;
use crate::chemistry::water_limits::{
    LITTLE_TO_PRESERVE_PERCENT as LITTLE_WATER, NONE_TO_PRESERVE_PERCENT as NO_WATER,
};
use crate::finding::{Finding, FindingSubject, Matter, Remedy, StatedField};
use crate::formula::{ItemId, Market};
use crate::inci::Inci;
use crate::material::{Class, Coverage, Role};

pub(super) fn matter() -> Matter {
    Matter::of("preservation")
}

impl Scene<'_> {
    /// How a product without a preservative is kept; `None` if there is one or no water.
    pub(super) fn unpreserved(&self) -> Option<Preserved> {
        let free_water = self.free_water();
        let all_water = self.of.composition.water().typical.as_percent();
        if all_water <= NO_WATER || self.preservatives().next().is_some() {
            return None;
        }
        Some(if self.low_risk().is_some() {
            Preserved::LowRisk
        } else if free_water <= NO_WATER {
            return None;
        } else if self.is_saponified() {
            if self.ph.is_measured() {
                Preserved::BySoapMeasured
            } else {
                Preserved::BySoap
            }
        } else if self.low_risk_ph().is_some() {
            Preserved::ByUnmeasuredPh
        } else if self.low_activity().is_some() {
            Preserved::ByUnmeasuredActivity
        } else if self.with_role(Role::PreservativeBooster).next().is_some() {
            Preserved::ByBoosters
        } else if free_water < LITTLE_WATER {
            Preserved::LittleWater
        } else {
            Preserved::Not
        })
    }

    pub(super) fn preserved(&mut self, rule: &Rule, how: Preserved) {
        if self.unpreserved != Some(how) {
            return;
        }
        let reason = self.low_risk().unwrap_or_default();
        let boosters: Vec<ItemId> = self
            .with_role(Role::PreservativeBooster)
            .map(|l| l.line.id)
            .collect();
        let (what, lines) = match how {
            Preserved::LowRisk => (reason, Vec::new()),
            Preserved::ByBoosters => (names(self.with_role(Role::PreservativeBooster)), boosters),
            Preserved::Not
            | Preserved::LittleWater
            | Preserved::BySoap
            | Preserved::BySoapMeasured
            | Preserved::ByUnmeasuredActivity
            | Preserved::ByUnmeasuredPh => {
                let wet = |l: &&super::LineWithMaterial<'_>| {
                    l.material.share_of(Class::Water).value() > 0.0
                };
                let lines = self.laid.iter().filter(wet).map(|l| l.line.id);
                let why = match how {
                    Preserved::ByUnmeasuredActivity => self.low_activity(),
                    Preserved::BySoapMeasured => Some(self.ph.words()),
                    _ => self.low_risk_ph(),
                };
                (why.unwrap_or_default(), lines.collect())
            }
        };
        let words = Words {
            value: &format!("{:.1}", self.free_water()),
            limit: &WATER_ACTIVITY_BELOW.to_string(),
            what: &what,
            ..Words::default()
        };
        let finding = Self::finding(rule, &words, rule.source.clone())
            .on(lines)
            .about(matter());
        self.findings.push(match how {
            Preserved::LowRisk => finding,
            Preserved::BySoap | Preserved::ByUnmeasuredPh => finding.remedy(self.ph.remedy()),
            _ => finding.remedy(Remedy::AddMaterial {
                role: Role::Preservative,
            }),
        });
    }

    /// Acids of preservatives of which too little works, even at the lowest pH that may be.
    pub(super) fn starved(&self) -> impl Iterator<Item = &AcidState> {
        let acids = self.of.estimates.preservation.acids.iter();
        acids.filter(|a| a.is_starved() && self.is_of_preservative(&a.lines))
    }

    fn is_of_preservative(&self, lines: &[ItemId]) -> bool {
        self.preservatives().any(|l| lines.contains(&l.line.id))
    }

    /// Whether another preservative of good cover holds the product without the acids.
    fn is_held_by_others(&self, but: &[ItemId]) -> bool {
        self.preservatives().any(|l| {
            let good = |p: &crate::material::Preservation| {
                p.bacteria == Coverage::Good
                    && p.yeast == Coverage::Good
                    && l.line.percent >= p.dose_low
                    && p.ph
                        .is_none_or(|w| !self.ph.is_outside(w.low.value(), w.high.value()))
            };
            !but.contains(&l.line.id) && l.material.preservation.as_ref().is_some_and(good)
        })
    }

    pub(super) fn starved_acids(&mut self, rule: &Rule) {
        let starved: Vec<&AcidState> = self.starved().collect();
        let Some(first) = starved.first() else { return };
        let mut lines: Vec<ItemId> = starved.iter().flat_map(|a| a.lines.clone()).collect();
        lines.sort_unstable();
        lines.dedup();
        let told: Vec<String> = starved
            .iter()
            .map(|a| {
                let (_, high) = a.effective_range;
                format!(
                    "{} {high:.3} % of the formula at most (from about {} % on it works)",
                    a.acid.inci, a.acid.least_percent
                )
            })
            .collect();
        let at = first.at.words();
        let held = self.is_held_by_others(&lines);
        let words = Words {
            value: &at,
            what: &told.join("; "),
            ..Words::default()
        };
        let remedy = self.ph.remedy();
        let mut finding = Self::finding(rule, &words, rule.source.clone())
            .on(lines)
            .about(matter())
            .remedy(remedy);
        if held {
            finding.level = crate::finding::Level::Note;
            finding = finding.asks(FindingSubject::Read);
        }
        self.findings.push(finding);
    }

    /// Preservatives of which oil and micelles leave little in the water.
    pub(super) fn bound(&mut self, rule: &Rule, free_below: f64) {
        let mut told = Vec::new();
        let mut lines: Vec<ItemId> = Vec::new();
        let system = &self.of.estimates.preservation;
        let acids = system.acids.iter().filter(|a| !a.is_starved());
        let all = acids
            .filter_map(|a| Some((a.acid.inci, a.lines.as_slice(), a.oil.as_ref()?)))
            .chain(
                system
                    .neutrals
                    .iter()
                    .map(|n| (n.inci.spelling(), n.lines.as_slice(), &n.oil)),
            );
        for (name, of, loss) in all {
            // Even where the binding is weaker than thought.
            if loss.free_high >= free_below || !self.is_of_preservative(of) {
                continue;
            }
            told.push(whereabouts(name, loss));
            lines.extend_from_slice(of);
        }
        if told.is_empty() {
            return;
        }
        lines.sort_unstable();
        lines.dedup();
        let words = Words {
            what: &told.join("; "),
            ..Words::default()
        };
        self.findings.push(
            Self::finding(rule, &words, rule.source.clone())
                .on(lines)
                .about(Matter::of("preservative bound")),
        );
    }

    pub(super) fn crystallising_acids(&mut self, rule: &Rule) {
        let mut found: Vec<Finding> = Vec::new();
        let water = self.of.estimates.ph.water;
        for state in &self.of.estimates.preservation.acids {
            let Some(solubility) = g_per_kg(state.acid.family).filter(|_| water > 0.0) else {
                continue;
            };
            // The lower end of what is undissociated: no finding on a pH that is not known.
            let (low, _) = state.effective_range;
            let free = state.oil.as_ref().map_or(1.0, |o| o.free);
            let in_water = 10.0 * low * free / water;
            // The table of what dissolves speaks of the free acids.
            if in_water <= 1.1 * solubility || self.is_told_as_insoluble(state.acid.inci) {
                continue;
            }
            let words = Words {
                name: state.acid.inci,
                value: &format!("{in_water:.1}"),
                limit: &solubility.to_string(),
                what: &state.at.words(),
                ..Words::default()
            };
            found.push(
                Self::finding(rule, &words, rule.source.clone())
                    .on(state.lines.clone())
                    .about(Matter::of(&format!(
                        "solubility {}",
                        Inci::from(state.acid.inci).folded()
                    ))),
            );
        }
        self.findings.append(&mut found);
    }

    pub(super) fn coverage(&mut self, rule: &Rule) {
        let system = &self.of.estimates.preservation;
        let data = self
            .preservatives()
            .filter(|l| l.material.preservation.is_some());
        // A preservative without data: its cover is unknown and cannot be judged.
        if system.coverage.is_empty() || data.count() < self.preservatives().count() {
            return;
        }
        // What follows from a dose or pH that is told already is not told again.
        let told = self
            .findings
            .iter()
            .any(|f| f.matter == Some(matter()) && f.level > crate::finding::Level::Note);
        if told || self.free_water() <= NO_WATER || self.low_risk().is_some() {
            return;
        }
        let cover = |group: &str| {
            let of = system.coverage.iter().find(|c| c.group == group);
            of.map_or(Coverage::None, |c| c.coverage)
        };
        let supported = !system.chelators.is_empty()
            || (cover("bacteria") == Coverage::Good && cover("yeast") == Coverage::Good);
        let is_mould_only = |group: &str| group == "mould" && supported;
        let open: Vec<&str> = system
            .coverage
            .iter()
            .filter(|c| match rule.check {
                Check::OrganismsUncovered => c.coverage == Coverage::None,
                Check::MouldWeaklyCovered => c.coverage == Coverage::Weak && is_mould_only(c.group),
                _ => c.coverage == Coverage::Weak && !is_mould_only(c.group),
            })
            .map(|c| c.group)
            .collect();
        if open.is_empty() {
            return;
        }
        let lines: Vec<ItemId> = self.preservatives().map(|l| l.line.id).collect();
        let what = open.join(" and ");
        let chelator = if system.chelators.is_empty() {
            ", a chelator"
        } else {
            ""
        };
        let words = Words {
            what: &what,
            value: chelator,
            ..Words::default()
        };
        self.findings.push(
            Self::finding(rule, &words, rule.source.clone())
                .on(lines)
                .about(Matter::of("cover"))
                .remedy(Remedy::AddMaterial {
                    role: Role::Preservative,
                }),
        );
    }

    pub(super) fn formaldehyde_donors(&mut self, rule: &Rule) {
        let lines = self.of.estimates.preservation.formaldehyde_donors.clone();
        // Where it is sold under the law that asks for the words, the law reckons how much.
        let markets = &self.of.variant.product.markets;
        let by_law = markets.iter().any(|m| matches!(m, Market::Eu | Market::Uk));
        if lines.is_empty() || by_law {
            return;
        }
        self.findings.push(
            Self::finding(rule, &Words::default(), rule.source.clone())
                .on(lines)
                .about(Matter::of("formaldehyde"))
                .asks(FindingSubject::Label)
                .open(StatedField::Label),
        );
    }

    fn is_told_as_insoluble(&self, inci: &str) -> bool {
        self.table.knows_solubility(inci)
            && self.laid.iter().any(|l| {
                let mut names = l.material.inci_names();
                names.any(|n| n.is(inci))
            })
    }
}

/// Where a preservative is, in words.
fn whereabouts(name: &str, loss: &Whereabouts) -> String {
    let mut where_to = Vec::new();
    if loss.share >= 0.05 {
        where_to.push(format!("about {:.0} % in the oil", 100.0 * loss.share));
    }
    if loss.in_micelles >= 0.05 {
        where_to.push(format!(
            "about {:.0} % in the micelles of surfactants",
            100.0 * loss.in_micelles
        ));
    }
    format!(
        "{name}: {}, so that {:.0} to {:.0} % of it is free in the water",
        where_to.join(" and "),
        100.0 * loss.free_low,
        100.0 * loss.free_high
    )
}
