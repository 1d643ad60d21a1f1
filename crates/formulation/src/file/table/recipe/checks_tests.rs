//! Readings that could be wrong in silence: each must be told.

use super::super::{RecipeSettings, propose};
use crate::file::table::read_text;
use crate::naming::Resolver;
use crate::shelf::built_in;

/// Everything that is assumed of a table.
fn assumed(text: &str) -> String {
    let table = read_text(text).unwrap().remove(0);
    let resolver = Resolver::new(built_in());
    let proposal = propose(&table, "Test", &RecipeSettings::default(), &resolver).unwrap();
    proposal.assumptions().join("\n")
}

fn told(text: &str, words: &str) {
    let assumed = assumed(text);
    assert!(assumed.contains(words), "{text}\n{assumed}");
}

fn not_told(text: &str, words: &str) {
    let assumed = assumed(text);
    assert!(!assumed.contains(words), "{text}\n{assumed}");
}

#[test]
fn sums_are_held_against_the_rows_above_them() {
    let parts = |sum: &str| {
        format!(
            "Phase,Ingredient,%\nA,Water,70\nA,Glycerin,5\n,Subtotal A,{sum}\nB,Olive oil,25\n,Total,100\n"
        )
    };
    told(&parts("80"), "row 4 states a sum of 80 %");
    not_told(&parts("75"), "states a sum");
    // At the head of the phase it is the sum of what follows.
    not_told(
        "Ingredient,%\nPhase A,75\nWater,70\nGlycerin,5\nPhase B,25\nOlive oil,25\n",
        "states a sum",
    );
    told(
        "Ingredient,%\nWater,70\nGlycerin,5\n,12\nOlive oil,25\n",
        "has an amount but no material",
    );
    not_told(
        "Ingredient,%\nWater,70\nGlycerin,5\n,75\nOlive oil,25\n",
        "no material",
    );
}

#[test]
fn the_batch_is_held_against_what_goes_into_it() {
    let batch = |size: &str| {
        format!("Batch: {size} g\nIngredient,g\nWater,350\nGlycerin,50\nOlive oil,100\n")
    };
    told(&batch("600"), "states a batch of 600 g");
    not_told(&batch("500"), "states a batch");
    // Ten jars of 50 g each.
    not_told(&batch("50"), "states a batch");
    told(
        "Batch size: 2 kg\nIngredient,%,g\nWater,70,350\nGlycerin,5,25\nOlive oil,25,125\n",
        "states a batch of 2000 g",
    );
}

#[test]
fn columns_of_numbers_that_were_left_out_are_told() {
    told(
        "Ingredient,Amount (g),Weight (g)\nBeeswax,20,25\nOlive oil,60,50\nShea butter,20,35\n",
        "holds numbers too and was left out",
    );
    not_told(
        "Ingredient,500 g,1 kg\nBeeswax,100,200\nOlive oil,300,600\nShea butter,100,200\n",
        "holds numbers too",
    );
}

#[test]
fn units_that_are_not_known_are_asked() {
    told(
        "Ingredient,Amount,Unit\nOlive oil,90,g\nLavender oil,20,drops\n",
        "a drop was taken as 0.05 g",
    );
    told(
        "Ingredient,Amount,Unit\nOlive oil,90,g\nBeeswax,2,pcs\n",
        "its unit “pcs” is not known",
    );
    told(
        "Ingredient,Amount\nBeeswax,2 oz\nOlive oil,6 oz\nCocoa butter,2\n",
        "2 has no unit and was taken in oz",
    );
}

#[test]
fn what_may_make_it_another_material_is_asked() {
    let of = |name: &str| format!("Ingredient,%\n{name},95\nBeeswax,5\n");
    let asked = "may make it another material";
    told(&of("Olive oil (infused with calendula)"), asked);
    told(&of("Olive oil (optional)"), asked);
    not_told(&of("Olive oil (cold pressed)"), asked);
    not_told(&of("Olive oil (Olea Europaea Fruit Oil)"), asked);
    told(
        "Ingredient,%,Notes\nWater,90,\nSodium hydroxide,10,as a 20 % solution\n",
        "beside it was taken for its strength",
    );
    told(
        "Ingredient,%\nRose water,q.s.\nGlycerin,5\n",
        "though it is not plain water",
    );
    not_told(
        "Ingredient,%\nWater,q.s.\nGlycerin,5\n",
        "though it is not plain water",
    );
}

#[test]
fn rows_and_phases_do_not_vanish() {
    told(
        "Phase,Ingredient,%\nA,Water,70\n\"A, B\",Glycerin,5\nB,Olive oil,25\n",
        "it stands in the phases A and B",
    );
    told(
        "Ingredient,%\nWater,70\nGlycerin,5\nThe second bowl,\nOlive oil,25\n",
        "beginning of a phase",
    );
    told(
        "Ingredient,%\nWater,75\nOlive oil,25\nTotal,100\nLavender oil,0.5\n",
        "stands below the total and was left out",
    );
    told(
        "Ingredient,%\nWater,75\nOlive oil,25\nLavender oil,\n",
        "has no amount and was left out",
    );
    told(
        "Ingredient,g\nWater,70\nGlycerin,5\nOlive oil,25\nWater,140\nGlycerin,20\nOlive oil,40\n",
        "the same 3 materials come again",
    );
}

#[test]
fn what_is_optional_below_the_total_is_told() {
    told(
        "Ingredient,%\nWater,95\nGlycerin,5\nTotal,100\nOptional: lavender oil,0.5\n",
        "lavender oil",
    );
}

/// Whoever writes a recipe down for a jar and for ten has written one recipe.
#[test]
fn the_same_list_for_another_size_is_taken_once() {
    let of = |text: &str| {
        let table = read_text(text).unwrap().remove(0);
        let resolver = Resolver::new(built_in());
        let proposal = propose(&table, "Test", &RecipeSettings::default(), &resolver).unwrap();
        assert_eq!(proposal.standings().len(), proposal.rows);
        (proposal.lines.len(), proposal.assumptions().join("\n"))
    };
    let two = |last: &str| {
        format!(
            "For 1 jar\nShea butter 30 g\nCoconut oil 20 g\nBeeswax 10 g\n\nFor 10 jars\nShea butter 300 g\nCoconut oil 200 g\nBeeswax {last} g\n"
        )
    };
    let (lines, assumed) = of(&two("100"));
    assert_eq!(lines, 3, "{assumed}");
    assert!(!assumed.contains("row "), "{assumed}");
    // Another recipe of the same materials.
    let (lines, assumed) = of(&two("150"));
    assert_eq!(lines, 6);
    assert!(assumed.contains("come again"), "{assumed}");
    let columns = "Ingredient,g\nShea butter,30\nCoconut oil,20\nBeeswax,10\nTotal,60\n,\nShea butter,75\nCoconut oil,50\nBeeswax,25\nTotal,150\n";
    let (lines, assumed) = of(columns);
    assert_eq!(lines, 3, "{assumed}");
}
