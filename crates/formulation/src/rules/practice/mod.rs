//! Rules of practice, kept as data in `assets/rules/practice.ron` and
//! `assets/rules/compatibility.ron`.
//!
//! The files say which checks there are, how grave they are, with which words and figures and on
//! what ground; this module looks for what each check names: `levels` compares amounts,
//! `preservation` asks what keeps the product, `process` how it is made, and
//! `compatibility` what does not go together.

mod compatibility;
mod known_ph;
mod levels;
mod low_risk;
mod preservation;
mod process;
mod rule;
#[cfg(test)]
mod tests;
mod windows;

use std::collections::BTreeSet;
use std::sync::Arc;

use self::compatibility::{Form, Present, Table};
use self::known_ph::KnownPh;
use self::rule::{Check, Ground, Preserved, Rule, Words};
use crate::amount::measure::tidy;
use crate::chemistry::Estimates;
use crate::chemistry::water_limits::NO_EMULSION_PERCENT;
use crate::composition::Composition;
use crate::finding::{Finding, Level, LineLimit, Matter};
use crate::formula::{ItemId, Line, Phase, Variant};
use crate::handling::heats_with_water;
use crate::material::{Basis, Hazard, Material, Preservation, Role, Source, UseRange};
use crate::mixture::Mixture;
use crate::name_hash::ByHash;
use crate::purpose::{Purpose, PurposeGround, Served, possible};
use crate::quantity::{MassFraction, Percent};
use crate::word_groups::Groups;

pub use self::compatibility::{FLAMMABLE, grams_in_100_g_of_water};
pub use self::rule::id;
pub(crate) use self::windows::{common_ph_window, ph_window};

/// A line with its material, looked up once.
struct LineWithMaterial<'a> {
    phase: &'a Phase,
    line: &'a Line,
    material: &'a Material,
    /// The groups of the compatibility table to which the material belongs.
    groups: Groups,
    /// Which entry of [`Scene::same`] the material has.
    same: usize,
    /// Its usual level in this kind of product, the strictest of several.
    range: Option<&'a UseRange>,
    /// Whether this line is there to preserve.
    preserves: bool,
}

/// All lines of one material.
#[derive(Default)]
struct MaterialDose {
    dose: Percent,
    lines: Vec<ItemId>,
}

/// What is looked at.
#[derive(Clone, Copy)]
pub struct PracticeSubject<'a> {
    /// The variant that is checked.
    pub variant: &'a Variant,
    /// Its raw materials, opened up.
    pub mixture: &'a Mixture,
    /// What it contains.
    pub composition: &'a Composition,
    /// What is estimated of it.
    pub estimates: &'a Estimates,
}

/// Everything the checks look at, and what they found.
struct Scene<'a> {
    of: PracticeSubject<'a>,
    laid: Vec<LineWithMaterial<'a>>,
    same: Vec<MaterialDose>,
    table: &'static Table,
    present: Present,
    ph: KnownPh,
    /// The forms of product that this is one of.
    forms: Vec<&'static Form>,
    /// How a product without a preservative is kept, if it is one.
    unpreserved: Option<Preserved>,
    findings: Vec<Finding>,
}

/// Runs every rule of practice on a variant.
pub fn check(of: PracticeSubject<'_>, findings: &mut Vec<Finding>, limits: &mut Vec<LineLimit>) {
    let (rules, table) = match (rule::rules(), compatibility::table()) {
        (Ok(rules), Ok(table)) => (rules, table),
        (Err(error), _) | (_, Err(error)) => {
            findings.push(Finding::new(
                Level::Breach,
                "rules-unreadable",
                format!("The rules of practice cannot be read, so none was checked: {error}"),
                Source::new(Basis::Practice, "assets/rules"),
            ));
            return;
        }
    };
    let mut scene = Scene::new(of, table);
    for rule in rules {
        scene.run(rule);
    }
    scene.compatibility();
    levels::line_limits(&scene.laid, of.variant.product.kinds, limits);
    findings.append(&mut scene.findings);
}

/// Whether a line is there to preserve: its material can, and it serves nothing else here.
fn preserves(served: Served, line: &Line, material: &Material) -> bool {
    if !material.can_preserve() {
        // Of a blend that is not known the maker's word decides.
        return line.purpose == Some(Purpose::Preservative)
            && material.unknown_share().value() > 0.5;
    }
    served.purpose == Purpose::Preservative
        || served.ground != PurposeGround::Stated
            && possible(material).all(|p| p != Purpose::Preservative)
}

impl LineWithMaterial<'_> {
    /// What is known of it as a preservative, where it is there to preserve.
    fn preservation(&self) -> Option<&Preservation> {
        self.material
            .preservation
            .as_ref()
            .filter(|_| self.preserves)
    }
}

impl<'a> Scene<'a> {
    fn new(of: PracticeSubject<'a>, table: &'static Table) -> Self {
        let mut same: Vec<MaterialDose> = Vec::new();
        let mut present = Present::new(table);
        let mut laid: Vec<LineWithMaterial<'a>> = Vec::with_capacity(of.mixture.lines.len());
        // A formula carries each material once, so its address tells it apart.
        let mut places = ByHash::default();
        places.reserve(64);
        for ((phase, line), opened) in of.variant.lines().zip(&of.mixture.lines) {
            let Some(material) = &opened.material else {
                continue;
            };
            if line.percent <= Percent::ZERO {
                continue;
            }
            let address = Arc::as_ptr(material).addr() as u64;
            let place = *places.entry(address).or_insert(same.len());
            if place == same.len() {
                same.push(MaterialDose::default());
            }
            if let Some(entry) = same.get_mut(place) {
                entry.dose += line.percent;
                entry.lines.push(line.id);
            }
            let percent = line.percent.as_percent();
            laid.push(LineWithMaterial {
                phase,
                line,
                material,
                groups: present.add(laid.len(), material, percent, table),
                same: place,
                range: material.strictest_range(of.variant.product.kinds),
                preserves: preserves(opened.served, line, material),
            });
        }
        let mut scene = Self {
            of,
            present,
            laid,
            same,
            table,
            ph: KnownPh::of(of.variant, of.estimates),
            forms: Vec::new(),
            unpreserved: None,
            findings: Vec::new(),
        };
        scene.forms = scene.forms_of_product();
        scene.unpreserved = scene.unpreserved();
        scene
    }

    fn run(&mut self, rule: &Rule) {
        match rule.check {
            Check::TotalNot100 => self.total(rule),
            Check::MaterialMissing => self.material_missing(rule),
            Check::OwnBounds => self.own_bounds(rule),
            Check::Preserved(how) => self.preserved(rule, how),
            Check::PreservativeUnderDose => self.under_dose(rule),
            Check::PreservativeOverDose => self.over_dose(rule),
            Check::PreservativeOutsidePh => self.preservatives_outside_ph(rule),
            Check::AcidStarved => self.starved_acids(rule),
            Check::PreservativeBound { free_below } => self.bound(rule, free_below),
            Check::AcidMayCrystallise => self.crystallising_acids(rule),
            Check::OrganismsUncovered
            | Check::OrganismsWeaklyCovered
            | Check::MouldWeaklyCovered => self.coverage(rule),
            Check::FormaldehydeDonor => self.formaldehyde_donors(rule),
            Check::OverSupplierMaximum
            | Check::OverUsualLevel
            | Check::UnderUsualLevel
            | Check::NoUseLevel => self.use_levels(rule),
            Check::OutsidePhWindow => self.outside_windows(rule),
            Check::TooHot => self.too_hot(rule),
            Check::CoolDownBeforeHeat { above } => self.cool_down_before_heat(rule, above),
            Check::GumNotWetted => self.gums(rule),
            Check::Dust => {
                let dusty = |m: &Material| m.hazards.contains(&Hazard::Dust);
                self.handling(rule, (Hazard::Dust, false), dusty);
            }
            Check::HeatsWithWater => {
                self.handling(rule, (Hazard::Corrosive, true), heats_with_water);
            }
            Check::Corrosive => self.handling(rule, (Hazard::Corrosive, false), |m| {
                m.hazards.contains(&Hazard::Corrosive) && !heats_with_water(m)
            }),
            Check::CorrosiveMix => self.corrosive_mix(rule),
            Check::WaterFreeWetUse { water_below } => self.wet_use(rule, water_below),
            Check::Emulsion => self.emulsion(rule),
            Check::UnknownComposition { above } => self.unknown(rule, above),
        }
    }

    /// A finding of a rule; a breach that its ground does not carry is a caution.
    fn finding(rule: &Rule, words: &Words<'_>, source: Source) -> Finding {
        let carried = rule.ground.is_none_or(|g: Ground| g.bears(source.basis));
        let level = if carried {
            rule.level
        } else {
            rule.level.min(Level::Caution)
        };
        Finding::new(level, rule.id.clone(), rule.message.fill(words), source)
    }

    fn say(&mut self, rule: &Rule, lines: Vec<ItemId>, words: &Words<'_>) {
        self.findings
            .push(Self::finding(rule, words, rule.source.clone()).on(lines));
    }

    fn preservatives(&self) -> impl Iterator<Item = &LineWithMaterial<'a>> {
        self.laid.iter().filter(|l| l.preserves)
    }

    fn with_role(&self, role: Role) -> impl Iterator<Item = &LineWithMaterial<'a>> {
        self.laid.iter().filter(move |l| l.material.has_role(role))
    }

    /// Percentage of a material over all its lines.
    fn dose(&self, of: &LineWithMaterial<'_>) -> Percent {
        self.same
            .get(of.same)
            .map_or(Percent::ZERO, |same| same.dose)
    }

    /// All lines of a material, if `of` is the first of them.
    fn lines_if_first(&self, of: &LineWithMaterial<'_>) -> Option<&[ItemId]> {
        let lines = self.same.get(of.same)?.lines.as_slice();
        (lines.first() == Some(&of.line.id)).then_some(lines)
    }

    fn total(&mut self, rule: &Rule) {
        let total = self.of.composition.total;
        let begun = self.of.variant.lines().next().is_some();
        if begun && total != Percent::HUNDRED {
            let mut lines = self.of.mixture.lines.iter();
            let filler = lines.find(|l| self.of.variant.is_filler(l.line));
            let what = match filler.and_then(|l| l.material.as_ref()) {
                Some(material) if total > Percent::HUNDRED => format!(
                    "{} fills up (q.s.), but the other lines leave it no room: take {} % out of them.",
                    material.name,
                    total - Percent::HUNDRED
                ),
                _ => "Make one line the filler (q.s.) or bring the formula to 100.".to_owned(),
            };
            let words = Words {
                value: &total.to_string(),
                what: &what,
                ..Words::default()
            };
            self.say(rule, Vec::new(), &words);
        }
    }

    fn material_missing(&mut self, rule: &Rule) {
        let of = self.of;
        for line in of.mixture.lines.iter().filter(|l| l.material.is_none()) {
            let words = Words {
                name: line.id.as_str(),
                ..Words::default()
            };
            self.say(rule, vec![line.line], &words);
        }
    }

    fn unknown(&mut self, rule: &Rule, above: f64) {
        let composition = self.of.composition;
        let unknown = composition.unknown.as_percent();
        if unknown <= above {
            return;
        }
        let lines: Vec<ItemId> = composition
            .lines
            .iter()
            .filter(|l| l.unknown > MassFraction::ZERO)
            .map(|l| l.line)
            .collect();
        let in_doubt: BTreeSet<ItemId> = lines.iter().copied().collect();
        let laid = self.laid.iter().filter(|l| in_doubt.contains(&l.line.id));
        let what = names(laid);
        let words = Words {
            value: &format!("{unknown:.2}"),
            what: &what,
            ..Words::default()
        };
        self.say(rule, lines, &words);
    }

    fn emulsion(&mut self, rule: &Rule) {
        let emulsion = &self.of.estimates.emulsion;
        // Water that is bound in crystals is no phase.
        if emulsion.doubts.is_empty() || self.free_water() < NO_EMULSION_PERCENT {
            return;
        }
        let words = Words {
            what: &emulsion.doubts.join("; "),
            ..Words::default()
        };
        let emulsifiers = self
            .laid
            .iter()
            .filter(|l| crate::chemistry::emulsion::is_emulsifier(l.material));
        let lines: Vec<ItemId> = emulsifiers.map(|l| l.line.id).collect();
        self.findings.push(
            Self::finding(rule, &words, rule.source.clone())
                .on(lines)
                .about(Matter::of("emulsion")),
        );
    }
}

/// The names of lines, each once.
fn names<'l, 'a: 'l>(lines: impl IntoIterator<Item = &'l LineWithMaterial<'a>>) -> String {
    let mut seen = BTreeSet::new();
    let names = lines.into_iter().map(|l| l.material.name.as_ref());
    let names: Vec<&str> = names.filter(|name| seen.insert(*name)).collect();
    names.join(", ")
}

/// A figure as it is shown with one decimal; figures are compared no finer.
fn shown(value: f64) -> f64 {
    tidy(value, 1)
}
