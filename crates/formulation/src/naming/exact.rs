//! Names that must be exact, as in the program's own tables: nothing is guessed. What is not
//! found is an error that says what is near.

use std::collections::HashMap;
use std::sync::Arc;

use super::fold::{self, plain};
use super::resolver::carrier;
use super::spelling;
use super::strength::{self, NEARLY_PURE, THIN};
use crate::cas::Cas;
use crate::inventory::inventory;
use crate::material::{Class, Constituent, Material, MaterialId};
use crate::rules::RuleBook;
use crate::search::MaterialIndex;
use crate::shelf::Shelf;

type Places = HashMap<String, Vec<usize>>;

/// Most names listed as near to one that is not found.
const MOST_NEAR: usize = 4;

/// The names of a shelf, to be looked up.
#[derive(Debug)]
pub struct Exact<'s> {
    shelf: &'s Shelf,
    pub(super) materials: Vec<&'s Arc<Material>>,
    names: Places,
    synonyms: Places,
    /// By all INCI names, as a label lists them.
    lists: Places,
    /// Materials that contain a substance.
    containing: Places,
    containing_cas: HashMap<Cas, Vec<usize>>,
    index: Option<MaterialIndex>,
    /// The materials that fitted the last name as well as the one taken.
    pub others: Option<String>,
    /// What had to be assumed about the last substance.
    pub remark: Option<String>,
}

/// Notes a place once.
fn note<K: std::hash::Hash + Eq>(map: &mut HashMap<K, Vec<usize>>, key: K, place: usize) {
    let places = map.entry(key).or_default();
    if places.last() != Some(&place) {
        places.push(place);
    }
}

impl<'s> Exact<'s> {
    /// Makes the names of a shelf ready.
    pub fn new(shelf: &'s Shelf) -> Self {
        let mut exact = Self {
            shelf,
            materials: shelf.iter().collect(),
            names: HashMap::new(),
            synonyms: HashMap::new(),
            lists: HashMap::new(),
            containing: HashMap::new(),
            containing_cas: HashMap::new(),
            index: None,
            others: None,
            remark: None,
        };
        for (place, material) in shelf.iter().enumerate() {
            note(&mut exact.names, plain(&material.name), place);
            for synonym in &material.synonyms {
                note(&mut exact.synonyms, plain(synonym), place);
            }
            note(&mut exact.lists, plain(&material.inci_line()), place);
            for constituent in &material.constituents {
                note(
                    &mut exact.containing,
                    fold::inci(constituent.inci.spelling()),
                    place,
                );
                if let Some(cas) = constituent.cas {
                    note(&mut exact.containing_cas, cas, place);
                }
            }
        }
        exact
    }

    pub(super) fn at(&self, places: Option<&Vec<usize>>) -> Vec<&'s Arc<Material>> {
        let places = places.into_iter().flatten();
        places
            .filter_map(|&place| self.materials.get(place).copied())
            .collect()
    }

    /// The materials of a name, or else of a synonym.
    pub(super) fn called(&self, name: &str) -> Vec<&'s Arc<Material>> {
        let named = self.at(self.names.get(name));
        if named.is_empty() {
            self.at(self.synonyms.get(name))
        } else {
            named
        }
    }

    /// The materials that contain a substance of a name or number, in the order of the shelf.
    pub(super) fn containing(&self, name: &str, cas: Option<Cas>) -> Vec<&'s Arc<Material>> {
        let mut places: Vec<usize> = self
            .containing
            .get(&fold::inci(name))
            .into_iter()
            .chain(cas.and_then(|cas| self.containing_cas.get(&cas)))
            .flatten()
            .copied()
            .collect();
        places.sort_unstable();
        places.dedup();
        self.at(Some(&places))
    }

    /// The material on the shelf of a name, synonym, INCI name or CAS number.
    ///
    /// # Errors
    /// Says that none is called so, with what is near, or which several are.
    pub fn on_shelf(&mut self, written: &str) -> Result<Arc<Material>, String> {
        if let Some(material) = self.shelf.get(&MaterialId::from_name(written)) {
            return Ok(Arc::clone(material));
        }
        let name = plain(written);
        let called = self.called(&name);
        if !called.is_empty() {
            let one = one_of(written, &called)?;
            if !self.names.contains_key(&name) {
                self.remark = strength_assumed(written, &one);
            }
            return Ok(one);
        }
        let found = self.of_substance(written, &name)?;
        self.remark = strength_assumed(written, &found);
        Ok(found)
    }

    /// The material of an INCI name or CAS number.
    fn of_substance(&mut self, written: &str, name: &str) -> Result<Arc<Material>, String> {
        let cas = written.parse::<Cas>().ok();
        let inci = fold::inci(written);
        let is_it = |c: &Constituent| {
            fold::inci(c.inci.spelling()) == inci || (cas.is_some() && c.cas == cas)
        };
        let containing = self.containing(written, cas);
        let pure: Vec<_> = containing
            .iter()
            .copied()
            .filter(|m| {
                let mut substances = m.constituents.iter();
                substances.any(|c| is_it(c) && c.share.typical.value() >= NEARLY_PURE)
            })
            .collect();
        if !pure.is_empty() {
            return self.first_of(purest(pure, is_it));
        }
        let listed = self.at(self.lists.get(name));
        if !listed.is_empty() {
            return self.first_of(listed);
        }
        // A solution is called by what it is a solution of.
        let mut main = containing;
        main.retain(|m| m.main_constituent().is_some_and(is_it));
        if !main.is_empty() {
            return self.first_of(main);
        }
        Err(self.not_found(written))
    }

    /// The plainest of several materials, the first by id among equals; the others are
    /// remembered.
    fn first_of(&mut self, mut found: Vec<&Arc<Material>>) -> Result<Arc<Material>, String> {
        let carrier = |c: &&Constituent| matches!(c.class, Class::Water | Class::Electrolyte);
        found.sort_by_key(|m| m.constituents.iter().filter(|c| !carrier(c)).count());
        let mut found = found.into_iter();
        let first = found.next().ok_or_else(|| "no material fits".to_owned())?;
        let others: Vec<String> = found.map(|m| format!("“{}”", m.name)).collect();
        self.others = (!others.is_empty()).then(|| others.join(", "));
        Ok(Arc::clone(first))
    }

    /// Names of materials of which what is written is the beginning: "Lemon essential oil" of
    /// "Lemon essential oil, expressed".
    fn begun_by(&self, written: &str) -> Vec<String> {
        let written = plain(written);
        let goes_on = |name: &str| {
            let rest = plain(name).strip_prefix(&written).map(str::to_owned);
            rest.is_some_and(|rest| rest.starts_with([' ', ',']))
        };
        let names = self.materials.iter().map(|m| m.name.as_ref());
        let begun = names.filter(|name| goes_on(name)).take(3);
        begun.map(str::to_owned).collect()
    }

    pub(super) fn not_found(&mut self, written: &str) -> String {
        let index = self
            .index
            .get_or_insert_with(|| MaterialIndex::new(self.shelf.iter()));
        let spelt = index.nearest_names(written, 2).into_iter();
        let spelt = spelt.filter_map(|(id, _)| Some(self.shelf.get(&id)?.name.to_string()));
        let begun = self.begun_by(written).into_iter();
        let substances = self.materials.iter().flat_map(|m| &m.constituents);
        let substances = substances.map(|c| c.inci.spelling());
        let substances = spelling::nearest(written, substances, MOST_NEAR).into_iter();
        let mut near: Vec<String> = Vec::new();
        for name in begun.chain(spelt).chain(substances.map(str::to_owned)) {
            if !near.contains(&name) {
                near.push(name);
            }
        }
        if near.is_empty() {
            let listed = inventory().nearest(written, 2);
            near.extend(listed.iter().map(|e| e.label_name()));
        }
        near.truncate(MOST_NEAR);
        let exact = inventory().by_name(written).is_some();
        let ruled = RuleBook::shared()
            .substance(written.parse().ok(), &written.into())
            .is_some();
        let remedy = if exact || ruled {
            let known = if exact {
                "it is an INCI name"
            } else {
                "a list of the law names it"
            };
            format!(
                "{known}, so add it to the shelf with its composition, or write `pure` in the column `composition` if it is the pure substance"
            )
        } else if near.is_empty() {
            "write the name on the shelf or the INCI name, or add it to the shelf".to_owned()
        } else {
            format!("did you mean “{}”?", near.join("”, “"))
        };
        format!("nothing on the shelf is called “{written}”; {remedy}")
    }
}

/// What is assumed where the name of a substance is taken for a dilution of it by whose strength
/// much hangs; `None` if nothing is.
fn strength_assumed(written: &str, material: &Material) -> Option<String> {
    if strength::stated(written).is_some() {
        return None;
    }
    let inci = fold::inci(written);
    let is_thin =
        |c: &Constituent| fold::inci(c.inci.spelling()) == inci && c.share.typical.value() < THIN;
    let in_carrier = carrier(&material.name).is_some() && material.constituents.iter().any(is_thin);
    (strength::is_left_open(material) || in_carrier).then(|| {
        format!(
            "“{written}” leaves its strength open and was taken as “{}”; write the strength, or `pure` in the column `composition` if it is the substance itself",
            material.name
        )
    })
}

/// Keeps the materials that hold most of a substance.
fn purest(found: Vec<&Arc<Material>>, is_it: impl Fn(&Constituent) -> bool) -> Vec<&Arc<Material>> {
    let share = |m: &Material| -> f64 {
        let parts = m.constituents.iter().filter(|c| is_it(c));
        parts.map(|c| c.share.typical.value()).sum()
    };
    let most = found.iter().map(|m| share(m)).fold(0.0, f64::max);
    found.into_iter().filter(|m| share(m) >= most).collect()
}

/// The only one of several materials, or a sentence that lists them.
fn one_of(written: &str, found: &[&Arc<Material>]) -> Result<Arc<Material>, String> {
    match found {
        [only] => Ok(Arc::clone(only)),
        several => {
            let names: Vec<&str> = several.iter().map(|m| m.name.as_ref()).collect();
            Err(format!(
                "“{written}” fits {} materials on the shelf; write one of their names: “{}”",
                several.len(),
                names.join("”, “")
            ))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shelf::built_in;

    /// What is begun by a name and what is spelt like it are often the same.
    #[test]
    fn what_is_near_is_named_once() {
        let mut exact = Exact::new(built_in::shelf());
        for written in ["Sodium hydroxide solution", "Lemon essential oil"] {
            let told = exact.not_found(written);
            let named = told.split('“').skip(2).filter_map(|s| s.split('”').next());
            let mut named: Vec<&str> = named.collect();
            let all = named.len();
            named.sort_unstable();
            named.dedup();
            assert!(all > 1 && named.len() == all, "{told}");
        }
    }
}
