//! Problems with answers from other solvers, as JSON: linear and quadratic
//! programmes and ranges from a declared order, in the form in which reference
//! sets of such problems are exchanged.
//!
//! Each file has `about` (lines of words) and `cases`. A linear case has `cost`,
//! a quadratic one `start` and `weight`, a range case `n` without bounds, and `line`
//! where the place of the one-per-cent line is known.

use std::collections::BTreeMap;

use serde::Deserialize;

use formulation::optimise::programme::{LinearDemand, Outcome, Programme};
use formulation::optimise::{linear, quadratic};
use formulation::solve::deduce::{self, DeduceError, Facts, Ranges};

#[derive(Deserialize)]
struct CaseFile {
    cases: Vec<CaseDto>,
}

#[derive(Deserialize)]
struct RowDto {
    coef: Vec<f64>,
    lo: Option<f64>,
    hi: Option<f64>,
}

#[derive(Deserialize)]
struct CaseDto {
    case_id: String,
    // Programmes.
    lower: Option<Vec<f64>>,
    upper: Option<Vec<f64>>,
    sum: Option<f64>,
    #[serde(default)]
    constraints: Vec<RowDto>,
    cost: Option<Vec<f64>>,
    start: Option<Vec<f64>>,
    weight: Option<Vec<f64>>,
    // Ranges.
    n: Option<usize>,
    line: Option<usize>,
    #[serde(default)]
    below_line_ordered: bool,
    #[serde(default)]
    known: BTreeMap<usize, f64>,
    #[serde(default)]
    cap: BTreeMap<usize, f64>,
}

/// One problem of such a file.
#[derive(Clone, PartialEq, Debug)]
pub struct SolverCase {
    /// Its name in the file.
    pub id: String,
    /// What is asked.
    pub question: Question,
}

/// What a problem asks.
#[derive(Clone, PartialEq, Debug)]
pub enum Question {
    /// The least of a weighted sum.
    Linear {
        /// Bounds and demands.
        programme: Programme,
        /// Weight of each unknown.
        cost: Vec<f64>,
    },
    /// The nearest point by weighted squares.
    Quadratic {
        /// Bounds and demands.
        programme: Programme,
        /// The point to stay close to.
        start: Vec<f64>,
        /// Weight of each squared distance.
        weight: Vec<f64>,
    },
    /// Least and greatest percentage of each ingredient of a list.
    Ranges {
        /// How many ingredients.
        n: usize,
        /// What is known.
        facts: Facts,
    },
}

/// The answer to a problem.
#[derive(Clone, PartialEq, Debug)]
pub enum Answer {
    /// To a programme.
    Programme(Outcome),
    /// To a question for ranges.
    Ranges(Result<Ranges, DeduceError>),
}

/// Why a text is not a file of problems.
#[derive(Debug, thiserror::Error)]
pub enum SolverCaseError {
    /// Not JSON, or not of this form.
    #[error("line {line}, column {column}: {message}")]
    Form {
        /// Line of the text, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What the reader of JSON says.
        message: String,
    },
    /// Lists whose lengths do not fit together.
    #[error("case {id}: {what}")]
    Shape {
        /// The case.
        id: String,
        /// What does not fit.
        what: String,
    },
}

/// Reads a file of problems.
pub fn read(text: &str) -> Result<Vec<SolverCase>, SolverCaseError> {
    let file: CaseFile = serde_json::from_str(text).map_err(|error| SolverCaseError::Form {
        line: error.line(),
        column: error.column(),
        message: error.to_string(),
    })?;
    file.cases.into_iter().map(case).collect()
}

fn case(dto: CaseDto) -> Result<SolverCase, SolverCaseError> {
    match question(&dto) {
        Ok(question) => Ok(SolverCase {
            id: dto.case_id,
            question,
        }),
        Err(what) => Err(SolverCaseError::Shape {
            id: dto.case_id,
            what: what.to_owned(),
        }),
    }
}

fn question(dto: &CaseDto) -> Result<Question, &'static str> {
    if let (Some(n), None) = (dto.n, &dto.lower) {
        return Ok(Question::Ranges {
            n,
            facts: Facts {
                line: dto.line,
                ordered_below: dto.below_line_ordered,
                known: dto.known.clone(),
                most: dto.cap.clone(),
                ..Facts::default()
            },
        });
    }
    let programme = programme(dto)?;
    let fits = |list: &[f64]| list.len() == programme.len();
    match (&dto.cost, &dto.start, &dto.weight) {
        (Some(cost), None, None) if fits(cost) => Ok(Question::Linear {
            cost: cost.clone(),
            programme,
        }),
        (None, Some(start), Some(weight)) if fits(start) && fits(weight) => {
            Ok(Question::Quadratic {
                start: start.clone(),
                weight: weight.clone(),
                programme,
            })
        }
        _ => Err("needs `cost`, or `start` and `weight`, of the length of `lower`"),
    }
}

fn programme(dto: &CaseDto) -> Result<Programme, &'static str> {
    let lower = dto
        .lower
        .clone()
        .ok_or("`lower` is missing, or `n` for the ranges of a list")?;
    let upper = dto.upper.clone().ok_or("`upper` is missing")?;
    let sum = dto.sum.ok_or("`sum` is missing")?;
    let n = lower.len();
    if upper.len() != n {
        return Err("`lower` and `upper` differ in length");
    }
    let mut rows = vec![LinearDemand::equal((0..n).map(|i| (i, 1.0)).collect(), sum)];
    for row in &dto.constraints {
        if row.coef.len() != n {
            return Err("a constraint's `coef` and `lower` differ in length");
        }
        let weights = row.coef.iter().copied().enumerate();
        rows.push(LinearDemand {
            terms: weights.filter(|&(_, weight)| weight != 0.0).collect(),
            low: row.lo.unwrap_or(f64::NEG_INFINITY),
            high: row.hi.unwrap_or(f64::INFINITY),
        });
    }
    Ok(Programme { lower, upper, rows })
}

impl SolverCase {
    /// Solves it.
    pub fn answer(&self) -> Answer {
        match &self.question {
            Question::Linear { programme, cost } => {
                Answer::Programme(linear::minimise(programme, cost))
            }
            Question::Quadratic {
                programme,
                start,
                weight,
            } => Answer::Programme(quadratic::nearest(programme, start, weight, &[])),
            Question::Ranges { n, facts } => Answer::Ranges(deduce::ranges(*n, facts)),
        }
    }
}

impl Answer {
    /// `optimal`, `infeasible`, `feasible`, `unbounded` or `unsolved`.
    pub fn status(&self) -> &'static str {
        match self {
            Self::Programme(outcome) => outcome.label(),
            Self::Ranges(Ok(_)) => "optimal",
            Self::Ranges(Err(DeduceError::Contradiction)) => "infeasible",
            Self::Ranges(Err(_)) => "unsolved",
        }
    }
    /// The objective, or the minima and the maxima, each list as numbers separated by
    /// blanks.
    pub fn numbers(&self) -> Vec<String> {
        match self {
            Self::Programme(Outcome::Solved(point) | Outcome::Feasible(point)) => {
                vec![format!("{:.12}", point.objective)]
            }
            Self::Ranges(Ok(ranges)) => {
                let list = |values: &[f64]| {
                    let words: Vec<String> = values.iter().map(|v| format!("{v:.9}")).collect();
                    words.join(" ")
                };
                vec![list(&ranges.low), list(&ranges.high)]
            }
            Self::Programme(_) | Self::Ranges(Err(_)) => Vec::new(),
        }
    }
}
