//! Tables of reference cases for the fits, designs and instruments of trials: what each case
//! asks is told by its fields, and the answer carries the computed fields under their names.

use std::collections::BTreeMap;

use nalgebra::DMatrix;
use serde_json::{Map, Value, json};

use crate::trial::bench::colour::Lab;
use crate::trial::bench::falling_ball::FallingBall;
use crate::trial::bench::flow_cup::FlowCup;
use crate::trial::bench::known_liquid::KnownLiquid;
use crate::trial::design::lattice::{simplex_centroid, simplex_lattice};
use crate::trial::design::optimal::{d_optimal, pseudo_lower};
use crate::trial::design::range::range;
use crate::trial::design::region::{LinearBound, Region};
use crate::trial::fit::distribution::{chi2_quantile, f_quantile, t_quantile};
use crate::trial::fit::drift::{Batches, Crossing, Drift, Limit, Pooling};
use crate::trial::fit::expression::{Expression, ExpressionCurve};
use crate::trial::fit::flow::{FlowCurve, FlowModel, compare};
use crate::trial::fit::linear::{least_squares, polynomial};
use crate::trial::fit::nonlinear;
use crate::trial::fit::process::{Kernel, Process, ProcessPrediction};
use crate::trial::fit::repeat::{
    Grubbs, OneWay, Repeatability, Summary, grubbs_critical, lag1_autocorrelation,
    mean_moving_range, nelson,
};
use crate::trial::fit::salt::{OptimumSet, SaltCurve};
use crate::trial::fit::scheffe::{Order, Part, ScheffeFit, Term, terms};
use crate::trial::fit::temperature::{Arrhenius, Vft, mean_kinetic_celsius, q10};

/// What a case asks.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Asks {
    Linear,
    CertifiedLinear,
    CertifiedCurve,
    Salt,
    Flow,
    Arrhenius,
    Vft,
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
            Some("vft") => Some(Self::Vft),
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
        Asks::Vft => vft(&given)?,
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

fn rows_of(matrix: &DMatrix<f64>) -> Vec<Vec<f64>> {
    matrix
        .row_iter()
        .map(|r| r.iter().copied().collect())
        .collect()
}

fn exponentials(pair: [f64; 2]) -> [f64; 2] {
    pair.map(f64::exp)
}

fn linear(given: &Given) -> Result<Value, String> {
    let model = given.text("model")?;
    let row = |x: &[f64]| -> Vec<f64> {
        let first = x.first().copied().unwrap_or(f64::NAN);
        match model {
            "through_origin" => vec![first],
            "quadratic" => vec![1.0, first, first * first],
            "cubic" => vec![1.0, first, first * first, first.powi(3)],
            _ => std::iter::once(1.0).chain(x.iter().copied()).collect(),
        }
    };
    if ![
        "line",
        "through_origin",
        "quadratic",
        "cubic",
        "two_predictors",
    ]
    .contains(&model)
    {
        return Err(format!("the model “{model}” is not known"));
    }
    let x = given.rows("x")?;
    let y = given.list("y")?;
    let width = row(x.first().ok_or("x is empty")?).len();
    if x.iter().any(|r| row(r).len() != width) {
        return Err("the rows of x are of different length".to_owned());
    }
    let design = DMatrix::from_fn(x.len(), width, |i, j| row(&x[i])[j]);
    let known = given.text("weights")? == "inverse_variance";
    let weights = match given.text("weights")? {
        "none" => None,
        "inverse_variance" => Some(
            given
                .list("sd")?
                .iter()
                .map(|sd| 1.0 / (sd * sd))
                .collect::<Vec<_>>(),
        ),
        "replicates" => Some(given.list("replicates")?),
        other => return Err(format!("the weights “{other}” are not known")),
    };
    let fit = least_squares(&design, &y, weights.as_deref()).map_err(say)?;
    let sd_new = if known {
        given.number("sd_new").or_else(|_| {
            let mut sd = given.list("sd")?;
            sd.sort_by(f64::total_cmp);
            let middle = |i: usize| sd.get(i).copied().ok_or("sd is empty");
            let half = sd.len() / 2;
            Ok::<_, String>(if sd.len() % 2 == 1 {
                middle(half)?
            } else {
                f64::midpoint(middle(half.saturating_sub(1))?, middle(half)?)
            })
        })?
    } else {
        1.0
    };
    let at: Vec<_> = given
        .rows("at")
        .unwrap_or_default()
        .iter()
        .map(|r| fit.predict(&row(r), sd_new))
        .collect();
    let factor = fit.simultaneous_factor();
    let mut out = json!({
        "dof": fit.dof, "coef": fit.coef, "se": fit.se(), "s": fit.s(), "rss": fit.rss,
        "r2": fit.r2(), "t975": fit.t975(), "ci95": fit.intervals(),
        "cov": rows_of(&fit.covariance()),
        "mean": at.iter().map(|p| p.mean).collect::<Vec<_>>(),
        "se_mean": at.iter().map(|p| p.se).collect::<Vec<_>>(),
        "band95": at.iter().map(|p| p.band).collect::<Vec<_>>(),
        "pi95": at.iter().map(|p| p.new).collect::<Vec<_>>(),
        "simultaneous_band95": at.iter()
            .map(|p| [p.mean - factor * p.se, p.mean + factor * p.se]).collect::<Vec<_>>(),
    });
    if known {
        out["se_if_sd_known"] = json!(fit.se_unscaled());
        out["sd_new"] = json!(sd_new);
    }
    Ok(out)
}

/// The design of a model in words: a polynomial of a degree, powers of x, or predictors.
fn design_in_words(model: &str, x: &[Vec<f64>]) -> Result<DMatrix<f64>, String> {
    let model = model.to_lowercase();
    let width = x.first().map_or(0, Vec::len);
    if x.iter().any(|r| r.len() != width) || width == 0 {
        return Err("the rows of x are of different length".to_owned());
    }
    let constant = model.contains("b0") || model.contains("polynomial");
    if width > 1 || model.contains("x1") {
        let first = usize::from(constant);
        return Ok(DMatrix::from_fn(x.len(), width + first, |i, j| {
            if j < first { 1.0 } else { x[i][j - first] }
        }));
    }
    let degree = if let Some((_, tail)) = model.split_once("degree") {
        tail.trim()
            .split(|c: char| !c.is_ascii_digit())
            .next()
            .and_then(|d| d.parse().ok())
            .ok_or_else(|| format!("the degree of “{model}” cannot be read"))?
    } else {
        model
            .match_indices("x^")
            .filter_map(|(i, _)| {
                let tail = model.get(i + 2..)?;
                let digits = tail
                    .find(|c: char| !c.is_ascii_digit())
                    .unwrap_or(tail.len());
                tail.get(..digits)?.parse::<usize>().ok()
            })
            .max()
            .unwrap_or(usize::from(model.contains('x')))
    };
    if degree > 30 {
        return Err("the degree is beyond 30".to_owned());
    }
    let values: Vec<f64> = x.iter().map(|r| r[0]).collect();
    let all = polynomial(&values, degree);
    Ok(if constant { all } else { all.remove_column(0) })
}

fn certified_linear(given: &Given) -> Result<Value, String> {
    let x = given.rows("x")?;
    let y = given.list("y")?;
    let design = design_in_words(given.text("model")?, &x)?;
    let fit = least_squares(&design, &y, None).map_err(say)?;
    let constant = design.column(0).iter().all(|v| *v == 1.0);
    let df = fit.coef.len() - usize::from(constant);
    let regression = fit.total - fit.rss;
    let exact = fit.rss <= 1e-20 * fit.total;
    let f = regression / df as f64 / (fit.rss / fit.dof as f64);
    Ok(json!({
        "coef": fit.coef, "se": fit.se(), "s": fit.s(), "r2": fit.r2(), "dof": fit.dof,
        "anova": {"regression_ss": regression, "residual_ss": fit.rss,
                  "f": if exact { Value::Null } else { json!(f) }},
    }))
}

fn certified_curve(given: &Given) -> Result<Value, String> {
    // Words after the formula stand behind a semicolon or two spaces.
    let text = given.text("model")?;
    let text = text.split(';').next().unwrap_or(text);
    let text = text.trim().split("  ").next().unwrap_or(text);
    let formula = Expression::read(text).map_err(say)?;
    let x = given.rows("x")?;
    let mut y = given.list("y")?;
    if formula.of_logarithm {
        for v in &mut y {
            *v = v.ln();
        }
    }
    let curve = ExpressionCurve {
        formula: &formula,
        x: &x,
        y: &y,
    };
    let starts: Vec<Vec<f64>> = ["start2", "start1"]
        .iter()
        .filter_map(|k| given.list(k).ok())
        .filter(|s| s.len() == formula.parameters)
        .collect();
    if starts.is_empty() {
        return Err(format!(
            "the model has {} parameters; start1 and start2 have not",
            formula.parameters
        ));
    }
    let fit = nonlinear::fit(&curve, &starts).map_err(say)?;
    Ok(json!({
        "coef": fit.parameters, "se": fit.se(), "rss": fit.rss, "s": fit.s(), "dof": fit.dof,
    }))
}

fn salt(given: &Given) -> Result<Value, String> {
    let curve =
        SaltCurve::fit(&given.list("salt_pct")?, &given.list("viscosity_mPas")?).map_err(say)?;
    let at: Vec<_> = given
        .list_or_none("at")
        .into_iter()
        .map(|s| curve.at(s))
        .collect();
    let (kind, set) = match curve.optimum_set {
        OptimumSet::Interval(i) => ("interval", json!(i)),
        OptimumSet::Outside(i) => ("outside", json!(i)),
        OptimumSet::All => ("all", Value::Null),
    };
    let fit = &curve.fit;
    let mut out = json!({
        "dof": fit.dof, "coef": fit.coef, "se": fit.se(), "cov": rows_of(&fit.covariance()),
        "s": fit.s(), "r2": fit.r2(), "t975": fit.t975(),
        "viscosity_fit": at.iter().map(|p| p.mean.exp()).collect::<Vec<_>>(),
        "band95": at.iter().map(|p| exponentials(p.band)).collect::<Vec<_>>(),
        "pi95": at.iter().map(|p| exponentials(p.new)).collect::<Vec<_>>(),
        "optimum": curve.optimum, "is_maximum": curve.is_maximum,
        "optimum_in_data": curve.in_data, "p_curvature": curve.p_curvature,
        "se_delta": curve.se_delta, "delta95": curve.delta_interval(),
        "fieller95_kind": kind, "fieller95": set,
        "viscosity_at_optimum": curve.top.mean.exp(),
        "viscosity_at_optimum_ci95": exponentials(curve.top.band),
    });
    if let Ok(target) = given.number("target_mPas") {
        out["salt_for_target"] = json!(curve.salt_for(target));
        out["salt_for_target_band95"] = json!(curve.salt_band_for(target));
    }
    Ok(out)
}

fn flow_fields(curve: &FlowCurve, at: &[f64]) -> Value {
    let names = curve.model.parameters();
    let parameters: Map<String, Value> = names
        .iter()
        .zip(&curve.parameters)
        .map(|(n, v)| ((*n).to_owned(), json!(v)))
        .collect();
    let fixed: Map<String, Value> = (0..names.len())
        .filter(|i| curve.held[*i])
        .map(|i| (names[i].to_owned(), json!(curve.parameters[i])))
        .collect();
    let se: Map<String, Value> = curve
        .se()
        .into_iter()
        .map(|(n, v)| (n.to_owned(), json!(v)))
        .collect();
    json!({
        "fixed": fixed, "parameters": parameters, "se": se, "rss": curve.fit.rss,
        "s": curve.fit.s(), "dof": curve.fit.dof, "aicc": curve.aicc(),
        "at_shear_rate": at,
        "viscosity": at.iter().map(|g| curve.at(*g)).collect::<Vec<_>>(),
        "band95": at.iter().map(|g| curve.bands_at(*g).map(|b| b.0)).collect::<Vec<_>>(),
    })
}

fn flow(given: &Given) -> Result<Value, String> {
    let rates = given.list("shear_rate_1_s")?;
    let viscosity = match given.list("viscosity_Pa_s") {
        Ok(list) => list,
        Err(_) => given
            .list("stress_Pa")?
            .iter()
            .zip(&rates)
            .map(|(t, g)| t / g)
            .collect(),
    };
    if let Ok(name) = given.text("model") {
        let model = FlowModel::ALL
            .into_iter()
            .find(|m| m.key() == name)
            .ok_or_else(|| format!("the model “{name}” is not known"))?;
        let held: Vec<(&str, f64)> = given
            .0
            .get("fixed")
            .and_then(Value::as_object)
            .into_iter()
            .flatten()
            .filter_map(|(k, v)| Some((k.as_str(), v.as_f64()?)))
            .collect();
        let curve = FlowCurve::fit(model, &rates, &viscosity, &held).map_err(say)?;
        return Ok(flow_fields(&curve, &given.list_or_none("at_shear_rate")));
    }
    let n = rates.len();
    let at = given
        .0
        .get("fits")
        .and_then(Value::as_object)
        .and_then(|f| f.values().find_map(|f| numbers(f.get("at_shear_rate")?)))
        .unwrap_or_else(|| {
            [n / 8, n / 2, n - n.div_ceil(8)]
                .iter()
                .filter_map(|i| rates.get(*i).copied())
                .collect()
        });
    let (curves, best) = compare(&rates, &viscosity);
    let fits: Map<String, Value> = curves
        .iter()
        .map(|c| (c.model.key().to_owned(), flow_fields(c, &at)))
        .collect();
    Ok(json!({"least_aicc": best.map(FlowModel::key), "fits": fits}))
}

fn arrhenius(given: &Given) -> Result<Value, String> {
    let fit = Arrhenius::fit(&given.list("T_C")?, &given.list("viscosity_mPas")?).map_err(say)?;
    let at: Vec<_> = given
        .list_or_none("at_T_C")
        .into_iter()
        .map(|t| fit.at(t))
        .collect();
    let (energy, se, t) = (fit.energy_kj_mol(), fit.se_energy_kj_mol(), fit.fit.t975());
    Ok(json!({
        "dof": fit.fit.dof, "ln_A": fit.fit.coef.first(), "se_ln_A": fit.fit.se().first(),
        "Ea_kJ_mol": energy, "se_Ea_kJ_mol": se, "Ea_ci95": [energy - t * se, energy + t * se],
        "s": fit.fit.s(), "r2": fit.fit.r2(),
        "viscosity": at.iter().map(|p| p.mean.exp()).collect::<Vec<_>>(),
        "band95": at.iter().map(|p| exponentials(p.band)).collect::<Vec<_>>(),
        "pi95": at.iter().map(|p| exponentials(p.new)).collect::<Vec<_>>(),
        "q10_20_30": fit.ratio(20.0, 30.0),
    }))
}

fn vft(given: &Given) -> Result<Value, String> {
    let vft = Vft::fit(&given.list("T_C")?, &given.list("viscosity_mPas")?).map_err(say)?;
    let p = &vft.fit.parameters;
    let at: Vec<_> = given
        .list_or_none("at_T_C")
        .into_iter()
        .map(|t| (vft.at(t), vft.bands_at(t)))
        .collect();
    Ok(json!({
        "dof": vft.fit.dof, "A": p.first(), "B_K": p.get(1), "T0_K": p.get(2),
        "se": vft.fit.se(), "s": vft.fit.s(), "rss": vft.fit.rss,
        "viscosity": at.iter().map(|a| a.0).collect::<Vec<_>>(),
        "band95": at.iter().map(|a| a.1.map(|b| b.0)).collect::<Vec<_>>(),
        "pi95": at.iter().map(|a| a.1.map(|b| b.1)).collect::<Vec<_>>(),
    }))
}

fn rates(given: &Given) -> Result<Value, String> {
    let (t, k) = (given.list("T_C")?, given.list("rate_per_week")?);
    let fit = Arrhenius::fit(&t, &k).map_err(say)?;
    let there = fit.at(given.number("to_T_C")?);
    let rate = there.mean.exp();
    let mut out = json!({"Ea_kJ_mol": -fit.energy_kj_mol(), "rate": rate});
    if fit.fit.dof > 0 {
        out["rate_ci95"] = json!(exponentials(there.band));
        out["se_Ea_kJ_mol"] = json!(fit.se_energy_kj_mol());
    }
    if let Ok(loss) = given.number("loss_limit") {
        out["weeks_to_limit_zero_order"] = json!(loss / rate);
    }
    if let ([t1, t2, ..], [k1, k2, ..]) = (t.as_slice(), k.as_slice()) {
        out["q10_first_two"] = json!(q10(*k1, *t1, *k2, *t2));
    }
    Ok(out)
}

fn mean_kinetic(given: &Given) -> Result<Value, String> {
    let t = given.list("T_C")?;
    let mkt = mean_kinetic_celsius(&t, given.number("Ea_kJ_mol")?)
        .ok_or("the temperatures or the activation energy cannot be")?;
    Ok(json!({"mkt_C": mkt, "mean_C": t.iter().sum::<f64>() / t.len() as f64}))
}

fn limit(given: &Given) -> Result<Limit, String> {
    match given.text("side")? {
        "lower" => Ok(Limit::Lower(given.number("limit")?)),
        "upper" => Ok(Limit::Upper(given.number("limit")?)),
        "both" => match given.list("limit")?.as_slice() {
            [l, u] => Ok(Limit::Both(*l, *u)),
            _ => Err("limit must be two numbers".to_owned()),
        },
        other => Err(format!("the side “{other}” is not known")),
    }
}

fn drift(given: &Given) -> Result<Value, String> {
    let drift = Drift::fit(&given.list("week")?, &given.list("value")?).map_err(say)?;
    let limit = limit(given)?;
    let se = drift.fit.se();
    let at: Vec<_> = given
        .list_or_none("at_week")
        .into_iter()
        .map(|t| drift.at(t))
        .collect();
    let crossing = drift.time_to(limit);
    let mut out = json!({
        "intercept": drift.fit.coef.first(), "slope": drift.fit.coef.get(1),
        "se_intercept": se.first(), "se_slope": se.get(1), "s": drift.fit.s(),
        "dof": drift.fit.dof, "p_slope": drift.p_slope(),
        "mean": at.iter().map(|p| p.mean).collect::<Vec<_>>(),
        "band95": at.iter().map(|p| p.band).collect::<Vec<_>>(),
        "pi95": at.iter().map(|p| p.new).collect::<Vec<_>>(),
        "outcome": match crossing {
            Crossing::At(_) => "crosses",
            Crossing::Never => "never",
            Crossing::OutsideAtStart => "outside_at_start",
        },
        "weeks_to_limit": crossing.time(),
    });
    match limit {
        Limit::Both(l, u) => {
            out["confidence"] = json!("two-sided 95 %");
            out["weeks_lower"] = json!(drift.time_to_side(Limit::Lower(l), limit).time());
            out["weeks_upper"] = json!(drift.time_to_side(Limit::Upper(u), limit).time());
        }
        Limit::Lower(v) | Limit::Upper(v) => {
            out["confidence"] = json!("one-sided 95 %");
            out["weeks_fitted_line"] = json!(drift.line_meets(v));
        }
    }
    Ok(out)
}

fn batches(given: &Given) -> Result<Value, String> {
    let fit = Batches::fit(
        &given.texts("batch")?,
        &given.list("time")?,
        &given.list("value")?,
    )
    .map_err(say)?;
    let limit = limit(given)?;
    let tail = match given.text("confidence") {
        Ok(words) if words.contains("two") => 0.975,
        Ok(_) => 0.95,
        Err(_) => limit.tail(),
    };
    let by_batch = |times: Vec<Option<f64>>| -> Map<String, Value> {
        fit.names
            .iter()
            .zip(times)
            .map(|(n, t)| (n.clone(), json!(t)))
            .collect()
    };
    let of = |pooling| -> Vec<Option<f64>> {
        fit.times(pooling, limit, tail)
            .into_iter()
            .map(Crossing::time)
            .collect()
    };
    let least = |times: &[Option<f64>]| times.iter().flatten().copied().min_by(f64::total_cmp);
    let (common, intercepts, lines) = (
        of(Pooling::Common),
        of(Pooling::OwnIntercepts),
        of(Pooling::OwnLines),
    );
    let separate: Vec<Option<f64>> = fit
        .separate_times(limit, tail)
        .into_iter()
        .map(|c| c.and_then(Crossing::time))
        .collect();
    let chosen: Map<String, Value> = fit
        .names
        .iter()
        .zip(fit.chosen_lines())
        .map(|(n, (a, b))| (n.clone(), json!([a, b])))
        .collect();
    Ok(json!({
        "F_slopes": fit.slopes.0, "p_slopes": fit.slopes.1,
        "F_intercepts": fit.intercepts.0, "p_intercepts": fit.intercepts.1,
        "F_intercepts_reduced": fit.intercepts_reduced.0,
        "p_intercepts_reduced": fit.intercepts_reduced.1,
        "mse_full": fit.mean_square, "dof_full": fit.dof,
        "model": match fit.pooling {
            Pooling::Common => "cics",
            Pooling::OwnIntercepts => "dics",
            Pooling::OwnLines => "dids",
        },
        "confidence": if tail > 0.96 { "two-sided 95 %" } else { "one-sided 95 %" },
        "lines": chosen,
        "time_to_limit": {
            "cics": least(&common), "dics": least(&intercepts),
            "dids_pooled_mse": least(&lines), "dids_separate": least(&separate),
            "dics_by_batch": by_batch(intercepts),
            "dids_pooled_mse_by_batch": by_batch(lines),
            "dids_separate_by_batch": by_batch(separate),
        },
        "shelf_life": fit.time_to(limit, tail).time(),
    }))
}

fn read_region(given: &Given) -> Result<Region, String> {
    let linear = match given.0.get("linear").and_then(Value::as_array) {
        Some(list) => list
            .iter()
            .map(|l| {
                Some(LinearBound {
                    coef: numbers(l.get("coef")?)?,
                    lo: l.get("lo").and_then(Value::as_f64),
                    hi: l.get("hi").and_then(Value::as_f64),
                })
            })
            .collect::<Option<Vec<_>>>()
            .ok_or("linear must be a list of coef, lo, hi")?,
        None => Vec::new(),
    };
    Ok(Region {
        lower: given.list("lower")?,
        upper: given.list("upper")?,
        linear,
    })
}

fn region(given: &Given) -> Result<Value, String> {
    let shape = read_region(given)?.shape().map_err(say)?;
    let mut out = json!({"feasible": !shape.vertices.is_empty(), "vertices": shape.vertices});
    if let Some(dimension) = shape.dimension() {
        let faces: BTreeMap<String, usize> = shape
            .faces
            .iter()
            .map(|(d, f)| (d.to_string(), f.len()))
            .collect();
        let implied = shape.implied();
        out["dimension"] = json!(dimension);
        out["faces"] = json!(faces);
        out["overall_centroid"] = json!(shape.centroid());
        out["implied_lower"] = json!(implied.iter().map(|i| i[0]).collect::<Vec<_>>());
        out["implied_upper"] = json!(implied.iter().map(|i| i[1]).collect::<Vec<_>>());
        if dimension > 1 {
            out["edge_centroids"] = json!(shape.centroids(1));
            out["facet_centroids"] = json!(shape.centroids(dimension - 1));
        }
    }
    Ok(out)
}

fn order(given: &Given) -> Result<Order, String> {
    let name = given.text("model")?;
    Order::named(name).ok_or_else(|| format!("the model “{name}” is not known"))
}

fn optimal(given: &Given) -> Result<Value, String> {
    let candidates = given.table("candidates")?;
    let found = d_optimal(&candidates, order(given)?, given.count("n")?, 150, 1)
        .ok_or("the candidates or the number of runs cannot bear the model")?;
    Ok(json!({
        "p": found.parameters, "log_det": found.log_det, "d_per_run": found.d_per_run(),
        "pseudo_lower": pseudo_lower(&candidates), "log_det_pseudo": found.log_det_pseudo,
        "counts": found.counts, "max_leverage": found.max_leverage,
        "mean_variance_simplex": found.mean_variance_simplex,
    }))
}

/// The term of a short name with one digit a component.
fn term(name: &str) -> Option<Term> {
    let digits: Vec<usize> = name
        .get(1..)?
        .chars()
        .map(|c| c.to_digit(10).map(|d| d as usize))
        .collect::<Option<Vec<_>>>()?
        .into_iter()
        .map(|d| d.checked_sub(1))
        .collect::<Option<_>>()?;
    match (name.chars().next()?, digits.as_slice()) {
        ('b', of) if !of.is_empty() => Some(Term::Product(of.to_vec())),
        ('d', [i, j]) => Some(Term::Difference(*i, *j)),
        _ => None,
    }
}

fn response_range(given: &Given) -> Result<Value, String> {
    let terms: Vec<Term> = given
        .texts("terms")?
        .iter()
        .map(|t| term(t).ok_or_else(|| format!("the term “{t}” is not known")))
        .collect::<Result<_, _>>()?;
    let shape = read_region(given)?.shape().map_err(say)?;
    let (least, greatest) = range(&shape, &terms, &given.list("coef")?)
        .ok_or("the region is empty or the model is not quadratic")?;
    let place = |at_vertex: bool| {
        if at_vertex {
            "vertex"
        } else {
            "inside a face or the region"
        }
    };
    let mut out = json!({
        "min": least.value, "x_min": least.x, "min_at": place(least.at_vertex),
        "max": greatest.value, "x_max": greatest.x, "max_at": place(greatest.at_vertex),
    });
    if let [lo, hi] = given.list_or_none("target").as_slice() {
        out["reachable"] = json!(least.value <= *hi && greatest.value >= *lo);
    }
    Ok(out)
}

fn part(part: &Part) -> Value {
    let mut out = json!({"df": part.df, "ss": part.ss, "ms": part.ms()});
    if let Some((f, p)) = part.f {
        out["F"] = json!(f);
        out["p"] = json!(p);
    }
    out
}

fn scheffe(given: &Given) -> Result<Value, String> {
    let order = order(given)?;
    let x = given.table("x")?;
    let fit = ScheffeFit::fit(&x, &given.list("y")?, order).map_err(say)?;
    let coefficients = fit.coefficients();
    let at: Vec<_> = given
        .table("at")
        .unwrap_or_default()
        .iter()
        .map(|x| fit.at(x))
        .collect();
    let mut anova = json!({
        "model": part(&fit.model), "residual": part(&fit.residual), "total": part(&fit.total),
    });
    for (name, line) in [
        ("nonlinear_terms", &fit.nonlinear),
        ("pure_error", &fit.pure_error),
        ("lack_of_fit", &fit.lack_of_fit),
    ] {
        if let Some(line) = line {
            anova[name] = part(line);
        }
    }
    let names = terms(x.first().map_or(0, Vec::len), order);
    Ok(json!({
        "terms": names.iter().map(Term::name).collect::<Vec<_>>(),
        "coef": coefficients.iter().map(|c| c.0).collect::<Vec<_>>(),
        "se": coefficients.iter().map(|c| c.1).collect::<Vec<_>>(),
        "t": coefficients.iter().map(|c| c.2).collect::<Vec<_>>(),
        "p": coefficients.iter().map(|c| c.3).collect::<Vec<_>>(),
        "s": fit.fit.s(), "r2": fit.r2(), "r2_adjusted": fit.r2_adjusted(),
        "press": fit.press, "r2_predicted": fit.r2_predicted(), "anova": anova,
        "leverage": fit.fit.leverage,
        "prediction": at.iter().map(|p| p.mean).collect::<Vec<_>>(),
        "ci95": at.iter().map(|p| p.band).collect::<Vec<_>>(),
        "pi95": at.iter().map(|p| p.new).collect::<Vec<_>>(),
    }))
}

fn process(given: &Given) -> Result<Value, String> {
    let x = given.rows("x")?;
    let y = given.list("y")?;
    let at = given.rows("at").unwrap_or_default();
    let mean = given.number("mean_constant")?;
    let mut out = json!({});
    if let Some(hyper) = given.0.get("given") {
        let hyper = Given(hyper);
        let kernel = Kernel {
            signal_variance: hyper.number("signal_variance")?,
            length: hyper.list("length")?,
            noise_variance: hyper.number("noise_variance")?,
        };
        let process = Process::given(&x, &y, mean, kernel).map_err(say)?;
        let there: Vec<_> = at.iter().map(|x| process.at(x)).collect();
        let left_out = process.leave_one_out();
        out["given"] = json!({
            "mean": there.iter().map(|p| p.mean).collect::<Vec<_>>(),
            "variance_latent": there.iter().map(|p| p.variance).collect::<Vec<_>>(),
            "variance_new": there.iter().map(|p| p.variance_new).collect::<Vec<_>>(),
            "band95": there.iter().map(ProcessPrediction::band).collect::<Vec<_>>(),
            "pi95": there.iter().map(ProcessPrediction::reading_band).collect::<Vec<_>>(),
            "log_marginal_likelihood": process.log_likelihood,
            "loo_mean": left_out.iter().map(|l| l.0).collect::<Vec<_>>(),
            "loo_variance": left_out.iter().map(|l| l.1).collect::<Vec<_>>(),
            "gradient_ln": process.gradient(),
        });
    }
    if let Some(optimum) = given.0.get("optimum") {
        let bounds: Vec<[f64; 2]> = Given(optimum)
            .table("bounds")?
            .into_iter()
            .map(|b| match b.as_slice() {
                [lo, hi] if *lo > 0.0 && hi > lo => Ok([*lo, *hi]),
                _ => Err("a bound must be two positive numbers in order".to_owned()),
            })
            .collect::<Result<_, _>>()?;
        let process = Process::fit(&x, &y, mean, &bounds).map_err(say)?;
        let there: Vec<_> = at.iter().map(|x| process.at(x)).collect();
        out["optimum"] = json!({
            "signal_variance": process.kernel.signal_variance, "length": process.kernel.length,
            "noise_variance": process.kernel.noise_variance,
            "at_bound": process.at_bound(&bounds),
            "log_marginal_likelihood": process.log_likelihood,
            "mean": there.iter().map(|p| p.mean).collect::<Vec<_>>(),
            "variance_new": there.iter().map(|p| p.variance_new).collect::<Vec<_>>(),
        });
    }
    Ok(out)
}

fn univariate(given: &Given) -> Result<Value, String> {
    let y = if let Ok(y) = given.list("y") {
        y
    } else {
        let turn = given.list("y_then_alternating")?;
        std::iter::once(given.number("y_first")?)
            .chain(turn.iter().copied().cycle())
            .take(given.count("n")?)
            .collect()
    };
    let summary = Summary::of(&y).map_err(say)?;
    Ok(json!({
        "mean": summary.mean, "sd": summary.sd, "lag1_autocorrelation": lag1_autocorrelation(&y),
    }))
}

fn one_way(given: &Given) -> Result<Value, String> {
    let a = OneWay::of(&given.table("groups")?).map_err(say)?;
    Ok(json!({
        "between_df": a.df.0, "within_df": a.df.1, "between_ss": a.ss.0, "within_ss": a.ss.1,
        "F": a.f, "p": a.p,
    }))
}

fn interval(given: &Given) -> Result<Value, String> {
    let s = Summary::of(&given.list("y")?).map_err(say)?;
    Ok(json!({
        "mean": s.mean, "sd": s.sd, "se": s.se(), "rsd_pct": 100.0 * s.sd / s.mean,
        "t975": s.t975(), "mean_ci95": s.mean_interval(), "sd_ci95": s.sd_interval(),
        "next_value_pi95": s.next_interval(),
    }))
}

fn grubbs(given: &Given) -> Result<Value, String> {
    let y = given.list("y")?;
    let summary = Summary::of(&y).map_err(say)?;
    let g = Grubbs::of(&y).ok_or("at least three readings that are not all alike are needed")?;
    let greatest = y.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let least = y.iter().copied().fold(f64::INFINITY, f64::min);
    Ok(json!({
        "G": g.g, "index": g.index, "value": y.get(g.index),
        "critical_two_sided_005": g.critical,
        "critical_one_sided_005": grubbs_critical(y.len(), 0.05, false),
        "outlier_005": g.is_outlier(), "p_two_sided": g.p,
        "G_max": (greatest - summary.mean) / summary.sd,
        "G_min": (summary.mean - least) / summary.sd,
    }))
}

fn repeatability(given: &Given) -> Result<Value, String> {
    let groups = given.table("groups")?;
    let r = Repeatability::of(&groups).map_err(say)?;
    let mut out = json!({
        "dof": r.dof, "s_r": r.s_r, "s_r_ci95": r.s_r_interval,
        "repeatability_limit": r.limit(), "repeatability_limit_exact": r.limit_exact(),
        "s_between": r.s_between, "s_intermediate": r.s_intermediate(),
        "F": r.one_way.f, "p": r.one_way.p, "n0": r.n0,
    });
    let pairs: Option<Vec<f64>> = groups
        .iter()
        .map(|g| match g.as_slice() {
            [a, b] => Some((a - b) * (a - b)),
            _ => None,
        })
        .collect();
    if let Some(squares) = pairs {
        let mean = squares.iter().sum::<f64>() / (2 * squares.len()) as f64;
        out["sd_from_differences"] = json!(mean.sqrt());
    }
    Ok(out)
}

fn chart(given: &Given) -> Result<Value, String> {
    let y = given.list("y")?;
    let rules: BTreeMap<String, Vec<usize>> =
        nelson(&y, given.number("centre")?, given.number("sd")?)
            .into_iter()
            .enumerate()
            .map(|(i, r)| ((i + 1).to_string(), r))
            .collect();
    let range = mean_moving_range(&y);
    let mean = y.iter().sum::<f64>() / y.len() as f64;
    Ok(json!({
        "rules": rules, "mean_moving_range": range, "sd_from_moving_range": range / 1.128,
        "individuals_limits": [mean - 2.66 * range, mean + 2.66 * range],
    }))
}

/// What a CSV table of these asks.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum TableAsks {
    /// CIEDE2000 of two colours.
    Colour,
    /// Kinematic viscosity of a flow cup.
    Cup,
    /// Viscosity by a falling ball.
    Ball,
    /// Viscosity of a known liquid.
    Liquid,
    /// A critical value.
    Critical,
}

impl TableAsks {
    /// What the columns ask; `told` is what comments and names say.
    #[must_use]
    pub fn from(has: &dyn Fn(&str) -> bool, told: &str) -> Option<Self> {
        if has("L1") && has("a1") && has("b2") {
            Some(Self::Colour)
        } else if has("cup") && (has("time_s") || has("kinematic_mm2_s")) {
            Some(Self::Cup)
        } else if has("d_mm") && has("D_mm") && has("time_s") {
            Some(Self::Ball)
        } else if has("what") && has("key") && has("p") {
            Some(Self::Critical)
        } else if has("viscosity_mPas") && has("solute") || {
            let other = [
                "a_w",
                "density_g_cm3",
                "density_kg_m3",
                "molality",
                "x_solute",
            ];
            let says = ["viscosity", "-visc-"].iter().any(|w| told.contains(w));
            has("solute") && says && !other.iter().any(|c| has(c))
        } {
            Some(Self::Liquid)
        } else {
            None
        }
    }

    /// The figure of one row, empty where there is none.
    pub fn answer<'a>(
        self,
        text: &dyn Fn(&str) -> Option<&'a str>,
        number: &dyn Fn(&str) -> Result<f64, String>,
    ) -> Result<String, String> {
        let word = |key: &str| text(key).ok_or_else(|| format!("{key} is missing"));
        let value = match self {
            Self::Colour => {
                let one = |n: &str| -> Result<Lab, String> {
                    Ok(Lab {
                        l: number(&format!("L{n}"))?,
                        a: number(&format!("a{n}"))?,
                        b: number(&format!("b{n}"))?,
                    })
                };
                one("1")?.delta_2000(one("2")?)
            }
            Self::Cup => {
                let name = word("cup")?;
                let cup =
                    FlowCup::named(name).ok_or_else(|| format!("the cup “{name}” is not known"))?;
                if text("time_s").is_none() {
                    cup.seconds(number("kinematic_mm2_s")?)
                } else {
                    match cup.kinematic_mm2_s(number("time_s")?) {
                        Some(v) => v,
                        None => return Ok(String::new()),
                    }
                }
            }
            Self::Ball => {
                FallingBall {
                    ball_mm: number("d_mm")?,
                    tube_mm: number("D_mm")?,
                    ball_density: number("rho_ball")?,
                    liquid_density: number("rho_liquid")?,
                    distance_mm: number("distance_mm")?,
                    seconds: number("time_s")?,
                }
                .fall()
                .ok_or("the ball does not sink in the tube")?
                .viscosity_mpa_s
            }
            Self::Liquid => {
                let name = word("solute")?;
                KnownLiquid::named(name)
                    .ok_or_else(|| format!("nothing is known of “{name}”"))?
                    .viscosity_mpa_s(number("mass_pct")?, number("T_C")?)
                    .ok_or("outside the range of the equation")?
            }
            Self::Critical => {
                let (key, p) = (word("key")?, number("p")?);
                let count = || {
                    key.parse::<f64>()
                        .map_err(|e| format!("key: “{key}” is not a number ({e})"))
                };
                match word("what")? {
                    "t" => t_quantile(p, count()?),
                    "chi2" => chi2_quantile(p, count()?),
                    "grubbs_two_sided" => grubbs_critical(count()? as usize, p, true),
                    "grubbs_one_sided" => grubbs_critical(count()? as usize, p, false),
                    "f" => {
                        let pair = key.split_once('/').and_then(|(a, b)| {
                            Some((a.trim().parse().ok()?, b.trim().parse().ok()?))
                        });
                        let (a, b) = pair.ok_or_else(|| format!("key: “{key}” is not a/b"))?;
                        f_quantile(p, a, b)
                    }
                    other => return Err(format!("“{other}” is not known")),
                }
            }
        };
        Ok(format!("{value:.12e}"))
    }
}
