//! Rules of the house that no type can hold: what is decided in one room is not decided
//! again in another.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot read the sources shall fail"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// The sources of a crate, without what is only test.
fn sources(krate: &str) -> Vec<(PathBuf, String)> {
    fn walk(folder: &Path, found: &mut Vec<PathBuf>) {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                walk(&path, found);
            } else if path.extension().is_some_and(|e| e == "rs") {
                found.push(path);
            }
        }
    }
    let mut found = Vec::new();
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates");
    walk(&root.join(krate).join("src"), &mut found);
    assert!(found.len() > 20, "{krate}: {} files", found.len());
    found
        .into_iter()
        .filter(|path| {
            !path
                .file_name()
                .unwrap()
                .to_string_lossy()
                .contains("tests")
        })
        .map(|path| {
            let text = std::fs::read_to_string(&path).unwrap();
            let code = text
                .split("#[cfg(test)]\nmod tests")
                .next()
                .unwrap()
                .to_owned();
            (path, code)
        })
        .collect()
}

fn none_of(krate: &str, words: &[&str], except: &[&str], why: &str) {
    let mut found = Vec::new();
    for (path, code) in sources(krate) {
        let name = path.to_string_lossy().replace('\\', "/");
        if except.iter().any(|e| name.ends_with(e)) {
            continue;
        }
        for (number, line) in code.lines().enumerate() {
            if words.iter().any(|w| line.contains(w)) {
                found.push(format!("{name}:{}: {}", number + 1, line.trim()));
            }
        }
    }
    assert!(found.is_empty(), "{why}:\n{}", found.join("\n"));
}

#[test]
fn numbers_typed_by_people_have_one_reader() {
    let words = [
        "replace(',', \".\")",
        "parse::<f64>()",
        "parse::<Decimal>()",
        "parse::<Percent>()",
        "Decimal::from_str_exact(",
    ];
    let why = "read typed numbers with formulation::amount::typed";
    none_of("phasewright", &words, &[], why);
    // A number is only one of the things that a word of a command may be there.
    let whole = ["parse::<u32>()", "parse::<usize>()"];
    let else_names = [
        "headless/answers.rs",
        "headless/import.rs",
        "headless/trials/notes.rs",
    ];
    none_of("phasewright", &whole, &else_names, why);
    // What is read is said, so that the words above find it.
    none_of("phasewright", &[".parse()"], &[], why);
    // Files hold plain decimals of our own; tables and texts go through `amount::number`.
    let own = [
        "file/quantity_text.rs",
        "file/formula_table.rs",
        "amount/number.rs",
    ];
    none_of("formulation", &words, &own, why);
    let own = ["quantity.rs", "file/quantity_text.rs"];
    for krate in ["formulation", "phasewright"] {
        none_of(krate, &["PercentError"], &own, why);
    }
}

#[test]
fn the_model_knows_no_screen_and_no_clock() {
    let words = ["egui", "SystemTime::now", "Zoned::now", "Timestamp::now"];
    none_of("formulation", &words, &[], "the model is pure");
}

/// Words and marks of a source, without comments.
fn tokens(code: &str) -> Vec<String> {
    let mut found = Vec::new();
    for line in code.lines() {
        let line = line.split("//").next().unwrap();
        let mut rest = line.chars().peekable();
        while let Some(c) = rest.next() {
            let mut token = String::from(c);
            if c.is_alphanumeric() || c == '_' {
                while let Some(c) = rest.next_if(|c| c.is_alphanumeric() || *c == '_') {
                    token.push(c);
                }
            } else if c == ':' && rest.next_if_eq(&':').is_some() {
                token.push(':');
            }
            if !token.trim().is_empty() {
                found.push(token);
            }
        }
    }
    found
}

/// Reads a path, and every path of a group in braces, from a place on; gives the place behind.
fn read_paths(
    tokens: &[String],
    mut at: usize,
    mut path: Vec<String>,
    found: &mut Vec<Vec<String>>,
) -> usize {
    let token = |at: usize| tokens.get(at).map_or("", String::as_str);
    loop {
        path.push(token(at).to_owned());
        at += 1;
        if token(at) != "::" {
            found.push(path);
            return at;
        }
        at += 1;
        if token(at) != "{" {
            continue;
        }
        while !["}", ""].contains(&token(at)) {
            at = read_paths(tokens, at + 1, path.clone(), found);
            while ![",", "}", ""].contains(&token(at)) {
                at += 1;
            }
        }
        return at + 1;
    }
}

/// The place of the bracket that closes the one at a place.
fn closing(tokens: &[String], open: usize) -> usize {
    let mut depth = 0_i32;
    for (at, token) in tokens.iter().enumerate().skip(open) {
        match token.as_str() {
            "(" | "[" | "{" => depth += 1,
            ")" | "]" | "}" => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return at;
        }
    }
    panic!("a bracket is not closed: {:?}", &tokens[open..]);
}

/// The variants of an enum of a source.
fn variants(tokens: &[String], name: &str) -> Option<BTreeSet<String>> {
    let head = tokens
        .windows(2)
        .position(|two| two[0] == "enum" && two[1] == name)?;
    let mut at = head + 2 + tokens[head + 2..].iter().position(|t| t == "{")? + 1;
    let mut found = BTreeSet::new();
    while tokens[at] != "}" {
        if tokens[at] == "#" {
            at = closing(tokens, at + 1) + 1;
            continue;
        }
        found.insert(tokens[at].clone());
        while ![",", "}"].contains(&tokens[at].as_str()) {
            let opens = ["(", "{"].contains(&tokens[at].as_str());
            at = if opens { closing(tokens, at) } else { at } + 1;
        }
        if tokens[at] == "," {
            at += 1;
        }
    }
    Some(found)
}

/// The lists `ALL` of a source: the enum, and the variants that the list names.
fn lists_of_all(tokens: &[String]) -> Vec<(String, BTreeSet<String>)> {
    let mut found = Vec::new();
    let heads = tokens.windows(3).enumerate();
    for (at, _) in heads.filter(|(_, t)| t[0] == "const" && t[1] == "ALL" && t[2] == ":") {
        let is = at + tokens[at..].iter().position(|t| t == "=").unwrap();
        let open = is + tokens[is..].iter().position(|t| t == "[").unwrap_or(0);
        // What a macro writes is whole, and a list of something else is no list of variants.
        if !tokens[at..is].iter().any(|t| t == "Self") || tokens[open + 1] == "$" {
            continue;
        }
        let begun = tokens[..at].iter().rposition(|t| t == "impl").unwrap();
        let body = begun + tokens[begun..].iter().position(|t| t == "{").unwrap();
        let named = tokens[open..closing(tokens, open)].windows(3);
        let named = named.filter(|t| t[0] == "Self" && t[1] == "::");
        let named = named.map(|t| t[2].clone()).collect();
        found.push((tokens[body - 1].clone(), named));
    }
    found
}

#[test]
fn every_list_of_all_names_all() {
    let (mut lists, mut lacking) = (0, Vec::new());
    for krate in ["formulation", "phasewright"] {
        for (path, code) in sources(krate) {
            let tokens = tokens(&code);
            for (name, listed) in lists_of_all(&tokens) {
                lists += 1;
                let all = variants(&tokens, &name);
                let left_out = all.map(|all| all.difference(&listed).cloned().collect());
                let left_out: Vec<String> = left_out.unwrap_or_else(|| vec!["the enum".into()]);
                if !left_out.is_empty() {
                    lacking.push(format!("{}: {name}: {left_out:?}", path.display()));
                }
            }
        }
    }
    assert!(lists > 40, "{lists}");
    assert!(lacking.is_empty(), "not in `ALL`:\n{}", lacking.join("\n"));
    let short = "enum Mark { A, #[doc = \"b\"] B(u8), C { d: [u8; 2] } }
        impl Mark { const ALL: [Self; 2] = [Self::A, Self::C { d: [0; 2] }]; }";
    let short = tokens(short);
    let (name, listed) = lists_of_all(&short).remove(0);
    let all = variants(&short, &name).unwrap();
    assert_eq!(all.difference(&listed).collect::<Vec<_>>(), ["B"]);
}

/// The modules of a crate, each with those it takes something from.
fn modules(krate: &str) -> BTreeMap<String, BTreeSet<String>> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates");
    let root = root.join(krate).join("src");
    let code: BTreeMap<Vec<String>, String> = sources(krate)
        .into_iter()
        .map(|(path, code)| {
            let path = path.strip_prefix(&root).unwrap().with_extension("");
            let mut names: Vec<String> = path
                .iter()
                .map(|part| part.to_string_lossy().into_owned())
                .collect();
            names.pop_if(|name| name == "mod");
            (names, code)
        })
        .collect();
    let known = |path: &[String]| {
        (1..=path.len())
            .rev()
            .map(|length| path[..length].to_vec())
            .find(|path| code.contains_key(path))
    };
    code.iter()
        .map(|(module, text)| {
            let tokens = tokens(text);
            let mut paths = Vec::new();
            for (at, token) in tokens.iter().enumerate() {
                if ["crate", "super"].contains(&token.as_str())
                    && at
                        .checked_sub(1)
                        .is_none_or(|before| tokens[before] != "::")
                {
                    read_paths(&tokens, at, Vec::new(), &mut paths);
                }
            }
            let taken = paths.into_iter().filter_map(|path| {
                let ups = path.iter().take_while(|part| *part == "super").count();
                let from = module.len().checked_sub(ups)?;
                let begin: &[String] = if ups > 0 { &module[..from] } else { &[] };
                let rest = path.into_iter().skip(ups.max(1));
                let path: Vec<String> = begin.iter().cloned().chain(rest).collect();
                known(&path)
            });
            let taken = taken.filter(|other| other != module);
            (module.join("::"), taken.map(|m| m.join("::")).collect())
        })
        .collect()
}

/// What each room takes from the rooms beside it, at every depth: of two modules, the rooms
/// in which they first part.
fn rooms(krate: &str) -> BTreeMap<String, BTreeSet<String>> {
    let mut rooms: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (module, others) in modules(krate) {
        for other in others {
            let (here, there): (Vec<&str>, Vec<&str>) =
                (module.split("::").collect(), other.split("::").collect());
            let same = here.iter().zip(&there).take_while(|(a, b)| a == b).count();
            if same < here.len() && same < there.len() {
                let taken = rooms.entry(here[..=same].join("::")).or_default();
                taken.insert(there[..=same].join("::"));
            }
        }
    }
    rooms
}

#[test]
fn no_room_takes_from_one_that_takes_from_it() {
    for krate in ["formulation", "phasewright"] {
        let mut rooms = rooms(krate);
        assert!(rooms.len() > 50, "{krate}: {rooms:?}");
        // What takes from nothing that is left is taken off, until nothing is.
        loop {
            let all: BTreeSet<String> = rooms.keys().cloned().collect();
            for others in rooms.values_mut() {
                others.retain(|other| all.contains(other));
            }
            let before = rooms.len();
            rooms.retain(|_, others| !others.is_empty());
            if rooms.len() == before {
                break;
            }
        }
        assert!(rooms.is_empty(), "{krate}, in a circle: {rooms:#?}");
    }
}

/// Only `file` touches a disk, and the model below it does not know it.
#[test]
fn the_model_does_not_know_files() {
    let above = ["file", "starts", "fixture", "random_formula"];
    for (module, others) in modules("formulation") {
        let room = module.split("::").next().unwrap();
        let takes = others
            .iter()
            .any(|o| o == "file" || o.starts_with("file::"));
        assert!(!takes || above.contains(&room), "{module} takes from file");
    }
}

/// Files that compare words without regard to the case of their letters: how often, and which
/// words. None are names of substances, whose identity is `Inci::same_as`, `Inci::is` and
/// `Inci::key`; what stands in a name is asked by `Inci::has`, `begins_with`, `ends_in_word` and
/// `folded`.
const CASELESS: [(&str, usize, &str); 37] = [
    ("formulation/batch/record/gate.rs", 1, "codes of a batch"),
    ("formulation/batch/trace.rs", 3, "lots and codes"),
    ("formulation/batch/weighing_scale.rs", 1, "signs of a scale"),
    ("formulation/compare/align.rs", 1, "names of materials"),
    ("formulation/file/answers.rs", 2, "names of choices"),
    ("formulation/file/fit_table.rs", 1, "headings"),
    ("formulation/file/formula_export.rs", 1, "names of sheets"),
    ("formulation/file/open.rs", 2, "endings of files"),
    ("formulation/file/product_head.rs", 7, "names of choices"),
    ("formulation/file/table/html.rs", 2, "tags"),
    ("formulation/file/table/names.rs", 1, "the word INCI"),
    (
        "formulation/file/table/phase_words.rs",
        2,
        "letters of phases",
    ),
    (
        "formulation/file/table/price_list/mod.rs",
        1,
        "the word INCI",
    ),
    (
        "formulation/file/table/recipe/proposal.rs",
        1,
        "purposes of phases",
    ),
    ("formulation/inci.rs", 5, "the identity of substances"),
    ("formulation/label/names.rs", 2, "words in a name"),
    ("formulation/name_hash.rs", 1, "words in a name"),
    ("formulation/naming/substance.rs", 1, "the letters CI"),
    ("formulation/rules/fragrance.rs", 1, "categories"),
    ("formulation/oil_parts.rs", 1, "words in a name"),
    ("formulation/rules/law/plant_part.rs", 2, "words in a name"),
    ("formulation/rules/salt.rs", 2, "words in a name"),
    ("formulation/solve/subject.rs", 1, "names of lines"),
    ("formulation/solve/target/read.rs", 2, "words of a target"),
    ("formulation/substance_words.rs", 1, "words in a name"),
    ("formulation/trial/bench/flow_cup.rs", 1, "names of cups"),
    (
        "formulation/trial/draft.rs",
        2,
        "names of choices and organisms",
    ),
    ("formulation/trial/stability_plan.rs", 3, "names of choices"),
    ("phasewright/dialogs/questions.rs", 1, "endings of files"),
    (
        "phasewright/headless/aim.rs",
        2,
        "rules and a word of a command",
    ),
    ("phasewright/headless/answers.rs", 1, "a word of a command"),
    ("phasewright/headless/columns.rs", 1, "names of choices"),
    ("phasewright/headless/import.rs", 1, "endings of files"),
    ("phasewright/headless/mod.rs", 1, "names of variants"),
    ("phasewright/headless/work_out.rs", 1, "names of fats"),
    ("phasewright/sheets/make/books.rs", 2, "codes of batches"),
    ("phasewright/state/motion.rs", 1, "a setting of the system"),
];

#[test]
fn substances_are_compared_in_one_place() {
    let mut listed: BTreeMap<String, usize> = CASELESS
        .iter()
        .map(|(file, times, _)| ((*file).to_owned(), *times))
        .collect();
    let mut unlooked = Vec::new();
    for krate in ["formulation", "phasewright"] {
        for (path, code) in sources(krate) {
            let path = path.to_string_lossy().replace('\\', "/");
            let path = path.rsplit_once(&format!("{krate}/src/")).unwrap().1;
            let file = format!("{krate}/{path}");
            let times = code.matches("eq_ignore_ascii_case").count();
            if listed.remove(&file).unwrap_or(0) != times {
                unlooked.push(format!("{file}: {times}"));
            }
        }
    }
    let why = "compare substances with `Inci`; of other words say here which they are";
    assert!(unlooked.is_empty(), "{why}:\n{}", unlooked.join("\n"));
    assert!(listed.is_empty(), "no longer there: {listed:?}");
    // A name taken apart to its letters is neither compared nor a key.
    let letters = [
        "spelling() ==",
        "spelling() !=",
        "== *c.inci",
        "spelling().to_lowercase",
        "spelling().to_uppercase",
        "spelling().to_ascii_lowercase",
        "inci.to_lowercase",
        "inci.to_string() ==",
        "shared() ==",
    ];
    for krate in ["formulation", "phasewright"] {
        none_of(krate, &letters, &[], why);
    }
}

/// The public types of a crate by name, each with the files that have one so called.
fn public_types(krate: &str) -> BTreeMap<String, Vec<String>> {
    let mut types: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (path, code) in sources(krate) {
        for line in code.lines() {
            let Some(item) = line.trim_start().strip_prefix("pub ") else {
                continue;
            };
            let mut words = item.split(|c: char| !c.is_alphanumeric() && c != '_');
            if !matches!(words.next(), Some("struct" | "enum" | "trait" | "type")) {
                continue;
            }
            let name = words.next().unwrap_or_default().to_owned();
            // One that a macro makes has its name where the macro is called.
            if name.is_empty() {
                continue;
            }
            types
                .entry(name)
                .or_default()
                .push(path.to_string_lossy().replace('\\', "/"));
        }
    }
    assert!(types.len() > 300, "{krate}: {} types", types.len());
    types
}

/// Who meets `Field` or `Quantity` in a signature must not have to look which of several it is.
#[test]
fn a_public_name_of_the_model_means_one_type() {
    let twice: Vec<String> = public_types("formulation")
        .into_iter()
        .filter(|(_, files)| files.len() > 1)
        .map(|(name, files)| format!("{name}: {}", files.join(", ")))
        .collect();
    assert!(
        twice.is_empty(),
        "give each its own name:\n{}",
        twice.join("\n")
    );
}
