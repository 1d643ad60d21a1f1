//! The sheet Side by side, driven through the accessibility tree.
#![expect(
    clippy::unwrap_used,
    reason = "a helper of tests fails the test by panicking"
)]

use acceptance::window::{Look, TODAY, bench, picture, plain_wash, shower_gel, state, type_into};
use egui::Key;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use egui_kittest::{Harness, SnapshotResults};
use formulation::batch::workshop::Workshop;
use formulation::compare::{Compared, same_content};
use formulation::edit::{Edit, GiveWay, apply};
use formulation::file::formula_file;
use formulation::file::store::Expect;
use formulation::formula::{Formula, ItemId, Variant};
use formulation::mass::read_mass;
use formulation::material::MaterialId;
use formulation::quantity::{Currency, Decimal, Percent};
use formulation::shelf::{Shelf, built_in};
use formulation::stock::{Offer, Stock};
use phasewright::app::Bench;
use phasewright::command::Command;
use phasewright::sheets::SheetName;

pub(super) fn line_of(formula: &Formula, variant: &Variant, name: &str) -> ItemId {
    let is = |id: &_| formula.material(id).unwrap().name.contains(name);
    let mut lines = variant.lines();
    lines.find(|(_, l)| is(&l.material)).unwrap().1.id
}

fn percent(text: &str) -> Percent {
    text.parse().unwrap()
}

fn edited(formula: &Formula, edit: &Edit) -> Formula {
    apply(formula, formula.active, edit).unwrap().formula
}

/// A shower gel and a milder branch of it: less sulfate, more betaine, the glycerin
/// swapped for propanediol, the oat extract moved to another phase.
fn two_variants() -> Formula {
    let gel = shower_gel(false);
    let branch = Edit::Branch {
        name: "Milder".into(),
        note: "for dry skin".into(),
        created: Some(TODAY),
    };
    let mut f = edited(&gel, &branch);
    let find = |f: &Formula, name: &str| line_of(f, f.active(), name);
    for (name, to) in [("laureth sulfate", "22"), ("Cocamidopropyl", "16.5")] {
        let edit = Edit::SetPercent {
            line: find(&f, name),
            percent: percent(to),
            give: GiveWay::Filler,
        };
        f = edited(&f, &edit);
    }
    let propanediol = built_in()
        .iter()
        .find(|m| &*m.name == "Propanediol")
        .unwrap();
    let swap = Edit::SwapMaterial {
        line: find(&f, "Glycerin"),
        material: propanediol.clone(),
        percent: None,
    };
    f = edited(&f, &swap);
    let to = f.active().phases[1].id;
    let line = find(&f, "Oat extract");
    edited(
        &f,
        &Edit::MoveLine {
            line,
            phase: to,
            at: 0,
        },
    )
}

fn window(look: Look) -> Harness<'static, Bench> {
    let mut harness = bench(look, state(built_in().clone(), two_variants()));
    harness
        .state_mut()
        .push(Command::Show(SheetName::SideBySide));
    harness.run();
    harness
}

fn formula<'h>(harness: &'h Harness<'_, Bench>) -> &'h Formula {
    harness.state().state().current().formula()
}

/// The percentage of a material in a variant, by its place in the file.
fn share(harness: &Harness<'_, Bench>, variant: usize, name: &str) -> String {
    let formula = formula(harness);
    let variant = &formula.variants[variant];
    let id = line_of(formula, variant, name);
    variant.line(id).unwrap().percent.to_string()
}

const SULFATE: &str = "Sodium laureth sulfate solution 28 %";

#[test]
fn pictures() {
    for (look, name) in [
        (Look::USUAL, "side_by_side"),
        (Look::USUAL.dark(), "side_by_side_dark"),
        (Look::USUAL.doubled(), "side_by_side_2x"),
        (Look::SMALL, "side_by_side_small"),
    ] {
        let mut harness = window(look);
        picture(&mut harness, name);
        for mode in ["Variants", "Change note", "Merge"] {
            harness.get_by_label(mode).click();
            harness.run();
            let file = format!("{name}_{}", mode.to_lowercase().replace(' ', "_"));
            picture(&mut harness, &file);
        }
    }
}

/// A branch of the small wash: changed, moved, a step left out; its pictures change
/// only with the window.
fn plain_variants() -> Formula {
    let branch = Edit::Branch {
        name: "Milder".into(),
        note: "".into(),
        created: Some(TODAY),
    };
    let f = edited(&plain_wash(), &branch);
    let line = |f: &Formula, name: &str| line_of(f, f.active(), name);
    let set = |f: &Formula, name: &str, to: &str| {
        let edit = Edit::SetPercent {
            line: line(f, name),
            percent: percent(to),
            give: GiveWay::Filler,
        };
        edited(f, &edit)
    };
    let f = set(&f, "Mild partner", "13.5");
    let f = set(&f, "Preservative", "0.9");
    let moved = Edit::MoveLine {
        line: line(&f, "Humectant"),
        phase: f.active().phases[1].id,
        at: 0,
    };
    let f = edited(&f, &moved);
    let step = f.active().phases[0].steps[0].id;
    edited(&f, &Edit::RemoveStep(step))
}

#[test]
fn pictures_stay_as_they_were() {
    let mut results = SnapshotResults::new();
    for (look, name) in [
        (Look::USUAL, "side-by-side-light"),
        (Look::USUAL.dark(), "side-by-side-dark"),
        (Look::USUAL.doubled(), "side-by-side-doubled"),
    ] {
        let mut harness = bench(look, state(Shelf::new(), plain_variants()));
        harness
            .state_mut()
            .push(Command::Show(SheetName::SideBySide));
        harness.run();
        picture(&mut harness, name);
        results.add(harness.try_snapshot(name));
    }
    results.unwrap();
}

#[test]
fn every_control_is_reached_with_the_tab_key() {
    let mut harness = bench(Look::USUAL, state(Shelf::new(), plain_variants()));
    harness
        .state_mut()
        .push(Command::Show(SheetName::SideBySide));
    harness.run();
    let controls = |harness: &Harness<'_, Bench>, only_focused: bool| {
        [
            egui::Role::Slider,
            egui::Role::TextInput,
            egui::Role::Button,
        ]
        .into_iter()
        .flat_map(|role| harness.query_all_by_role(role))
        .filter(|n| !n.accesskit_node().is_disabled())
        .filter(|n| !only_focused || n.is_focused())
        .filter_map(|n| n.accesskit_node().label())
        .filter(|l| l.contains("left") || l.contains("right"))
        .collect::<std::collections::BTreeSet<_>>()
    };
    let all = controls(&harness, false);
    assert!(all.len() > 20, "{all:?}");
    let mut reached = std::collections::BTreeSet::new();
    for _ in 0..120 {
        harness.key_press(Key::Tab);
        harness.run();
        reached.extend(controls(&harness, true));
    }
    assert_eq!(reached, all);
}

/// The button that carries something across goes with the difference; the cursor goes on to the
/// next one of its side, so that one line after the other is carried.
#[test]
fn the_cursor_goes_on_when_something_is_carried_across_by_key() {
    let mut harness = bench(Look::USUAL, state(Shelf::new(), plain_variants()));
    harness
        .state_mut()
        .push(Command::Show(SheetName::SideBySide));
    harness.run();
    let focused = |harness: &Harness<'_, Bench>| {
        let root = harness.root();
        let mut nodes = root.children_recursive();
        let node = nodes.find(egui_kittest::Node::is_focused);
        node.and_then(|n| n.accesskit_node().label())
            .unwrap_or_default()
    };
    let carried = "Carry Mild partner to the left";
    harness.get_by_label(carried).focus();
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    harness.run();
    assert!(harness.query_by_label(carried).is_none());
    assert_eq!(focused(&harness), "Carry phase C to the left");
    // The last one of all is not lost either.
    for _ in 0..12 {
        let before = focused(&harness);
        if !before.starts_with("Carry ") {
            break;
        }
        assert!(before.ends_with("left"), "{before}");
        harness.key_press(Key::Enter);
        harness.run();
        harness.run();
        assert!(!focused(&harness).is_empty(), "after {before}");
    }
}

/// Every difference agrees with the two figures beside it.
#[test]
fn differences_are_those_of_the_figures_shown() {
    let harness = window(Look::USUAL);
    let mut seen = 0;
    for node in harness.get_all_by_role(egui::Role::ListItem) {
        let node = node.accesskit_node();
        let words = node.label().or(node.value()).unwrap_or_default();
        let read = |text: &str| text.replace('−', "-").parse::<f64>();
        let Some((_, figures)) = words.rsplit_once(": ") else {
            continue;
        };
        let [from, "%", "to", to, "%,", change] = figures.split(' ').collect::<Vec<_>>()[..] else {
            continue;
        };
        let (from, to) = (read(from).unwrap(), read(to).unwrap());
        assert!((to - from - read(change).unwrap()).abs() < 1e-9, "{words}");
        assert!(!change.contains('-'), "a hyphen is no minus: {words}");
        seen += 1;
    }
    assert!(seen > 3, "{seen}");
}

/// Prices of the small wash for a kilogram; invented.
fn prices() -> Stock {
    let mut stock = Stock::new(Currency::EUR);
    for (material, cents) in [
        ("water", 10),
        ("humectant", 400),
        ("cleanser", 200),
        ("mild-partner", 300),
        ("preservative", 2000),
    ] {
        stock.offers.push(Offer {
            material: MaterialId::from_name(material),
            supplier: "Fellside Botanicals".into(),
            pack: read_mass("1 kg", None).unwrap(),
            price: Some(Decimal::new(cents, 2)),
            currency: Currency::EUR,
            day: None,
        });
    }
    stock
}

#[test]
fn the_cost_stands_beside_its_twin() {
    // By hand: 0.569 × 0.10 + 0.03 × 4 + 0.28 × 2 + 0.11 × 3 + 0.011 × 20 = 1.2869, and
    // 0.546 × 0.10 + 0.03 × 4 + 0.28 × 2 + 0.135 × 3 + 0.009 × 20 = 1.3196.
    let tall = Look {
        size: egui::vec2(1280.0, 2000.0),
        ..Look::USUAL
    };
    let mut state = state(Shelf::new(), plain_variants());
    state
        .books
        .set_stock(prices(), Workshop::default())
        .unwrap();
    let mut harness = bench(tall, state);
    harness
        .state_mut()
        .push(Command::Show(SheetName::SideBySide));
    harness.run();
    harness.get_by_label("material cost of a kilogram");
    harness.get_by_label("1.29 EUR");
    harness.get_by_label("1.32 EUR");
    harness.get_by_label("Change note").click();
    harness.run();
    let note = harness
        .query_all_by_role(egui::Role::MultilineTextInput)
        .find_map(|node| node.value())
        .unwrap();
    assert!(
        note.contains("material cost of a kilogram: 1.29 EUR → 1.32 EUR"),
        "{note}"
    );
}

/// The whole sheet at once, to be looked at.
#[test]
fn a_picture_of_everything() {
    let tall = Look {
        size: egui::vec2(1280.0, 2000.0),
        ..Look::USUAL
    };
    let mut harness = window(tall);
    picture(&mut harness, "side_by_side_tall");
}

#[test]
fn the_parent_stands_left_of_what_is_worked_on() {
    let harness = window(Look::USUAL);
    let left = harness.get_by_label("Left variant");
    let right = harness.get_by_label("Right variant");
    assert_eq!(left.accesskit_node().value().as_deref(), Some("First"));
    assert_eq!(right.accesskit_node().value().as_deref(), Some("Milder"));
}

#[test]
fn both_sides_are_edited_in_place() {
    let mut harness = window(Look::USUAL);
    type_into(&mut harness, &format!("{SULFATE} percent, left"), "30");
    harness.key_press(Key::Enter);
    harness.run();
    assert_eq!(share(&harness, 0, "laureth sulfate"), "30");
    assert_eq!(share(&harness, 1, "laureth sulfate"), "22");
    assert_eq!(formula(&harness).variants[0].total(), Percent::HUNDRED);
    type_into(&mut harness, &format!("{SULFATE} percent, right"), "20");
    harness.key_press(Key::Enter);
    harness.run();
    assert_eq!(share(&harness, 1, "laureth sulfate"), "20");
    // What was there before is among the earlier states of each.
    assert_eq!(formula(&harness).history.len(), 2);
    harness.state_mut().push(Command::Undo);
    harness.run();
    assert_eq!(share(&harness, 1, "laureth sulfate"), "22");
}

#[test]
fn a_line_is_carried_across_and_taken_back() {
    let mut harness = window(Look::USUAL);
    harness
        .get_by_label(&format!("Carry {SULFATE} to the left"))
        .click();
    harness.run();
    assert_eq!(share(&harness, 0, "laureth sulfate"), "22");
    assert_eq!(formula(&harness).variants[0].total(), Percent::HUNDRED);
    harness.state_mut().push(Command::Undo);
    harness.run();
    assert_eq!(share(&harness, 0, "laureth sulfate"), "28");
}

#[test]
fn everything_is_carried_across() {
    let mut harness = window(Look::USUAL);
    harness.get_by_label("Carry everything →").click();
    harness.run();
    let f = formula(&harness);
    let side = |i: usize| Compared::new(f, &f.variants[i]);
    assert!(same_content(side(0), side(1)));
    assert_eq!(&*f.variants[1].name, "Milder");
    harness.get_by_label("Nothing differs but notes, see Change note");
}

#[test]
fn only_what_differs_hides_the_rest() {
    let mut harness = window(Look::USUAL);
    let same = "Sodium benzoate percent, left";
    assert!(harness.query_by_label(same).is_some());
    harness.get_by_label("Only what differs").click();
    harness.run();
    assert!(harness.query_by_label(same).is_none());
    let changed = format!("{SULFATE} percent, left");
    assert!(harness.query_by_label(&changed).is_some());
}

#[test]
fn an_earlier_state_comes_back() {
    let mut harness = window(Look::USUAL);
    type_into(&mut harness, &format!("{SULFATE} percent, right"), "10");
    harness.key_press(Key::Enter);
    harness.run();
    harness.get_by_label("Variants").click();
    harness.run();
    harness
        .get_by_label_contains("Go back to the state of")
        .click();
    harness.run();
    assert_eq!(share(&harness, 1, "laureth sulfate"), "22");
    assert_eq!(formula(&harness).history.len(), 2);
}

#[test]
fn a_variant_is_branched_from_the_sheet() {
    let mut harness = window(Look::USUAL);
    harness.get_by_label("Variants").click();
    harness.run();
    harness.get_by_label("Make a copy").click();
    harness.run();
    let f = formula(&harness);
    assert_eq!(f.variants.len(), 3);
    assert_eq!(f.active().parent, Some(f.variants[1].id));
    assert_eq!(f.active().created, Some(TODAY));
    harness.get_by_label("Sort by surfactant active").click();
    harness.run();
}

/// A variant that is no longer used stays in the file; the list says so.
#[test]
fn a_variant_is_no_longer_used_and_used_again() {
    let mut harness = window(Look::USUAL);
    harness.get_by_label("Variants").click();
    harness.run();
    let first = formula(&harness).variants[0].name.to_string();
    let row = |harness: &Harness<'_, Bench>| {
        let rows = harness.query_all_by_role_and_label(egui::Role::Button, &first);
        rows.count()
    };
    harness
        .get_by_role_and_label(egui::Role::Button, &first)
        .click();
    harness.run();
    harness.get_by_label("No longer used").click();
    harness.run();
    assert!(formula(&harness).variants[0].archived);
    assert_eq!(formula(&harness).variants.len(), 2);
    // As long as it is chosen it is shown and says what it is.
    harness.get_by_label("no longer used");
    harness
        .get_by_role_and_label(egui::Role::Button, "Milder")
        .click();
    harness.run();
    assert_eq!(row(&harness), 0);
    harness.get_by_label("Also those no longer used").click();
    harness.run();
    harness
        .get_by_role_and_label(egui::Role::Button, &first)
        .click();
    harness.run();
    harness.get_by_label("Use again").click();
    harness.run();
    assert!(!formula(&harness).variants[0].archived);
    assert!(harness.query_by_label("no longer used").is_none());
}

/// Two variants of one name could not be told apart: the second is refused in words.
#[test]
fn the_name_of_another_variant_is_refused() {
    let mut harness = window(Look::USUAL);
    harness.get_by_label("Variants").click();
    harness.run();
    let first = formula(&harness).variants[0].name.to_string();
    type_into(&mut harness, "Variant name", &first);
    harness.key_press(Key::Enter);
    harness.run();
    assert_eq!(formula(&harness).active().name.as_ref(), "Milder");
    // Beside the field, and not in the status bar.
    let why = format!("Another variant is already called {first}");
    assert!(harness.query_by_label_contains(&why).is_some());
    assert_eq!(harness.state().state().message, None);
}

/// Two copies of one file, one of which is changed, on the page that merges them.
fn at_the_merge() -> Harness<'static, Bench> {
    let mut harness = window(Look::USUAL);
    let mine = two_variants();
    let mut theirs = mine.clone();
    let line = line_of(&theirs, theirs.active(), "Sodium benzoate");
    theirs = edited(
        &theirs,
        &Edit::SetPercent {
            line,
            percent: percent("0.4"),
            give: GiveWay::Filler,
        },
    );
    theirs.name = "Second computer".into();
    let state = harness.state_mut().state_mut();
    let first = state.current().id;
    // Marked as changed, so that the copy opens beside it instead of in its place.
    state.current_mut().set_unsaved();
    state.add(theirs.into(), None);
    state.show(first);
    harness.run();
    harness.get_by_label("Right variant").click();
    harness.run();
    picture(&mut harness, "side_by_side_choice");
    harness.get_by_label("Second computer, Milder").click();
    harness.run();
    harness.get_by_label("Merge").click();
    harness.run();
    harness
}

/// With just one other copy open there is nothing to choose before the merge.
#[test]
fn the_only_other_copy_is_merged_without_choosing_it() {
    let mut harness = window(Look::USUAL);
    let state = harness.state_mut().state_mut();
    let first = state.current().id;
    state.current_mut().set_unsaved();
    let mut copies: Vec<Formula> = Vec::new();
    for name in ["Second computer", "Third computer"] {
        let mut copy = two_variants();
        copy.name = name.into();
        copies.push(copy);
    }
    let third = copies.pop().unwrap();
    let second = copies.pop().unwrap();
    let state = harness.state_mut().state_mut();
    let second = state.add(second.into(), None).id;
    state.show(first);
    harness.run();
    harness.get_by_label("Merge").click();
    harness.run();
    harness.get_by_label_contains("takes in “Second computer”");
    // Of several one is chosen by its name.
    harness.get_by_label("Compare").click();
    let state = harness.state_mut().state_mut();
    state.close(second);
    state.add(two_variants().into(), None).set_unsaved();
    state.add(third.into(), None);
    state.show(first);
    harness.run();
    harness.get_by_label("Merge").click();
    harness.run();
    harness
        .get_by_label_contains("Merge with “Third computer”")
        .click();
    harness.run();
    harness.get_by_label_contains("takes in “Third computer”");
}

/// Without another copy open, one that lies beside the file is offered, and merged once opened.
#[test]
fn a_copy_beside_the_file_is_offered_for_the_merge() {
    let folder = tempfile::tempdir().unwrap();
    let mine = two_variants();
    let mut theirs = mine.clone();
    theirs.name = "From the laptop".into();
    let mut path = std::path::PathBuf::new();
    for (name, formula) in [
        ("laptop", &theirs),
        ("stranger", &plain_wash()),
        ("gel", &mine),
    ] {
        path = folder.path().join(format!("{name}.formula.ron"));
        formula_file::save(&path, formula, Expect::Nothing).unwrap();
    }
    let mut harness = window(Look::USUAL);
    harness.state_mut().push(Command::OpenPath(path));
    harness.run();
    harness
        .state_mut()
        .push(Command::Show(SheetName::SideBySide));
    harness.run();
    harness.get_by_label("Merge").click();
    harness.run();
    picture(&mut harness, "side_by_side_merge_alone");
    // Nothing else that lies there is a copy.
    let offered: Vec<_> = harness.query_all_by_label_contains("and merge").collect();
    assert_eq!(offered.len(), 1);
    offered[0].click();
    drop(offered);
    harness.run();
    harness.get_by_label_contains("takes in “From the laptop”");
}

fn merge(harness: &mut Harness<'_, Bench>) {
    harness.get_by_label("Merge the copies").click();
    harness.run();
}

/// A merge that is undone leaves what was chosen for each point as it was.
#[test]
fn what_was_chosen_for_a_merge_is_there_after_undo() {
    let mut harness = at_the_merge();
    let name = "take the other's";
    let chosen = |harness: &Harness<'_, Bench>| {
        let first = harness
            .get_all_by_role_and_label(egui::Role::RadioButton, name)
            .next()
            .unwrap();
        first.accesskit_node().toggled() == Some(egui::accesskit::Toggled::True)
    };
    assert!(!chosen(&harness));
    harness
        .get_all_by_role_and_label(egui::Role::RadioButton, name)
        .next()
        .unwrap()
        .click();
    harness.run();
    assert!(chosen(&harness));
    merge(&mut harness);
    harness.get_by_label_contains("Merged with");
    harness.state_mut().push(Command::Undo);
    harness.run();
    assert!(chosen(&harness));
}

#[test]
fn two_copies_of_a_file_are_merged() {
    let mut harness = at_the_merge();
    picture(&mut harness, "side_by_side_merge_two");
    merge(&mut harness);
    let f = formula(&harness);
    assert_eq!(f.variants.len(), 3);
    assert_eq!(&*f.variants[2].name, "Milder (other copy)");
    // It says what it did, and cannot do it twice.
    harness.get_by_label_contains("“Milder (other copy)” came in beside yours");
    // What still differs is the name; a second press takes no variant in again.
    merge(&mut harness);
    assert_eq!(formula(&harness).variants.len(), 3);
}

/// What differs in the whole can be told apart by its buttons alone.
#[test]
fn what_is_carried_across_is_named() {
    let mut harness = window(Look::USUAL);
    for edit in [
        Edit::SetBatch(formulation::quantity::grams(480.0)),
        Edit::SetTargetPh(formulation::quantity::Ph::new(4.7)),
    ] {
        harness.state_mut().push(Command::Edit(edit));
        harness.run();
    }
    for name in [
        "Carry the batch to the left",
        "Carry the pH aimed at to the left",
    ] {
        assert_eq!(harness.query_all_by_label(name).count(), 1, "{name}");
    }
    assert_eq!(harness.query_all_by_label_contains("Carry this").count(), 0);
}

/// The merge tells both texts of a note, has a variant that is no longer used chosen, and says
/// afterwards what it took over.
#[test]
fn a_merge_tells_of_notes_and_of_variants_no_longer_used() {
    let mut harness = window(Look::USUAL);
    let mine = two_variants();
    let mut theirs = mine.clone();
    theirs.notes = "from the laptop".into();
    let other = theirs.variants[0].id;
    theirs = apply(&theirs, other, &Edit::SetArchived(true))
        .unwrap()
        .formula;
    let noted = Edit::SetVariantNote("for very dry skin".into());
    theirs = edited(&theirs, &noted);
    let state = harness.state_mut().state_mut();
    let first = state.current().id;
    state.current_mut().set_unsaved();
    state.add(theirs.into(), None);
    state.show(first);
    harness.run();
    harness.get_by_label("Merge").click();
    harness.run();
    for told in [
        "The formula's notes: nothing → “from the laptop”",
        "The variant's note: “for dry skin” → “for very dry skin”",
        "No longer used: no → yes",
    ] {
        assert!(harness.query_by_label_contains(told).is_some(), "{told}");
    }
    // Only the variant of another note can stand beside its twin.
    let offered = |harness: &Harness<'_, Bench>, name: &str| {
        let all = harness.query_all_by_role_and_label(egui::Role::RadioButton, name);
        all.count()
    };
    assert_eq!(offered(&harness, "keep both"), 1);
    let all = offered(&harness, "take the other's");
    for place in 0..all {
        harness
            .get_all_by_role_and_label(egui::Role::RadioButton, "take the other's")
            .nth(place)
            .unwrap()
            .click();
        harness.run();
    }
    merge(&mut harness);
    harness.get_by_label_contains("notes of the formula taken over");
    let f = formula(&harness);
    assert_eq!(&*f.notes, "from the laptop");
    assert!(f.variants.iter().any(|v| v.archived));
}
