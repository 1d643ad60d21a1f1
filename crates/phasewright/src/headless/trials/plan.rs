//! Planning a set of trials.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use formulation::amount::typed::percent;
use formulation::file::trial_pdf::{set_csv, set_pdf};
use formulation::formula::ItemId;
use formulation::mass::{MassUnit, read_mass};
use formulation::trial::fit::scheffe::Order;
use formulation::trial::plan::{Design, Factor, Varied, check, plan};
use serde_json::{Value, json};

use crate::headless::paper::PaperArg;
use crate::headless::{FOUND, Failure, Opened, Outcome, context, open, said};

use super::save;

/// Arguments of `trials plan`.
#[derive(Debug, Args)]
pub struct PlanArgs {
    /// A formula; `FILE#variant` picks a variant. Its filler takes the rest unless --rest names others.
    pub file: String,
    /// Lines and their ranges: `Sodium chloride=0.5..3`; repeat or separate by semicolons.
    #[arg(long, required = true)]
    pub lines: Vec<String>,
    /// Lines that take the rest together, in proportion to what they have now; repeat or separate by semicolons. The filler if none is named.
    #[arg(long, value_name = "NAME")]
    pub rest: Vec<String>,
    /// lattice, centroid, extreme-vertices, d-optimal or star.
    #[arg(long, default_value = "extreme-vertices")]
    pub design: String,
    /// Number of trials of a D-optimal design.
    #[arg(long)]
    pub trials: Option<usize>,
    /// Model of a D-optimal design: linear, quadratic or special-cubic.
    #[arg(long, default_value = "quadratic")]
    pub model: String,
    /// Degree of a lattice.
    #[arg(long, default_value_t = 2)]
    pub degree: usize,
    /// How many mixtures are made twice, to see the scatter.
    #[arg(long, default_value_t = 2)]
    pub replicates: usize,
    /// Mass of a beaker, for the weigh sheet.
    #[arg(long, default_value = "100 g", allow_hyphen_values = true)]
    pub grams: String,
    /// Number that the random order is drawn from.
    #[arg(long, default_value_t = 1)]
    pub seed: u64,
    /// Where to write the table (CSV).
    #[arg(short, long)]
    pub output: Option<PathBuf>,
    /// Where to write the weigh sheets (PDF).
    #[arg(long)]
    pub pdf: Option<PathBuf>,
    /// Paper of the PDF.
    #[arg(long, value_enum, default_value_t)]
    pub paper: PaperArg,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}

impl PlanArgs {
    fn design(&self) -> Result<Design, Failure> {
        Ok(match self.design.as_str() {
            "lattice" => Design::Lattice(self.degree),
            "centroid" => Design::Centroid,
            "extreme-vertices" | "extreme" => Design::ExtremeVertices,
            "star" => Design::Star,
            "d-optimal" => {
                let runs = self.trials.ok_or_else(|| {
                    Failure("a D-optimal design needs --trials, how many you can make".to_owned())
                })?;
                let order = Order::named(&self.model.replace('-', "_"))
                    .filter(|o| *o != Order::Cubic)
                    .ok_or_else(|| {
                        Failure(format!(
                            "the model “{}” is not known; use linear, quadratic or special-cubic",
                            self.model
                        ))
                    })?;
                Design::DOptimal(runs, order)
            }
            other => {
                return Err(Failure(format!(
                    "the design “{other}” is not known; use lattice, centroid, extreme-vertices, d-optimal or star"
                )));
            }
        })
    }

    fn factors(&self, opened: &Opened) -> Result<Vec<Factor>, Failure> {
        let texts = self.lines.iter().flat_map(|l| l.split(';'));
        texts
            .map(str::trim)
            .filter(|t| !t.is_empty())
            .map(|text| {
                let wrong = || {
                    Failure(format!(
                        "“{text}” is not of the form NAME=LEAST..MOST, for example Sodium chloride=0.5..3"
                    ))
                };
                let (name, range) = text.rsplit_once('=').ok_or_else(wrong)?;
                let (low, high) = range.split_once("..").ok_or_else(wrong)?;
                let line = crate::headless::names::line(&opened.formula, &opened.variant, name)?;
                Ok(Factor {
                    line,
                    low: percent(low)?,
                    high: percent(high)?,
                })
            })
            .collect()
    }

    /// The lines that vary, and those that take the rest.
    fn varied(&self, opened: &Opened) -> Result<Varied, Failure> {
        let factors = self.factors(opened)?;
        let named = self.rest.iter().flat_map(|r| r.split(';'));
        let rest: Vec<ItemId> = named
            .map(str::trim)
            .filter(|name| !name.is_empty())
            .map(|name| crate::headless::names::line(&opened.formula, &opened.variant, name))
            .collect::<Result<_, _>>()?;
        if rest.is_empty() {
            Ok(Varied::with_filler(&opened.variant, factors)?)
        } else {
            Ok(Varied { factors, rest })
        }
    }

    pub(super) fn run(&self, out: &mut dyn Write) -> Outcome {
        let opened = open(&self.file)?;
        let design = self.design()?;
        let varied = self.varied(&opened)?;
        let mut runs = plan(&opened.variant, &varied, design, self.replicates, self.seed)?;
        runs.sort_by_key(|r| r.order);
        let mass = read_mass(&self.grams, Some(MassUnit::Gram))
            .map_err(|e| Failure(format!("--grams: {e}")))?;
        if mass.is_zero() {
            return Err(Failure("--grams: the mass must be above zero".to_owned()));
        }
        let name_of = |id| {
            opened
                .variant
                .line(id)
                .and_then(|l| opened.formula.material(&l.material))
                .map_or_else(|| "a line".to_owned(), |m| m.name.to_string())
        };
        let names: Vec<String> = varied.lines().map(name_of).collect();
        let checked = check(&opened.formula, &opened.variant, &varied, &runs, &context());
        let table = set_csv(&opened.formula, &opened.variant, &varied, &checked, mass)?;
        let rows: Vec<Value> = checked
            .iter()
            .map(|c| {
                let percents: Vec<f64> = c.run.percents.iter().map(|p| p.as_percent()).collect();
                json!({
                    "order": c.run.order, "mixture": c.run.mixture, "percent": percents,
                    "breaches": c.breaches.len(), "first_breach": c.breaches.first(),
                })
            })
            .collect();
        let breaches: usize = checked.iter().map(|c| c.breaches.len()).sum();
        if let Some(path) = &self.pdf {
            let pdf = set_pdf(
                &opened.formula,
                &opened.variant,
                &varied,
                &runs,
                mass,
                self.paper,
            )?;
            save(path, &pdf)?;
        }
        if let Some(path) = &self.output {
            save(path, table.as_bytes())?;
        }
        if self.json {
            let value =
                json!({"lines": names, "explanation": design.explanation(), "trials": rows});
            said::print_json(out, serde_json::to_string_pretty(&value)?)?;
        } else {
            writeln!(out, "{}", design.explanation())?;
            match &self.output {
                Some(path) => writeln!(out, "{} trials written ({}).", runs.len(), path.display())?,
                None => write!(out, "{table}")?,
            }
            if breaches > 0 {
                writeln!(out, "Some of them break a limit: look before you weigh.")?;
            }
        }
        Ok(if breaches > 0 { FOUND } else { 0 })
    }
}
