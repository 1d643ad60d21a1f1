//! What a maker has settled about the materials of tables, kept for the next file: one
//! answer a line, `material as written = id on the shelf` or `= new`.

use std::collections::BTreeMap;
use std::path::Path;

use super::disk::{self, Access};
use super::store::{self, Expect, StoreError};
use super::table::recipe::Choice;
use crate::material::MaterialId;
use crate::naming::{How, Wanted, contradiction, fold};
use crate::shelf::Shelf;

/// Why answers could not be read or kept.
#[derive(Debug, thiserror::Error)]
pub enum AnswersError {
    /// The file.
    #[error("the answers could not be read: {0}")]
    Read(StoreError),
    /// The file.
    #[error("the answers could not be kept: {0}")]
    Save(StoreError),
    /// Their folder.
    #[error("the answers could not be kept: the folder cannot be made ({folder}): {why}")]
    Folder {
        /// Which.
        folder: String,
        /// Why.
        why: String,
    },
    /// A line without an equals sign.
    #[error(
        "line {line}: “{text}” is no answer; write the material as written, an equals sign and its id on the shelf or “new” ({file})"
    )]
    NoAnswer {
        /// Counted from 1.
        line: usize,
        /// What stands there.
        text: String,
        /// The file.
        file: String,
    },
}

/// What was settled the last time: the material as written, folded, and what it means.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Answers {
    known: BTreeMap<String, String>,
    changed: bool,
}

impl Answers {
    /// Reads a file of answers; none are known where there is no file.
    pub fn read(path: Option<&Path>) -> Result<Self, AnswersError> {
        let Some(path) = path.filter(|p| p.exists()) else {
            return Ok(Self::default());
        };
        let (text, _) = store::read_text(path).map_err(AnswersError::Read)?;
        let mut answers = Self::default();
        for (number, line) in text.lines().enumerate() {
            let line = line.trim();
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            let (written, means) = line
                .rsplit_once('=')
                .ok_or_else(|| AnswersError::NoAnswer {
                    line: number + 1,
                    text: line.to_owned(),
                    file: path.display().to_string(),
                })?;
            answers
                .known
                .insert(fold::plain(written), means.trim().to_owned());
        }
        Ok(answers)
    }

    /// What is known of a material as a row writes it; a material that has left the shelf is
    /// known no longer. Where INCI names, CAS number or strength beside the name are those of
    /// another material, what was settled for the name alone is no answer.
    pub fn choice(&self, wanted: &Wanted, shelf: &Shelf) -> Option<Choice> {
        let whole = self.known.get(&whole(wanted));
        let means = whole.or_else(|| self.known.get(&fold::plain(&wanted.name)))?;
        if means.eq_ignore_ascii_case("new") {
            return Some(Choice::New);
        }
        let id = MaterialId::from_name(means);
        let material = shelf.get(&id)?;
        (whole.is_some() || contradiction(wanted, material).is_none())
            .then_some(Choice::Known(id, How::Chosen))
    }

    /// Remembers what a material as a row writes it means. What an inventory name stands for
    /// is no answer that could be kept.
    pub fn learn(&mut self, wanted: &Wanted, choice: &Choice, shelf: &Shelf) {
        let means = match choice {
            Choice::Known(id, _) => id.as_str(),
            Choice::New => "new",
            Choice::NewPure(_) | Choice::Made(_) => return,
        };
        let contradicted = match choice {
            Choice::Known(id, _) => shelf.get(id).and_then(|m| contradiction(wanted, m)),
            _ => None,
        };
        // What was settled against the columns beside the name holds for these alone.
        let key = if contradicted.is_some() {
            whole(wanted)
        } else {
            fold::plain(&wanted.name)
        };
        // A name with a line break or an equals sign could not be read back.
        if key.is_empty() || key.contains(['\n', '=']) {
            return;
        }
        if self.known.get(&key).map(String::as_str) != Some(means) {
            self.known.insert(key, means.to_owned());
            self.changed = true;
        }
    }

    /// Whether something was learnt since the answers were read.
    pub const fn is_changed(&self) -> bool {
        self.changed
    }

    /// Writes the answers, if something was learnt.
    pub fn save(&mut self, path: Option<&Path>) -> Result<(), AnswersError> {
        let Some(path) = path.filter(|_| self.changed) else {
            return Ok(());
        };
        let head = "# What materials of recipes brought in mean\n".to_owned();
        let text = self.known.iter().fold(head, |text, (written, means)| {
            text + written + " = " + means + "\n"
        });
        // On a new machine the folder of the settings is not there yet.
        if let Some(folder) = path.parent().filter(|f| !f.as_os_str().is_empty()) {
            disk::make_folders(folder, Access::Usual).map_err(|e| AnswersError::Folder {
                folder: folder.display().to_string(),
                why: e.to_string(),
            })?;
        }
        store::save_text(path, &text, Expect::Anything).map_err(AnswersError::Save)?;
        self.changed = false;
        Ok(())
    }
}

/// Everything that a row says of its material, folded.
fn whole(wanted: &Wanted) -> String {
    let cas = wanted.cas.map(|c| c.to_string()).unwrap_or_default();
    let said = [&wanted.name, &wanted.inci, &cas, &wanted.strength];
    fold::plain(&said.map(String::as_str).join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture;
    use crate::material::Class;

    #[test]
    fn what_was_settled_is_known_the_next_time() {
        let shelf: Shelf = [fixture::material(
            "Glycerin",
            &[("Glycerin", 100.0, Class::Humectant)],
        )]
        .into_iter()
        .collect();
        let dir = tempfile::tempdir().unwrap();
        // The folder is made with the first answer.
        let path = dir.path().join("settings").join("answers.txt");
        let mut answers = Answers::read(Some(&path)).unwrap();
        let named = Wanted::named;
        assert_eq!(answers.choice(&named("Süßes Öl"), &shelf), None);
        let glycerin = Choice::Known(MaterialId::from_name("Glycerin"), How::Words);
        answers.learn(&named("Süßes Öl"), &glycerin, &shelf);
        answers.learn(&named("Moss"), &Choice::New, &shelf);
        answers.learn(&named("Pure"), &Choice::NewPure("Aqua"), &shelf);
        answers.save(Some(&path)).unwrap();
        assert!(!answers.is_changed());
        let read = Answers::read(Some(&path)).unwrap();
        let chosen = Choice::Known(MaterialId::from_name("Glycerin"), How::Chosen);
        assert_eq!(read.choice(&named("süßes öl"), &shelf), Some(chosen));
        assert_eq!(read.choice(&named("MOSS"), &shelf), Some(Choice::New));
        assert_eq!(read.choice(&named("Pure"), &shelf), None);
        // The INCI name beside it is that of another material.
        let mut other = named("Süßes Öl");
        other.inci = "Cocos Nucifera Oil".into();
        assert_eq!(read.choice(&other, &shelf), None);
        let mut read = read;
        read.learn(
            &other,
            &Choice::Known(MaterialId::from_name("Glycerin"), How::Words),
            &shelf,
        );
        assert!(read.choice(&other, &shelf).is_some());
        // What is no longer on the shelf is no answer.
        let empty: Shelf = [].into_iter().collect();
        assert_eq!(read.choice(&named("süßes öl"), &empty), None);
        std::fs::write(&path, "no answer\n").unwrap();
        let told = Answers::read(Some(&path)).unwrap_err().to_string();
        assert!(told.contains("line 1"), "{told}");
    }
}
