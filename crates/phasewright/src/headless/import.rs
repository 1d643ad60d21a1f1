//! `phasewright import RECIPE -o FILE`

use std::collections::BTreeSet;
use std::io::Write;
use std::path::PathBuf;
use std::sync::Arc;

use clap::{Args, ValueEnum};
use formulation::amount::number::DecimalMark;
use formulation::file::answers::Answers;
use formulation::file::formula_file;
use formulation::file::formula_json;
use formulation::file::shelf_file::{Seen, ShelfFolder};
use formulation::file::shelf_table::looks_like_materials;
use formulation::file::store::{self, Expect, StoreError};
use formulation::file::table::columns::Layout;
use formulation::file::table::price_list::{like_a_recipe, looks_like_prices};
use formulation::file::table::recipe::{
    MaterialChoice, RecipeError, RecipeProposal, RecipeSettings, Reconcile, propose,
};
use formulation::file::table::sections::{FoundRecipes, RecipeSection, found_in};
use formulation::file::table::{Table, read_file, variants};
use formulation::formula::{Formula, Kinds};
use formulation::material::{Material, MaterialId, ProductKind};
use formulation::naming::{Resolver, make_ready};
use formulation::own_shelf::ShelfEdit;
use formulation::shelf::{Shelf, built_in};

use super::answers::{ASSUMED, matched};
use super::columns::{layout_of, print_columns, refuse_for_own_form};
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
    /// Name of the sheet, if it is not the one shown last.
    #[arg(long, value_name = "NAME")]
    pub sheet: Option<String>,
    /// Which of several recipes, by number or name.
    #[arg(long, value_name = "NUMBER|NAME", conflicts_with = "all")]
    pub recipe_named: Option<String>,
    /// Takes in all recipes of the file as variants of one formula.
    #[arg(long)]
    pub all: bool,
    /// What the product is, if the recipe does not say; both parted by a comma.
    #[arg(long = "kind", value_enum, value_delimiter = ',')]
    pub kinds: Vec<KindOfProduct>,
    /// Rows whose q.s. takes up the rest though it is not water.
    #[arg(long = "filler", value_name = "ROW")]
    pub fillers: Vec<usize>,
    /// An amount in place of what a row says, for a range, drops or spoons: `7=3 %`, `8=0.4 g`.
    #[arg(long = "amount", value_name = "ROW=VALUE")]
    pub amounts: Vec<String>,
    /// Takes in hidden and struck-through rows as well.
    #[arg(long)]
    pub hidden: bool,
    /// Accepts what had to be assumed: exit code 0 instead of 3.
    #[arg(long)]
    pub yes: bool,
    /// A file of answers, one a line as `material as written = id on the shelf` or `= new`;
    /// what `--match`, `--amount`, `--filler`, `--kind` and `--decimal` settle is added to it.
    #[arg(long, value_name = "FILE")]
    pub answers: Option<PathBuf>,
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

/// What the product is.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum KindOfProduct {
    /// Washed off after use.
    RinseOff,
    /// Left on.
    LeaveOn,
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
        make_ready();
        let folder = shelf::folder(self.shelf.as_deref());
        let seen = folder
            .as_ref()
            .map_or_else(|| Ok(Seen::default()), ShelfFolder::read)?;
        let shelf = seen.shelf.over(built_in());
        if let Some(formula) = self.own_json()? {
            refuse_for_own_form(&self.for_tables())?;
            let materials = formula.materials.len();
            writeln!(
                out,
                "A formula of our own in JSON: {}, {}.",
                counted(formula.variants.len(), "variant"),
                counted(materials, "material")
            )?;
            self.write(&formula, out)?;
            return Ok(0);
        }
        let tables = read_file(&self.recipe).map_err(|e| self.told(&e))?;
        let mut taking = TakingIn::new(self, &shelf)?;
        let chosen = self.chosen(&tables)?;
        taking.assumed.extend(chosen.assumed);
        let like_a_list = self.looked_like_a_list(&chosen.sections)?;
        taking.assumed.extend(like_a_list);
        self.check_rows(&taking.matches, &chosen.sections)?;
        let several = chosen.sections.len() > 1;
        let mut recipes = Vec::new();
        for (place, section) in chosen.sections.iter().enumerate() {
            let number = several.then_some(place + 1);
            recipes.push((taking.take(section, number, out)?, section));
        }
        taking.check_named()?;
        for words in &chosen.left_out {
            writeln!(out, "left out: {words}")?;
        }
        let Some(formula) = variants::joined(recipes) else {
            return Err(self.told(&"the file holds no recipe"));
        };
        for words in &taking.assumed {
            writeln!(out, "assumed: {words}")?;
        }
        taking.answers.save(self.answers.as_deref())?;
        let code = if taking.assumed.is_empty() || self.yes {
            0
        } else {
            ASSUMED
        };
        // The shelf first: whatever fails, the same command goes on where this one stopped.
        let is_written = self.output.is_some() && !self.dry_run;
        if let Some(folder) = folder.filter(|_| self.to_shelf && is_written) {
            self.check_place()?;
            let new_materials = taking.new_materials;
            let at = jiff::Timestamp::now().to_string();
            let mut own = seen.shelf.clone();
            for material in new_materials {
                own.apply(&ShelfEdit::Put(material), &at);
            }
            folder.save(&seen, &own, &at)?;
            writeln!(
                out,
                "New materials put on the shelf ({}).",
                folder.file().display()
            )?;
        }
        self.write(&formula, out)?;
        Ok(code)
    }

    /// A failure that names the file.
    fn told(&self, why: &dyn std::fmt::Display) -> Failure {
        Failure(format!("{why} ({})", self.recipe.display()))
    }

    /// A row says which line is meant only within one sheet.
    fn check_rows(
        &self,
        matches: &[(usize, MaterialChoice)],
        sections: &[RecipeSection],
    ) -> Result<(), Failure> {
        let sheets: BTreeSet<&str> = sections.iter().map(|s| s.sheet.as_str()).collect();
        let names_rows =
            !(matches.is_empty() && self.fillers.is_empty() && self.amounts.is_empty());
        if sheets.len() > 1 && names_rows {
            return Err(Failure(
                "recipes of several sheets are taken in, and --match, --amount and --filler name a row of any of them; bring in one sheet at a time with --sheet".to_owned(),
            ));
        }
        Ok(())
    }

    /// What is to be told of recipes that may be price lists; refuses what is no recipe.
    fn looked_like_a_list(&self, sections: &[RecipeSection]) -> Result<Option<String>, Failure> {
        // Whoever names the columns knows what it is.
        let alike = sections
            .iter()
            .find(|s| looks_like_materials(&s.table) || looks_like_prices(&s.table));
        let Some(alike) = alike.filter(|_| self.columns.is_empty()) else {
            return Ok(None);
        };
        let command = "phasewright shelf import FILE --stock STOCK_FILE";
        match like_a_recipe(&alike.table) {
            Some(what) => Ok(Some(format!(
                "the file has prices and was taken as a recipe, because {what} stand beside them; as a price list it comes in with “{command}”"
            ))),
            None => Err(Failure(format!(
                "the file looks like a price list, a list of stock or a list of materials, not like a recipe; bring it in with “{command}”; if it is a recipe, say which column holds what, such as --column percent=C ({})",
                self.recipe.display()
            ))),
        }
    }

    /// Refuses before anything is written where the formula could not be.
    fn check_place(&self) -> Result<(), Failure> {
        match self.output.as_deref().map(store::read_bytes) {
            None | Some(Err(StoreError::Missing { .. })) => Ok(()),
            Some(Ok(_)) if self.replace => Ok(()),
            Some(Ok(_)) => Err(Failure(
                StoreError::Exists {
                    path: self.output.clone().unwrap_or_default(),
                }
                .to_string(),
            )),
            Some(Err(error)) => Err(Failure(error.to_string())),
        }
    }

    /// A formula in our own JSON needs no reading between the lines.
    fn own_json(&self) -> Result<Option<Formula>, Failure> {
        let is_json = self
            .recipe
            .extension()
            .is_some_and(|e| e.eq_ignore_ascii_case("json"));
        if !is_json {
            return Ok(None);
        }
        let file = self.recipe.display().to_string();
        let (text, _) = store::read_text(&self.recipe)?;
        if !formula_json::looks_ours(&text) {
            return Ok(None);
        }
        Ok(Some(
            formula_json::read(&text, &file).map_err(|e| Failure(e.to_string()))?,
        ))
    }

    /// The options that only say how a table is read, each with whether it was given.
    const fn for_tables(&self) -> [(&'static str, bool); 11] {
        [
            ("--sheet", self.sheet.is_some()),
            ("--recipe-named", self.recipe_named.is_some()),
            ("--all", self.all),
            ("--kind", !self.kinds.is_empty()),
            ("--filler", !self.fillers.is_empty()),
            ("--amount", !self.amounts.is_empty()),
            ("--hidden", self.hidden),
            ("--column", !self.columns.is_empty()),
            ("--decimal", self.decimal.is_some()),
            ("--match", !self.matches.is_empty()),
            ("--to-shelf", self.to_shelf),
        ]
    }

    /// Writes the formula, unless it is only looked at.
    fn write(&self, formula: &Formula, out: &mut dyn Write) -> Result<(), Failure> {
        let Some(output) = self.output.as_ref().filter(|_| !self.dry_run) else {
            writeln!(out, "Dry run: nothing was written.")?;
            return Ok(());
        };
        let expect = if self.replace {
            Expect::Anything
        } else {
            Expect::Nothing
        };
        formula_file::save(output, formula, expect)?;
        writeln!(out, "Written ({}).", output.display())?;
        Ok(())
    }

    /// The recipes of the file that are taken in.
    fn chosen(&self, tables: &[Table]) -> Result<Chosen, Failure> {
        let names: Vec<&str> = tables.iter().map(|t| t.name.as_str()).collect();
        let FoundRecipes {
            sections: mut found,
            without,
        } = found_in(tables);
        let left_out: Vec<String> = without
            .into_iter()
            .filter(|_| self.sheet.is_none() && !found.is_empty())
            .filter_map(|place| Some((place, tables.get(place)?)))
            .map(|(place, table)| {
                let name = if table.name.is_empty() {
                    format!("table {}", place + 1)
                } else {
                    format!("sheet “{}”", table.name)
                };
                let rows = (0..table.rows.len()).filter(|&row| !table.row_text(row).is_empty());
                let rows = counted(rows.count(), "row");
                format!("{name} with {rows}: it holds no materials with amounts")
            })
            .collect();
        // A sheet named may be one whose columns are only named on the command line.
        if let Some(name) = &self.sheet {
            let table = tables.iter().find(|t| t.name == *name).ok_or_else(|| {
                let names = names.join(", ");
                self.told(&format!("there is no sheet “{name}”; there are: {names}"))
            })?;
            found.retain(|s| s.sheet == *name);
            if found.is_empty() {
                found.push(RecipeSection::whole(table));
            }
        }
        if found.is_empty()
            && let Some(first) = tables.iter().find(|t| t.active).or(tables.first())
        {
            found.push(RecipeSection::whole(first));
        }
        let mut assumed = Vec::new();
        if let Some(wanted) = &self.recipe_named {
            let all = variants::names(&found, &(0..found.len()).collect::<Vec<_>>());
            let place = wanted.parse::<usize>().ok().map(|n| n.wrapping_sub(1));
            let one = found
                .into_iter()
                .enumerate()
                .find(|(n, s)| Some(*n) == place || s.name == *wanted || s.sheet == *wanted)
                .map(|(_, s)| s)
                .ok_or_else(|| {
                    self.told(&format!("there is no recipe “{wanted}”; there are: {all}"))
                })?;
            return Ok(Chosen {
                sections: vec![one],
                assumed,
                left_out,
            });
        }
        if !self.all && !self.columns.is_empty() {
            // A column named on the command line is the one version wanted.
            let first = found.iter().position(|s| s.active).unwrap_or(0);
            found = found.into_iter().skip(first).take(1).collect();
        } else if !self.all {
            let (kept, why) = variants::usual(&found);
            assumed.extend(why);
            found = found
                .into_iter()
                .enumerate()
                .filter(|(n, _)| kept.contains(n))
                .map(|(_, section)| section)
                .collect();
        }
        let hidden: Vec<&str> = tables
            .iter()
            .filter(|t| t.hidden)
            .map(|t| t.name.as_str())
            .collect();
        if !hidden.is_empty() {
            assumed.push(format!(
                "hidden sheets were left out: {}",
                hidden.join(", ")
            ));
        }
        Ok(Chosen {
            sections: found,
            assumed,
            left_out,
        })
    }

    /// The amounts that are given for rows, as typed.
    fn given(&self) -> Result<Vec<(usize, &str)>, Failure> {
        let parts = self.amounts.iter().map(|given| {
            let parts = given.split_once('=').and_then(|(row, amount)| {
                Some((row.trim().parse::<usize>().ok()?, amount.trim()))
            });
            parts.ok_or_else(|| {
                Failure(format!(
                    "“{given}” is not an amount of a row; write the row, an equals sign and the amount, such as 7=3 % or 8=0.4 g"
                ))
            })
        });
        parts.collect()
    }

    /// What is settled on the command line about a recipe.
    fn settings(&self, section: &RecipeSection) -> Result<RecipeSettings, Failure> {
        let mut settings = RecipeSettings {
            layout: match self.layout(&section.table)? {
                Some(layout) => Some(layout),
                None => section.layout.clone(),
            },
            mark: self.decimal.map(|d| match d {
                Decimal::Point => DecimalMark::Point,
                Decimal::Comma => DecimalMark::Comma,
            }),
            reconcile: match self.total {
                Total::Keep => Reconcile::AsWritten,
                Total::Scale => Reconcile::Scale,
                Total::Water => Reconcile::Water,
            },
            fillers: self.fillers.clone(),
            hidden: self.hidden,
            kinds: Kinds::of(self.kinds.iter().map(|k| match k {
                KindOfProduct::RinseOff => ProductKind::RinseOff,
                KindOfProduct::LeaveOn => ProductKind::LeaveOn,
            })),
            ..RecipeSettings::default()
        };
        for (row, typed) in self.given()? {
            settings
                .set_amount(row, typed)
                .map_err(|told| Failure(format!("row {row}: {told}")))?;
        }
        Ok(settings)
    }

    fn propose(
        &self,
        section: &RecipeSection,
        settings: &RecipeSettings,
        matcher: &Resolver<'_>,
    ) -> Result<RecipeProposal, Failure> {
        let title = self
            .recipe
            .file_stem()
            .map_or_else(|| "Recipe".to_owned(), |s| s.to_string_lossy().into_owned());
        propose(&section.table, &title, settings, matcher).map_err(|e: RecipeError| self.told(&e))
    }

    /// The columns as recognised, with those named on the command line; `None` if none is
    /// named.
    fn layout(&self, table: &Table) -> Result<Option<Layout>, Failure> {
        layout_of(&self.columns, table)
    }
}

/// The recipes of a file as they are taken in, one after the other.
struct TakingIn<'i> {
    import: &'i Import,
    shelf: &'i Shelf,
    matcher: Resolver<'i>,
    /// Name of the file, by which answers about it are kept.
    file: String,
    answers: Answers,
    /// What rows were said to be.
    matches: Vec<(usize, MaterialChoice)>,
    /// Rows that have a line, of all recipes.
    lines: BTreeSet<usize>,
    assumed: Vec<String>,
    new_materials: Vec<Arc<Material>>,
}

impl<'i> TakingIn<'i> {
    fn new(import: &'i Import, shelf: &'i Shelf) -> Result<Self, Failure> {
        let file = import.recipe.file_name().unwrap_or_default();
        let matches = import.matches.iter().map(|one| matched(one, shelf));
        Ok(Self {
            import,
            shelf,
            matcher: Resolver::new(shelf),
            file: file.to_string_lossy().into_owned(),
            answers: Answers::read(import.answers.as_deref())?,
            matches: matches.collect::<Result<_, _>>()?,
            lines: BTreeSet::new(),
            assumed: Vec::new(),
            new_materials: Vec::new(),
        })
    }

    /// A recipe with everything that was settled about it, now or the last time.
    fn settled(&mut self, section: &RecipeSection) -> Result<RecipeProposal, Failure> {
        let (import, answers) = (self.import, &mut self.answers);
        let mut settings = import.settings(section)?;
        answers.settle(&self.file, &mut settings);
        let mut proposal = import.propose(section, &settings, &self.matcher)?;
        if answers.settle_amounts(&self.file, &proposal, &mut settings) {
            proposal = import.propose(section, &settings, &self.matcher)?;
        }
        answers.learn_settings(&self.file, &settings);
        answers.learn_amounts(&self.file, &proposal, &settings);
        for line in &mut proposal.lines {
            if let Some(choice) = answers.choice(&line.wanted, self.shelf) {
                line.choice = choice;
                line.settle();
            }
        }
        for (row, choice) in &self.matches {
            for line in proposal.lines.iter_mut().filter(|l| l.row == *row) {
                line.choice = choice.clone();
                line.settle();
                answers.learn(&line.wanted, choice, self.shelf);
            }
        }
        Ok(proposal)
    }

    /// Takes a recipe in and prints what became of it; it has a number where there are several.
    fn take(
        &mut self,
        section: &RecipeSection,
        number: Option<usize>,
        out: &mut dyn Write,
    ) -> Result<Formula, Failure> {
        let proposal = self.settled(section)?;
        self.lines.extend(proposal.lines.iter().map(|l| l.row));
        if let Some(number) = number {
            writeln!(out, "recipe {number}: {}", section.name)?;
        }
        print_columns(&section.table, &proposal.layout, &proposal.evidence, out)?;
        print(&proposal, self.shelf, out)?;
        let accepted = match proposal.accept(&self.matcher) {
            Ok(accepted) => accepted,
            Err(error) => {
                for words in proposal.assumptions() {
                    writeln!(out, "assumed: {words}")?;
                }
                return Err(self.import.told(&error));
            }
        };
        let total = accepted.formula.active().total();
        writeln!(
            out,
            "{}, {}, total {total} %.",
            counted(proposal.lines.len(), "line"),
            counted(accepted.new_materials.len(), "new material"),
        )?;
        let counts = proposal.counts();
        writeln!(out, "{}", counts.words())?;
        let all = proposal.assumptions().into_iter();
        let all = all.chain(counts.lost_words());
        self.assumed.extend(all.map(|words| match number {
            Some(number) => format!("recipe {number}: {words}"),
            None => words,
        }));
        self.new_materials.extend(accepted.new_materials);
        Ok(accepted.formula)
    }

    /// Refuses a row named on the command line that no recipe has.
    fn check_named(&self) -> Result<(), Failure> {
        let given = self.import.given()?;
        let named = self.matches.iter().map(|(row, _)| row);
        let missing = named
            .chain(&self.import.fillers)
            .chain(given.iter().map(|(row, _)| row))
            .find(|row| !self.lines.contains(row));
        match missing {
            Some(row) => Err(Failure(format!("row {row} has no line"))),
            None => Ok(()),
        }
    }
}

struct Chosen {
    sections: Vec<RecipeSection>,
    assumed: Vec<String>,
    /// Tables without a recipe, in words.
    left_out: Vec<String>,
}

fn print(proposal: &RecipeProposal, shelf: &Shelf, out: &mut dyn Write) -> std::io::Result<()> {
    for line in &proposal.lines {
        let perhaps = |id: &MaterialId| {
            shelf.get(id).map_or_else(String::new, |m| {
                format!("; perhaps {} (--match {}={id})", m.name, line.row)
            })
        };
        let what = match &line.choice {
            MaterialChoice::Known(id, how) => {
                let name = shelf.get(id).map_or(id.as_str(), |m| &m.name);
                let mark = if line.is_doubtful() { "? " } else { "" };
                format!("{mark}{name} ({}, {id})", how.label())
            }
            MaterialChoice::New => {
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
            MaterialChoice::NewPure(inci) => format!("new material, pure {inci}"),
            MaterialChoice::Made(material) => {
                let mark = if line.is_doubtful() { "? " } else { "" };
                format!("{mark}{} (pure, as the table says)", material.name)
            }
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
    for left in &proposal.left_out {
        writeln!(out, "left out: {left}")?;
    }
    for note in &proposal.notes {
        writeln!(out, "note: {note}")?;
    }
    Ok(())
}
