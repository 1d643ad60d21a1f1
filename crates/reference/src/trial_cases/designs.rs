//! Cases of planned sets and of responses over mixtures.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use formulation::trial::design::optimal::{d_optimal, pseudo_lower};
use formulation::trial::design::range::range;
use formulation::trial::design::region::{LinearBound, Region};
use formulation::trial::fit::scheffe::{Order, ScheffeFit, Term, VarianceLine, terms};

use super::{Given, numbers, say};

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

pub(super) fn region(given: &Given) -> Result<Value, String> {
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

pub(super) fn optimal(given: &Given) -> Result<Value, String> {
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

pub(super) fn response_range(given: &Given) -> Result<Value, String> {
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

fn part(part: &VarianceLine) -> Value {
    let mut out = json!({"df": part.df, "ss": part.ss, "ms": part.ms()});
    if let Some((f, p)) = part.f {
        out["F"] = json!(f);
        out["p"] = json!(p);
    }
    out
}

pub(super) fn scheffe(given: &Given) -> Result<Value, String> {
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
