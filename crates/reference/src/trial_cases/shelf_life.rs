//! Cases of temperature, rates and drift over time.

use serde_json::{Map, Value, json};

use formulation::trial::fit::drift::{Batches, Crossing, Drift, Pooling, TrendLimit};
use formulation::trial::fit::temperature::{
    Arrhenius, VogelFulcherTammann, mean_kinetic_celsius, q10,
};

use super::{Given, exponentials, say};

pub(super) fn arrhenius(given: &Given) -> Result<Value, String> {
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

pub(super) fn vft(given: &Given) -> Result<Value, String> {
    let vft = VogelFulcherTammann::fit(&given.list("T_C")?, &given.list("viscosity_mPas")?)
        .map_err(say)?;
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

pub(super) fn rates(given: &Given) -> Result<Value, String> {
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

pub(super) fn mean_kinetic(given: &Given) -> Result<Value, String> {
    let t = given.list("T_C")?;
    let mkt = mean_kinetic_celsius(&t, given.number("Ea_kJ_mol")?)
        .ok_or("the temperatures or the activation energy cannot be")?;
    Ok(json!({"mkt_C": mkt, "mean_C": t.iter().sum::<f64>() / t.len() as f64}))
}

fn limit(given: &Given) -> Result<TrendLimit, String> {
    match given.text("side")? {
        "lower" => Ok(TrendLimit::Lower(given.number("limit")?)),
        "upper" => Ok(TrendLimit::Upper(given.number("limit")?)),
        "both" => match given.list("limit")?.as_slice() {
            [l, u] => Ok(TrendLimit::Both(*l, *u)),
            _ => Err("limit must be two numbers".to_owned()),
        },
        other => Err(format!("the side “{other}” is not known")),
    }
}

pub(super) fn drift(given: &Given) -> Result<Value, String> {
    let drift = Drift::fit(&given.list("week")?, &given.list("value")?).map_err(say)?;
    let limit = limit(given)?;
    let se = drift.fit.se();
    let at: Vec<_> = given
        .list_or_none("at_week")
        .into_iter()
        .map(|t| drift.at(t))
        .collect();
    let crossing = drift.time_to_limit(limit);
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
        TrendLimit::Both(l, u) => {
            out["confidence"] = json!("two-sided 95 %");
            out["weeks_lower"] = json!(drift.time_to_side(TrendLimit::Lower(l), limit).time());
            out["weeks_upper"] = json!(drift.time_to_side(TrendLimit::Upper(u), limit).time());
        }
        TrendLimit::Lower(v) | TrendLimit::Upper(v) => {
            out["confidence"] = json!("one-sided 95 %");
            out["weeks_fitted_line"] = json!(drift.line_meets(v));
        }
    }
    Ok(out)
}

pub(super) fn batches(given: &Given) -> Result<Value, String> {
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
        "shelf_life": fit.time_to_limit(limit, tail).time(),
    }))
}
