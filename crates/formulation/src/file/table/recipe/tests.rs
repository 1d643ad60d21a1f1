use super::super::accept::Accepted;
use super::*;
use crate::formula::Formula;
use crate::material::{Basis, Class, Material, PhaseKind, ProductKind, Source};
use crate::quantity::{self, Percent, in_celsius, in_grams};
use crate::shelf::Shelf;
use std::sync::Arc;

fn shelf() -> Shelf {
    let pure = |name: &str, inci: &str, phase: PhaseKind| {
        let mut m = Material::pure(MaterialId::from_name(name), name, inci, None, Class::Other);
        m.phase = Some(phase);
        m
    };
    let mut glycerin = pure("Glycerin", "Glycerin", PhaseKind::Water);
    glycerin.density = Some(crate::material::Sourced::new(
        quantity::kg_per_m3(1260.0),
        Source::new(Basis::Typical, ""),
    ));
    [
        pure("Purified water", "Aqua", PhaseKind::Water),
        glycerin,
        pure(
            "Sunflower oil",
            "Helianthus Annuus Seed Oil",
            PhaseKind::Oil,
        ),
        pure("Citric acid", "Citric Acid", PhaseKind::Adjust),
    ]
    .into_iter()
    .map(Arc::new)
    .collect()
}

fn read(text: &str, settings: &RecipeSettings) -> Result<(RecipeProposal, Accepted), RecipeError> {
    let shelf = shelf();
    let matcher = Resolver::new(&shelf);
    let table = super::super::read_text(text).unwrap().remove(0);
    let proposal = propose(&table, "Test", settings, &matcher)?;
    let accepted = proposal.accept(&matcher)?;
    Ok((proposal, accepted))
}

fn check(text: &str, expected: &[(&str, &str, &str)]) -> (RecipeProposal, Accepted) {
    let (proposal, accepted) = read(text, &RecipeSettings::default()).unwrap();
    let variant = accepted.formula.active();
    let got: Vec<(String, String, String)> = variant
        .lines()
        .map(|(p, l)| {
            (
                p.letter.to_string(),
                l.material.to_string(),
                l.percent.to_string(),
            )
        })
        .collect();
    let got: Vec<(&str, &str, &str)> = got
        .iter()
        .map(|(a, b, c)| (a.as_str(), b.as_str(), c.as_str()))
        .collect();
    assert_eq!(got, expected, "for\n{text}");
    (proposal, accepted)
}

#[test]
fn a_plain_recipe_in_percent() {
    let (_, accepted) = check(
        "Phase,Ingredient,%\nA,Water,70\nA,Glycerine,5\nB,Sunflower oil,25\n",
        &[
            ("A", "purified-water", "70"),
            ("A", "glycerin", "5"),
            ("B", "sunflower-oil", "25"),
        ],
    );
    assert_eq!(accepted.formula.active().total(), Percent::HUNDRED);
    assert_eq!(accepted.formula.active().phases[1].kind, PhaseKind::Oil);
    assert!(accepted.new_materials.is_empty());
    assert_eq!(accepted.formula.materials.len(), 3);
}

#[test]
fn qs_fills_to_the_whole() {
    for qs in [
        "q.s.",
        "qs 100",
        "ad 100 %",
        "to 100",
        "q.s. ad 100",
        "Rest",
        "QSP 100",
        "q.b. a 100",
    ] {
        let (_, accepted) = check(
            &format!("Phase;Rohstoff;Menge in %\nA;Wasser;{qs}\nA;Glycerin;5,5\n"),
            &[("A", "purified-water", "94.5"), ("A", "glycerin", "5.5")],
        );
        let variant = accepted.formula.active();
        assert_eq!(variant.filler, variant.lines().next().map(|(_, l)| l.id));
    }
}

#[test]
fn qs_for_an_effect_is_not_the_filler() {
    let (proposal, _) = check(
        "Ingredient\t%\nWater\tq.s. to 100\nGlycerin\t5\nCitric acid\tq.s. to pH 5.5\n",
        &[
            ("A", "purified-water", "95"),
            ("A", "glycerin", "5"),
            ("A", "citric-acid", "0"),
        ],
    );
    assert!(
        proposal
            .assumptions()
            .iter()
            .any(|n| n.contains("enters at 0 %"))
    );
}

#[test]
fn phases_come_from_headings() {
    let (_, accepted) = check(
        "Ingredient\t%\nPhase A (75 °C)\t\nWater\t70\nGlycerin\t5\nOil phase\t\nSunflower oil\t25\nTotal\t100\nMethod\t\nHeat phase A to 75 °C and stir.\t\n",
        &[
            ("A", "purified-water", "70"),
            ("A", "glycerin", "5"),
            ("B", "sunflower-oil", "25"),
        ],
    );
    let phases = &accepted.formula.active().phases;
    assert!((in_celsius(phases[0].temperature.unwrap()) - 75.0).abs() < 1e-9);
    assert_eq!(phases[1].kind, PhaseKind::Oil);
    assert_eq!(phases[1].purpose.as_ref(), "Oil phase");
    let steps: Vec<&str> = phases
        .iter()
        .flat_map(|p| &p.steps)
        .map(|s| s.text.as_ref())
        .collect();
    assert_eq!(steps, ["Heat phase A to 75 °C and stir."]);
    assert_eq!(phases[0].steps.len(), 1);
}

#[test]
fn grams_become_percent_and_the_batch_is_kept() {
    let (_, accepted) = check(
        "Zutat;Menge (g)\nWasser gereinigt;350\nGlycerin;100\nSunflower oil;50\n",
        &[
            ("A", "wasser-gereinigt", "70"),
            ("A", "glycerin", "20"),
            ("A", "sunflower-oil", "10"),
        ],
    );
    assert!((in_grams(accepted.formula.active().batch) - 500.0).abs() < 1e-9);
    assert_eq!(accepted.new_materials.len(), 1);
    // Thirds cannot be exact; the total is all the same.
    let (_, accepted) = check(
        "Zutat;g\nWater;1\nGlycerin;1\nSunflower oil;1\n",
        &[
            ("A", "purified-water", "33.333334"),
            ("A", "glycerin", "33.333333"),
            ("A", "sunflower-oil", "33.333333"),
        ],
    );
    assert_eq!(accepted.formula.active().total(), Percent::HUNDRED);
}

#[test]
fn units_and_volumes_are_converted() {
    // 10 ml of glycerin at 1.26 g/ml are 12.6 g.
    check(
        "Ingredient,Amount,Unit\nWater,0.0874,kg\nGlycerin,10,ml\n",
        &[("A", "purified-water", "87.4"), ("A", "glycerin", "12.6")],
    );
    let (proposal, _) = check(
        "Ingredient,Amount\nWater,90 g\nSunflower oil,10 ml\n",
        &[("A", "purified-water", "90"), ("A", "sunflower-oil", "10")],
    );
    assert!(proposal.lines[1].doubts[0].contains("1 g/ml"));
}

#[test]
fn totals_are_reconciled_as_chosen() {
    let text = "Ingredient,%\nWater,70\nGlycerin,20\n";
    let with = |reconcile| {
        let settings = RecipeSettings {
            reconcile,
            ..RecipeSettings::default()
        };
        let (_, accepted) = read(text, &settings).unwrap();
        accepted
            .formula
            .active()
            .lines()
            .map(|(_, l)| l.percent.to_string())
            .collect::<Vec<_>>()
    };
    assert_eq!(with(Reconcile::AsWritten), ["70", "20"]);
    assert_eq!(with(Reconcile::Water), ["80", "20"]);
    assert_eq!(with(Reconcile::Scale), ["77.777778", "22.222222"]);
    let (proposal, _) = read(text, &RecipeSettings::default()).unwrap();
    assert!(proposal.assumed.iter().any(|n| n.contains("90 %, not 100")));
}

#[test]
fn sums_of_phases_are_no_lines() {
    let (proposal, _) = check(
        "Ingredient\t%\nPHASE A\t\nWater\t70\nGlycerin\t5\nSubtotal\t75\nCool down below 40°C\t\nSunflower oil\t25\nSum of phase B\t25\nGrand total\t100\n",
        &[
            ("A", "purified-water", "70"),
            ("A", "glycerin", "5"),
            ("B", "sunflower-oil", "25"),
        ],
    );
    assert_eq!(proposal.phases[1].kind, Some(PhaseKind::CoolDown));
    assert_eq!(proposal.stated_total, Some(Decimal::ONE_HUNDRED));
    assert_eq!(proposal.notes, Vec::<String>::new());
}

#[test]
fn every_row_ends_somewhere() {
    let text = "Moss gel\t\nIngredient\t%\nPhase A\t\nWater\tq.s.\nOdd stuff\tsome\nGlycerin\t5\nTotal\t100\nMethod\t\nStir.\t\n";
    let (proposal, _) = read(text, &RecipeSettings::default()).unwrap();
    let counts = proposal.counts();
    assert_eq!(counts.words(), "9 rows: 2 taken, 1 asked, 6 left out.");
    assert_eq!(counts.lost_words(), None);
    assert!(proposal.lines[1].doubts[0].contains("“some”"));
    assert!(proposal.left_out.iter().all(|l| !l.reason.is_empty()));
}

#[test]
fn a_qs_that_is_not_water_fills_up_only_if_said() {
    let text = "Ingredient,%\nWater,95\nCitric acid,q.s.\n";
    let (proposal, accepted) = read(text, &RecipeSettings::default()).unwrap();
    assert!(proposal.lines[1].is_doubtful());
    assert_eq!(accepted.formula.active().filler, None);
    let said = RecipeSettings {
        fillers: vec![3],
        ..RecipeSettings::default()
    };
    let (_, accepted) = read(text, &said).unwrap();
    assert_eq!(accepted.formula.active().total(), Percent::HUNDRED);
    assert!(accepted.formula.active().filler.is_some());
}

#[test]
fn what_the_product_is_is_kept() {
    let text = "# kind: leave-on\n# market: EU, US\n# type: foot-care\n# under three: yes\n# target ph: 5.2\n# batch: 250 g\n# phase A: water phase; 75 °C; the water\n# step A: Heat | 75 °C | 10 min\nphase,material,percent\nA,Purified water,q.s.\nA,Glycerin,5\n";
    let (proposal, accepted) = read(text, &RecipeSettings::default()).unwrap();
    assert_eq!(proposal.assumptions(), Vec::<String>::new());
    let variant = accepted.formula.active();
    assert_eq!(variant.product.kinds, ProductKind::LeaveOn.into());
    assert_eq!(variant.product.markets.len(), 2);
    assert!(variant.product.under_three && variant.target_ph.is_some());
    assert!((in_grams(variant.batch) - 250.0).abs() < 1e-9);
    assert_eq!(variant.phases[0].steps.len(), 1);
    assert!((in_celsius(variant.phases[0].temperature.unwrap()) - 75.0).abs() < 1e-9);
    let (proposal, accepted) = read(
        "Moss hand balm,\nIngredient,%\nSunflower oil,100\n",
        &RecipeSettings::default(),
    )
    .unwrap();
    assert_eq!(
        accepted.formula.active().product.kinds,
        ProductKind::LeaveOn.into()
    );
    assert!(proposal.assumed[0].contains("leave-on"));
}

#[test]
fn the_batch_is_that_of_the_heading() {
    for text in [
        "Ingredient,g / 500 g\nWater,q.s.\nGlycerin,50\n",
        "Moss gel for 500 g,\nIngredient,Weight (g)\nWater,q.s. to 500\nGlycerin,50\n",
    ] {
        let (_, accepted) = check(
            text,
            &[("A", "purified-water", "90"), ("A", "glycerin", "10")],
        );
        assert!((in_grams(accepted.formula.active().batch) - 500.0).abs() < 1e-9);
    }
}

#[test]
fn columns_that_are_no_percentages_of_the_recipe() {
    for text in [
        "Item no;Raw material;Max. use %;%\nRM-01;Water;100;95\nRM-02;Glycerin;20;5\n",
        "Artikel-Nr.;Rohstoff;Aktivgehalt %;Anteil\n1001;Water;100;95\n1002;Glycerin;86;5\n",
        "Ingredient;Old %;New %\nWater;90;95\nGlycerin;10;5\n",
        "Nr;Składnik;Procent\n1;Water;95\n2;Glycerin;5\n",
    ] {
        let table = super::super::read_text(text).unwrap().remove(0);
        let shelf = shelf();
        let proposal = propose(
            &table,
            "x",
            &RecipeSettings::default(),
            &Resolver::new(&shelf),
        )
        .unwrap();
        let told: Vec<String> = proposal
            .lines
            .iter()
            .map(|l| format!("{} {}", l.quantity, l.wanted.name))
            .collect();
        assert_eq!(told, ["95 % Water", "5 % Glycerin"], "{text}");
    }
}

#[test]
fn text_of_every_shape_is_a_recipe() {
    let expected = [
        ("A", "purified-water", "70"),
        ("A", "glycerin", "5"),
        ("B", "sunflower-oil", "25"),
    ];
    for text in [
        "Phase A: 70 % water, 5 % glycerin\nPhase B: 25 % sunflower oil\n",
        "Phase A\n- 70 % water\n- 5 % glycerin\nPhase B\n- 25 % sunflower oil\n",
        "Phase A\nWater 70,0 %\nGlycerin 5,0 %\nPhase B\nSunflower oil 25,0 %\n",
        "| Phase | Ingredient | % |\n|---|:--|--:|\n| A | Water | 70 |\n| A | Glycerin | 5 |\n| B | Sunflower oil | 25 |\n",
        "Phase  Ingredient       %\nA      Water          70.0\nA      Glycerin        5.0\nB      Sunflower oil  25.0\n",
        "<ul><li>Phase A</li><li>70 % water</li><li>5 % glycerin</li><li>Phase B</li><li>25 % sunflower oil</li></ul>",
        "Ingredient;%\nPhase A;75\nWater;70\nGlycerin;5\nPhase B;25\nSunflower oil;25\n",
        "Phase A;\nIngredient;%\nWater;70\nGlycerin;5\nPhase B;\nIngredient;%\nSunflower oil;25\npH;5.5\nViscosity;12000\n",
    ] {
        check(text, &expected);
    }
}

#[test]
fn amounts_without_a_unit_are_parts() {
    let (proposal, accepted) = check(
        "Ingredient\tParts\nWater\t3\nGlycerin\t1\n",
        &[("A", "purified-water", "75"), ("A", "glycerin", "25")],
    );
    assert!(proposal.notes.iter().any(|n| n.contains("no unit")));
    let usual = Formula::new("x").active().batch;
    assert_eq!(accepted.formula.active().batch, usual);
}

#[test]
fn amounts_that_do_not_fit_the_percentages_are_named() {
    let (proposal, _) = check(
        "Ingredient,%,g\nWater,70.0,350.00\nGlycerin,20,100\nSunflower oil,10,55\n",
        &[
            ("A", "purified-water", "70"),
            ("A", "glycerin", "20"),
            ("A", "sunflower-oil", "10"),
        ],
    );
    assert_eq!(
        proposal.lines[2].doubts,
        [
            "55 g does not fit 10 %, which would be 50 g as in the other rows; the percentage was taken"
        ]
    );
    // A third of a batch, rounded in both columns, fits.
    let (proposal, _) = check(
        "Ingredient,%,g\nWater,33.3,83\nGlycerin,33.3,83\nSunflower oil,33.4,84\n",
        &[
            ("A", "purified-water", "33.3"),
            ("A", "glycerin", "33.3"),
            ("A", "sunflower-oil", "33.4"),
        ],
    );
    assert_eq!(proposal.notes, Vec::<String>::new());
}

#[test]
fn a_stated_total_in_grams_is_checked() {
    let (proposal, _) = check(
        "Ingredient,Weight (g)\nWater,60\nGlycerin,20\nTotal,100\n",
        &[("A", "purified-water", "75"), ("A", "glycerin", "25")],
    );
    let told = "the table states a total of 100 g, but its lines add up to 80 g; a line may be missing, or be a sum";
    assert!(proposal.assumed.iter().any(|a| a == told));
}

#[test]
fn a_material_without_an_amount_is_not_dropped() {
    let (proposal, _) = read(
        "Ingredient,%\nWater,70\nGlycerin,\nSunflower oil,30\n",
        &RecipeSettings::default(),
    )
    .unwrap();
    assert!(proposal.lines[1].doubts[0].contains("no amount"));
    let (proposal, _) = read(
        "Ingredient,%\nWater,70\nstir well\nSunflower oil,30\n",
        &RecipeSettings::default(),
    )
    .unwrap();
    assert_eq!(
        proposal.left_out[1].to_string(),
        "row 3 “stir well”: has no amount and is kept in the notes"
    );
}

#[test]
fn fractions_of_one_are_percentages() {
    check(
        "Ingredient,%\nWater,0.7\nGlycerin,0.05\nSunflower oil,0.25\n",
        &[
            ("A", "purified-water", "70"),
            ("A", "glycerin", "5"),
            ("A", "sunflower-oil", "25"),
        ],
    );
}

#[test]
fn amounts_within_the_text_are_found() {
    check(
        "Water 70 %\n5% Glycerin\nSunflower oil: 25,0 %\n",
        &[
            ("A", "purified-water", "70"),
            ("A", "glycerin", "5"),
            ("A", "sunflower-oil", "25"),
        ],
    );
}

#[test]
fn amounts_that_cannot_be_read_are_asked() {
    let (proposal, _) = read(
        "Ingredient,%\nWater,lots\nGlycerin,1.2.3\nOil,-4\nSunflower oil,50\n",
        &RecipeSettings::default(),
    )
    .unwrap();
    let asked: Vec<usize> = proposal
        .lines
        .iter()
        .filter(|l| l.is_doubtful())
        .map(|l| l.row)
        .collect();
    assert_eq!(asked, [2, 3, 4]);
    assert!(matches!(
        read(
            "Ingredient,%\nWater,q.s.\nGlycerin,60\nSunflower oil,50\n",
            &RecipeSettings::default()
        ),
        Err(RecipeError::Overfull { .. })
    ));
    assert!(matches!(
        read(
            "Ingredient,%\nWater,\nGlycerin,\n",
            &RecipeSettings::default()
        ),
        Err(RecipeError::NoLines)
    ));
    assert!(matches!(
        read("just some words\nand more\n", &RecipeSettings::default()),
        Err(RecipeError::NoColumns)
    ));
}

#[test]
fn the_unmatched_are_made_new_and_unknown() {
    let (proposal, accepted) = read(
        "Ingredient,INCI,CAS,%\nWater,Aqua,7732-18-5,99\nMoorland balm,Bisabolol,515-69-5,1\n",
        &RecipeSettings::default(),
    )
    .unwrap();
    let new = &accepted.new_materials[0];
    assert_eq!(new.id.as_str(), "moorland-balm");
    // Its INCI name is kept as its composition.
    assert_eq!(new.inci_line(), "Bisabolol");
    assert_eq!(proposal.lines[1].suggestions, ["BISABOLOL"]);
    let mut chosen = proposal;
    chosen.lines[1].choice = MaterialChoice::NewPure("BISABOLOL");
    let shelf = shelf();
    let accepted = chosen.accept(&Resolver::new(&shelf)).unwrap();
    assert_eq!(accepted.new_materials[0].inci_line(), "Bisabolol");
}

proptest::proptest! {
    #[test]
    fn grams_always_total_a_hundred(grams in proptest::collection::vec(1_u32..100_000, 1..30)) {
        use std::fmt::Write as _;
        let mut text = String::from("Ingredient,g\n");
        for (n, g) in grams.iter().enumerate() {
            let _ = writeln!(text, "Stuff {n},{}", f64::from(*g) / 100.0);
        }
        if let Ok((_, accepted)) = read(&text, &RecipeSettings::default()) {
            proptest::prop_assert_eq!(accepted.formula.active().total(), Percent::HUNDRED);
        }
    }
    #[test]
    fn no_table_panics(text in "(?s)[A-Za-z0-9%,;\t\n .q]{0,120}") {
        if let Ok(tables) = super::super::read_text(&text) {
            let shelf = shelf();
            let matcher = Resolver::new(&shelf);
            for table in tables {
                if let Ok(p) = propose(&table, "x", &RecipeSettings::default(), &matcher) {
                    let _ = p.accept(&matcher);
                }
            }
        }
    }
}
