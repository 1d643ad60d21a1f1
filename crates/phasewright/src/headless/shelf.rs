//! `phasewright shelf search|import|export|folder`

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::{Args, Subcommand, ValueEnum};
use formulation::batch::workshop::Workshop;
use formulation::file::answers::Answers;
use formulation::file::exchange::{self, OfferedMaterial, Resolve, ShelfImport};
use formulation::file::material_file;
use formulation::file::shelf_file::{Seen, ShelfFolder};
use formulation::file::shelf_table;
use formulation::file::stock_file;
use formulation::file::store::{self, Expect, Stamp};
use formulation::file::table::Table;
use formulation::file::table::price_list::{self, DayOrder, PriceList, looks_like_prices};
use formulation::file::table::recipe::{MaterialChoice, RecipeSettings as TableSettings};
use formulation::inci::Inci;
use formulation::inventory::{self, inventory};
use formulation::naming::{Resolver, make_ready};
use formulation::own_shelf::{OwnShelf, ShelfEdit};
use formulation::quantity::Currency;
use formulation::search::MaterialIndex;
use formulation::shelf::{Shelf, built_in};
use formulation::stock::Stock;
use serde_json::json;

use super::answers::{ASSUMED, matched};
use super::columns::{layout_of, print_columns, refuse_for_own_form};
use super::{Failure, Outcome, said, today};
use crate::state::makers_shelf::folder_of;
use crate::state::{Folders, Settings};
use crate::words::counted;

/// Arguments of the command.
#[derive(Debug, Args)]
pub struct ShelfArgs {
    /// The folder of the shelf, if not the one the window uses.
    #[arg(long, global = true, value_name = "FOLDER")]
    pub shelf: Option<PathBuf>,
    /// What to do.
    #[command(subcommand)]
    pub action: Action,
}

/// What to do with the shelf.
#[derive(Debug, Subcommand)]
pub enum Action {
    /// Find materials by name, INCI, CAS number, role or supplier; small misspellings are forgiven.
    Search(Search),
    /// Take materials over from a file: RON, JSON, CSV, XLSX, ODS, another shelf, or a price list.
    Import(Import),
    /// Write the shelf to a file; its ending tells the form: .csv, .xlsx, .json or .ron.
    Export(Export),
    /// Print the folder of the shelf.
    Folder,
}

/// Arguments of `search`.
#[derive(Debug, Args)]
pub struct Search {
    /// Words to find.
    #[arg(required = true)]
    pub words: Vec<String>,
    /// Most results.
    #[arg(long, default_value_t = 20)]
    pub most: usize,
    /// Search the public inventory of ingredient names instead of the shelf.
    #[arg(long)]
    pub inventory: bool,
    /// Print JSON instead of text.
    #[arg(long)]
    pub json: bool,
}

/// What becomes of a material that the shelf has in another state.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Differing {
    /// Keep the shelf's.
    Keep,
    /// Take the file's.
    Take,
    /// Keep both; the file's gets another name.
    Both,
}

/// What stands first in a day.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Dates {
    /// The day, as in 31/12/2027.
    DayFirst,
    /// The month, as in 12/31/2027.
    MonthFirst,
}

/// Arguments of `import`.
#[derive(Debug, Args)]
pub struct Import {
    /// The file.
    pub file: PathBuf,
    /// Only print what would change.
    #[arg(long)]
    pub dry_run: bool,
    /// What to do with materials that the shelf has in another state; unless it is said they
    /// stay as they are, which is an assumption.
    #[arg(long, value_enum)]
    pub differing: Option<Differing>,
    /// The stock file that takes up the offers and lots of a price list; made if it is not there.
    #[arg(long, value_name = "STOCK_FILE")]
    pub stock: Option<PathBuf>,
    /// What stands first in days such as 03/04/2027, if the list leaves it open.
    #[arg(long, value_enum)]
    pub dates: Option<Dates>,
    /// Name of the sheet, if it is not the first that holds a list.
    #[arg(long, value_name = "NAME")]
    pub sheet: Option<String>,
    /// What a column holds, if it is not recognised: `price=C`, `material=A`.
    #[arg(long = "column", value_name = "KIND=LETTER")]
    pub columns: Vec<String>,
    /// Takes a row for a material of the shelf, or for a new one: `7=glycerin-99-5`, `8=new`.
    #[arg(long = "match", value_name = "ROW=MATERIAL")]
    pub matches: Vec<String>,
    /// Takes in hidden and struck-through rows as well.
    #[arg(long)]
    pub hidden: bool,
    /// Accepts what had to be assumed: exit code 0 instead of 3.
    #[arg(long)]
    pub yes: bool,
    /// A file of answers, as for `import`; what `--match` and `--dates` settle is added to it.
    #[arg(long, value_name = "FILE")]
    pub answers: Option<PathBuf>,
    /// The supplier of a price list that names none.
    #[arg(long, value_name = "NAME", default_value = "")]
    pub supplier: String,
}

/// Arguments of `export`.
#[derive(Debug, Args)]
pub struct Export {
    /// The file to write.
    pub file: PathBuf,
    /// Only the maker's own materials.
    #[arg(long)]
    pub own: bool,
    /// Replace the file if it is there.
    #[arg(long)]
    pub replace: bool,
}

/// The folder of the shelf as the window has it, or the one named.
pub fn folder(named: Option<&Path>) -> Option<ShelfFolder> {
    if let Some(path) = named {
        return Some(ShelfFolder::new(path));
    }
    let folders = Folders::usual();
    let (settings, problems): (Settings, _) = folders.read_settings();
    problems.into_iter().for_each(said::warn);
    folder_of(&settings, &folders)
}

fn seen(folder: Option<&ShelfFolder>) -> Result<Seen, Failure> {
    Ok(folder.map_or_else(|| Ok(Seen::default()), ShelfFolder::read)?)
}

impl ShelfArgs {
    /// Runs the command.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        let folder = folder(self.shelf.as_deref());
        match &self.action {
            Action::Search(search) => {
                let shelf = seen(folder.as_ref())?.shelf.over(built_in());
                search.run(&shelf, out)
            }
            Action::Import(import) => import.run(folder.as_ref(), out),
            Action::Export(export) => {
                let seen = seen(folder.as_ref())?;
                export.run(&seen.shelf, out)
            }
            Action::Folder => {
                let folder = folder.ok_or_else(no_folder)?;
                writeln!(out, "{}", folder.path().display())?;
                Ok(0)
            }
        }
    }
}

fn no_folder() -> Failure {
    Failure(
        "no folder for the shelf is known on this system; name one with --shelf FOLDER".to_owned(),
    )
}

impl Search {
    fn run(&self, shelf: &Shelf, out: &mut dyn Write) -> Outcome {
        let words = self.words.join(" ");
        if self.inventory {
            return self.run_inventory(&words, out);
        }
        let index = MaterialIndex::new(shelf.iter());
        let found: Vec<_> = index
            .search(&words, self.most)
            .iter()
            .filter_map(|id| shelf.get(id))
            .collect();
        if self.json {
            let list: Vec<_> = found
                .iter()
                .map(|m| {
                    json!({
                        "id": m.id.as_str(),
                        "name": m.name,
                        "inci": m.inci_names().map(Inci::spelling).collect::<Vec<_>>(),
                        "cas": m.constituents.iter().filter_map(|c| c.cas).map(|c| c.to_string()).collect::<Vec<_>>(),
                        "roles": m.roles.iter().map(|r| r.label()).collect::<Vec<_>>(),
                        "supplier": m.supplier,
                        "source": m.source.to_string(),
                    })
                })
                .collect();
            writeln!(out, "{}", serde_json::to_string_pretty(&list)?)?;
            return Ok(0);
        }
        for material in &found {
            let roles: Vec<&str> = material.roles.iter().map(|r| r.label()).collect();
            writeln!(out, "{}", material.name)?;
            writeln!(out, "    {}", material.inci_line())?;
            writeln!(out, "    {}; {}", roles.join(", "), material.source)?;
        }
        if found.is_empty() {
            writeln!(out, "Nothing on the shelf fits “{words}”.")?;
        }
        Ok(0)
    }

    fn run_inventory(&self, words: &str, out: &mut dyn Write) -> Outcome {
        let mut found = inventory().search(words, self.most);
        let guessed = found.is_empty();
        if guessed {
            found = inventory().nearest(words, self.most);
        }
        if self.json {
            let list: Vec<_> = found
                .iter()
                .map(|e| {
                    json!({
                        "inci": e.label_name(),
                        "cas": e.cas.map(|c| c.to_string()),
                        "functions": e.functions().collect::<Vec<_>>(),
                    })
                })
                .collect();
            writeln!(out, "{}", serde_json::to_string_pretty(&list)?)?;
            return Ok(0);
        }
        if guessed && !found.is_empty() {
            writeln!(out, "Not in the inventory; nearest spellings:")?;
        }
        for entry in &found {
            let cas = entry
                .cas
                .map_or_else(|| "no CAS number".to_owned(), |c| c.to_string());
            let functions: Vec<&str> = entry.functions().collect();
            writeln!(
                out,
                "{} ({cas}): {}",
                entry.label_name(),
                functions.join(", ")
            )?;
        }
        if found.is_empty() {
            writeln!(out, "Nothing in the inventory is spelt like “{words}”.")?;
        } else {
            writeln!(out, "Source: {}", inventory::source().text)?;
        }
        Ok(0)
    }
}

/// The stock and what its file held.
struct StockFile {
    stock: Stock,
    workshop: Workshop,
    stamp: Option<Stamp>,
}

impl Import {
    fn run(&self, folder: Option<&ShelfFolder>, out: &mut dyn Write) -> Outcome {
        make_ready();
        let seen = seen(folder)?;
        let shelf = seen.shelf.over(built_in());
        let mut stock = self.stock()?;
        let Offers {
            shelf: edits,
            for_stock,
            assumed,
        } = match exchange::open(&self.file)? {
            ShelfImport::Shelf(offered, left_out) => {
                refuse_for_own_form(&self.for_tables())?;
                self.shelf_edits(&offered, left_out, &shelf, out)?
            }
            ShelfImport::Tables(tables) => self.price_edits(&tables, &shelf, &mut stock, out)?,
        };
        for words in &assumed {
            writeln!(out, "assumed: {words}")?;
        }
        let code = if assumed.is_empty() || self.yes {
            0
        } else {
            ASSUMED
        };
        if self.dry_run {
            writeln!(
                out,
                "Dry run: {} of the shelf and {}; nothing was written.",
                counted(edits.len(), "change"),
                counted(for_stock, "offer or lot"),
            )?;
            return Ok(code);
        }
        // The shelf first: told twice, its changes are the same; lots would be there twice.
        if edits.is_empty() {
            writeln!(out, "Nothing to change on the shelf.")?;
        } else {
            Self::save_shelf(folder, &seen, &edits, out)?;
        }
        if let Some(path) = self.stock.as_ref().filter(|_| for_stock > 0) {
            let expect = stock.stamp.map_or(Expect::Nothing, Expect::Last);
            stock_file::save(path, &stock.stock, &stock.workshop, expect)?;
            writeln!(
                out,
                "{} saved ({}).",
                counted(for_stock, "offer or lot"),
                path.display()
            )?;
        }
        Ok(code)
    }

    /// The options that only say how a table of others is read, each with whether it was given.
    const fn for_tables(&self) -> [(&'static str, bool); 6] {
        [
            ("--dates", self.dates.is_some()),
            ("--sheet", self.sheet.is_some()),
            ("--column", !self.columns.is_empty()),
            ("--match", !self.matches.is_empty()),
            ("--hidden", self.hidden),
            ("--supplier", !self.supplier.is_empty()),
        ]
    }

    /// Applies changes to the shelf and saves it.
    fn save_shelf(
        folder: Option<&ShelfFolder>,
        seen: &Seen,
        edits: &[ShelfEdit],
        out: &mut dyn Write,
    ) -> Result<(), Failure> {
        let folder = folder.ok_or_else(no_folder)?;
        let at = jiff::Timestamp::now().to_string();
        let mut own = seen.shelf.clone();
        for edit in edits {
            own.apply(edit, &at);
        }
        let saved = folder.save(seen, &own, &at)?;
        if let Some(backup) = saved.backup {
            writeln!(
                out,
                "The older form of the shelf is kept ({}).",
                backup.display()
            )?;
        }
        writeln!(
            out,
            "{} changes saved ({}).",
            edits.len(),
            folder.file().display()
        )?;
        Ok(())
    }

    fn stock(&self) -> Result<StockFile, Failure> {
        match &self.stock {
            Some(path) if path.exists() => {
                let (stock, workshop, stamp) = stock_file::open(path)?;
                Ok(StockFile {
                    stock,
                    workshop,
                    stamp: Some(stamp),
                })
            }
            _ => {
                let euro = Currency::new("EUR")
                    .ok_or_else(|| Failure("the euro is not a currency".to_owned()))?;
                Ok(StockFile {
                    stock: Stock::new(euro),
                    workshop: Workshop::default(),
                    stamp: None,
                })
            }
        }
    }

    /// The materials that a price list would add; its offers and lots go into the stock.
    fn price_edits(
        &self,
        tables: &[Table],
        shelf: &Shelf,
        stock: &mut StockFile,
        out: &mut dyn Write,
    ) -> Result<Offers, Failure> {
        let named = |t: &&Table| self.sheet.as_ref().is_none_or(|name| t.name == *name);
        let list = |t: &&Table| !self.columns.is_empty() || !t.hidden && looks_like_prices(t);
        let mut lists = tables.iter().filter(named).filter(list);
        let Some(table) = lists.next() else {
            return Err(Failure(
                "the table is neither a list of materials nor a price list; for a recipe use “phasewright import FILE -o FORMULA”".to_owned(),
            ));
        };
        let others: Vec<&str> = lists
            .filter(|_| self.columns.is_empty())
            .map(|t| t.name.as_str())
            .collect();
        let matcher = Resolver::new(shelf);
        let mut answers = Answers::read(self.answers.as_deref())?;
        let name = self.file.file_name().unwrap_or_default().to_string_lossy();
        let mut settings = TableSettings {
            layout: layout_of(&self.columns, table)?,
            hidden: self.hidden,
            days: self.dates.map(|d| match d {
                Dates::DayFirst => DayOrder::DayFirst,
                Dates::MonthFirst => DayOrder::MonthFirst,
            }),
            home: Some(stock.stock.home),
            ..TableSettings::default()
        };
        answers.settle(&name, &mut settings);
        let mut list = price_list::propose(table, &settings, &matcher)
            .map_err(|e| Failure(format!("{e} ({})", self.file.display())))?;
        answers.learn_settings(&name, &settings);
        for price in &mut list.prices {
            if let Some(choice) = answers.choice(&price.wanted, shelf) {
                price.choice = choice;
                price.settle();
            }
        }
        for one in &self.matches {
            let (row, choice) = matched(one, shelf)?;
            let price = list
                .prices
                .iter_mut()
                .find(|p| p.row == row)
                .ok_or_else(|| Failure(format!("row {row} is not taken in")))?;
            answers.learn(&price.wanted, &choice, shelf);
            price.choice = choice;
            price.settle();
        }
        print_columns(table, &list.layout, &list.evidence, out)?;
        print_prices(&list, out)?;
        let accepted = list.accept(&matcher, &self.supplier, today());
        for (row, words) in &accepted.kept {
            writeln!(out, "kept: row {row}: {words}")?;
        }
        for left in &accepted.left_out {
            writeln!(out, "left out: {left}")?;
        }
        let counts = list.counts(&accepted.lost);
        writeln!(out, "{}", counts.words())?;
        answers.save(self.answers.as_deref())?;
        let mut assumed = list.assumptions();
        assumed.extend(counts.lost_words());
        assumed.extend(accepted.left_out.iter().map(ToString::to_string));
        assumed.extend(hidden_sheets(tables));
        if !others.is_empty() {
            assumed.push(format!(
                "“{}” was brought in; other lists of the file were left out, --sheet brings them in: {}",
                table.name,
                others.join(", ")
            ));
        }
        assumed.extend(accepted.unlike_in(&stock.stock));
        let left_out = accepted.put_into(&mut stock.stock);
        for lot in &left_out {
            writeln!(
                out,
                "note: lot {lot} is in the stock already and stays as it is"
            )?;
        }
        let for_stock = accepted.offers.len() + accepted.lots.len() - left_out.len();
        if self.stock.is_none() && for_stock > 0 {
            writeln!(
                out,
                "note: the prices are kept in a stock file; name it with --stock STOCK_FILE"
            )?;
        }
        let new = accepted.new_materials.into_iter().map(ShelfEdit::Put);
        Ok(Offers {
            shelf: new.collect(),
            for_stock,
            assumed,
        })
    }

    /// What taking materials of our own form over changes, and what of them is left out.
    fn shelf_edits(
        &self,
        offered: &OwnShelf,
        left_out: Vec<String>,
        shelf: &Shelf,
        out: &mut dyn Write,
    ) -> Result<Offers, Failure> {
        let choice = match self.differing {
            None | Some(Differing::Keep) => Resolve::Keep,
            Some(Differing::Take) => Resolve::Take,
            Some(Differing::Both) => Resolve::Both,
        };
        let mut edits = Vec::new();
        let (mut new, mut kept) = (0, Vec::new());
        let differences = exchange::differences(offered, shelf);
        let differing = differences.len();
        for difference in differences {
            let choice = if difference.present.is_none() {
                Resolve::Take
            } else {
                choice
            };
            print_difference(&difference, choice, out)?;
            edits.extend(exchange::edits(&difference, choice, shelf));
            match &difference.present {
                None => new += 1,
                Some(present) => kept.push(present.name.to_string()),
            }
        }
        writeln!(
            out,
            "{}: {new} new, {} {}, {} the same.",
            counted(offered.materials.len(), "material"),
            differing - new,
            if differing - new == 1 {
                "differs"
            } else {
                "differ"
            },
            offered.materials.len() - differing
        )?;
        let mut assumed = left_out;
        if self.differing.is_none() && !kept.is_empty() {
            assumed.push(format!(
                "what the shelf has in another state was left as it is: {}; --differing take takes that of the file, --differing both keeps both",
                kept.join(", ")
            ));
        }
        Ok(Offers {
            shelf: edits,
            for_stock: 0,
            assumed,
        })
    }
}

/// What an import would do.
struct Offers {
    shelf: Vec<ShelfEdit>,
    /// Offers and lots.
    for_stock: usize,
    /// What had to be assumed, in words.
    assumed: Vec<String>,
}

/// Hidden sheets are left out, which is told.
fn hidden_sheets(tables: &[Table]) -> Option<String> {
    let hidden: Vec<&str> = tables
        .iter()
        .filter(|t| t.hidden)
        .map(|t| t.name.as_str())
        .collect();
    (!hidden.is_empty()).then(|| format!("hidden sheets were left out: {}", hidden.join(", ")))
}

fn print_difference(
    difference: &OfferedMaterial,
    choice: Resolve,
    out: &mut dyn Write,
) -> std::io::Result<()> {
    if difference.present.is_none() {
        return writeln!(out, "new: {}", difference.offered.name);
    }
    writeln!(
        out,
        "differs: {} ({})",
        difference.offered.name,
        choice.label()
    )?;
    for change in &difference.changes {
        writeln!(
            out,
            "    {}: {} → {}",
            change.field, change.before, change.after
        )?;
    }
    Ok(())
}

fn print_prices(list: &PriceList, out: &mut dyn Write) -> std::io::Result<()> {
    for price in &list.prices {
        let what = match &price.choice {
            MaterialChoice::Known(id, how) => format!("{id} ({})", how.label()),
            MaterialChoice::New => {
                let offered: Vec<String> = price
                    .candidates
                    .iter()
                    .take(2)
                    .map(|c| format!("{} (--match {}={})", c.name, price.row, c.id))
                    .collect();
                if offered.is_empty() {
                    "new".to_owned()
                } else {
                    format!("new; perhaps {}", offered.join(", "))
                }
            }
            MaterialChoice::NewPure(inci) => format!("new, pure {inci}"),
            MaterialChoice::Made(material) => format!("new, {}", material.name),
        };
        let mark = if price.is_doubtful() { "? " } else { "" };
        let start = format!("row {}: {} → {mark}{what}", price.row, price.wanted.name);
        // One line for each size that is offered.
        if price.offers.is_empty() {
            let told = price.price_words();
            let told = if told.is_empty() {
                told
            } else {
                format!(": {told}")
            };
            writeln!(out, "{start}{told}")?;
        }
        for offer in &price.offers {
            writeln!(out, "{start}: {}", offer.words())?;
        }
        if let Some(lot) = &price.lot {
            writeln!(out, "lot: row {}: {}", price.row, lot.words())?;
        }
    }
    for left in &list.left_out {
        writeln!(out, "left out: {left}")?;
    }
    for note in &list.notes {
        writeln!(out, "note: {note}")?;
    }
    Ok(())
}

impl Export {
    fn run(&self, own: &OwnShelf, out: &mut dyn Write) -> Outcome {
        let shelf = own.over(built_in());
        let chosen: Vec<_> = if self.own {
            own.materials.values().collect()
        } else {
            shelf.iter().collect()
        };
        let count = chosen.len();
        let ending = self
            .file
            .extension()
            .map(|e| e.to_string_lossy().to_lowercase())
            .unwrap_or_default();
        let bytes = match ending.as_str() {
            "csv" => shelf_table::csv(chosen)?.into_bytes(),
            "xlsx" => shelf_table::xlsx(chosen)?,
            "json" => shelf_table::json(chosen)?.into_bytes(),
            "ron" => material_file::write(chosen)?.into_bytes(),
            other => {
                return Err(Failure(format!(
                    "the ending “{other}” is not known; write .csv, .xlsx, .json or .ron"
                )));
            }
        };
        let expect = if self.replace {
            Expect::Anything
        } else {
            Expect::Nothing
        };
        store::save(&self.file, &bytes, expect)?;
        writeln!(out, "{count} materials written ({}).", self.file.display())?;
        Ok(0)
    }
}
