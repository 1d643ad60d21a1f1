//! Copies of one formula merged: nothing of either is lost.

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
        let merged = merge(&mine, &theirs, &vec![MergeChoice::Theirs; all.len()], "t");
        for point in &all {
            if let MergePoint::Differs { mine: m, theirs: t, .. } = point {
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
        let expected = MergePoint::Differs {
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
    assert_eq!(all, [MergePoint::Words, MergePoint::Material(id.clone())]);
    for (words, material) in [
        (MergeChoice::Mine, MergeChoice::Theirs),
        (MergeChoice::Theirs, MergeChoice::Mine),
        (MergeChoice::Both, MergeChoice::Both),
    ] {
        let merged = merge(&mine, &theirs, &[words, material], "t");
        let of = |choice| match choice {
            MergeChoice::Theirs => &theirs,
            MergeChoice::Mine | MergeChoice::Both => &mine,
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
    let choices = vec![MergeChoice::Both; all.len()];
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
    assert_eq!(
        points(&mine, &parent),
        [MergePoint::OnlyMine(VariantId(500))]
    );
    assert_eq!(
        points(&parent, &mine),
        [MergePoint::OnlyTheirs(VariantId(500))]
    );
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
        let merged = merge(mine, theirs, &[MergeChoice::Both], "2026-05-02T10:00:00Z");
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
    assert!(matches!(told[..], [MergePoint::Differs { .. }]), "{told:?}");
    assert_eq!(points(&named("Summer (other copy)"), &theirs), []);
}

/// The parent with another first variant.
fn changed(parent: &Formula, change: impl FnOnce(&mut Variant)) -> Formula {
    let mut copy = parent.clone();
    let mut variant = Variant::clone(copy.active());
    change(&mut variant);
    copy.variants = vec![Arc::new(variant)];
    copy
}

#[test]
fn that_a_variant_is_no_longer_used_is_told_and_chosen() {
    let glycerin = fixture::material("a", &[("Glycerin", 100.0, Class::Humectant)]);
    let parent = fixture::formula(vec![fixture::line(&glycerin, "100")]);
    let theirs = changed(&parent, |v| v.archived = true);
    let (a, b) = (parent.active(), theirs.active());
    assert!(!stand_beside(&parent, a, &theirs, b));
    let told = points(&parent, &theirs);
    assert!(matches!(told[..], [MergePoint::Differs { .. }]), "{told:?}");
    let used = |choice| {
        let merged = merge(&parent, &theirs, &[choice], "t");
        assert_eq!(merged.variants.len(), 1);
        !merged.active().archived
    };
    assert!(used(MergeChoice::Both) && used(MergeChoice::Mine));
    assert!(!used(MergeChoice::Theirs));
    // Also of one that came in beside another by an earlier merge.
    let beside = changed(&parent, |v| v.name = beside(&v.name).into());
    let told = points(&beside, &theirs);
    assert!(matches!(told[..], [MergePoint::Differs { .. }]), "{told:?}");
}

#[test]
fn findings_that_the_other_copy_set_aside_come_over() {
    let glycerin = fixture::material("a", &[("Glycerin", 100.0, Class::Humectant)]);
    let parent = fixture::formula(vec![fixture::line(&glycerin, "100")]);
    let finding = |message: &str| SetAside {
        rule: "usual-level".into(),
        message: message.into(),
    };
    let (mut mine, mut theirs) = (parent.clone(), parent);
    mine.set_aside.insert(finding("mine"));
    theirs.set_aside.insert(finding("theirs"));
    let told = points(&mine, &theirs);
    assert_eq!(told, [MergePoint::SetAside(vec![finding("theirs")])]);
    let merged = merge(&mine, &theirs, &[], "t");
    let both = [finding("mine"), finding("theirs")];
    assert!(merged.set_aside.iter().eq(&both));
    assert_eq!(points(&merged, &theirs), []);
    let left_out = merge(&mine, &theirs, &[MergeChoice::Mine], "t");
    assert_eq!(left_out.set_aside, mine.set_aside);
}
