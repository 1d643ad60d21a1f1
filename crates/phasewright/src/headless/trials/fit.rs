//! Fitting a curve to the columns of any table.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use formulation::amount::Measure;
use formulation::file::fit_table::{self, Model};
use serde_json::Value;

use crate::headless::{Failure, Outcome, said};

/// Arguments of `trials fit`.
#[derive(Debug, Args)]
pub struct FitArgs {
    /// A table (CSV, TSV, XLSX …) with headings.
    pub table: PathBuf,
    /// salt, power-law, herschel-bulkley, cross, carreau, arrhenius, vft, drift, scheffe, gp.
    #[arg(long)]
    pub model: String,
    /// Input columns by heading; those before the value if not named.
    #[arg(long)]
    pub x: Vec<String>,
    /// The value's column; the last one if not named.
    #[arg(long)]
    pub y: Option<String>,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}

impl FitArgs {
    pub(super) fn run(&self, out: &mut dyn Write) -> Outcome {
        let model = Model::named(&self.model).ok_or_else(|| {
            let names: Vec<&str> = Model::ALL.iter().map(|(n, _)| *n).collect();
            Failure(format!(
                "the model “{}” is not known; use one of: {}",
                self.model,
                names.join(", ")
            ))
        })?;
        let columns = fit_table::columns(&self.table, &self.x, self.y.as_deref())
            .map_err(|e| Failure(format!("{}: {e}", self.table.display())))?;
        let fit = fit_table::fit(model, &columns)
            .map_err(|e| Failure(format!("{}: {e}", self.table.display())))?;
        if self.json {
            said::print_json(out, serde_json::to_string_pretty(&fit)?)?;
            return Ok(0);
        }
        if let Value::Object(fields) = &fit {
            let lists = ["fitted", "band95", "pi95", "residuals"];
            for (key, value) in fields.iter().filter(|(k, _)| !lists.contains(&k.as_str())) {
                writeln!(out, "{key}: {}", words(value))?;
            }
        }
        Ok(0)
    }
}

/// A field with six digits.
fn words(value: &Value) -> String {
    match value {
        Value::Number(n) => n.as_f64().map_or_else(
            || n.to_string(),
            |v| {
                if v.fract() == 0.0 && v.abs() < 1e9 {
                    format!("{v}")
                } else {
                    Measure::NUMBER.digits_of(v)
                }
            },
        ),
        Value::Array(list) => list.iter().map(words).collect::<Vec<_>>().join(", "),
        Value::Object(fields) => fields
            .iter()
            .map(|(k, v)| format!("{k} {}", words(v)))
            .collect::<Vec<_>>()
            .join(", "),
        Value::String(text) => text.clone(),
        Value::Null => "none".to_owned(),
        Value::Bool(yes) => if *yes { "yes" } else { "no" }.to_owned(),
    }
}
