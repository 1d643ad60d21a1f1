//! What a maker has settled about materials of files: with `--match`, and kept with
//! `--answers` for the next file.

use formulation::file::store::{self, Expect};
use formulation::file::table::recipe::Choice;
use formulation::material::MaterialId;
use formulation::naming::{How, fold};
use formulation::shelf::Shelf;

use super::Failure;

/// Exit code if something had to be assumed.
pub(super) const ASSUMED: u8 = 3;

/// What was settled the last time: the material as written, and what it means.
#[derive(Default)]
pub(super) struct Answers {
    known: std::collections::BTreeMap<String, String>,
    changed: bool,
}

impl Answers {
    pub(super) fn read(path: Option<&std::path::Path>) -> Result<Self, Failure> {
        let Some(path) = path.filter(|p| p.exists()) else {
            return Ok(Self::default());
        };
        let (text, _) = store::read_text(path)
            .map_err(|e| Failure(format!("the answers could not be read: {e}")))?;
        let mut answers = Self::default();
        for (number, line) in text.lines().enumerate() {
            let line = line.trim();
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            let (written, means) = line.rsplit_once('=').ok_or_else(|| {
                Failure(format!(
                    "line {}: “{line}” is no answer; write the material as written, an equals sign and its id on the shelf or “new” ({})",
                    number + 1,
                    path.display()
                ))
            })?;
            answers
                .known
                .insert(fold::plain(written), means.trim().to_owned());
        }
        Ok(answers)
    }

    /// What is known of a material as written.
    pub(super) fn choice(&self, written: &str, shelf: &Shelf) -> Option<Choice> {
        let means = self.known.get(&fold::plain(written))?;
        if means.eq_ignore_ascii_case("new") {
            return Some(Choice::New);
        }
        let id = MaterialId::from_name(means);
        shelf.get(&id)?;
        Some(Choice::Known(id, How::Chosen))
    }

    pub(super) fn learn(&mut self, written: &str, chosen: &str) {
        if let Some((_, means)) = chosen.split_once('=') {
            self.known
                .insert(fold::plain(written), means.trim().to_owned());
            self.changed = true;
        }
    }

    pub(super) fn save(&self, path: Option<&std::path::Path>) -> Result<(), Failure> {
        let Some(path) = path.filter(|_| self.changed) else {
            return Ok(());
        };
        let head = "# What materials of recipes brought in mean\n".to_owned();
        let text = self.known.iter().fold(head, |text, (written, means)| {
            text + written + " = " + means + "\n"
        });
        store::save_text(path, &text, Expect::Anything)
            .map_err(|e| Failure(format!("the answers could not be written: {e}")))?;
        Ok(())
    }
}

/// The row of `ROW=MATERIAL` and what it is taken for.
pub(super) fn matched(chosen: &str, shelf: &Shelf) -> Result<(usize, Choice), Failure> {
    let wrong = || {
        Failure(format!(
            "“{chosen}” is not a match; write the row, an equals sign, and the id of a material or “new”, such as 7=glycerin-99-5"
        ))
    };
    let (row, material) = chosen.split_once('=').ok_or_else(wrong)?;
    let row: usize = row.trim().parse().map_err(|_not_a_row| wrong())?;
    if material.trim().eq_ignore_ascii_case("new") {
        return Ok((row, Choice::New));
    }
    let id = MaterialId::from_name(material);
    if shelf.get(&id).is_none() {
        return Err(Failure(format!(
            "“{material}” is not on the shelf; look it up with “phasewright shelf search”"
        )));
    }
    Ok((row, Choice::Known(id, How::Chosen)))
}
