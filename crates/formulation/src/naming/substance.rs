//! The pure substance that a name or a number means, with what the lists know of it.

use std::sync::Arc;

use super::exact::Exact;
use super::fold::{self, plain};
use super::strength::NEARLY_PURE;
use crate::cas::Cas;
use crate::inci::Inci;
use crate::inventory::{InventoryName, charge_in_name, inventory};
use crate::material::{Alkalinity, Basis, Class, Constituent, Material, MaterialId, Role, Source};
use crate::rules::RuleBook;
use crate::rules::entry::List;

impl Exact<'_> {
    /// The pure substance of an INCI name, of another name that a list of rules uses, or
    /// of a CAS number, which the name may be itself.
    ///
    /// A name that ends in `(nano)` and is not listed as such is the nanomaterial of the
    /// substance of that name.
    ///
    /// # Errors
    /// Says that nothing is known under the name, with what is near.
    pub fn pure(&mut self, written: &str, stated: Option<Cas>) -> Result<Arc<Material>, String> {
        let found = self.substance(written, stated);
        let (Err(_), Some(base)) = (
            &found,
            lower(written).strip_suffix("(nano)").map(str::to_owned),
        ) else {
            return found;
        };
        let mut material = Material::clone(&*self.substance(base.trim(), stated)?);
        for constituent in &mut material.constituents {
            constituent.inci = format!("{} (nano)", constituent.inci).into();
        }
        material.name = format!("{} (nano)", material.name).into();
        material.id = MaterialId::from_name(&material.name);
        Ok(Arc::new(material))
    }

    fn substance(&mut self, written: &str, stated: Option<Cas>) -> Result<Arc<Material>, String> {
        let number = stated.or_else(|| written.parse().ok());
        let name = plain(written);
        let folded = fold::inci(written);
        let known = first_substance(self.containing(written, None), |c| {
            fold::inci(c.inci.spelling()) == folded
        })
        .or_else(|| {
            let number = number.filter(|_| stated.is_none())?;
            let holding = self.containing("", Some(number));
            first_substance(holding, |c| c.cas == Some(number))
        })
        .or_else(|| {
            let called = self.called(&name);
            first_substance(called, |c| c.share.typical.value() >= NEARLY_PURE)
        });
        let listed = [written, folded.as_str()]
            .into_iter()
            .find_map(|n| inventory().by_name(n))
            .or_else(|| inventory().by_cas(number?).next());
        let book = RuleBook::shared();
        let ruled = book.substance(number, &written.into());
        let (inci, cas): (Inci, _) = match (known, listed, ruled) {
            (Some(c), entry, _) => (c.inci.clone(), c.cas.or_else(|| entry.and_then(|e| e.cas))),
            (None, Some(entry), _) if stated.is_none() => (entry.label_name().into(), entry.cas),
            (None, _, Some(member)) if stated.is_none() => {
                // Called as it was written where the list knows it so, else by its first name.
                let listed = member.named(&written.into());
                // The names of a member that stands for salts are not those of the salt.
                let first = member.names.first().filter(|_| !member.salts);
                let name = listed.or_else(|| first.cloned());
                let name = name.unwrap_or_else(|| written.into());
                (bare_name(&name).into(), member.cas.first().copied())
            }
            _ if number.is_some() || is_colour_index(written) => (written.into(), None),
            _ => return Err(self.not_found(written)),
        };
        let cas = number.or(cas);
        if known.is_none() && listed.is_none() && ruled.is_none() {
            self.remark = Some(format!(
                "no list here knows “{written}”; it is taken as named, with nothing known about it"
            ));
        }
        let serves = |list| book.lists(cas, &inci, list);
        let class = match known.map_or_else(
            || listed.map_or(Class::Other, InventoryName::likely_class),
            |c| c.class,
        ) {
            // What the functions do not tell, the lists of the law may.
            Class::Other if serves(List::Preservatives) => Class::Preservative,
            Class::Other if serves(List::Colorants) || is_colour_index(inci.spelling()) => {
                Class::Colour
            }
            class => class,
        };
        let mut roles = listed.map(InventoryName::roles).unwrap_or_default();
        // Many a solvent is reported as perfuming too.
        roles.retain(|r| *r != Role::Fragrance || class == Class::Fragrance);
        for (list, role) in [
            (List::Preservatives, Role::Preservative),
            (List::UvFilters, Role::UvFilter),
        ] {
            if known.is_none() && serves(list) && !roles.contains(&role) {
                roles.push(role);
            }
        }
        let is_it = |c: &Constituent| c.inci.same_as(&inci);
        // Use data of a nearly pure material on the shelf hold for the substance too.
        let like = self
            .containing(inci.spelling(), None)
            .into_iter()
            .find(|m| {
                let mut substances = m.constituents.iter();
                substances.any(|c| is_it(c) && c.share.typical.value() >= NEARLY_PURE)
            });
        let id = MaterialId::from_name(&format!("{inci} pure"));
        let label = format!("{inci}, pure");
        let mut material = Material::pure(id.clone(), label.as_str(), inci.clone(), cas, class);
        if let Some(like) = like {
            let constituents = std::mem::take(&mut material.constituents);
            material = Material::clone(like);
            material.id = id;
            material.name = label.into();
            material.synonyms.clear();
            material.supplier = None;
            material.constituents = constituents;
        } else {
            material.roles = roles;
        }
        material.alkalinity = Alkalinity::Neutral;
        material.source = Source::new(
            Basis::Practice,
            "taken as the pure substance, as the table says",
        );
        material.charge = material.charge.or(match class {
            Class::Surfactant(charge) => Some(charge),
            _ => charge_in_name(&name),
        });
        Ok(Arc::new(material))
    }
}

/// The first substance of materials that fits.
fn first_substance(
    materials: Vec<&Arc<Material>>,
    fits: impl Fn(&Constituent) -> bool,
) -> Option<&Constituent> {
    materials
        .into_iter()
        .flat_map(|m| &m.constituents)
        .find(|c| fits(c))
}

fn lower(text: &str) -> String {
    text.trim().to_lowercase()
}

/// Whether a name is a number of the Colour Index, `CI` and five digits.
fn is_colour_index(name: &str) -> bool {
    name.split_once(' ').is_some_and(|(ci, number)| {
        let number = number.trim();
        ci.eq_ignore_ascii_case("ci")
            && number.len() == 5
            && number.bytes().all(|b| b.is_ascii_digit())
    })
}

/// The substance that a list of rules speaks of, without the use and the exceptions
/// that its text adds.
fn bare_name(text: &str) -> &str {
    [
        ", when used",
        ", with the exception",
        " with the exception",
        ", except",
    ]
    .into_iter()
    .filter_map(|tail| text.split_once(tail))
    .map(|(name, _)| name)
    .min_by_key(|name| name.len())
    .unwrap_or(text)
}
