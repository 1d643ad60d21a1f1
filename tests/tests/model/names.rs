//! Names of raw materials as makers write them in seven languages, with what a careful person
//! would say to each: this material, "ask, and offer these", or "none of these". What is not
//! the same in meaning must be asked; the nearest is never taken silently.
//!
//! The list `tests/data/names/names.txt` was written from general knowledge of the trade before
//! the names of the shelf were looked at. `NAMES=FILE` reads another list of the form that its
//! head explains, and prints what became of each name.
#![expect(clippy::unwrap_used, reason = "what cannot be read is a failed test")]

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::path::Path;
use std::sync::Arc;

use formulation::material::{Class, Material};
use formulation::naming::{Resolver, Wanted};
use formulation::shelf::built_in;

/// What a careful person says to a name.
enum Expected {
    /// One of the materials with these substances, perhaps with so many percent of the first.
    Is(Vec<String>, Option<f64>),
    /// One of these, taken or offered.
    Either(Vec<Vec<String>>),
    /// Not without a question, in which these are offered.
    Ask(Vec<Vec<String>>),
    /// None on the shelf.
    New,
}

/// What became of a name.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Fate {
    /// Taken, offered or new as it should be.
    Right,
    /// Asked about, though it is plain.
    Asked,
    /// Not offered, though the shelf has it.
    Missed,
    /// Another material was taken silently.
    Silent,
}

/// An INCI name as it is compared: letters and digits, without what stands in brackets.
fn bare(inci: &str) -> String {
    let outside = inci.split('(').next().unwrap_or(inci);
    let after = inci.split_once(')').map_or("", |(_, rest)| rest);
    let letters = outside.chars().chain(after.chars());
    letters
        .filter(|c| c.is_alphanumeric())
        .flat_map(char::to_lowercase)
        .collect()
}

fn substances(text: &str) -> Vec<String> {
    text.split(" + ").map(bare).collect()
}

impl Expected {
    fn read(text: &str) -> Self {
        let text = text.trim();
        if text == "new" {
            return Self::New;
        }
        if let Some(either) = text.strip_prefix('~') {
            return Self::Either(either.split(" / ").map(substances).collect());
        }
        if let Some(offered) = text.strip_prefix('?') {
            let all = offered.split(" / ");
            return Self::Ask(all.map(substances).collect());
        }
        let said = text.strip_prefix('=').unwrap();
        match said.split_once('@') {
            Some((inci, percent)) => {
                Self::Is(substances(inci), Some(percent.trim().parse().unwrap()))
            }
            None => Self::Is(substances(said), None),
        }
    }
}

/// Whether a material is made of these substances, the largest besides water among them.
fn is_of(material: &Material, wanted: &[String], percent: Option<f64>) -> bool {
    let all: Vec<String> = material
        .constituents
        .iter()
        .map(|c| bare(c.inci.spelling()))
        .collect();
    // What an oil or a blend is made of by nature is no ingredient of its own.
    let mut named = material
        .constituents
        .iter()
        .filter(|c| c.incidental.is_none() && bare(c.inci.spelling()) != "aqua");
    let largest = named
        .clone()
        .max_by(|a, b| a.share.typical.value().total_cmp(&b.share.typical.value()))
        .or_else(|| material.constituents.first());
    // Or what it is called by: "Behentrimonium methosulfate 25 % in cetearyl alcohol".
    let begins = |text: &str| bare(text).chars().take(4).collect::<String>();
    let called = named.find(|c| begins(c.inci.spelling()) == begins(&material.name));
    let mains: Vec<String> = [largest, called]
        .into_iter()
        .flatten()
        .map(|c| bare(c.inci.spelling()))
        .collect();
    let share = |name: &String| {
        let of = material
            .constituents
            .iter()
            .filter(|c| bare(c.inci.spelling()) == *name);
        of.map(|c| c.share.typical.as_percent()).sum::<f64>()
    };
    wanted.iter().all(|w| all.contains(w))
        && mains.iter().any(|main| wanted.contains(main))
        && percent.is_none_or(|p| {
            let dry: f64 = (material.constituents.iter())
                .filter(|c| c.class != Class::Water)
                .map(|c| c.share.typical.as_percent())
                .sum();
            wanted
                .first()
                .is_some_and(|w| (share(w) - p).abs() <= 2.5 || (dry - p).abs() <= 2.5)
        })
}

/// A line of the list.
struct Name {
    language: String,
    wanted: Wanted,
    expected: Expected,
    written: String,
}

fn read(text: &str) -> Vec<Name> {
    let lines = text
        .lines()
        .filter(|l| !l.is_empty() && !l.starts_with('#'));
    lines
        .map(|line| {
            let fields: Vec<&str> = line.split('|').map(str::trim).collect();
            let [language, name, inci, cas, expected] = fields[..] else {
                panic!("“{line}” has not five fields");
            };
            Name {
                language: language.to_owned(),
                wanted: Wanted {
                    name: name.to_owned(),
                    inci: inci.to_owned(),
                    cas: cas.parse().ok(),
                    ..Wanted::default()
                },
                expected: Expected::read(expected),
                written: expected.trim().to_owned(),
            }
        })
        .collect()
}

/// What became of a name, and in words what was found.
fn judge(name: &Name, resolver: &Resolver<'_>) -> (Fate, String) {
    let shelf = built_in();
    let found = resolver.resolve(&name.wanted);
    let materials: Vec<&Arc<Material>> = (found.candidates.iter())
        .filter_map(|c| shelf.get(&c.id))
        .collect();
    let is_silent = found.taken
        && found.doubts.is_empty()
        && found
            .candidates
            .first()
            .is_some_and(|c| !c.how.is_doubtful());
    let on_shelf = |wanted: &[String], percent| shelf.iter().any(|m| is_of(m, wanted, percent));
    let offered = |wanted: &[String], percent| materials.iter().any(|m| is_of(m, wanted, percent));
    let fate = match &name.expected {
        Expected::Is(wanted, percent) if is_silent => {
            if is_of(materials[0], wanted, *percent) {
                Fate::Right
            } else {
                Fate::Silent
            }
        }
        Expected::Is(wanted, percent) if offered(wanted, *percent) => Fate::Asked,
        Expected::Is(wanted, percent) if on_shelf(wanted, *percent) => Fate::Missed,
        Expected::Either(all) if is_silent => {
            if all.iter().any(|w| is_of(materials[0], w, None)) {
                Fate::Right
            } else {
                Fate::Silent
            }
        }
        Expected::Either(all) if all.iter().any(|w| offered(w, None)) => Fate::Right,
        Expected::Either(all) if all.iter().any(|w| on_shelf(w, None)) => Fate::Missed,
        _ if is_silent => Fate::Silent,
        Expected::Ask(all) if all.iter().any(|w| on_shelf(w, None) && !offered(w, None)) => {
            Fate::Missed
        }
        _ => Fate::Right,
    };
    let candidates: Vec<String> = (found.candidates.iter())
        .map(|c| format!("{} [{}]", c.id, c.how.label()))
        .collect();
    let told = format!(
        "{} {:?} {} {:?} expected {}: {} {} — {}",
        name.language,
        name.wanted.name,
        name.wanted.inci,
        fate,
        name.written,
        if is_silent { "taken" } else { "asked" },
        candidates.join(", "),
        found.doubts.join("; "),
    );
    (fate, told)
}

#[test]
fn names_mean_what_a_careful_person_says() {
    let own = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/names/names.txt");
    let other = std::env::var_os("NAMES");
    let path = other.as_ref().map_or(own, Into::into);
    let names = read(&std::fs::read_to_string(path).unwrap());
    let resolver = Resolver::new(built_in());
    let known: BTreeSet<String> = (built_in().iter())
        .flat_map(|m| &m.constituents)
        .map(|c| bare(c.inci.spelling()))
        .collect();
    let mut counts = [0_usize; 4];
    let mut problems = String::new();
    for name in &names {
        let (fate, told) = judge(name, &resolver);
        counts[fate as usize] += 1;
        if other.is_some() || fate == Fate::Silent || fate == Fate::Missed {
            writeln!(problems, "{told}").unwrap();
        }
        if other.is_some()
            && let Expected::Is(wanted, _) = &name.expected
            && !wanted.iter().all(|w| known.contains(w))
        {
            writeln!(problems, "    not on the shelf: {wanted:?}").unwrap();
        }
    }
    let [right, asked, missed, silent] = counts;
    let sum = format!(
        "{} names: {right} right, {asked} asked though plain, {missed} not offered, {silent} silent",
        names.len()
    );
    if other.is_some() {
        eprintln!("{problems}{sum}");
    }
    assert_eq!(silent, 0, "{problems}{sum}");
    // So many of those that the shelf has are found without a question.
    assert!(
        missed * 50 <= names.len() && asked * 20 <= names.len(),
        "{problems}{sum}"
    );
}

/// The names of `everyday.txt`, or of the file that `EVERYDAY` names, with the ids meant; `new`
/// stands for a material that is not on the shelf.
fn everyday() -> Vec<(Wanted, Vec<String>)> {
    let own = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/names/everyday.txt");
    let path = std::env::var_os("EVERYDAY").map_or(own, Into::into);
    let text = std::fs::read_to_string(path).unwrap();
    let lines = text.lines().filter(|l| !l.starts_with('#'));
    lines
        .map(|line| {
            let mut fields = line.split('|').skip(1).map(str::to_owned);
            let name = fields.next().unwrap();
            (Wanted::named(name), fields.collect())
        })
        .collect()
}

#[test]
fn everyday_names_are_offered_what_they_mean() {
    let resolver = Resolver::new(built_in());
    let (mut silent, mut missed, mut taken) = (String::new(), String::new(), 0);
    let names = everyday();
    for (wanted, ids) in &names {
        for id in ids {
            assert!(
                id == "new" || built_in().iter().any(|m| m.id.as_str() == id),
                "{id}"
            );
        }
        let found = resolver.resolve(wanted);
        let offered: Vec<&str> = found.candidates.iter().map(|c| c.id.as_str()).collect();
        let is_one = |id: &&str| ids.iter().any(|wanted| wanted == id);
        let told = format!("{:?} {offered:?} {:?}\n", wanted.name, found.doubts);
        let how = found.candidates.first().map(|c| c.how);
        let alone = found.taken && found.doubts.is_empty() && how.is_some_and(|h| !h.is_doubtful());
        taken += usize::from(alone);
        if alone && !offered.first().is_some_and(is_one) {
            silent.push_str(&told);
        } else if !ids.iter().any(|id| id == "new") && !offered.iter().any(is_one) {
            missed.push_str(&told);
        }
    }
    let sum = format!("{} names, {taken} taken without a question", names.len());
    assert!(
        silent.is_empty() || missed.is_empty(),
        "{silent}not offered:\n{missed}{sum}"
    );
    assert!(silent.is_empty(), "taken for another:\n{silent}{sum}");
    assert!(missed.is_empty(), "not offered:\n{missed}{sum}");
}
