//! The Shelf sheet, driven through the accessibility tree.

use acceptance::window::{Look, bench, picture, shower_gel, state, type_into};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use formulation::batch::workshop::Workshop;

use formulation::lot_values::LotValues;
use formulation::mass::read_mass;
use formulation::material::{
    Alkalinity, Basis, Charge, Class, Coverage, Figures, FragranceLevel, Hazard, Material,
    MaterialId, MaterialValue, PhaseKind, Preservation, ProductKind, Role, Source, UseRange,
    WettingMedium,
};
use formulation::material_draft::{AlkalinityDraft, DraftField, MaterialDraft, UseDraft};
use formulation::own_shelf::ShelfEdit;
use formulation::quantity::{Currency, Percent, Ph, PhRange};
use formulation::shelf::built_in;
use formulation::stock::{Lot, LotId, Stock};
use phasewright::app::Bench;
use phasewright::command::Command;
use phasewright::sheets::SheetName;

fn shelf(look: Look) -> Harness<'static, Bench> {
    let mut harness = bench(look, state(built_in().clone(), shower_gel(false)));
    harness.state_mut().push(Command::Show(SheetName::Shelf));
    harness.run();
    harness
}

fn row_is_shown(harness: &Harness<'_, Bench>, name: &str) -> bool {
    harness
        .query_all_by_role(egui::accesskit::Role::Row)
        .any(|row| row.accesskit_node().label().is_some_and(|l| l == name))
}

/// Chooses the first row found for some words.
fn choose(harness: &mut Harness<'_, Bench>, words: &str, name: &str) {
    type_into(harness, "Search the shelf", words);
    let row = harness
        .query_all_by_role(egui::accesskit::Role::Row)
        .find(|row| row.accesskit_node().label().is_some_and(|l| l == name));
    assert!(row.is_some(), "no row “{name}”");
    if let Some(row) = row {
        row.click();
    }
    harness.run();
}

#[test]
fn search_as_you_type_finds_and_forgives() {
    let mut harness = shelf(Look::USUAL);
    assert!(row_is_shown(&harness, "1,2-Hexanediol"));
    type_into(&mut harness, "Search the shelf", "sodum benzoat");
    assert!(row_is_shown(&harness, "Sodium benzoate"));
    assert!(!row_is_shown(&harness, "1,2-Hexanediol"));
    picture(&mut harness, "shelf_search");
    // Enter shows the first found, the arrows the next ones, and one goes on typing.
    let nothing_shown = |harness: &Harness<'_, Bench>| {
        let words = "Choose a material to see";
        harness.query_all_by_label_contains(words).next().is_some()
    };
    assert!(nothing_shown(&harness));
    harness.key_press(egui::Key::Enter);
    harness.run();
    harness.run();
    assert!(!nothing_shown(&harness));
    let search = harness.get_by_role_and_label(egui::Role::TextInput, "Search the shelf");
    assert!(search.is_focused());
}

#[test]
fn the_stock_filters_the_shelf() {
    let mut stock = Stock::new(Currency::EUR);
    let day = |text: &str| text.parse().unwrap();
    let lot = |id: &str, material: &str, expiry| Lot {
        supplier: "Fellside Botanicals".into(),
        expiry: Some(day(expiry)),
        ..Lot::of_one_pack(
            LotId::new(id).unwrap(),
            MaterialId::from_name(material),
            day("2024-01-10"),
            read_mass("1 kg", None).unwrap(),
            Currency::EUR,
        )
    };
    stock.lots = vec![
        lot("U-1", "Urea", "2040-01-01"),
        lot("A-1", "Agar", "2024-06-01"),
    ];
    let mut state = state(built_in().clone(), shower_gel(false));
    state.books.set_stock(stock, Workshop::default()).unwrap();
    let mut harness = bench(Look::USUAL, state);
    harness.state_mut().push(Command::Show(SheetName::Shelf));
    harness.run();
    for (choice, shown, hidden) in [("In stock", "Urea", "Agar"), ("Expired", "Agar", "Urea")] {
        harness.get_by_label("Stock").click();
        harness.run();
        harness.get_by_label(choice).click();
        harness.run();
        assert!(row_is_shown(&harness, shown), "{choice}");
        assert!(!row_is_shown(&harness, hidden), "{choice}");
    }
    picture(&mut harness, "shelf_expired");
}

#[test]
fn a_material_is_looked_at_with_its_sources() {
    for (look, name) in [
        (Look::SMALL, "shelf_small"),
        (Look::USUAL.dark(), "shelf_dark"),
        (Look::SMALL.doubled(), "shelf_doubled"),
    ] {
        let mut harness = shelf(look);
        choose(&mut harness, "sodium benzoate", "Sodium benzoate");
        assert!(harness.query_by_label("532-32-1; preservative").is_some());
        picture(&mut harness, name);
    }
}

#[test]
fn every_figure_of_a_material_says_what_it_rests_on() {
    // Tall, since what has scrolled away is not in the accessibility tree.
    let tall = Look {
        size: egui::vec2(1280.0, 1600.0),
        ..Look::USUAL
    };
    let mut harness = shelf(tall);
    choose(
        &mut harness,
        "cocamidopropyl betaine 30",
        "Cocamidopropyl betaine solution 30 %",
    );
    let says = |h: &Harness<'_, Bench>, words: &str| {
        assert!(
            h.query_all_by_label_contains(words).next().is_some(),
            "nothing says {words}"
        );
    };
    says(&harness, "Effect on pH");
    says(&harness, "pH 4.5 to 6 as sold");
    says(&harness, "from memory");
    harness
        .get_by_label("Constants the estimates reckon with")
        .click();
    harness.run();
    says(&harness, "Molar mass: 348 g/mol");
    says(&harness, "standard atomic weights (estimate)");
    says(&harness, "Dissociation constant: alkyl betaine");
    picture(&mut harness, "shelf_constants");
}

#[test]
fn a_new_material_is_completed_checked_and_put_on_the_shelf() {
    let mut harness = shelf(Look::USUAL);
    harness.get_by_label("Add…").click();
    harness.run();
    harness.run();
    // The cursor is in the first field, and nothing is wrong before anything is typed.
    let first = "Complete from the public inventory";
    let field = harness.get_by_role_and_label(egui::Role::TextInput, first);
    assert!(field.is_focused());
    assert!(harness.query_by_label_contains("put right").is_none());
    type_into(&mut harness, first, "totarol");
    harness.get_by_label("Totarol (511-15-9)");
    // Enter takes the first that is offered.
    harness.key_press(egui::Key::Enter);
    harness.run();
    picture(&mut harness, "shelf_editor");
    // A mistyped digit is named at once, with the right one.
    type_into(&mut harness, "CAS number 1", "511-15-8");
    assert!(
        harness
            .query_by_label_contains("check digit should be 9")
            .is_some()
    );
    assert!(
        harness
            .get_by_label("Put on the shelf")
            .accesskit_node()
            .is_disabled()
    );
    picture(&mut harness, "shelf_editor_fault");
    type_into(&mut harness, "CAS number 1", "511-15-9");
    harness.get_by_label("Put on the shelf").click();
    harness.run();
    let id = MaterialId::from_name("Totarol");
    let own = harness.state().state().makers_shelf().own();
    assert_eq!(
        own.materials.get(&id).map(|m| m.inci_line()).as_deref(),
        Some("Totarol")
    );
    assert!(row_is_shown(&harness, "Totarol"));
}

/// Components typed beside their oil, as a data sheet gives them, become parts of it at the press
/// of a button.
#[test]
fn components_become_parts_of_their_oil_in_the_form() {
    let mut harness = shelf(Look::USUAL);
    harness.get_by_label("Add…").click();
    harness.run();
    harness.run();
    let first = "Complete from the public inventory";
    type_into(&mut harness, first, "lavandula angustifolia oil");
    harness.key_press(egui::Key::Enter);
    harness.run();
    type_into(&mut harness, "Typical share 1", "66");
    harness.get_by_label("Add a substance").click();
    harness.run();
    type_into(&mut harness, "INCI name 2", "Linalool");
    type_into(&mut harness, "Typical share 2", "34");
    let button = "Count them as parts of the oil";
    harness.get_by_label(button).scroll_to_me();
    harness.run();
    picture(&mut harness, "shelf_oil");
    harness.get_by_label(button).click();
    harness.run();
    assert!(harness.query_by_label(button).is_none());
    harness.get_by_label("Put on the shelf").click();
    harness.run();
    let own = harness.state().state().makers_shelf().own();
    let oil = own.materials.values().next().cloned();
    let parts = oil.map(|oil| {
        let parts = oil.constituents.iter();
        parts
            .map(|c| (c.class, c.incidental.is_some()))
            .collect::<Vec<_>>()
    });
    let scent = Class::Fragrance;
    assert_eq!(parts, Some(vec![(scent, false), (scent, true)]));
}

#[test]
fn a_pasted_recipe_becomes_a_formula_after_a_look() {
    let mut harness = shelf(Look::USUAL);
    harness.get_by_label("Bring in…").click();
    harness.run();
    harness.get_by_label("Pasted table").focus();
    harness.run();
    harness
        .get_by_label("Pasted table")
        .type_text("Phase\tIngredient\t%\nA\tWater\tq.s.\nA\tGlycerin\t3\nB\tMoorland balm\t1,5\n");
    harness.run();
    picture(&mut harness, "shelf_paste");
    harness.get_by_label("Look at the pasted table").click();
    harness.run();
    picture(&mut harness, "shelf_proposal");
    assert_eq!(
        harness.state().state().makers_shelf().own().materials.len(),
        0
    );
    harness.get_by_label("Make the formula").click();
    harness.run();
    let formula = harness.state().state().current().formula().clone();
    let lines: Vec<String> = formula
        .active()
        .lines()
        .map(|(_, l)| l.percent.to_string())
        .collect();
    assert_eq!(lines, ["95.5", "3", "1.5"]);
    assert!(
        harness
            .state()
            .state()
            .makers_shelf()
            .own()
            .materials
            .contains_key(&MaterialId::from_name("Moorland balm"))
    );
}

#[test]
fn a_pasted_price_list_fills_shelf_and_stock() {
    let folder = tempfile::tempdir().unwrap();
    let mut state = state(built_in().clone(), shower_gel(false));
    state.books = phasewright::state::Books::read(Some(folder.path())).0;
    let mut harness = bench(Look::USUAL, state);
    harness.state_mut().push(Command::Show(SheetName::Shelf));
    harness.run();
    harness.get_by_label("Bring in…").click();
    harness.run();
    harness.get_by_label("Pasted table").focus();
    harness.run();
    harness.get_by_label("Pasted table").type_text(
        "Material\tPack size\tPrice\tLot\nGlycerin 99.5 %\t5 kg\t21,90 €\tFS-1\nMoorland balm\t250 g\t31,00 €\t\n",
    );
    harness.run();
    harness.get_by_label("Look at the pasted table").click();
    harness.run();
    type_into(&mut harness, "Supplier of the list", "Fell Supplies");
    picture(&mut harness, "shelf_prices");
    // Enter leads to the button, and Enter there takes the list in.
    for _ in 0..2 {
        harness.key_press(egui::Key::Enter);
        harness.run();
    }
    let state = harness.state().state();
    let stock = state.books.stock();
    assert_eq!((stock.offers.len(), stock.lots.len()), (2, 1));
    assert_eq!(&*stock.offers[1].supplier, "Fell Supplies");
    assert_eq!(stock.lots[0].material.as_str(), "glycerin-99-5");
    let own = state.makers_shelf().own();
    assert!(
        own.materials
            .contains_key(&MaterialId::from_name("Moorland balm"))
    );
    let said = &state.message.as_ref().unwrap().text;
    assert_eq!(
        said,
        "1 new material on the shelf, 3 offers or lots in the stock"
    );
}

#[test]
fn a_certificate_is_kept_for_its_lot() {
    let mut harness = shelf(Look::USUAL);
    choose(
        &mut harness,
        "cocamidopropyl betaine solution",
        "Cocamidopropyl betaine solution 30 %",
    );
    harness
        .get_by_label("Enter a certificate…")
        .click_accesskit();
    harness.run();
    type_into(&mut harness, "Lot", "B-7");
    type_into(
        &mut harness,
        "Cocamidopropyl Betaine by the certificate",
        "31,2",
    );
    picture(&mut harness, "shelf_certificate");
    harness.get_by_label("Keep").click_accesskit();
    harness.run();
    let own = harness.state().state().makers_shelf().own();
    assert_eq!(own.lots.len(), 1);
}

/// A certificate shows all it states, and is changed without losing what is not typed anew.
#[test]
fn a_certificate_is_shown_and_changed_as_a_whole() {
    let mut harness = shelf(Look::USUAL);
    let betaine = "Cocamidopropyl betaine solution 30 %";
    choose(&mut harness, "cocamidopropyl betaine solution", betaine);
    let press = |harness: &mut Harness<'_, Bench>, label: &str| {
        harness.get_by_label(label).click_accesskit();
        harness.run();
        harness.run();
    };
    let value = |harness: &Harness<'_, Bench>, name: &str| {
        let field = harness.get_by_role_and_label(egui::Role::TextInput, name);
        field.accesskit_node().value().unwrap_or_default()
    };
    press(&mut harness, "Enter a certificate…");
    for (field, text) in [
        ("Lot", "L77"),
        ("Certificate", "CoA 12"),
        ("Density, g/ml", "1.047"),
        ("pH", "5.1"),
    ] {
        type_into(&mut harness, field, text);
    }
    press(&mut harness, "Keep");
    let shown = "density 1.047 g/ml, pH 5.1; ";
    assert!(harness.query_by_label_contains(shown).is_some());
    // Its code typed anew brings up what is stated.
    press(&mut harness, "Enter a certificate…");
    type_into(&mut harness, "Lot", "L77");
    harness.run();
    assert!(
        harness
            .query_by_label_contains("has a certificate already")
            .is_some()
    );
    assert_eq!(value(&harness, "Density, g/ml"), "1.047");
    type_into(&mut harness, "pH", "5.4");
    // Another window changes it meanwhile.
    let id = MaterialId::from_name(betaine);
    let own = harness.state().state().makers_shelf().own();
    let mut theirs = own.lots_of(&id).next().unwrap().clone();
    theirs.certificate = "CoA 12b".into();
    let put = ShelfEdit::PutLot(theirs);
    harness.state_mut().push(Command::EditShelf(vec![put]));
    harness.run();
    assert_eq!(value(&harness, "Certificate"), "CoA 12b");
    assert_eq!(value(&harness, "pH"), "5.4");
    picture(&mut harness, "shelf_certificate_changed");
    press(&mut harness, "Keep");
    let shown = "density 1.047 g/ml, pH 5.4; ";
    assert!(harness.query_by_label_contains(shown).is_some());
    // A code that was mistyped is corrected where the certificate is changed.
    press(&mut harness, "Change the certificate of lot L77…");
    assert_eq!(value(&harness, "pH"), "5.4");
    type_into(&mut harness, "Lot", "L78");
    press(&mut harness, "Keep");
    let own = harness.state().state().makers_shelf().own();
    let lots: Vec<&str> = own.lots.keys().map(LotId::as_str).collect();
    assert_eq!(lots, ["L78"]);
    let said: Vec<&str> = own.history.iter().map(|c| c.what.as_ref()).collect();
    let told = "changed the certificate of lot L77: pH 5.1 then, 5.4 now";
    assert!(said.contains(&told), "{said:?}");
    // Files too are named by their buttons, and changed in place.
    type_into(&mut harness, "What the file is", "Data sheet");
    type_into(&mut harness, "Path of the file", "a.pdf");
    press(&mut harness, "Attach");
    press(&mut harness, "Change the file Data sheet…");
    type_into(&mut harness, "Path of the file", "b.pdf");
    press(&mut harness, "Keep the change");
    let own = harness.state().state().makers_shelf().own();
    let files: Vec<&str> = own.attachments[&id]
        .iter()
        .map(|f| f.path.as_ref())
        .collect();
    assert_eq!(files, ["b.pdf"]);
    press(&mut harness, "Take the file Data sheet away");
    let own = harness.state().state().makers_shelf().own();
    assert!(own.attachments.is_empty());
}

/// Two windows that change one value of one certificate: both are told, and one is chosen.
#[test]
fn a_certificate_changed_in_two_windows_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let betaine = "Cocamidopropyl betaine solution 30 %";
    let id = MaterialId::from_name(betaine);
    let certificate = |ph: f64, name: &str| {
        ShelfEdit::PutLot(LotValues {
            lot: LotId::new("L77").unwrap(),
            material: id.clone(),
            shares: Vec::new(),
            density: None,
            ph: Ph::new(ph),
            base_mmol_per_gram: None,
            certificate: name.into(),
        })
    };
    let push = |harness: &mut Harness<'_, Bench>, command: Command| {
        harness.state_mut().push(command);
        harness.run();
        harness.run();
    };
    let window = || {
        let mut harness = shelf(Look::USUAL);
        push(&mut harness, Command::MoveShelf(folder.path().to_owned()));
        harness
    };
    let mut one = window();
    push(&mut one, Command::EditShelf(vec![certificate(5.0, "")]));
    let (before, mut two) = (one.state().state().makers_shelf().own().clone(), window());
    assert_eq!(two.state().state().makers_shelf().own().lots, before.lots);
    push(&mut one, Command::EditShelf(vec![certificate(5.2, "")]));
    push(
        &mut two,
        Command::EditShelf(vec![certificate(5.4, "CoA 3")]),
    );
    let conflict = format!("The certificate of lot L77 of “{betaine}”");
    let words = format!("{conflict} was changed here and in another window");
    two.get_by_label(&words);
    two.get_by_label("pH: there 5.2, here 5.4");
    picture(&mut two, "shelf_certificate_conflict");
    two.get_by_label(&format!("Take the other: {conflict}"))
        .click_accesskit();
    two.run();
    two.run();
    assert!(two.query_by_label(&words).is_none());
    let own = two.state().state().makers_shelf().own();
    let kept = own.lots_of(&id).next().unwrap();
    assert_eq!(
        (kept.ph, kept.certificate.as_ref()),
        (Ph::new(5.2), "CoA 3")
    );
}

/// A table whose second material stands twice and has no strength, without the kind of the
/// product.
const OPEN: &str = "Phase\tIngredient\t%\nA\tWater\t70\nA\tSLES\t10\nB\tSLES\t15\nB\tGlycerin\t5\nMethod\t\t\n1. Stir B into A.\t\t\n";

#[test]
fn a_question_is_settled_in_all_rows_and_remembered() {
    let folder = tempfile::tempdir().unwrap();
    let mut state = state(built_in().clone(), shower_gel(false));
    state.folders.config = Some(folder.path().to_path_buf());
    let mut harness = bench(Look::USUAL, state);
    harness
        .state_mut()
        .push(Command::BringInText(OPEN.to_owned()));
    harness.run();
    assert_eq!(harness.state().sheet(), SheetName::Shelf);
    assert!(
        harness
            .query_by_label_contains("Rows 3, 4: “SLES”")
            .is_some()
    );
    picture(&mut harness, "shelf_questions");
    harness.get_by_label("Leave-on").click();
    harness.run();
    harness
        .get_by_label("Sodium laureth sulfate solution 28 %")
        .click();
    harness.run();
    assert!(harness.query_by_label_contains("nothing asked").is_some());
    harness.get_by_label("Make the formula").click();
    harness.run();
    let formula = harness.state().state().current().formula().clone();
    let materials: Vec<&str> = formula
        .active()
        .lines()
        .map(|(_, l)| l.material.as_str())
        .collect();
    let sles = "sodium-laureth-sulfate-solution-28";
    assert_eq!(
        materials,
        ["water-demineralised", sles, sles, "glycerin-99-5"]
    );
    let product = &formula.active().product;
    assert_eq!(product.kinds, ProductKind::LeaveOn.into());
    let steps: Vec<&str> = formula
        .active()
        .phases
        .iter()
        .flat_map(|p| &p.steps)
        .map(|s| &*s.text)
        .collect();
    assert_eq!(steps, ["Stir B into A."]);
    // The next file asks no more about it.
    harness
        .state_mut()
        .push(Command::BringInText(OPEN.to_owned()));
    harness.run();
    assert!(harness.query_by_label_contains("“SLES”").is_none());
    assert!(harness.query_by_label_contains("1 question open").is_some());
}

#[test]
fn lines_go_to_a_spreadsheet_and_come_back_as_one_step() {
    let mut harness = bench(Look::USUAL, state(built_in().clone(), shower_gel(false)));
    harness.run();
    let before = harness.state().state().current().formula().clone();
    harness.event(egui::Event::Copy);
    harness.run();
    let copied = harness
        .output()
        .platform_output
        .commands
        .iter()
        .find_map(|c| match c {
            egui::OutputCommand::CopyText(text) => Some(text.clone()),
            _ => None,
        });
    let said = harness
        .state()
        .state()
        .message
        .as_ref()
        .unwrap()
        .text
        .clone();
    assert!(said.contains("copied for a spreadsheet"), "{said}");
    if let Some(copied) = copied {
        assert!(copied.starts_with("Phase\tMaterial\tINCI\t%"), "{copied}");
    }
    harness.event(egui::Event::Paste(
        "Phase\tMaterial\t%\nC\tAllantoin powder\t0,3\nC\tUrea\t1\n".to_owned(),
    ));
    harness.run();
    harness.run();
    let after = harness.state().state().current().formula().clone();
    assert_eq!(
        after.active().lines().count(),
        before.active().lines().count() + 2
    );
    harness.state_mut().push(Command::Undo);
    harness.run();
    assert_eq!(harness.state().state().current().formula(), &before);
}

#[test]
fn a_file_of_others_is_looked_at_before_it_is_opened() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("Heather balm.csv");
    std::fs::write(&path, "Ingredient;%\nOlive oil;80\nBeeswax;20\n").unwrap();
    let mut harness = bench(Look::USUAL, state(built_in().clone(), shower_gel(false)));
    let count = harness.state().state().documents().len();
    harness.state_mut().push(Command::OpenPath(path));
    for _ in 0..3 {
        harness.run();
    }
    assert_eq!(harness.state().sheet(), SheetName::Shelf);
    assert!(harness.query_by_label("Bring in Heather balm").is_some());
    assert_eq!(harness.state().state().documents().len(), count);
    harness.get_by_label("Make the formula").click();
    harness.run();
    assert_eq!(
        &*harness.state().state().current().formula().name,
        "Heather balm"
    );
}

/// Three recipes below each other: the first is plain, the second has a material without a
/// strength, the third is plain again.
const THREE: &str = "Moss rinse-off wash\t\nIngredient\t%\nWater\t95\nGlycerin\t5\n\t\nOat rinse-off wash\t\nIngredient\t%\nWater\t90\nSLES\t10\n\t\nFern rinse-off wash\t\nIngredient\t%\nWater\t80\nGlycerin\t20\n";

#[test]
fn each_of_several_recipes_is_settled_before_all_are_taken_in() {
    let mut harness = shelf(Look::USUAL);
    harness
        .state_mut()
        .push(Command::BringInText(THREE.to_owned()));
    for _ in 0..6 {
        harness.run();
    }
    assert!(harness.query_by_label("3 recipes in the file").is_some());
    harness.get_by_label("Take all").click();
    harness.run();
    // Two are ready; the question of the third is found by its name in the list.
    assert_eq!(harness.query_all_by_label("ready").count(), 2);
    assert!(harness.query_by_label("1 question").is_some());
    harness.get_by_label("Oat rinse-off wash").click();
    harness.run();
    picture(&mut harness, "shelf_several");
    harness
        .get_by_label("Sodium laureth sulfate solution 28 %")
        .click();
    harness.run();
    assert_eq!(harness.query_all_by_label("ready").count(), 3);
    // Recipes that are no versions of each other stand on their own.
    assert!(harness.query_by_label("A formula each").is_some());
    harness.get_by_label("Make 3 formulas").click();
    harness.run();
    let documents = harness.state().state().documents();
    let names: Vec<String> = documents
        .iter()
        .skip(documents.len() - 3)
        .map(|d| d.formula().name.to_string())
        .collect();
    assert_eq!(
        names,
        [
            "Moss rinse-off wash",
            "Oat rinse-off wash",
            "Fern rinse-off wash"
        ]
    );
}

/// Another window puts the material on the shelf while its form is open here: what was not
/// touched follows, what is typed stays, and either is said.
#[test]
fn a_form_follows_the_shelf_where_it_was_not_touched() {
    let mut harness = shelf(Look::USUAL);
    choose(&mut harness, "argan oil", "Argan oil");
    harness.get_by_label("Edit…").click();
    harness.run();
    let told = "This material was changed elsewhere";
    assert!(harness.query_by_label_contains(told).is_none());
    let id = MaterialId::from_name("Argan oil");
    let mut theirs = built_in().get(&id).unwrap().as_ref().clone();
    theirs.supplier = Some("Fellside Botanicals".into());
    let put = ShelfEdit::Put(theirs.clone().into());
    type_into(&mut harness, "Other names", "oil of the thorn");
    harness.state_mut().push(Command::EditShelf(vec![put]));
    harness.run();
    assert!(harness.query_by_label_contains(told).is_some());
    let value = |harness: &Harness<'_, Bench>, name: &str| {
        let field = harness.get_by_role_and_label(egui::Role::TextInput, name);
        field.accesskit_node().value().unwrap_or_default()
    };
    assert_eq!(value(&harness, "Supplier"), "Fellside Botanicals");
    assert_eq!(value(&harness, "Other names"), "oil of the thorn");
    // What both changed is named, and stays as typed.
    theirs.synonyms = vec!["argan".into()];
    let put = ShelfEdit::Put(theirs.into());
    harness.state_mut().push(Command::EditShelf(vec![put]));
    harness.run();
    let told = "changed elsewhere too: Other names";
    assert!(harness.query_by_label_contains(told).is_some());
    assert_eq!(value(&harness, "Other names"), "oil of the thorn");
}

/// Every value of the table stands in the details and in the form, with its source, and comes
/// back from the form as it was.
#[test]
fn every_value_of_a_material_is_shown_and_edited() {
    let tall = Look {
        size: egui::vec2(1280.0, 2400.0),
        ..Look::USUAL
    };
    let mut harness = shelf(tall);
    let id = MaterialId::from_name("Heather wax");
    let mut material = Material::unknown(id.clone(), "Heather wax");
    for (value, counted) in MaterialValue::counted() {
        let at = |part: f64| counted.in_file(counted.least + part * (counted.most - counted.least));
        let figures = Figures {
            low: at(0.25),
            high: at(0.75),
        };
        let source = Source::new(Basis::Supplier, format!("sheet, {}", value.row().label));
        material.set_figures(value, figures, source);
    }
    let put = ShelfEdit::Put(material.clone().into());
    harness.state_mut().push(Command::EditShelf(vec![put]));
    harness.run();
    choose(&mut harness, "heather wax", "Heather wax");
    let typed = MaterialDraft::of(&material);
    for (value, counted) in MaterialValue::counted() {
        let label = value.row().label;
        assert!(
            harness.query_all_by_label(label).next().is_some(),
            "{label}"
        );
        let ends = &typed.values[value];
        let mut words = ends.low.clone();
        if counted.has_two_ends() {
            words = format!("{words} to {}", ends.high);
        }
        if !counted.unit.is_empty() {
            words = format!("{words} {}", counted.unit);
        }
        assert!(
            harness.query_all_by_label(&words).next().is_some(),
            "{words}"
        );
        let source = format!("sheet, {label}");
        let mut told = harness.query_all_by_label_contains(&source);
        assert!(told.next().is_some(), "{source}");
    }
    harness.get_by_label("Edit…").click();
    harness.run();
    let field = |harness: &Harness<'_, Bench>, name: &str| {
        let field = harness.get_by_role_and_label(egui::Role::TextInput, name);
        field.accesskit_node().value().unwrap_or_default()
    };
    for (value, counted) in MaterialValue::counted() {
        let label = value.row().label;
        let ends = &typed.values[value];
        if counted.has_two_ends() {
            assert_eq!(field(&harness, &format!("{label}, lowest")), ends.low);
            assert_eq!(field(&harness, &format!("{label}, highest")), ends.high);
        } else {
            assert_eq!(field(&harness, label), ends.low);
        }
        assert_eq!(
            field(&harness, &format!("Source of {label}")),
            format!("sheet, {label}")
        );
    }
    type_into(&mut harness, "Other names", "wax of the moor");
    harness.get_by_label("Put on the shelf").click();
    harness.run();
    material.synonyms = vec!["wax of the moor".into()];
    let own = harness.state().state().makers_shelf().own();
    assert_eq!(own.materials.get(&id).map(AsRef::as_ref), Some(&material));
}

/// All else that a material states stands in the details and in the form too; a new field does
/// not compile here until somebody says how it is looked for.
#[test]
fn everything_a_material_states_is_shown_and_edited() {
    let tall = Look {
        size: egui::vec2(1280.0, 2400.0),
        ..Look::USUAL
    };
    let mut harness = shelf(tall);
    let id = MaterialId::from_name("Heather balm");
    let mut material = Material::pure(
        id.clone(),
        "Heather balm",
        "Glycerin",
        Some("56-81-5".parse().unwrap()),
        Class::Humectant,
    );
    let source = |words: &str| Source::new(Basis::Supplier, words);
    let percent = |figure: f64| Percent::nearest(figure).unwrap();
    material.synonyms = vec!["balm of the moor".into()];
    material.supplier = Some("Fellside Botanicals".into());
    material.roles = vec![Role::Humectant];
    material.charge = Some(Charge::Amphoteric);
    material.phase = Some(PhaseKind::CoolDown);
    let kinds = [ProductKind::RinseOff, ProductKind::LeaveOn];
    material.use_ranges = (kinds.into_iter().zip([(1.5, 2.5), (3.5, 4.5)]))
        .map(|(kind, (low, high))| UseRange {
            kind,
            low: percent(low),
            high: percent(high),
            supplier_maximum: true,
            source: source("sheet of levels"),
        })
        .collect();
    material.hazards = vec![Hazard::Corrosive, Hazard::Dust];
    material.wet_with = vec![WettingMedium::Alcohol];
    material.preservation = Some(Preservation {
        bacteria: Coverage::Good,
        yeast: Coverage::Weak,
        mould: Coverage::None,
        dose_low: percent(0.15),
        dose_high: percent(0.85),
        ph: Some(PhRange::new(3.5, 6.5).unwrap()),
        formaldehyde_donor: true,
        source: source("sheet of doses"),
    });
    material.alkalinity = Alkalinity::Unknown {
        ph_as_sold: Some(PhRange::new(4.5, 5.5).unwrap()),
        base_mmol_per_gram: None,
        source: source("sheet of acidity"),
    };
    material.fragrance_levels = vec![FragranceLevel {
        category: "5A".into(),
        maximum: percent(0.75),
    }];
    material.note = "keeps in the cellar".into();
    material.source = source("sheet of the balm");
    let put = ShelfEdit::Put(material.clone().into());
    harness.state_mut().push(Command::EditShelf(vec![put]));
    harness.run();
    choose(&mut harness, "heather balm", "Heather balm");
    for words in [
        "Also balm of the moor",
        "Fellside Botanicals",
        "Glycerin",
        "56-81-5; humectant",
        "humectant",
        "amphoteric",
        "cool-down",
        "1.5 to 2.5 %, supplier's maximum",
        "3.5 to 4.5 %, supplier's maximum",
        "sheet of levels",
        "corrosive, dust",
        "alcohol",
        "0.15 to 0.85 % of this material",
        "bacteria good, yeast weak, mould not covered",
        "3.5 to 6.5",
        "formaldehyde",
        "sheet of doses",
        "pH 4.5 to 5.5 as sold",
        "sheet of acidity",
        "Category 5A",
        "at most 0.75 %",
        "keeps in the cellar",
        "sheet of the balm",
    ] {
        let mut shown = harness.query_all_by_label_contains(words);
        assert!(shown.next().is_some(), "{words}");
    }
    harness.get_by_label("Edit…").click();
    harness.run();
    let field = |name: &str, typed: &str| {
        let field = harness.get_by_role_and_label(egui::Role::TextInput, name);
        let value = field.accesskit_node().value();
        assert_eq!(value.as_deref(), Some(typed), "{name}");
    };
    let chosen = |harness: &Harness<'_, Bench>, name: &str, words: &str| {
        let choice = harness.query_all_by_label(name);
        // A label's value is its own words.
        let values = choice.filter_map(|n| n.accesskit_node().value());
        let values: Vec<_> = values.filter(|value| value != name).collect();
        assert_eq!(values, [words], "{name}");
    };
    let MaterialDraft {
        of,
        name,
        synonyms,
        supplier,
        constituents,
        roles,
        charge,
        phase,
        rinse_off,
        leave_on,
        values: _,
        hazards,
        wet_with,
        preservation,
        alkalinity,
        fragrance,
        note,
        basis,
        source,
        sources,
    } = MaterialDraft::of(&material);
    assert_eq!(of.as_ref(), Some(&id));
    field("Name", &name);
    field("Other names", &synonyms);
    field("Supplier", &supplier);
    field("INCI name 1", &constituents[0].inci);
    field("CAS number 1", &constituents[0].cas);
    field("Typical share 1", &constituents[0].typical);
    field("Usual level, rinse-off, lowest", &rinse_off.low);
    field("Usual level, leave-on, highest", &leave_on.high);
    let UseDraft {
        low: _,
        high: _,
        supplier_maximum,
    } = rinse_off;
    assert!(supplier_maximum);
    assert_eq!(roles, [Role::Humectant]);
    chosen(&harness, "Roles", "Humectant");
    assert_eq!(charge, Some(Charge::Amphoteric));
    chosen(&harness, "Charge", "Amphoteric");
    assert_eq!(phase, Some(PhaseKind::CoolDown));
    chosen(&harness, "Usual phase", "Cool-down phase");
    assert_eq!(hazards, [Hazard::Corrosive, Hazard::Dust]);
    chosen(&harness, "Hazards", "Dust, corrosive");
    assert_eq!(wet_with, [WettingMedium::Alcohol]);
    chosen(&harness, "Wetted with", "Alcohol");
    let preservation = preservation.unwrap();
    chosen(&harness, "Bacteria", "Good");
    chosen(&harness, "Yeast", "Weak");
    chosen(&harness, "Mould", "Not covered");
    field("Dose, %, lowest", &preservation.dose_low);
    field("Works at pH, highest", &preservation.ph_high);
    chosen(
        &harness,
        "Effect on pH",
        "It may bring acid or base not listed",
    );
    assert!(matches!(alkalinity, AlkalinityDraft::Unknown { .. }));
    field("pH as sold, lowest", "4.5");
    field("Fragrance category 1", &fragrance[0].0);
    field("Highest level of category 5A, %", &fragrance[0].1);
    chosen(&harness, "How sure the values are", basis.unwrap().label());
    field("Source", &source);
    let of_levels = &sources[&DraftField::UseRinseOff].text;
    field("Source of Usual level, rinse-off", of_levels);
    field("Source of Preservation", "sheet of doses");
    field("Source of Effect on pH", "sheet of acidity");
    // Each control says of what it is.
    let mut names: Vec<String> = harness
        .query_all_by(|node| {
            matches!(
                node.role(),
                egui::Role::Button | egui::Role::CheckBox | egui::Role::TextInput
            )
        })
        .filter_map(|node| node.accesskit_node().label())
        .collect();
    names.sort();
    let twice: Vec<_> = names.windows(2).filter(|two| two[0] == two[1]).collect();
    assert!(twice.is_empty(), "{twice:?}");
    // A value typed anew gets a source of its own.
    let press = |harness: &mut Harness<'_, Bench>, label: &str| {
        harness.get_by_label(label).click_accesskit();
        harness.run();
        harness.run();
    };
    press(&mut harness, "Source as the material: substance 1");
    let new = "own titration";
    type_into(&mut harness, "Source of substance 1", new);
    type_into(&mut harness, "Source of Preservation", new);
    press(&mut harness, "As the material: Effect on pH");
    let note_field = harness.get_by_role_and_label(egui::Role::MultilineTextInput, "Note");
    assert_eq!(note_field.accesskit_node().value(), Some(note));
    // The list stays open while one ticks, and the form gives back what it was given.
    let button = harness.get_by_role_and_label(egui::Role::Button, "Wetted with");
    button.click();
    harness.run();
    for medium in ["humectant", "oil"] {
        harness
            .get_by_role_and_label(egui::Role::CheckBox, medium)
            .click();
        harness.run();
    }
    harness.key_press(egui::Key::Escape);
    harness.run();
    chosen(&harness, "Wetted with", "Humectant, oil, alcohol");
    harness.get_by_label("Put on the shelf").click();
    harness.run();
    material
        .wet_with
        .extend([WettingMedium::Humectant, WettingMedium::Oil]);
    material.constituents[0].source = Some(Source::new(Basis::Supplier, new));
    if let Some(preservation) = &mut material.preservation {
        preservation.source = Source::new(Basis::Supplier, new);
    }
    if let Alkalinity::Unknown { source: own, .. } = &mut material.alkalinity {
        *own = Source::new(Basis::Supplier, "sheet of the balm");
    }
    let own = harness.state().state().makers_shelf().own();
    assert_eq!(own.materials.get(&id).map(AsRef::as_ref), Some(&material));
}
