//! Answers to files of reference cases: the model's own figures for the inputs of a
//! table, so that they can be laid beside published or independent ones.
//!
//! A file is a CSV table with `#` comment lines and a header row. What it asks is
//! told by its columns, in any order; further columns are ignored. Where the columns
//! fit density as well as water activity, the comments, the name of the file and the
//! names of the cases decide. In a table of pH, “yes” under “solubility” lets sparingly soluble
//! acids dissolve to their solubility only, and under “air” lets its carbon dioxide in. A file
//! that is JSON holds linear and quadratic programmes or ranges of a declared order, see
//! [`crate::solver_cases`]; the answer to each is its status, followed by the
//! objective, or by the minima and the maxima. Cases of trials (fits, designs, instruments),
//! see [`crate::trial_cases`], are answered field by field.

pub mod solver_cases;
pub mod trial_cases;

use std::collections::HashMap;

use formulation::batch::rounding::round_lines;
use formulation::batch::weighing_scale::WeighingScale;
use formulation::chemistry::acids::{Family, Protolyte};
use formulation::chemistry::ph::{Shares, Solution, davies, solve};
use formulation::chemistry::substances::{Substance, by_name};
use formulation::chemistry::{density, water_activity};
use formulation::mass::digits;
use formulation::mass::{MassUnit, read_mass};
use formulation::quantity::Percent;

use crate::solver_cases::SolverCaseError;
use crate::trial_cases::TableAsks;

/// The answer to one case.
#[derive(Clone, PartialEq, Debug)]
pub struct Answer {
    /// Name of the case in the file.
    pub case_id: String,
    /// The answer, or why there is none.
    pub value: Result<Value, String>,
}

/// What is answered.
#[derive(Clone, PartialEq, Debug)]
pub enum Value {
    /// A figure as printed.
    Figure(String),
    /// Several figures by their names in the file.
    Fields(serde_json::Map<String, serde_json::Value>),
}

impl Answer {
    /// The answer as a number, where it is one.
    #[must_use]
    pub fn number(&self) -> Option<f64> {
        match &self.value {
            Ok(Value::Figure(figure)) => figure.parse().ok(),
            _ => None,
        }
    }
    fn figure(case_id: String, figure: Result<String, String>) -> Self {
        Self {
            case_id,
            value: figure.map(Value::Figure),
        }
    }
}

impl std::fmt::Display for Answer {
    /// One line: `case_id,value`, or an object with `case_id` among its fields.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match &self.value {
            Ok(Value::Figure(figure)) => write!(f, "{},{figure}", self.case_id),
            Ok(Value::Fields(fields)) => {
                let mut all = fields.clone();
                all.insert("case_id".to_owned(), self.case_id.clone().into());
                write!(f, "{}", serde_json::Value::Object(all))
            }
            Err(_) => write!(f, "{},", self.case_id),
        }
    }
}

/// Why a file cannot be answered at all.
#[derive(Debug, thiserror::Error)]
pub enum ReferenceError {
    /// Not a readable table.
    #[error("line {line}: {why}; the file must be comma-separated with a header row")]
    Table {
        /// Line in the file.
        line: u64,
        /// What the reader says.
        why: String,
    },
    /// Not a file of programmes.
    #[error(transparent)]
    Programmes(#[from] SolverCaseError),
    /// Nothing in the header tells what is asked.
    #[error(
        "the columns {0} do not tell what to compute; expected “molal” or “ww” (pH), “acid” and “pH” (undissociated fraction), “solute” with “a_w” or “density_g_cm3” or a file named water_activity or density, “resolution_g” with “batch_g” and “percent” (rounding)"
    )]
    Unknown(String),
}

/// Answers every case of a file, whose name tells what is asked where its header does not.
pub fn answer(text: &str, file_name: &str) -> Result<Vec<Answer>, ReferenceError> {
    if text.trim_start().starts_with('{') {
        if let Some(answers) = trials(text) {
            return Ok(answers);
        }
        let cases = solver_cases::read(text)?;
        let answered = cases.into_iter().map(|case| {
            let answer = case.answer();
            let mut words = vec![answer.status().to_owned()];
            words.extend(answer.numbers());
            Answer::figure(case.id, Ok(words.join(",")))
        });
        return Ok(answered.collect());
    }
    let comments = text.lines().filter(|l| l.starts_with('#'));
    let first_case = text.lines().filter(|l| !l.starts_with('#')).nth(1);
    let told: String = comments
        .chain([file_name])
        .chain(first_case)
        .collect::<Vec<_>>()
        .join("\n")
        .to_lowercase();
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .flexible(true)
        .from_reader(text.as_bytes());
    let columns: HashMap<String, usize> = reader
        .headers()
        .map_err(in_table)?
        .iter()
        .enumerate()
        .map(|(i, name)| (name.to_owned(), i))
        .collect();
    let asks = Asks::from(&columns, &told).ok_or_else(|| {
        let mut names: Vec<&str> = columns.keys().map(String::as_str).collect();
        names.sort_unstable();
        ReferenceError::Unknown(names.join(", "))
    })?;
    let mut answers = Vec::new();
    for record in reader.records() {
        let row = Row {
            record: record.map_err(in_table)?,
            columns: &columns,
        };
        answers.push(Answer::figure(
            row.text("case_id").unwrap_or_default().to_owned(),
            match asks {
                Asks::Ph => ph(&row),
                Asks::Undissociated => undissociated(&row),
                Asks::WaterActivity => water_activity_of(&row),
                Asks::Density => density_of(&row),
                Asks::Rounding => rounded(&row),
                Asks::Trials(asks) => asks.answer(&|key| row.text(key), &|key| {
                    row.number(key)?.ok_or_else(|| format!("{key} is missing"))
                }),
            },
        ));
    }
    Ok(answers)
}

/// Answers to a file of cases of trials; none if it is another file.
fn trials(text: &str) -> Option<Vec<Answer>> {
    let file: serde_json::Value = serde_json::from_str(text).ok()?;
    let cases = file.get("cases")?.as_array()?;
    if !cases.first().is_some_and(trial_cases::understands) {
        return None;
    }
    let answers = cases.iter().map(|case| {
        let case_id = case.get("case_id").and_then(serde_json::Value::as_str);
        Answer {
            case_id: case_id.unwrap_or_default().to_owned(),
            value: trial_cases::answer(case).map(Value::Fields),
        }
    });
    Some(answers.collect())
}

fn in_table(error: csv::Error) -> ReferenceError {
    ReferenceError::Table {
        line: error.position().map_or(0, csv::Position::line),
        why: error.to_string(),
    }
}

/// What a table asks for.
#[derive(Clone, Copy)]
enum Asks {
    Ph,
    Undissociated,
    WaterActivity,
    Density,
    Rounding,
    Trials(TableAsks),
}

impl Asks {
    fn from(columns: &HashMap<String, usize>, told: &str) -> Option<Self> {
        let has = |name: &str| columns.contains_key(name);
        let says = |words: &[&str]| words.iter().any(|w| told.contains(w));
        if has("resolution_g") && has("batch_g") && has("percent") {
            Some(Self::Rounding)
        } else if let Some(asks) = TableAsks::from(&has, told) {
            Some(Self::Trials(asks))
        } else if has("molal") || has("ww") {
            Some(Self::Ph)
        } else if has("acid") && has("pH") {
            Some(Self::Undissociated)
        } else if !has("solute") {
            None
        } else if has("density_g_cm3") || has("density_kg_m3") {
            Some(Self::Density)
        } else if has("a_w")
            || has("molality")
            || has("x_solute")
            || says(&["water activity", "water_activity", "-aw-"])
        {
            Some(Self::WaterActivity)
        } else {
            says(&["density", "-rho-"]).then_some(Self::Density)
        }
    }
}

struct Row<'a> {
    record: csv::StringRecord,
    columns: &'a HashMap<String, usize>,
}

impl Row<'_> {
    /// The text of a column; none if the column is missing or the cell is empty.
    fn text(&self, column: &str) -> Option<&str> {
        let cell = self.record.get(*self.columns.get(column)?)?;
        (!cell.is_empty()).then_some(cell)
    }
    fn number(&self, column: &str) -> Result<Option<f64>, String> {
        self.text(column)
            .map(|cell| number(cell).ok_or_else(|| format!("{column}: “{cell}” is not a number")))
            .transpose()
    }
    fn substance(&self) -> Result<&'static Substance, String> {
        let name = self.text("solute").ok_or("the solute is missing")?;
        by_name(name).ok_or_else(|| format!("nothing is known of “{name}”"))
    }
}

fn number(text: &str) -> Option<f64> {
    text.parse().ok().filter(|x: &f64| x.is_finite())
}

/// `name=value` pairs parted by semicolons.
fn mixture(text: &str) -> Result<Vec<(&'static Substance, f64)>, String> {
    text.split(';')
        .map(str::trim)
        .filter(|pair| !pair.is_empty())
        .map(|pair| {
            let (name, value) = pair
                .split_once('=')
                .ok_or_else(|| format!("“{pair}” is not of the form name=value"))?;
            let substance =
                by_name(name).ok_or_else(|| format!("nothing is known of “{}”", name.trim()))?;
            let value = number(value.trim())
                .filter(|v| *v >= 0.0)
                .ok_or_else(|| format!("“{}” is not an amount", value.trim()))?;
            Ok((substance, value))
        })
        .collect()
}

fn ph(row: &Row) -> Result<String, String> {
    let by_mass = match row.text("basis") {
        Some("ww") => true,
        Some("molal") => false,
        _ => row.text("molal").is_none(),
    };
    let column = if by_mass { "ww" } else { "molal" };
    let parts = mixture(row.text(column).unwrap_or_default())?;
    let water = 100.0 - parts.iter().map(|(_, share)| share).sum::<f64>();
    if by_mass && water <= 0.0 {
        return Err("there is no water in the mixture".to_owned());
    }
    let mut solution = Solution::new();
    for (substance, amount) in parts {
        let molality = if by_mass {
            amount / substance.molar_mass / water * 1000.0
        } else {
            amount
        };
        solution.add_substance(substance, molality);
    }
    let says = |column: &str| row.text(column) == Some("yes");
    if says("solubility") {
        solution.cap_at_solubility();
    }
    if says("air") {
        solution = solution.open_to_air();
    }
    Ok(format!("{:.6}", solve(&solution).ph))
}

fn undissociated(row: &Row) -> Result<String, String> {
    let ph = row.number("pH")?.ok_or("the pH is missing")?;
    let ionic_strength = row
        .number("I")?
        .unwrap_or(if row.columns.contains_key("fraction_I01") {
            0.1
        } else {
            0.0
        });
    let fraction = match row.number("pKa")? {
        Some(pka) => Shares::from_constants(0, &[pka], ph, davies(ionic_strength)).protonated(),
        None => Shares::new(acid(row)?, ph, ionic_strength).protonated(),
    };
    Ok(format!("{fraction:.8}"))
}

fn acid(row: &Row) -> Result<&'static Protolyte, String> {
    let name = row.text("acid").ok_or("the acid is missing")?;
    let stem = name.trim().to_lowercase().replace('_', " ");
    let stem = stem.trim_end_matches(" acid");
    Family::ALL
        .iter()
        .map(|f| f.protolyte())
        .find(|p| {
            let known = p.name.trim_end_matches(" acid");
            known == stem || known.trim_start_matches("p-") == stem
        })
        .ok_or_else(|| format!("no constants are known of “{name}”"))
}

/// Molality from the row: as given, else from the share by mass.
fn water_activity_of(row: &Row) -> Result<String, String> {
    let substance = row.substance()?;
    let molality = match (row.number("molality")?, row.number("mass_pct")?) {
        (Some(molality), _) => molality,
        (None, Some(share)) if share < 100.0 => {
            1000.0 * share / substance.molar_mass / (100.0 - share)
        }
        (None, Some(_)) => return Err("there is no water in the mixture".to_owned()),
        (None, None) => return Err("neither molality nor mass_pct is given".to_owned()),
    };
    Ok(format!(
        "{:.6}",
        water_activity::of_solute(substance, molality)
    ))
}

/// Masses of a batch rounded to the resolution of a scale, parted by semicolons, with the
/// digits of the resolution.
fn rounded(row: &Row) -> Result<String, String> {
    let mass = |column: &str| {
        let text = row
            .text(column)
            .ok_or_else(|| format!("{column} is missing"))?;
        read_mass(text, Some(MassUnit::Gram)).map_err(|e| format!("{column}: {e}"))
    };
    let percents = row.text("percent").ok_or("percent is missing")?;
    let percents: Vec<Percent> = percents
        .split(';')
        .map(|p| p.parse::<Percent>().map_err(|e| format!("percent: {e}")))
        .collect::<Result<_, _>>()?;
    let resolution = mass("resolution_g")?;
    let scale = WeighingScale::new("scale", resolution, None).map_err(|e| e.to_string())?;
    let rounding = round_lines(&percents, mass("batch_g")?, &[scale]).map_err(|e| e.to_string())?;
    let digits = digits(resolution, MassUnit::Gram) as usize;
    let masses: Vec<String> = rounding
        .lines
        .iter()
        .map(|l| format!("{:.digits$}", l.mass))
        .collect();
    Ok(masses.join(";"))
}

fn density_of(row: &Row) -> Result<String, String> {
    let substance = row.substance()?;
    let share = row.number("mass_pct")?.ok_or("mass_pct is missing")? / 100.0;
    let t = row.number("T_C")?.unwrap_or(20.0);
    let kg_m3 = density::of_solution_kg_m3(substance, share, t)
        .ok_or_else(|| format!("the volume of {} is not known", substance.name()))?;
    Ok(if row.columns.contains_key("density_kg_m3") {
        format!("{kg_m3:.2}")
    } else {
        format!("{:.5}", kg_m3 / 1000.0)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn first(text: &str, file_name: &str) -> f64 {
        let answers = answer(text, file_name).unwrap();
        answers[0].number().unwrap()
    }

    /// Glycerol at 50 % by mass: density 1.1239 at 25 °C (Bosart and Snoddy 1927), water
    /// activity 0.80 (Norrish's equation with K = 1.16), both from the kept tables.
    #[test]
    fn inputs_alone_are_told_apart_by_the_name_of_the_file_or_of_the_case() {
        let table = "case_id,solute,mass_pct,T_C\nx1,glycerol,50,25\n";
        assert!((first(table, "density.csv") - 1.1239).abs() < 0.0005);
        let activity = first(table, "water_activity.csv");
        assert!((0.78..0.82).contains(&activity), "{activity}");
        let named = table.replace("x1", "ref-rho-0001");
        assert!((first(&named, "new.csv") - 1.1239).abs() < 0.0005);
        let error = answer(table, "new.csv").unwrap_err();
        assert!(
            error
                .to_string()
                .contains("named water_activity or density")
        );
    }

    #[test]
    fn a_row_that_cannot_be_computed_says_why_and_the_others_are_answered() {
        let text = "molal,case_id\nunobtainium=1,a\ncitric_acid=0.1,b\n";
        let answers = answer(text, "ph.csv").unwrap();
        assert!(
            answers[0]
                .value
                .as_ref()
                .unwrap_err()
                .contains("unobtainium")
        );
        assert!(answers[1].value.is_ok());
    }
}
