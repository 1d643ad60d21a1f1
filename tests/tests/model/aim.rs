//! Aim, against answers from outside: programmes solved by other solvers, ranges
//! from declared orders, and blending problems of textbooks.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot read its own cases shall fail"
)]

use formulation::evaluation::Context;
use formulation::formula::{Date, Formula, ItemId, Line};
use formulation::material::{Class, Constituent, Material, MaterialId};
use formulation::optimise::programme::{LinearDemand, Outcome, Programme};
use formulation::optimise::{linear, quadratic};
use formulation::quantity::{MassFraction, Percent, Spread};
use formulation::solve::aim::{Aim, Answer, Preference, Prepared};
use formulation::solve::deduce::{self, Facts};
use formulation::solve::subject::Supply;
use serde_json::Value;

/// Answers of HiGHS and Clarabel; sources at the head of the file.
const PROGRAMMES: &str = include_str!("../../reference/programmes.json");
/// Largest relative difference of an objective.
const OBJECTIVE: f64 = 1e-6;
/// Largest difference of a range's end, percentage points.
const RANGE: f64 = 1e-4;

fn cases(kind: &str) -> Vec<Value> {
    let all: Value = serde_json::from_str(PROGRAMMES).unwrap();
    all[kind].as_array().unwrap().clone()
}

fn numbers(value: &Value) -> Vec<f64> {
    let list = value.as_array().unwrap();
    list.iter().map(|v| v.as_f64().unwrap()).collect()
}

fn by_place(value: &Value) -> Vec<(usize, f64)> {
    let map = value.as_object().unwrap();
    map.iter()
        .map(|(k, v)| (k.parse().unwrap(), v.as_f64().unwrap()))
        .collect()
}

fn programme(case: &Value) -> Programme {
    let mut programme = Programme::new();
    for bound in case["bounds"].as_array().unwrap() {
        let bound = numbers(bound);
        programme.unknown(bound[0], bound[1]);
    }
    let all = (0..programme.len()).map(|i| (i, 1.0)).collect();
    programme.rows.push(LinearDemand::equal(all, 100.0));
    for demand in case["demands"].as_array().unwrap() {
        programme.rows.push(LinearDemand {
            terms: by_place(&demand["of"]),
            low: demand["from"].as_f64().unwrap_or(f64::NEG_INFINITY),
            high: demand["to"].as_f64().unwrap_or(f64::INFINITY),
        });
    }
    programme
}

fn check_objective(case: &Value, programme: &Programme, outcome: Outcome) {
    let id = &case["id"];
    let Some(best) = case["best"].as_f64() else {
        assert_eq!(outcome, Outcome::Infeasible, "{id}");
        return;
    };
    let Outcome::Solved(point) = outcome else {
        panic!("{id}: {}", outcome.label());
    };
    let off = (point.objective - best).abs() / best.abs().max(1e-9);
    assert!(off < OBJECTIVE, "{id}: {} for {best}", point.objective);
    assert!(programme.excess(&point.x) < 1e-6, "{id}");
}

#[test]
fn the_least_cost_agrees_with_another_solver() {
    for case in cases("least") {
        let programme = programme(&case);
        let outcome = linear::minimise(&programme, &numbers(&case["price"]));
        check_objective(&case, &programme, outcome);
    }
}

#[test]
fn the_nearest_composition_agrees_with_another_solver() {
    for case in cases("nearest") {
        let programme = programme(&case);
        let (start, weight) = (numbers(&case["start"]), numbers(&case["weight"]));
        let outcome = quadratic::nearest(&programme, &start, &weight, &[]);
        if let Outcome::Solved(point) = &outcome {
            for (x, at) in point.x.iter().zip(numbers(&case["at"])) {
                assert!((x - at).abs() < 1e-4, "{}: {x} for {at}", case["id"]);
            }
        }
        check_objective(&case, &programme, outcome);
    }
}

#[test]
fn the_nearest_composition_is_refused_where_there_is_none() {
    for case in cases("least").iter().filter(|c| c["best"].is_null()) {
        let programme = programme(case);
        let n = programme.len();
        let outcome =
            quadratic::nearest(&programme, &vec![100.0 / n as f64; n], &vec![1.0; n], &[]);
        assert_eq!(outcome, Outcome::Infeasible, "{}", case["id"]);
    }
}

fn facts(case: &Value) -> Facts {
    Facts {
        line: Some(case["line"].as_u64().unwrap() as usize),
        ordered_below: case["ordered_below"].as_bool().unwrap(),
        known: by_place(&case["exact"]).into_iter().collect(),
        most: by_place(&case["most"]).into_iter().collect(),
        ..Facts::default()
    }
}

#[test]
fn ranges_of_a_declared_order_agree_with_another_solver() {
    for case in cases("ranges") {
        let n = case["count"].as_u64().unwrap() as usize;
        let facts = facts(&case);
        let ranges = deduce::ranges(n, &facts).unwrap();
        for (got, expected) in [(&ranges.low, "low"), (&ranges.high, "high")] {
            for (i, (got, end)) in got.iter().zip(numbers(&case[expected])).enumerate() {
                let id = &case["id"];
                assert!(
                    (got - end).abs() < RANGE,
                    "{id} {expected} {i}: {got} for {end}"
                );
            }
        }
        // The estimate is a composition that fits the order and the facts.
        let centre = deduce::centre(n, &facts).unwrap();
        assert!((centre.percent.iter().sum::<f64>() - 100.0).abs() < 1e-5);
        for (i, x) in centre.percent.iter().enumerate() {
            assert!(ranges.low[i] - RANGE < *x && *x < ranges.high[i] + RANGE);
        }
    }
}

/// Blending problems of textbooks; each names its source.
const BLENDING: &str = include_str!("../../reference/blending.json");

/// Each problem goes the whole way: materials with constituents, targets in words, the
/// least cost, steps of 0.01 %.
#[test]
fn textbook_blends_come_out_as_published() {
    let all: Value = serde_json::from_str(BLENDING).unwrap();
    for problem in all["problems"].as_array().unwrap() {
        let name = problem["name"].as_str().unwrap();
        let (formula, supply) = blend(problem);
        let context = Context::new(Date::constant(2026, 1, 15));
        let prepared = Prepared::new(&formula, formula.active(), &context, &supply, &[]);
        let demands = problem["demands"].as_array().unwrap();
        let targets = demands.iter().map(|t| t.as_str().unwrap().parse().unwrap());
        let mut aim = Aim::new(targets.collect());
        aim.prefer = Preference::Cost;
        let Answer::Proposal(proposal) = prepared.answer(&aim).unwrap() else {
            panic!("{name}: the demands go together");
        };
        assert!(proposal.all_hold(), "{name}: {:?}", proposal.targets);
        assert_eq!(proposal.variant.total(), Percent::HUNDRED, "{name}");
        let rounded = problem["rounded_to"].as_f64().unwrap();
        let answer = problem["answer"].as_object().unwrap();
        for line in &proposal.lines {
            let published = answer.get(&line.name).map_or(0.0, |v| v.as_f64().unwrap());
            let off = (line.after.as_percent() - published).abs();
            // Half of the last digit printed, and a step.
            assert!(
                off <= rounded + 0.011,
                "{name}, {}: {} for {published}",
                line.name,
                line.after
            );
        }
        if let Some(cost) = problem["cost"].as_f64() {
            let off = (proposal.objective - cost).abs();
            assert!(off < 1e-4, "{name}: {} for {cost}", proposal.objective);
        }
    }
}

/// The ingredients of a problem as a formula, to begin with in equal parts.
fn blend(problem: &Value) -> (Formula, Supply) {
    let mut formula = Formula::new(problem["name"].as_str().unwrap());
    let mut variant = formula.active().as_ref().clone();
    let mut phase = variant.phases[0].as_ref().clone();
    let mut supply = Supply::default();
    let ingredients = problem["ingredients"].as_array().unwrap();
    let mut rest = Percent::HUNDRED;
    for (k, ingredient) in ingredients.iter().enumerate() {
        let name = ingredient["name"].as_str().unwrap();
        let id = MaterialId::from_name(name);
        let mut material = Material::unknown(id.clone(), name);
        for (inci, share) in ingredient["holds"].as_object().unwrap() {
            material.constituents.push(Constituent {
                inci: inci.as_str().into(),
                cas: None,
                share: Spread::exact(MassFraction::from_percent(share.as_f64().unwrap())),
                class: Class::Other,
                incidental: None,
                source: None,
            });
        }
        formula.materials.insert(id.clone(), material.into());
        let price = ingredient["price"].as_f64().unwrap();
        supply.price_per_kg.insert(id.clone(), price);
        let percent = if k + 1 == ingredients.len() {
            rest
        } else {
            Percent::from_units(100 * Percent::UNITS / ingredients.len() as i64)
        };
        rest -= percent;
        phase.lines.push(Line {
            id: ItemId(formula.take_id()),
            material: id,
            percent,
            why: "".into(),
            held: false,
            min: None,
            max: None,
            purpose: None,
        });
    }
    variant.phases = vec![phase.into()];
    formula.variants = vec![variant.into()];
    (formula, supply)
}

mod command {
    //! `phasewright aim` on the terminal.

    use clap::Parser as _;
    use phasewright::cli::Cli;
    use phasewright::headless;

    /// Exit code and output of a command.
    fn run(arguments: &[&str]) -> (u8, String) {
        let arguments = ["phasewright", "aim"].iter().chain(arguments);
        let cli = Cli::try_parse_from(arguments).unwrap();
        let mut out = Vec::new();
        match headless::run_to(&cli.command.unwrap(), &mut out) {
            Ok(code) => (code, String::from_utf8(out).unwrap()),
            Err(failure) => (headless::UNUSABLE, failure.0),
        }
    }

    fn example() -> String {
        let root = concat!(env!("CARGO_MANIFEST_DIR"), "/../examples");
        format!("{root}/oat-and-juniper-shower-gel.formula.ron")
    }

    #[test]
    fn a_proposal_is_printed_as_json_and_written_as_a_file() {
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("aimed.formula.ron");
        let out = out.to_str().unwrap();
        let (code, text) = run(&[&example(), "--target", "active >= 12", "--json", "-o", out]);
        assert_eq!(code, 0, "{text}");
        let json: serde_json::Value = serde_json::from_str(&text).unwrap();
        assert_eq!(json["status"], "reached");
        let proposal = &json["proposal"];
        assert_eq!(proposal["total_percent"], 100.0);
        assert!(proposal["targets"][0]["after"].as_f64().unwrap() >= 12.0 - 1e-6);
        let again = headless::open(out).unwrap();
        let active = again.evaluate().composition.active_total().typical;
        assert!(active.as_percent() >= 12.0 - 1e-6);
    }

    /// Lines and materials are named as people name them.
    #[test]
    fn plain_names_are_understood() {
        let target = "line cocamidopropyl betaine <= 10";
        let price = ["--price", "glycerin=3"];
        let (code, text) = run(&[&example(), "--target", target, price[0], price[1]]);
        assert_eq!(code, 0, "{text}");
        let (code, text) = run(&[&example(), "--suggest", "decyl glucoside"]);
        assert_eq!(code, 0, "{text}");
    }

    #[test]
    fn collisions_and_bad_input_have_their_exit_codes() {
        let (code, text) = run(&[
            &example(),
            "--target",
            "active >= 30",
            "--target",
            "water >= 80",
        ]);
        assert_eq!(code, 1);
        assert!(text.contains("does not go together with"), "{text}");
        for (arguments, words) in [
            (["--target", "active 14"], "says no relation"),
            (
                ["--target", "moonwort >= 1"],
                "no ingredient and no line named",
            ),
            (["--prefer", "luck"], "is no preference"),
            (["--without", "EU X/1"], "no limit of the rule"),
            (["--suggest", "moonwort"], "does not use “moonwort”"),
            (["--suggest", "solution"], "may be any of these"),
            (["--target", "line solution <= 5"], "may be any of"),
        ] {
            let (code, text) = run(&[&example(), arguments[0], arguments[1]]);
            assert_eq!(code, 2, "{arguments:?}");
            assert!(text.contains(words), "{arguments:?}: {text}");
        }
    }

    #[test]
    fn a_list_gives_low_high_and_centre() {
        let folder = tempfile::tempdir().unwrap();
        let list = folder.path().join("list.txt");
        std::fs::write(
            &list,
            "Ingredients: Aqua, Glycerin, Xanthan Gum, Phenoxyethanol",
        )
        .unwrap();
        let list = list.to_str().unwrap();
        let (code, text) = run(&[
            "--from-list",
            list,
            "--fact",
            "line after glycerin",
            "--json",
        ]);
        assert_eq!(code, 0, "{text}");
        let json: serde_json::Value = serde_json::from_str(&text).unwrap();
        let ingredients = json["ingredients"].as_array().unwrap();
        assert_eq!(ingredients.len(), 4);
        for i in ingredients {
            let [low, centre, high] = ["low", "centre", "high"].map(|k| i[k].as_f64().unwrap());
            assert!(low <= centre + 1e-6 && centre <= high + 1e-6, "{i}");
        }
        // Two at 1 % and more, two at 1 % and less.
        assert!((ingredients[0]["high"].as_f64().unwrap() - 99.0).abs() < 1e-6);
        assert!((ingredients[0]["low"].as_f64().unwrap() - 49.0).abs() < 1e-6);
    }

    #[test]
    fn a_single_limit_is_switched_off_as_it_is_listed() {
        let (_, listed) = run(&[&example(), "--limits"]);
        let limit = listed.lines().next().unwrap();
        let (code, text) = run(&[&example(), "--without", limit, "--json"]);
        assert_eq!(code, 0, "{text}");
        let json: serde_json::Value = serde_json::from_str(&text).unwrap();
        let limits = json["proposal"]["limits"].as_array().unwrap();
        assert_eq!(limits.iter().filter(|l| l["off"] == true).count(), 1);
    }

    /// A stock file gives prices and what is left; single figures count before it.
    #[test]
    fn prices_and_stock_come_from_a_stock_file() {
        let folder = tempfile::tempdir().unwrap();
        let recipe = folder.path().join("tonic.csv");
        let lines = "A,Water,q.s.\nA,Glycerin 99.5 %,3\nA,Propanediol,2\n";
        std::fs::write(&recipe, format!("phase,material,percent\n{lines}")).unwrap();
        let lot = |lot: &str, material: &str, pack: &str, price: &str| {
            format!(
                "(lot: \"{lot}\", material: \"{material}\", received: \"2026-03-04\", pack: \"{pack}\", \
                 packs: 1, price_per_pack: \"{price}\", currency: \"EUR\"),"
            )
        };
        let lots = [
            lot("W1", "Water, demineralised", "10 kg", "1.00"),
            lot("G1", "Glycerin 99.5 %", "20 g", "0.08"),
        ];
        let stock = folder.path().join("stock.ron");
        let head = "format: \"phasewright stock\", version: 1, currency: \"EUR\"";
        std::fs::write(&stock, format!("({head}, lots: [{}])", lots.concat())).unwrap();
        let (recipe, stock) = (recipe.to_str().unwrap(), stock.to_str().unwrap());
        let json = |more: &[&str]| -> serde_json::Value {
            let all = [&[recipe, "--stock", stock, "--json"], more].concat();
            serde_json::from_str(&run(&all).1).unwrap()
        };
        // By hand: 0.95 × 0.10 + 0.03 × 4 + 0.02 × 10 = 0.415 for a kilogram.
        let cost = ["--price", "Propanediol=10", "--target", "cost <= 1"];
        let before = json(&cost)["proposal"]["targets"][0]["before"].clone();
        assert!((before.as_f64().unwrap() - 0.415).abs() < 1e-9, "{before}");
        // 20 g of glycerin in a kilogram are 2 %; of propanediol there is no lot.
        let batch = json(&["--batch", "1000", "--target", "water >= 90"]);
        let after = |k: usize| batch["proposal"]["lines"][k]["after"].as_f64().unwrap();
        assert!(
            (after(1) - 2.0).abs() < 1e-9 && after(2).abs() < 1e-9,
            "{batch}"
        );
        // A price that is missing is named, with the option that gives it.
        let (code, text) = run(&[recipe, "--stock", stock, "--target", "cost <= 1"]);
        assert_eq!(code, 2);
        assert!(
            text.contains("for Propanediol") && text.contains("--price"),
            "{text}"
        );
    }

    #[test]
    fn a_list_in_an_older_encoding_is_read_and_its_faults_are_told() {
        let folder = tempfile::tempdir().unwrap();
        let list = folder.path().join("list.txt");
        std::fs::write(&list, b"Ingr\xe9dients: Eau, Glycerin <5 %, Parfum").unwrap();
        let list = list.to_str().unwrap();
        let (code, text) = run(&["--from-list", list, "--json"]);
        assert_eq!(code, 0, "{text}");
        let json: serde_json::Value = serde_json::from_str(&text).unwrap();
        assert_eq!(json["ingredients"][0]["inci"], "Aqua");
        assert!((json["ingredients"][1]["high"].as_f64().unwrap() - 5.0).abs() < 1e-6);
        let (code, text) = run(&["--from-list", list, "--fact", "parfum = 7"]);
        assert_eq!(code, 2);
        assert!(text.contains("“exactly 7 % parfum”"), "{text}");
        let (code, text) = run(&["--from-list", "nowhere.txt"]);
        assert_eq!(code, 2);
        assert!(text.contains("no such file"), "{text}");
    }

    #[test]
    fn a_line_is_found_by_the_ingredient_that_it_alone_brings_in() {
        let (code, text) = run(&[&example(), "--suggest", "cocamidopropyl betaine"]);
        assert_eq!(code, 0, "{text}");
        assert!(text.contains("betaine"), "{text}");
    }

    #[test]
    fn a_sweep_is_json_too() {
        let sweep = "Glycerin 99.5 %=1..5/5";
        let (code, text) = run(&[
            &example(),
            "--sweep",
            sweep,
            "--target",
            "humectant",
            "--json",
        ]);
        assert_eq!(code, 0, "{text}");
        let json: serde_json::Value = serde_json::from_str(&text).unwrap();
        assert_eq!(json["points"].as_array().unwrap().len(), 5);
        assert_eq!(json["points"][4]["at"][0], 5.0);
        assert_eq!(json["quantities"][0], "humectant");
    }

    #[test]
    fn a_sweep_is_a_table() {
        let (code, text) = run(&[
            &example(),
            "--sweep",
            "Glycerin 99.5 %=1..5/5",
            "--target",
            "humectant",
        ]);
        assert_eq!(code, 0, "{text}");
        assert_eq!(text.lines().count(), 6, "{text}");
    }
}

mod window {
    //! The Aim sheet, driven through the accessibility tree.

    use acceptance::window::{Look, bench, picture, shower_gel, state};
    use egui::Key;
    use egui_kittest::kittest::{NodeT as _, Queryable as _};
    use formulation::quantity::Percent;
    use formulation::shelf::built_in;

    type Window = egui_kittest::Harness<'static, phasewright::app::Bench>;

    fn aim_sheet(look: Look) -> Window {
        let mut harness = bench(look, state(built_in().clone(), shower_gel(false)));
        harness
            .get_by_role_and_label(egui::Role::Tab, "Aim")
            .click();
        harness.run();
        harness
    }

    fn type_into(harness: &mut Window, label: &str, text: &str) {
        let field = harness.get_by_role_and_label(egui::Role::TextInput, label);
        field.focus();
        harness.run();
        harness
            .get_by_role_and_label(egui::Role::TextInput, label)
            .type_text(text);
        harness.run();
        harness.key_press(Key::Enter);
        harness.run();
        harness.run();
    }

    #[test]
    fn a_target_that_cannot_be_read_stays_to_be_mended() {
        let mut harness = aim_sheet(Look::SMALL);
        type_into(&mut harness, "Add a target", "active 14");
        assert!(
            harness
                .query_by_label_contains("says no relation")
                .is_some()
        );
        let field = harness.get_by_role_and_label(egui::Role::TextInput, "Add a target");
        assert!(field.is_focused());
        assert_eq!(field.accesskit_node().value().as_deref(), Some("active 14"));
    }

    #[test]
    fn a_typed_target_is_proposed_taken_over_and_undone() {
        let mut harness = aim_sheet(Look::SMALL);
        type_into(&mut harness, "Add a target", "active >= 14");
        type_into(&mut harness, "Add a target", "salt <= 2");
        picture(&mut harness, "aim-small");
        harness.get_by_label("Take over").click();
        harness.run();
        let active = |harness: &Window| {
            let state = harness.state().state();
            let document = state.current();
            let evaluation = state.evaluation(document, document.variant().id);
            (
                evaluation.composition.active_total().typical.as_percent(),
                document.variant().total(),
            )
        };
        let (reached, total) = active(&harness);
        assert!(reached >= 14.0 - 1e-6, "{reached}");
        assert_eq!(total, Percent::HUNDRED);
        harness.key_press_modifiers(egui::Modifiers::COMMAND, Key::Z);
        harness.run();
        assert!(active(&harness).0 < 14.0);
    }

    #[test]
    fn a_collision_is_shown_with_its_figures() {
        let mut harness = aim_sheet(Look::USUAL.dark());
        for target in ["active >= 30", "water >= 70"] {
            type_into(&mut harness, "Add a target", target);
        }
        assert!(
            harness
                .query_all_by_label_contains("does not go together with")
                .next()
                .is_some()
        );
        harness
            .get_all_by_label_contains("Nearest if it gives way: ")
            .next()
            .unwrap()
            .click();
        harness.run();
        picture(&mut harness, "aim-collision-dark");
    }

    fn choose(harness: &mut Window, combo: &str, entry: &str) {
        harness
            .get_by_role_and_label(egui::Role::ComboBox, combo)
            .click();
        harness.run();
        // The page has a button for each line as well, which says what it does.
        let is = |node: &egui_kittest::Node<'_>| {
            let label = node.accesskit_node().label();
            label.is_some_and(|label| label.starts_with(entry))
        };
        {
            let mut entries = harness.get_all_by_label_contains(entry);
            entries.rfind(is).unwrap().click();
        }
        harness.run();
    }

    #[test]
    fn a_line_is_swapped_at_equal_active_matter() {
        let mut harness = aim_sheet(Look::SMALL);
        harness.get_by_label("Swap").click();
        harness.run();
        choose(
            &mut harness,
            "Line to replace",
            "Cocamidopropyl betaine solution",
        );
        // The first suggestion stands below the search box.
        let first = harness.get_all_by_label_contains(" at ").next().unwrap();
        first.click();
        harness.run();
        picture(&mut harness, "aim-swap");
        let before = harness.state().state().current().variant().clone();
        harness.get_by_label("Take over").click();
        harness.run();
        let after = harness.state().state().current().variant().clone();
        assert_ne!(before.phases, after.phases);
        assert_eq!(after.total(), Percent::HUNDRED);
    }

    /// Lets work beside the window end.
    fn wait(harness: &mut Window, label: &str) {
        for _ in 0..6000 {
            harness.step();
            if harness.query_all_by_label_contains(label).next().is_some() {
                return;
            }
            std::thread::sleep(std::time::Duration::from_millis(10));
        }
        panic!("“{label}” did not appear");
    }

    #[test]
    fn a_sweep_is_drawn_over_one_line_and_over_two() {
        let mut harness = aim_sheet(Look::SMALL);
        harness.get_by_label("Sweep").click();
        harness.run();
        choose(&mut harness, "Line to move", "Sodium laureth sulfate");
        harness.get_by_label("Work out").click();
        wait(&mut harness, "Click a point");
        harness.run();
        picture(&mut harness, "aim-sweep");
        harness
            .get_by_label("Move a second line and draw a map")
            .click();
        harness.run();
        choose(
            &mut harness,
            "Second line to move",
            "Cocamidopropyl betaine",
        );
        harness.get_by_label("Work out").click();
        wait(&mut harness, "a cross marks a breach");
        harness.run();
        picture(&mut harness, "aim-map");
        let map = harness.get_by_label_contains("Map of ").rect().center();
        harness.hover_at(map);
        harness.drag_at(map);
        harness.drop_at(map);
        harness.run();
        picture(&mut harness, "aim-map-picked");
        harness.get_by_label("Take over").click();
        harness.run();
        assert_eq!(
            harness.state().state().current().variant().total(),
            Percent::HUNDRED
        );
    }

    #[test]
    fn a_pasted_list_gives_ranges_and_materials() {
        let mut harness = aim_sheet(Look::USUAL);
        harness.get_by_label("From a list").click();
        harness.run();
        let field =
            harness.get_by_role_and_label(egui::Role::MultilineTextInput, "Ingredient list");
        field.focus();
        harness.run();
        harness
            .get_by_role_and_label(egui::Role::MultilineTextInput, "Ingredient list")
            .type_text("Aqua, Sodium Laureth Sulfate, Cocamidopropyl Betaine, Glycerin, Sodium Chloride, Phenoxyethanol, Ethylhexylglycerin, Parfum, Citric Acid");
        wait(&mut harness, "What would narrow");
        type_into(&mut harness, "Add a fact", "line after Sodium Chloride");
        wait(&mut harness, "Take over");
        harness.run();
        picture(&mut harness, "aim-list");
    }
}
