//! The formula as the solver sees it: one unknown for each line, and what each
//! line brings in for one percent of it.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::prelude::ToPrimitive as _;

use crate::chemistry::adjust::{ph_with_base, unstated_base};
use crate::chemistry::emulsion::{MINOR_OIL, hlb_of, is_emulsifier, outside_hlb};
use crate::composition;
use crate::cost::price_per_kilogram;
use crate::evaluation::{self, Context, Evaluation};
use crate::formula::{Date, Formula, ItemId, Line, Measured, Variant};
use crate::inci::Inci;
use crate::material::{Class, Material, MaterialId, PhaseKind};
use crate::mixture::{self, Content, View};
use crate::naming::spelling::nearest;
use crate::naming::{Named, named};
use crate::quantity::{Mass, Percent, Ph, grams};
use crate::stock::{LotUsage, Stock};
use crate::trial::learn::{Expected, Learnt, Lessons};
use crate::trial::reading::Quantity as Reading;

use super::target::{CostBasis, TargetQuantity};

/// What the maker has, what it costs, and what the maker's trials have taught.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Supply {
    /// Price of a kilogram in the currency of the shelf; materials that are not
    /// listed have no known price.
    pub price_per_kg: BTreeMap<MaterialId, f64>,
    /// Usable stock; that of materials that are not listed is not known.
    pub stock: BTreeMap<MaterialId, Mass>,
    /// What trials of the formula have taught.
    pub lessons: Lessons,
}

impl Supply {
    /// What the stock says of materials on a day: their prices as
    /// [`price_per_kilogram`] finds them, and what is left of them in usable lots. A
    /// material without a lot has none, unless the stock has no lot at all: then nothing
    /// is known of what is there.
    pub fn of_stock<'m>(
        stock: &Stock,
        usage: &LotUsage,
        day: Date,
        materials: impl IntoIterator<Item = &'m MaterialId>,
    ) -> Self {
        let mut supply = Self::default();
        for id in materials {
            let price = price_per_kilogram(id, stock).ok();
            if let Some(price) = price.and_then(|p| p.amount.to_f64()) {
                supply.price_per_kg.insert(id.clone(), price);
            }
            if !stock.lots.is_empty() {
                let left = stock.usable(id, usage, day).as_grams();
                supply.stock.insert(id.clone(), grams(left));
            }
        }
        supply
    }
}

/// A material that may be added to the formula.
#[derive(Clone, Debug, PartialEq)]
pub struct AddableMaterial {
    /// The material.
    pub material: Arc<Material>,
    /// The phase it would go into.
    pub phase: ItemId,
}

/// One unknown: the percentage of one line.
#[derive(Clone, Debug)]
pub struct Unknown {
    /// The line, or the line it would become.
    pub line: ItemId,
    /// Its material; `None` if the formula does not carry it.
    pub material: Option<Arc<Material>>,
    /// Name shown.
    pub name: Arc<str>,
    /// Percentage at present; 0 for a candidate.
    pub present: Percent,
    /// No automatic step may change it.
    pub held: bool,
    /// The maker's own lowest percentage.
    pub min: Option<Percent>,
    /// The maker's own highest percentage.
    pub max: Option<Percent>,
    /// Whether it stands in an oil phase.
    pub in_oil_phase: bool,
    /// Whether it is not in the formula yet.
    pub candidate: bool,
}

/// A formula variant, extended by candidate lines at 0 %, as a list of unknowns.
#[derive(Clone, Debug)]
pub struct Subject<'a> {
    formula: Formula,
    variant: Variant,
    context: &'a Context,
    supply: &'a Supply,
    unknowns: Vec<Unknown>,
    asked_ph: Option<Ph>,
    /// What brings the estimated pH to the one measured; see [`Self::ph_of`].
    unstated_base: Option<f64>,
}

/// A quantity as weights of the unknowns (percent of each line), divided by
/// another weighted sum if it is a ratio.
#[derive(Clone, PartialEq, Debug)]
pub struct LinearRatio {
    /// Weights of the sum.
    pub top: Vec<f64>,
    /// Weights of the sum it is divided by.
    pub bottom: Option<Vec<f64>>,
}

impl LinearRatio {
    /// A sum.
    pub const fn sum(top: Vec<f64>) -> Self {
        Self { top, bottom: None }
    }
    /// The value at a point; `None` if it divides by nothing.
    pub fn value(&self, x: &[f64]) -> Option<f64> {
        let top = dot(&self.top, x);
        match &self.bottom {
            None => Some(top),
            Some(bottom) => {
                let bottom = dot(bottom, x);
                (bottom > 1e-9).then(|| top / bottom)
            }
        }
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// A value that materials may lack.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Lack {
    /// What a kilogram costs.
    Price,
    /// The natural origin index.
    NaturalOrigin,
    /// The HLB that an oil needs.
    RequiredHlb,
}

impl Lack {
    /// The value in words.
    const fn words(self) -> &'static str {
        match self {
            Self::Price => "the price",
            Self::NaturalOrigin => "the natural origin index",
            Self::RequiredHlb => "the HLB it needs",
        }
    }
    /// What to do.
    const fn remedy(self) -> &'static str {
        match self {
            Self::Price => "enter what a kilogram costs, 0 if nothing",
            Self::NaturalOrigin | Self::RequiredHlb => "enter it on the Shelf under the material",
        }
    }
}

/// One name, or how many there are with the first of them.
fn some_of(names: &[String]) -> String {
    const SHOWN: usize = 4;
    let count = names.len();
    match names {
        [name] => name.clone(),
        [first @ .., _, _] if first.len() >= SHOWN => format!(
            "{count} materials ({} and {} more)",
            names[..SHOWN].join("; "),
            count - SHOWN
        ),
        _ => format!("{count} materials ({})", names.join("; ")),
    }
}

/// Why a quantity cannot be computed for a formula.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FormError {
    /// No ingredient or line of that name.
    #[error("the formula has no ingredient and no line named “{name}”{}", .near.as_ref().map_or(String::new(), |n| format!("; did you mean “{n}”?")))]
    NoSuchName {
        /// What was asked for.
        name: Arc<str>,
        /// A similar name that is there.
        near: Option<String>,
    },
    /// A name that fits several lines.
    #[error("“{name}” may be any of {}; write the whole name", .of.join("; "))]
    SeveralOfName {
        /// What was asked for.
        name: Arc<str>,
        /// What it may be.
        of: Vec<String>,
    },
    /// Some materials lack a value.
    #[error(
        "{what} cannot be computed, because {} is not known for {}; {}",
        .lack.words(),
        some_of(.of),
        .lack.remedy()
    )]
    Unknown {
        /// The quantity.
        what: String,
        /// What is missing.
        lack: Lack,
        /// Names of the materials.
        of: Vec<String>,
    },
    /// There is nothing the quantity could be made of.
    #[error("{what} cannot be aimed at: {why}")]
    Nothing {
        /// The quantity.
        what: String,
        /// What is missing.
        why: &'static str,
    },
}

impl<'a> Subject<'a> {
    /// The variant with its lines in working order; candidates stand last in their
    /// phases. A candidate whose material a line of its phase already has, or whose
    /// phase is not there, is left out.
    pub fn new(
        formula: &Formula,
        variant: &Variant,
        context: &'a Context,
        supply: &'a Supply,
        candidates: &[AddableMaterial],
    ) -> Self {
        let mut formula = formula.clone();
        let mut variant = variant.clone();
        let mut added = Vec::new();
        for candidate in candidates {
            let id = ItemId(formula.take_id());
            let Some(phase) = variant.phases.iter_mut().find(|p| p.id == candidate.phase) else {
                continue;
            };
            let material = &candidate.material;
            if phase.lines.iter().any(|l| l.material == material.id) {
                continue;
            }
            formula
                .materials
                .entry(material.id.clone())
                .or_insert_with(|| material.clone());
            Arc::make_mut(phase).lines.push(Line {
                id,
                material: material.id.clone(),
                percent: Percent::ZERO,
                why: "".into(),
                held: false,
                min: None,
                max: None,
                purpose: None,
            });
            added.push(id);
        }
        let unknowns = variant
            .lines()
            .map(|(phase, line)| {
                let material = formula.material(&line.material).cloned();
                Unknown {
                    line: line.id,
                    name: material
                        .as_ref()
                        .map_or_else(|| line.material.as_str().into(), |m| m.name.clone()),
                    material,
                    present: line.percent,
                    held: line.held && !variant.is_filler(line.id),
                    min: line.min,
                    max: line.max,
                    in_oil_phase: phase.kind == PhaseKind::Oil,
                    candidate: added.contains(&line.id),
                }
            })
            .collect();
        let mut subject = Self {
            formula,
            variant,
            context,
            supply,
            unknowns,
            asked_ph: None,
            unstated_base: None,
        };
        subject.unstated_base = subject.variant.measured.ph.and_then(|measured| {
            let acidity = &subject.evaluate_present().estimates.ph;
            unstated_base(acidity, measured.value())
        });
        subject
    }

    /// The pH of the middle case at other percentages. Where it was measured on the present
    /// formula, what the materials do not state, as much of it as the measurement tells, is taken
    /// to go along.
    pub fn ph_of(&self, evaluation: &Evaluation) -> Option<f64> {
        let acidity = &evaluation.estimates.ph;
        match self.unstated_base {
            Some(base) => ph_with_base(acidity, base),
            // Without its acid a wash may be known so little that no figure is shown for it.
            None => acidity.middle.or(acidity.guess),
        }
    }

    /// The same, judged at another pH than the variant aims at.
    pub fn at_ph(&self, ph: Ph) -> Self {
        Self {
            asked_ph: Some(ph),
            ..self.clone()
        }
    }
    /// The pH it is judged at where the estimate is too wide: the one asked for, else the
    /// one that the variant aims at.
    pub fn aimed_ph(&self) -> Option<Ph> {
        self.asked_ph.or(self.variant.target_ph)
    }

    /// The unknowns, in working order.
    pub fn unknowns(&self) -> &[Unknown] {
        &self.unknowns
    }
    /// How many unknowns there are.
    pub fn len(&self) -> usize {
        self.unknowns.len()
    }
    /// Whether the formula has no line.
    pub fn is_empty(&self) -> bool {
        self.unknowns.is_empty()
    }
    /// The formula with the candidates' materials.
    pub fn formula(&self) -> &Formula {
        &self.formula
    }
    /// The variant with the candidate lines.
    pub fn variant(&self) -> &Variant {
        &self.variant
    }
    /// What the maker has and what it costs.
    pub fn supply(&self) -> &Supply {
        self.supply
    }
    /// What trials have taught of a reading.
    ///
    /// # Errors
    /// That they have taught nothing.
    pub fn learnt(&self, reading: Reading) -> Result<&'a Learnt, FormError> {
        let supply: &'a Supply = self.supply;
        supply
            .lessons
            .on(reading)
            .ok_or_else(|| FormError::Nothing {
                what: reading.label().to_owned(),
                why: "no trials have taught it; it takes four readings or more, of states that differ in a material (see Trials)",
            })
    }
    /// The shares of what varied in the trials, as parts of one, at percentages.
    pub fn place(&self, learnt: &Learnt, x: &[f64]) -> Vec<f64> {
        let of = |id: &MaterialId| {
            let lines = self.unknowns.iter().zip(x);
            let its = lines.filter(|(u, _)| u.material.as_ref().is_some_and(|m| m.id == *id));
            its.map(|(_, percent)| percent / 100.0).sum()
        };
        learnt.from.varying.iter().map(of).collect()
    }
    /// What is expected of a reading at percentages; `None` if trials have not taught it.
    pub fn expected(&self, reading: Reading, x: &[f64]) -> Option<Expected> {
        let learnt = self.learnt(reading).ok()?;
        Some(learnt.at(&self.place(learnt, x)))
    }

    /// The line that takes up the rest to 100: the filler if it is free, else the largest free
    /// line.
    pub fn balance_line(&self, percents: &[f64], is_free: impl Fn(usize) -> bool) -> usize {
        let largest = || {
            (0..percents.len())
                .filter(|&i| is_free(i))
                .max_by(|&a, &b| percents[a].total_cmp(&percents[b]))
        };
        let filler = self.filler().filter(|&i| is_free(i));
        filler.or_else(largest).unwrap_or(0)
    }

    /// The present percentages.
    pub fn present(&self) -> Vec<f64> {
        self.unknowns
            .iter()
            .map(|u| u.present.as_percent())
            .collect()
    }
    /// Place of the filler line.
    pub fn filler(&self) -> Option<usize> {
        let filler = self.variant.filler?;
        self.unknowns.iter().position(|u| u.line == filler)
    }
    /// The variant with other percentages, nearest exact; missing ones are kept.
    pub fn variant_at(&self, percents: &[Percent]) -> Variant {
        let mut variant = self.variant.clone();
        let mut percents = percents.iter();
        for phase in &mut variant.phases {
            for line in &mut Arc::make_mut(phase).lines {
                if let Some(percent) = percents.next() {
                    line.percent = *percent;
                }
            }
        }
        variant
    }
    /// Everything that follows from other percentages. What was measured on the present
    /// formula does not count for them.
    pub fn evaluate_at(&self, percents: &[Percent]) -> Evaluation {
        let mut variant = self.variant_at(percents);
        variant.target_ph = self.aimed_ph();
        self.evaluate(variant)
    }
    /// Everything that follows from the present percentages, nothing measured, at the pH that
    /// the variant itself aims at.
    pub fn evaluate_present(&self) -> Evaluation {
        self.evaluate(self.variant.clone())
    }
    fn evaluate(&self, mut variant: Variant) -> Evaluation {
        variant.measured = Measured::default();
        evaluation::evaluate(&self.formula, &variant, self.context)
    }

    /// A weight for each unknown from its material; a line without a material, or
    /// for which the value is missing, counts as missing unless it is held at 0.
    fn weigh(
        &self,
        what: &TargetQuantity,
        lack: Lack,
        weight: impl Fn(&Unknown, &Material) -> Option<f64>,
    ) -> Result<Vec<f64>, FormError> {
        let mut of: Vec<String> = Vec::new();
        let weights = self
            .unknowns
            .iter()
            .map(|unknown| {
                let value = unknown.material.as_ref().and_then(|m| weight(unknown, m));
                value.unwrap_or_else(|| {
                    let absent = unknown.held && unknown.present == Percent::ZERO;
                    if !absent && !of.iter().any(|name| **name == *unknown.name) {
                        of.push(unknown.name.to_string());
                    }
                    0.0
                })
            })
            .collect();
        if of.is_empty() {
            Ok(weights)
        } else {
            Err(FormError::Unknown {
                what: what.words(),
                lack,
                of,
            })
        }
    }

    /// Typical share of the contents that a condition picks, in a view of the mixture.
    fn share(&self, view: View, pick: impl Fn(&Content<'_>) -> bool) -> Vec<f64> {
        let of_material = |material: &Material| mixture::share_of(material, view, &pick);
        self.unknowns
            .iter()
            .map(|u| u.material.as_deref().map_or(0.0, of_material))
            .collect()
    }

    /// A substance, a perfume or natural oil whole: as declared, as the law and the label
    /// count it.
    fn constituent(&self, name: &str) -> Option<Vec<f64>> {
        let weights = self.share(View::AsDeclared, |c| c.constituent.inci.is(name));
        weights.iter().any(|w| *w > 0.0).then_some(weights)
    }

    /// The lines of the material that a name means.
    fn line(&self, name: &Arc<str>) -> Result<Vec<f64>, FormError> {
        let materials = self.unknowns.iter().filter_map(|u| u.material.as_ref());
        let material = match named(name, materials) {
            Named::One(material) => Some(&material.id),
            Named::Nothing => None,
            Named::Several(several) => {
                return Err(FormError::SeveralOfName {
                    name: name.clone(),
                    of: several.iter().map(|m| m.name.to_string()).collect(),
                });
            }
        };
        let is_it = |u: &Unknown| match material {
            Some(id) => u.material.as_ref().is_some_and(|m| m.id == *id),
            // A line whose material is not known goes by its name alone.
            None => u.name.eq_ignore_ascii_case(name),
        };
        let weights: Vec<f64> = self
            .unknowns
            .iter()
            .map(|u| f64::from(u8::from(is_it(u))))
            .collect();
        if weights.iter().any(|w| *w > 0.0) {
            Ok(weights)
        } else {
            Err(self.no_such(name))
        }
    }

    fn no_such(&self, name: &Arc<str>) -> FormError {
        let names = self.unknowns.iter().flat_map(|u| {
            let inci = u.material.iter().flat_map(|m| m.inci_names());
            inci.map(Inci::spelling).chain([&*u.name])
        });
        let near = nearest(name, names, 1).first().map(ToString::to_string);
        FormError::NoSuchName {
            name: name.clone(),
            near,
        }
    }

    /// A quantity as weights of the unknowns. pH and preservation are not sums of
    /// lines and are refused; so is the need of the oils. `density_g_per_ml` serves
    /// the cost of a container by volume.
    pub fn form(
        &self,
        quantity: &TargetQuantity,
        density_g_per_ml: Option<f64>,
    ) -> Result<LinearRatio, FormError> {
        let nothing = |why| FormError::Nothing {
            what: quantity.words(),
            why,
        };
        let form = match quantity {
            TargetQuantity::Active(None) => LinearRatio::sum(self.share(View::ByComponent, |c| {
                matches!(c.constituent.class, Class::Surfactant(_))
            })),
            TargetQuantity::Active(Some(charge)) => {
                LinearRatio::sum(self.share(View::ByComponent, |c| {
                    c.constituent.class == Class::Surfactant(*charge)
                }))
            }
            TargetQuantity::Class(class) => {
                LinearRatio::sum(self.share(View::ByComponent, |c| c.constituent.class == *class))
            }
            TargetQuantity::OilPhase => LinearRatio::sum(
                self.unknowns
                    .iter()
                    .map(|u| f64::from(u8::from(u.in_oil_phase)))
                    .collect(),
            ),
            TargetQuantity::Constituent(name) => {
                LinearRatio::sum(self.constituent(name).ok_or_else(|| self.no_such(name))?)
            }
            TargetQuantity::Line(name) => LinearRatio::sum(self.line(name)?),
            TargetQuantity::Named(name) => LinearRatio::sum(match self.constituent(name) {
                Some(weights) => weights,
                None => self.line(name)?,
            }),
            TargetQuantity::Cost(basis) => {
                let grams = match *basis {
                    CostBasis::Kilogram => 1000.0,
                    CostBasis::Grams(grams) => grams,
                    CostBasis::Millilitres(ml) => {
                        ml * density_g_per_ml.ok_or_else(|| {
                            nothing("the density of the formula is not known; give the container in grams, or record a measured density")
                        })?
                    }
                };
                let mut prices = self.weigh(quantity, Lack::Price, |_, m| {
                    self.supply.price_per_kg.get(&m.id).copied()
                })?;
                for price in &mut prices {
                    *price *= grams / 1000.0 / 100.0;
                }
                LinearRatio::sum(prices)
            }
            TargetQuantity::NaturalOrigin => {
                let indices = self.weigh(quantity, Lack::NaturalOrigin, |_, m| {
                    // Water counts as natural (ISO 16128-1); the index is that of the rest.
                    let water = if composition::is_water(m) {
                        1.0
                    } else {
                        m.share_of(Class::Water).value().min(1.0)
                    };
                    if water >= 1.0 {
                        return Some(1.0);
                    }
                    let index = m.natural_origin.as_ref()?.value.low.clamp(0.0, 1.0);
                    Some(water + (1.0 - water) * index)
                })?;
                LinearRatio::sum(indices.iter().map(|i| i / 100.0).collect())
            }
            TargetQuantity::Hlb => {
                // As the estimate counts: non-ionic emulsifiers by the part that works.
                let works = |m: &Material| {
                    let counts = is_emulsifier(m) && outside_hlb(m).is_none();
                    let (hlb, share) = hlb_of(m);
                    hlb.filter(|_| counts).map(|h| (h, share))
                };
                self.mean(|_, m| works(m)).ok_or_else(|| {
                    nothing("no non-ionic emulsifier of the formula has an HLB value")
                })?
            }
            TargetQuantity::Sum(parts) => {
                let mut weights = vec![0.0; self.len()];
                for part in parts {
                    let form = self.form(part, density_g_per_ml)?;
                    for (weight, more) in weights.iter_mut().zip(form.top) {
                        *weight += more;
                    }
                }
                LinearRatio::sum(weights)
            }
            TargetQuantity::Ratio(top, bottom) => {
                let top = self.form(top, density_g_per_ml)?.top;
                let bottom = self.form(bottom, density_g_per_ml)?.top;
                if bottom.iter().all(|w| *w <= 0.0) {
                    return Err(nothing(
                        "no line of the formula has any of what it would be divided by",
                    ));
                }
                LinearRatio {
                    top,
                    bottom: Some(bottom),
                }
            }
            TargetQuantity::Ph | TargetQuantity::Preservation | TargetQuantity::Learnt(_) => {
                return Err(nothing("it is not a sum over the lines"));
            }
        };
        Ok(form)
    }

    /// The mean by weight of a value over the lines that have one.
    fn mean(
        &self,
        value: impl Fn(&Unknown, &Material) -> Option<(f64, f64)>,
    ) -> Option<LinearRatio> {
        let (mut top, mut bottom) = (vec![0.0; self.len()], vec![0.0; self.len()]);
        for (i, unknown) in self.unknowns.iter().enumerate() {
            let found = unknown.material.as_ref().and_then(|m| value(unknown, m));
            if let Some((value, weight)) = found {
                top[i] = value * weight;
                bottom[i] = weight;
            }
        }
        bottom.iter().any(|b| *b > 0.0).then_some(LinearRatio {
            top,
            bottom: Some(bottom),
        })
    }

    /// Names of the oils of which nobody has said what HLB they need; the carrier of an
    /// extract does not count.
    pub fn untold_oils(&self) -> Vec<String> {
        let untold = self.unknowns.iter().filter(|u| untold_oil(u) > 0.0);
        untold.map(|u| u.name.to_string()).collect()
    }

    /// The HLB the oils need, as a mean by weight over the materials that need one, as the
    /// estimate counts them. A few oils of which it is not known are left out.
    pub fn required_hlb(&self) -> Result<LinearRatio, FormError> {
        let what = TargetQuantity::Hlb;
        let oil = |of: &dyn Fn(&Unknown) -> f64| -> f64 {
            let unknowns = self.unknowns.iter();
            unknowns.map(|u| u.present.as_percent() * of(u)).sum()
        };
        let all = oil(&|u| {
            let oily = u.material.iter().filter(|m| !is_emulsifier(m));
            oily.map(|m| m.share_of(Class::Oil).value()).sum()
        });
        let may_be_added = |u: &Unknown| u.candidate && untold_oil(u) > 0.0;
        if oil(&untold_oil) > MINOR_OIL * all || self.unknowns.iter().any(may_be_added) {
            return Err(FormError::Unknown {
                what: what.words(),
                lack: Lack::RequiredHlb,
                of: self.untold_oils(),
            });
        }
        self.mean(|_, m| {
            let need = m.required_hlb.as_ref().filter(|_| !is_emulsifier(m));
            need.map(|h| (h.value, 1.0))
        })
        .ok_or_else(|| FormError::Nothing {
            what: what.words(),
            why: "no line of the formula is an oil that needs an HLB",
        })
    }
}

/// The share of oil in a material of which nobody has said what HLB it needs.
fn untold_oil(unknown: &Unknown) -> f64 {
    let material = unknown.material.as_ref();
    material
        .filter(|m| !is_emulsifier(m) && m.required_hlb.is_none())
        .map(|m| m.share_of(Class::Oil).value())
        .filter(|oil| *oil > MINOR_OIL)
        .unwrap_or(0.0)
}
