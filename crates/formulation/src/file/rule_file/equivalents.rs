//! The table of conversions of limits that are expressed as another substance.

use serde::Deserialize;

use super::VERSION;
use crate::file::number::CasText;
use crate::file::read_error::ReadError;
use crate::rules::equivalents::Equivalents;
use crate::rules::molar::molar_mass;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct EquivalentsFile {
    version: u32,
    targets: Vec<TargetRecord>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct TargetRecord {
    name: String,
    formula: String,
    of: Vec<(CasText, String, String, f64)>,
}

/// Reads the table of conversions: CAS number, name, molecular formula and how many
/// of the target one formula unit gives.
///
/// # Errors
/// Not of this form, or a molecular formula that is none.
pub fn read_equivalents(text: &str, file: &str) -> Result<Equivalents, ReadError> {
    let record: EquivalentsFile = ron::from_str(text).map_err(|e| ReadError::ron(file, &e))?;
    let wrong = |message: String| ReadError::whole(file, message);
    if record.version != VERSION {
        return Err(wrong(format!(
            "version {} is not read here",
            record.version
        )));
    }
    let mass = |formula: &str| {
        molar_mass(formula).ok_or_else(|| wrong(format!("“{formula}” is not a molecular formula")))
    };
    let mut equivalents = Equivalents::default();
    for target in &record.targets {
        let index = equivalents.add_target(&target.name);
        let whole = mass(&target.formula)?;
        for (cas, _, formula, units) in &target.of {
            equivalents.add(index, cas.0, units * whole / mass(formula)?);
        }
    }
    Ok(equivalents)
}
