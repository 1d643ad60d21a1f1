//! A draft that goes on while the material is saved elsewhere.

use std::collections::BTreeMap;

use super::{DraftField, MaterialDraft, TypedFigures};
use crate::material::{MaterialValue, Source};

/// What is typed here, what it was typed over, and what stands there now.
struct Joining<'a> {
    was: &'a MaterialDraft,
    there: &'a MaterialDraft,
    /// Names of the fields that both changed, each once.
    both: Vec<&'static str>,
}

impl Joining<'_> {
    /// One field: as it is there if it was not touched here.
    fn field<T: PartialEq + Clone>(
        &mut self,
        name: &'static str,
        here: &mut T,
        of: impl Fn(&MaterialDraft) -> &T,
    ) {
        let (was, there) = (of(self.was), of(self.there));
        if here == was {
            here.clone_from(there);
        } else if there != was && here != there && !self.both.contains(&name) {
            self.both.push(name);
        }
    }

    /// The sources of single values, each by itself.
    fn sources(&mut self, here: &mut BTreeMap<DraftField, Source>) {
        let (was, there) = (&self.was.sources, &self.there.sources);
        let fields: Vec<DraftField> = was.keys().chain(there.keys()).copied().collect();
        for field in fields {
            if here.get(&field) != was.get(&field) {
                continue;
            }
            match there.get(&field) {
                Some(source) => here.insert(field, source.clone()),
                None => here.remove(&field),
            };
        }
    }
}

impl MaterialDraft {
    /// Follows what was saved elsewhere since the draft was begun: what was not touched here
    /// becomes as it is there. Names of the fields that both changed come back; they stay as
    /// typed.
    pub fn follow(&mut self, was: &Self, there: &Self) -> Vec<&'static str> {
        let mut joining = Joining {
            was,
            there,
            both: Vec::new(),
        };
        // A new field does not compile until somebody has looked here.
        let Self {
            of: _,
            name,
            synonyms,
            supplier,
            constituents,
            roles,
            charge,
            phase,
            rinse_off,
            leave_on,
            values,
            hazards,
            wet_with,
            preservation,
            alkalinity,
            fragrance,
            note,
            basis,
            source,
            sources,
        } = self;
        let j = &mut joining;
        j.field(DraftField::Name.label(), name, |d| &d.name);
        j.field(DraftField::Synonyms.label(), synonyms, |d| &d.synonyms);
        j.field(DraftField::Supplier.label(), supplier, |d| &d.supplier);
        j.field(DraftField::Constituents.label(), constituents, |d| {
            &d.constituents
        });
        j.field(DraftField::Roles.label(), roles, |d| &d.roles);
        j.field("Charge", charge, |d| &d.charge);
        j.field("Usual phase", phase, |d| &d.phase);
        j.field(DraftField::UseRinseOff.label(), rinse_off, |d| &d.rinse_off);
        j.field(DraftField::UseLeaveOn.label(), leave_on, |d| &d.leave_on);
        let label = |value| DraftField::Value(value).label();
        for value in MaterialValue::FIGURES {
            let TypedFigures { low, high } = &mut values[value];
            j.field(label(value), low, |d| &d.values[value].low);
            j.field(label(value), high, |d| &d.values[value].high);
        }
        j.field("Hazards", hazards, |d| &d.hazards);
        j.field("Wetted with", wet_with, |d| &d.wet_with);
        j.field(label(MaterialValue::Preservation), preservation, |d| {
            &d.preservation
        });
        j.field(label(MaterialValue::Alkalinity), alkalinity, |d| {
            &d.alkalinity
        });
        j.field(DraftField::Fragrance(0).label(), fragrance, |d| {
            &d.fragrance
        });
        j.field("Note", note, |d| &d.note);
        j.field(DraftField::Source.label(), basis, |d| &d.basis);
        j.field(DraftField::Source.label(), source, |d| &d.source);
        j.sources(sources);
        joining.both
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::Basis;

    fn draft(supplier: &str, density: &str, note: &str) -> MaterialDraft {
        let mut draft = MaterialDraft {
            supplier: supplier.to_owned(),
            note: note.to_owned(),
            ..MaterialDraft::default()
        };
        density.clone_into(&mut draft.values[MaterialValue::Density].low);
        draft
    }

    /// Untouched fields are as they are there, typed ones stay, and what both changed is named.
    #[test]
    fn untouched_fields_follow_and_typed_ones_stay() {
        let was = draft("Fell", "0.9", "");
        let mut here = draft("Glen", "0.9", "for bars");
        let both = here.follow(&was, &draft("Tarn", "0.91", ""));
        assert_eq!(here, draft("Glen", "0.91", "for bars"));
        assert_eq!(both, ["Supplier"]);
        // Both typed the same: nothing to tell.
        let mut same = draft("Tarn", "0.9", "");
        assert!(same.follow(&was, &draft("Tarn", "0.9", "")).is_empty());
    }

    /// A source of a single value that was entered there comes, one typed here stays.
    #[test]
    fn sources_follow_one_by_one() {
        let source = |text: &str| Source::new(Basis::Supplier, text);
        let with = |sources: &[(DraftField, &str)]| MaterialDraft {
            sources: sources.iter().map(|(f, t)| (*f, source(t))).collect(),
            ..MaterialDraft::default()
        };
        let was = with(&[
            (DraftField::Value(MaterialValue::Hlb), "a"),
            (DraftField::Value(MaterialValue::Density), "b"),
        ]);
        let mut here = with(&[
            (DraftField::Value(MaterialValue::Hlb), "mine"),
            (DraftField::Value(MaterialValue::Density), "b"),
        ]);
        let there = with(&[
            (DraftField::Value(MaterialValue::Hlb), "theirs"),
            (DraftField::Value(MaterialValue::PhWindow), "c"),
        ]);
        assert!(here.follow(&was, &there).is_empty());
        assert_eq!(
            here,
            with(&[
                (DraftField::Value(MaterialValue::Hlb), "mine"),
                (DraftField::Value(MaterialValue::PhWindow), "c")
            ])
        );
    }
}
