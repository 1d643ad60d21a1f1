//! Fits, designs and instruments of trials against figures of general-purpose scientific
//! libraries, certified data (NIST StRD) and published tables; each file of
//! `tests/reference/trials` names its sources.

#![expect(
    clippy::unwrap_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use std::path::PathBuf;

use formulation::reference::{self, Value as Answered};
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
    check("flow_curves.json", 80, |_, key| match key {
        "se" | "band95" => 1e-2,
        "rss" | "s" | "aicc" => 1e-5,
        _ => 1e-4,
    });
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
