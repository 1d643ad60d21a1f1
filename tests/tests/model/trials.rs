//! Fits, designs and instruments of trials against figures of general-purpose scientific
//! libraries, certified data (NIST StRD) and published tables; each file of
//! `tests/reference/trials` names its sources.

#![expect(
    clippy::unwrap_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use clap::Parser as _;
use formulation::file::trial_store;
use phasewright::cli::Cli;
use phasewright::headless::run_to;
use reference::Value as Answered;
use serde_json::Value;

fn file(name: &str) -> PathBuf {
    PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/reference/trials")).join(name)
}

/// Largest difference of two fields in units of the larger number of a list; 1 where they
/// differ in kind. `None` where there is nothing to compare.
fn difference(found: &Value, expected: &Value) -> Option<f64> {
    match (found, expected) {
        (Value::Number(a), Value::Number(b)) => {
            let (a, b) = (a.as_f64()?, b.as_f64()?);
            Some((a - b).abs() / if b == 0.0 { 1.0 } else { b.abs() })
        }
        (Value::Array(a), Value::Array(b)) => {
            if a.len() != b.len() {
                return Some(1.0);
            }
            let numbers =
                |list: &[Value]| list.iter().map(Value::as_f64).collect::<Option<Vec<_>>>();
            if let (Some(a), Some(b)) = (numbers(a), numbers(b)) {
                let scale = b.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
                let scale = if scale == 0.0 { 1.0 } else { scale };
                return a
                    .iter()
                    .zip(&b)
                    .map(|(a, b)| (a - b).abs() / scale)
                    .reduce(f64::max);
            }
            a.iter()
                .zip(b)
                .filter_map(|(a, b)| difference(a, b))
                .reduce(f64::max)
        }
        (Value::Object(a), Value::Object(b)) => a
            .iter()
            .filter_map(|(k, v)| difference(v, b.get(k)?))
            .reduce(f64::max),
        (a, b) => Some(if a == b { 0.0 } else { 1.0 }),
    }
}

/// Compares every computed field that the table has; `fields` is how many at least, so that
/// a change of names cannot empty the check.
fn check(name: &str, fields: usize, tolerance: impl Fn(&Value, &str) -> f64) {
    let text = std::fs::read_to_string(file(name)).unwrap();
    let table: Value = serde_json::from_str(&text).unwrap();
    let cases = table["cases"].as_array().unwrap();
    let answers = reference::answer(&text, name).unwrap();
    assert_eq!(answers.len(), cases.len());
    let mut compared = 0;
    for (answer, case) in answers.iter().zip(cases) {
        let Ok(Answered::Fields(found)) = &answer.value else {
            panic!("{}: {:?}", answer.case_id, answer.value);
        };
        assert_eq!(case["case_id"], answer.case_id.as_str());
        for (key, found) in found {
            let Some(expected) = case.get(key) else {
                continue;
            };
            let allowed = tolerance(case, key);
            if let Some(off) = difference(found, expected).filter(|_| allowed.is_finite()) {
                compared += 1;
                assert!(
                    off <= allowed,
                    "{} {key}: {found} instead of {expected}, off by {off:e}",
                    answer.case_id
                );
            }
        }
    }
    assert!(
        compared >= fields,
        "{name}: only {compared} fields compared"
    );
}

#[test]
fn linear_fits_agree_with_normal_equations_in_fifty_digits() {
    check("linear_fits.json", 150, |_, _| 1e-7);
}

/// NIST StRD, certified values; the tolerances of Filip and the Wampler sets are what double
/// precision holds.
#[test]
fn certified_linear_fits_are_met() {
    check("nist_linear.json", 40, |case, key| {
        let wampler = case["name"].as_str().unwrap().starts_with("Wampler");
        if wampler && matches!(key, "coef" | "se") {
            2e-5
        } else {
            1e-6
        }
    });
}

/// NIST StRD, certified values of all levels. Lanczos1 fits exactly: its residuals are rounding.
#[test]
fn certified_curves_are_met_from_both_starts() {
    check("nist_nonlinear.json", 80, |case, key| {
        match (case["name"].as_str().unwrap(), key) {
            ("Lanczos1", "coef") => 1e-5,
            ("Lanczos1", _) => f64::INFINITY,
            (_, "se") => 1e-4,
            _ => 1e-6,
        }
    });
}

#[test]
fn salt_curves_have_the_optimum_and_the_fieller_set_of_other_programs() {
    check("salt_curves.json", 200, |_, _| 1e-6);
}

#[test]
fn flow_curves_reach_the_least_sum_of_squares_of_forty_starts() {
    // The table prints six digits.
    check("flow_curves.json", 80, |_, _| 1e-5);
}

#[test]
fn temperature_curves_rates_and_mean_kinetic_temperature_agree() {
    check("temperature.json", 120, |_, key| {
        if key == "se" { 1e-3 } else { 1e-6 }
    });
}

/// LeBlond, Griffith and Aubuchon 2011 and synthetic batches.
#[test]
fn drift_and_time_to_a_limit_follow_ich_q1e() {
    check("shelf_life.json", 200, |_, _| 1e-6);
}

#[test]
fn designs_have_the_vertices_of_exact_fractions_and_the_best_determinant() {
    check("mixture_designs.json", 120, |_, key| match key {
        // Several designs share the best determinant.
        "counts" | "mean_variance_simplex" | "max_leverage" => f64::INFINITY,
        _ => 1e-7,
    });
}

#[test]
fn the_range_of_a_response_is_the_global_one() {
    check("response_ranges.json", 35, |_, key| {
        if key.starts_with("x_") { 1e-4 } else { 1e-6 }
    });
}

/// Yarn elongation (Cornell; NIST/SEMATECH e-Handbook 5.5.4.2) and others.
#[test]
fn scheffe_fits_agree_with_anova_lack_of_fit_and_press() {
    check("scheffe_fits.json", 200, |_, _| 1e-6);
}

#[test]
fn gaussian_processes_agree_with_an_exact_one_and_reach_its_likelihood() {
    let text = std::fs::read_to_string(file("gp.json")).unwrap();
    let table: Value = serde_json::from_str(&text).unwrap();
    let answers = reference::answer(&text, "gp.json").unwrap();
    for (answer, case) in answers.iter().zip(table["cases"].as_array().unwrap()) {
        let Ok(Answered::Fields(found)) = &answer.value else {
            panic!("{:?}", answer.value);
        };
        let off = difference(&found["given"], &case["given"]).unwrap();
        assert!(off < 1e-6, "{}: {off:e}", answer.case_id);
        let likelihood = |v: &Value| v["optimum"]["log_marginal_likelihood"].as_f64().unwrap();
        let (ours, best) = (likelihood(&Value::Object(found.clone())), likelihood(case));
        assert!(
            ours > best - 1e-3,
            "{}: {ours} instead of {best}",
            answer.case_id
        );
    }
}

/// NIST StRD univariate and analysis of variance, Grubbs, ISO 5725-2, Nelson's rules.
#[test]
fn repeated_readings_are_judged_as_certified() {
    check("measurement_stats.json", 250, |case, _| {
        if case["name"] == "SmLs07" { 1e-3 } else { 1e-8 }
    });
}

/// Compares one column of a table; the tolerance is relative.
fn column(
    name: &str,
    column: &str,
    rows: usize,
    tolerance: impl Fn(&dyn Fn(&str) -> String) -> f64,
) {
    let text = std::fs::read_to_string(file(name)).unwrap();
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let header = reader.headers().unwrap().clone();
    let answers = reference::answer(&text, name).unwrap();
    let mut compared = 0;
    for (record, answer) in reader.records().zip(answers) {
        let record = record.unwrap();
        let cell = |key: &str| -> String {
            let at = header.iter().position(|h| h == key);
            at.and_then(|i| record.get(i))
                .unwrap_or_default()
                .to_owned()
        };
        let Ok(expected) = cell(column).parse::<f64>() else {
            assert_eq!(answer.number(), None, "{}", answer.case_id);
            continue;
        };
        let found = answer.number().unwrap();
        let allowed = tolerance(&cell) * expected.abs().max(1e-6);
        assert!(
            (found - expected).abs() <= allowed,
            "{}: {found} instead of {expected}",
            answer.case_id
        );
        compared += 1;
    }
    assert!(compared >= rows, "{name}: only {compared} rows compared");
}

/// Six pairs of Sharma, Wu and Dalal 2005 and product colours by an exact evaluation.
#[test]
fn colour_differences_agree_with_ciede2000() {
    column("ciede2000.csv", "dE00", 40, |_| 1e-7);
}

#[test]
fn flow_cups_and_falling_balls_give_the_viscosity() {
    column("flow_cups.csv", "kinematic_mm2_s", 100, |cell| {
        if cell("kind") == "equation" {
            1e-8
        } else {
            0.05
        }
    });
    column("falling_ball.csv", "eta_mPas", 28, |_| 1e-8);
}

/// Cheng 2008 against Segur and Oberstar 1951, Génotelle and the CRC handbook, IAPWS.
#[test]
fn known_liquids_have_their_published_viscosity() {
    column(
        "viscosity_solutions.csv",
        "viscosity_mPas",
        80,
        |cell| match cell("kind").as_str() {
            "published_equation" if cell("source").contains("R12-08") => 2e-3,
            "published_equation" => 1e-7,
            _ => 0.05,
        },
    );
}

#[test]
fn critical_values_agree_to_nine_digits() {
    column("critical_values.csv", "value", 100, |_| 1e-9);
}

/// Ends a process that notes readings 200 times at random moments: whatever it had said is
/// noted must be there, in order and unchanged.
#[test]
fn no_reading_is_lost_when_the_process_is_killed() {
    const KILLS: u32 = 200;
    const KILLS_PER_FILE: u32 = 20;
    let mut state = 0x2026_1128_u64;
    let mut random = |below: u64| {
        // A linear congruential generator (D. E. Knuth, MMIX), so that a failure repeats.
        state = state
            .wrapping_mul(6364136223846793005)
            .wrapping_add(1442695040888963407);
        (state >> 33) % below
    };
    let mut noted = 0;
    for _ in 0..KILLS / KILLS_PER_FILE {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("rinse.trials.jsonl");
        let mut confirmed = 0;
        for kill in 0..KILLS_PER_FILE {
            let mut taker = Command::new(env!("CARGO_BIN_EXE_note_taker"))
                .arg(&path)
                .stdout(Stdio::piped())
                .spawn()
                .unwrap();
            let mut numbers = BufReader::new(taker.stdout.take().unwrap())
                .lines()
                .map_while(Result::ok)
                .filter_map(|l| l.parse::<usize>().ok());
            // Every other process gets to work first, however slow the machine.
            let first = if kill % 2 == 1 { numbers.next() } else { None };
            std::thread::sleep(Duration::from_micros(random(30_000)));
            taker.kill().unwrap();
            taker.wait().unwrap();
            confirmed = numbers.last().or(first).unwrap_or(confirmed);
            if confirmed == 0 {
                continue;
            }
            let loaded = trial_store::read(&path).unwrap();
            assert_eq!(loaded.faults, Vec::<String>::new());
            let readings = &loaded.book.readings;
            assert!(readings.len() >= confirmed, "{confirmed}");
            for (i, kept) in readings.iter().enumerate() {
                assert_eq!(kept.reading.mean(), Some(i as f64 + 1.0));
            }
        }
        noted += confirmed;
    }
    assert!(noted >= KILLS as usize / 2, "only {noted} readings");
}

/// Runs a command of the program; its output, or what was refused.
fn run(words: &[&str]) -> Result<String, String> {
    let cli = Cli::try_parse_from(["phasewright", "trials"].iter().chain(words))
        .map_err(|e| e.to_string())?;
    let mut out = Vec::new();
    let outcome = run_to(&cli.command.unwrap(), &mut out);
    outcome
        .map(|_| String::from_utf8(out).unwrap())
        .map_err(|e| e.0)
}

fn gel(folder: &Path) -> String {
    let from = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../examples/oat-and-juniper-shower-gel.formula.ron"
    );
    let path = folder.join("gel.formula.ron");
    std::fs::copy(from, &path).unwrap();
    path.to_string_lossy().into_owned()
}

#[test]
fn readings_are_typed_with_units_and_refused_with_the_field() {
    let folder = tempfile::tempdir().unwrap();
    let gel = gel(folder.path());
    let ok = |words: &[&str]| run(words).unwrap();
    let fails = |words: &[&str]| run(words).unwrap_err();
    assert!(
        fails(&[
            "begin",
            &gel,
            "--purpose",
            "x",
            "--mass",
            "1 kg",
            "--room",
            "21 g"
        ])
        .contains("--room")
    );
    ok(&[
        "begin",
        &gel,
        "--purpose",
        "Salt curve",
        "--mass",
        "200 g",
        "--room",
        "70 °F",
    ]);
    ok(&[
        "add",
        &gel,
        "--trial",
        "1",
        "--material",
        "Sodium chloride",
        "--mass",
        "0.4 g",
    ]);
    let read = |more: &[&str]| {
        let words: Vec<&str> = ["read", &gel, "--trial", "1"]
            .iter()
            .chain(more)
            .copied()
            .collect();
        run(&words)
    };
    assert!(
        read(&[
            "--quantity",
            "viscosity",
            "--value",
            "4.1 Pa·s",
            "--value",
            "4300",
            "--celsius",
            "25,5 °C",
            "--hours",
            "1 day"
        ])
        .unwrap()
        .contains("4200")
    );
    for (more, expected) in [
        (
            &["--quantity", "viscosity", "--value", "-4"][..],
            "--value: “-4” is out of range",
        ),
        (
            &[
                "--quantity",
                "viscosity",
                "--value",
                "4",
                "--spindle",
                "LV3",
            ],
            "--rpm: it is needed",
        ),
        (
            &[
                "--quantity",
                "viscosity",
                "--value",
                "4",
                "--cup",
                "ISO 2431 6 mm",
            ],
            "--density: it is needed",
        ),
        (
            &["--quantity", "viscosity", "--value", "4", "--factor", "10"],
            "--spindle: it is needed",
        ),
        (
            &["--quantity", "ph", "--value", "5", "--rpm", "10"],
            "--rpm: it is not used",
        ),
        (
            &["--quantity", "ph", "--value", "5", "--hours", "-3"],
            "--hours: the time since making is before the start",
        ),
        (
            &["--quantity", "ph", "--value", "<4", "--value", "5"],
            "stands alone",
        ),
        (
            &["--quantity", "smell", "--value", "off", "--value", "off"],
            "one of its words",
        ),
        (
            &["--quantity", "ph", "--value", "5", "--step", "7"],
            "no step 7",
        ),
        (
            &["--quantity", "ph", "--value", "5", "--sample", "1,1,1"],
            "plan",
        ),
    ] {
        let said = read(more).unwrap_err();
        assert!(said.contains(expected), "{more:?}: {said}");
    }
    assert!(
        fails(&[
            "read",
            &gel,
            "--trial",
            "9",
            "--quantity",
            "ph",
            "--value",
            "5"
        ])
        .contains("no trial 9")
    );
    ok(&["stability", &gel, "--trial", "1", "--limit", "ph=4.6..5.2"]);
    ok(&[
        "stability",
        &gel,
        "--trial",
        "1",
        "--plan",
        "1",
        "--week",
        "0",
        "--week",
        "4",
        "--condition",
        "25 °C",
    ]);
    assert!(fails(&["stability", &gel, "--trial", "1", "--plan", "2"]).contains("no plan 2"));
    assert!(ok(&["stability", &gel, "--trial", "1", "--plan", "1"]).contains("40 samples"));
    // A photo that is gone is said, and the reading stays.
    read(&[
        "--quantity",
        "clarity",
        "--value",
        "clear",
        "--photo",
        "gone.jpg",
    ])
    .unwrap();
    let shown = ok(&[&gel]);
    assert!(shown.contains("the photo is not there any more"), "{shown}");
    assert!(shown.contains("clarity clear"));
}

#[test]
fn a_planned_set_is_checked_and_promises_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let gel = gel(folder.path());
    let line = "Cocamidopropyl betaine solution 30 %=8..16";
    let table = run(&[
        "plan", &gel, "--lines", line, "--design", "star", "--grams", "0.2 kg",
    ])
    .unwrap();
    assert!(table.contains("breaches,first of them"));
    assert!(!table.contains("no breach") && !table.to_lowercase().contains("safe"));
    for (words, expected) in [
        (
            &["plan", &gel, "--lines", line, "--grams", "-3"][..],
            "--grams",
        ),
        (
            &["plan", &gel, "--lines", "Nothing=1..2"],
            "the formula does not use “Nothing”",
        ),
        (
            &["plan", &gel, "--lines", line, "--design", "d-optimal"],
            "--trials",
        ),
    ] {
        let said = run(words).unwrap_err();
        assert!(said.contains(expected), "{words:?}: {said}");
    }
}

#[test]
fn fits_of_a_table_name_the_row_that_is_wrong() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("t.csv");
    let fit = |model: &str, table: &str| {
        std::fs::write(&path, table).unwrap();
        run(&["fit", path.to_str().unwrap(), "--model", model, "--json"])
    };
    let recovery = fit(
        "recovery",
        "minutes,mPa s\n0,1000\n2,1610\n5,2480\n10,3680\n20,4720\n40,4990\n",
    )
    .unwrap();
    let found: Value = serde_json::from_str(&recovery).unwrap();
    let back = found["back_90"].as_f64().unwrap();
    assert!((14.0..19.0).contains(&back), "{back}");
    for model in ["vft", "gp"] {
        // Segur and Oberstar 1951, glycerol.
        let found = fit(
            model,
            "C,mPas\n10,3900\n20,1412\n30,612\n40,284\n50,142\n60,81.3\n",
        )
        .unwrap();
        let found: Value = serde_json::from_str(&found).unwrap();
        for band in ["band95", "pi95"] {
            let list = found[band].as_array().unwrap();
            assert_eq!(list.len(), 6, "{model}");
            let inner = found["band95"][2][1].as_f64().unwrap();
            assert!(list[2][1].as_f64().unwrap() >= inner);
        }
    }
    for (model, table, expected) in [
        ("salt", "salt,v\n1,4000\n", "1 row"),
        (
            "salt",
            "salt,v\n0,500\n1,-4000\n2,3000\n3,2000\n",
            "row 3: the viscosity must be",
        ),
        (
            "salt",
            "salt,v\n0,500 mPas\n1,4 Pa s\n2,3000\n3,2000\n",
            "use one unit for a column",
        ),
        (
            "salt",
            "salt,v\n0,500\n1,4 Pa s\n2,3000\n3,2000\n",
            "use one unit for a column",
        ),
        (
            "recovery",
            "t,v\n-1,500\n1,600\n2,700\n3,800\n4,850\n",
            "not before it",
        ),
        ("nothing", "t,v\n1,2\n2,3\n", "is not known"),
    ] {
        let said = fit(model, table).unwrap_err();
        assert!(said.contains(expected), "{table}: {said}");
    }
}

/// Runs any command of the program.
fn run_any(words: &[&str]) -> Result<String, String> {
    let cli = Cli::try_parse_from(std::iter::once(&"phasewright").chain(words))
        .map_err(|e| e.to_string())?;
    let mut out = Vec::new();
    run_to(&cli.command.unwrap(), &mut out)
        .map(|_| String::from_utf8(out).unwrap())
        .map_err(|e| e.0)
}

/// A reading goes with the finished formula and the recipe if the maker says so, with trial,
/// day and method, and no longer once the formula is another.
#[test]
fn a_chosen_reading_goes_with_the_finished_formula_and_the_recipe() {
    let folder = tempfile::tempdir().unwrap();
    let gel = gel(folder.path());
    let at = |name: &str| folder.path().join(name).display().to_string();
    let begin = |mass: &str, purpose: &str| {
        run(&[
            "begin",
            &gel,
            "--purpose",
            purpose,
            "--mass",
            mass,
            "--by",
            "Wren",
        ])
    };
    assert!(
        begin("200", "thickness")
            .unwrap_err()
            .contains("names no unit")
    );
    assert!(begin("200 g", " ").unwrap_err().contains("--purpose"));
    assert!(begin("-5 g", "thickness").is_err());
    begin("200 g", "thickness").unwrap();
    run(&[
        "read",
        &gel,
        "--trial",
        "1",
        "--quantity",
        "viscosity",
        "--value",
        "4200",
        "--instrument",
        "LV3, 12 rpm",
        "--celsius",
        "20",
    ])
    .unwrap();
    let finish = |name: &str| {
        let out = at(name);
        run_any(&["finish", &gel, "-o", &out]).unwrap();
        let text = std::fs::read_to_string(&out).unwrap();
        let finished = formulation::file::finished::read(&text, &out).unwrap();
        assert!(finished.intact);
        finished.enclosed.readings
    };
    assert_eq!(finish("before.finished.ron"), []);
    assert!(
        run(&["tell", &gel, "--reading", "2"])
            .unwrap_err()
            .contains("no reading 2")
    );
    let told = run(&["tell", &gel, "--reading", "1"]).unwrap();
    assert!(told.contains("1 reading goes"), "{told}");
    let readings = finish("after.finished.ron");
    assert_eq!(readings.len(), 1);
    assert_eq!(readings[0].0, "viscosity");
    for part in ["4200 mPa·s", "trial 1", "LV3, 12 rpm, 20 °C"] {
        assert!(readings[0].1.contains(part), "{}", readings[0].1);
    }
    let (markdown, html, pdf) = (at("r.md"), at("r.html"), at("r.pdf"));
    let paper = [
        "make",
        &gel,
        "--markdown",
        &markdown,
        "--html",
        &html,
        "--pdf",
        &pdf,
    ];
    run_any(&paper).unwrap();
    for path in [&markdown, &html] {
        let text = std::fs::read_to_string(path).unwrap();
        assert!(text.contains("4200 mPa·s, measured on trial 1"), "{path}");
    }
    let pages = acceptance::pdf::pages(&std::fs::read(&pdf).unwrap());
    let text: Vec<&str> = pages.iter().flatten().map(String::as_str).collect();
    assert!(text.join(" ").contains("4200 mPa·s, measured on trial 1"));
    run(&["tell", &gel, "--reading", "1", "--no-longer"]).unwrap();
    assert_eq!(finish("without.finished.ron"), []);
}

/// No unit is guessed for the size of a batch.
#[test]
fn a_batch_without_a_unit_is_asked_back() {
    let folder = tempfile::tempdir().unwrap();
    let gel = gel(folder.path());
    assert!(
        run_any(&["make", &gel, "--mass", "2"])
            .unwrap_err()
            .contains("names no unit")
    );
    assert!(
        run_any(&["make", &gel, "--mass", "2", "--unit", "kg"])
            .unwrap()
            .contains("2.0")
    );
}
