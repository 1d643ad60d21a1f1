//! What a maker has settled about tables, kept for the next file: one answer a line.
//!
//! What materials mean holds for every file: `material as written = id on the shelf` or
//! `= new`. What else was settled holds for the file of that name alone, because another may
//! be kept otherwise, and begins with a question mark: `? kind | FILE = leave-on`,
//! `? mark | FILE = comma`, `? days | FILE = day first`,
//! `? amount | FILE | material | amount as written = 4 %` or `= the rest`.

use std::collections::BTreeMap;
use std::path::Path;

use super::disk::{self, Access};
use super::store::{self, Expect, StoreError};
use super::table::price_list::DayOrder;
use super::table::recipe::{
    GivenAmount, MaterialChoice, ProposedLine, RecipeProposal, RecipeSettings,
};
use crate::amount::number::{DecimalMark, Unit};
use crate::kinds::{Kinds, ProductKind};
use crate::material::MaterialId;
use crate::naming::{How, Wanted, contradiction, fold};
use crate::shelf::Shelf;

use rust_decimal::Decimal;

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
        "line {line}: “{text}” is no answer; write the material as written, an equals sign and its id on the shelf or “new”; what else was settled begins with a question mark, as “? kind | FILE = leave-on” ({file})"
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
    /// What else was settled, by what it is about.
    of_files: BTreeMap<String, Settled>,
    changed: bool,
}

/// What was settled about one file besides its materials.
#[derive(Clone, PartialEq, Eq, Debug)]
enum Settled {
    Kinds(Kinds),
    Mark(DecimalMark),
    Days(DayOrder),
    Amount(Decimal, Option<Unit>),
    /// It takes up the rest.
    Rest,
}

const REST: &str = "the rest";
const KIND: &str = "kind";
const MARK: &str = "mark";
const DAYS: &str = "days";
const AMOUNT: &str = "amount";

impl Settled {
    /// Reads what was settled of the kind that the first word of a key names.
    fn read(key: &str, value: &str) -> Option<Self> {
        let is = |label: &str, word: &str| label.eq_ignore_ascii_case(word.trim());
        match key.split('|').next()?.trim() {
            KIND => {
                let kinds = value.split(" and ").map(|word| {
                    let mut all = ProductKind::ALL.into_iter();
                    all.find(|kind| is(kind.label(), word))
                });
                Kinds::of(kinds.collect::<Option<Vec<_>>>()?).map(Self::Kinds)
            }
            MARK => [DecimalMark::Point, DecimalMark::Comma]
                .into_iter()
                .find(|mark| is(word_of(*mark), value))
                .map(Self::Mark),
            DAYS => [DayOrder::DayFirst, DayOrder::MonthFirst]
                .into_iter()
                .find(|order| is(order.label(), value))
                .map(Self::Days),
            AMOUNT if is(REST, value) => Some(Self::Rest),
            AMOUNT => {
                let given = GivenAmount::typed(value, Some(DecimalMark::Point)).ok()?;
                Some(Self::Amount(given.value, given.unit))
            }
            _ => None,
        }
    }

    fn words(&self) -> String {
        match self {
            Self::Kinds(kinds) => kinds.label().to_owned(),
            Self::Mark(mark) => word_of(*mark).to_owned(),
            Self::Days(order) => order.label().to_owned(),
            Self::Amount(value, unit) => {
                let (value, unit) = (*value, *unit);
                GivenAmount { value, unit }.to_string()
            }
            Self::Rest => REST.to_owned(),
        }
    }
}

const fn word_of(mark: DecimalMark) -> &'static str {
    match mark {
        DecimalMark::Point => "point",
        DecimalMark::Comma => "comma",
    }
}

/// What an answer is about, as it stands in the file: its parts in small letters with single
/// blanks, upright strokes between them. A part that could not be read back has no key.
fn key<'p>(parts: impl IntoIterator<Item = &'p str>) -> Option<String> {
    let folded = parts.into_iter().map(|part| {
        let words: Vec<String> = part.split_whitespace().map(str::to_lowercase).collect();
        (!part.contains(['=', '|'])).then(|| words.join(" "))
    });
    Some(folded.collect::<Option<Vec<_>>>()?.join(" | "))
}

fn key_of_amount(file: &str, line: &ProposedLine) -> Option<String> {
    key([AMOUNT, file, &line.wanted.name, &line.written])
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
            let no_answer = || AnswersError::NoAnswer {
                line: number + 1,
                text: line.to_owned(),
                file: path.display().to_string(),
            };
            if let Some(of_file) = line.strip_prefix('?') {
                let settled = of_file.rsplit_once('=').and_then(|(about, value)| {
                    let about = key_read(about);
                    let settled = Settled::read(&about, value.trim())?;
                    Some((about, settled))
                });
                let (about, settled) = settled.ok_or_else(no_answer)?;
                answers.of_files.insert(about, settled);
                continue;
            }
            let (written, means) = line.rsplit_once('=').ok_or_else(no_answer)?;
            answers
                .known
                .insert(fold::plain(written), means.trim().to_owned());
        }
        Ok(answers)
    }

    /// What is known of a material as a row writes it; a material that has left the shelf is
    /// known no longer. Where INCI names, CAS number or strength beside the name are those of
    /// another material, what was settled for the name alone is no answer.
    pub fn choice(&self, wanted: &Wanted, shelf: &Shelf) -> Option<MaterialChoice> {
        let whole = self.known.get(&whole(wanted));
        let means = whole.or_else(|| self.known.get(&fold::plain(&wanted.name)))?;
        if means.eq_ignore_ascii_case("new") {
            return Some(MaterialChoice::New);
        }
        let id = MaterialId::from_name(means);
        let material = shelf.get(&id)?;
        (whole.is_some() || contradiction(wanted, material).is_none())
            .then_some(MaterialChoice::Known(id, How::Chosen))
    }

    /// Remembers what a material as a row writes it means. What an inventory name stands for
    /// is no answer that could be kept.
    pub fn learn(&mut self, wanted: &Wanted, choice: &MaterialChoice, shelf: &Shelf) {
        let means = match choice {
            MaterialChoice::Known(id, _) => id.as_str(),
            MaterialChoice::New => "new",
            MaterialChoice::NewPure(_) | MaterialChoice::Made(_) => return,
        };
        let contradicted = match choice {
            MaterialChoice::Known(id, _) => shelf.get(id).and_then(|m| contradiction(wanted, m)),
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

    /// Puts what was settled about a file of this name into the settings that leave it open.
    pub fn settle(&self, file: &str, settings: &mut RecipeSettings) {
        let of = |what: &str| self.of_files.get(&key([what, file])?);
        if let Some(Settled::Kinds(kinds)) = of(KIND).filter(|_| settings.kinds.is_none()) {
            settings.kinds = Some(*kinds);
        }
        if let Some(Settled::Mark(mark)) = of(MARK).filter(|_| settings.mark.is_none()) {
            settings.mark = Some(*mark);
        }
        if let Some(Settled::Days(order)) = of(DAYS).filter(|_| settings.days.is_none()) {
            settings.days = Some(*order);
        }
    }

    /// Puts the amounts that were settled for lines of a file of this name into the settings
    /// that leave them open; whether there were any, so that the recipe has to be read anew.
    pub fn settle_amounts(
        &self,
        file: &str,
        proposal: &RecipeProposal,
        settings: &mut RecipeSettings,
    ) -> bool {
        let before = (settings.amounts.len(), settings.fillers.len());
        for line in proposal.lines.iter().filter(|l| l.amount_doubts > 0) {
            let row = line.row;
            if settings.amounts.contains_key(&row) || settings.fillers.contains(&row) {
                continue;
            }
            let settled = key_of_amount(file, line).and_then(|key| self.of_files.get(&key));
            match settled {
                Some(Settled::Amount(value, unit)) => {
                    let (value, unit) = (*value, *unit);
                    settings.amounts.insert(row, GivenAmount { value, unit });
                }
                Some(Settled::Rest) => settings.fillers.push(row),
                _ => {}
            }
        }
        before != (settings.amounts.len(), settings.fillers.len())
    }

    /// Remembers what the maker has settled about a file of this name.
    pub fn learn_settings(&mut self, file: &str, settings: &RecipeSettings) {
        let settled = [
            (KIND, settings.kinds.map(Settled::Kinds)),
            (MARK, settings.mark.map(Settled::Mark)),
            (DAYS, settings.days.map(Settled::Days)),
        ];
        for (what, settled) in settled {
            self.learn_of_file(key([what, file]), settled);
        }
    }

    /// Remembers the amounts that the maker gave for lines of a file of this name.
    pub fn learn_amounts(
        &mut self,
        file: &str,
        proposal: &RecipeProposal,
        settings: &RecipeSettings,
    ) {
        for line in &proposal.lines {
            let given = settings.amounts.get(&line.row);
            let given = given.map(|given| Settled::Amount(given.value, given.unit));
            let rest = settings
                .fillers
                .contains(&line.row)
                .then_some(Settled::Rest);
            self.learn_of_file(key_of_amount(file, line), rest.or(given));
        }
    }

    fn learn_of_file(&mut self, key: Option<String>, settled: Option<Settled>) {
        if let Some((key, settled)) = key.zip(settled)
            && self.of_files.get(&key) != Some(&settled)
        {
            self.of_files.insert(key, settled);
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
        let text = self.of_files.iter().fold(text, |text, (about, settled)| {
            text + "? " + about + " = " + &settled.words() + "\n"
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

/// A key as it was written, or typed by hand.
fn key_read(about: &str) -> String {
    let parts: Vec<&str> = about.split('|').collect();
    key(parts).unwrap_or_default()
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
        let glycerin = MaterialChoice::Known(MaterialId::from_name("Glycerin"), How::Words);
        answers.learn(&named("Süßes Öl"), &glycerin, &shelf);
        answers.learn(&named("Moss"), &MaterialChoice::New, &shelf);
        answers.learn(&named("Pure"), &MaterialChoice::NewPure("Aqua"), &shelf);
        answers.save(Some(&path)).unwrap();
        assert!(!answers.is_changed());
        let read = Answers::read(Some(&path)).unwrap();
        let chosen = MaterialChoice::Known(MaterialId::from_name("Glycerin"), How::Chosen);
        assert_eq!(read.choice(&named("süßes öl"), &shelf), Some(chosen));
        assert_eq!(
            read.choice(&named("MOSS"), &shelf),
            Some(MaterialChoice::New)
        );
        assert_eq!(read.choice(&named("Pure"), &shelf), None);
        // The INCI name beside it is that of another material.
        let mut other = named("Süßes Öl");
        other.inci = "Cocos Nucifera Oil".into();
        assert_eq!(read.choice(&other, &shelf), None);
        let mut read = read;
        read.learn(
            &other,
            &MaterialChoice::Known(MaterialId::from_name("Glycerin"), How::Words),
            &shelf,
        );
        assert!(read.choice(&other, &shelf).is_some());
        // What is no longer on the shelf is no answer.
        let empty: Shelf = [].into_iter().collect();
        assert_eq!(read.choice(&named("süßes öl"), &empty), None);
        for wrong in [
            "no answer\n",
            "? kind | a.csv = both\n",
            "? size | a.csv = 3\n",
        ] {
            std::fs::write(&path, wrong).unwrap();
            let told = Answers::read(Some(&path)).unwrap_err().to_string();
            assert!(told.contains("line 1"), "{told}");
        }
    }

    /// Kind, mark, days and amounts are known for the file they were settled for, and for no
    /// other.
    #[test]
    fn what_was_settled_of_a_file_is_known_for_that_file_alone() {
        use crate::file::table::read_text;
        use crate::file::table::recipe::propose;
        use crate::naming::Resolver;
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("answers.txt");
        let resolver = Resolver::new(crate::shelf::built_in());
        let read = |text: &str, settings: &RecipeSettings| {
            propose(&read_text(text).unwrap()[0], "Test", settings, &resolver).unwrap()
        };
        let text = "Ingredient;%\nShea butter;q.s.\nGlycerin;3-7\nBeeswax;20\n";
        let mut settings = RecipeSettings {
            kinds: Some(Kinds::Both),
            mark: Some(DecimalMark::Comma),
            days: Some(DayOrder::MonthFirst),
            ..RecipeSettings::default()
        };
        settings.take_up_the_rest(2);
        settings.set_amount(3, "4,5 %").unwrap();
        let mut answers = Answers::default();
        answers.learn_settings("Balm 1.csv", &settings);
        answers.learn_amounts("Balm 1.csv", &read(text, &settings), &settings);
        answers.save(Some(&path)).unwrap();

        let answers = Answers::read(Some(&path)).unwrap();
        let mut known = RecipeSettings::default();
        answers.settle("Balm 1.csv", &mut known);
        // The rows have moved.
        let moved = format!("Balm;\n{text}");
        assert!(answers.settle_amounts("Balm 1.csv", &read(&moved, &known), &mut known));
        assert_eq!((known.kinds, known.mark), (settings.kinds, settings.mark));
        assert_eq!((known.days, known.fillers), (settings.days, vec![3]));
        assert_eq!(known.amounts.get(&4), settings.amounts.get(&3));
        let mut other = RecipeSettings::default();
        answers.settle("Balm 2.csv", &mut other);
        assert!(!answers.settle_amounts("Balm 2.csv", &read(text, &other), &mut other));
        assert_eq!(other, RecipeSettings::default());
        // What is written otherwise is another question.
        let otherwise = text.replace("3-7", "3-8");
        let mut known = RecipeSettings::default();
        answers.settle_amounts("Balm 1.csv", &read(&otherwise, &known), &mut known);
        assert!(known.amounts.is_empty());
    }
}
