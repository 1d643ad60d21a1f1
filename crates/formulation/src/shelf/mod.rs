//! The shelf: raw materials by id, built in and the maker's own.

pub mod built_in;

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::material::{Material, MaterialId};

/// The shelf that comes with the program, see [`mod@built_in`].
pub fn built_in() -> &'static Shelf {
    built_in::shelf()
}

/// Raw materials by id.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Shelf {
    materials: BTreeMap<MaterialId, Arc<Material>>,
}

impl Shelf {
    /// An empty shelf.
    pub fn new() -> Self {
        Self::default()
    }
    /// Adds or replaces a material; the one replaced is returned.
    pub fn insert(&mut self, material: Arc<Material>) -> Option<Arc<Material>> {
        self.materials.insert(material.id.clone(), material)
    }
    /// Takes a material off.
    pub fn remove(&mut self, id: &MaterialId) -> Option<Arc<Material>> {
        self.materials.remove(id)
    }
    /// A material by id.
    pub fn get(&self, id: &MaterialId) -> Option<&Arc<Material>> {
        self.materials.get(id)
    }
    /// All materials, by id.
    pub fn iter(&self) -> impl Iterator<Item = &Arc<Material>> {
        self.materials.values()
    }
    /// How many.
    pub fn len(&self) -> usize {
        self.materials.len()
    }
    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.materials.is_empty()
    }
}

impl FromIterator<Arc<Material>> for Shelf {
    fn from_iter<I: IntoIterator<Item = Arc<Material>>>(iter: I) -> Self {
        Self {
            materials: iter.into_iter().map(|m| (m.id.clone(), m)).collect(),
        }
    }
}
