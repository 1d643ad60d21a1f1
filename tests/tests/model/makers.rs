//! Recipes, price lists and lists of materials as makers keep them, made with openpyxl,
//! `XlsxWriter`, pandas, odfpy and LibreOffice by the scripts in `tests/data/tables/makers`.
//! What a person would read in each stands in `expected.json` there; it was written before
//! the files were read. All of it is invented.
#![expect(clippy::unwrap_used, reason = "what cannot be read is a failed test")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use formulation::file::table::price_list::{self, PriceList, looks_like_prices};
use formulation::file::table::questions::Standing;
use formulation::file::table::recipe::{MaterialChoice, RecipeProposal, RecipeSettings, propose};
use formulation::file::table::sections::{RecipeSection, sections};
use formulation::file::table::{Table, read_file, variants};
use formulation::formula::Formula;
use formulation::material::ProductKind;
use formulation::naming::Resolver;
use formulation::quantity::in_grams;
use formulation::shelf::built_in;
use serde_json::Value;

/// Another folder with files and an `expected.json` of the same form, to see how files are
/// read that nobody has tuned the reader to.
const OTHER: &str = "MAKERS_FOLDER";

fn folder() -> PathBuf {
    std::env::var_os(OTHER).map_or_else(
        || Path::new(env!("CARGO_MANIFEST_DIR")).join("data/tables/makers"),
        PathBuf::from,
    )
}

/// What became of the lines of one class.
#[derive(Default)]
struct Count {
    right: usize,
    /// Of these, asked about as they should be.
    asked: usize,
    /// Wrong, but the maker is told.
    told: usize,
    /// Wrong or missing without a word.
    silent: usize,
    /// Not read, and the maker is told.
    refused: usize,
}

/// How something wrong shows.
#[derive(Clone, Copy, PartialEq)]
enum Wrong {
    Told,
    Silent,
    Refused,
}

impl Wrong {
    fn told(told: bool) -> Self {
        if told { Self::Told } else { Self::Silent }
    }
    fn missing(told: bool) -> Self {
        if told { Self::Refused } else { Self::Silent }
    }
}

/// A line as it was read.
struct Read {
    name: String,
    material: String,
    doubtful: bool,
    percent: f64,
    phase: String,
}

fn material_of(choice: &MaterialChoice) -> String {
    match choice {
        MaterialChoice::Known(id, _) => id.to_string(),
        MaterialChoice::New | MaterialChoice::NewPure(_) => "new".to_owned(),
        MaterialChoice::Made(material) => material.id.to_string(),
    }
}

/// Whether a material is one of those expected, "a|b"; with a question mark in front it must
/// be asked about, and nothing behind the mark stands for any.
fn fits(expected: &str, material: &str, doubtful: bool) -> bool {
    let all = expected.starts_with('?');
    expected.split('|').any(|one| {
        let asked = all || one.starts_with('?');
        let id = one.trim_start_matches('?');
        (asked == doubtful || id == "new") && (id.is_empty() || id == material)
    })
}

fn lines_of(proposal: &RecipeProposal, formula: &Formula) -> Vec<Read> {
    let variant = formula.active();
    // Lines come phase by phase.
    let order = (0..proposal.phases.len())
        .flat_map(|p| proposal.lines.iter().filter(move |l| l.phase == p));
    order
        .zip(variant.lines())
        .map(|(line, (phase, taken))| Read {
            name: line.wanted.name.clone(),
            material: material_of(&line.choice),
            doubtful: line.is_doubtful(),
            percent: taken.percent.as_percent(),
            phase: phase.letter.to_string(),
        })
        .collect()
}

/// The recipes of a file as the command takes them in, and what is assumed by that.
fn recipes_of(tables: &[Table], all: bool) -> (Vec<RecipeSection>, Option<String>) {
    let found = sections(tables);
    let (kept, why) = if all {
        ((0..found.len()).collect(), None)
    } else {
        variants::usual(&found)
    };
    let kept = found
        .into_iter()
        .enumerate()
        .filter(|(n, _)| kept.contains(n))
        .map(|(_, section)| section)
        .collect();
    (kept, why)
}

/// Every row ends as taken, asked or left out; else what is amiss.
fn amiss_of_rows<'p>(
    standings: &BTreeMap<usize, Standing<'p>>,
    rows: usize,
    one: impl Fn(usize) -> Option<Standing<'p>>,
) -> Option<String> {
    if standings.len() != rows {
        return Some(format!("{rows} rows, but {standings:?}"));
    }
    let other = standings
        .iter()
        .find(|(row, standing)| one(**row) != Some(**standing))?;
    Some(format!(
        "row {} stands as {:?} and {:?}",
        other.0,
        other.1,
        one(*other.0)
    ))
}

struct Findings {
    counts: BTreeMap<String, Count>,
    problems: Vec<String>,
}

impl Findings {
    fn right(&mut self, class: &str, asked: bool) {
        let count = self.counts.entry(class.to_owned()).or_default();
        count.right += 1;
        count.asked += usize::from(asked);
    }
    fn wrong(&mut self, class: &str, file: &str, wrong: Wrong, what: &str) {
        let count = self.counts.entry(class.to_owned()).or_default();
        let how = match wrong {
            Wrong::Told => {
                count.told += 1;
                "told"
            }
            Wrong::Silent => {
                count.silent += 1;
                "silent"
            }
            Wrong::Refused => {
                count.refused += 1;
                "refused"
            }
        };
        self.problems.push(format!("{file}: {how}: {what}"));
    }
    /// A table is not read: all its lines are refused.
    fn refused(&mut self, case: &Value, what: &str) {
        for line in case["lines"].as_array().into_iter().flatten() {
            let what = format!("no line {}: {what}", line[0]);
            self.wrong(text(case, "cls"), text(case, "file"), Wrong::Refused, &what);
        }
    }
}

/// Whether a line goes by a name: the first of it, or one of those in a list behind it where
/// several are as good, as with and without the size of the pack.
fn is_called(line: &Value, name: &str) -> bool {
    line[0] == name
        || line[4]
            .as_array()
            .is_some_and(|all| all.iter().any(|one| one == name))
}

fn text<'v>(value: &'v Value, key: &str) -> &'v str {
    value[key].as_str().unwrap_or_default()
}

fn check_recipe(case: &Value, resolver: &Resolver<'_>, findings: &mut Findings) {
    let (class, file) = (text(case, "cls"), text(case, "file"));
    let tables = match read_file(&folder().join(file)) {
        Ok(tables) => tables,
        Err(error) => {
            findings.refused(case, &error.to_string());
            return;
        }
    };
    let all = case["args"]
        .as_array()
        .is_some_and(|a| a.contains(&"--all".into()));
    let mut read: Vec<Read> = Vec::new();
    let (taken, why) = recipes_of(&tables, all);
    let count = taken.len();
    if taken.is_empty() {
        findings.refused(case, "no recipe was seen in it");
        return;
    }
    let mut assumed: Vec<String> = why.into_iter().collect();
    // What is told besides assumptions.
    let mut told: Vec<String> = Vec::new();
    let (mut steps, mut batch) = (0, 0.0);
    for section in taken {
        let settings = RecipeSettings {
            layout: section.layout.clone(),
            ..RecipeSettings::default()
        };
        let proposal = match propose(&section.table, "Test", &settings, resolver) {
            Ok(proposal) => proposal,
            Err(error) => {
                findings.refused(case, &error.to_string());
                return;
            }
        };
        if let Some(amiss) = amiss_of_rows(&proposal.standings(), proposal.rows, |row| {
            proposal.standing(row)
        }) {
            findings.wrong(class, file, Wrong::Silent, &amiss);
        }
        let accepted = match proposal.accept(resolver) {
            Ok(accepted) => accepted,
            Err(error) => {
                findings.refused(case, &error.to_string());
                return;
            }
        };
        assumed.extend(proposal.assumptions());
        told.extend(proposal.left_out.iter().map(ToString::to_string));
        told.extend(proposal.notes.iter().cloned());
        if case["leave_on"].as_bool() == Some(true)
            && (proposal.kind_assumed
                || accepted.formula.active().product.kinds != ProductKind::LeaveOn.into())
        {
            findings.wrong(class, file, Wrong::Silent, "it was not read as left on");
        }
        read.extend(lines_of(&proposal, &accepted.formula));
        let variant = accepted.formula.active();
        steps += variant.phases.iter().map(|p| p.steps.len()).sum::<usize>();
        batch = in_grams(variant.batch);
    }
    let whole_told = assumed.iter().any(|words| {
        !words.starts_with("row ")
            && !words.contains("washed off")
            && !words.contains("by its name")
    });
    if let Some(expected) = case["recipes"].as_u64()
        && count as u64 != expected
    {
        let what = format!("{count} recipes, expected {expected}");
        findings.wrong(class, file, Wrong::told(whole_told), &what);
    }
    for line in case["lines"].as_array().unwrap() {
        let (name, ids) = (line[0].as_str().unwrap(), line[1].as_str().unwrap());
        let (percent, phase) = (line[2].as_f64(), line[3].as_str().unwrap());
        // How the phase is called in the file, where that is no letter.
        let called = case["phases"][phase].as_str();
        let phase = called.filter(|c| c.chars().count() <= 3).unwrap_or(phase);
        let place = read.iter().position(|r| is_called(line, &r.name));
        let Some(found) = place.map(|at| read.remove(at)) else {
            let told = assumed.iter().any(|words| words.contains(name));
            let what = format!("no line “{name}”");
            findings.wrong(class, file, Wrong::missing(told), &what);
            continue;
        };
        let slack = case["tol"].as_f64().unwrap_or(0.006);
        let percent_fits = percent.is_none_or(|p| (found.percent - p).abs() <= slack.max(p * 5e-4));
        if percent_fits
            && (phase.is_empty() || found.phase == phase)
            && fits(ids, &found.material, found.doubtful)
        {
            findings.right(class, found.doubtful);
        } else {
            let told = found.doubtful || !percent_fits && whole_told || found.material == "new";
            let what = format!(
                "“{name}” is {} % of {} in {} ({}), expected {percent:?} % of {ids} in {phase}",
                found.percent,
                found.material,
                found.phase,
                if found.doubtful { "asked" } else { "not asked" },
            );
            findings.wrong(class, file, Wrong::told(told), &what);
        }
    }
    for extra in read {
        let what = format!("a line “{}” too many", extra.name);
        findings.wrong(class, file, Wrong::told(extra.doubtful), &what);
    }
    told.extend(assumed.iter().cloned());
    check_told(case, &assumed, &told, findings);
    if let Some(expected) = case["batch"].as_f64()
        && (batch - expected).abs() >= 0.01
    {
        let what = format!("a batch of {batch} g, expected {expected} g");
        findings.wrong(class, file, Wrong::Silent, &what);
    }
    if let Some(expected) = case["steps"].as_u64()
        && steps as u64 != expected
    {
        let what = format!("{steps} steps, expected {expected}");
        findings.wrong(class, file, Wrong::Silent, &what);
    }
}

/// What has to be assumed of a file, and what has to be told of it.
fn check_told(case: &Value, assumed: &[String], told: &[String], findings: &mut Findings) {
    let (class, file) = (text(case, "cls"), text(case, "file"));
    if case["assumed"].as_bool() == Some(true) && assumed.is_empty() {
        findings.wrong(class, file, Wrong::Silent, "nothing was assumed");
    }
    for word in case["said"].as_array().into_iter().flatten() {
        let word = word.as_str().unwrap();
        if !told.iter().any(|words| words.contains(word)) {
            let what = format!("nothing was told of “{word}”");
            findings.wrong(class, file, Wrong::Silent, &what);
        }
    }
}

fn check_list(case: &Value, resolver: &Resolver<'_>, findings: &mut Findings) {
    let (class, file) = (text(case, "cls"), text(case, "file"));
    let tables = match read_file(&folder().join(file)) {
        Ok(tables) => tables,
        Err(error) => {
            findings.refused(case, &error.to_string());
            return;
        }
    };
    let Some(table) = tables.iter().find(|t| looks_like_prices(t)) else {
        findings.refused(case, "no list was seen in it");
        return;
    };
    let list: PriceList = match price_list::propose(table, &RecipeSettings::default(), resolver) {
        Ok(list) => list,
        Err(error) => {
            findings.refused(case, &error.to_string());
            return;
        }
    };
    if let Some(amiss) = amiss_of_rows(&list.standings(), list.rows, |row| list.standing(row)) {
        findings.wrong(class, file, Wrong::Silent, &amiss);
    }
    let assumed = list.assumptions();
    check_told(case, &assumed, &assumed, findings);
    if case["dates"].as_bool() == Some(true) && list.open_days.is_none() {
        findings.wrong(class, file, Wrong::Silent, "the days were not asked");
    }
    let mut prices: Vec<_> = list.prices.iter().collect();
    for line in case["lines"].as_array().unwrap() {
        let (name, ids) = (line[0].as_str().unwrap(), line[1].as_str().unwrap());
        let wanted: Vec<&str> = line[2]
            .as_array()
            .unwrap()
            .iter()
            .filter_map(Value::as_str)
            .collect();
        let place = prices.iter().position(|p| is_called(line, &p.wanted.name));
        let Some(found) = place.map(|at| prices.remove(at)) else {
            let told = assumed.iter().any(|words| words.contains(name));
            let what = format!("no row “{name}”");
            findings.wrong(class, file, Wrong::missing(told), &what);
            continue;
        };
        let offers: Vec<String> = found.offers.iter().map(price_words).collect();
        let offers_fit = text(case, "kind") == "materials" || offers == wanted;
        let lot_fits = line[3].as_str().is_none_or(|code| {
            found
                .lot
                .as_ref()
                .is_some_and(|lot| lot.words().contains(code))
        });
        let doubtful = found.is_doubtful();
        if offers_fit && lot_fits && fits(ids, &material_of(&found.choice), doubtful) {
            findings.right(class, doubtful);
        } else {
            let told = doubtful || !offers_fit && !assumed.is_empty();
            let what = format!(
                "“{name}” is {} at {offers:?}, expected {ids} at {wanted:?}",
                material_of(&found.choice)
            );
            findings.wrong(class, file, Wrong::told(told), &what);
        }
    }
    let spare: Vec<&str> = case["spare"]
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(Value::as_str)
        .collect();
    for extra in prices
        .iter()
        .filter(|p| !spare.contains(&p.wanted.name.as_str()))
    {
        let what = format!("a row “{}” too many", extra.wanted.name);
        findings.wrong(class, file, Wrong::told(extra.is_doubtful()), &what);
    }
}

/// A price with two digits at least, as the expectations write it.
fn price_words(offer: &price_list::ProposedOffer) -> String {
    let Some(price) = offer.price else {
        return format!("no price for {}", offer.pack);
    };
    let mut price = price.normalize();
    if price.scale() < 2 {
        price.rescale(2);
    }
    format!("{price} {} for {}", offer.currency, offer.pack)
}

#[test]
fn tables_of_makers_are_read_as_a_person_reads_them() {
    let expected = std::fs::read_to_string(folder().join("expected.json")).unwrap();
    let cases: Vec<Value> = serde_json::from_str(&expected).unwrap();
    let resolver = Resolver::new(built_in());
    let mut findings = Findings {
        counts: BTreeMap::new(),
        problems: Vec::new(),
    };
    for case in &cases {
        let before = findings.problems.len();
        if text(case, "kind") == "recipe" {
            check_recipe(case, &resolver, &mut findings);
        } else {
            check_list(case, &resolver, &mut findings);
        }
        // What is not read yet, and why, is written beside the case; it may be asked about or
        // refused, but never be wrong in silence.
        if case["open"].is_string() {
            let new = findings.problems.split_off(before);
            let silent = |problem: &String| problem.contains(": silent: ");
            findings.problems.extend(new.into_iter().filter(silent));
        }
    }
    let table: Vec<String> = findings
        .counts
        .iter()
        .map(|(class, n)| {
            format!(
                "{class}: {} right, {} of them asked; {} told, {} silent, {} refused",
                n.right, n.asked, n.told, n.silent, n.refused
            )
        })
        .collect();
    let sum = |of: fn(&Count) -> usize| findings.counts.values().map(of).sum::<usize>();
    let all = format!(
        "all: {} right, {} of them asked; {} told, {} silent, {} refused",
        sum(|n| n.right),
        sum(|n| n.asked),
        sum(|n| n.told),
        sum(|n| n.silent),
        sum(|n| n.refused)
    );
    let problems = findings.problems.join("\n");
    assert!(
        problems.is_empty(),
        "{problems}\n{}\n{all}",
        table.join("\n")
    );
}
