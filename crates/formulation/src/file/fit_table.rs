//! Fits of the columns of any table: the last column is the value, those before it the inputs,
//! unless columns are named.

use std::path::Path;

use serde_json::{Value, json};

use super::table::{self, Cell, Table};
use crate::amount::number::{self, DecimalMark};
use crate::trial::fit::FitError;
use crate::trial::fit::drift::Drift;
use crate::trial::fit::flow::{FlowCurve, FlowModel};
use crate::trial::fit::process::{Process, ProcessPrediction};
use crate::trial::fit::recovery::Recovery;
use crate::trial::fit::repeat::Grubbs;
use crate::trial::fit::salt::{OptimumSet, SaltCurve};
use crate::trial::fit::scheffe::{Order, ScheffeFit, Term};
use crate::trial::fit::temperature::{Arrhenius, VogelFulcherTammann};

/// Which curve.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Model {
    /// ln viscosity as a parabola in % salt.
    Salt,
    /// A flow curve; shear rate in 1/s.
    Flow(FlowModel),
    /// ln value in 1/T; temperature in °C.
    Arrhenius,
    /// Vogel, Fulcher, Tammann; temperature in °C.
    VogelFulcherTammann,
    /// A line in time.
    Drift,
    /// Back to an end value after something was added.
    Recovery,
    /// Scheffé polynomial of shares.
    Scheffe(Order),
    /// Gaussian process.
    Gp,
}

impl Model {
    /// Names and models.
    pub const ALL: [(&'static str, Self); 14] = [
        ("salt", Self::Salt),
        ("power-law", Self::Flow(FlowModel::PowerLaw)),
        ("herschel-bulkley", Self::Flow(FlowModel::HerschelBulkley)),
        ("cross", Self::Flow(FlowModel::Cross)),
        ("carreau", Self::Flow(FlowModel::Carreau)),
        ("arrhenius", Self::Arrhenius),
        ("vft", Self::VogelFulcherTammann),
        ("drift", Self::Drift),
        ("recovery", Self::Recovery),
        ("scheffe", Self::Scheffe(Order::Quadratic)),
        ("scheffe-linear", Self::Scheffe(Order::Linear)),
        ("scheffe-special-cubic", Self::Scheffe(Order::SpecialCubic)),
        ("scheffe-cubic", Self::Scheffe(Order::Cubic)),
        ("gp", Self::Gp),
    ];
    /// The model of a name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.iter().find(|(n, _)| *n == name).map(|(_, m)| *m)
    }
    /// What the model assumes and where it ends.
    #[must_use]
    pub const fn assumes(self) -> &'static str {
        match self {
            Self::Salt => {
                "ln viscosity is a parabola in the share of salt; it holds inside the data, best near the top. Past the optimum more salt thins."
            }
            Self::Flow(_) => {
                "steady flow at one temperature; it holds between the least and the greatest shear rate measured"
            }
            Self::Arrhenius | Self::VogelFulcherTammann => {
                "one liquid that neither melts nor separates over the temperatures measured"
            }
            Self::Drift => {
                "a straight line in time; many viscosities change fast at first and slowly later, which a line misses"
            }
            Self::Recovery => {
                "the logarithm of the viscosity comes back to its end at an even pace; it holds between the first and the last reading"
            }
            Self::Scheffe(_) => "shares that add up to one; it holds inside the region measured",
            Self::Gp => {
                "a smooth response; between the readings it follows them, far from them it says the mean"
            }
        }
    }
}

/// Numbers of a table.
#[derive(Clone, PartialEq, Debug)]
pub struct Columns {
    /// Headings, the value last.
    pub names: Vec<String>,
    /// Inputs, one row a reading.
    pub x: Vec<Vec<f64>>,
    /// Values.
    pub y: Vec<f64>,
    /// In which row of the file each reading stands, from 1.
    pub rows: Vec<usize>,
}

impl Columns {
    /// The input of a model that has one.
    fn only_input(&self) -> Result<Vec<f64>, String> {
        if self.names.len() != 2 {
            return Err(format!(
                "this model has one input; name it with --x ({} were given)",
                self.names.len().saturating_sub(1)
            ));
        }
        Ok(self.x.iter().filter_map(|r| r.first().copied()).collect())
    }

    /// What a fit refuses, with the row of the file that it is about.
    fn say(&self, error: &FitError) -> String {
        if let FitError::Value { row, what, must } = error
            && let Some(row) = row.checked_sub(1).and_then(|i| self.rows.get(i))
        {
            return format!("row {row}: {what} must be {must}");
        }
        error.to_string()
    }
}

/// Reads the columns of a file.
pub fn columns(path: &Path, inputs: &[String], value: Option<&str>) -> Result<Columns, String> {
    let tables = table::read_file(path).map_err(|e| e.to_string())?;
    let table = tables
        .iter()
        .find(|t| !t.is_empty())
        .ok_or_else(|| format!("{} holds no table", path.display()))?;
    columns_of(table, inputs, value)
}

fn columns_of(table: &Table, inputs: &[String], value: Option<&str>) -> Result<Columns, String> {
    let start = table
        .rows
        .iter()
        .position(|r| {
            r.iter()
                .any(|c| !c.is_empty() && !c.words().starts_with('#'))
        })
        .ok_or("the table is empty")?;
    let start = table
        .rows
        .iter()
        .enumerate()
        .skip(start)
        .find(|(_, r)| !r.first().is_some_and(|c| c.words().starts_with('#')))
        .map_or(start, |(i, _)| i);
    let width = table.width();
    let headings: Vec<String> = (0..width).map(|c| table.cell(start, c).words()).collect();
    let find = |name: &str| {
        headings
            .iter()
            .position(|h| h.eq_ignore_ascii_case(name.trim()))
            .ok_or_else(|| {
                format!(
                    "there is no column “{name}”; there are: {}",
                    headings.join(", ")
                )
            })
    };
    let y = match value {
        Some(name) => find(name)?,
        None => headings
            .iter()
            .rposition(|h| !h.is_empty())
            .ok_or("the first row must hold the headings")?,
    };
    let x: Vec<usize> = if inputs.is_empty() {
        (0..y).filter(|c| !headings[*c].is_empty()).collect()
    } else {
        inputs.iter().map(|n| find(n)).collect::<Result<_, _>>()?
    };
    if x.is_empty() {
        return Err("the table needs at least one input column before the value".to_owned());
    }
    let used: Vec<usize> = x.iter().copied().chain([y]).collect();
    let mut units: Vec<Option<(String, usize)>> = vec![None; used.len()];
    let mut out = Columns {
        names: used.iter().map(|c| headings[*c].clone()).collect(),
        x: Vec::new(),
        y: Vec::new(),
        rows: Vec::new(),
    };
    let marks: Vec<Option<DecimalMark>> = used
        .iter()
        .map(|c| {
            let texts: Vec<String> = (start + 1..table.rows.len())
                .map(|r| table.cell(r, *c).words())
                .collect();
            number::mark_of(texts.iter().map(String::as_str))
        })
        .collect();
    for row in start + 1..table.rows.len() {
        if used.iter().all(|c| table.cell(row, *c).is_empty()) {
            continue;
        }
        let mut numbers = Vec::with_capacity(used.len());
        for (k, column) in used.iter().enumerate() {
            let cell = table.cell(row, *column);
            let place = || format!("row {}, column “{}”", row + 1, headings[*column]);
            let parsed = match cell {
                Cell::Number { value, .. } => {
                    same_unit(&mut units[k], "", row + 1)
                        .map_err(|e| format!("{}: {e}", place()))?;
                    f64::try_from(*value).map_err(|e| e.to_string())
                }
                Cell::Empty => Err("the cell is empty".to_owned()),
                other => {
                    let words = other.words();
                    let found = number::written(&words, marks[k])
                        .map_err(|e| format!("{}: {e}", place()))?;
                    if !found.before.is_empty() {
                        return Err(format!("{}: “{words}” is not a plain number", place()));
                    }
                    same_unit(&mut units[k], found.after, row + 1)
                        .map_err(|e| format!("{}: {e}", place()))?;
                    f64::try_from(found.value).map_err(|e| e.to_string())
                }
            };
            numbers.push(parsed.map_err(|e| format!("{}: {e}", place()))?);
        }
        let value = numbers.pop().unwrap_or(f64::NAN);
        out.x.push(numbers);
        out.y.push(value);
        out.rows.push(row + 1);
    }
    if out.y.len() < 2 {
        return Err(format!(
            "the table has {} row of numbers; a fit needs several",
            out.y.len()
        ));
    }
    Ok(out)
}

/// Refuses a second unit in a column; a number without unit has one of its own.
fn same_unit(seen: &mut Option<(String, usize)>, unit: &str, row: usize) -> Result<(), String> {
    let words = |unit: &str| match unit {
        "" => "no unit is written".to_owned(),
        unit => format!("the unit is “{unit}”"),
    };
    match seen {
        Some((first, at)) if first != unit => Err(format!(
            "{}, but in row {at} {}; use one unit for a column",
            words(unit),
            words(first)
        )),
        Some(_) => Ok(()),
        None => {
            *seen = Some((unit.to_owned(), row));
            Ok(())
        }
    }
}

/// The standardised residual that stands out by Grubbs's test; shown, never dropped.
fn outlier(residuals: &[f64]) -> Value {
    match Grubbs::of(residuals) {
        Some(g) if g.is_outlier() => json!({"reading": g.index + 1, "G": g.g, "p": g.p}),
        _ => Value::Null,
    }
}

/// The figures of a fit, and its residuals.
type Fitted = (Value, Vec<f64>);

/// Fits a model to columns: its figures, the curve with its bands at the inputs, residuals,
/// what it assumes.
pub fn fit(model: Model, columns: &Columns) -> Result<Value, String> {
    let y = &columns.y;
    let only = || columns.only_input();
    let fitted = match model {
        Model::Salt => salt(&only()?, y),
        Model::Flow(model) => flow(model, &only()?, y),
        Model::Arrhenius => arrhenius(&only()?, y),
        Model::VogelFulcherTammann => vft(&only()?, y),
        Model::Recovery => recovery(&only()?, y),
        Model::Drift => drift(&only()?, y),
        Model::Scheffe(order) => scheffe(order, &columns.x, y),
        Model::Gp => gaussian_process(&columns.x, y),
    };
    let (mut out, residuals) = fitted.map_err(|e| columns.say(&e))?;
    out["readings"] = json!(y.len());
    out["columns"] = json!(columns.names);
    out["outlier"] = outlier(&residuals);
    out["residuals"] = json!(residuals);
    out["assumes"] = json!(model.assumes());
    Ok(out)
}

fn log_residuals(y: &[f64], fitted: &[f64]) -> Vec<f64> {
    y.iter().zip(fitted).map(|(y, f)| y.ln() - f.ln()).collect()
}

fn plain_residuals(y: &[f64], fitted: &[f64]) -> Vec<f64> {
    y.iter().zip(fitted).map(|(y, f)| y - f).collect()
}

/// A curve of viscosity over salt, whose top is the optimum.
fn salt(x: &[f64], y: &[f64]) -> Result<Fitted, FitError> {
    let c = SaltCurve::fit(x, y)?;
    let at: Vec<_> = x.iter().map(|s| c.at(*s)).collect();
    let (kind, set) = match c.optimum_set {
        OptimumSet::Interval(i) => ("interval", json!(i)),
        OptimumSet::Outside(i) => ("outside", json!(i)),
        OptimumSet::All => ("all", Value::Null),
    };
    let fitted: Vec<f64> = at.iter().map(|p| p.mean.exp()).collect();
    Ok((
        json!({
            "coef": c.fit.coef, "se": c.fit.se(), "s": c.fit.s(), "dof": c.fit.dof,
            "r2": c.fit.r2(), "p_curvature": c.p_curvature,
            "optimum": if c.is_determined() { json!(c.optimum) } else { json!("not determined") },
            "is_maximum": c.is_maximum, "optimum_in_data": c.in_data,
            "fieller95_kind": kind, "fieller95": set, "delta95": c.delta_interval(),
            "viscosity_at_optimum": if c.is_determined() { json!(c.top.mean.exp()) } else { Value::Null },
            "fitted": fitted,
            "band95": at.iter().map(|p| p.band.map(f64::exp)).collect::<Vec<_>>(),
            "pi95": at.iter().map(|p| p.new.map(f64::exp)).collect::<Vec<_>>(),
        }),
        log_residuals(y, &fitted),
    ))
}

/// A curve of viscosity over rate of shear.
fn flow(model: FlowModel, x: &[f64], y: &[f64]) -> Result<Fitted, FitError> {
    let c = FlowCurve::determined(model, x, y)?;
    let fitted: Vec<f64> = x.iter().map(|g| c.at(*g)).collect();
    let parameters: serde_json::Map<String, Value> = model
        .parameters()
        .iter()
        .zip(&c.parameters)
        .map(|(n, v)| ((*n).to_owned(), json!(v)))
        .collect();
    let se: serde_json::Map<String, Value> = c
        .se()
        .into_iter()
        .map(|(n, v)| (n.to_owned(), json!(v)))
        .collect();
    Ok((
        json!({
            "parameters": parameters, "se": se, "rss": c.fit.rss, "s": c.fit.s(),
            "dof": c.fit.dof, "aicc": c.aicc(), "fitted": fitted,
            "band95": x.iter().map(|g| c.bands_at(*g).map(|b| b.0)).collect::<Vec<_>>(),
            "pi95": x.iter().map(|g| c.bands_at(*g).map(|b| b.1)).collect::<Vec<_>>(),
        }),
        log_residuals(y, &fitted),
    ))
}

/// Viscosity over temperature after Arrhenius.
fn arrhenius(x: &[f64], y: &[f64]) -> Result<Fitted, FitError> {
    let c = Arrhenius::fit(x, y)?;
    let at: Vec<_> = x.iter().map(|t| c.at(*t)).collect();
    let fitted: Vec<f64> = at.iter().map(|p| p.mean.exp()).collect();
    Ok((
        json!({
            "ln_A": c.fit.coef.first(), "Ea_kJ_mol": c.energy_kj_mol(),
            "se_Ea_kJ_mol": c.se_energy_kj_mol(), "s": c.fit.s(), "dof": c.fit.dof,
            "r2": c.fit.r2(), "fitted": fitted,
            "band95": at.iter().map(|p| p.band.map(f64::exp)).collect::<Vec<_>>(),
            "pi95": at.iter().map(|p| p.new.map(f64::exp)).collect::<Vec<_>>(),
        }),
        log_residuals(y, &fitted),
    ))
}

/// Viscosity over temperature after Vogel, Fulcher and Tammann.
fn vft(x: &[f64], y: &[f64]) -> Result<Fitted, FitError> {
    let c = VogelFulcherTammann::fit(x, y)?;
    let fitted: Vec<f64> = x.iter().map(|t| c.at(*t)).collect();
    let bands: Vec<_> = x.iter().map(|t| c.bands_at(*t)).collect();
    let p = &c.fit.parameters;
    Ok((
        json!({
            "A": p.first(), "B_K": p.get(1), "T0_K": p.get(2), "se": c.fit.se(),
            "s": c.fit.s(), "dof": c.fit.dof, "rss": c.fit.rss, "fitted": fitted,
            "band95": bands.iter().map(|b| b.map(|b| b.0)).collect::<Vec<_>>(),
            "pi95": bands.iter().map(|b| b.map(|b| b.1)).collect::<Vec<_>>(),
        }),
        log_residuals(y, &fitted),
    ))
}

/// Viscosity that comes back after shear.
fn recovery(x: &[f64], y: &[f64]) -> Result<Fitted, FitError> {
    let c = Recovery::fit(x, y)?;
    let fitted: Vec<f64> = x.iter().map(|t| c.at(*t)).collect();
    let bands: Vec<_> = x.iter().map(|t| c.bands_at(*t)).collect();
    Ok((
        json!({
            "start": c.at(0.0), "end": c.end(), "time_constant": c.time_constant(),
            "se_time_constant": c.se_time_constant(),
            "back_90": c.time_back(0.9), "s": c.fit.s(), "dof": c.fit.dof,
            "rss": c.fit.rss, "fitted": fitted,
            "band95": bands.iter().map(|b| b.map(|b| b.0)).collect::<Vec<_>>(),
            "pi95": bands.iter().map(|b| b.map(|b| b.1)).collect::<Vec<_>>(),
        }),
        log_residuals(y, &fitted),
    ))
}

/// A straight line over time.
fn drift(x: &[f64], y: &[f64]) -> Result<Fitted, FitError> {
    let c = Drift::fit(x, y)?;
    let at: Vec<_> = x.iter().map(|t| c.at(*t)).collect();
    let fitted: Vec<f64> = at.iter().map(|p| p.mean).collect();
    let se = c.fit.se();
    Ok((
        json!({
            "intercept": c.fit.coef.first(), "slope": c.fit.coef.get(1),
            "se_intercept": se.first(), "se_slope": se.get(1), "s": c.fit.s(),
            "dof": c.fit.dof, "p_slope": c.p_slope(), "fitted": fitted,
            "band95": at.iter().map(|p| p.band).collect::<Vec<_>>(),
            "pi95": at.iter().map(|p| p.new).collect::<Vec<_>>(),
        }),
        plain_residuals(y, &fitted),
    ))
}

/// A mixture model after Scheffé.
fn scheffe(order: Order, x: &[Vec<f64>], y: &[f64]) -> Result<Fitted, FitError> {
    // Percentages or parts: what adds up to a hundred is taken as percent.
    let x: Vec<Vec<f64>> = x
        .iter()
        .map(|r| {
            let sum: f64 = r.iter().sum();
            let whole = if (sum - 100.0).abs() < 1e-3 {
                100.0
            } else {
                1.0
            };
            r.iter().map(|v| v / whole).collect()
        })
        .collect();
    let c = ScheffeFit::fit(&x, y, order)?;
    let at: Vec<_> = x.iter().map(|x| c.at(x)).collect();
    let fitted: Vec<f64> = at.iter().map(|p| p.mean).collect();
    Ok((
        json!({
            "terms": c.terms.iter().map(Term::name).collect::<Vec<_>>(),
            "coef": c.fit.coef, "se": c.fit.se(), "s": c.fit.s(), "dof": c.fit.dof,
            "r2": c.r2(), "r2_adjusted": c.r2_adjusted(), "press": c.press,
            "r2_predicted": c.r2_predicted(),
            "p_lack_of_fit": c.lack_of_fit.and_then(|l| l.f).map(|f| f.1),
            "fitted": fitted,
            "band95": at.iter().map(|p| p.band).collect::<Vec<_>>(),
            "pi95": at.iter().map(|p| p.new).collect::<Vec<_>>(),
        }),
        plain_residuals(y, &fitted),
    ))
}

/// A Gaussian process.
fn gaussian_process(x: &[Vec<f64>], y: &[f64]) -> Result<Fitted, FitError> {
    let c = Process::fitted(x, y)?;
    let at: Vec<_> = x.iter().map(|x| c.at(x)).collect();
    let fitted: Vec<f64> = at.iter().map(|p| p.mean).collect();
    let left_out = c.leave_one_out();
    let error = left_out
        .iter()
        .zip(y)
        .map(|((m, _), y)| (m - y).powi(2))
        .sum::<f64>()
        / y.len() as f64;
    Ok((
        json!({
            "signal_variance": c.kernel.signal_variance, "length": c.kernel.length,
            "noise_variance": c.kernel.noise_variance,
            "log_marginal_likelihood": c.log_likelihood,
            "loo_error": error.sqrt(), "fitted": fitted,
            "band95": at.iter().map(ProcessPrediction::band).collect::<Vec<_>>(),
            "pi95": at.iter().map(ProcessPrediction::reading_band).collect::<Vec<_>>(),
        }),
        plain_residuals(y, &fitted),
    ))
}
