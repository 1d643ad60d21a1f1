//! Merges two copies of a file that came from one parent: what differs is listed,
//! both are kept, and the maker chooses.

use std::collections::{BTreeMap, HashSet};
use std::sync::Arc;

use super::{Compared, same_content};
use crate::formula::{EarlierState, Formula, ItemId, Variant, VariantId};
use crate::material::{Material, MaterialId};

/// One thing in which two copies differ.
#[derive(Clone, PartialEq, Debug)]
pub enum Point {
    /// A variant that only this copy has; it stays.
    OnlyMine(VariantId),
    /// A variant that only the other copy has.
    OnlyTheirs(VariantId),
    /// A variant that both have with different content, name or note.
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
}

/// What becomes of a point.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Choice {
    /// As in this copy.
    Mine,
    /// As in the other copy; what was here is kept in the history.
    Theirs,
    /// Both: theirs comes in beside mine as a variant of its own. For a material and
    /// for words the same as `Mine`.
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
pub fn points(mine: &Formula, theirs: &Formula) -> Vec<Point> {
    let mut out = Vec::new();
    if (&mine.name, &mine.notes, &mine.author) != (&theirs.name, &theirs.notes, &theirs.author) {
        out.push(Point::Words);
    }
    let same = |a: &Variant, b: &Variant| a.note == b.note && same_make(mine, a, theirs, b);
    let taken = |theirs: &Variant| mine.variants.iter().any(|v| same(v, theirs));
    let mut matched = HashSet::new();
    for variant in &mine.variants {
        match twin(variant, theirs) {
            None if theirs.variants.iter().any(|t| same(variant, t)) => {}
            None => out.push(Point::OnlyMine(variant.id)),
            Some(other) => {
                matched.insert(other.id);
                let grew = !alike(mine, variant, theirs, other);
                let renamed = same(variant, other) && *variant.name != *beside(&other.name);
                if grew && (renamed || !taken(other)) {
                    out.push(Point::Differs {
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
    out.extend(only_theirs.map(|v| Point::OnlyTheirs(v.id)));
    let differs = |(id, m): &(&MaterialId, &Arc<Material>)| {
        theirs.materials.get(*id).is_some_and(|t| t != *m)
    };
    let materials = mine.materials.iter().filter(differs);
    out.extend(materials.map(|(id, _)| Point::Material(id.clone())));
    out
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
/// of [`points`] in their order; a missing choice is [`Choice::Both`].
///
/// Nothing is lost: what gives way to theirs is kept in the history, which is that
/// of both copies. `at` is the time of the merge, RFC 3339.
pub fn merge(mine: &Formula, theirs: &Formula, choices: &[Choice], at: &str) -> Formula {
    let mut merge = Merge {
        out: mine.clone(),
        theirs,
        taken: HashSet::new(),
        at: at.into(),
    };
    merge.out.next_id = mine.next_id.max(theirs.next_id);
    let all = points(mine, theirs);
    let choice = |i: usize| choices.get(i).copied().unwrap_or(Choice::Both);
    // Materials first, because variants that come in look for them.
    for (i, point) in all.iter().enumerate() {
        match (point, choice(i)) {
            (Point::Material(id), Choice::Theirs) => {
                if let Some(material) = theirs.material(id) {
                    let material = Arc::clone(material);
                    merge.out.materials.insert(id.clone(), material);
                }
            }
            (Point::Words, Choice::Theirs) => {
                merge.out.name = theirs.name.clone();
                merge.out.notes = theirs.notes.clone();
                merge.out.author = theirs.author.clone();
            }
            _ => {}
        }
    }
    merge.histories(mine);
    for (i, point) in all.iter().enumerate() {
        match (point, choice(i)) {
            (Point::OnlyTheirs(id), Choice::Theirs | Choice::Both) => merge.add(*id, None),
            (Point::Differs { mine, theirs, .. }, Choice::Theirs) => {
                merge.replace(*mine, *theirs);
            }
            (
                Point::Differs {
                    mine: m, theirs: t, ..
                },
                Choice::Both,
            ) => {
                // Of a variant that only has another name there is nothing to put beside it.
                let differs = mine.variant(*m).zip(theirs.variant(*t));
                if differs.is_some_and(|(a, b)| a.note != b.note || !same_make(mine, a, theirs, b))
                {
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
        for slot in &mut self.out.variants {
            if slot.id == mine {
                self.out.history.push(Arc::new(EarlierState {
                    at: self.at.clone(),
                    what: "Before the merge".into(),
                    variant: Arc::clone(slot),
                }));
                *slot = Arc::new(Variant {
                    id: mine,
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
mod tests {
    use super::*;
    use crate::file::formula_file;
    use crate::fixture;
    use crate::material::Class;
    use crate::random_formula::{self, Dice};
    use proptest::prelude::*;

    fn grown(formula: &Formula, dice: &mut Dice) -> Formula {
        let mut copy = formula.clone();
        let at = dice.below(copy.variants.len());
        let mut variant = Variant::clone(&copy.variants[at]);
        random_formula::change(dice, &mut variant, &mut copy.next_id);
        copy.variants[at] = Arc::new(variant);
        if dice.chance(2) {
            let mut branch = Variant::clone(&copy.variants[0]);
            branch.id = VariantId(copy.take_id());
            branch.name = "branch".into();
            branch.parent = Some(copy.variants[0].id);
            copy.variants.push(Arc::new(branch));
        }
        copy
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(300))]

        #[test]
        fn equal_copies_have_no_points(seed: u64) {
            let formula = random_formula::formula(seed);
            prop_assert_eq!(points(&formula, &formula), []);
            prop_assert_eq!(merge(&formula, &formula, &[], "t").variants, formula.variants);
        }

        #[test]
        fn with_both_nothing_is_lost(seed: u64) {
            let parent = random_formula::formula(seed);
            let dice = &mut Dice::new(seed ^ 1);
            let (mine, theirs) = (grown(&parent, dice), grown(&parent, dice));
            let merged = merge(&mine, &theirs, &[], "2026-05-02T10:00:00Z");
            let contents = |f: &Formula, v: &Variant| merged
                .variants
                .iter()
                .any(|m| same_content(Compared::new(&merged, m), Compared::new(f, v)));
            for v in &mine.variants {
                prop_assert!(contents(&mine, v));
            }
            for v in &theirs.variants {
                prop_assert!(contents(&theirs, v));
            }
            let mut ids: Vec<_> = merged.variants.iter().map(|v| v.id).collect();
            ids.sort();
            ids.dedup();
            prop_assert_eq!(ids.len(), merged.variants.len());
            // And the result is a file that opens again the same.
            let text = formula_file::write(&merged).unwrap();
            prop_assert_eq!(formula_file::read(&text, "x").unwrap(), merged);
        }

        /// Whatever was kept, a second merge finds no variant to take in again.
        #[test]
        fn what_was_taken_in_is_not_taken_in_again(seed: u64) {
            let parent = random_formula::formula(seed);
            let dice = &mut Dice::new(seed ^ 3);
            let (mine, theirs) = (grown(&parent, dice), grown(&parent, dice));
            let merged = merge(&mine, &theirs, &[], "2026-05-02T10:00:00Z");
            let again = merge(&merged, &theirs, &[], "2026-05-02T10:01:00Z");
            prop_assert_eq!(again.variants, merged.variants);
        }

        #[test]
        fn with_theirs_the_file_becomes_theirs_and_mine_is_in_the_history(seed: u64) {
            let parent = random_formula::formula(seed);
            let dice = &mut Dice::new(seed ^ 2);
            let (mine, theirs) = (grown(&parent, dice), grown(&parent, dice));
            let all = points(&mine, &theirs);
            let merged = merge(&mine, &theirs, &vec![Choice::Theirs; all.len()], "t");
            for point in &all {
                if let Point::Differs { mine: m, theirs: t, .. } = point {
                    let (now, wanted) = (merged.variant(*m).unwrap(), theirs.variant(*t).unwrap());
                    prop_assert!(same_content(
                        Compared::new(&merged, now),
                        Compared::new(&theirs, wanted)
                    ));
                    let was = mine.variant(*m).unwrap();
                    prop_assert!(merged.history.iter().any(|k| k.variant == *was));
                }
            }
        }
    }

    #[test]
    fn the_state_from_which_both_copies_came_is_found() {
        let parent = random_formula::formula(11);
        let id = parent.variants[0].id;
        // Each copy keeps what it replaced under a time of its own.
        let changed = |note: &str, at: &str| {
            let mut copy = parent.clone();
            copy.history.push(Arc::new(EarlierState {
                at: at.into(),
                what: "Change the note".into(),
                variant: Arc::clone(&copy.variants[0]),
            }));
            let mut variant = Variant::clone(&copy.variants[0]);
            variant.note = note.into();
            copy.variants[0] = Arc::new(variant);
            copy
        };
        let mine = changed("mine", "2026-05-02T10:00:00Z");
        let theirs = changed("theirs", "2026-05-03T10:00:00Z");
        for (a, b) in [(&mine, &theirs), (&mine, &parent), (&parent, &theirs)] {
            let expected = Point::Differs {
                mine: id,
                theirs: id,
                base: Some(Arc::clone(&parent.variants[0])),
            };
            assert_eq!(points(a, b), [expected]);
        }
    }

    /// Two copies that differ in the words, in a material and in what one has more.
    fn grown_apart() -> (Formula, Formula, MaterialId) {
        let parent = random_formula::formula(11);
        let (mut mine, mut theirs) = (parent.clone(), parent);
        mine.notes = "mine".into();
        theirs.notes = "theirs".into();
        let id = mine.materials.keys().next().unwrap().clone();
        let mut material = Material::clone(&theirs.materials[&id]);
        material.supplier = Some("Fellside Botanicals".into());
        theirs.materials.insert(id.clone(), Arc::new(material));
        (mine, theirs, id)
    }

    #[test]
    fn words_and_materials_are_whose_they_were_chosen_to_be() {
        let (mine, theirs, id) = grown_apart();
        let all = points(&mine, &theirs);
        assert_eq!(all, [Point::Words, Point::Material(id.clone())]);
        for (words, material) in [
            (Choice::Mine, Choice::Theirs),
            (Choice::Theirs, Choice::Mine),
            (Choice::Both, Choice::Both),
        ] {
            let merged = merge(&mine, &theirs, &[words, material], "t");
            let of = |choice| match choice {
                Choice::Theirs => &theirs,
                Choice::Mine | Choice::Both => &mine,
            };
            assert_eq!(merged.notes, of(words).notes);
            assert_eq!(merged.materials[&id], of(material).materials[&id]);
        }
    }

    #[test]
    fn what_comes_in_brings_its_materials_and_its_history() {
        let (mine, mut theirs, _) = grown_apart();
        let new = fixture::material("Newcomer", &[("Glycerin", 100.0, Class::Humectant)]);
        theirs.materials.insert(new.id.clone(), new.clone());
        let mut branch = Variant::clone(&theirs.variants[0]);
        branch.id = VariantId(theirs.take_id());
        branch.name = mine.variants[0].name.clone();
        branch.note = "another".into();
        branch.parent = None;
        let mut phase = branch.phases[0].as_ref().clone();
        let mut line = fixture::line(&new, "0").1;
        line.id = ItemId(theirs.take_id());
        phase.lines.push(line);
        branch.phases[0] = Arc::new(phase);
        let kept = Arc::new(EarlierState {
            at: "2026-05-01T10:00:00Z".into(),
            what: "Change a line".into(),
            variant: Arc::clone(&theirs.variants[0]),
        });
        theirs.history.push(Arc::clone(&kept));
        theirs.variants.push(Arc::new(branch));
        let all = points(&mine, &theirs);
        let choices = vec![Choice::Both; all.len()];
        let merged = merge(&mine, &theirs, &choices, "2026-05-02T10:00:00Z");
        assert_eq!(merged.material(&new.id), Some(&new));
        assert_eq!(merged.variants.len(), mine.variants.len() + 1);
        let came = merged.variants.last().unwrap();
        assert_eq!(&*came.name, beside(&mine.variants[0].name));
        assert!(merged.history.contains(&kept));
        // Merged again, an entry that is known does not come twice.
        let again = merge(&merged, &theirs, &choices, "2026-05-02T10:01:00Z");
        let times = again.history.iter().filter(|k| **k == kept).count();
        assert_eq!(times, 1);
    }

    #[test]
    fn a_twin_has_half_of_its_lines_in_common() {
        let of = |materials: [&str; 4]| {
            let lines = materials.map(|name| {
                let m = fixture::material(name, &[("Glycerin", 100.0, Class::Humectant)]);
                fixture::line(&m, "25")
            });
            fixture::formula(lines.into())
        };
        let mine = of(["a", "b", "c", "d"]);
        let is_twin = |theirs: &Formula| twin(mine.active(), theirs).is_some();
        assert!(is_twin(&of(["a", "b", "c", "d"])));
        assert!(is_twin(&of(["a", "b", "x", "y"])));
        assert!(!is_twin(&of(["a", "x", "y", "z"])));
        assert!(!is_twin(&of(["w", "x", "y", "z"])));
        // Of three lines in common one is less than half; a line without a counterpart counts
        // for neither.
        let mut fewer = of(["a", "x", "y", "z"]);
        let mut variant = Variant::clone(fewer.active());
        let mut phase = variant.phases[0].as_ref().clone();
        phase.lines.pop();
        variant.phases[0] = Arc::new(phase.clone());
        fewer.variants = vec![Arc::new(variant.clone())];
        assert!(!is_twin(&fewer));
        phase.lines.pop();
        variant.phases[0] = Arc::new(phase);
        fewer.variants = vec![Arc::new(variant)];
        assert!(is_twin(&fewer));
        // Without lines, name and day of making tell.
        let mut empty = fixture::formula(Vec::new());
        assert!(is_twin(&empty));
        let mut variant = Variant::clone(empty.active());
        variant.name = "Another".into();
        empty.variants = vec![Arc::new(variant)];
        assert!(!is_twin(&empty));
    }

    #[test]
    fn relatives_are_told_from_strangers() {
        let parent = random_formula::formula(11);
        let copy = grown(&parent, &mut Dice::new(5));
        assert!(have_one_parent(&parent, &copy));
        let stranger = Formula::new("Other");
        assert!(!have_one_parent(&parent, &stranger));
        // A twin is enough, and so is an earlier state that both know.
        let mut twins = (parent.clone(), copy);
        twins.0.history.clear();
        twins.1.history.clear();
        assert!(have_one_parent(&twins.0, &twins.1));
        let known = Arc::new(EarlierState {
            at: "2026-05-02T10:00:00Z".into(),
            what: "Change the note".into(),
            variant: Arc::clone(&parent.variants[0]),
        });
        let mut others = (Formula::new("One"), Formula::new("Other"));
        let far = Arc::make_mut(&mut others.1.variants[0]);
        far.id = VariantId(999);
        others.1.active = far.id;
        assert!(!have_one_parent(&others.0, &others.1));
        others.0.history.push(Arc::clone(&known));
        others.1.history.push(known);
        assert!(have_one_parent(&others.0, &others.1));
    }

    /// A formula with one variant more, made of the first by a change.
    fn with_variant(formula: &Formula, id: u64, change: impl FnOnce(&mut Variant)) -> Formula {
        let mut grown = formula.clone();
        let mut variant = Variant::clone(&grown.variants[0]);
        variant.id = VariantId(id);
        change(&mut variant);
        grown.variants.push(Arc::new(variant));
        grown
    }

    #[test]
    fn a_variant_that_one_copy_has_more_is_told_unless_the_other_has_it_by_another_name() {
        let glycerin = fixture::material("a", &[("Glycerin", 100.0, Class::Humectant)]);
        let parent = fixture::formula(vec![fixture::line(&glycerin, "100")]);
        let mine = with_variant(&parent, 500, |v| v.note = "branch".into());
        assert_eq!(points(&mine, &parent), [Point::OnlyMine(VariantId(500))]);
        assert_eq!(points(&parent, &mine), [Point::OnlyTheirs(VariantId(500))]);
        let theirs = with_variant(&parent, 600, |v| {
            v.note = "branch".into();
            v.name = "theirs".into();
        });
        assert_eq!(points(&mine, &theirs), []);
    }

    /// What comes in keeps its name unless that is taken, and stands beside mine only where it says
    /// something else.
    #[test]
    fn of_both_copies_only_what_differs_comes_in_under_a_name_of_its_own() {
        let glycerin = fixture::material("a", &[("Glycerin", 100.0, Class::Humectant)]);
        let parent = fixture::formula(vec![fixture::line(&glycerin, "100")]);
        let changed = |change: &dyn Fn(&mut Variant)| {
            let mut copy = parent.clone();
            let mut variant = Variant::clone(copy.active());
            change(&mut variant);
            copy.variants = vec![Arc::new(variant)];
            copy
        };
        let names = |mine: &Formula, theirs: &Formula| {
            let merged = merge(mine, theirs, &[Choice::Both], "2026-05-02T10:00:00Z");
            let names = merged.variants.iter().map(|v| v.name.to_string());
            names.collect::<Vec<_>>()
        };
        let own = parent.active().name.to_string();
        let noted = changed(&|v| v.note = "theirs".into());
        assert_eq!(names(&parent, &noted), [own.clone(), beside(&own)]);
        let renamed = changed(&|v| v.name = "Summer".into());
        assert_eq!(names(&parent, &renamed), std::slice::from_ref(&own));
        let grown = with_variant(&parent, 600, |v| {
            v.note = "branch".into();
            v.name = "Summer".into();
        });
        assert_eq!(names(&parent, &grown), [own, "Summer".to_owned()]);
    }

    #[test]
    fn another_name_is_a_difference_but_for_the_one_given_by_a_merge() {
        let glycerin = fixture::material("a", &[("Glycerin", 100.0, Class::Humectant)]);
        let parent = fixture::formula(vec![fixture::line(&glycerin, "100")]);
        let named = |name: &str| {
            let mut copy = parent.clone();
            let mut variant = Variant::clone(copy.active());
            variant.name = name.into();
            copy.variants = vec![Arc::new(variant)];
            copy
        };
        let theirs = named("Summer");
        let told = points(&named("Winter"), &theirs);
        assert!(matches!(told[..], [Point::Differs { .. }]), "{told:?}");
        assert_eq!(points(&named("Summer (other copy)"), &theirs), []);
    }
}
