//! Forms in which recipes are written down, each with what a person reads in it.

use super::{RecipeProposal, RecipeSettings, propose};
use crate::file::table::read_text;
use crate::file::table::sections::sections;
use crate::naming::Resolver;
use crate::shelf::built_in;

fn read(text: &str) -> Vec<(RecipeProposal, Vec<f64>, f64)> {
    let resolver = Resolver::new(built_in());
    let found = sections(&read_text(text).unwrap());
    let read = found.iter().map(|section| {
        let settings = RecipeSettings {
            layout: section.layout.clone(),
            ..RecipeSettings::default()
        };
        let proposal = propose(&section.table, "Test", &settings, &resolver).unwrap();
        let formula = proposal.accept(&resolver).unwrap().formula;
        let variant = formula.active();
        let shares = variant.lines().map(|(_, line)| line.percent.as_percent());
        let batch = crate::quantity::in_grams(variant.batch);
        (proposal, shares.collect(), batch)
    });
    read.collect()
}

/// Names and shares of the lines of the one recipe of a text.
fn check(text: &str, expected: &[(&str, f64)]) -> (RecipeProposal, f64) {
    let mut all = read(text);
    assert_eq!(all.len(), 1, "{text}");
    let (proposal, shares, batch) = all.remove(0);
    let names: Vec<&str> = proposal
        .lines
        .iter()
        .map(|l| l.wanted.name.as_str())
        .collect();
    let wanted: Vec<&str> = expected.iter().map(|(name, _)| *name).collect();
    assert_eq!(names, wanted, "{text}");
    for ((_, wanted), share) in expected.iter().zip(&shares) {
        assert!((wanted - share).abs() < 0.01, "{text}\n{shares:?}");
    }
    (proposal, batch)
}

/// What is said above and below a list with an amount in it is no line.
#[test]
fn sentences_with_amounts_are_no_lines() {
    let lines = [("water", 90.0), ("glycerin", 8.0), ("phenoxyethanol", 2.0)];
    let list = "- 180 g water\n- 16 g glycerin\n- 4 g phenoxyethanol\n";
    let (_, batch) = check(&format!("# Toner\n\nMakes 200 g.\n\n{list}"), &lines);
    assert!((batch - 200.0).abs() < 0.01);
    let (_, batch) = check(
        &format!(
            "# Toner\n\nEnough for two bottles of 100 g.\n\n{list}\nI used 3 g of it daily!\n"
        ),
        &lines,
    );
    assert!((batch - 200.0).abs() < 0.01, "{batch}");
    check(
        &format!(
            "voilà, comme promis, pour un flacon de 200 g :\n\n{list}\nMix the first, then the rest.\n"
        ),
        &lines,
    );
}

#[test]
fn an_amount_beside_its_percentage_in_front_of_a_name() {
    for mark in ["/", "="] {
        check(
            &format!(
                "Jelly\n- 180 g {mark} 90 % water\n- 16 g {mark} 8 % glycerin\n- 4 g {mark} 2 % phenoxyethanol\n"
            ),
            &[("water", 90.0), ("glycerin", 8.0), ("phenoxyethanol", 2.0)],
        );
    }
}

#[test]
fn drops_with_what_they_weigh_leave_the_name_whole() {
    check(
        "Sérum (frasco de 40 g)\n\naceite de jojoba – 39,2 g\nvitamina E – 10 gotas (0,4 g)\naceite esencial de lavanda – 8 gotas (0,4 g)\n",
        &[
            ("aceite de jojoba", 98.0),
            ("vitamina E", 1.0),
            ("aceite esencial de lavanda", 1.0),
        ],
    );
}

#[test]
fn what_is_weighed_without_the_vessel_is_the_recipe() {
    let (proposal, _) = check(
        "Ingredient,Vessel,Tare g,Gross g,Net g\nOlive oil,beaker 1,182.4,582.4,400\nBeeswax,dish 2,61.3,121.3,60\nShea butter,dish 5,60.7,100.7,40\nTotal,,,,500\n",
        &[("Olive oil", 80.0), ("Beeswax", 12.0), ("Shea butter", 8.0)],
    );
    assert_eq!(proposal.stated_total, Some(500.into()));
}

#[test]
fn a_row_for_each_recipe_and_a_column_for_each_material() {
    let all = read(
        "Product (all in %),Beeswax,Shea butter,Coconut oil,Olive oil,Castor oil,Total\nFoot balm,20,30,20,30,,100\nLip balm,25,20,25,15,15,100\n",
    );
    assert_eq!(all.len(), 2);
    assert_eq!(all[0].1, [20.0, 30.0, 20.0, 30.0]);
    assert_eq!(all[1].1, [25.0, 20.0, 25.0, 15.0, 15.0]);
}

#[test]
fn a_word_of_another_language_heads_the_materials() {
    check(
        "Teil;Was;Wieviel %\nwässrig;Rosenwasser;20\nwässrig;Glycerin;60\nölig;Mandelöl;14\nölig;Cetylalkohol;6\n",
        &[
            ("Rosenwasser", 20.0),
            ("Glycerin", 60.0),
            ("Mandelöl", 14.0),
            ("Cetylalkohol", 6.0),
        ],
    );
}

/// "Rp." above a prescription is no phase; bold words above each part are.
#[test]
fn words_alone_begin_phases_where_several_do() {
    let (proposal, _) = check(
        "Rp.\n\nHarnstoff                  5,0\nGlycerin 86 %              6,0\nLavendelwasser            89,0\n",
        &[
            ("Harnstoff", 5.0),
            ("Glycerin 86 %", 6.0),
            ("Lavendelwasser", 89.0),
        ],
    );
    assert_eq!(proposal.phases[0].letter, "A");
    // A tip beside some lines is none either.
    let (proposal, _) = check(
        "Ingredient,%,Tip\nShea butter,60,soft\nCoconut oil,20,\nRice bran oil,10,\nTapioca starch,10,less greasy\n",
        &[
            ("Shea butter", 60.0),
            ("Coconut oil", 20.0),
            ("Rice bran oil", 10.0),
            ("Tapioca starch", 10.0),
        ],
    );
    assert_eq!(proposal.phases.len(), 1);
    let (proposal, _) = check(
        "## Bodybutter\n\n**Vetfase**\n\n* sheaboter — 75%\n\n**Na het afkoelen**\n\n* jojobaolie — 25%\n",
        &[("sheaboter", 75.0), ("jojobaolie", 25.0)],
    );
    let phases: Vec<&str> = proposal
        .lines
        .iter()
        .map(|l| proposal.phases[l.phase].purpose.as_str())
        .collect();
    assert_eq!(phases, ["Vetfase", "Na het afkoelen"]);
}

/// What the product is filled into is no part of a recipe that a q.s. makes whole.
#[test]
fn packaging_below_a_list_with_a_filler_is_left_out() {
    let (proposal, _) = check(
        "Ingredient,%\nWater,q.s.\nGlycerin,5\nPhenoxyethanol,1\n\nPackaging,\nJar 50 ml,10\nLid black,10\n",
        &[("Water", 94.0), ("Glycerin", 5.0), ("Phenoxyethanol", 1.0)],
    );
    assert!(proposal.assumptions().join("\n").contains("Jar 50 ml"));
    // A phase with materials of its own is one.
    let (proposal, _) = check(
        "Ingredient,%\nWater,q.s.\nGlycerin,5\n\nAt the end,\nPhenoxyethanol,1\nMoorguard,2\n",
        &[
            ("Water", 92.0),
            ("Glycerin", 5.0),
            ("Phenoxyethanol", 1.0),
            ("Moorguard", 2.0),
        ],
    );
    assert_eq!(proposal.phases.len(), 2);
}

#[test]
fn lines_numbered_within_a_phase_are_so_whatever_stands_below() {
    let (proposal, _) = check(
        "%,Phase,Raw material\n78,A1,Water\n12,A2,Glycerin\n8,A3,Methylpropanediol\n2,A4,Phenoxyethanol\n\npH: 5.5,,\nViscosity,4500 mPas,\n",
        &[
            ("Water", 78.0),
            ("Glycerin", 12.0),
            ("Methylpropanediol", 8.0),
            ("Phenoxyethanol", 2.0),
        ],
    );
    assert_eq!(proposal.phases.len(), 1);
}

/// A title may say for how much the numbers are, and hold amounts that are of no material.
#[test]
fn a_title_with_amounts_is_no_line() {
    let (proposal, _) = check(
        "BATH SALT  (per 100 g)\n\nSodium bicarbonate ... 60\nCitric acid ... 30\nCorn starch ... 10\n",
        &[
            ("Sodium bicarbonate", 60.0),
            ("Citric acid", 30.0),
            ("Corn starch", 10.0),
        ],
    );
    assert_eq!(proposal.name, "BATH SALT");
    let (proposal, batch) = check(
        "Winter soap Birkenloh - 800 g fats, superfat 8 %\n\n600 g olive oil\n200 g coconut oil\n110 g sodium hydroxide\n240 g water\n",
        &[
            ("olive oil", 52.17),
            ("coconut oil", 17.39),
            ("sodium hydroxide", 9.57),
            ("water", 20.87),
        ],
    );
    assert!((batch - 1150.0).abs() < 0.1, "{batch}");
    let told = proposal.assumptions();
    assert!(
        told.iter().any(|w| w.contains("taken for the title")),
        "{told:?}"
    );
}

#[test]
fn a_line_that_puts_an_amount_right_is_no_line() {
    let (proposal, _) = check(
        "Olive oil 60 g\nShea butter 16 g\nBeeswax 22 g\nsorry, the butter is 18 g, not 16\n",
        &[
            ("Olive oil", 60.0),
            ("Shea butter", 18.0),
            ("Beeswax", 22.0),
        ],
    );
    assert!(proposal.lines[1].doubts[0].contains("row 4 says that it is 18 g"));
}

#[test]
fn fractions_in_front_of_names_are_of_one_whole() {
    let expected = [
        ("shea butter", 50.0),
        ("coconut oil", 25.0),
        ("beeswax", 25.0),
    ];
    check(
        "- 1/2 shea butter\n- ¼ coconut oil\n- 1/4 beeswax\n",
        &expected,
    );
    check(
        "Balm\n\n½ shea butter\n¼ coconut oil\n¼ beeswax\n",
        &expected,
    );
}

/// A column headed by a word for phases in one tongue and for shares in another.
#[test]
fn parts_of_one_below_a_word_for_phases_are_shares() {
    check(
        "Matière première;Part\nEau distillée;0,433\nHydrolat de camomille;0,4\nHuile de jojoba;0,11\nGlycérine;0,057\n",
        &[
            ("Eau distillée", 43.3),
            ("Hydrolat de camomille", 40.0),
            ("Huile de jojoba", 11.0),
            ("Glycérine", 5.7),
        ],
    );
}

#[test]
fn what_spoons_and_drops_weigh_stands_behind_the_name() {
    let (proposal, batch) = check(
        "- 12 tbsp sugar (180 g)\n- 5 tbsp of coconut oil (70 g)\n- 40 drops of lavender oil (2 g)\n",
        &[
            ("sugar", 71.43),
            ("coconut oil", 27.78),
            ("lavender oil", 0.79),
        ],
    );
    assert!((batch - 252.0).abs() < 0.1, "{batch}");
    assert!(proposal.lines.iter().all(|l| l.amount_doubts == 0));
}

/// What stands in columns of which none is known is read line by line.
#[test]
fn notes_in_columns_without_known_names_are_read_as_lines() {
    let (proposal, batch) = check(
        "Toner (notebook p. 14)\n\naq. ros.          60 g\nliq. base     ad 200 g\nglyc.              6 g\naloe j.           20 g\nniacin.            4 g\npres. (PE/EHG)   1.8 g\nEO lav.          6 gtt\n",
        &[
            ("aq. ros.", 30.0),
            ("liq. base", 53.95),
            ("glyc.", 3.0),
            ("aloe j.", 10.0),
            ("niacin.", 2.0),
            ("pres. (PE/EHG)", 0.9),
            ("EO lav.", 0.15),
        ],
    );
    assert!((batch - 200.0).abs() < 0.1, "{batch}");
    let told = proposal.assumptions();
    assert!(
        told.iter().any(|w| w.contains("taken as a new material")),
        "{told:?}"
    );
}

/// A measure of the household with its name and the grams in brackets is a line, with nothing to
/// mark it.
#[test]
fn spoons_in_front_of_names_with_the_grams_in_brackets() {
    for (spoon, drops) in [
        ("6 tbsp of coconut oil", "20 drops of lavender oil"),
        ("6 EL Kokosöl", "20 Tropfen Lavendelöl"),
        (
            "6 cuillères à soupe d'huile de coco",
            "20 gouttes d'huile essentielle de lavande",
        ),
        (
            "6 cucharadas de aceite de coco",
            "20 gotas de aceite esencial de lavanda",
        ),
        (
            "6 cucchiai di olio di cocco",
            "20 gocce di olio essenziale di lavanda",
        ),
        ("6 eetlepels kokosolie", "20 druppels lavendelolie"),
        ("6 łyżek oleju kokosowego", "20 kropli olejku lawendowego"),
    ] {
        let text = format!("{spoon} (79 g)\n2 tbsp shea butter (20 g)\n{drops} (1 g)\n");
        let (proposal, batch) = read(&text)
            .into_iter()
            .map(|(proposal, _, batch)| (proposal, batch))
            .next()
            .unwrap_or_else(|| panic!("{text}"));
        assert_eq!(proposal.lines.len(), 3, "{text}");
        assert!((batch - 100.0).abs() < 0.1, "{text} {batch}");
    }
}
