//! Tables as makers may keep them, drawn at random: a recipe of the built-in materials, and a
//! dialect in which it is written down. Whatever the dialect, every line must be read as it
//! was written, or the maker must be asked or told about that very line.
//!
//! The run in the suite draws the same few hundred tables everywhere. `DIALECTS=20000` draws
//! so many, `DIALECTS_SEED=7` others; then a table of what became of the lines by each axis
//! is printed, and each silent error with the plainest dialect in which it still happens.
#![expect(clippy::unwrap_used, reason = "what cannot be read is a failed test")]

mod axes;
mod dice;
mod form;
mod prices;
mod recipe;
mod words;
mod write;

use std::collections::BTreeMap;
use std::fmt::Write as _;

use formulation::file::table::columns::heading;
use formulation::file::table::recipe::{
    MaterialChoice, ProposedLine, RecipeProposal, RecipeSettings, propose,
};
use formulation::file::table::sections::sections;
use formulation::inci::{Inci, InciKey};
use formulation::material::Material;
use formulation::naming::Resolver;
use formulation::quantity::in_grams;
use formulation::shelf::built_in;

use axes::{AXES, Axis, Dialect, PRICE_AXES};
use dice::Dice;
use form::Given;
use recipe::{Line, Recipe};
use write::Phases;

/// A recipe in a dialect.
struct Case {
    recipes: Vec<Recipe>,
    phases: Vec<Phases>,
    /// Grams of each batch, where they are written down.
    batches: Vec<Option<i64>>,
    given: Given,
}

/// What became of each line of a table, and what is wrong in words.
type Judged = (Vec<Fate>, Vec<String>);

/// What became of a line.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Fate {
    Right,
    Asked,
    Told,
    Silent,
    Refused,
}

/// Dialects in which axes do not go together are mended, so that each can be drawn by itself.
fn sensible(dialect: &Dialect) -> Dialect {
    let mut dialect = dialect.clone();
    let plain = |dialect: &mut Dialect, axis: Axis| {
        if let Some(plainer) = dialect.plainer(axis) {
            *dialect = plainer;
        }
    };
    let in_text = matches!(dialect.of(Axis::Form), "list" | "sentences");
    let as_page = matches!(dialect.of(Axis::Form), "markdown" | "page" | "aligned");
    if in_text || dialect.is(Axis::Headings, "none") {
        plain(&mut dialect, Axis::Several);
    }
    if as_page && dialect.is(Axis::Several, "beside") {
        dialect = dialect.with(Axis::Several, "below");
    }
    if dialect.is(Axis::Several, "beside") && dialect.is(Axis::Phases, "own tables") {
        dialect = dialect.with(Axis::Phases, "headings");
    }
    // What stands beside a list or between its lines has a place in sheets alone.
    let in_sheet = matches!(dialect.of(Axis::Form), "workbook" | "semicolons" | "tabs");
    let several = !dialect.is(Axis::Several, "one") && !dialect.is(Axis::Several, "versions");
    if !in_sheet || several || dialect.is(Axis::Phases, "own tables") {
        plain(&mut dialect, Axis::Turned);
        if !matches!(
            dialect.of(Axis::Beside),
            "running sum" | "weighed" | "instead"
        ) {
            plain(&mut dialect, Axis::Beside);
        }
    }
    if in_text || dialect.is(Axis::Form, "aligned") {
        plain(&mut dialect, Axis::Between);
        plain(&mut dialect, Axis::Later);
        plain(&mut dialect, Axis::Dress);
    }
    if as_page || several {
        plain(&mut dialect, Axis::Later);
    }
    // The size in the title is that of one recipe, and of a list that has amounts.
    let without_title = in_text || dialect.is(Axis::Form, "aligned");
    if without_title && dialect.is(Axis::Batch, "title") {
        plain(&mut dialect, Axis::Batch);
    }
    if dialect.is(Axis::Turned, "turned") {
        for axis in [
            Axis::Phases,
            Axis::Total,
            Axis::Above,
            Axis::Below,
            Axis::Later,
            Axis::Beside,
            Axis::Between,
            Axis::Blank,
            Axis::Batch,
            Axis::Headings,
            Axis::Named,
            Axis::Several,
            Axis::Order,
            Axis::Out,
            Axis::Procedure,
        ] {
            plain(&mut dialect, axis);
        }
    }
    // In a column of phases or in text "rest" and "q.s." say no more than elsewhere.
    if in_text && (dialect.is(Axis::Filler, "q.s.") || dialect.is(Axis::Filler, "rest")) {
        plain(&mut dialect, Axis::Filler);
    }
    dialect
}

fn case(seed: u64, dialect: &Dialect) -> Case {
    let dialect = &sensible(dialect);
    let mut dice = Dice::new(seed ^ 0x5eed);
    let first = Recipe::draw(seed, dialect);
    if matches!(dialect.of(Axis::Form), "list" | "sentences") {
        let (text, phases) = write::lines(&first, dialect, &mut dice);
        return Case {
            recipes: vec![first],
            phases: vec![phases],
            batches: vec![None],
            given: Given::Text(text),
        };
    }
    if dialect.is(Axis::Several, "versions") {
        let other = first.changed(seed + 1);
        let list = write::list(&first, std::slice::from_ref(&other), dialect, &mut dice);
        let phases = list.phases.clone();
        return Case {
            recipes: vec![first, other],
            phases: vec![phases.clone(), phases],
            batches: vec![None, None],
            given: form::given(vec![list], dialect),
        };
    }
    let mut recipes = vec![first];
    if !dialect.is(Axis::Several, "one") {
        recipes.push(Recipe::draw(seed + 1, dialect));
    }
    let lists: Vec<_> = recipes
        .iter()
        .map(|r| write::list(r, &[], dialect, &mut dice))
        .collect();
    Case {
        phases: lists.iter().map(|l| l.phases.clone()).collect(),
        batches: lists.iter().map(|l| l.batch).collect(),
        given: form::given(lists, dialect),
        recipes,
    }
}

/// A line as read, with what the formula says of it.
struct Read {
    line: ProposedLine,
    percent: f64,
    /// Place of its phase among those that have lines, and its letter.
    phase: usize,
    letter: String,
}

/// The lines as they are taken in, and the grams of the batch.
fn read(proposal: &RecipeProposal, resolver: &Resolver<'_>) -> Result<(Vec<Read>, f64), String> {
    let accepted = proposal.accept(resolver).map_err(|e| e.to_string())?;
    let variant = accepted.formula.active();
    let batch = in_grams(variant.batch);
    let used: Vec<usize> = (0..proposal.phases.len())
        .filter(|p| proposal.lines.iter().any(|l| l.phase == *p))
        .collect();
    let order = used
        .iter()
        .flat_map(|p| proposal.lines.iter().filter(move |l| l.phase == *p));
    let lines = order
        .zip(variant.lines())
        .map(|(line, (phase, taken))| Read {
            line: line.clone(),
            percent: taken.percent.as_percent(),
            phase: used.iter().position(|p| *p == line.phase).unwrap(),
            letter: phase.letter.to_string(),
        })
        .collect();
    Ok((lines, batch))
}

/// A name as it is compared: letters and digits alone.
fn bare(name: &str) -> String {
    let letters = name.chars().filter(|c| c.is_alphanumeric());
    letters.flat_map(char::to_lowercase).collect()
}

fn is_called(line: &Line, read: &ProposedLine) -> bool {
    let wanted = [bare(&read.wanted.name), bare(&read.wanted.inci)];
    let in_brackets = format!("{} ({})", line.name, line.inci);
    wanted.contains(&bare(&line.name))
        || wanted[0] == bare(&line.inci)
        || wanted[0] == bare(&in_brackets)
}

/// Whether the material taken is the one meant, or says the same of itself.
fn is_meant(line: &Line, choice: &MaterialChoice, by_name: bool) -> bool {
    fn names(material: &Material) -> impl Iterator<Item = InciKey> {
        material.inci_names().map(Inci::key)
    }
    let first = |material: &Material| names(material).next();
    let by_inci = !by_name || line.name != *line.material.name;
    match choice {
        MaterialChoice::Known(id, _) => {
            *id == line.material.id
                || built_in()
                    .get(id)
                    .is_some_and(|m| m.constituents == line.material.constituents)
                || by_inci
                    && built_in()
                        .get(id)
                        .is_some_and(|m| first(m) == first(&line.material))
        }
        MaterialChoice::Made(material) => names(material).eq(names(&line.material)),
        MaterialChoice::New | MaterialChoice::NewPure(_) => false,
    }
}

/// Assumptions that are about the kind of product, which no table here says.
fn of_kind(words: &str) -> bool {
    words.contains("washed off")
        || words.contains("by its name")
        || words.contains("--recipe-named")
}

/// What became of each line of a case, and what was wrong in words.
fn judge(case: &Case, resolver: &Resolver<'_>) -> Judged {
    let mut fates = Vec::new();
    let mut wrong = Vec::new();
    let refuse = |wrong: &mut Vec<String>, told: String| {
        let count: usize = case.recipes.iter().map(|r| r.lines.len()).sum();
        wrong.push(format!("refused: {told}"));
        (vec![Fate::Refused; count], std::mem::take(wrong))
    };
    let tables = match case.given.tables() {
        Ok(tables) => tables,
        Err(error) => return refuse(&mut wrong, error.to_string()),
    };
    let found = sections(&tables);
    if found.is_empty() {
        return refuse(&mut wrong, "no recipe was seen".to_owned());
    }
    let mut all: Vec<(RecipeProposal, Vec<Read>)> = Vec::new();
    let mut batches: Vec<f64> = Vec::new();
    for section in &found {
        let settings = RecipeSettings {
            layout: section.layout.clone(),
            ..RecipeSettings::default()
        };
        let proposal = match propose(&section.table, "Test", &settings, resolver) {
            Ok(proposal) => proposal,
            Err(error) => return refuse(&mut wrong, error.to_string()),
        };
        let standings = proposal.standings();
        if standings.len() != proposal.rows {
            wrong.push(format!(
                "silent: {} of {} rows stand for anything",
                standings.len(),
                proposal.rows
            ));
        }
        match read(&proposal, resolver) {
            Ok((lines, batch)) => {
                all.push((proposal, lines));
                batches.push(batch);
            }
            Err(error) => return refuse(&mut wrong, error),
        }
    }
    let assumed: Vec<String> = all.iter().flat_map(|(p, _)| p.assumptions()).collect();
    let global = assumed
        .iter()
        .any(|w| !w.starts_with("row ") && !of_kind(w));
    // Recipes taken for one, or one for several: which of them a line is in is told by the
    // number alone.
    if all.len() != case.recipes.len() {
        let told = if global || all.len() > 1 {
            "told"
        } else {
            "silent"
        };
        wrong.push(format!(
            "{told}: {} recipes for {}",
            all.len(),
            case.recipes.len()
        ));
    }
    // Recipes taken for one, or one for several: each line is looked for in all.
    if all.len() != case.recipes.len() {
        let told = all.len() > 1 || global;
        for line in case.recipes.iter().flat_map(|r| &r.lines) {
            let found = all
                .iter()
                .flat_map(|(_, lines)| lines)
                .any(|r| is_called(line, &r.line));
            let fate = match (told, found) {
                (true, true) => Fate::Told,
                (true, false) if assumed.iter().any(|w| w.contains(&line.name)) => Fate::Refused,
                _ => Fate::Silent,
            };
            wrong.push(format!("{fate:?}: “{}” of several recipes", line.name));
            fates.push(fate);
        }
        return (fates, wrong);
    }
    for (n, recipe) in case.recipes.iter().enumerate() {
        if let (Some(Some(expected)), Some(batch)) = (case.batches.get(n), batches.get(n))
            && (batch - *expected as f64).abs() > 0.001 * batch
        {
            let of_size =
                |w: &&String| w.contains("batch") || w.contains("whole") || w.contains("size");
            let told = if assumed.iter().any(|w| of_size(&w)) {
                "told"
            } else {
                "silent"
            };
            wrong.push(format!(
                "{told}: a batch of {batch} g, expected {expected} g"
            ));
        }
        let phases = &case.phases[n];
        let groups_told =
            *phases == Phases::Groups && assumed.iter().any(|w| w.starts_with("blank rows"));
        let mut lines: Vec<&Read> = all
            .get(n)
            .map(|(_, lines)| lines.iter().collect())
            .unwrap_or_default();
        // What fills up is off where another amount is.
        let asked = lines.iter().any(|r| r.line.amount_doubts > 0);
        for line in &recipe.lines {
            let place = lines.iter().position(|r| is_called(line, &r.line));
            let Some(read) = place.map(|at| lines.remove(at)) else {
                let told = assumed.iter().any(|w| {
                    w.contains(&line.name)
                        || !line.inci.is_empty() && w.contains(&line.inci)
                        || w.contains("may be missing")
                });
                let fate = if told { Fate::Refused } else { Fate::Silent };
                wrong.push(format!("{fate:?}: no line “{}”", line.name));
                fates.push(fate);
                continue;
            };
            let expected = line.share as f64 / 100.0;
            let percent = (read.percent - expected).abs() <= 0.011_f64.max(expected * 1e-3);
            let phase = match phases {
                Phases::Hidden => true,
                Phases::Groups => read.phase == line.phase || groups_told,
                Phases::Letters(letters) => letters.get(line.phase) == Some(&read.letter),
            };
            let by_name = bare(&read.line.wanted.name) != bare(&line.inci);
            let material = is_meant(line, &read.line.choice, by_name);
            let doubtful = read.line.is_doubtful();
            let fate = if percent
                && phase
                && (material || matches!(read.line.choice, MaterialChoice::New))
            {
                match (doubtful || groups_told, material) {
                    (true, true) => Fate::Asked,
                    (false, true) => Fate::Right,
                    // New materials are shown as such.
                    (_, false) => Fate::Told,
                }
            } else {
                let of_phase = |w: &String| w.contains("phase");
                let others = line.filler && asked;
                let told = doubtful
                    || !percent && (global || others)
                    || !phase && assumed.iter().any(of_phase)
                    || !material && matches!(read.line.choice, MaterialChoice::New);
                if told { Fate::Told } else { Fate::Silent }
            };
            if !matches!(fate, Fate::Right | Fate::Asked) {
                wrong.push(format!(
                    "{fate:?}: “{}” is {} % of {:?} in {} ({}), expected {expected} % of {} in {} of {phases:?}",
                    line.name,
                    read.percent,
                    read.line.choice,
                    read.letter,
                    read.phase,
                    line.material.id,
                    line.phase,
                ));
            }
            fates.push(fate);
        }
        for extra in lines {
            let told = extra.line.is_doubtful()
                || matches!(extra.line.choice, MaterialChoice::New)
                || assumed.iter().any(|w| w.contains(&extra.line.wanted.name));
            let fate = if told { Fate::Told } else { Fate::Silent };
            wrong.push(format!(
                "{fate:?}: a line “{}” too many",
                extra.line.wanted.name
            ));
            if fate == Fate::Silent {
                fates.push(fate);
            }
        }
    }
    (fates, wrong)
}

/// The plainest dialect in which something still happens.
fn plainest(dialect: &Dialect, still: impl Fn(&Dialect) -> bool) -> Dialect {
    let mut dialect = dialect.clone();
    loop {
        let plainer = dialect
            .axes()
            .filter_map(|axis| dialect.plainer(axis))
            .find(|other| still(other));
        match plainer {
            Some(other) => dialect = other,
            None => return dialect,
        }
    }
}

#[derive(Default)]
struct Counts {
    /// By axis and value: right, asked, told, silent, refused.
    by_axis: BTreeMap<(Axis, &'static str), [usize; 5]>,
    all: [usize; 5],
}

impl Counts {
    fn add(&mut self, dialect: &Dialect, fates: &[Fate]) {
        for fate in fates {
            let at = *fate as usize;
            self.all[at] += 1;
            for axis in dialect.axes() {
                self.by_axis.entry((axis, dialect.of(axis))).or_default()[at] += 1;
            }
        }
    }

    /// Lines that are right or asked about as they should be, in per cent.
    fn share(counts: &[usize; 5]) -> f64 {
        let all: usize = counts.iter().sum();
        100.0 * (counts[0] + counts[1]) as f64 / all.max(1) as f64
    }

    fn table(&self) -> String {
        let mut text = format!(
            "{:<44} {:>6} {:>6} {:>6} {:>6} {:>7} {:>8}\n",
            "", "right", "asked", "told", "silent", "refused", "right %"
        );
        let mut row = |name: &str, n: &[usize; 5]| {
            let _ = writeln!(
                text,
                "{name:<44} {:>6} {:>6} {:>6} {:>6} {:>7} {:>8.1}",
                n[0],
                n[1],
                n[2],
                n[3],
                n[4],
                Self::share(n)
            );
        };
        for ((axis, value), counts) in &self.by_axis {
            row(&format!("{axis:?}: {value}"), counts);
        }
        row("all", &self.all);
        text
    }
}

fn number_in(variable: &str) -> Option<u64> {
    std::env::var(variable).ok()?.parse().ok()
}

/// What a reader makes of tables: how a case is written, read and judged.
struct Trial<'r> {
    /// What becomes of each line of a table, and what is wrong in words.
    judge: &'r dyn Fn(u64, &Dialect) -> Judged,
    /// The table, to be looked at.
    shown: &'r dyn Fn(u64, &Dialect) -> String,
}

impl Trial<'_> {
    fn is_silent(&self, seed: u64, dialect: &Dialect) -> bool {
        let (fates, wrong) = (self.judge)(seed, dialect);
        fates.contains(&Fate::Silent) || wrong.iter().any(|w| w.starts_with("silent"))
    }

    fn is_bad(&self, seed: u64, dialect: &Dialect) -> bool {
        let (fates, _) = (self.judge)(seed, dialect);
        fates
            .iter()
            .any(|f| !matches!(f, Fate::Right | Fate::Asked))
    }

    /// Draws tables and holds what is read of them to a share that is right, and to none that
    /// is wrong in silence.
    fn run(&self, drawn: u64, right: f64, draw: impl Fn(&mut Dice) -> Dialect) {
        let many = number_in("DIALECTS");
        let base = number_in("DIALECTS_SEED").unwrap_or(20_261_128);
        let mut dice = Dice::new(base);
        let mut counts = Counts::default();
        let mut silent: Vec<(u64, Dialect)> = Vec::new();
        let mut bad: Vec<(u64, Dialect)> = Vec::new();
        for _ in 0..many.unwrap_or(drawn) {
            let seed = dice.next() >> 1;
            let dialect = draw(&mut dice);
            let (fates, _) = (self.judge)(seed, &dialect);
            counts.add(&dialect, &fates);
            if self.is_silent(seed, &dialect) {
                silent.push((seed, dialect));
            } else if self.is_bad(seed, &dialect) {
                bad.push((seed, dialect));
            }
        }
        if many.is_some() {
            eprintln!("{}", counts.table());
            self.show(&bad, "not right", |s, d| self.is_bad(s, d));
        }
        self.show(&silent, "silent", |s, d| self.is_silent(s, d));
        assert!(
            silent.is_empty(),
            "{} tables with silent errors",
            silent.len()
        );
        let share = Counts::share(&counts.all);
        assert!(
            share >= right,
            "{share:.1} % of the lines are right\n{}",
            counts.table()
        );
    }

    /// Prints what is wrong in some tables, each in the plainest dialect that shows it, the
    /// most frequent dialects first.
    fn show(&self, cases: &[(u64, Dialect)], what: &str, still: impl Fn(u64, &Dialect) -> bool) {
        /// Making more of them plainer takes long.
        const MOST: usize = 150;
        let mut classes: BTreeMap<String, Vec<(u64, Dialect)>> = BTreeMap::new();
        for (seed, dialect) in cases.iter().take(MOST) {
            let small = plainest(dialect, |d| still(*seed, d));
            classes
                .entry(small.words())
                .or_default()
                .push((*seed, small));
        }
        let mut classes: Vec<_> = classes.into_iter().collect();
        classes.sort_by_key(|(_, all)| std::cmp::Reverse(all.len()));
        eprintln!("{what}: {} tables", cases.len());
        for (words, all) in classes {
            let (seed, dialect) = &all[0];
            let (_, wrong) = (self.judge)(*seed, dialect);
            eprintln!("== {what} {} times: {words} (seed {seed})", all.len());
            eprintln!("{}\n{}", (self.shown)(*seed, dialect), wrong.join("\n"));
        }
    }
}

/// Recipes drawn in the suite.
const RECIPES: u64 = 200;
/// The share of their lines in per cent that must be read right, with a question or without.
const RIGHT_OF_RECIPES: f64 = 95.0;
/// Price lists drawn in the suite.
const PRICE_LISTS: u64 = 100;
/// The share of their rows in per cent that must be read right, with a question or without.
const RIGHT_OF_PRICES: f64 = 95.0;

#[test]
fn recipes_in_any_dialect_are_read_or_asked_about() {
    let resolver = Resolver::new(built_in());
    let trial = Trial {
        judge: &|seed, dialect| judge(&case(seed, dialect), &resolver),
        shown: &|seed, dialect| case(seed, dialect).given.shown(),
    };
    trial.run(RECIPES, RIGHT_OF_RECIPES, |dice| {
        sensible(&Dialect::draw(AXES, dice))
    });
}

#[test]
fn price_lists_in_any_dialect_are_read_or_asked_about() {
    let resolver = Resolver::new(built_in());
    let trial = Trial {
        judge: &|seed, dialect| prices::judge(seed, dialect, &resolver),
        shown: &|seed, dialect| prices::given(seed, dialect).1.shown(),
    };
    trial.run(PRICE_LISTS, RIGHT_OF_PRICES, |dice| {
        prices::sensible(&Dialect::draw(PRICE_AXES, dice))
    });
}

/// What each column is headed with is understood, in each language and however it is written.
#[test]
fn headings_of_makers_are_understood() {
    let mut wrong = Vec::new();
    for (column, kinds) in words::MEANT {
        for language in ["en", "de", "fr", "es", "it", "nl", "pl"] {
            for words in words::headings(*column, language) {
                // "#" is told by what stands below it.
                if !words.contains(char::is_alphabetic) && !words.contains(['%', '/']) {
                    continue;
                }
                let found = heading(words).map(|c| c.kind);
                if !found.is_some_and(|k| kinds.contains(&k)) {
                    wrong.push(format!("{language} {column:?} “{words}” is {found:?}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
