//! A raw material: what the jar contains and how it may be used, each value with
//! its source.

mod alkalinity;
mod class;
mod handling;
mod levels;
mod preservation;
mod role;
mod source;
mod value;

use std::fmt;
use std::sync::Arc;

pub use self::alkalinity::{Alkalinity, Titration};
pub use self::class::{Charge, Class};
pub use self::handling::{Hazard, WettingMedium};
pub use self::levels::{FragranceLevel, UseRange};
pub use self::preservation::{Coverage, Preservation};
pub use self::role::{PhaseKind, Role};
pub use self::source::{Basis, Source, Sourced};
pub use self::value::{Counted, Ends, Figures, MaterialValue, ValueRow};
pub(crate) use self::value::{figure_fields, other_fields, without_figures};
use crate::cas::Cas;
use crate::inci::{Inci, equal_as_spelt};
use crate::kinds::Kinds;
pub use crate::kinds::ProductKind;
use crate::quantity::{MassDensity, MassFraction, PhRange, Spread, Temperature};

/// The stable name of a material on the shelf: lower-case words joined by hyphens.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct MaterialId(Arc<str>);

impl MaterialId {
    /// Makes an id from any text by keeping letters and digits in lower case.
    pub fn from_name(name: &str) -> Self {
        let mut id = String::with_capacity(name.len());
        for c in name.chars() {
            if c.is_alphanumeric() {
                id.extend(c.to_lowercase());
            } else if !id.is_empty() && !id.ends_with('-') {
                id.push('-');
            }
        }
        Self(id.trim_end_matches('-').into())
    }
    /// The text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for MaterialId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}
impl fmt::Debug for MaterialId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// One substance in a raw material.
#[derive(Clone, Debug)]
pub struct Constituent {
    /// INCI name, in the usual mixed-case spelling.
    pub inci: Inci,
    /// CAS number if one is assigned.
    pub cas: Option<Cas>,
    /// Share of the material: low, typical, high.
    pub share: Spread,
    /// What it is counted as.
    pub class: Class,
    /// Present in the raw material but not an ingredient to be listed by itself
    /// (for example a processing residue), with the reason.
    pub incidental: Option<Arc<str>>,
    /// Source of the share, where it differs from the material's.
    pub source: Option<Source>,
}

equal_as_spelt!(Constituent: names inci; rest cas, share, class, incidental, source);

/// Share of natural origin by ISO 16128, excluding formulation water.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct NaturalOrigin {
    /// Lowest index, 0 to 1.
    pub low: f64,
    /// Highest index, 0 to 1.
    pub high: f64,
}

/// A raw material: one jar on the shelf.
#[derive(Clone, PartialEq, Debug)]
pub struct Material {
    /// Stable identity.
    pub id: MaterialId,
    /// Trade name in generic words.
    pub name: Arc<str>,
    /// Other names by which it is found.
    pub synonyms: Vec<Arc<str>>,
    /// The maker's supplier.
    pub supplier: Option<Arc<str>>,
    /// What it contains; shares add up to at most 1, the rest is unknown.
    pub constituents: Vec<Constituent>,
    /// What it does.
    pub roles: Vec<Role>,
    /// Charge class of its surface-active or polymeric matter.
    pub charge: Option<Charge>,
    /// The kind of phase it usually goes into.
    pub phase: Option<PhaseKind>,
    /// Usual levels per kind of product.
    pub use_ranges: Vec<UseRange>,
    /// pH at which it is stable and works.
    pub ph_window: Option<Sourced<PhRange>>,
    /// Highest process temperature it bears.
    pub max_temperature: Option<Sourced<Temperature>>,
    /// Density at 20 °C unless the source says otherwise.
    pub density: Option<Sourced<MassDensity>>,
    /// HLB of an emulsifier or surfactant, Griffin's scale 0 to 20 (up to 40 for soaps).
    pub hlb: Option<Sourced<f64>>,
    /// HLB an oil requires for an oil-in-water emulsion.
    pub required_hlb: Option<Sourced<f64>>,
    /// Natural origin index by ISO 16128.
    pub natural_origin: Option<Sourced<NaturalOrigin>>,
    /// What to mind in handling.
    pub hazards: Vec<Hazard>,
    /// A gum or powder that must be wetted with one of these before water goes in.
    pub wet_with: Vec<WettingMedium>,
    /// Preservative data.
    pub preservation: Option<Preservation>,
    /// Effect on pH beyond the listed constituents.
    pub alkalinity: Alkalinity,
    /// Maximum levels of a fragrance per category, from the supplier's certificate.
    pub fragrance_levels: Vec<FragranceLevel>,
    /// Free words.
    pub note: Arc<str>,
    /// Source of every value that names none of its own.
    pub source: Source,
}

impl Material {
    /// An empty material of unknown composition, from which others are built.
    pub fn unknown(id: MaterialId, name: impl Into<Arc<str>>) -> Self {
        without_figures!({
            id,
            name: name.into(),
            synonyms: Vec::new(),
            supplier: None,
            constituents: Vec::new(),
            roles: Vec::new(),
            charge: None,
            phase: None,
            use_ranges: Vec::new(),
            hazards: Vec::new(),
            wet_with: Vec::new(),
            preservation: None,
            alkalinity: Alkalinity::Unknown {
                ph_as_sold: None,
                base_mmol_per_gram: None,
                source: Source::new(Basis::Practice, ""),
            },
            fragrance_levels: Vec::new(),
            note: "".into(),
            source: Source::new(Basis::Practice, "entered without a source"),
        })
    }

    /// A material that is the pure substance of one INCI name.
    pub fn pure(
        id: MaterialId,
        name: impl Into<Arc<str>>,
        inci: impl Into<Inci>,
        cas: Option<Cas>,
        class: Class,
    ) -> Self {
        let mut material = Self::unknown(id, name);
        material.constituents.push(Constituent {
            inci: inci.into(),
            cas,
            share: Spread::exact(MassFraction::ONE),
            class,
            incidental: None,
            source: None,
        });
        material.source = Source::new(Basis::Practice, "taken as the pure substance");
        material
    }

    /// The INCI names that are ingredients, in the order listed.
    pub fn inci_names(&self) -> impl Iterator<Item = &Inci> {
        self.constituents
            .iter()
            .filter(|c| c.incidental.is_none())
            .map(|c| &c.inci)
    }

    /// The INCI names joined with commas, as shown under the name.
    pub fn inci_line(&self) -> String {
        self.inci_names()
            .map(Inci::spelling)
            .collect::<Vec<&str>>()
            .join(", ")
    }

    /// The largest constituent that is neither water nor salt: what a solution is called by.
    pub fn main_constituent(&self) -> Option<&Constituent> {
        self.constituents
            .iter()
            .filter(|c| !matches!(c.class, Class::Water | Class::Electrolyte))
            .max_by(|a, b| a.share.typical.value().total_cmp(&b.share.typical.value()))
    }

    /// The part of the material that no constituent accounts for.
    pub fn unknown_share(&self) -> MassFraction {
        let known: MassFraction = self.constituents.iter().map(|c| c.share.typical).sum();
        let rest = 1.0 - known.value();
        // Below a millionth it is rounding of the data, not an unknown.
        if rest < 1e-6 {
            MassFraction::ZERO
        } else {
            MassFraction::new(rest)
        }
    }

    /// Whether it has a role.
    pub fn has_role(&self, role: Role) -> bool {
        self.roles.contains(&role)
    }

    /// Whether it can preserve a formula.
    pub fn can_preserve(&self) -> bool {
        self.preservation.is_some()
            || self.has_role(Role::Preservative)
            // A raw material that is itself preserved does not preserve the formula.
            || self.share_of(Class::Preservative).value() >= 0.2
                && !self.has_role(Role::PreservativeBooster)
    }

    /// The perfume or oil of a material to which its incidental scents belong: they are
    /// part of its weight.
    pub fn scent(&self) -> Option<&Constituent> {
        self.constituents
            .iter()
            .filter(|c| c.class == Class::Fragrance && c.incidental.is_none())
            .max_by(|a, b| a.share.typical.value().total_cmp(&b.share.typical.value()))
    }

    /// Share of a constituent in the material; of its [`Self::scent`], which is passed in,
    /// with all components. Where the whole composition is known, what is not the oil bounds
    /// it: an oil that is the only content is 100 %, however much its components vary.
    pub fn share_with_components(
        &self,
        constituent: &Constituent,
        scent: Option<&Constituent>,
    ) -> Spread {
        let is_scent = |c: &Constituent| scent.is_some_and(|s| s.inci.same_as(&c.inci));
        if !is_scent(constituent) {
            return constituent.share;
        }
        let is_part = |c: &&Constituent| {
            c.class == Class::Fragrance && (c.incidental.is_some() || is_scent(c))
        };
        let sum = |parts: &mut dyn Iterator<Item = &Constituent>| -> Spread {
            parts.map(|c| c.share).sum()
        };
        let parts = sum(&mut self.constituents.iter().filter(is_part));
        if self.unknown_share() > MassFraction::ZERO {
            return parts;
        }
        let others = sum(&mut self.constituents.iter().filter(|c| !is_part(c)));
        let rest = |taken: MassFraction| MassFraction::new((1.0 - taken.value()).max(0.0));
        Spread {
            low: parts.low.max(rest(others.high)).min(parts.typical),
            typical: parts.typical,
            high: parts.high.min(rest(others.low)).max(parts.typical),
        }
    }

    /// Typical share of all constituents of a class.
    pub fn share_of(&self, class: Class) -> MassFraction {
        self.constituents
            .iter()
            .filter(|c| c.class == class)
            .map(|c| c.share.typical)
            .sum()
    }

    /// The usual level for a kind of product.
    pub fn use_range(&self, kind: ProductKind) -> Option<&UseRange> {
        self.use_ranges.iter().find(|r| r.kind == kind)
    }

    /// The usual levels for the kinds of a product.
    pub fn use_ranges_in(&self, kinds: Kinds) -> impl Iterator<Item = &UseRange> {
        self.use_ranges
            .iter()
            .filter(move |r| kinds.contains(r.kind))
    }

    /// The usual level that binds in a product of these kinds: that which ends lowest.
    pub fn strictest_range(&self, kinds: Kinds) -> Option<&UseRange> {
        self.use_ranges_in(kinds).min_by_key(|r| r.high)
    }

    /// The lowest maximum that the supplier sets for these kinds of product.
    pub fn supplier_maximum(&self, kinds: Kinds) -> Option<&UseRange> {
        self.use_ranges_in(kinds)
            .filter(|r| r.supplier_maximum)
            .min_by_key(|r| r.high)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_are_plain_words() {
        assert_eq!(
            MaterialId::from_name("  Glycerin (99.5 %) ").as_str(),
            "glycerin-99-5"
        );
    }

    #[test]
    fn the_rest_of_a_solution_is_unknown_until_listed() {
        let mut m = Material::unknown(MaterialId::from_name("x"), "x");
        assert_eq!(m.unknown_share(), MassFraction::ONE);
        m.constituents.push(Constituent {
            inci: "Aqua".into(),
            cas: None,
            share: Spread::exact(MassFraction::from_percent(70.0)),
            class: Class::Water,
            incidental: None,
            source: None,
        });
        assert!((m.unknown_share().as_percent() - 30.0).abs() < 1e-9);
    }

    #[test]
    fn every_class_and_role_is_listed_once() {
        for (i, class) in Class::ALL.iter().enumerate() {
            assert_eq!(class.index(), i);
        }
        let mut roles = Role::ALL.to_vec();
        roles.sort();
        roles.dedup();
        assert_eq!(roles.len(), Role::ALL.len());
    }
}
