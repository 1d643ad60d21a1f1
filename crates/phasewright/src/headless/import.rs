//! `phasewright import RECIPE -o FILE`

use std::io::Write;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use formulation::amount::number::DecimalMark;
use formulation::file::formula_file;
use formulation::file::shelf_file::{Seen, ShelfFolder};
use formulation::file::store::Expect;
use formulation::file::table::columns::{Kind, Layout, recognise};
use formulation::file::table::matching::{How, Matcher};
use formulation::file::table::recipe::{
    Choice, Proposal, RecipeError, Reconcile, Settings, propose,
};
use formulation::file::table::{Table, cell_name, column_named, read_file};
use formulation::material::MaterialId;
use formulation::own_shelf::ShelfEdit;
use formulation::shelf::{Shelf, built_in};

use super::{Failure, Outcome, shelf};
use crate::words::counted;

/// Arguments of the command.
#[derive(Debug, Args)]
pub struct Import {
    /// A recipe as CSV, TSV, XLSX, ODS or HTML.
    pub recipe: PathBuf,
    /// The formula file to write.
    #[arg(short, long, value_name = "FILE", required_unless_present = "dry_run")]
    pub output: Option<PathBuf>,
    /// Only print what would be taken in.
    #[arg(long)]
    pub dry_run: bool,
    /// Name of the sheet, if it is not the first with a recipe.
    #[arg(long, value_name = "NAME")]
    pub sheet: Option<String>,
    /// What a column holds, if it is not recognised: `percent=C`, `material=A`.
    #[arg(long = "column", value_name = "KIND=LETTER")]
    pub columns: Vec<String>,
    /// The decimal mark, if the table leaves it open.
    #[arg(long, value_enum)]
    pub decimal: Option<Decimal>,
    /// What to do if the lines do not add up to 100 %.
    #[arg(long, value_enum, default_value_t = Total::Keep)]
    pub total: Total,
    /// Takes a row for a material of the shelf, or for a new one: `7=glycerin-99-5`, `8=new`.
    #[arg(long = "match", value_name = "ROW=MATERIAL")]
    pub matches: Vec<String>,
    /// The folder of the shelf, if not the one the window uses.
    #[arg(long, value_name = "FOLDER")]
    pub shelf: Option<PathBuf>,
    /// Put the new materials on the shelf as well; the formula carries them in any case.
    #[arg(long)]
    pub to_shelf: bool,
    /// Replace the formula file if it is there.
    #[arg(long)]
    pub replace: bool,
}

/// A decimal mark.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Decimal {
    /// As in 2.5.
    Point,
    /// As in 2,5.
    Comma,
}

/// What to do if the lines do not add up to 100 %.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Total {
    /// Keep the percentages.
    Keep,
    /// Scale all lines to 100 %.
    Scale,
    /// Let water take up the rest.
    Water,
}

impl Import {
    /// Runs the command.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        let folder = shelf::folder(self.shelf.as_deref());
        let seen = folder
            .as_ref()
            .map_or_else(|| Ok(Seen::default()), ShelfFolder::read)?;
        let shelf = seen.shelf.over(built_in());
        let matcher = Matcher::new(&shelf);
        let file = self.recipe.display();
        let tables = read_file(&self.recipe).map_err(|e| Failure(format!("{e} ({file})")))?;
        let settings = Settings {
            layout: None,
            mark: self.decimal.map(|d| match d {
                Decimal::Point => DecimalMark::Point,
                Decimal::Comma => DecimalMark::Comma,
            }),
            reconcile: match self.total {
                Total::Keep => Reconcile::AsWritten,
                Total::Scale => Reconcile::Scale,
                Total::Water => Reconcile::Water,
            },
        };
        let title = self
            .recipe
            .file_stem()
            .map_or_else(|| "Recipe".to_owned(), |s| s.to_string_lossy().into_owned());
        let told = |e: &dyn std::fmt::Display| Failure(format!("{e} ({file})"));
        let mut proposal = self.propose(&tables, &title, &settings, &matcher)?;
        for chosen in &self.matches {
            choose(&mut proposal, chosen, &shelf)?;
        }
        print(&proposal, &shelf, out)?;
        let accepted = proposal.accept(&matcher).map_err(|e| told(&e))?;
        let total = accepted.formula.active().total();
        writeln!(
            out,
            "{}, {}, total {total} %.",
            counted(proposal.lines.len(), "line"),
            counted(accepted.new_materials.len(), "new material")
        )?;
        let Some(output) = self.output.as_ref().filter(|_| !self.dry_run) else {
            writeln!(out, "Dry run: nothing was written.")?;
            return Ok(0);
        };
        let expect = if self.replace {
            Expect::Anything
        } else {
            Expect::Nothing
        };
        formula_file::save(output, &accepted.formula, expect)?;
        writeln!(out, "Written ({}).", output.display())?;
        if let Some(folder) = folder.filter(|_| self.to_shelf) {
            let at = jiff::Timestamp::now().to_string();
            let mut own = seen.shelf.clone();
            for material in accepted.new_materials {
                own.apply(&ShelfEdit::Put(material), &at);
            }
            folder.save(&seen, &own, &at)?;
            writeln!(
                out,
                "New materials put on the shelf ({}).",
                folder.file().display()
            )?;
        }
        Ok(0)
    }

    /// Reads the sheet named, else the first that holds a recipe.
    fn propose(
        &self,
        tables: &[Table],
        title: &str,
        settings: &Settings,
        matcher: &Matcher<'_>,
    ) -> Result<Proposal, Failure> {
        let file = self.recipe.display();
        let told = |e: &dyn std::fmt::Display| Failure(format!("{e} ({file})"));
        let names: Vec<&str> = tables.iter().map(|t| t.name.as_str()).collect();
        let sheets: Vec<&Table> = match &self.sheet {
            Some(name) => {
                let named = tables.iter().find(|t| t.name == *name);
                vec![named.ok_or_else(|| {
                    let names = names.join(", ");
                    told(&format!("there is no sheet “{name}”; there are: {names}"))
                })?]
            }
            None => tables.iter().collect(),
        };
        let mut first_error: Option<RecipeError> = None;
        for table in sheets {
            let layout = self.layout(table)?;
            let settings = Settings {
                layout,
                ..settings.clone()
            };
            match propose(table, title, &settings, matcher) {
                Ok(mut proposal) => {
                    if tables.len() > 1 && self.sheet.is_none() {
                        proposal.notes.push(format!(
                            "sheet “{}” was taken, of {}; --sheet names another",
                            table.name,
                            names.join(", ")
                        ));
                    }
                    return Ok(proposal);
                }
                Err(error) => first_error = first_error.or(Some(error)),
            }
        }
        Err(first_error.map_or_else(|| told(&"the file is empty"), |e| told(&e)))
    }

    /// The columns as recognised, with those named on the command line; `None` if none is
    /// named.
    fn layout(&self, table: &Table) -> Result<Option<Layout>, Failure> {
        if self.columns.is_empty() {
            return Ok(None);
        }
        let mut layout = recognise(table).unwrap_or_default();
        for text in &self.columns {
            let kinds = || Kind::ALL.map(Kind::label).join(", ");
            let (kind, letters) = text.split_once('=').ok_or_else(|| {
                Failure(format!(
                    "“{text}” names no column; write for example percent=C"
                ))
            })?;
            let kind = Kind::ALL
                .into_iter()
                .find(|k| k.label().eq_ignore_ascii_case(kind.trim()))
                .ok_or_else(|| {
                    Failure(format!(
                        "“{}” is nothing a column holds; write one of: {}",
                        kind.trim(),
                        kinds()
                    ))
                })?;
            let column = column_named(letters)
                .filter(|&column| column < table.width())
                .ok_or_else(|| {
                    Failure(format!(
                        "the table has no column “{}”; its last one is {}",
                        letters.trim(),
                        cell_name(0, table.width().saturating_sub(1)).trim_end_matches('1')
                    ))
                })?;
            layout.assign(column, Some(kind));
        }
        Ok(Some(layout))
    }
}

/// Applies `ROW=MATERIAL`.
fn choose(proposal: &mut Proposal, chosen: &str, shelf: &Shelf) -> Result<(), Failure> {
    let wrong = || {
        Failure(format!(
            "“{chosen}” is not a match; write the row, an equals sign, and the id of a material or “new”, such as 7=glycerin-99-5"
        ))
    };
    let (row, material) = chosen.split_once('=').ok_or_else(wrong)?;
    let row: usize = row.trim().parse().map_err(|_not_a_row| wrong())?;
    let line = proposal
        .lines
        .iter_mut()
        .find(|l| l.row == row)
        .ok_or_else(|| Failure(format!("row {row} has no line")))?;
    line.choice = if material.trim().eq_ignore_ascii_case("new") {
        Choice::New
    } else {
        let id = MaterialId::from_name(material);
        if shelf.get(&id).is_none() {
            return Err(Failure(format!(
                "“{material}” is not on the shelf; look it up with “phasewright shelf search”"
            )));
        }
        Choice::Known(id, How::Chosen)
    };
    Ok(())
}

fn print(proposal: &Proposal, shelf: &Shelf, out: &mut dyn Write) -> std::io::Result<()> {
    for line in &proposal.lines {
        let perhaps = |id: &MaterialId| {
            shelf.get(id).map_or_else(String::new, |m| {
                format!("; perhaps {} (--match {}={id})", m.name, line.row)
            })
        };
        let what = match &line.choice {
            Choice::Known(id, how) => {
                let name = shelf.get(id).map_or(id.as_str(), |m| &m.name);
                let mark = if how.is_doubtful() { "? " } else { "" };
                format!("{mark}{name} ({}, {id})", how.label())
            }
            Choice::New => {
                let offered: String = line
                    .candidates
                    .iter()
                    .take(2)
                    .map(|c| perhaps(&c.id))
                    .collect();
                if offered.is_empty() && !line.suggestions.is_empty() {
                    let names = line.suggestions.join(" or ");
                    format!("new material; INCI perhaps {names}")
                } else {
                    format!("new material{offered}")
                }
            }
            Choice::NewPure(inci) => format!("new material, pure {inci}"),
        };
        let letter = proposal
            .phases
            .get(line.phase)
            .map(|p| p.letter.as_str())
            .unwrap_or_default();
        writeln!(
            out,
            "row {}: {letter} {} {} → {what}",
            line.row, line.quantity, line.wanted.name
        )?;
    }
    for note in &proposal.notes {
        writeln!(out, "note: {note}")?;
    }
    Ok(())
}
