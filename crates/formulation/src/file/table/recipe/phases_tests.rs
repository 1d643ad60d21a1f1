//! Which phase each line is in, however phases are written; where that is not certain, it is
//! told.

use super::{MaterialChoice, RecipeProposal, RecipeSettings, propose};
use crate::file::table::read_text;
use crate::file::table::sections::sections;
use crate::naming::Resolver;
use crate::shelf::built_in;

fn read(text: &str) -> RecipeProposal {
    let resolver = Resolver::new(built_in());
    let table = read_text(text).unwrap().remove(0);
    propose(&table, "Test", &RecipeSettings::default(), &resolver).unwrap()
}

/// The letters of the phases of all lines.
fn phases(proposal: &RecipeProposal) -> String {
    let letters = proposal.lines.iter().map(|line| {
        let phase = &proposal.phases[line.phase];
        phase.letter.as_str()
    });
    letters.collect::<Vec<_>>().join(" ")
}

fn check(text: &str, expected: &str) -> RecipeProposal {
    let proposal = read(text);
    assert_eq!(
        phases(&proposal),
        expected,
        "{text}\n{:?}",
        proposal.assumed
    );
    proposal
}

fn told(proposal: &RecipeProposal, words: &str) {
    let all = proposal.assumptions().join("\n");
    assert!(all.contains(words), "{all}");
}

#[test]
fn letters_with_degrees_are_phases_without_headings() {
    check(
        "A (75 °C),Water,65\nA (75 °C),Glycerin,5\nB (75 °C),Olive oil,20\nB (75 °C),Cetyl alcohol,5\nC (40 °C),Phenoxyethanol,5\n",
        "A A B B C",
    );
    let proposal = check(
        "A (75 °C),Water,65\n,Glycerin,5\nB (72 °C),Olive oil,20\n,Cetyl alcohol,5\nC (40 °C),Phenoxyethanol,5\n",
        "A A B B C",
    );
    assert!(proposal.phases[0].temperature.is_some());
}

#[test]
fn letters_in_the_first_row_of_each_phase_are_told_by_themselves() {
    let facts = "\n\npH,5.5,\nAppearance,white cream,\nTexture,light,\nShelf life,6 months,\n";
    for heading in ["pot", "Behälter", "xyz"] {
        let text = format!(
            "{heading},Ingredient,%\nA,Water,65\n,Glycerin,5\nB,Olive oil,20\n,Cetyl alcohol,5\nC,Phenoxyethanol,5{facts}"
        );
        check(&text, "A A B B C");
    }
}

/// Words that nobody knows as phases but that part the lines into groups are told.
#[test]
fn a_column_that_groups_the_lines_is_told() {
    let proposal = read(
        "pot,Ingredient,%\nbig,Water,65\nbig,Glycerin,5\nsmall,Olive oil,20\nsmall,Cetyl alcohol,5\nlast,Phenoxyethanol,5\n",
    );
    let named = phases(&proposal) == "A A B B C";
    assert!(
        named
            || proposal
                .assumptions()
                .join("\n")
                .contains("may hold the phases")
    );
}

/// Words that differ from line to line are said of each line.
#[test]
fn what_a_line_is_for_is_no_phase() {
    for head in [
        "Po co",
        "Wozu",
        "À quoi ça sert",
        "Para qué",
        "A cosa serve",
        "Waarvoor",
        "xyz",
    ] {
        let text = format!(
            "Ingredient;%;{head}\nSunflower oil;55;base\nApricot kernel oil;20;base\nJojoba oil;15;lightness\nShea butter;9;soothes\nVitamin E;1;keeps fresh\n"
        );
        let proposal = read(&text);
        assert_eq!(proposal.phases.len(), 1, "{head} {:?}", proposal.phases);
    }
}

#[test]
fn lines_above_the_first_phase_are_one_of_their_own() {
    let proposal = check(
        "Ingredient,%\nWater,65\nGlycerin,5\nPhase B\nOlive oil,25\nPhase C\nPhenoxyethanol,5\n",
        "A A B C",
    );
    told(&proposal, "stands above the first phase that is named");
    // It is not that which comes later.
    let proposal = check(
        "Ingredient,%\nWater,70\nPhase A\nOlive oil,25\nPhase B\nPhenoxyethanol,5\n",
        "C A B",
    );
    told(&proposal, "a phase of their own, C");
    let proposal = check("Ingredient,%\nWater,95\nGlycerin,5\n", "A A");
    assert!(!proposal.assumptions().join("\n").contains("of their own"));
}

#[test]
fn numbered_phases_keep_their_numbers_and_that_is_told() {
    for text in [
        "Phase,Ingredient,%\n1,Water,65\n1,Glycerin,5\n2,Olive oil,25\n3,Phenoxyethanol,5\n",
        "Ingredient,%\nPhase 1\nWater,65\nGlycerin,5\nPhase 2\nOlive oil,25\nPhase 3\nPhenoxyethanol,5\n",
        "1,Water,65\n1,Glycerin,5\n2,Olive oil,25\n3,Phenoxyethanol,5\n",
    ] {
        let proposal = check(text, "1 1 2 3");
        let notes = proposal.notes.join("\n");
        assert!(
            notes.contains("numbers its phases") && notes.contains("1, 2, 3"),
            "{notes}"
        );
    }
    // What has no number gets the next that is free.
    let proposal = check(
        "Ingredient,%\nWater,70\nPhase 2\nOlive oil,25\nPhase 3\nPhenoxyethanol,5\n",
        "1 2 3",
    );
    told(&proposal, "a phase of their own, 1");
}

#[test]
fn a_new_material_that_others_come_near_is_an_assumption() {
    let resolver = Resolver::new(built_in());
    let table = read_text("Ingredient,%\nWater,90\nGlycerin,5\nOlive oil or sunflower oil,5\n")
        .unwrap()
        .remove(0);
    let mut proposal = propose(&table, "Test", &RecipeSettings::default(), &resolver).unwrap();
    let line = proposal
        .lines
        .iter_mut()
        .find(|l| l.choice == MaterialChoice::New)
        .unwrap();
    assert!(!line.candidates.is_empty());
    assert!(line.is_doubtful());
    // Once it is settled that it is new nothing is assumed any more.
    line.settle();
    assert!(!line.is_doubtful());
}

/// Rows are headed in words that no list of headings has; the second list is a recipe too.
#[test]
fn a_second_list_below_headings_that_nobody_knows() {
    let second = |headings: &str| {
        format!(
            "Ingredient,%\nWater,95\nGlycerin,5\nTotal,100\n\n{headings}\nWater,90\nOlive oil,10\n"
        )
    };
    for headings in ["Råvare,Procentdel", "Surovina,Podíl", "Összetevő,Arány"] {
        let found = sections(&read_text(&second(headings)).unwrap());
        assert_eq!(found.len(), 2, "{headings}");
    }
    // A remark is none.
    let found = sections(&read_text(&second("Stir it well.,slowly")).unwrap());
    assert!(!found.is_empty());
}

/// Whatever rows say that are numbered on, each above lines of its own, they begin phases.
#[test]
fn rows_that_are_numbered_on_begin_phases() {
    for words in [
        ["1. Water phase", "2. Oil phase", "3. Cool down"],
        ["(1) heat to 75 °C", "(2) melt", "(3) cold"],
        ["1) Stir together", "2) Melt gently", "3) Below 40 °C"],
        ["Part 1", "Part 2", "Part 3"],
        ["Teil 1:", "Teil 2:", "Teil 3:"],
    ] {
        let [one, two, three] = words;
        let text = format!(
            "Ingredient;%\n{one};\nWater;65\nGlycerin;5\n{two};\nOlive oil;25\n{three};\nPhenoxyethanol;5\n"
        );
        check(&text, "1 1 2 3");
        let text = format!(
            "{one}\nWater 65 %\nGlycerin 5 %\n\n{two}\nOlive oil 25 %\n\n{three}\nPhenoxyethanol 5 %\n\n1. Heat all.\n2. Stir.\n"
        );
        check(&text, "1 1 2 3");
    }
    check(
        "Ingredient;%\nA. Heat these together;\nWater;70\nB. Melt;\nOlive oil;25\nC. Add at the end;\nPhenoxyethanol;5\n",
        "A B C",
    );
}

#[test]
fn words_between_the_lines_that_may_begin_phases_are_told() {
    let proposal = check(
        "Ingredient;%\nHeat together;\nWater;65\nGlycerin;5\nMelt;\nOlive oil;25\nAdd last;\nPhenoxyethanol;5\n",
        "A A A A",
    );
    told(&proposal, "may begin phases");
    // Where phases are named a remark is a remark.
    let proposal = read(
        "Ingredient;%\nPhase A;\nWater;65\nStir until clear.;\nGlycerin;5\nPhase B;\nOlive oil;30\n",
    );
    assert!(
        !proposal
            .assumptions()
            .join("\n")
            .contains("may begin phases")
    );
}

#[test]
fn a_mark_for_the_same_keeps_the_phase() {
    for mark in ["„", "''", "ditto", "dito", "-", "–", "idem"] {
        check(
            &format!(
                "Ingredient;Phase;%\nWater;A;65\nGlycerin;{mark};5\nOlive oil;B;20\nCetyl alcohol;{mark};5\nPhenoxyethanol;C;5\n"
            ),
            "A A B B C",
        );
    }
}

#[test]
fn what_stands_in_the_row_above_is_not_counted_twice() {
    let proposal = read(
        "Ingredient;%\nWater;to 100\nGlycerin;5\nOlive oil and more;25\nof which sunflower oil;10\nPhenoxyethanol;5\n",
    );
    assert_eq!(proposal.lines.len(), 4);
    told(&proposal, "says that it is a part of the row above");
    // A name that nobody knows, above rows that add up to it.
    let proposal = read(
        "Ingredient;%\nWater;to 100\nBase mix;25\nOlive oil;15\nSunflower oil;10\nPhenoxyethanol;5\n",
    );
    told(&proposal, "it could also be a phase with its sum");
}

#[test]
fn a_material_with_an_amount_that_cannot_be_read_is_told_in_text() {
    let proposal = read("Balm\nBeeswax 1 part\nOlive oil 3 parts\nShea butter 1 part + a bit\n");
    told(&proposal, "Shea butter");
}

#[test]
fn a_word_that_a_sum_goes_by_begins_a_phase() {
    check(
        "Ingredient,g,%\nMelt,,\nShea butter,400,40\nCoconut oil,200,20\nSubtotal melt,600,60\nWhip in,,\nJojoba oil,300,30\nArrowroot powder,100,10\nSubtotal whip,400,40\nAll,1000,100\n",
        "A A B B",
    );
}
