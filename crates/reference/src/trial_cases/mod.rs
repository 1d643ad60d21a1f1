//! Tables of reference cases for the fits, designs and instruments of trials: what each case
//! asks is told by its fields, and the answer carries the computed fields under their names.

mod designs;
mod fits;
mod repeats;
mod shelf_life;
mod tables;

use nalgebra::DMatrix;
use serde_json::{Map, Value, json};

use self::designs::{optimal, region, response_range, scheffe};
use self::fits::{certified_curve, certified_linear, flow, linear, process, salt};
use self::repeats::{chart, grubbs, interval, one_way, repeatability, univariate};
use self::shelf_life::{arrhenius, batches, drift, mean_kinetic, rates, vft};
pub use self::tables::TableAsks;
use formulation::trial::design::lattice::{simplex_centroid, simplex_lattice};
use formulation::trial::fit::scheffe::Order;

/// What a case asks.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Asks {
    Linear,
    CertifiedLinear,
    CertifiedCurve,
    Salt,
    Flow,
    Arrhenius,
    VogelFulcherTammann,
    Rates,
    MeanKinetic,
    Drift,
    Batches,
    Lattice,
    Centroid,
    Region,
    Optimal,
    Range,
    Scheffe,
    Process,
    Univariate,
    OneWay,
    Interval,
    Grubbs,
    Repeatability,
    Chart,
}

impl Asks {
    fn of(case: &Value) -> Option<Self> {
        let has = |key: &str| case.get(key).is_some();
        let by_kind = match case.get("kind").and_then(Value::as_str) {
            Some("arrhenius") => Some(Self::Arrhenius),
            Some("vft") => Some(Self::VogelFulcherTammann),
            Some("rates") => Some(Self::Rates),
            Some("mean_kinetic_temperature") => Some(Self::MeanKinetic),
            Some("single") => Some(Self::Drift),
            Some("batches") => Some(Self::Batches),
            Some("simplex_lattice") => Some(Self::Lattice),
            Some("simplex_centroid") => Some(Self::Centroid),
            Some("region") => Some(Self::Region),
            Some("d_optimal") => Some(Self::Optimal),
            Some("strd_univariate") => Some(Self::Univariate),
            Some("strd_anova") => Some(Self::OneWay),
            Some("interval") => Some(Self::Interval),
            Some("grubbs") => Some(Self::Grubbs),
            Some("repeatability") => Some(Self::Repeatability),
            Some("control_chart") => Some(Self::Chart),
            _ => None,
        };
        by_kind.or_else(|| {
            Some(if has("shear_rate_1_s") {
                Self::Flow
            } else if has("salt_pct") {
                Self::Salt
            } else if has("start1") || has("start2") {
                Self::CertifiedCurve
            } else if has("mean_constant") {
                Self::Process
            } else if has("terms") && has("coef") && has("lower") {
                Self::Range
            } else if has("model") && has("x") && has("y") {
                if has("weights") {
                    Self::Linear
                } else if case
                    .get("model")
                    .and_then(Value::as_str)
                    .and_then(Order::named)
                    .is_some()
                {
                    Self::Scheffe
                } else {
                    Self::CertifiedLinear
                }
            } else {
                return None;
            })
        })
    }
}

/// Whether a case of a JSON file is one of these.
#[must_use]
pub fn understands(case: &Value) -> bool {
    Asks::of(case).is_some()
}

/// Answers one case of a JSON file with all computed fields.
pub fn answer(case: &Value) -> Result<Map<String, Value>, String> {
    let asks = Asks::of(case).ok_or("the fields do not tell what to compute")?;
    let given = Given(case);
    let value = match asks {
        Asks::Linear => linear(&given)?,
        Asks::CertifiedLinear => certified_linear(&given)?,
        Asks::CertifiedCurve => certified_curve(&given)?,
        Asks::Salt => salt(&given)?,
        Asks::Flow => flow(&given)?,
        Asks::Arrhenius => arrhenius(&given)?,
        Asks::VogelFulcherTammann => vft(&given)?,
        Asks::Rates => rates(&given)?,
        Asks::MeanKinetic => mean_kinetic(&given)?,
        Asks::Drift => drift(&given)?,
        Asks::Batches => batches(&given)?,
        Asks::Lattice => {
            let (q, m) = (given.count("q")?, given.count("m")?);
            let list = simplex_lattice(q, m).ok_or("the lattice has too many points")?;
            json!({"points": list.len(), "list": list})
        }
        Asks::Centroid => {
            let list =
                simplex_centroid(given.count("q")?).ok_or("there are too many components")?;
            json!({"points": list.len(), "list": list})
        }
        Asks::Region => region(&given)?,
        Asks::Optimal => optimal(&given)?,
        Asks::Range => response_range(&given)?,
        Asks::Scheffe => scheffe(&given)?,
        Asks::Process => process(&given)?,
        Asks::Univariate => univariate(&given)?,
        Asks::OneWay => one_way(&given)?,
        Asks::Interval => interval(&given)?,
        Asks::Grubbs => grubbs(&given)?,
        Asks::Repeatability => repeatability(&given)?,
        Asks::Chart => chart(&given)?,
    };
    match value {
        Value::Object(fields) => Ok(fields),
        _ => Err("there is no answer".to_owned()),
    }
}

/// The given fields of a case.
struct Given<'a>(&'a Value);

fn numbers(value: &Value) -> Option<Vec<f64>> {
    value.as_array()?.iter().map(Value::as_f64).collect()
}

impl Given<'_> {
    fn field(&self, key: &str) -> Result<&Value, String> {
        self.0.get(key).ok_or_else(|| format!("{key} is missing"))
    }
    fn list(&self, key: &str) -> Result<Vec<f64>, String> {
        numbers(self.field(key)?).ok_or_else(|| format!("{key} must be a list of numbers"))
    }
    fn list_or_none(&self, key: &str) -> Vec<f64> {
        self.0.get(key).and_then(numbers).unwrap_or_default()
    }
    fn table(&self, key: &str) -> Result<Vec<Vec<f64>>, String> {
        self.field(key)?
            .as_array()
            .and_then(|rows| rows.iter().map(numbers).collect())
            .ok_or_else(|| format!("{key} must be a list of lists of numbers"))
    }
    /// Inputs of one or several columns as rows.
    fn rows(&self, key: &str) -> Result<Vec<Vec<f64>>, String> {
        match self.list(key) {
            Ok(list) => Ok(list.into_iter().map(|v| vec![v]).collect()),
            Err(_) => self.table(key),
        }
    }
    fn number(&self, key: &str) -> Result<f64, String> {
        self.field(key)?
            .as_f64()
            .ok_or_else(|| format!("{key} must be a number"))
    }
    fn count(&self, key: &str) -> Result<usize, String> {
        self.field(key)?
            .as_u64()
            .filter(|n| *n <= 10_000)
            .map(|n| n as usize)
            .ok_or_else(|| format!("{key} must be a whole number"))
    }
    fn text(&self, key: &str) -> Result<&str, String> {
        self.field(key)?
            .as_str()
            .ok_or_else(|| format!("{key} must be a word"))
    }
    fn texts(&self, key: &str) -> Result<Vec<String>, String> {
        self.field(key)?
            .as_array()
            .and_then(|a| a.iter().map(|v| v.as_str().map(str::to_owned)).collect())
            .ok_or_else(|| format!("{key} must be a list of words"))
    }
}

fn say(error: impl std::fmt::Display) -> String {
    error.to_string()
}

fn exponentials(pair: [f64; 2]) -> [f64; 2] {
    pair.map(f64::exp)
}

fn rows_of(matrix: &DMatrix<f64>) -> Vec<Vec<f64>> {
    matrix
        .row_iter()
        .map(|r| r.iter().copied().collect())
        .collect()
}
