//! Merges two copies of a file that came from one parent: what differs is listed,
//! both are kept, and the maker chooses.

use std::collections::{BTreeMap, HashSet};
use std::sync::Arc;

use super::{Compared, same_content};
use crate::finding::SetAside;
use crate::formula::{EarlierState, Formula, ItemId, Variant, VariantId};
use crate::material::{Material, MaterialId};

/// One thing in which two copies differ.
#[derive(Clone, PartialEq, Debug)]
pub enum MergePoint {
    /// A variant that only this copy has; it stays.
    OnlyMine(VariantId),
    /// A variant that only the other copy has.
    OnlyTheirs(VariantId),
    /// A variant that both have with different content, name or note, or that only one of
    /// them no longer uses.
    Differs {
        /// Its id in this copy.
        mine: VariantId,
        /// Its id in the other copy.
        theirs: VariantId,
        /// What is known of the state from which both came.
        base: Option<Arc<Variant>>,
    },
    /// A material whose data differ.
    Material(MaterialId),
    /// The formula's name, notes or author.
    Words,
    /// Findings that only the other copy has set aside.
    SetAside(Vec<SetAside>),
}

/// What becomes of a point.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum MergeChoice {
    /// As in this copy.
    Mine,
    /// As in the other copy; a variant that was here is kept in the history, words and data
    /// of materials are not.
    Theirs,
    /// Both: theirs comes in beside mine as a variant of its own, and what either has set
    /// aside is set aside. For a material and for words the same as `Mine`, as for a variant
    /// of which there is nothing to stand beside it, see [`stand_beside`].
    Both,
}

/// Whether two files came from one parent: a variant of the same id and name, with
/// at least half of its lines' ids standing for the same materials, or a shared
/// entry of the history.
pub fn have_one_parent(mine: &Formula, theirs: &Formula) -> bool {
    let told: HashSet<(&str, &str)> = mine
        .history
        .iter()
        .map(|k| (k.at.as_ref(), k.what.as_ref()))
        .collect();
    let shared = theirs
        .history
        .iter()
        .any(|k| told.contains(&(k.at.as_ref(), k.what.as_ref())));
    shared || mine.variants.iter().any(|v| twin(v, theirs).is_some())
}

/// The variant of another copy that is the same as this one, grown apart.
fn twin<'f>(variant: &Variant, other: &'f Formula) -> Option<&'f Arc<Variant>> {
    other.variant(variant.id).filter(|o| {
        let ids: BTreeMap<ItemId, &MaterialId> =
            o.lines().map(|(_, l)| (l.id, &l.material)).collect();
        let (mut both, mut same) = (0, 0);
        for (_, line) in variant.lines() {
            if let Some(material) = ids.get(&line.id) {
                both += 1;
                same += usize::from(**material == line.material);
            }
        }
        let alike = same * 2 >= both && same > 0;
        let empty = variant.lines().next().is_none() || ids.is_empty();
        alike || (empty && o.name == variant.name && o.created == variant.created)
    })
}

/// Lists in what two copies differ. A variant of theirs whose content and note this copy
/// has, under whatever name, is there already.
pub fn points(mine: &Formula, theirs: &Formula) -> Vec<MergePoint> {
    let mut out = Vec::new();
    if (&mine.name, &mine.notes, &mine.author) != (&theirs.name, &theirs.notes, &theirs.author) {
        out.push(MergePoint::Words);
    }
    let same = |a: &Variant, b: &Variant| a.note == b.note && same_make(mine, a, theirs, b);
    let taken = |theirs: &Variant| mine.variants.iter().any(|v| same(v, theirs));
    let mut matched = HashSet::new();
    for variant in &mine.variants {
        match twin(variant, theirs) {
            None if theirs.variants.iter().any(|t| same(variant, t)) => {}
            None => out.push(MergePoint::OnlyMine(variant.id)),
            Some(other) => {
                matched.insert(other.id);
                let grew = !alike(mine, variant, theirs, other);
                let head =
                    *variant.name != *beside(&other.name) || variant.archived != other.archived;
                if grew && (same(variant, other) && head || !taken(other)) {
                    out.push(MergePoint::Differs {
                        mine: variant.id,
                        theirs: other.id,
                        base: base(mine, theirs, variant.id),
                    });
                }
            }
        }
    }
    let only_theirs = theirs
        .variants
        .iter()
        .filter(|v| !matched.contains(&v.id) && !taken(v));
    out.extend(only_theirs.map(|v| MergePoint::OnlyTheirs(v.id)));
    let differs = |(id, m): &(&MaterialId, &Arc<Material>)| {
        theirs.materials.get(*id).is_some_and(|t| t != *m)
    };
    let materials = mine.materials.iter().filter(differs);
    out.extend(materials.map(|(id, _)| MergePoint::Material(id.clone())));
    let aside: Vec<SetAside> = theirs
        .set_aside
        .difference(&mine.set_aside)
        .cloned()
        .collect();
    if !aside.is_empty() {
        out.push(MergePoint::SetAside(aside));
    }
    out
}

/// Whether two variants that differ can stand beside each other: not where one only has
/// another name or is no longer used, because both say the same.
pub fn stand_beside(mine: &Formula, a: &Variant, theirs: &Formula, b: &Variant) -> bool {
    a.note != b.note || !same_make(mine, a, theirs, b)
}

/// The name of a variant that came in beside one of the same name.
fn beside(name: &str) -> String {
    format!("{name} (other copy)")
}

fn alike(mine: &Formula, a: &Variant, theirs: &Formula, b: &Variant) -> bool {
    let head = |v: &Variant| (v.name.clone(), v.note.clone(), v.archived);
    head(a) == head(b) && same_make(mine, a, theirs, b)
}

/// Whether two variants say the same of what is made.
fn same_make(mine: &Formula, a: &Variant, theirs: &Formula, b: &Variant) -> bool {
    // Differences of material data are points of their own.
    let bare = |f: &Formula| Formula {
        materials: BTreeMap::new(),
        history: Vec::new(),
        variants: Vec::new(),
        ..f.clone()
    };
    let (m, t) = (bare(mine), bare(theirs));
    same_content(Compared::new(&m, a), Compared::new(&t, b))
}

/// The latest state of a variant that both copies know, as an earlier state or as the
/// present one: each keeps the state it started from when it is first changed.
fn base(mine: &Formula, theirs: &Formula, id: VariantId) -> Option<Arc<Variant>> {
    let states = |f: &Formula| -> Vec<Arc<Variant>> {
        let kept = f.history.iter().map(|k| &k.variant);
        let kept = kept.filter(|v| v.id == id).cloned();
        kept.chain(f.variant(id).cloned()).collect()
    };
    let theirs = states(theirs);
    let mine = states(mine).into_iter().rev();
    mine.into_iter().find(|state| theirs.contains(state))
}

/// Merges the other copy into this one by the maker's choices, one for each point
/// of [`points`] in their order; a missing choice is [`MergeChoice::Both`].
///
/// A variant that gives way to theirs is kept in the history, which is that of both
/// copies; the name, the notes, the author and the data of materials that give way are not,
/// so that only undo brings them back. `at` is the time of the merge, RFC 3339.
pub fn merge(mine: &Formula, theirs: &Formula, choices: &[MergeChoice], at: &str) -> Formula {
    let mut merge = Merge {
        out: mine.clone(),
        theirs,
        taken: HashSet::new(),
        at: at.into(),
    };
    merge.out.next_id = mine.next_id.max(theirs.next_id);
    let all = points(mine, theirs);
    let choice = |i: usize| choices.get(i).copied().unwrap_or(MergeChoice::Both);
    // Materials first, because variants that come in look for them.
    for (i, point) in all.iter().enumerate() {
        match (point, choice(i)) {
            (MergePoint::Material(id), MergeChoice::Theirs) => {
                if let Some(material) = theirs.material(id) {
                    let material = Arc::clone(material);
                    merge.out.materials.insert(id.clone(), material);
                }
            }
            (MergePoint::Words, MergeChoice::Theirs) => {
                merge.out.name = theirs.name.clone();
                merge.out.notes = theirs.notes.clone();
                merge.out.author = theirs.author.clone();
            }
            (MergePoint::SetAside(aside), MergeChoice::Theirs | MergeChoice::Both) => {
                merge.out.set_aside.extend(aside.iter().cloned());
            }
            _ => {}
        }
    }
    merge.histories(mine);
    for (i, point) in all.iter().enumerate() {
        match (point, choice(i)) {
            (MergePoint::OnlyTheirs(id), MergeChoice::Theirs | MergeChoice::Both) => {
                merge.add(*id, None);
            }
            (MergePoint::Differs { mine, theirs, .. }, MergeChoice::Theirs) => {
                merge.replace(*mine, *theirs);
            }
            (
                MergePoint::Differs {
                    mine: m, theirs: t, ..
                },
                MergeChoice::Both,
            ) => {
                let two = mine.variant(*m).zip(theirs.variant(*t));
                if two.is_some_and(|(a, b)| stand_beside(mine, a, theirs, b)) {
                    merge.add(*t, Some(*m));
                }
            }
            _ => {}
        }
    }
    merge.out
}

struct Merge<'t> {
    out: Formula,
    theirs: &'t Formula,
    /// Variants of theirs that came in.
    taken: HashSet<VariantId>,
    at: Arc<str>,
}

impl Merge<'_> {
    /// Adds a variant of theirs under a new id.
    fn add(&mut self, theirs: VariantId, twin: Option<VariantId>) {
        let Some(variant) = self.theirs.variant(theirs) else {
            return;
        };
        if !self.taken.insert(theirs) {
            return;
        }
        let mut variant = Variant::clone(variant);
        if self.out.variant(variant.id).is_some() {
            variant.id = VariantId(self.out.take_id());
        }
        let name_taken = self.out.variants.iter().any(|v| v.name == variant.name);
        if name_taken {
            variant.name = beside(&variant.name).into();
        }
        // What grew apart has the same parent, or is a branch of its twin.
        if variant.parent.is_none() {
            variant.parent = twin;
        }
        variant.parent = variant.parent.filter(|p| self.out.variant(*p).is_some());
        self.carry_materials(&variant);
        self.out.variants.push(Arc::new(variant));
    }

    /// Puts theirs in place of mine, which is kept in the history.
    fn replace(&mut self, mine: VariantId, theirs: VariantId) {
        let Some(variant) = self.theirs.variant(theirs).cloned() else {
            return;
        };
        self.carry_materials(&variant);
        let others = self.out.variants.iter().filter(|v| v.id != mine);
        let taken = others.into_iter().any(|v| v.name == variant.name);
        let name = if taken {
            beside(&variant.name).into()
        } else {
            variant.name.clone()
        };
        for slot in &mut self.out.variants {
            if slot.id == mine {
                self.out.history.push(Arc::new(EarlierState {
                    at: self.at.clone(),
                    what: "Before the merge".into(),
                    variant: Arc::clone(slot),
                }));
                *slot = Arc::new(Variant {
                    id: mine,
                    name: name.clone(),
                    ..Variant::clone(&variant)
                });
            }
        }
    }

    fn carry_materials(&mut self, variant: &Variant) {
        for (_, line) in variant.lines() {
            if let Some(material) = self.theirs.material(&line.material) {
                self.out
                    .materials
                    .entry(line.material.clone())
                    .or_insert_with(|| Arc::clone(material));
            }
        }
    }

    /// Joins the histories in the order of time; entries of both copies come once.
    fn histories(&mut self, mine: &Formula) {
        for kept in &self.theirs.history {
            let known = mine.history.iter().any(|k| k == kept);
            if !known && self.out.variant(kept.variant.id).is_some() {
                self.carry_materials(&kept.variant);
                self.out.history.push(Arc::clone(kept));
            }
        }
        self.out.history.sort_by(|a, b| a.at.cmp(&b.at));
    }
}

#[cfg(test)]
#[path = "merge_tests.rs"]
mod tests;
