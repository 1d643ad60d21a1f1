//! Recipes, price lists and lists of materials as makers keep them, made with openpyxl,
//! `XlsxWriter`, pandas, odfpy and LibreOffice by the scripts in `tests/data/tables/makers`.
//! What a person would read in each stands in `expected.json` there; it was written before
//! the files were read. All of it is invented.
#![expect(clippy::unwrap_used, reason = "what cannot be read is a failed test")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use formulation::file::table::price_list::{self, PriceList, looks_like_prices};
use formulation::file::table::questions::Standing;
use formulation::file::table::recipe::{Choice, Proposal, Settings, propose};
use formulation::file::table::sections::{Section, sections};
use formulation::file::table::{Table, read_file, variants};
use formulation::formula::Formula;
use formulation::naming::Resolver;
use formulation::quantity::in_grams;
use formulation::shelf::built_in;
use serde_json::Value;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("data/tables/makers")
}

/// What became of the lines of one class.
#[derive(Default)]
struct Count {
    right: usize,
    /// Wrong or missing, but the maker is told.
    told: usize,
    /// Wrong or missing without a word.
    silent: usize,
}

/// A line as it was read.
struct Read {
    name: String,
    material: String,
    doubtful: bool,
    percent: f64,
    phase: String,
}

fn material_of(choice: &Choice) -> String {
    match choice {
        Choice::Known(id, _) => id.to_string(),
        Choice::New | Choice::NewPure(_) => "new".to_owned(),
        Choice::Made(material) => material.id.to_string(),
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

fn lines_of(proposal: &Proposal, formula: &Formula) -> Vec<Read> {
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

/// The recipes of a file as the command takes them in.
fn recipes_of(tables: &[Table], all: bool) -> Vec<Section> {
    let found = sections(tables);
    let kept: Vec<usize> = if all {
        (0..found.len()).collect()
    } else {
        variants::usual(&found).0
    };
    found
        .into_iter()
        .enumerate()
        .filter(|(n, _)| kept.contains(n))
        .map(|(_, section)| section)
        .collect()
}

/// Every row ends as taken, asked or left out.
fn check_rows<'p>(
    file: &str,
    standings: &BTreeMap<usize, Standing<'p>>,
    rows: usize,
    one: impl Fn(usize) -> Option<Standing<'p>>,
) {
    assert_eq!(standings.len(), rows, "{file}: {standings:?}");
    for (row, standing) in standings {
        assert_eq!(one(*row), Some(*standing), "{file}: row {row}");
    }
}

struct Findings {
    counts: BTreeMap<String, Count>,
    problems: Vec<String>,
}

impl Findings {
    fn right(&mut self, class: &str) {
        self.counts.entry(class.to_owned()).or_default().right += 1;
    }
    fn wrong(&mut self, class: &str, file: &str, told: bool, what: &str) {
        let count = self.counts.entry(class.to_owned()).or_default();
        if told {
            count.told += 1;
        } else {
            count.silent += 1;
        }
        let how = if told { "told" } else { "silent" };
        self.problems.push(format!("{file}: {how}: {what}"));
    }
}

fn text<'v>(value: &'v Value, key: &str) -> &'v str {
    value[key].as_str().unwrap_or_default()
}

fn check_recipe(case: &Value, resolver: &Resolver<'_>, findings: &mut Findings) {
    let (class, file) = (text(case, "cls"), text(case, "file"));
    let tables = read_file(&folder().join(file)).unwrap_or_else(|e| panic!("{file}: {e}"));
    let all = case["args"]
        .as_array()
        .is_some_and(|a| a.contains(&"--all".into()));
    let mut read: Vec<Read> = Vec::new();
    let mut assumed: Vec<String> = Vec::new();
    let (mut steps, mut batch) = (0, 0.0);
    for section in recipes_of(&tables, all) {
        let settings = Settings {
            layout: section.layout.clone(),
            ..Settings::default()
        };
        let proposal = match propose(&section.table, "Test", &settings, resolver) {
            Ok(proposal) => proposal,
            Err(error) => {
                findings.wrong(class, file, true, &format!("not read: {error}"));
                return;
            }
        };
        check_rows(file, &proposal.standings(), proposal.rows, |row| {
            proposal.standing(row)
        });
        let accepted = proposal.accept(resolver).unwrap();
        assumed.extend(proposal.assumptions());
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
    for line in case["lines"].as_array().unwrap() {
        let (name, ids) = (line[0].as_str().unwrap(), line[1].as_str().unwrap());
        let (percent, phase) = (line[2].as_f64(), line[3].as_str().unwrap());
        let place = read.iter().position(|r| r.name == name);
        let Some(found) = place.map(|at| read.remove(at)) else {
            let told = assumed.iter().any(|words| words.contains(name));
            findings.wrong(class, file, told, &format!("no line “{name}”"));
            continue;
        };
        let slack = case["tol"].as_f64().unwrap_or(0.006);
        let percent_fits = percent.is_none_or(|p| (found.percent - p).abs() <= slack.max(p * 5e-4));
        if percent_fits
            && (phase.is_empty() || found.phase == phase)
            && fits(ids, &found.material, found.doubtful)
        {
            findings.right(class);
        } else {
            let told = found.doubtful || !percent_fits && whole_told || found.material == "new";
            let what = format!(
                "“{name}” is {} % of {} in {} ({}), expected {percent:?} % of {ids} in {phase}",
                found.percent,
                found.material,
                found.phase,
                if found.doubtful { "asked" } else { "not asked" },
            );
            findings.wrong(class, file, told, &what);
        }
    }
    for extra in read {
        let what = format!("a line “{}” too many", extra.name);
        findings.wrong(class, file, extra.doubtful, &what);
    }
    if let Some(expected) = case["batch"].as_f64()
        && (batch - expected).abs() >= 0.01
    {
        let what = format!("a batch of {batch} g, expected {expected} g");
        findings.wrong(class, file, false, &what);
    }
    if let Some(expected) = case["steps"].as_u64()
        && steps as u64 != expected
    {
        let what = format!("{steps} steps, expected {expected}");
        findings.wrong(class, file, false, &what);
    }
}

fn check_list(case: &Value, resolver: &Resolver<'_>, findings: &mut Findings) {
    let (class, file) = (text(case, "cls"), text(case, "file"));
    let tables = read_file(&folder().join(file)).unwrap_or_else(|e| panic!("{file}: {e}"));
    let Some(table) = tables.iter().find(|t| looks_like_prices(t)) else {
        findings.wrong(class, file, true, "no list was seen in it");
        return;
    };
    let list: PriceList = match price_list::propose(table, &Settings::default(), resolver) {
        Ok(list) => list,
        Err(error) => {
            findings.wrong(class, file, true, &format!("not read: {error}"));
            return;
        }
    };
    check_rows(file, &list.standings(), list.rows, |row| list.standing(row));
    let assumed = list.assumptions();
    if case["dates"].as_bool() == Some(true) && list.open_days.is_none() {
        findings.wrong(class, file, false, "the days were not asked");
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
        let place = prices.iter().position(|p| p.wanted.name == name);
        let Some(found) = place.map(|at| prices.remove(at)) else {
            let told = assumed.iter().any(|words| words.contains(name));
            findings.wrong(class, file, told, &format!("no row “{name}”"));
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
            findings.right(class);
        } else {
            let told = doubtful || !offers_fit && !assumed.is_empty();
            let what = format!(
                "“{name}” is {} at {offers:?}, expected {ids} at {wanted:?}",
                material_of(&found.choice)
            );
            findings.wrong(class, file, told, &what);
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
        findings.wrong(class, file, extra.is_doubtful(), &what);
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
        if text(case, "kind") == "recipe" {
            check_recipe(case, &resolver, &mut findings);
        } else {
            check_list(case, &resolver, &mut findings);
        }
    }
    let table: Vec<String> = findings
        .counts
        .iter()
        .map(|(class, n)| {
            format!(
                "{class}: {} right, {} told, {} silent",
                n.right, n.told, n.silent
            )
        })
        .collect();
    let problems = findings.problems.join("\n");
    assert!(problems.is_empty(), "{problems}\n{}", table.join("\n"));
}
