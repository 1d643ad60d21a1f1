//! `phasewright due [FILE…]`: what is due in the workshop and of stability plans.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use formulation::batch::agenda::agenda;
use formulation::due::{DueState, by_day};
use formulation::file::calendar::calendar;
use formulation::file::store::{self, Expect};
use formulation::material::MaterialId;
use formulation::trial::stability;
use serde_json::json;

use super::trials::with_book;
use super::{FOUND, Failure, Outcome, said, shelf, today};
use crate::state::reminders::how_far;
use crate::state::{Books, Folders};

/// Arguments of the command.
#[derive(Debug, Args)]
pub struct DueArgs {
    /// Formula files whose stability plans are looked at as well.
    pub files: Vec<String>,
    /// Days ahead that are told.
    #[arg(long, value_name = "N", default_value_t = 30, value_parser = clap::value_parser!(u32).range(..=3660))]
    pub days: u32,
    /// The folder that holds the stock file and the folder of batch records; that of the program if none is given.
    #[arg(long, value_name = "FOLDER")]
    pub workshop: Option<PathBuf>,
    /// Save it as iCalendar.
    #[arg(long, value_name = "OUT")]
    pub ics: Option<PathBuf>,
    /// Replace a file that is there already.
    #[arg(long)]
    pub replace: bool,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}

impl DueArgs {
    /// Prints what is due, and the batches that are not finished.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        let today = today();
        if let Some(folder) = self.workshop.as_deref().filter(|f| !f.is_dir()) {
            return Err(Failure(format!(
                "there is no folder {}; --workshop names the one that holds the stock file and the batch records",
                folder.display()
            )));
        }
        let folder = self.workshop.clone().or(Folders::usual().config);
        let (books, problems) = Books::read(folder.as_deref());
        problems.into_iter().for_each(said::warn);
        let shelf = shelf()?;
        let name = |id: &MaterialId| {
            let known = shelf.get(id);
            known.map_or_else(|| id.to_string(), |m| m.name.to_string())
        };
        let mut list = agenda(
            (books.stock(), books.usage()),
            &name,
            books.all_records(),
            books.workshop(),
            today,
            self.days,
        );
        let last = today.checked_add(jiff::Span::new().days(i64::from(self.days)))?;
        for file in &self.files {
            let (opened, book, _) = with_book(file)?;
            let samples = stability::to_read(&opened.formula.name, &book, today);
            list.extend(samples.into_iter().filter(|d| d.day <= last));
        }
        by_day(&mut list);
        if let Some(path) = &self.ics {
            let expect = if self.replace {
                Expect::Anything
            } else {
                Expect::Nothing
            };
            let text = calendar("Workshop", &list, jiff::Timestamp::now());
            store::save(path, text.as_bytes(), expect)?;
        }
        let pressing = list
            .iter()
            .any(|due| due.standing(today) != DueState::ToCome);
        if self.json {
            let due: Vec<_> = list
                .iter()
                .map(|d| {
                    json!({
                        "day": d.day.to_string(), "until": d.until.to_string(),
                        "standing": d.standing(today).label(), "what": d.what, "more": d.more,
                    })
                })
                .collect();
            let batches: Vec<_> = books
                .unfinished()
                .map(|r| json!({"code": r.code().to_string(), "formula": r.opening().formula.name, "state": how_far(r)}))
                .collect();
            let value =
                json!({"today": today.to_string(), "due": due, "unfinished_batches": batches});
            said::print_json(out, serde_json::to_string_pretty(&value)?)?;
        } else {
            for record in books.unfinished() {
                writeln!(
                    out,
                    "not finished: batch {} of {}, {}",
                    record.code(),
                    record.opening().formula.name,
                    how_far(record)
                )?;
            }
            for due in &list {
                let standing = due.standing(today).label();
                write!(out, "{} {standing}: {}", due.day, due.what)?;
                if due.more.is_empty() {
                    writeln!(out)?;
                } else {
                    writeln!(out, " ({})", due.more)?;
                }
            }
            if list.is_empty() {
                writeln!(out, "nothing is due until {last}")?;
            }
            if let Some(path) = &self.ics {
                writeln!(out, "saved {}", path.display())?;
            }
        }
        Ok(if pressing { FOUND } else { 0 })
    }
}
