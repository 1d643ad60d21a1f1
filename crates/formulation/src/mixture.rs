//! The one expansion of a variant: what every line brings in, and how each part stands.
//!
//! A raw material is opened up here and nowhere else. Composition, law, label, solver and
//! reports read the same contributions; where their figures differ they look at another
//! [`View`] of them, which is named wherever it is shown.

use std::sync::Arc;

use crate::cas::Cas;
use crate::formula::{Formula, ItemId, Line, Variant};
use crate::inci::{Inci, equal_as_spelt};
use crate::material::{Class, Constituent, Hazard, Material, MaterialId};
use crate::purpose::{Purpose, PurposeGround, Served, of_constituent};
use crate::quantity::{MassFraction, Percent, Spread, in_kg_per_m3};
use crate::served::Setting;

/// How a constituent stands in its raw material.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum IngredientStatus {
    /// An ingredient of its own.
    Ingredient,
    /// A perfume or natural oil whose components are stated as well; declared whole.
    Whole,
    /// A component of such, contained in its weight.
    Component,
    /// Present but no ingredient, for a reason the material states.
    Incidental,
    /// Water that belongs to a solid raw material, or a trace of it in a liquid one.
    Moisture,
}

impl IngredientStatus {
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Ingredient => "ingredient",
            Self::Whole => "as declared, with its components",
            Self::Component => "component of a perfume or natural oil",
            Self::Incidental => "incidental",
            Self::Moisture => "moisture of a raw material",
        }
    }
}

/// Which of two true accounts of the same mixture a figure belongs to.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum View {
    /// A perfume or natural oil counts whole, with all its components: as it is weighed,
    /// limited by law and named on the label.
    AsDeclared,
    /// Its components count apart, and the oil with what is left of it: each substance once.
    ByComponent,
}

impl View {
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::AsDeclared => "as declared",
            Self::ByComponent => "by component",
        }
    }
}

/// A constituent of a material with its share of it, before any formula.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Content<'m> {
    /// The constituent.
    pub constituent: &'m Constituent,
    /// How it stands.
    pub standing: IngredientStatus,
    /// Share of the material, each substance once.
    pub by_component: Spread,
    /// Share of the material, a perfume or natural oil whole.
    pub as_declared: Spread,
}

impl Content<'_> {
    /// Share of the material in a view.
    pub const fn share(&self, view: View) -> Spread {
        match view {
            View::AsDeclared => self.as_declared,
            View::ByComponent => self.by_component,
        }
    }
}

/// Opens up a material.
pub fn contents(material: &Material) -> impl Iterator<Item = Content<'_>> {
    let scent = material.scent();
    let composed = scent.is_some() && material.constituents.iter().any(is_component);
    let dry = !lists_water(material);
    material.constituents.iter().map(move |constituent| {
        let standing = if constituent.incidental.is_some() {
            if composed && is_component(constituent) {
                IngredientStatus::Component
            } else {
                IngredientStatus::Incidental
            }
        } else if composed && scent.is_some_and(|s| std::ptr::eq(s, constituent)) {
            IngredientStatus::Whole
        } else if dry && constituent.class == Class::Water {
            IngredientStatus::Moisture
        } else {
            IngredientStatus::Ingredient
        };
        Content {
            constituent,
            standing,
            by_component: constituent.share,
            as_declared: if standing == IngredientStatus::Whole {
                material.share_with_components(constituent, scent)
            } else {
                constituent.share
            },
        }
    })
}

/// Typical share of a material, 0 to 1, of the contents that a condition picks, in a view.
pub fn share_of(material: &Material, view: View, pick: impl Fn(&Content<'_>) -> bool) -> f64 {
    let picked = contents(material).filter(|c| pick(c));
    picked.map(|c| c.share(view).typical.value()).sum()
}

/// Whether a constituent is a component of its material's perfume or oil, if it has one.
fn is_component(constituent: &Constituent) -> bool {
    constituent.class == Class::Fragrance && constituent.incidental.is_some()
}

/// Up to this share water is the moisture of a solid, 12 % in starch, 15 % in carmine; above
/// it, it dissolves or disperses. Common practice, no source.
const MOISTURE: f64 = 0.16;

/// Up to this share water is a trace of a liquid that is not watery, such as 3 % in a
/// polysorbate. Common practice, no source.
const TRACE: f64 = 0.05;

/// Above this density, kg/m³, a material is a mineral or salt and not a liquid that contains
/// water; the densest usual liquid, 85 % phosphoric acid, has 1,685.
const SOLID_KG_M3: f64 = 2000.0;

/// Whether the water of a material is an ingredient: it was added to make the material or
/// serves as its solvent. The moisture of a powder and the trace in a liquid are not.
fn lists_water(material: &Material) -> bool {
    let water = material.share_of(Class::Water).value();
    if water > MOISTURE {
        return true;
    }
    let density = material.density.as_ref().map(|d| in_kg_per_m3(d.value));
    let main = material.main_constituent().map(|c| c.class);
    let solid = material.hazards.contains(&Hazard::Dust)
        || density.is_some_and(|d| d > SOLID_KG_M3)
        || density.is_none()
            && !matches!(
                main,
                None | Some(
                    Class::Surfactant(_)
                        | Class::Humectant
                        | Class::Oil
                        | Class::Solvent
                        | Class::Fragrance
                        | Class::Emulsifier
                )
            );
    !solid && water > TRACE
}

/// What one constituent of one line brings into the mixture.
#[derive(Clone, Debug)]
pub struct Contribution {
    /// The line.
    pub line: ItemId,
    /// Place of the line among all lines, from 0.
    pub place: usize,
    /// Its material.
    pub material: Arc<Material>,
    /// INCI name.
    pub inci: Inci,
    /// CAS number.
    pub cas: Option<Cas>,
    /// What it is counted as.
    pub class: Class,
    /// How it stands.
    pub standing: IngredientStatus,
    /// Why it is no ingredient, if it is none.
    pub incidental: Option<Arc<str>>,
    /// Share of the material, a perfume or natural oil whole.
    pub unit: Spread,
    /// Share of the formula, each substance once.
    pub by_component: Spread,
    /// Share of the formula, a perfume or natural oil whole.
    pub as_declared: Spread,
    /// What it is there for.
    pub served: Served,
    /// Whether its whole line is surely there to preserve, with a material of which it is stated
    /// how it preserves: then a preservative in it preserves, whatever it is counted as.
    pub in_preservative: bool,
}

equal_as_spelt!(Contribution: names inci; rest line, place, material, cas, class, standing, incidental, unit, by_component, as_declared, served, in_preservative);

impl Contribution {
    /// Share of the formula in a view. A component of a perfume counts with the perfume as
    /// declared; its own share is the same in both views.
    pub const fn share(&self, view: View) -> Spread {
        match view {
            View::AsDeclared => self.as_declared,
            View::ByComponent => self.by_component,
        }
    }
    /// Whether it is an ingredient in the sense of the label.
    pub const fn is_listed(&self) -> bool {
        matches!(
            self.standing,
            IngredientStatus::Ingredient | IngredientStatus::Whole
        )
    }
}

/// One line of the mixture.
#[derive(Clone, PartialEq, Debug)]
pub struct MixtureLine {
    /// The line.
    pub line: ItemId,
    /// The phase that holds it.
    pub phase: ItemId,
    /// Its percentage.
    pub percent: Percent,
    /// What it is called on the shelf.
    pub id: MaterialId,
    /// Its material, if the formula carries it.
    pub material: Option<Arc<Material>>,
    /// Share of the formula whose composition is not known.
    pub unknown: MassFraction,
    /// What it is there for.
    pub served: Served,
}

impl MixtureLine {
    /// Share of the whole formula, 0 to 1.
    pub fn share(&self) -> f64 {
        self.percent.fraction().value()
    }
    /// The name of its material, or what it is called where the formula does not carry it.
    pub fn name(&self) -> Arc<str> {
        match &self.material {
            Some(material) => material.name.clone(),
            None => self.id.as_str().into(),
        }
    }
}

/// A variant with every raw material opened up.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Mixture {
    /// Line by line, in working order.
    pub lines: Vec<MixtureLine>,
    /// What they bring in, in the order of lines and of constituents in their materials.
    pub contributions: Vec<Contribution>,
}

impl Mixture {
    /// Opens up a variant. A line whose material the formula does not carry is unknown.
    pub fn of(formula: &Formula, variant: &Variant) -> Self {
        let materials = variant.lines().map(|(_, l)| formula.material(&l.material));
        let materials: Vec<Option<&Arc<Material>>> = materials.collect();
        let lines = || variant.lines().zip(materials.iter().copied());
        let setting = Setting::of_lines(lines().map(|((_, l), m)| (l, m.map(AsRef::as_ref))));
        let mut mixture = Self {
            lines: Vec::with_capacity(materials.len()),
            contributions: Vec::with_capacity(192),
        };
        for ((phase, line), material) in lines() {
            let served = setting.purpose_with(line, material.map(AsRef::as_ref));
            let unknown = match material {
                Some(material) => mixture.add(served, line, material),
                None => line.percent.fraction(),
            };
            mixture.lines.push(MixtureLine {
                line: line.id,
                phase: phase.id,
                percent: line.percent,
                id: line.material.clone(),
                material: material.cloned(),
                unknown,
                served,
            });
        }
        mixture
    }

    /// Adds what a line brings in; returns what of it is not known.
    fn add(&mut self, served: Served, line: &Line, material: &Arc<Material>) -> MassFraction {
        let whole = line.percent.fraction();
        let place = self.lines.len();
        let water = material.share_of(Class::Water).value();
        let in_preservative = material.preservation.is_some()
            && served.purpose == Purpose::Preservative
            && served.ground != PurposeGround::Likely;
        for content in contents(material) {
            let c = content.constituent;
            self.contributions.push(Contribution {
                line: line.id,
                place,
                material: material.clone(),
                inci: c.inci.clone(),
                cas: c.cas,
                class: c.class,
                standing: content.standing,
                incidental: c.incidental.clone(),
                unit: content.as_declared,
                by_component: content.by_component.of(whole),
                as_declared: content.as_declared.of(whole),
                served: of_constituent(served, water, c),
                in_preservative,
            });
        }
        material.unknown_share().of(whole)
    }
}

#[cfg(test)]
#[path = "mixture_tests.rs"]
mod tests;
