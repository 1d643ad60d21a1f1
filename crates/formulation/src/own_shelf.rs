//! The maker's own shelf: materials that add to or replace the built-in ones,
//! attachments, values of single lots, and what was changed when.
//!
//! Two states of a shelf that grew from the same one are merged without losing
//! either side's changes, down to the single field of a material. So two windows, two
//! machines or two people may work on one shelf.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::lot_changes::{joined, lot_changes, words_of};
use crate::lot_values::LotValues;
use crate::material::{Material, MaterialId, MaterialValue, other_fields};
use crate::material_change::{MaterialChange, material_changes};
use crate::shelf::Shelf;
use crate::stock::LotId;

/// Changes kept in the history; older ones are dropped.
pub const MOST_CHANGES: usize = 2_000;

/// A file that belongs to a material: data sheet, certificate, safety sheet. Only the
/// way to it is kept.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Attachment {
    /// What it is, in the maker's words.
    pub label: Arc<str>,
    /// Path of the file, from the shelf's folder if relative, or an address.
    pub path: Arc<str>,
}

/// One change of the shelf.
#[derive(Clone, PartialEq, Debug)]
pub struct ShelfChange {
    /// When, as the clock of the machine said: RFC 3339.
    pub at: Arc<str>,
    /// What was done, in words.
    pub what: Arc<str>,
    /// Which material.
    pub material: MaterialId,
    /// The maker's own material as it was before; `None` if there was none.
    pub before: Option<Arc<Material>>,
}

/// What a maker does to the shelf.
#[derive(Clone, PartialEq, Debug)]
pub enum ShelfEdit {
    /// Adds a material, or replaces the one of the same id, built-in ones included.
    Put(Arc<Material>),
    /// Takes the maker's own material away; a built-in one of the same id shows again.
    Remove(MaterialId),
    /// Hides a built-in material.
    Hide(MaterialId),
    /// Shows a hidden built-in material again.
    Show(MaterialId),
    /// Replaces the attachments of a material.
    Attach(MaterialId, Vec<Attachment>),
    /// Enters or replaces the values of a lot.
    PutLot(LotValues),
    /// Takes the values of a lot away.
    RemoveLot(LotId),
}

/// The maker's own part of the shelf.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct OwnShelf {
    /// The maker's materials.
    pub materials: BTreeMap<MaterialId, Arc<Material>>,
    /// Built-in materials that are not shown.
    pub hidden: BTreeSet<MaterialId>,
    /// Files that belong to materials.
    pub attachments: BTreeMap<MaterialId, Vec<Attachment>>,
    /// Values of single lots from their certificates.
    pub lots: BTreeMap<LotId, LotValues>,
    /// Changes, oldest first.
    pub history: Vec<Arc<ShelfChange>>,
}

impl OwnShelf {
    /// The shelf as the maker sees it: built-in materials, less the hidden ones, with
    /// the maker's own over them.
    pub fn over(&self, built_in: &Shelf) -> Shelf {
        built_in
            .iter()
            .filter(|m| !self.hidden.contains(&m.id))
            .chain(self.materials.values())
            .cloned()
            .collect()
    }

    /// Makes an edit and notes it in the history. An edit that changes nothing leaves
    /// no trace.
    pub fn apply(&mut self, edit: &ShelfEdit, at: &str) {
        match edit {
            ShelfEdit::Put(material) => {
                let before = self.materials.get(&material.id);
                if before == Some(material) {
                    return;
                }
                let what = match before {
                    None => format!("added “{}”", material.name),
                    Some(before) => {
                        let fields: Vec<String> = material_changes(before, material)
                            .into_iter()
                            .map(|c| c.field)
                            .collect();
                        format!("changed {} of “{}”", fields.join(", "), material.name)
                    }
                };
                self.note(at, what, &material.id);
                self.materials
                    .insert(material.id.clone(), Arc::clone(material));
            }
            ShelfEdit::Remove(id) => {
                let Some(material) = self.materials.get(id) else {
                    return;
                };
                let what = format!("took “{}” away", material.name);
                self.note(at, what, id);
                self.materials.remove(id);
            }
            ShelfEdit::Hide(id) => {
                if !self.hidden.contains(id) {
                    self.note(at, format!("hid “{id}”"), id);
                    self.hidden.insert(id.clone());
                }
            }
            ShelfEdit::Show(id) => {
                if self.hidden.contains(id) {
                    self.note(at, format!("showed “{id}” again"), id);
                    self.hidden.remove(id);
                }
            }
            ShelfEdit::Attach(id, files) => {
                let now = self.attachments.get(id).map_or(&[][..], Vec::as_slice);
                if now == files.as_slice() {
                    return;
                }
                let named = |all: &[Attachment], but: &[Attachment]| {
                    let gone = all.iter().filter(|file| !but.contains(file));
                    let words: Vec<String> = gone
                        .map(|file| format!("“{}” ({})", file.label, file.path))
                        .collect();
                    words.join(", ")
                };
                let (gone, come) = (named(now, files), named(files, now));
                let gone = (!gone.is_empty()).then(|| format!("{gone} went"));
                let come = (!come.is_empty()).then(|| format!("{come} came"));
                let words: Vec<String> = gone.into_iter().chain(come).collect();
                let words = after_colon(&words.join(", "));
                let what = format!("changed the attachments of “{id}”{words}");
                self.note(at, what, id);
                if files.is_empty() {
                    self.attachments.remove(id);
                } else {
                    self.attachments.insert(id.clone(), files.clone());
                }
            }
            ShelfEdit::PutLot(values) => {
                let lot = &values.lot;
                let what = match self.lots.get(lot) {
                    Some(before) if before == values => return,
                    Some(before) => {
                        let changes = lot_changes(before, values);
                        let words: Vec<String> =
                            changes.iter().map(MaterialChange::words).collect();
                        format!("changed the certificate of lot {lot}: {}", words.join("; "))
                    }
                    None => format!(
                        "entered the certificate of lot {lot}{}",
                        after_colon(&words_of(values))
                    ),
                };
                self.note(at, what, &values.material);
                self.lots.insert(values.lot.clone(), values.clone());
            }
            ShelfEdit::RemoveLot(lot) => {
                let Some(values) = self.lots.get(lot).cloned() else {
                    return;
                };
                let stated = after_colon(&words_of(&values));
                let what = format!("took the certificate of lot {lot} away{stated}");
                self.note(at, what, &values.material);
                self.lots.remove(lot);
            }
        }
    }

    fn note(&mut self, at: &str, what: String, material: &MaterialId) {
        self.history.push(Arc::new(ShelfChange {
            at: at.into(),
            what: what.into(),
            material: material.clone(),
            before: self.materials.get(material).cloned(),
        }));
        if self.history.len() > MOST_CHANGES {
            let surplus = self.history.len() - MOST_CHANGES;
            self.history.drain(..surplus);
        }
    }

    /// The changes of one material, latest first.
    pub fn history_of<'a>(
        &'a self,
        material: &'a MaterialId,
    ) -> impl Iterator<Item = &'a Arc<ShelfChange>> {
        self.history
            .iter()
            .rev()
            .filter(move |c| c.material == *material)
    }

    /// Values of the lots of one material, by lot.
    pub fn lots_of<'a>(&'a self, material: &'a MaterialId) -> impl Iterator<Item = &'a LotValues> {
        self.lots.values().filter(move |v| v.material == *material)
    }
}

/// What is told more, if there is anything.
fn after_colon(words: &str) -> String {
    if words.is_empty() {
        String::new()
    } else {
        format!(": {words}")
    }
}

/// Both sides changed the same thing in different ways.
#[derive(Clone, PartialEq, Debug)]
pub struct Conflict {
    /// Which material.
    pub material: MaterialId,
    /// Its name.
    pub name: Arc<str>,
    /// Field by field, theirs as the earlier value and ours as the later one.
    pub differences: Vec<MaterialChange>,
    /// What is disputed, as each side has it.
    pub sides: Sides,
}

/// What both sides changed differently, as each has it; `None` where it was taken away.
#[derive(Clone, PartialEq, Debug)]
pub enum Sides {
    /// The material.
    Material {
        /// On our side.
        ours: Option<Arc<Material>>,
        /// On the other side.
        theirs: Option<Arc<Material>>,
    },
    /// The certificate of one of its lots, joined value by value but for what is disputed.
    Lot {
        /// The lot.
        lot: LotId,
        /// With the disputed values of our side.
        ours: Option<Box<LotValues>>,
        /// With the disputed values of the other side.
        theirs: Option<Box<LotValues>>,
    },
}

impl Conflict {
    /// The lot whose certificate is disputed; `None` where it is the material.
    pub const fn lot(&self) -> Option<&LotId> {
        match &self.sides {
            Sides::Material { .. } => None,
            Sides::Lot { lot, .. } => Some(lot),
        }
    }
}

/// Two shelves made into one.
#[derive(Clone, PartialEq, Debug)]
pub struct Merged {
    /// The result. Where both sides disagree, it holds ours.
    pub shelf: OwnShelf,
    /// Where both sides disagree.
    pub conflicts: Vec<Conflict>,
    /// Ids that came from the other side, new or changed.
    pub taken: Vec<MaterialId>,
}

/// Merges two states of a shelf that both grew from `base`. For shelves that never
/// were one, `base` is an empty shelf.
///
/// What only one side changed is taken from it. Where both changed a material or the
/// certificate of a lot, its fields are merged one by one; if both changed the same field
/// differently, ours stands, the other is listed as a conflict and kept in the history.
pub fn merge(base: &OwnShelf, ours: &OwnShelf, theirs: &OwnShelf, at: &str) -> Merged {
    let mut shelf = OwnShelf {
        history: merged_history(base, ours, theirs),
        hidden: merged_set(&base.hidden, &ours.hidden, &theirs.hidden),
        attachments: merged_files(base, ours, theirs),
        lots: BTreeMap::new(),
        materials: BTreeMap::new(),
    };
    let mut conflicts = merged_lots(base, ours, theirs, &mut shelf, at);
    let mut taken = Vec::new();
    let ids: BTreeSet<&MaterialId> = ours
        .materials
        .keys()
        .chain(theirs.materials.keys())
        .collect();
    for id in ids {
        let (b, o, t) = (
            base.materials.get(id),
            ours.materials.get(id),
            theirs.materials.get(id),
        );
        let chosen = if o == t || t == b {
            o.cloned()
        } else if o == b {
            taken.push(id.clone());
            t.cloned()
        } else {
            match merged_material(b, o, t) {
                Ok(material) => {
                    taken.push(id.clone());
                    Some(material)
                }
                Err(conflict) => {
                    let kept = ShelfChange {
                        at: at.into(),
                        what: "changed elsewhere at the same time; this is the other state".into(),
                        material: id.clone(),
                        before: t.cloned(),
                    };
                    shelf.history.push(Arc::new(kept));
                    conflicts.extend(conflict);
                    o.cloned()
                }
            }
        };
        if let Some(material) = chosen {
            shelf.materials.insert(id.clone(), material);
        }
    }
    Merged {
        shelf,
        conflicts,
        taken,
    }
}

/// Both histories in the order of time, what is in both once.
fn merged_history(base: &OwnShelf, ours: &OwnShelf, theirs: &OwnShelf) -> Vec<Arc<ShelfChange>> {
    let mut history = ours.history.clone();
    history.extend(
        theirs
            .history
            .iter()
            .filter(|c| !base.history.contains(c) && !ours.history.contains(c))
            .cloned(),
    );
    history.sort_by(|a, b| a.at.cmp(&b.at));
    if history.len() > MOST_CHANGES {
        let surplus = history.len() - MOST_CHANGES;
        history.drain(..surplus);
    }
    history
}

fn merged_set<T: Ord + Clone>(
    base: &BTreeSet<T>,
    ours: &BTreeSet<T>,
    theirs: &BTreeSet<T>,
) -> BTreeSet<T> {
    ours.union(theirs)
        .filter(|x| {
            // In both, or put in by one of them since.
            let (b, o, t) = (base.contains(*x), ours.contains(*x), theirs.contains(*x));
            o && t || !b
        })
        .cloned()
        .collect()
}

/// The files of every material: what one side added is there, what one took away is not.
fn merged_files(
    base: &OwnShelf,
    ours: &OwnShelf,
    theirs: &OwnShelf,
) -> BTreeMap<MaterialId, Vec<Attachment>> {
    let all = ours.attachments.keys().chain(theirs.attachments.keys());
    let ids: BTreeSet<&MaterialId> = all.collect();
    let of = |shelf: &OwnShelf, id: &MaterialId| -> Vec<Attachment> {
        shelf.attachments.get(id).cloned().unwrap_or_default()
    };
    ids.into_iter()
        .filter_map(|id| {
            let (b, o, t) = (of(base, id), of(ours, id), of(theirs, id));
            let mut files: Vec<Attachment> = Vec::new();
            for file in o.iter().chain(&t) {
                let gone = b.contains(file) && !(o.contains(file) && t.contains(file));
                if !gone && !files.contains(file) {
                    files.push(file.clone());
                }
            }
            (!files.is_empty()).then(|| (id.clone(), files))
        })
        .collect()
}

/// Puts the certificates of both sides on the merged shelf, value by value; where both changed
/// one differently ours stands, the other is told and kept in the history.
fn merged_lots(
    base: &OwnShelf,
    ours: &OwnShelf,
    theirs: &OwnShelf,
    shelf: &mut OwnShelf,
    at: &str,
) -> Vec<Conflict> {
    let mut conflicts = Vec::new();
    let lots: BTreeSet<&LotId> = ours.lots.keys().chain(theirs.lots.keys()).collect();
    for lot in lots {
        let (b, o, t) = (base.lots.get(lot), ours.lots.get(lot), theirs.lots.get(lot));
        let chosen = if o == t || t == b {
            o.cloned()
        } else if o == b {
            t.cloned()
        } else {
            let (here, there, agreed) = match (o, t) {
                (Some(o), Some(t)) => {
                    let (here, agreed) = joined(b, o, t);
                    (Some(here), Some(joined(b, t, o).0), agreed)
                }
                _ => (o.cloned(), t.cloned(), false),
            };
            if !agreed && let Some(one) = here.as_ref().or(there.as_ref()) {
                let words = |side: Option<&LotValues>| {
                    side.map_or_else(|| "taken away".to_owned(), words_of)
                };
                let state = words(there.as_ref());
                let differences = if let (Some(here), Some(there)) = (&here, &there) {
                    lot_changes(there, here)
                } else {
                    vec![MaterialChange {
                        field: format!("certificate of lot {lot}"),
                        before: state.clone(),
                        after: words(here.as_ref()),
                    }]
                };
                let what = format!(
                    "the certificate of lot {lot} was changed elsewhere at the same time; the other state: {state}"
                );
                shelf.history.push(Arc::new(ShelfChange {
                    at: at.into(),
                    what: what.into(),
                    material: one.material.clone(),
                    before: ours.materials.get(&one.material).cloned(),
                }));
                let known = ours.materials.get(&one.material);
                conflicts.push(Conflict {
                    material: one.material.clone(),
                    name: known.map_or_else(|| one.material.as_str().into(), |m| m.name.clone()),
                    differences,
                    sides: Sides::Lot {
                        lot: lot.clone(),
                        ours: here.clone().map(Box::new),
                        theirs: there.map(Box::new),
                    },
                });
            }
            here
        };
        if let Some(values) = chosen {
            shelf.lots.insert(lot.clone(), values);
        }
    }
    conflicts
}

/// Merges the fields of a material one by one.
fn merged_material(
    base: Option<&Arc<Material>>,
    ours: Option<&Arc<Material>>,
    theirs: Option<&Arc<Material>>,
) -> Result<Arc<Material>, Option<Conflict>> {
    let (Some(o), Some(t)) = (ours, theirs) else {
        // One side took it away while the other changed it.
        let one = ours.or(theirs).ok_or(None)?;
        let gone = |m: Option<&Arc<Material>>| {
            if m.is_some() { "changed" } else { "taken away" }.to_owned()
        };
        return Err(Some(Conflict {
            material: one.id.clone(),
            name: one.name.clone(),
            differences: vec![MaterialChange {
                field: "material".to_owned(),
                before: gone(theirs),
                after: gone(ours),
            }],
            sides: Sides::Material {
                ours: ours.cloned(),
                theirs: theirs.cloned(),
            },
        }));
    };
    let conflict = || {
        Some(Conflict {
            material: o.id.clone(),
            name: o.name.clone(),
            differences: material_changes(t, o),
            sides: Sides::Material {
                ours: Some(Arc::clone(o)),
                theirs: Some(Arc::clone(t)),
            },
        })
    };
    // Without a common state every difference is one of opinion.
    let b = base.ok_or_else(conflict)?;
    let mut merged = Material::clone(o);
    let mut agreed = true;
    macro_rules! fields {
        ($($field:ident),+ $(,)?) => {{
            // Names every field, so that a new one cannot be forgotten here.
            other_fields!(let { id: _, $($field: _),+ } = &**o);
            $(
                if o.$field != t.$field {
                    if o.$field == b.$field {
                        merged.$field = t.$field.clone();
                    } else if t.$field != b.$field {
                        agreed = false;
                    }
                }
            )+
        }};
    }
    fields!(
        name,
        synonyms,
        supplier,
        constituents,
        roles,
        charge,
        phase,
        use_ranges,
        hazards,
        wet_with,
        preservation,
        alkalinity,
        fragrance_levels,
        note,
        source,
    );
    for value in MaterialValue::FIGURES {
        if !o.states_as(t, value) {
            if o.states_as(b, value) {
                merged.take_value(value, t);
            } else if !t.states_as(b, value) {
                agreed = false;
            }
        }
    }
    if agreed {
        Ok(Arc::new(merged))
    } else {
        Err(conflict())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::material;
    use crate::material::{Class, Role};

    fn water() -> Arc<Material> {
        material("Moor water", &[("Aqua", 100.0, Class::Water)])
    }

    fn with(material: &Arc<Material>, change: impl FnOnce(&mut Material)) -> Arc<Material> {
        let mut material = Material::clone(material);
        change(&mut material);
        Arc::new(material)
    }

    fn put(shelf: &OwnShelf, material: &Arc<Material>, at: &str) -> OwnShelf {
        let mut shelf = shelf.clone();
        shelf.apply(&ShelfEdit::Put(Arc::clone(material)), at);
        shelf
    }

    #[test]
    fn own_materials_lie_over_the_built_in_ones() {
        let built_in: Shelf = [water(), material("Salt", &[])].into_iter().collect();
        let mine = with(&water(), |m| m.supplier = Some("Fell Supplies".into()));
        let mut own = put(&OwnShelf::default(), &mine, "1");
        own.apply(&ShelfEdit::Hide(MaterialId::from_name("Salt")), "2");
        let seen = own.over(&built_in);
        assert_eq!(seen.len(), 1);
        assert_eq!(seen.get(&mine.id), Some(&mine));
        own.apply(&ShelfEdit::Remove(mine.id.clone()), "3");
        own.apply(&ShelfEdit::Show(MaterialId::from_name("Salt")), "4");
        assert_eq!(own.over(&built_in), built_in);
        let told: Vec<&str> = own.history.iter().map(|c| c.what.as_ref()).collect();
        assert_eq!(
            told,
            [
                "added “Moor water”",
                "hid “salt”",
                "took “Moor water” away",
                "showed “salt” again"
            ]
        );
        assert_eq!(own.history[2].before.as_ref(), Some(&mine));
    }

    #[test]
    fn an_edit_that_changes_nothing_leaves_no_trace() {
        let mut own = put(&OwnShelf::default(), &water(), "1");
        own.apply(&ShelfEdit::Put(water()), "2");
        own.apply(&ShelfEdit::Attach(water().id.clone(), Vec::new()), "2");
        own.apply(&ShelfEdit::Show(water().id.clone()), "2");
        assert_eq!(own.history.len(), 1);
    }

    #[test]
    fn changes_of_both_sides_are_kept() {
        let base = put(&OwnShelf::default(), &water(), "1");
        let ours = put(
            &base,
            &with(&water(), |m| m.supplier = Some("Fell".into())),
            "2",
        );
        let ours = put(&ours, &material("Salt", &[]), "3");
        let theirs = put(&base, &with(&water(), |m| m.roles.push(Role::Solvent)), "2");
        let theirs = put(&theirs, &material("Sugar", &[]), "4");
        let merged = merge(&base, &ours, &theirs, "5");
        assert!(merged.conflicts.is_empty());
        let water = &merged.shelf.materials[&water().id];
        assert_eq!(water.supplier.as_deref(), Some("Fell"));
        assert!(water.has_role(Role::Solvent));
        assert_eq!(merged.shelf.materials.len(), 3);
        assert_eq!(merged.shelf.history.len(), 5);
        // The other way round the result is the same.
        let back = merge(&base, &theirs, &ours, "5");
        assert_eq!(back.shelf.materials, merged.shelf.materials);
    }

    #[test]
    fn a_conflict_is_listed_and_neither_side_is_lost() {
        let base = put(&OwnShelf::default(), &water(), "1");
        let ours = put(
            &base,
            &with(&water(), |m| m.supplier = Some("Fell".into())),
            "2",
        );
        let theirs = put(
            &base,
            &with(&water(), |m| m.supplier = Some("Tarn".into())),
            "3",
        );
        let merged = merge(&base, &ours, &theirs, "4");
        assert_eq!(merged.conflicts.len(), 1);
        let difference = &merged.conflicts[0].differences[0];
        assert_eq!(difference.field, "supplier");
        assert_eq!(
            (difference.before.as_str(), difference.after.as_str()),
            ("Tarn", "Fell")
        );
        let id = &water().id;
        assert_eq!(merged.shelf.materials[id].supplier.as_deref(), Some("Fell"));
        let kept = merged.shelf.history_of(id).next().unwrap();
        assert_eq!(
            kept.before.as_ref().unwrap().supplier.as_deref(),
            Some("Tarn")
        );
    }

    #[test]
    fn taking_away_against_changing_is_a_conflict() {
        let base = put(&OwnShelf::default(), &water(), "1");
        let mut ours = base.clone();
        ours.apply(&ShelfEdit::Remove(water().id.clone()), "2");
        let theirs = put(&base, &with(&water(), |m| m.note = "x".into()), "3");
        let merged = merge(&base, &ours, &theirs, "4");
        assert_eq!(merged.conflicts.len(), 1);
        // Unchanged on the other side, it simply goes.
        let merged = merge(&base, &ours, &base, "4");
        assert!(merged.conflicts.is_empty() && merged.shelf.materials.is_empty());
    }

    fn certificate(lot: &str, ph: f64, note: &str) -> LotValues {
        LotValues {
            lot: LotId::new(lot).unwrap(),
            material: water().id.clone(),
            shares: Vec::new(),
            density: None,
            ph: crate::quantity::Ph::new(ph),
            base_mmol_per_gram: None,
            certificate: note.into(),
        }
    }

    #[test]
    fn certificates_and_files_of_both_sides_are_kept_or_told() {
        let put = |shelf: &OwnShelf, values: LotValues| {
            let mut shelf = shelf.clone();
            shelf.apply(&ShelfEdit::PutLot(values), "2");
            shelf
        };
        let file = |label: &str| Attachment {
            label: label.into(),
            path: "sheet.pdf".into(),
        };
        let attach = |shelf: &mut OwnShelf, labels: &[&str]| {
            let files = labels.iter().map(|l| file(l)).collect();
            shelf.apply(&ShelfEdit::Attach(water().id.clone(), files), "2");
        };
        let mut base = put(
            &put(&OwnShelf::default(), certificate("A", 5.0, "")),
            certificate("B", 5.0, ""),
        );
        attach(&mut base, &["safety", "data"]);
        let mut ours = put(
            &put(&base, certificate("A", 5.5, "")),
            certificate("B", 6.0, ""),
        );
        attach(&mut ours, &["safety", "data", "mine"]);
        let mut theirs = put(
            &put(&base, certificate("A", 5.0, "CoA 3")),
            certificate("B", 7.0, "CoA 4"),
        );
        attach(&mut theirs, &["data", "theirs"]);
        let merged = merge(&base, &ours, &theirs, "3");
        let of = |lot: &str| &merged.shelf.lots[&LotId::new(lot).unwrap()];
        assert_eq!(*of("A"), certificate("A", 5.5, "CoA 3"));
        assert_eq!(*of("B"), certificate("B", 6.0, "CoA 4"));
        let files = &merged.shelf.attachments[&water().id];
        assert_eq!(*files, ["data", "mine", "theirs"].map(file));
        let [conflict] = &merged.conflicts[..] else {
            panic!("{:?}", merged.conflicts);
        };
        assert_eq!(conflict.lot(), LotId::new("B").as_ref());
        let [difference] = &conflict.differences[..] else {
            panic!("{conflict:?}");
        };
        assert_eq!(
            [&*difference.field, &*difference.before, &*difference.after],
            ["pH", "7", "6"]
        );
        let said: Vec<&str> = merged.shelf.history.iter().map(|c| &*c.what).collect();
        let told = "changed the certificate of lot B: pH 5 then, 6 now";
        assert!(said.contains(&told), "{said:?}");
        let told = said
            .iter()
            .any(|s| s.ends_with("the other state: pH 7, certificate CoA 4"));
        assert!(told, "{said:?}");
        // Taken away against changed.
        let mut gone = base.clone();
        gone.apply(&ShelfEdit::RemoveLot(LotId::new("B").unwrap()), "3");
        assert_eq!(merge(&base, &gone, &theirs, "4").conflicts.len(), 1);
        assert!(merge(&base, &gone, &base, "4").conflicts.is_empty());
    }

    #[test]
    fn shelves_that_never_were_one() {
        let none = OwnShelf::default();
        let ours = put(&none, &water(), "1");
        let theirs = put(&none, &with(&water(), |m| m.note = "x".into()), "1");
        let merged = merge(&none, &ours, &theirs, "2");
        assert_eq!(merged.conflicts.len(), 1);
        let theirs = put(&none, &material("Salt", &[]), "1");
        let merged = merge(&none, &ours, &theirs, "2");
        assert_eq!(merged.taken, [MaterialId::from_name("Salt")]);
        assert_eq!(merged.shelf.materials.len(), 2);
    }
}
