//! Work that takes longer than a frame: it is seen, it can be stopped, and the window goes on.
use std::time::Duration;

use acceptance::window::{Look, bench, picture, shower_gel, state, type_into};
use egui::{Key, Role, ViewportId};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use formulation::edit::{Edit, GiveWay};
use formulation::shelf::built_in;
use phasewright::app::Bench;
use phasewright::command::{Command, Making};
use phasewright::sheets::SheetName;
use phasewright::work;

fn window(sheet: SheetName) -> Harness<'static, Bench> {
    let mut state = state(built_in().clone(), shower_gel(false));
    state.settings.hints_closed = true;
    let mut harness = bench(Look::USUAL, state);
    harness.state_mut().push(Command::Show(sheet));
    harness.run();
    harness
}

fn says(harness: &Harness<'_, Bench>, words: &str) -> bool {
    harness.query_all_by_label_contains(words).next().is_some()
}

fn press(harness: &mut Harness<'_, Bench>, button: &str) {
    harness.get_by_role_and_label(Role::Button, button).click();
    harness.run();
}

/// Goes on until something is said that a thread works out.
fn wait_for(harness: &mut Harness<'_, Bench>, words: &str) {
    for _ in 0..500 {
        harness.step();
        if says(harness, words) {
            return;
        }
        std::thread::sleep(Duration::from_millis(20));
    }
    panic!("“{words}” is not said");
}

fn aim_at(harness: &mut Harness<'_, Bench>, target: &str) {
    type_into(harness, "Add a target", target);
    harness.key_press(Key::Enter);
    harness.run();
}

#[test]
fn slow_work_is_seen_can_be_stopped_and_never_holds_up_the_window() {
    let mut harness = window(SheetName::Aim);
    let held = work::hold(&harness.ctx);
    aim_at(&mut harness, "active >= 12");
    // Quick work would be done by now; nothing flickers.
    let what = "Looking for percentages";
    wait_for(&mut harness, what);
    assert!(!says(&harness, "Take over"));
    picture(&mut harness, "work-going");
    // A frame now and then shows how far it is.
    let rest = harness.output().viewport_output[&ViewportId::ROOT].repaint_delay;
    assert!(rest >= Duration::from_millis(50), "{rest:?}");
    // Everything else goes on.
    aim_at(&mut harness, "water <= 80");
    assert!(says(&harness, "at most 80"));
    wait_for(&mut harness, what);
    press(&mut harness, "Stop");
    assert!(says(&harness, "stopped before the end"));
    for _ in 0..8 {
        harness.step();
    }
    assert!(says(&harness, "stopped before the end") && !says(&harness, "Take over"));
    picture(&mut harness, "work-stopped");
    held.let_go();
    press(&mut harness, "Begin again");
    wait_for(&mut harness, "Take over");
    assert!(!says(&harness, what));
}

/// The proposal never leaves the sheet while it is worked out anew, and says that it is old.
#[test]
fn the_last_proposal_stays_until_the_new_one_is_there() {
    let mut harness = window(SheetName::Aim);
    aim_at(&mut harness, "active >= 12");
    assert!(says(&harness, "Take over"));
    let held = work::hold(&harness.ctx);
    aim_at(&mut harness, "water <= 80");
    let anew = "being worked out anew";
    for _ in 0..30 {
        harness.step();
        assert!(says(&harness, "Take over"), "the proposal has gone");
    }
    assert!(says(&harness, anew));
    let button = harness.get_by_role_and_label(Role::Button, "Take over");
    assert!(button.accesskit_node().is_disabled());
    picture(&mut harness, "work-anew");
    held.let_go();
    for _ in 0..500 {
        harness.step();
        assert!(says(&harness, "Take over"), "the proposal has gone");
        if !says(&harness, anew) {
            return;
        }
        std::thread::sleep(Duration::from_millis(20));
    }
    panic!("it is not worked out");
}

#[test]
fn an_answer_goes_when_the_formula_changes() {
    let mut harness = window(SheetName::Aim);
    aim_at(&mut harness, "active >= 12");
    harness.run();
    assert!(says(&harness, "Take over"));
    let held = work::hold(&harness.ctx);
    let formula = harness.state().state().current().formula();
    let (line, percent) = formula
        .active()
        .lines()
        .find(|(_, l)| {
            formula
                .material(&l.material)
                .unwrap()
                .name
                .contains("Glycerin")
        })
        .map(|(_, l)| (l.id, l.percent + "1".parse().unwrap()))
        .unwrap();
    harness.state_mut().push(Command::Edit(Edit::SetPercent {
        line,
        percent,
        give: GiveWay::Filler,
    }));
    harness.run();
    assert!(!says(&harness, "Take over"));
    held.let_go();
    wait_for(&mut harness, "Take over");
}

#[test]
fn a_file_is_made_beside_the_window() {
    let mut harness = window(SheetName::Formula);
    let held = work::hold(&harness.ctx);
    let making =
        |what: &'static str| Making::new("Save it", "it.txt", move || Err::<Vec<u8>, _>(what));
    harness
        .state_mut()
        .push(Command::Make(making("no room on it")));
    wait_for(&mut harness, "Making the file");
    press(&mut harness, "Stop");
    assert!(!says(&harness, "Making the file"));
    held.let_go();
    harness
        .state_mut()
        .push(Command::Make(making("the paper is too small")));
    wait_for(&mut harness, "paper is too small");
    harness.key_press(Key::Escape);
    harness.run();
    // A good one asks where to.
    let good = Making::new("Save it", "it.txt", || Ok::<_, String>(b"good".to_vec()));
    harness.state_mut().push(Command::Make(good));
    wait_for(&mut harness, "Save it");
    picture(&mut harness, "work-made");
}

/// Why a replacement is close stands below it, folded, and comes by key too.
#[test]
fn the_reasons_of_a_replacement_open() {
    let mut harness = window(SheetName::Aim);
    press(&mut harness, "Swap");
    harness
        .get_by_role_and_label(Role::ComboBox, "Line to replace")
        .click();
    harness.run();
    harness
        .get_all_by_label_contains("Cocamidopropyl betaine")
        .find(|n| n.accesskit_node().role() == Role::Button)
        .unwrap()
        .click();
    harness.run();
    let fold = || "so close";
    let first = |harness: &Harness<'_, Bench>| {
        let node = harness
            .get_all_by_role(Role::DisclosureTriangle)
            .find(|n| {
                n.accesskit_node()
                    .label()
                    .is_some_and(|l| l.ends_with(fold()))
            })
            .unwrap();
        node.accesskit_node().label().unwrap()
    };
    let name = first(&harness);
    assert!(!says(&harness, "fits pH and limits"));
    harness.get_by_label(&name).focus();
    harness.run();
    harness.key_press(Key::Space);
    harness.run();
    assert!(says(&harness, "fits pH and limits"), "{name}");
    picture(&mut harness, "swap-reasons");
    harness.get_by_label(&name).click();
    harness.run();
    assert!(!says(&harness, "fits pH and limits"));
}
