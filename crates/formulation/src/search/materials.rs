//! Raw materials found by what they are called, made of and used for; what is common or used
//! often comes first.

use std::collections::HashMap;
use std::sync::Arc;

use super::{FoundIn, Heard, Index, IndexBuilder};
use crate::material::{Class, Constituent, Material, MaterialId};

/// Raw materials ready to be searched.
#[derive(Clone, Debug, Default)]
pub struct MaterialIndex {
    index: Index,
    ids: Vec<MaterialId>,
    /// How common each is, as an addition to its score.
    common: Vec<f32>,
}

/// How often a maker has used each material.
pub type UseCounts = HashMap<MaterialId, u32>;

/// What familiarity and use add to a score: by the logarithm, so that the tenth use counts
/// for less than the first. Our own choice; only the ranking depends on it.
mod favour {
    pub const COMMON: f32 = 4.0;
    pub const STAPLE: f32 = 30.0;
    pub const PER_USE: f32 = 22.0;
}

/// The everyday names that mean each material, the most usual form alone counted as common.
struct Everyday {
    names: HashMap<&'static MaterialId, Vec<&'static str>>,
    first: HashMap<&'static MaterialId, usize>,
}

impl Everyday {
    fn of_built_in() -> Self {
        let mut all = Self {
            names: HashMap::new(),
            first: HashMap::new(),
        };
        for plain in crate::shelf::built_in::plain_names() {
            for (place, id) in plain.materials.iter().enumerate() {
                all.names.entry(id).or_default().push(&plain.name);
                if place == 0 {
                    *all.first.entry(id).or_default() += 1;
                }
            }
        }
        all
    }
}

impl MaterialIndex {
    /// Indexes materials by name, synonyms, INCI, CAS, roles, charge and supplier.
    /// Equally good results will come in the order of their names.
    pub fn new<'m>(materials: impl IntoIterator<Item = &'m Arc<Material>>) -> Self {
        Self::with(materials, false)
    }

    /// The same with everyday names in all languages and everyday words for roles, and with
    /// what is common before what is rare: for a person who searches.
    pub fn for_people<'m>(materials: impl IntoIterator<Item = &'m Arc<Material>>) -> Self {
        Self::with(materials, true)
    }

    fn with<'m>(materials: impl IntoIterator<Item = &'m Arc<Material>>, everyday: bool) -> Self {
        let everyday = everyday.then(Everyday::of_built_in);
        let mut materials: Vec<&Arc<Material>> = materials.into_iter().collect();
        materials.sort_by_cached_key(|m| (m.name.to_lowercase(), m.id.clone()));
        let mut builder = IndexBuilder::default();
        let mut ids = Vec::with_capacity(materials.len());
        let mut common = Vec::with_capacity(materials.len());
        for material in materials {
            let main = main_constituent(material);
            let field = |place: usize, own: FoundIn| {
                if Some(place) == main {
                    own
                } else {
                    FoundIn::Part
                }
            };
            let constituents = material.constituents.iter().enumerate();
            let cas: Vec<(FoundIn, String)> = constituents
                .clone()
                .filter_map(|(i, c)| Some((field(i, FoundIn::Cas), c.cas?.to_string())))
                .collect();
            let fields = material
                .synonyms
                .iter()
                .map(|s| (FoundIn::Synonym, s.as_ref()))
                .chain(constituents.map(|(i, c)| (field(i, FoundIn::Inci), c.inci.spelling())))
                .chain(cas.iter().map(|(field, cas)| (*field, cas.as_str())))
                .chain(material.roles.iter().map(|r| (FoundIn::Role, r.label())))
                .chain(material.charge.map(|c| (FoundIn::Role, c.label())))
                .chain(
                    material
                        .supplier
                        .iter()
                        .map(|s| (FoundIn::Supplier, s.as_ref())),
                );
            let names = everyday.as_ref().and_then(|e| e.names.get(&material.id));
            let names = names.into_iter().flatten().copied();
            let called = names
                .clone()
                .chain(material.synonyms.iter().map(AsRef::as_ref));
            let words = everyday
                .is_some()
                .then(|| crate::notation::role_words::of(material));
            let words = words.iter().flatten();
            builder.add(
                &material.name,
                fields
                    .chain(names.map(|name| (FoundIn::Synonym, name)))
                    .chain(words.map(|word| (FoundIn::Role, *word))),
            );
            if everyday.is_some() {
                called.for_each(|name| builder.also_called(name));
            }
            let first = everyday.as_ref().and_then(|e| e.first.get(&material.id));
            let staple = everyday.is_some() && crate::notation::role_words::is_staple(material);
            let by_names = first.map_or(0.0, |&n| favour::COMMON * (n as f32).ln_1p());
            common.push(by_names + if staple { favour::STAPLE } else { 0.0 });
            ids.push(material.id.clone());
        }
        Self {
            index: builder.build(),
            ids,
            common,
        }
    }

    /// Ids of the materials that fit the words, best first, at most `most`.
    /// See [`Index::search`]; an empty query finds all by name.
    pub fn search(&self, query: &str, most: usize) -> Vec<MaterialId> {
        self.search_used(query, most, &UseCounts::new())
    }

    /// The same for one of many names, whose words may have been asked before.
    pub fn search_heard(&self, query: &str, most: usize, heard: &mut Heard) -> Vec<MaterialId> {
        let favour = |entry: usize| self.common.get(entry).copied().unwrap_or(0.0);
        let hits = self.index.search_heard(query, most, favour, heard);
        let ids = hits.into_iter();
        ids.filter_map(|hit| self.ids.get(hit.entry as usize).cloned())
            .collect()
    }

    /// The same, with what was used often before what was not.
    pub fn search_used(&self, query: &str, most: usize, used: &UseCounts) -> Vec<MaterialId> {
        let favour = |entry: usize| {
            let common = self.common.get(entry).copied().unwrap_or(0.0);
            let times = self.ids.get(entry).and_then(|id| used.get(id));
            common + times.map_or(0.0, |&n| favour::PER_USE * (n as f32).ln_1p())
        };
        self.index
            .search_with(query, most, favour)
            .into_iter()
            .filter_map(|hit| self.ids.get(hit.entry as usize).cloned())
            .collect()
    }

    /// Ids of the materials whose names are spelt most like `name`, with the
    /// likeness from 0 to 1, nearest first.
    pub fn nearest_names(&self, name: &str, most: usize) -> Vec<(MaterialId, f32)> {
        self.index
            .nearest_names(name, most)
            .into_iter()
            .filter_map(|hit| Some((self.ids.get(hit.entry as usize)?.clone(), hit.score)))
            .collect()
    }
}

/// The constituent that a material is bought for, as far as its composition tells: the
/// largest that is neither water nor incidental, or else the largest.
fn main_constituent(material: &Material) -> Option<usize> {
    let rank = |c: &Constituent| {
        let bought_for = c.class != Class::Water && c.incidental.is_none();
        (bought_for, c.share.typical.as_percent())
    };
    let places = material.constituents.iter().map(rank).enumerate();
    places
        .max_by(|(i, (a, of_a)), (k, (b, of_b))| {
            let by_rank = a.cmp(b).then(of_a.total_cmp(of_b));
            // Of two alike, the first.
            by_rank.then(k.cmp(i))
        })
        .map(|(place, _)| place)
}
