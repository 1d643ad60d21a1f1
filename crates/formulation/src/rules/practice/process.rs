//! How the formula is made: heat, wetting, handling.

use super::rule::{Rule, Words};
use super::{LineWithMaterial, Scene, names};
use crate::chemistry::acidity::NoPh;
use crate::chemistry::substances;
use crate::chemistry::work_out::classification;
use crate::finding::{FindingSubject, FindingValue, Limit, Matter, Remedy, StatedField};
use crate::formula::ItemId;
use crate::handling::{UNTOLD_KELVIN, Wetting, equipment, is_too_hot, mind, wets, wetting_words};
use crate::material::{Hazard, Material, PhaseKind, Role, WettingMedium};
use crate::quantity::in_celsius;

/// pH from which a mixture counts as corrosive unless tests show otherwise: Regulation (EC) No
/// 1272/2008, Annex I, 3.2.3.1.2.
const ACID_THAT_BURNS: f64 = 2.0;
/// The same for bases.
const BASE_THAT_BURNS: f64 = 11.5;

/// What is done about a powder that meets water dry: with what wets it in the formula, or that is
/// added first.
fn wetted(powder: &LineWithMaterial<'_>, medium: Option<ItemId>) -> Remedy {
    let line = powder.line.id;
    match medium {
        Some(medium) => Remedy::WetFirst { line, medium },
        None if powder.material.wet_with.contains(&WettingMedium::Humectant) => {
            let role = Role::Humectant;
            Remedy::AddMaterial { role }
        }
        None => Remedy::MoveToPhase {
            line,
            kind: PhaseKind::Slurry,
        },
    }
}

impl Scene<'_> {
    pub(super) fn too_hot(&mut self, rule: &Rule) {
        let mut found = Vec::new();
        for l in &self.laid {
            let Some(bears) = &l.material.max_temperature else {
                continue;
            };
            let Some(hottest) = l
                .phase
                .hottest_of_lines()
                .filter(|&t| is_too_hot(l.material, t))
            else {
                continue;
            };
            let (hottest, limit) = (in_celsius(hottest), in_celsius(bears.value));
            let words = Words {
                name: &l.material.name,
                value: &format!("{hottest:.0}"),
                limit: &format!("{limit:.0}"),
                // Where it is in the cool-down phase, that is too warm.
                what: match l.phase.kind {
                    PhaseKind::CoolDown => "Let the phase cool further before it goes in",
                    _ => "Move it to the cool-down phase",
                },
                ..Words::default()
            };
            found.push(
                Self::finding(rule, &words, bears.source.clone())
                    .on([l.line.id])
                    .against(
                        FindingValue::Celsius(hottest),
                        Limit::AtMost(FindingValue::Celsius(limit)),
                    )
                    .remedy(match l.phase.kind {
                        PhaseKind::CoolDown => {
                            Remedy::OpenField(StatedField::Temperature(l.phase.id))
                        }
                        _ => Remedy::MoveToPhase {
                            line: l.line.id,
                            kind: PhaseKind::CoolDown,
                        },
                    }),
            );
        }
        self.findings.append(&mut found);
    }

    /// A phase that goes in after cooling, and one worked hot that comes after it: the order of
    /// the phases is the order of work, so what should stay cool is heated.
    pub(super) fn cool_down_before_heat(&mut self, rule: &Rule, above: f64) {
        let phases = &self.of.variant.phases;
        let mut found = Vec::new();
        for (place, cool) in phases.iter().enumerate() {
            if cool.kind != PhaseKind::CoolDown || cool.lines.is_empty() {
                continue;
            }
            let own = cool
                .hottest_of_lines()
                .map_or(above, |t| in_celsius(t).max(above));
            let later = phases.iter().skip(place + 1);
            let later = later.filter_map(|p| Some((p, in_celsius(p.hottest()?))));
            let Some((hot, degrees)) = later
                .filter(|(_, degrees)| *degrees > own + UNTOLD_KELVIN)
                .max_by(|a, b| a.1.total_cmp(&b.1))
            else {
                continue;
            };
            let words = Words {
                name: &cool.letter,
                what: &hot.letter,
                value: &format!("{degrees:.0}"),
                ..Words::default()
            };
            let lines: Vec<ItemId> = cool.lines.iter().map(|l| l.id).collect();
            found.push(
                Self::finding(rule, &words, rule.source.clone())
                    .on(lines)
                    .about(Matter::of(&format!("{} {}", rule.id, cool.id.0)))
                    .remedy(Remedy::OpenField(StatedField::Temperature(hot.id))),
            );
        }
        self.findings.append(&mut found);
    }

    pub(super) fn gums(&mut self, rule: &Rule) {
        let mut found = Vec::new();
        for phase in self.laid.chunk_by(|a, b| a.phase.id == b.phase.id) {
            for l in phase {
                let lines = phase.iter().map(|l| (l.line.id, l.material));
                let medium = match Wetting::of(lines, l.line.id) {
                    Some(Wetting::After(medium)) => Some(medium),
                    Some(Wetting::Missing) => self.medium_elsewhere(l.material),
                    Some(Wetting::Before(_)) | None => continue,
                };
                let words = Words {
                    name: &l.material.name,
                    what: &wetting_words(&l.material.wet_with),
                    ..Words::default()
                };
                found.push(
                    Self::finding(rule, &words, rule.source.clone())
                        .on([l.line.id])
                        .remedy(wetted(l, medium)),
                );
            }
        }
        self.findings.append(&mut found);
    }

    /// The first line of another phase that wets a powder; what makes up an oil phase stays there.
    fn medium_elsewhere(&self, powder: &Material) -> Option<ItemId> {
        let wets =
            |l: &&LineWithMaterial<'_>| l.phase.kind != PhaseKind::Oil && wets(l.material, powder);
        self.laid.iter().find(wets).map(|l| l.line.id)
    }

    /// One finding for all materials of a hazard; the weigh sheet says it at each line, in the
    /// same words.
    pub(super) fn handling(
        &mut self,
        rule: &Rule,
        (hazard, heats_with_water): (Hazard, bool),
        has: impl Fn(&Material) -> bool,
    ) {
        let lines: Vec<&LineWithMaterial<'_>> =
            self.laid.iter().filter(|l| has(l.material)).collect();
        if lines.is_empty() {
            return;
        }
        let what = names(lines.iter().copied());
        let ids: Vec<ItemId> = lines.iter().map(|l| l.line.id).collect();
        let words = Words {
            what: &what,
            value: &equipment(hazard).join(", "),
            mind: mind(hazard, heats_with_water),
            ..Words::default()
        };
        self.findings.push(
            Self::finding(rule, &words, rule.source.clone())
                .on(ids)
                .about(Matter::of(&rule.id))
                .asks(FindingSubject::Read),
        );
    }

    /// Whether what is in the vessel burns by itself: by its pH, or where no pH can be given by
    /// the shares from which its acids and bases are classified as corrosive.
    pub(super) fn corrosive_mix(&mut self, rule: &Rule) {
        let shown = if self.ph.is_below(ACID_THAT_BURNS) || self.ph.is_above(BASE_THAT_BURNS) {
            self.ph.words()
        } else if let Some(classified) = self.classified_as_corrosive() {
            classified
        } else {
            return;
        };
        let words = Words {
            value: &shown,
            what: &equipment(Hazard::Corrosive).join(", "),
            ..Words::default()
        };
        self.findings
            .push(Self::finding(rule, &words, rule.source.clone()).about(Matter::of(&rule.id)));
    }

    /// The first acid or base of a mix beyond the scale of pH that is classified as corrosive at
    /// its share, in words.
    fn classified_as_corrosive(&self) -> Option<String> {
        let off_scale = matches!(
            self.of.estimates.ph.absent,
            Some(NoPh::OffScale | NoPh::TooConcentrated(_))
        );
        let constituents = self.of.composition.constituents.iter();
        constituents.filter(|_| off_scale).find_map(|c| {
            let percent = c.share.typical.as_percent();
            let substance = substances::find(c.inci.spelling(), c.cas)?;
            let words = classification(substance, percent)?.words;
            let burns = words.contains("Corr") || words.contains("Eye Dam");
            burns.then(|| format!("{percent:.1} % {}, {words}", c.inci))
        })
    }

    /// Whether water gets into a product that has none, by what it is or by what is stated.
    pub(super) fn wet_use(&mut self, rule: &Rule, water_below: f64) {
        let used_wet = self.of.variant.product.wet_use || self.is_taken_with_wet_hands();
        if self.laid.is_empty()
            || !used_wet
            || self.free_water() >= water_below
            || self.preservatives().next().is_some()
        {
            return;
        }
        let finding = Self::finding(rule, &Words::default(), rule.source.clone())
            .about(Matter::of("preservation"))
            .remedy(Remedy::OpenField(StatedField::WetUse));
        self.findings.push(finding);
    }
}
