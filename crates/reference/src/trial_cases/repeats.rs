//! Cases of repeated readings.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use formulation::trial::fit::repeat::{
    Grubbs, OneWay, Repeatability, Summary, grubbs_critical, lag1_autocorrelation,
    mean_moving_range, nelson,
};

use super::{Given, say};

pub(super) fn univariate(given: &Given) -> Result<Value, String> {
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

pub(super) fn one_way(given: &Given) -> Result<Value, String> {
    let a = OneWay::of(&given.table("groups")?).map_err(say)?;
    Ok(json!({
        "between_df": a.df.0, "within_df": a.df.1, "between_ss": a.ss.0, "within_ss": a.ss.1,
        "F": a.f, "p": a.p,
    }))
}

pub(super) fn interval(given: &Given) -> Result<Value, String> {
    let s = Summary::of(&given.list("y")?).map_err(say)?;
    Ok(json!({
        "mean": s.mean, "sd": s.sd, "se": s.se(), "rsd_pct": 100.0 * s.sd / s.mean,
        "t975": s.t975(), "mean_ci95": s.mean_interval(), "sd_ci95": s.sd_interval(),
        "next_value_pi95": s.next_interval(),
    }))
}

pub(super) fn grubbs(given: &Given) -> Result<Value, String> {
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

pub(super) fn repeatability(given: &Given) -> Result<Value, String> {
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

pub(super) fn chart(given: &Given) -> Result<Value, String> {
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
