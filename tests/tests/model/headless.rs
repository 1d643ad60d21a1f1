//! The commands that need no window, run as a maker runs them.
#![expect(
    clippy::expect_used,
    reason = "a helper of tests fails the test by panicking"
)]

use std::fs;
use std::path::{Path, PathBuf};

use clap::Parser as _;
use phasewright::cli::Cli;
use phasewright::headless::run_to;
use serde_json::Value;

fn example(name: &str) -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("..")
        .join("examples");
    root.join(format!("{name}.formula.ron"))
        .display()
        .to_string()
}

/// Runs a command line; gives the exit code and what was printed, or the failure's words.
fn run(arguments: &[&str]) -> Result<(u8, String), String> {
    let line = std::iter::once("phasewright").chain(arguments.iter().copied());
    let cli = Cli::try_parse_from(line).map_err(|e| e.to_string())?;
    let command = cli.command.expect("a command");
    let mut out = Vec::new();
    let code = run_to(&command, &mut out).map_err(|f| f.0)?;
    Ok((code, String::from_utf8(out).expect("text")))
}

fn json(arguments: &[&str]) -> Value {
    let (_, printed) = run(arguments).expect("it runs");
    serde_json::from_str(&printed).expect("JSON")
}

fn csv(folder: &Path, text: &str) -> PathBuf {
    let path = folder.join("recipe.csv");
    fs::write(&path, text).expect("written");
    path
}

fn near(value: &Value, expected: f64) -> bool {
    value.as_f64().is_some_and(|v| (v - expected).abs() < 1e-6)
}

#[test]
fn a_report_of_a_table_of_pure_substances() {
    let folder = tempfile::tempdir().unwrap();
    let path = csv(
        folder.path(),
        "# kind: rinse-off\n# market: EU\nphase,material,percent,composition\n\
         A,Aqua,q.s.,pure\nA,Glycerin,5,pure\nB,Cocamidopropyl Betaine,3,pure\n\
         B,Sodium Laureth Sulfate,8.4,pure\nC,Sodium Chloride,0.5,pure\n",
    );
    let report = json(&["report", path.to_str().unwrap(), "--json"]);
    assert!(near(&report["total_percent"], 100.0));
    assert!(near(&report["water"]["added"], 83.1));
    assert!(near(&report["water"]["from_materials"], 0.0));
    assert!(near(&report["water"]["total"], 83.1));
    assert!(near(&report["actives"]["anionic"], 8.4));
    assert!(near(&report["actives"]["amphoteric"], 3.0));
    assert!(near(&report["actives"]["total"], 11.4));
    let constituents = report["constituents"].as_array().unwrap();
    assert_eq!(constituents.len(), 5);
    // CAS numbers as in the European Commission's ingredient inventory (CosIng).
    let cas = |inci: &str| {
        let found = constituents
            .iter()
            .find(|c| c["inci"].as_str().unwrap().eq_ignore_ascii_case(inci));
        found.unwrap()["cas"].as_str().unwrap_or("none").to_owned()
    };
    assert_eq!(cas("Aqua"), "7732-18-5");
    assert_eq!(cas("Glycerin"), "56-81-5");
    assert_eq!(cas("Sodium Chloride"), "7647-14-5");
    // Water and nothing that preserves: common practice, no source.
    let rules: Vec<&str> = report["findings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|f| f["rule"].as_str().unwrap())
        .collect();
    assert!(rules.contains(&"water-without-preservative"), "{rules:?}");
}

#[test]
fn solutions_bring_in_water_and_salt() {
    // Active matter is the sum of raw material % x active %: 10 % of a 30 % solution gives 3 %
    // (rule of thumb as published on maker pages in 2011); the rest is salt and water.
    let folder = tempfile::tempdir().unwrap();
    let path = csv(
        folder.path(),
        "phase,material,percent\nA,\"Water, demineralised\",q.s.\nB,Cocamidopropyl betaine solution 30 %,10\n",
    );
    let report = json(&["report", path.to_str().unwrap(), "--json"]);
    assert!(near(&report["actives"]["amphoteric"], 3.0));
    assert!(near(&report["water"]["added"], 90.0));
    assert!(report["water"]["from_materials"].as_f64().unwrap() > 5.0);
    // Everything is accounted for: the classes and the unknown share make up the whole.
    let classes = report["classes"].as_object().unwrap().values();
    let known: f64 = classes.map(|c| c["percent"].as_f64().unwrap()).sum();
    assert!((known + report["unknown_percent"].as_f64().unwrap() - 100.0).abs() < 1e-6);
    let salt = report["classes"]["electrolyte"]["percent"]
        .as_f64()
        .unwrap();
    assert!(salt > 0.3 && salt < 0.7, "{salt}");
}

#[test]
fn check_tells_by_its_exit_code() {
    for name in [
        "oat-and-juniper-shower-gel",
        "clear-rosemary-shampoo",
        "calendula-hand-lotion",
        "heather-foot-balm",
        "moss-conditioner",
    ] {
        let (code, printed) = run(&["check", &example(name)]).unwrap();
        assert_eq!(code, 0, "{name}: {printed}");
        assert!(printed.contains("qualified safety assessor"));
    }
    let (code, printed) = run(&["check", &example("broken")]).unwrap();
    assert_eq!(code, 1);
    assert!(printed.contains("BREACH"));
    // Its label says so before everything else, also where it is drawn.
    let folder = tempfile::tempdir().unwrap();
    let pdf = folder.path().join("labels.pdf");
    let drawn = ["--market", "EU", "--pdf", pdf.to_str().unwrap()];
    let broken = example("broken");
    let line: Vec<&str> = ["label", &broken].into_iter().chain(drawn).collect();
    let (code, printed) = run(&line).unwrap();
    assert_eq!(code, 1);
    assert!(printed.contains("Not for sale in the EU"), "{printed}");
    let failure = run(&["check", "no-such-file.formula.ron"]).unwrap_err();
    assert!(failure.contains("no-such-file"), "{failure}");
    let folder = tempfile::tempdir().unwrap();
    let path = csv(folder.path(), "phase,material,percent\nA,Water,many\n");
    let failure = run(&["check", path.to_str().unwrap()]).unwrap_err();
    assert!(
        failure.contains("line 2") && failure.contains("percent"),
        "{failure}"
    );
}

#[test]
fn a_finished_formula_opens_and_tells_when_it_was_altered() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("gel.finished.ron");
    let target = out.to_str().unwrap();
    let source = example("oat-and-juniper-shower-gel");
    let (code, _) = run(&["finish", &source, "-o", target]).unwrap();
    assert_eq!(code, 0);
    // It is not overwritten unasked.
    assert!(run(&["finish", &source, "-o", target]).is_err());
    assert!(run(&["finish", &source, "-o", target, "--replace"]).is_ok());
    // The frozen formula says the same as the working one.
    let (was, now) = (
        json(&["report", &source, "--json"]),
        json(&["report", target, "--json"]),
    );
    for key in [
        "total_percent",
        "lines",
        "constituents",
        "water",
        "actives",
        "findings",
    ] {
        assert_eq!(was[key], now[key], "{key}");
    }
    let text = fs::read_to_string(&out).unwrap();
    let opened = formulation::file::finished::read(&text, target).unwrap();
    assert!(opened.intact);
    let altered = text.replacen("Larkmoor Studio", "Larkmoor Studios", 1);
    assert!(
        !formulation::file::finished::read(&altered, target)
            .unwrap()
            .intact
    );
}

#[test]
fn a_variant_is_picked_by_name() {
    let source = example("oat-and-juniper-shower-gel");
    let first = json(&["report", &source, "--json"]);
    let name = first["variant"].as_str().unwrap().to_owned();
    assert_eq!(
        json(&["report", &format!("{source}#{name}"), "--json"])["variant"],
        first["variant"]
    );
    let failure = run(&["report", &format!("{source}#nothing of the kind")]).unwrap_err();
    assert!(failure.contains(&name), "{failure}");
}

#[test]
fn a_comparison_tells_the_cost_by_the_prices_of_the_stock() {
    let folder = tempfile::tempdir().unwrap();
    let table = |name: &str, glycerin: &str| {
        let text = format!("phase,material,percent\nA,Water,q.s.\nA,Glycerin 99.5 %,{glycerin}\n");
        let path = folder.path().join(name);
        fs::write(&path, text).unwrap();
        path.display().to_string()
    };
    let (a, b) = (table("a.csv", "3"), table("b.csv", "10"));
    let lot = |lot: &str, material: &str, pack: &str, price: &str| {
        format!(
            "(lot: \"{lot}\", material: \"{material}\", received: \"2026-03-04\", pack: \"{pack}\", \
             packs: 1, price_per_pack: \"{price}\", currency: \"EUR\"),"
        )
    };
    let stock = |lots: &[String]| {
        let path = folder.path().join("stock.ron");
        let head = "format: \"phasewright stock\", version: 1, currency: \"EUR\"";
        fs::write(&path, format!("({head}, lots: [{}])", lots.concat())).unwrap();
        path.display().to_string()
    };
    let glycerin = lot("G1", "Glycerin 99.5 %", "5 kg", "20.00");
    let water = lot("W1", "Water, demineralised", "10 kg", "1.00");

    // By hand, for a kilogram: 0.97 × 0.10 + 0.03 × 4 = 0.217, and 0.90 × 0.10 + 0.10 × 4 = 0.49.
    let both = stock(&[glycerin.clone(), water]);
    let (code, text) = run(&["compare", &a, &b, "--stock", &both]).unwrap();
    assert_eq!(code, 1);
    let line = "material cost of a kilogram: 0.22 EUR → 0.49 EUR";
    assert!(text.contains(line), "{text}");
    let value = json(&["compare", &a, &b, "--stock", &both, "--json"]);
    let cost = |value: &Value| {
        let mut figures = value["figures"].as_array().unwrap().iter();
        let cost = figures.find(|f| f["key"] == "material_cost_per_kg");
        cost.unwrap().clone()
    };
    let known = cost(&value);
    assert!(near(&known["left"], 0.217) && near(&known["right"], 0.49));
    assert!(near(&known["difference"], 0.273));
    assert_eq!(known["unit"], "EUR");

    // A price that is missing makes the cost unknown, not smaller.
    let without_water = stock(&[glycerin]);
    let value = json(&["compare", &a, &b, "--stock", &without_water, "--json"]);
    let unknown = cost(&value);
    assert!(unknown["left"].is_null() && unknown["difference"].is_null());
    let remark = unknown["left_remark"].as_str().unwrap();
    assert!(remark.contains("no price of Water"), "{remark}");

    let missing = run(&["compare", &a, &b, "--stock", "nowhere.ron"]).unwrap_err();
    assert!(missing.contains("no such file"), "{missing}");
}

#[test]
fn what_is_neither_a_file_nor_a_command_is_said_before_a_window_opens() {
    let error = phasewright::start::window(vec!["reprot".into()]).unwrap_err();
    let words = error.to_string();
    assert!(words.contains("no file or command “reprot”"), "{words}");
}

/// Runs the program itself, with a folder of its own for settings.
fn program(home: &Path, arguments: &[&str]) -> std::process::Output {
    std::process::Command::new(env!("CARGO_BIN_EXE_command"))
        .args(arguments)
        .env("HOME", home)
        .env("XDG_CONFIG_HOME", home.join("config"))
        .output()
        .expect("it runs")
}

#[test]
fn an_altered_finished_formula_is_told_apart() {
    let folder = tempfile::tempdir().unwrap();
    let sealed = folder.path().join("a.finished.ron");
    let sealed = sealed.to_str().unwrap();
    run(&["finish", &example("heather-foot-balm"), "-o", sealed]).unwrap();
    let (code, _) = run(&["report", sealed]).unwrap();
    assert_eq!(code, 0);
    let text = fs::read_to_string(sealed).unwrap();
    fs::write(sealed, text.replacen("Heather", "Meadow", 1)).unwrap();
    for command in [&["report", sealed, "--json"], &["check", sealed, "--json"]] {
        let (code, printed) = run(command).unwrap();
        assert_eq!(code, phasewright::headless::ALTERED);
        let value: Value = serde_json::from_str(&printed).unwrap();
        let said = value["warnings"][0].as_str().unwrap();
        assert!(said.contains("altered after it was frozen"), "{said}");
    }
    let fresh = folder.path().join("b.finished.ron");
    let refused = run(&["finish", sealed, "-o", fresh.to_str().unwrap()]).unwrap_err();
    assert!(refused.contains("not given a fresh seal"), "{refused}");
    assert!(!fresh.exists());
    // What was said by one command is not said by the next.
    let clean = json(&["report", &example("heather-foot-balm"), "--json"]);
    assert_eq!(clean["warnings"], serde_json::json!([]));
}

#[cfg(unix)]
#[test]
fn commands_use_the_makers_own_rules_and_say_what_they_cannot_use() {
    let home = tempfile::tempdir().unwrap();
    let config = home.path().join("config/phasewright");
    fs::create_dir_all(&config).unwrap();
    let missing = home.path().join("gone.ron");
    fs::write(
        config.join("settings.ron"),
        format!("(own_rules: [{missing:?}], later: 1)"),
    )
    .unwrap();
    let done = program(
        home.path(),
        &["check", &example("heather-foot-balm"), "--json"],
    );
    let said = String::from_utf8_lossy(&done.stderr);
    assert!(said.contains("without these rules of yours"), "{said}");
    assert!(
        said.contains("gone.ron") && said.contains("“later”"),
        "{said}"
    );
    let value: Value = serde_json::from_slice(&done.stdout).unwrap();
    assert_eq!(value["warnings"].as_array().map(Vec::len), Some(2));
    // Asked for on the command line, it is an error.
    let gone = missing.to_str().unwrap();
    let done = program(
        home.path(),
        &["check", &example("heather-foot-balm"), "--rules", gone],
    );
    assert_eq!(done.status.code(), Some(2));
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_said_and_a_closed_pipe_is_not() {
    let home = tempfile::tempdir().unwrap();
    let binary = env!("CARGO_BIN_EXE_command");
    let full = fs::File::options().write(true).open("/dev/full").unwrap();
    let done = std::process::Command::new(binary)
        .args(["report", &example("heather-foot-balm")])
        .env("HOME", home.path())
        .stdout(full)
        .stderr(std::process::Stdio::piped())
        .output()
        .unwrap();
    assert_eq!(done.status.code(), Some(2));
    let said = String::from_utf8_lossy(&done.stderr);
    assert!(said.contains("could not be written"), "{said}");
    let mut child = std::process::Command::new(binary)
        .args(["report", &example("oat-and-juniper-shower-gel"), "--json"])
        .env("HOME", home.path())
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let done = child.wait_with_output().unwrap();
    assert_eq!(done.status.code(), Some(0));
    assert_eq!(String::from_utf8_lossy(&done.stderr), "");
}

#[cfg(unix)]
#[test]
fn a_finished_formula_is_signed_and_checked() {
    let home = tempfile::tempdir().unwrap();
    let sealed = home.path().join("balm.finished.ron");
    let sealed = sealed.to_str().unwrap();
    let done = |arguments: &[&str]| {
        let output = program(home.path(), arguments);
        let said = [output.stdout, output.stderr].concat();
        (
            output.status.code(),
            String::from_utf8_lossy(&said).into_owned(),
        )
    };
    let made = done(&["finish", &example("heather-foot-balm"), "-o", sealed]);
    assert_eq!(made.0, Some(0), "{}", made.1);
    assert_eq!(done(&["keys", "studio"]).0, Some(0));
    assert_eq!(
        done(&["keys", "studio"]).0,
        Some(2),
        "nothing is written over"
    );
    assert_eq!(done(&["keys", "../studio"]).0, Some(2));
    assert_eq!(done(&["keys", "other"]).0, Some(0));
    assert_eq!(
        done(&["verify", sealed, "--key", "studio"]).0,
        Some(2),
        "not signed yet"
    );
    let signed = done(&["sign", sealed, "--key", "studio"]);
    assert_eq!(signed.0, Some(0), "{}", signed.1);
    let held = done(&["verify", sealed, "--key", "studio"]);
    assert_eq!(held.0, Some(0), "{}", held.1);
    assert!(held.1.contains("The signature holds"));
    assert_eq!(done(&["verify", sealed, "--key", "other"]).0, Some(1));
    let text = fs::read_to_string(sealed).unwrap();
    fs::write(sealed, text.replacen("Heather", "Meadow", 1)).unwrap();
    assert_eq!(done(&["verify", sealed, "--key", "studio"]).0, Some(1));
}

/// What names hold must not be run by a spreadsheet, nor obeyed by a terminal.
#[test]
fn what_is_exported_runs_nowhere() {
    let folder = tempfile::tempdir().unwrap();
    let text = fs::read_to_string(example("heather-foot-balm")).unwrap();
    let text = text
        .replace(
            "name: \"Shea butter\"",
            "id: \"shea-butter\", name: \"=1+1\"",
        )
        .replace(
            "name: \"Castor oil\"",
            "id: \"castor-oil\", name: \"+cmd|calc\"",
        )
        .replace("author: \"", "author: \"a,=2+2;=3+3,\\t=4+4 ")
        .replacen("name: \"Heather", "name: \"@Heather", 1);
    assert!(text.contains("=2+2") && text.contains("@Heather"));
    let recipe = folder.path().join("odd.formula.ron");
    fs::write(&recipe, text).unwrap();
    let recipe = recipe.to_str().unwrap();
    for (command, option) in [("make", "--csv"), ("export", "")] {
        let out = folder.path().join(format!("{command}.csv"));
        let out = out.to_str().unwrap();
        let arguments: Vec<&str> = [command, recipe, option, out]
            .into_iter()
            .filter(|a| !a.is_empty())
            .collect();
        run(&arguments).unwrap();
        let text = fs::read_to_string(out).unwrap();
        // Whatever a spreadsheet takes for what divides the columns.
        let divided = |delimiter: u8| {
            let mut rows = ::csv::ReaderBuilder::new()
                .has_headers(false)
                .flexible(true)
                .delimiter(delimiter)
                .from_reader(text.as_bytes());
            let rows = rows.records().map(Result::unwrap);
            let cells = rows.flat_map(|row| row.iter().map(str::to_owned).collect::<Vec<_>>());
            cells.collect::<Vec<String>>()
        };
        for delimiter in [b';', b'\t'] {
            let runs = |cell: &String| cell.trim_start().starts_with(['=', '@', '+']);
            assert_eq!(divided(delimiter).iter().find(|c| runs(c)), None, "{text}");
        }
        let cells = divided(b',');
        assert!(cells.iter().any(|c| c.contains("=1+1")), "{text}");
        assert!(!cells.iter().any(|c| c.starts_with(['=', '@'])), "{text}");
        assert!(!cells.iter().any(|c| c.starts_with("+cmd")), "{text}");
    }
}

/// A table brought in as what it is not is told, and how to bring it in as what it is.
/// Each column says what it was taken for and why; a file of our own form takes no option that
/// would do nothing.
#[test]
fn columns_tell_why_and_no_option_is_passed_over() {
    let folder = tempfile::tempdir().unwrap();
    let file = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let (table, json) = (file("wash.csv"), file("wash.json"));
    let (made, other) = (file("wash.formula.ron"), file("other.formula.ron"));
    let place = file("shelf");
    fs::write(&table, "Ingredient,%,Price\nWater,95,0.5\nGlycerin,5,7\n").unwrap();
    let kind = ["--kind", "rinse-off"];
    let import = ["import", &table, "--shelf", &place, "-o", &made];
    let (_, printed) = run(&[&import[..], &kind].concat()).unwrap();
    let column = |letter: &str| {
        let begins = format!("column {letter}: ");
        let mut lines = printed.lines();
        lines
            .find_map(|l| l.strip_prefix(&begins))
            .unwrap_or_default()
    };
    assert!(
        column("A").starts_with("material: the heading “Ingredient”"),
        "{printed}"
    );
    assert!(
        column("B").starts_with("percent: the heading “%”"),
        "{printed}"
    );
    assert!(
        column("B").contains("sure, nothing speaks as much"),
        "{printed}"
    );
    run(&["export", &made, &json]).unwrap();
    let own = ["import", &json, "--shelf", &place, "-o", &other];
    let told = run(&[&own[..], &kind].concat()).unwrap_err();
    assert!(told.contains("--kind would do nothing"), "{told}");
    assert!(!Path::new(&other).exists());
    run(&own).unwrap();
    assert!(Path::new(&other).exists());
    // A shelf of our own as well.
    let materials = file("materials.csv");
    let shelf = ["shelf", "--shelf", &place];
    run(&[&shelf[..], &["export", &materials]].concat()).unwrap();
    let again = [&shelf[..], &["import", &materials, "--dry-run"]].concat();
    let told = run(&[&again[..], &["--match", "7=new"]].concat()).unwrap_err();
    assert!(told.contains("--match would do nothing"), "{told}");
    run(&again).unwrap();
}

#[test]
fn a_price_list_is_no_recipe_and_a_recipe_no_price_list() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("shelf");
    let place = place.to_str().unwrap();
    let file = |name: &str, text: &str| {
        let path = folder.path().join(name);
        fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_owned()
    };
    let output = folder.path().join("x.formula.ron");
    let output = output.to_str().unwrap();
    let as_recipe = |path: &str| run(&["import", path, "--shelf", place, "-o", output]);
    let as_list = |path: &str| run(&["shelf", "--shelf", place, "import", path, "--dry-run"]);
    for text in [
        "Material,Pack size,Price (EUR)\nGlycerin,1 kg,7.80\nShea butter,500 g,9.90\n",
        "Material,Price per kg\nGlycerin,7.80\nShea butter,9.90\n",
        "Material,In stock,Lot,Expiry\nGlycerin,2 kg,G-7,2027-05-31\n",
        "Trade name,INCI,Supplier\nMossol,Glycerin,Fenn & Co\nFellol,Aqua,Fenn & Co\n",
    ] {
        let path = file("list.csv", text);
        let told = as_recipe(&path).unwrap_err();
        assert!(
            told.contains("looks like a price list") && told.contains("shelf import"),
            "{told}"
        );
        assert!(!Path::new(output).exists());
        as_list(&path).unwrap();
    }
    let recipe = file("recipe.csv", "Ingredient,%\nWater,95\nGlycerin,5\n");
    let told = as_list(&recipe).unwrap_err();
    assert!(told.contains("phasewright import"), "{told}");
    // A recipe with its costs may be either, and both ways say so.
    let costs = file(
        "costs.csv",
        "Phase,Ingredient,g,EUR/kg\nA,Water,475,0.50\nB,Glycerin,25,7.80\n",
    );
    let (code, printed) = as_recipe(&costs).unwrap();
    assert!(code == 3 && printed.contains("shelf import"), "{printed}");
    let (code, printed) = as_list(&costs).unwrap();
    assert!(code == 3 && printed.contains("as a recipe"), "{printed}");
}

/// Every row is counted once, and the exit code tells whether something was assumed.
#[test]
fn the_rows_of_a_list_are_counted_and_answers_settle_them() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("shelf");
    let stock = folder.path().join("stock.ron");
    let answers = folder.path().join("answers.txt");
    let list = folder.path().join("list.csv");
    fs::write(
        &list,
        "Larkmoor Supply,,\nMaterial,Pack size,Price (EUR)\nGlycerin 99.5 %,1 kg,7.80\n\
         Betaine,1 kg,9.00\nMoss wax,250 ml,4.00\nShea butter,,3.00\nShipping,,5.90\nTotal,,29.70\n",
    )
    .unwrap();
    let import = |more: &[&str]| {
        let all = [
            "shelf",
            "--shelf",
            place.to_str().unwrap(),
            "import",
            list.to_str().unwrap(),
            "--stock",
            stock.to_str().unwrap(),
            "--dry-run",
        ];
        run(&[&all, more].concat()).unwrap()
    };
    let sum = |printed: &str| {
        let line = printed.lines().find(|l| l.contains(" taken, ")).unwrap();
        let numbers: Vec<usize> = line
            .split(|c: char| !c.is_ascii_digit())
            .filter_map(|n| n.parse().ok())
            .collect();
        assert_eq!(numbers[0], numbers[1..].iter().sum::<usize>(), "{line}");
        numbers[1..].to_vec()
    };
    let (code, printed) = import(&[]);
    assert_eq!((code, sum(&printed).len()), (3, 3), "{printed}");
    assert_eq!(import(&["--yes"]).0, 0);
    let kept = ["--answers", answers.to_str().unwrap()];
    let chosen = ["--match", "4=betaine-trimethylglycine-powder"];
    let (_, printed) = import(&[&kept[..], &chosen[..]].concat());
    let settled = "Betaine → betaine-trimethylglycine-powder (chosen by you)";
    assert!(printed.contains(settled), "{printed}");
    let (_, printed) = import(&kept);
    assert!(printed.contains(settled), "{printed}");
}
