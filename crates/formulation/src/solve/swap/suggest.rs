//! Materials of the shelf that could take the place of a line that runs out, by likeness.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::sync::Arc;

use crate::evaluation::{self, Context, Evaluation};
use crate::finding::{self, Finding, Level};
use crate::formula::{Formula, ItemId, Kinds, Variant};
use crate::material::{Class, Material, MaterialId};
use crate::progress::Progress;
use crate::quantity::{Percent, ph_to_tenth};
use crate::rules::practice::ph_window;
use crate::shelf::Shelf;

use super::super::demand::FigureStyle;
use super::super::subject::Supply;

use super::super::limits;
use super::{Equal, SwapError, WORTH_A_WORD, content, leading_class};

/// A material that could take the place of a line.
#[derive(Clone, Debug)]
pub struct Suggestion {
    /// The material.
    pub material: Arc<Material>,
    /// Its percentage at equal active matter.
    pub percent: Percent,
    /// Closeness, 0 to 1; our own weighing, see [`Likeness`].
    pub closeness: f64,
    /// What makes up the closeness, in the order of weight.
    pub likenesses: Vec<(Likeness, f64)>,
    /// What would be different, in words; the gravest first.
    pub differences: Vec<String>,
    /// Price of the line in a kilogram of the formula, new less old.
    pub cost_change: Option<f64>,
}

/// What closeness is made of. The weights are our own choice and add up to 1: whether it
/// works at the pH and what it does count most, its price least. What is not known counts
/// half.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Likeness {
    /// Works at the pH of the formula, and nothing is breached by it.
    Fits,
    /// Does the same.
    Roles,
    /// Is of the same chemical kind, by the words of the INCI names.
    Kind,
    /// Has the same charge.
    Charge,
    /// Is used at this level.
    Level,
    /// Brings as much water and salt.
    BringsIn,
    /// Has the same HLB.
    Hlb,
    /// Is as natural.
    Origin,
    /// Costs no more.
    Price,
}

impl Likeness {
    /// All, in the order of weight.
    pub const ALL: [Self; 9] = [
        Self::Fits,
        Self::Roles,
        Self::Kind,
        Self::Charge,
        Self::Level,
        Self::BringsIn,
        Self::Hlb,
        Self::Origin,
        Self::Price,
    ];
    /// Its part of the closeness.
    pub const fn weight(self) -> f64 {
        match self {
            Self::Fits => 0.25,
            Self::Roles => 0.2,
            Self::Kind => 0.15,
            Self::Charge => 0.12,
            Self::Level => 0.1,
            Self::BringsIn => 0.06,
            Self::Hlb | Self::Origin | Self::Price => 0.04,
        }
    }
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Fits => "fits pH and limits",
            Self::Roles => "does the same",
            Self::Kind => "chemical kind",
            Self::Charge => "charge",
            Self::Level => "level of use",
            Self::BringsIn => "water and salt brought in",
            Self::Hlb => "HLB",
            Self::Origin => "natural origin",
            Self::Price => "price",
        }
    }
}

impl Suggestion {
    /// What closeness is made of, in words: “does the same 80 %, charge 100 %, …”.
    pub fn reasons(&self) -> String {
        let part =
            |(what, like): &(Likeness, f64)| format!("{} {:.0} %", what.label(), 100.0 * like);
        self.likenesses
            .iter()
            .map(part)
            .collect::<Vec<_>>()
            .join(", ")
    }
}

/// Suggestions from a shelf for a line, closest first; those that cannot work in this formula
/// stand last. Materials that share neither a role nor the leading class are left out.
/// `progress` counts the materials looked at.
pub fn suggestions(
    formula: &Formula,
    variant: &Variant,
    context: &Context,
    supply: &Supply,
    shelf: &Shelf,
    (line, most): (ItemId, usize),
    progress: &Progress,
) -> Result<Vec<Suggestion>, SwapError> {
    let old_line = variant.line(line).ok_or(SwapError::NoSuchLine)?;
    let old = formula
        .material(&old_line.material)
        .ok_or(SwapError::NoSuchLine)?;
    let class = leading_class(old);
    let contained = content(old, &Equal::Active, class);
    let present = evaluation::evaluate(formula, variant, context);
    let ph = known_ph(variant, &present);
    progress.expect(shelf.len());
    let mut found: Vec<(bool, Suggestion)> = shelf
        .iter()
        .take_while(|_| !progress.is_stopped())
        .inspect(|_| progress.step())
        .filter(|m| m.id != old.id)
        .filter_map(|material| {
            let holds = content(material, &Equal::Active, class);
            let same =
                leading_class(material) == class || old.roles.iter().any(|r| material.has_role(*r));
            if holds <= 0.0 || contained <= 0.0 || !same {
                return None;
            }
            let percent = old_line.percent.scaled(contained / holds).to_hundredths();
            let swapped = replaced(formula, variant, line, material, percent);
            let evaluation = evaluation::evaluate(&swapped.0, &swapped.1, context);
            let arisen: Vec<&Finding> = finding::arisen(&present.findings, &evaluation.findings)
                .filter(|f| f.counts())
                .collect();
            let pair = Pair {
                kinds: variant.product.kinds,
                supply,
                old,
                old_percent: old_line.percent,
                new: material,
                percent,
            };
            Some(pair.suggestion(ph, &arisen))
        })
        .collect();
    if progress.is_stopped() {
        return Err(SwapError::Stopped);
    }
    found.sort_by(|(works_a, a), (works_b, b)| {
        works_b
            .cmp(works_a)
            .then_with(|| b.closeness.total_cmp(&a.closeness))
            .then_with(|| a.material.name.cmp(&b.material.name))
    });
    found.truncate(most);
    Ok(found.into_iter().map(|(_, s)| s).collect())
}

/// The pH that the swapped material has to work at: measured, else aimed at, else estimated.
fn known_ph(variant: &Variant, evaluation: &Evaluation) -> Option<(f64, f64)> {
    let stated = variant.measured.ph.or(variant.target_ph);
    let figure = &evaluation.estimates.ph.figure;
    stated
        .map(|ph| (ph.value(), ph.value()))
        .or_else(|| figure.low.zip(figure.high))
}

/// The formula with another material on a line; the filler takes the difference.
fn replaced(
    formula: &Formula,
    variant: &Variant,
    line: ItemId,
    material: &Arc<Material>,
    percent: Percent,
) -> (Formula, Variant) {
    let (mut formula, mut variant) = (formula.clone(), variant.clone());
    formula
        .materials
        .insert(material.id.clone(), material.clone());
    let before = variant.line(line).map_or(percent, |l| l.percent);
    if let Some(line) = variant.line_mut(line) {
        line.material = material.id.clone();
        line.percent = percent;
    }
    let filler = variant.filler.filter(|filler| *filler != line);
    if let Some(filler) = filler.and_then(|filler| variant.line_mut(filler)) {
        filler.percent = (filler.percent + before - percent).max(Percent::ZERO);
    }
    (formula, variant)
}

/// A line and what could stand in its place.
struct Pair<'a> {
    kinds: Kinds,
    supply: &'a Supply,
    old: &'a Material,
    old_percent: Percent,
    new: &'a Arc<Material>,
    percent: Percent,
}

/// What is not known counts half.
const UNKNOWN: f64 = 0.5;

impl Pair<'_> {
    /// The suggestion, and whether it can work in this formula at all.
    fn suggestion(&self, ph: Option<(f64, f64)>, arisen: &[&Finding]) -> (bool, Suggestion) {
        let mut differences = Vec::new();
        let likenesses: Vec<(Likeness, f64)> = Likeness::ALL
            .into_iter()
            .map(|what| {
                let like = match what {
                    Likeness::Fits => self.fits(ph, arisen, &mut differences),
                    Likeness::Roles => self.roles(&mut differences),
                    Likeness::Kind => self.chemical_kind(&mut differences),
                    Likeness::Charge => self.charge(&mut differences),
                    Likeness::Level => self.level(&mut differences),
                    Likeness::BringsIn => self.brings_in(&mut differences),
                    Likeness::Hlb => self.hlb(&mut differences),
                    Likeness::Origin => self.origin(&mut differences),
                    Likeness::Price => self.price(),
                };
                (what, like)
            })
            .collect();
        let closeness = likenesses
            .iter()
            .map(|(what, like)| what.weight() * like)
            .sum();
        let works = likenesses
            .iter()
            .all(|(what, like)| *what != Likeness::Fits || *like > 0.0);
        let suggestion = Suggestion {
            material: self.new.clone(),
            percent: self.percent,
            closeness,
            likenesses,
            differences,
            cost_change: self.costs().map(|(old, new)| new - old),
        };
        (works, suggestion)
    }

    /// 0 outside its pH, or where something is breached; less with each new caution.
    fn fits(&self, ph: Option<(f64, f64)>, arisen: &[&Finding], said: &mut Vec<String>) -> f64 {
        let breaches = arisen.iter().filter(|f| f.level == Level::Breach);
        said.extend(breaches.clone().map(|f| format!("breach: {}", f.message)));
        let breached = breaches.count() > 0;
        let cautions = arisen.iter().filter(|f| f.level == Level::Caution);
        said.extend(cautions.clone().map(|f| format!("caution: {}", f.message)));
        let window = ph_window(self.new, self.new.can_preserve());
        let window = window.map(|w| (w.low.value(), w.high.value()));
        let by_ph = match (window, ph) {
            (Some((least, most)), Some((low, high))) => {
                let outside =
                    ph_to_tenth(high) < ph_to_tenth(least) || ph_to_tenth(low) > ph_to_tenth(most);
                let partly =
                    ph_to_tenth(low) < ph_to_tenth(least) || ph_to_tenth(high) > ph_to_tenth(most);
                if outside {
                    let at = if ph_to_tenth(low) == ph_to_tenth(high) {
                        format!("{low:.1}")
                    } else {
                        format!("{low:.1} to {high:.1}")
                    };
                    let words =
                        format!("works from pH {least:.1} to {most:.1}; the formula is at pH {at}");
                    said.insert(0, words);
                    return 0.0;
                }
                if partly { 0.75 } else { 1.0 }
            }
            _ => UNKNOWN,
        };
        if breached {
            return 0.0;
        }
        by_ph * 0.7_f64.powi(cautions.count() as i32)
    }

    fn roles(&self, said: &mut Vec<String>) -> f64 {
        let (old, new) = (&self.old.roles, self.new);
        let shared = old.iter().filter(|r| new.has_role(**r)).count();
        let either = old.len() + new.roles.len() - shared;
        let lost: Vec<&str> = old
            .iter()
            .filter(|r| !new.has_role(**r))
            .map(|r| r.label())
            .collect();
        if !lost.is_empty() {
            said.push(format!("is not known as {}", limits::join(&lost)));
        }
        if either == 0 {
            UNKNOWN
        } else {
            shared as f64 / either as f64
        }
    }

    /// The part of the words that the INCI names of the leading constituents share: words
    /// such as sulfate, betaine, glucoside or stearate name the chemical kind.
    fn chemical_kind(&self, said: &mut Vec<String>) -> f64 {
        let words = |material: &Material| -> BTreeSet<String> {
            let class = leading_class(material);
            let leading = material
                .constituents
                .iter()
                .filter(|c| Some(c.class) == class)
                .max_by(|a, b| a.share.typical.value().total_cmp(&b.share.typical.value()));
            let name = leading.map_or(Cow::Borrowed(""), |c| c.inci.folded());
            let apart = |c: char| !c.is_alphanumeric();
            name.split(apart)
                .filter(|w| !w.is_empty())
                .map(str::to_owned)
                .collect()
        };
        let (old, new) = (words(self.old), words(self.new));
        let either = old.union(&new).count();
        if either == 0 {
            return UNKNOWN;
        }
        let shared = old.intersection(&new).count();
        if shared == 0 {
            said.push("another chemical kind by its name".to_owned());
        } else if shared < either {
            let only = |a: &BTreeSet<String>, b: &BTreeSet<String>| -> String {
                a.difference(b).cloned().collect::<Vec<_>>().join(" ")
            };
            said.push(match (only(&new, &old), only(&old, &new)) {
                (new, old) if old.is_empty() => format!("{new} besides, by its name"),
                (new, old) if new.is_empty() => format!("without {old}, by its name"),
                (new, old) => format!("{new} instead of {old}, by its name"),
            });
        }
        shared as f64 / either as f64
    }

    fn charge(&self, said: &mut Vec<String>) -> f64 {
        if let (Some(a), Some(b)) = (self.old.charge, self.new.charge)
            && a != b
        {
            said.push(format!("{} instead of {}", b.label(), a.label()));
        }
        f64::from(u8::from(self.old.charge == self.new.charge))
    }

    /// 1 in the middle of the usual range, falling to its ends and to 0 above it.
    fn level(&self, said: &mut Vec<String>) -> f64 {
        let percent = self.percent;
        let Some(range) = self.new.strictest_range(self.kinds) else {
            return UNKNOWN;
        };
        if percent > range.high {
            let what = if range.supplier_maximum {
                "supplier's maximum"
            } else {
                "usual highest level"
            };
            said.push(format!(
                "{percent:.2} % is above its {what} of {} %",
                range.high
            ));
            return 0.0;
        }
        if percent < range.low {
            said.push(format!(
                "{percent:.2} % is below its usual lowest level of {} %",
                range.low
            ));
            return UNKNOWN;
        }
        let (low, high) = (range.low.as_percent(), range.high.as_percent());
        let half = (high - low) / 2.0;
        if half <= 0.0 {
            return 1.0;
        }
        let off = (percent.as_percent() - f64::midpoint(low, high)).abs() / half;
        1.0 - 0.4 * off.min(1.0)
    }

    /// How little the water and the salt of the formula change, against what the line brings.
    fn brings_in(&self, said: &mut Vec<String>) -> f64 {
        let mut change = 0.0;
        for (class, words) in [(Class::Electrolyte, "salt"), (Class::Water, "water")] {
            let brings = |m: &Material, p: Percent| m.share_of(class).value() * p.as_percent();
            let (a, b) = (
                brings(self.old, self.old_percent),
                brings(self.new, self.percent),
            );
            change += (a - b).abs();
            if (a - b).abs() >= WORTH_A_WORD.max(0.05 * a) {
                said.push(format!(
                    "brings {} {words} instead of {}",
                    FigureStyle::PERCENT.write(b),
                    FigureStyle::PERCENT.write(a)
                ));
            }
        }
        let whole = self.old_percent.as_percent().max(self.percent.as_percent());
        if whole <= 0.0 {
            return UNKNOWN;
        }
        (1.0 - change / whole).max(0.0)
    }

    fn hlb(&self, said: &mut Vec<String>) -> f64 {
        let of = |m: &Material| m.hlb.as_ref().or(m.required_hlb.as_ref()).map(|h| h.value);
        match (of(self.old), of(self.new)) {
            (Some(a), Some(b)) => {
                let off = (a - b).abs();
                if off >= 0.5 {
                    said.push(format!("HLB {b} instead of {a}"));
                }
                (1.0 - off / 10.0).max(0.0)
            }
            (None, None) => 1.0,
            _ => UNKNOWN,
        }
    }

    fn origin(&self, said: &mut Vec<String>) -> f64 {
        let of = |m: &Material| m.natural_origin.as_ref().map(|n| n.value.low);
        let (Some(a), Some(b)) = (of(self.old), of(self.new)) else {
            return UNKNOWN;
        };
        let off = (a - b).abs();
        if off > 0.05 {
            let figure = FigureStyle::up_to(2, "");
            said.push(format!(
                "natural origin index {} instead of {}",
                figure.write(b),
                figure.write(a)
            ));
        }
        (1.0 - off).max(0.0)
    }

    fn price(&self) -> f64 {
        match self.costs() {
            Some((old, new)) if new > 0.0 => (old / new).clamp(0.0, 1.0),
            _ => UNKNOWN,
        }
    }

    /// Price of the line in a kilogram of the formula, old and new.
    fn costs(&self) -> Option<(f64, f64)> {
        let cost = |id: &MaterialId, percent: Percent| {
            let prices = &self.supply.price_per_kg;
            prices
                .get(id)
                .map(|price| price * percent.as_percent() / 100.0)
        };
        cost(&self.old.id, self.old_percent).zip(cost(&self.new.id, self.percent))
    }
}
