//! Every task without a mouse, and what a screen reader is told.
#![expect(
    clippy::unwrap_used,
    reason = "a helper of tests fails the test by panicking"
)]

use acceptance::window::{Look, bench, picture, shower_gel, state};
use egui::{Key, Modifiers, Role};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use formulation::finding::StatedField;
use formulation::formula::{Formula, Line, ProductType};
use formulation::material::ProductKind;
use formulation::quantity::Percent;
use formulation::shelf::built_in;
use phasewright::command::Command;
use phasewright::sheets::SheetName;

use crate::first_minute::LINES;
use crate::person::Person;

const NONE: Modifiers = Modifiers::NONE;

fn line<'f>(formula: &'f Formula, material: &str) -> &'f Line {
    let named = |l: &&Line| {
        let material_of = formula.material(&l.material);
        material_of.is_some_and(|m| m.name.starts_with(material))
    };
    let mut lines = formula.active().lines().map(|(_, l)| l);
    lines.find(named).unwrap()
}

fn percent(text: &str) -> Percent {
    text.parse().unwrap()
}

/// From an empty window to a mended formula and another sheet. The counts are those that were
/// measured once it worked; they may only fall.
#[test]
fn a_formula_is_made_changed_mended_and_left_without_a_mouse() {
    let mut person = Person::at_a_new_formula(Look::USUAL);
    // The start card: the cursor stands in the name.
    person.types("Winter wash");
    person.tab_to("Gel with gum");
    person.press(Key::Space);
    person.press(Key::Enter);
    for (search, percent) in LINES {
        person.types(search);
        person.press(Key::Enter);
        if !percent.is_empty() {
            person.types(percent);
            person.press(Key::Enter);
        }
    }
    assert_eq!(person.formula().active().lines().count(), 9);
    let made = person.keys;
    assert!(made <= 34, "{made} keys");

    // Another percentage: one region on, then up the column.
    person.press_until(NONE, Key::F6, "Disodium EDTA");
    assert_eq!(person.focus().unwrap().0, Role::TextInput);
    person.press_until(NONE, Key::ArrowUp, "Glycerin");
    person.types("4");
    person.press(Key::Enter);
    assert_eq!(line(person.formula(), "Glycerin").percent, percent("4"));

    // Held, and undone step by step.
    person.tab_to("Hold Glycerin");
    person.press(Key::Space);
    assert!(line(person.formula(), "Glycerin").held);
    person.press_with(Modifiers::COMMAND, Key::Z);
    assert!(!line(person.formula(), "Glycerin").held);
    person.press_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(line(person.formula(), "Glycerin").percent, percent("3"));
    // The cursor is still on the row.
    assert!(person.focused().starts_with("Hold Glycerin"));

    // A mistake, its remedy in the list of findings, and back to where one was.
    person.press_until(NONE, Key::ArrowDown, "Hold Sodium benzoate");
    person.press_until(Modifiers::SHIFT, Key::Tab, "Sodium benzoate percent");
    person.types("2.9");
    person.press(Key::Enter);
    person.press_until(NONE, Key::F6, "Findings");
    picture(&mut person.harness, "keyboard-findings");
    person.tab_to("Set Sodium benzoate to 1 %");
    person.press(Key::Enter);
    let mended = line(person.formula(), "Sodium benzoate");
    assert_eq!(mended.percent, percent("1"));
    assert!(person.focus().is_some(), "the cursor is lost");
    person.press_until(Modifiers::SHIFT, Key::F6, "Sodium benzoate percent");

    // Another sheet, and back.
    person.press_with(Modifiers::COMMAND, Key::Num4);
    assert_eq!(person.harness.state().sheet(), SheetName::Make);
    person.press_with(Modifiers::COMMAND, Key::Num1);
    assert_eq!(person.clicks, 0);
    assert!(person.keys <= 58, "{} keys", person.keys);
}

#[test]
fn regions_follow_each_other_as_read_and_back() {
    let mut person = Person::with(Look::USUAL, shower_gel(false));
    let order = [
        "Menus and sheets",
        "Head of the formula",
        "Lines of the formula",
        "Read-outs",
        "Chart",
        "Findings",
        "Status",
    ];
    for name in order.into_iter().chain([order[0]]) {
        person.press(Key::F6);
        assert_eq!(person.focus(), Some((Role::Group, name.to_owned())));
    }
    for name in order.iter().rev() {
        person.press_with(Modifiers::SHIFT, Key::F6);
        assert_eq!(person.focused(), *name);
    }
    // Tab goes on from the region, and F6 comes back to where one was in it.
    person.press_until(NONE, Key::F6, "Lines of the formula");
    person.press(Key::Tab);
    let first = person.focused();
    assert_eq!(first, "Add a preservative");
    person.press(Key::F6);
    person.press_with(Modifiers::SHIFT, Key::F6);
    assert_eq!(person.focused(), first);
    picture(&mut person.harness, "keyboard-region");
}

/// What is scrolled to lies, for a moment, where another region is.
#[test]
fn a_line_that_is_scrolled_to_belongs_to_the_lines() {
    let mut person = Person::with(Look::SMALL, shower_gel(true));
    person.press_until(NONE, Key::F6, "Lines of the formula");
    person.tab_to("Oat extract in glycerin percent");
    for name in ["Read-outs", "Chart", "Findings"] {
        person.press(Key::F6);
        assert_eq!(person.focused(), name);
    }
    for name in ["Chart", "Read-outs", "Oat extract in glycerin percent"] {
        person.press_with(Modifiers::SHIFT, Key::F6);
        assert_eq!(person.focused(), name);
    }
    person.press_until(Modifiers::SHIFT, Key::F6, "Head of the formula");
}

/// The regions of a sheet, in the order of reading.
fn regions(person: &mut Person, sheet: Key) -> Vec<String> {
    person.press_with(Modifiers::COMMAND, sheet);
    let mut seen = Vec::new();
    loop {
        person.press(Key::F6);
        let (role, name) = person.focus().unwrap();
        if name == "Menus and sheets" {
            return seen;
        }
        assert_eq!(role, Role::Group, "{name}");
        seen.push(name);
        assert!(seen.len() < 12, "{seen:?}");
    }
}

#[test]
fn every_sheet_has_regions_of_its_own() {
    let mut person = Person::with(Look::USUAL, shower_gel(false));
    let wanted: [(Key, &[&str]); 6] = [
        (Key::Num2, &["What is compared", "Compare"]),
        (Key::Num3, &["Parts of Aim", "What is asked", "The answer"]),
        (
            Key::Num4,
            &["Pages of Make", "Size and papers", "Weigh sheet"],
        ),
        (
            Key::Num5,
            &["Market and saving", "What you state", "The label"],
        ),
        (Key::Num6, &["Materials", "One material"]),
        (Key::Num7, &["Pages of Trials", "Readings"]),
    ];
    for (sheet, mut names) in wanted.map(|(sheet, names)| (sheet, names.to_vec())) {
        names.push("Status");
        assert_eq!(regions(&mut person, sheet), names);
    }
}

/// Whoever goes to another sheet by keys goes on at its top.
#[test]
fn the_cursor_comes_along_to_another_sheet() {
    let mut person = Person::with(Look::USUAL, shower_gel(false));
    person.press_until(NONE, Key::F6, "Findings");
    person.press_with(Modifiers::COMMAND, Key::Num3);
    person.harness.run();
    assert_eq!(person.focused(), "Parts of Aim");
    person.press(Key::Tab);
    assert_eq!(person.focused(), "Targets");
    person.press_with(Modifiers::COMMAND, Key::Num4);
    person.press(Key::F6);
    assert_eq!(person.focused(), "Size and papers");
}

/// What stands above every sheet is not its top.
#[test]
fn the_top_of_a_sheet_is_below_what_the_maker_is_told() {
    let mut person = Person::with(Look::USUAL, shower_gel(false));
    let warnings = &mut person.harness.state_mut().state_mut().warnings;
    warnings.push("the settings could not be read".to_owned());
    person.harness.run();
    person.press_with(Modifiers::COMMAND, Key::Num4);
    person.press(Key::Tab);
    assert_eq!(person.focused(), "Weigh sheet");
    person.press_until(Modifiers::SHIFT, Key::F6, "Warnings");
    // Whoever comes from there by a shortcut goes on in the sheet; who presses a tab stays at it.
    person.press_with(Modifiers::COMMAND, Key::Num3);
    person.press(Key::Tab);
    assert_eq!(person.focused(), "Targets");
    person.press_until(Modifiers::SHIFT, Key::F6, "Menus and sheets");
    person.tab_to("Label");
    person.press(Key::Enter);
    assert_eq!(person.focused(), "Label");
}

#[test]
fn a_region_that_holds_only_words_is_scrolled_by_keys() {
    let mut person = Person::with(Look::USUAL, shower_gel(false));
    person.press_with(Modifiers::COMMAND, Key::Num4);
    let top = |person: &Person| person.harness.get_by_label("surfactant phase").rect().top();
    let before = top(&person);
    person.press_until(NONE, Key::F6, "Weigh sheet");
    person.press(Key::PageDown);
    assert!(top(&person) < before - 300.0);
    person.press(Key::Home);
    assert!((top(&person) - before).abs() < 1.0);
}

/// Whoever opens the settings of the product by keys goes on in them.
#[test]
fn a_chip_leads_to_its_fields() {
    let mut person = Person::with(Look::USUAL, shower_gel(false));
    for (chip, field) in [
        ("Aimed at and measured", "pH aimed at"),
        ("Markets", "EU"),
        ("Product settings", "rinse-off"),
    ] {
        person.harness.get_by_label(chip).focus();
        person.harness.run();
        person.press(Key::Enter);
        assert_eq!(person.focused(), field);
    }
    // By the pointer as well.
    person.click(Role::Button, "Aimed at and measured");
    assert_eq!(person.focused(), "pH aimed at");
    person.click(Role::Button, "Product settings");
    assert_eq!(person.focused(), "rinse-off");
    // What is chosen in a list by keys closes it.
    person.tab_to("Product type");
    person.press(Key::Enter);
    for _ in 0..3 {
        person.press(Key::ArrowDown);
    }
    person.press(Key::Enter);
    assert_eq!(
        person.formula().active().product.product_type,
        Some(ProductType::BarSoap)
    );
    assert!(person.harness.query_by_label("hand wash").is_none());
    // What has no first field has its region.
    person
        .harness
        .get_by_label("Name, author and notes")
        .focus();
    person.press(Key::Enter);
    assert_eq!(person.focused(), "Beside the lines");
}

/// What stands at the side stays as high as it is, however long one looks at it.
#[test]
fn what_stands_beside_the_lines_does_not_creep() {
    let mut person = Person::with(Look::USUAL, shower_gel(true));
    let findings = |person: &Person| {
        let node = person
            .harness
            .get_by_role_and_label(Role::Group, "Findings");
        node.rect()
    };
    let before = findings(&person);
    for chip in [
        "Markets",
        "Name, author and notes",
        "More about this variant",
    ] {
        person.harness.get_by_label(chip).click();
        person.harness.run_steps(12);
        let now = findings(&person);
        assert!(
            (before.top() - now.top()).abs() < 1.0,
            "{chip}: {before} {now}"
        );
    }
}

/// Tab walks as one reads: menus, head, lines, read-outs, chart, findings, status.
#[test]
fn the_tab_key_goes_as_one_reads() {
    let mut person = Person::with(Look::USUAL, shower_gel(true));
    let marks = [
        "File",
        "Trials",
        "Name of the formula",
        "Add a line",
        "Letter of phase A",
        "Xanthan gum percent",
        "pH ",
        "Without water",
        "Phase A",
    ];
    for mark in marks {
        person.tab_to(mark);
    }
}

/// The chart is one stop: arrows go from block to block, Enter chooses the lines of one, and Tab
/// leaves it and comes back to where one was.
#[test]
fn the_chart_is_one_stop_with_arrows_inside() {
    let mut person = Person::with(Look::USUAL, shower_gel(true));
    person.tab_to("Without water");
    person.press(Key::Tab);
    assert!(person.focused().starts_with("Phase A"));
    person.press(Key::ArrowDown);
    assert!(person.focused().starts_with("Phase B"));
    person.press(Key::ArrowRight);
    let across = person.focused();
    assert!(!across.starts_with("Phase"), "{across}");
    person.press(Key::ArrowLeft);
    assert!(person.focused().starts_with("Phase"));
    person.press(Key::ArrowRight);
    person.press(Key::ArrowDown);
    let last = person.focused();
    assert!(!last.starts_with("Phase") && last != across, "{last}");
    person.press(Key::Enter);
    assert!(!person.harness.state().state().current().chosen.is_empty());
    person.press(Key::Tab);
    assert!(!person.focused().contains(" %"), "{}", person.focused());
    person.press_with(Modifiers::SHIFT, Key::Tab);
    assert_eq!(person.focused(), last);
}

/// Whatever has the cursor has a frame in the accent of the theme, as long as one works with
/// keys; a click takes it away.
#[test]
fn what_has_the_cursor_has_a_frame() {
    let accent = phasewright::theme::LIGHT.accent;
    let framed = |person: &Person| {
        let root = person.harness.root();
        let node = root
            .children_recursive()
            .find(egui_kittest::Node::is_focused)?;
        let rect = node.rect().expand(1.0);
        let shapes = &person.harness.output().shapes;
        let found = shapes.iter().any(|s| match &s.shape {
            egui::Shape::Rect(r) => {
                r.stroke.color == accent
                    && r.stroke.width >= 2.0
                    && (r.rect.min - rect.min).length() < 1.0
                    && (r.rect.max - rect.max).length() < 1.0
            }
            _ => false,
        });
        Some(found)
    };
    let mut person = Person::with(Look::USUAL, shower_gel(true));
    let mut seen = 0;
    for sheet in SheetName::ALL {
        person.harness.state_mut().push(Command::Show(sheet));
        person.harness.run();
        for _ in 0..40 {
            person.press(Key::Tab);
            if let Some(framed) = framed(&person) {
                assert!(framed, "{sheet:?}: {:?}", person.focus());
                seen += 1;
            }
        }
    }
    assert!(seen > 200, "{seen}");
    person.click(Role::Tab, "Formula");
    assert_ne!(framed(&person), Some(true));
}

#[test]
fn the_cursor_is_not_lost_when_what_had_it_is_gone() {
    let mut person = Person::with(Look::USUAL, shower_gel(false));
    // A line removed through its menu: the next line has the cursor.
    person.press_until(NONE, Key::F6, "Lines");
    person.tab_to("More about Glycerin");
    person.press(Key::Enter);
    person.tab_to("Remove");
    person.press(Key::Enter);
    assert_eq!(person.focused(), "Xanthan gum");
    assert!(person.formula().active().lines().count() == 8);
    // A menu left with Escape: its button has the cursor.
    person.tab_to("More about Xanthan");
    person.press(Key::Enter);
    person.tab_to("Details");
    person.press(Key::Escape);
    assert_eq!(person.focused(), "More about Xanthan gum");
    // A panel of a read-out closed with Escape.
    person.press_until(NONE, Key::F6, "Read-outs");
    person.tab_to("pH ");
    person.press(Key::Enter);
    person
        .harness
        .get_by_label_contains("pH and how to reach it");
    // Whoever works with keys goes on in it.
    assert_eq!(person.focused(), "The page about it");
    person.press(Key::Escape);
    assert!(person.focused().starts_with("pH "), "{}", person.focused());
    // A field left with Escape: Tab goes on from there.
    person.press_until(Modifiers::SHIFT, Key::F6, "More about Xanthan");
    person.press_until(NONE, Key::ArrowDown, "More about Sodium laureth");
    person.press_until(
        Modifiers::SHIFT,
        Key::Tab,
        "Sodium laureth sulfate solution 28 % percent",
    );
    person.press(Key::Escape);
    assert_eq!(person.focus(), None);
    person.press(Key::Tab);
    assert!(person.focused().starts_with("Hold Sodium laureth"));
}

#[test]
fn a_slider_takes_a_click_fine_steps_and_figures() {
    let mut person = Person::with(Look::USUAL, shower_gel(false));
    let name = "Cocamidopropyl betaine solution 30 % slider";
    let rect = person.harness.get_by_label(name).rect();
    let before = line(person.formula(), "Cocamidopropyl").percent;
    // A click on the handle takes it and changes nothing: 11 of 20 %.
    let track = rect.shrink2(egui::vec2(8.0, 0.0));
    let node = person.harness.get_by_label(name);
    let longest = node.accesskit_node().max_numeric_value().unwrap();
    let share = (before.as_percent() / longest) as f32;
    let at = egui::pos2(track.left() + share * track.width() + 2.0, track.center().y);
    person.harness.drag_at(at);
    person.harness.run();
    person.harness.drop_at(at);
    person.harness.run();
    assert_eq!(line(person.formula(), "Cocamidopropyl").percent, before);
    assert_eq!(person.focused(), name);
    // Arrows by 1/200 of the track, with Shift by the chosen step.
    person.press(Key::ArrowRight);
    let coarse = line(person.formula(), "Cocamidopropyl").percent;
    assert!((coarse.as_percent() - before.as_percent() - longest / 200.0).abs() < 1e-9);
    person.press_with(Modifiers::SHIFT, Key::ArrowRight);
    let fine = line(person.formula(), "Cocamidopropyl").percent;
    assert_eq!(fine - coarse, percent("0.01"));
    // The step is the maker's choice.
    person
        .harness
        .state_mut()
        .push(Command::SetStep(phasewright::state::PercentStep::Whole));
    person.harness.run();
    person.press_with(Modifiers::SHIFT, Key::ArrowRight);
    assert_eq!(
        line(person.formula(), "Cocamidopropyl").percent,
        percent("12")
    );
    // A figure goes to the number beside it.
    person.harness.event(egui::Event::Text("9".to_owned()));
    person.harness.run();
    assert_eq!(
        person.focused(),
        "Cocamidopropyl betaine solution 30 % percent"
    );
    person.types(".5");
    person.press(Key::Enter);
    assert_eq!(
        line(person.formula(), "Cocamidopropyl").percent,
        percent("9.5")
    );
}

/// A preservative dragged over its limit: the rows stay where they are until it is let go.
#[test]
fn rows_stay_where_they_are_while_one_drags() {
    // Left on, more than 0.58 % of sodium benzoate is over Annex V, entry 1.
    let mut formula = shower_gel(false);
    let mut variant = formula.active().as_ref().clone();
    variant.product.kinds = ProductKind::LeaveOn.into();
    formula.variants = vec![variant.into()];
    let mut person = Person::with(Look::USUAL, formula);
    let name = "Sodium benzoate slider";
    person.harness.get_by_label(name).scroll_to_me();
    person.harness.run();
    let tops = |person: &Person| -> Vec<f32> {
        let sliders = person.harness.get_all_by_role(Role::Slider);
        sliders.map(|n| n.rect().top()).collect()
    };
    let before = tops(&person);
    let rect = person.harness.get_by_label(name).rect();
    person
        .harness
        .drag_at(rect.left_center() + egui::vec2(20.0, 0.0));
    person.harness.run();
    for part in 3..=9_u8 {
        let to = rect.left_center() + egui::vec2(rect.width() * f32::from(part) / 10.0, 0.0);
        person.harness.hover_at(to);
        person.harness.run();
        assert_eq!(tops(&person), before);
    }
    let breach = |person: &Person| {
        let all = person
            .harness
            .query_all_by_label_contains("Breach: Sodium Benzoate");
        all.count()
    };
    assert!(breach(&person) > 0);
    picture(&mut person.harness, "formula-dragging");
    person
        .harness
        .drop_at(rect.right_center() - egui::vec2(20.0, 0.0));
    person.harness.run();
    // Only then the sentence takes its room under the line.
    assert_ne!(tops(&person), before);
}

#[test]
fn a_screen_reader_is_told_names_values_ranges_and_what_came_up() {
    use egui::accesskit::Live;
    let mut person = Person::with(Look::USUAL, shower_gel(false));
    let node = person.harness.get_by_label("Xanthan gum slider");
    let slider = node.accesskit_node();
    assert_eq!(slider.numeric_value(), Some(0.8));
    assert_eq!(slider.value().as_deref(), Some("0.8 %"));
    assert_eq!(slider.min_numeric_value(), Some(0.0));
    assert!(slider.max_numeric_value().is_some_and(|most| most >= 0.8));
    assert!(slider.numeric_value_step().is_some_and(|step| step > 0.0));
    let ranges = slider.description().unwrap_or_default();
    assert!(ranges.contains("Usual range: "), "{ranges}");

    let told = |person: &Person| -> (Live, String) {
        let root = person.harness.root();
        let mut nodes = root.children_recursive();
        let node = nodes.find(|n| n.accesskit_node().live() != Live::Off);
        let Some(node) = node else {
            return (Live::Off, String::new());
        };
        let node = node.accesskit_node();
        (node.live(), node.label().unwrap_or_default())
    };
    // What stands there from the beginning is not read out.
    assert_eq!(told(&person), (Live::Off, String::new()));
    // A dose far over what the law allows is read out at once.
    acceptance::window::type_into(&mut person.harness, "Sodium benzoate percent", "9");
    person.press(Key::Enter);
    let (live, words) = told(&person);
    assert_eq!(live, Live::Assertive, "{words}");
    assert!(words.starts_with("Breach: Sodium Benzoate"), "{words}");
    // Why something was not taken is read out when there is time.
    acceptance::window::type_into(&mut person.harness, "Sodium benzoate percent", "much");
    person.press(Key::Enter);
    let root = person.harness.root();
    let polite = root
        .children_recursive()
        .filter(|n| n.accesskit_node().live() == Live::Polite);
    let words: Vec<String> = polite
        .filter_map(|n| n.accesskit_node().label().or(n.accesskit_node().value()))
        .collect();
    let words = words.join("; ");
    assert!(words.contains("is not a percentage"), "{words}");
}

/// Every field that a finding can ask for gets the cursor, whatever it is.
#[test]
fn a_field_that_a_finding_asks_for_gets_the_cursor() {
    let mut formula = shower_gel(false);
    let mut variant = formula.active().as_ref().clone();
    let (phase, of) = {
        let (phase, line) = variant.lines().next().unwrap();
        (phase.id, line.id)
    };
    variant.measured = formulation::formula::Measured::default();
    formula.variants = vec![variant.into()];
    for (field, name) in [
        (StatedField::Kind, "rinse-off"),
        (StatedField::ProductType, "Product type"),
        (StatedField::Places, "body"),
        (StatedField::Markets, "EU"),
        (StatedField::MarketDate, "Day of placing on the market"),
        (
            StatedField::UnderThree,
            "Made for children under three years",
        ),
        (StatedField::Spray, "Sprayed as an aerosol or fine mist"),
        (StatedField::Professional, "For professional use only"),
        (StatedField::WetUse, "Reached by wet hands or water in use"),
        (StatedField::FragranceCategory, "Fragrance category"),
        (StatedField::TargetPh, "pH aimed at"),
        (StatedField::MeasuredPh, "pH measured"),
        (StatedField::Percent(of), "Water, demineralised percent"),
        (
            StatedField::Purpose(of),
            "What it is there for in the sense of the law",
        ),
        (StatedField::Material(of), "Water, demineralised"),
        (
            StatedField::Temperature(phase),
            "Temperature of phase A in °C",
        ),
    ] {
        let mut harness = bench(Look::USUAL, state(built_in().clone(), formula.clone()));
        harness.run();
        harness.state_mut().push(Command::OpenField(field));
        harness.run();
        let root = harness.root();
        let focused = root
            .children_recursive()
            .find(egui_kittest::Node::is_focused);
        let label = focused.and_then(|n| n.accesskit_node().label());
        if field == StatedField::Percent(of) {
            // The filler's own percentage cannot be typed.
            continue;
        }
        assert_eq!(label.as_deref(), Some(name), "{field:?}");
    }
}

/// While one types into the search, a screen reader is told which result the arrows chose.
#[test]
fn the_chosen_result_of_a_search_is_told() {
    let mut person = Person::with(Look::USUAL, shower_gel(false));
    acceptance::window::type_into(&mut person.harness, "Add a line", "glycerin");
    person.press(Key::ArrowDown);
    let told = person.harness.get_by_label_contains("2 of ");
    let node = told.accesskit_node();
    assert_eq!(node.live(), egui::accesskit::Live::Polite);
    let words = node.label().unwrap();
    let mut chosen = person
        .harness
        .query_all_by_role(Role::ListBoxOption)
        .filter(|n| n.accesskit_node().is_selected() == Some(true));
    let row = chosen.next().unwrap();
    let name = row.accesskit_node().label().unwrap();
    assert!(words.contains(&name) && words.contains(", to "), "{words}");
    assert!(chosen.next().is_none());
}

/// What the last change caused stays in sight beside a message, which goes with the next step.
#[test]
fn a_message_hides_nothing_and_goes_with_undo() {
    let mut person = Person::with(Look::USUAL, shower_gel(false));
    acceptance::window::type_into(&mut person.harness, "Sodium benzoate percent", "9");
    person.press(Key::Enter);
    acceptance::window::type_into(&mut person.harness, "Sodium benzoate percent", "much");
    person.press(Key::Enter);
    let shown = |person: &Person, words: &str| {
        person.harness.query_all_by_label_contains(words).count() > 0
    };
    assert!(shown(&person, "is not a percentage"));
    assert!(shown(&person, "From the last change"));
    person.harness.state_mut().push(Command::Undo);
    person.harness.run();
    assert!(!shown(&person, "is not a percentage"));
}

/// What would change is told before anything changes, to the pointer and to the cursor.
#[test]
fn bringing_to_100_says_first_what_it_would_change() {
    let mut formula = shower_gel(false);
    let mut variant = formula.active().as_ref().clone();
    variant.filler = None;
    let mut phase = variant.phases[1].as_ref().clone();
    phase.lines[0].percent = percent("5");
    variant.phases[1] = phase.into();
    formula.variants = vec![variant.into()];
    let mut person = Person::with(Look::USUAL, formula);
    person.harness.get_by_label("Bring to 100").focus();
    person.harness.run();
    person.harness.get_by_label("Would change:");
    assert!(
        person
            .harness
            .query_all_by_label_contains("Glycerin 99.5 %: 5 to 4.")
            .count()
            > 0
    );
}

/// The edge between two panels is a stop of the Tab key, so the keys must move it.
#[test]
fn the_edge_of_a_panel_moves_by_the_arrow_keys() {
    use egui::accesskit::Orientation;
    let mut person = Person::with(Look::USUAL, shower_gel(false));
    // Between lines and chart, and between chart and findings.
    let edges = [
        (Orientation::Vertical, Key::ArrowLeft, Key::ArrowRight),
        (Orientation::Horizontal, Key::ArrowDown, Key::ArrowUp),
    ];
    for (lies, larger, smaller) in edges {
        let share = |person: &Person| {
            let mut edges = person.harness.query_all_by_role(Role::Splitter);
            let edge = edges.find(|n| n.accesskit_node().orientation() == Some(lies));
            edge.unwrap().accesskit_node().numeric_value().unwrap()
        };
        let before = share(&person);
        let edges = person.harness.query_all_by_role(Role::Splitter);
        for edge in edges {
            if edge.accesskit_node().orientation() == Some(lies) {
                edge.focus();
            }
        }
        person.harness.run();
        for _ in 0..3 {
            person.press(larger);
        }
        let wider = share(&person);
        assert!(wider > before + 0.01, "{before} {wider}");
        assert_eq!(person.focused(), "Resize panel");
        for _ in 0..3 {
            person.press(smaller);
        }
        assert!((share(&person) - before).abs() < 0.005);
    }
}
