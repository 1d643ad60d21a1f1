//! Cases of curves fitted to readings.

use nalgebra::DMatrix;
use serde_json::{Map, Value, json};

use formulation::trial::fit::expression::{Expression, ExpressionCurve};
use formulation::trial::fit::flow::{FlowCurve, FlowModel, compare};
use formulation::trial::fit::linear::{least_squares, polynomial};
use formulation::trial::fit::nonlinear;
use formulation::trial::fit::process::{Covariance, Process, ProcessPrediction};
use formulation::trial::fit::salt::{OptimumSet, SaltCurve};

use super::{Given, exponentials, numbers, rows_of, say};

pub(super) fn linear(given: &Given) -> Result<Value, String> {
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

pub(super) fn certified_linear(given: &Given) -> Result<Value, String> {
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

pub(super) fn certified_curve(given: &Given) -> Result<Value, String> {
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

pub(super) fn salt(given: &Given) -> Result<Value, String> {
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

pub(super) fn flow(given: &Given) -> Result<Value, String> {
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

pub(super) fn process(given: &Given) -> Result<Value, String> {
    let x = given.rows("x")?;
    let y = given.list("y")?;
    let at = given.rows("at").unwrap_or_default();
    let mean = given.number("mean_constant")?;
    let mut out = json!({});
    if let Some(hyper) = given.0.get("given") {
        let hyper = Given(hyper);
        let kernel = Covariance {
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
