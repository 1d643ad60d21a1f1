use std::sync::Arc;

use proptest::prelude::*;

use super::*;
use crate::fixture::{line, material, phased};
use crate::formula::{Formula, ItemId, Variant};
use crate::material::{Class, MaterialId, Role};
use crate::quantity::Percent;
use crate::random_formula::{self, Dice};

/// A variant with ids given anew in working order, so that only content counts.
fn renumbered(variant: &Variant) -> Variant {
    let mut v = variant.clone();
    let mut next = 0;
    let mut take = || {
        next += 1;
        ItemId(next)
    };
    let mut filler = None;
    for phase in &mut v.phases {
        let phase = Arc::make_mut(phase);
        phase.id = take();
        for line in &mut phase.lines {
            let id = take();
            if variant.filler == Some(line.id) {
                filler = Some(id);
            }
            line.id = id;
        }
        for step in &mut phase.steps {
            step.id = take();
        }
    }
    v.filler = filler;
    v
}

/// The content of a variant under another's identity.
fn content(variant: &Variant, identity: &Variant) -> Variant {
    Variant {
        id: identity.id,
        name: identity.name.clone(),
        note: identity.note.clone(),
        parent: identity.parent,
        created: identity.created,
        archived: identity.archived,
        ..renumbered(variant)
    }
}

fn ids_are_unique(variant: &Variant) -> bool {
    let mut ids: Vec<ItemId> = variant
        .phases
        .iter()
        .flat_map(|p| {
            let lines = p.lines.iter().map(|l| l.id);
            let steps = p.steps.iter().map(|s| s.id);
            [p.id].into_iter().chain(lines).chain(steps)
        })
        .collect();
    let all = ids.len();
    ids.sort();
    ids.dedup();
    ids.len() == all
}

/// Differences of a formula with its changed copy, as short words.
fn told(left: &Formula, right: &Formula) -> Vec<String> {
    let (a, b) = (left.active(), right.active());
    let comparison = compare(Compared::new(left, a), Compared::new(right, b));
    let name = |d: &DifferenceSubject| match d {
        DifferenceSubject::Line(ids) => {
            let line = ids
                .left
                .and_then(|id| a.line(id))
                .or_else(|| ids.right.and_then(|id| b.line(id)));
            line.map_or_else(String::new, |l| l.material.to_string())
        }
        DifferenceSubject::Phase(ids) => {
            let phase = ids
                .left
                .and_then(|id| a.phase(id))
                .or_else(|| ids.right.and_then(|id| b.phase(id)));
            phase.map_or_else(String::new, |p| p.letter.to_string())
        }
        _ => String::new(),
    };
    comparison
        .differences
        .iter()
        .map(|d| {
            let what = match d {
                Difference::LineOnly { side, relation, .. } => format!("{side:?} {relation:?}"),
                Difference::PhaseOnly { side, .. } => format!("{side:?} phase"),
                Difference::PhaseHead { .. } => "head".to_owned(),
                Difference::PhaseOrder { .. } => "order".to_owned(),
                Difference::LineMaterial {
                    relation, material, ..
                } => {
                    format!("{relation:?} {}", material.right)
                }
                Difference::LinePercent { percent, .. } => {
                    format!("{} to {}", percent.left, percent.right)
                }
                Difference::LinePlace { .. } => "place".to_owned(),
                other => format!("{other:?}"),
            };
            format!("{} {what}", name(&d.subject())).trim().to_owned()
        })
        .collect()
}

/// A: water 70 (filler), glycerin 5; B: betaine 20, salt 2; C: scent 2, preservative 1.
fn start() -> Formula {
    let m = |name: &str, role: Role, class: Class| {
        let mut m = Material::clone(&material(name, &[(name, 100.0, class)]));
        m.roles = vec![role];
        Arc::new(m)
    };
    let water = m("water", Role::Solvent, Class::Water);
    let glycerin = m("glycerin", Role::Humectant, Class::Humectant);
    let betaine = m("betaine", Role::CoSurfactant, Class::Other);
    let salt = m("salt", Role::Salt, Class::Electrolyte);
    let scent = m("scent", Role::Fragrance, Class::Fragrance);
    let preservative = m("preservative", Role::Preservative, Class::Preservative);
    let mut f = phased(vec![
        vec![line(&water, "70"), line(&glycerin, "5")],
        vec![line(&betaine, "20"), line(&salt, "2")],
        vec![line(&scent, "2"), line(&preservative, "1")],
    ]);
    change(&mut f, |v| v.filler = Some(ItemId(10)));
    f
}

fn change(formula: &mut Formula, how: impl FnOnce(&mut Variant)) {
    let mut variant = Variant::clone(formula.active());
    how(&mut variant);
    formula.variants = vec![Arc::new(variant)];
}

fn phase(variant: &mut Variant, at: usize) -> &mut Phase {
    Arc::make_mut(&mut variant.phases[at])
}

/// Checks the listed differences, that they are symmetric, and that carried across
/// they make the left the right; with ids that tell, and with ids of another file.
fn check(right: &Formula, expected: &[&str]) {
    let left = start();
    assert_eq!(told(&left, right), expected);
    let mut foreign = right.clone();
    change(&mut foreign, |v| {
        for phase in &mut v.phases {
            let phase = Arc::make_mut(phase);
            phase.id.0 += 5000;
            for line in &mut phase.lines {
                line.id.0 += 5000;
            }
        }
        v.filler = v.filler.map(|f| ItemId(f.0 + 5000));
    });
    assert_eq!(told(&left, &foreign), expected, "as another file");
    for right in [right, &foreign] {
        let (a, b) = (
            Compared::new(&left, left.active()),
            Compared::new(right, right.active()),
        );
        let comparison = compare(a, b);
        let carried = carry(a, b, &comparison, CarryScope::Everything);
        assert_eq!(
            renumbered(&carried.variant),
            content(b.variant, &renumbered(a.variant))
        );
        let after = put(&left, &carried);
        assert!(same_content(Compared::new(&after, after.active()), b));
    }
}

#[test]
fn nothing_differs_from_itself() {
    check(&start(), &[]);
}

#[test]
fn a_percentage() {
    let mut f = start();
    change(&mut f, |v| {
        phase(v, 0).lines[1].percent = "6".parse().unwrap();
        phase(v, 0).lines[0].percent = "69".parse().unwrap();
    });
    check(&f, &["water 70 to 69", "glycerin 5 to 6"]);
}

#[test]
fn a_reorder_within_a_phase_moves_one_line() {
    let mut f = start();
    change(&mut f, |v| phase(v, 1).lines.swap(0, 1));
    // The smaller line is the one that moved.
    check(&f, &["salt place"]);
}

#[test]
fn a_line_in_another_phase_is_the_same_line() {
    let mut f = start();
    change(&mut f, |v| {
        let moved = phase(v, 0).lines.remove(1);
        phase(v, 1).lines.insert(0, moved);
    });
    check(&f, &["glycerin place"]);
}

#[test]
fn phases_in_another_order() {
    let mut f = start();
    change(&mut f, |v| v.phases.swap(0, 2));
    let told = told(&start(), &f);
    // Two of three are out of order; the heaviest phase stays.
    assert_eq!(told, ["B order", "C order"]);
    check(&f, &["B order", "C order"]);
}

#[test]
fn a_renamed_phase_is_the_same_phase() {
    let mut f = start();
    change(&mut f, |v| phase(v, 1).letter = "Wash".into());
    check(&f, &["B head"]);
}

#[test]
fn a_renamed_material_is_the_same_line() {
    let mut f = start();
    let mut renamed = Material::clone(&f.materials[&MaterialId::from_name("glycerin")]);
    renamed.id = MaterialId::from_name("glycerol of the studio");
    renamed.name = "Glycerol of the studio".into();
    f.materials.remove(&MaterialId::from_name("glycerin"));
    f.materials
        .insert(renamed.id.clone(), Arc::new(renamed.clone()));
    change(&mut f, |v| phase(v, 0).lines[1].material = renamed.id);
    check(&f, &["glycerin Renamed glycerol-of-the-studio"]);
}

#[test]
fn a_swapped_material_keeps_its_row() {
    let mut f = start();
    let mut other = Material::clone(&f.materials[&MaterialId::from_name("glycerin")]);
    other.id = MaterialId::from_name("propanediol");
    other.name = "propanediol".into();
    other.constituents[0].inci = "Propanediol".into();
    f.materials
        .insert(other.id.clone(), Arc::new(other.clone()));
    f.materials.remove(&MaterialId::from_name("glycerin"));
    change(&mut f, |v| {
        phase(v, 0).lines[1].material = other.id;
        phase(v, 0).lines[1].percent = "4".parse().unwrap();
    });
    check(&f, &["glycerin Swapped propanediol", "glycerin 5 to 4"]);
}

#[test]
fn a_line_split_over_two_phases_is_told_from_an_added_one() {
    let mut f = start();
    change(&mut f, |v| {
        phase(v, 0).lines[1].percent = "3".parse().unwrap();
        let mut part = phase(v, 0).lines[1].clone();
        part.id = ItemId(900);
        part.percent = "2".parse().unwrap();
        phase(v, 2).lines.insert(0, part);
    });
    check(&f, &["glycerin 5 to 3", "glycerin Right Split"]);
}

#[test]
fn added_and_removed_lines() {
    let mut f = start();
    let clay = material("clay", &[("Kaolin", 100.0, Class::Other)]);
    f.materials.insert(clay.id.clone(), clay.clone());
    change(&mut f, |v| {
        phase(v, 2).lines.remove(0);
        let (_, mut new) = line(&clay, "2");
        new.id = ItemId(900);
        phase(v, 0).lines.push(new);
    });
    check(&f, &["clay Right Only", "scent Left Only"]);
}

#[test]
fn a_phase_split_in_two() {
    let mut f = start();
    change(&mut f, |v| {
        let moved = phase(v, 1).lines.remove(1);
        let mut new = Phase::clone(&v.phases[1]);
        new.id = ItemId(900);
        new.letter = "Salt".into();
        new.lines = vec![moved];
        v.phases.insert(2, Arc::new(new));
    });
    check(&f, &["Salt Right phase", "salt place"]);
}

#[test]
fn another_filler() {
    let mut f = start();
    change(&mut f, |v| v.filler = Some(ItemId(12)));
    let left = start();
    let comparison = compare(
        Compared::new(&left, left.active()),
        Compared::new(&f, f.active()),
    );
    let expected = Both::new(Some(ItemId(10)), Some(ItemId(12)));
    assert_eq!(comparison.differences, [Difference::Filler(expected)]);
}

#[test]
fn one_line_carried_across_leaves_the_others() {
    let left = start();
    let mut right = start();
    change(&mut right, |v| {
        phase(v, 0).lines[1].percent = "6".parse().unwrap();
        phase(v, 1).lines[0].percent = "25".parse().unwrap();
        phase(v, 1).purpose = "wash".into();
        let moved = phase(v, 2).lines.remove(0);
        phase(v, 1).lines.insert(1, moved);
    });
    let (a, b) = (
        Compared::new(&left, left.active()),
        Compared::new(&right, right.active()),
    );
    let comparison = compare(a, b);
    let row = |name: &str| {
        let is = |row: &&AlignedLine| {
            let line = row.left.and_then(|id| a.variant.line(id));
            line.is_some_and(|l| l.material.as_str() == name)
        };
        *comparison.rows.iter().find(is).unwrap()
    };
    let percents = |scope: CarryScope<'_>| -> Vec<String> {
        let carried = carry(a, b, &comparison, scope);
        carried
            .variant
            .lines()
            .map(|(p, l)| format!("{}{}{}", p.letter, l.material, l.percent))
            .collect()
    };
    assert_eq!(
        percents(CarryScope::Line(row("betaine"))),
        [
            "Awater70",
            "Aglycerin5",
            "Bbetaine25",
            "Bsalt2",
            "Cscent2",
            "Cpreservative1"
        ]
    );
    assert_eq!(
        percents(CarryScope::Line(row("scent"))),
        [
            "Awater70",
            "Aglycerin5",
            "Bbetaine20",
            "Bscent2",
            "Bsalt2",
            "Cpreservative1"
        ]
    );
    let phase = comparison.phases[1];
    assert_eq!(
        percents(CarryScope::Phase(phase)),
        [
            "Awater70",
            "Aglycerin5",
            "Bbetaine25",
            "Bscent2",
            "Bsalt2",
            "Cpreservative1"
        ]
    );
    let carried = carry(a, b, &comparison, CarryScope::Phase(phase));
    assert_eq!(&*carried.variant.phases[1].purpose, "wash");
    // The phase that does not differ is shared.
    assert!(Arc::ptr_eq(
        &carried.variant.phases[0],
        &a.variant.phases[0]
    ));
}

#[test]
fn a_changed_material_is_told_and_carried() {
    let left = start();
    let mut right = start();
    let mut betaine = Material::clone(&right.materials[&MaterialId::from_name("betaine")]);
    betaine.note = "new supplier".into();
    right
        .materials
        .insert(betaine.id.clone(), Arc::new(betaine.clone()));
    let (a, b) = (
        Compared::new(&left, left.active()),
        Compared::new(&right, right.active()),
    );
    let comparison = compare(a, b);
    assert_eq!(comparison.differences.len(), 1);
    let carried = carry(a, b, &comparison, CarryScope::Everything);
    assert_eq!(carried.materials, [Arc::new(betaine)]);
    let after = put(&left, &carried);
    assert!(same_content(Compared::new(&after, after.active()), b));
}

/// Differences in an order that does not depend on which side is walked first.
fn sorted(differences: &[Difference]) -> Vec<String> {
    let mut out: Vec<String> = differences.iter().map(|d| format!("{d:?}")).collect();
    out.sort();
    out
}

/// Two variants to compare: relatives in one file, or two files.
fn two(seed: u64, one_file: bool) -> (Formula, Variant, Formula, Variant) {
    let left = random_formula::formula(seed);
    let dice = &mut Dice::new(seed.wrapping_mul(31));
    let a = Variant::clone(&left.variants[0]);
    if one_file {
        let mut b = a.clone();
        let mut next = left.next_id;
        for _ in 0..dice.below(3) {
            random_formula::change(dice, &mut b, &mut next);
        }
        return (left.clone(), a, left, b);
    }
    let right = random_formula::formula(seed ^ dice.next());
    let b = Variant::clone(&right.variants[0]);
    (left, a, right, b)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn compare_with_itself_is_empty(seed: u64) {
        let f = random_formula::formula(seed);
        for variant in &f.variants {
            let side = Compared::new(&f, variant);
            prop_assert!(compare(side, side).is_empty());
        }
    }

    #[test]
    fn differences_applied_to_the_left_give_the_right(seed: u64, one_file: bool) {
        let (left, a, right, b) = two(seed, one_file);
        // The same file is told by its place in memory.
        let right = if one_file { &left } else { &right };
        let (l, r) = (Compared::new(&left, &a), Compared::new(right, &b));
        let comparison = compare(l, r);
        let carried = carry(l, r, &comparison, CarryScope::Everything);
        prop_assert!(ids_are_unique(&carried.variant));
        prop_assert_eq!(renumbered(&carried.variant), content(&b, &renumbered(&a)));
        let mut file = left.clone();
        file.variants = vec![Arc::new(a.clone())];
        let after = put(&file, &carried);
        let result = Compared::new(&after, &after.variants[0]);
        prop_assert!(compare(result, r).is_empty());
    }

    #[test]
    fn the_sides_are_alike(seed: u64, one_file: bool) {
        let (left, a, right, b) = two(seed, one_file);
        let right = if one_file { &left } else { &right };
        let there = compare(Compared::new(&left, &a), Compared::new(right, &b));
        let back = compare(Compared::new(right, &b), Compared::new(&left, &a));
        prop_assert_eq!(sorted(&there.differences), sorted(&back.mirrored().differences));
        prop_assert_eq!(&there.mirrored().mirrored(), &there);
    }

    #[test]
    fn any_part_can_be_carried(seed: u64, one_file: bool, mask: u64) {
        let (left, a, right, b) = two(seed, one_file);
        let right = if one_file { &left } else { &right };
        let (l, r) = (Compared::new(&left, &a), Compared::new(right, &b));
        let comparison = compare(l, r);
        for difference in &comparison.differences {
            let carried = carry(l, r, &comparison, CarryScope::One(difference));
            prop_assert!(ids_are_unique(&carried.variant));
        }
        let chosen = |d: &Difference| {
            let at = comparison.differences.iter().position(|e| e == d).unwrap_or(0);
            mask >> (at % 64) & 1 == 1
        };
        let variant = comparison.apply(&a, chosen, one_file, left.next_id);
        prop_assert!(ids_are_unique(&variant));
        prop_assert!(variant.filler.is_none_or(|f| variant.line(f).is_some()));
        // Carrying the rest afterwards still leads to the right.
        let comparison = compare(Compared::new(&left, &variant), r);
        let all = comparison.apply(&variant, |_| true, one_file, left.next_id + 1000);
        prop_assert_eq!(renumbered(&all), content(&b, &renumbered(&a)));
    }
}

#[test]
fn every_line_is_in_exactly_one_row() {
    for seed in 0..200 {
        let (left, a, right, b) = two(seed, seed % 2 == 0);
        let comparison = compare(Compared::new(&left, &a), Compared::new(&right, &b));
        let mut lefts: Vec<_> = comparison.rows.iter().filter_map(|r| r.left).collect();
        let expected: Vec<_> = a.lines().map(|(_, l)| l.id).collect();
        assert_eq!(lefts, expected, "in the order of the left");
        lefts.dedup();
        let mut rights: Vec<_> = comparison.rows.iter().filter_map(|r| r.right).collect();
        let mut expected: Vec<_> = b.lines().map(|(_, l)| l.id).collect();
        rights.sort();
        expected.sort();
        assert_eq!(rights, expected);
    }
    assert_eq!(Percent::ZERO.units(), 0);
}

/// Two empty phases that crossed, alike in weight, letter and ids: once told apart by
/// the side from which they were looked at.
#[test]
fn crossed_phases_are_told_alike_from_both_sides() {
    let (left, a, right, b) = two(11_990_286_058_816_398_650, false);
    let there = compare(Compared::new(&left, &a), Compared::new(&right, &b));
    let back = compare(Compared::new(&right, &b), Compared::new(&left, &a));
    assert_eq!(
        sorted(&there.differences),
        sorted(&back.mirrored().differences)
    );
}
