//! Aim, against answers from outside: programmes solved by other solvers, ranges
//! from declared orders, and blending problems of textbooks.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot read its own cases shall fail"
)]

use formulation::solve::deduce::{self, Facts};
use formulation::solve::programme::{Outcome, Programme, Row};
use formulation::solve::{linear, quadratic};
use serde_json::Value;

/// Answers of HiGHS and Clarabel; sources at the head of the file.
const PROGRAMMES: &str = include_str!("../reference/programmes.json");
/// Largest relative difference of an objective.
const OBJECTIVE: f64 = 1e-6;
/// Largest difference of a range's end, percentage points.
const RANGE: f64 = 1e-4;

fn cases(kind: &str) -> Vec<Value> {
    let all: Value = serde_json::from_str(PROGRAMMES).unwrap();
    all[kind].as_array().unwrap().clone()
}

fn numbers(value: &Value) -> Vec<f64> {
    let list = value.as_array().unwrap();
    list.iter().map(|v| v.as_f64().unwrap()).collect()
}

fn by_place(value: &Value) -> Vec<(usize, f64)> {
    let map = value.as_object().unwrap();
    map.iter()
        .map(|(k, v)| (k.parse().unwrap(), v.as_f64().unwrap()))
        .collect()
}

fn programme(case: &Value) -> Programme {
    let mut programme = Programme::new();
    for bound in case["bounds"].as_array().unwrap() {
        let bound = numbers(bound);
        programme.unknown(bound[0], bound[1]);
    }
    let all = (0..programme.len()).map(|i| (i, 1.0)).collect();
    programme.rows.push(Row::equal(all, 100.0));
    for demand in case["demands"].as_array().unwrap() {
        programme.rows.push(Row {
            terms: by_place(&demand["of"]),
            low: demand["from"].as_f64().unwrap_or(f64::NEG_INFINITY),
            high: demand["to"].as_f64().unwrap_or(f64::INFINITY),
        });
    }
    programme
}

fn check_objective(case: &Value, programme: &Programme, outcome: Outcome) {
    let id = &case["id"];
    let Some(best) = case["best"].as_f64() else {
        assert_eq!(outcome, Outcome::Infeasible, "{id}");
        return;
    };
    let Outcome::Solved(point) = outcome else {
        panic!("{id}: {}", outcome.label());
    };
    let off = (point.objective - best).abs() / best.abs().max(1e-9);
    assert!(off < OBJECTIVE, "{id}: {} for {best}", point.objective);
    assert!(programme.excess(&point.x) < 1e-6, "{id}");
}

#[test]
fn the_least_cost_agrees_with_another_solver() {
    for case in cases("least") {
        let programme = programme(&case);
        let outcome = linear::minimise(&programme, &numbers(&case["price"]));
        check_objective(&case, &programme, outcome);
    }
}

#[test]
fn the_nearest_composition_agrees_with_another_solver() {
    for case in cases("nearest") {
        let programme = programme(&case);
        let (start, weight) = (numbers(&case["start"]), numbers(&case["weight"]));
        let outcome = quadratic::nearest(&programme, &start, &weight, &[]);
        if let Outcome::Solved(point) = &outcome {
            for (x, at) in point.x.iter().zip(numbers(&case["at"])) {
                assert!((x - at).abs() < 1e-4, "{}: {x} for {at}", case["id"]);
            }
        }
        check_objective(&case, &programme, outcome);
    }
}

#[test]
fn the_nearest_composition_is_refused_where_there_is_none() {
    for case in cases("least").iter().filter(|c| c["best"].is_null()) {
        let programme = programme(case);
        let n = programme.len();
        let outcome =
            quadratic::nearest(&programme, &vec![100.0 / n as f64; n], &vec![1.0; n], &[]);
        assert_eq!(outcome, Outcome::Infeasible, "{}", case["id"]);
    }
}

fn facts(case: &Value) -> Facts {
    Facts {
        line: Some(case["line"].as_u64().unwrap() as usize),
        ordered_below: case["ordered_below"].as_bool().unwrap(),
        known: by_place(&case["exact"]).into_iter().collect(),
        most: by_place(&case["most"]).into_iter().collect(),
        ..Facts::default()
    }
}

#[test]
fn ranges_of_a_declared_order_agree_with_another_solver() {
    for case in cases("ranges") {
        let n = case["count"].as_u64().unwrap() as usize;
        let facts = facts(&case);
        let ranges = deduce::ranges(n, &facts).unwrap();
        for (got, expected) in [(&ranges.low, "low"), (&ranges.high, "high")] {
            for (i, (got, end)) in got.iter().zip(numbers(&case[expected])).enumerate() {
                let id = &case["id"];
                assert!(
                    (got - end).abs() < RANGE,
                    "{id} {expected} {i}: {got} for {end}"
                );
            }
        }
        // The estimate is a composition that fits the order and the facts.
        let centre = deduce::centre(n, &facts).unwrap();
        assert!((centre.percent.iter().sum::<f64>() - 100.0).abs() < 1e-5);
        for (i, x) in centre.percent.iter().enumerate() {
            assert!(ranges.low[i] - RANGE < *x && *x < ranges.high[i] + RANGE);
        }
    }
}
