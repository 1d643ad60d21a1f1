//! What the window holds of the workshop: stock, habits, batch records.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use formulation::amount::number;
use formulation::batch::record::{Event, Lots, Opening, Record};
use formulation::batch::trace;
use formulation::batch::workshop::{Habit, Paper, Workshop};
use formulation::batch::workshop_merge;
use formulation::batch_code::BatchCode;
use formulation::evaluation::Evaluation;
use formulation::file::record_file::{self, Folder, RecordFile};
use formulation::file::stock_file;
use formulation::file::store::{self, Expect, Since, Stamp, StoreError};
use formulation::file::{FileError, disk, formula_file};
use formulation::formula::Date;
use formulation::home_currency;
use formulation::ledger::Fault;
use formulation::quantity::Currency;
use formulation::stock::{LotUsage, Stock};
use formulation::stock_merge::{self, Called};

/// How often a save of the stock is tried against another window that keeps saving.
const MOST_TRIES: u32 = 5;

/// Says what another window changed as well.
fn told(clashes: &[String], then: &str) -> Result<(), String> {
    if clashes.is_empty() {
        return Ok(());
    }
    Err(format!(
        "Another window changed the same: {}. It is as the other window left it, {then}",
        clashes.join(", ")
    ))
}

/// Stock and workshop.
type Both = (Stock, Workshop);

/// A change of the stock, and of what changed of the workshop together with it, to be taken back
/// and done again.
struct Step {
    before: Both,
    after: Both,
}

impl Step {
    fn back(self) -> Self {
        Self {
            before: self.after,
            after: self.before,
        }
    }

    /// The books after the change is made to them, and what another window changed as well.
    /// What else was changed meanwhile stays.
    fn applied(&self, now: Both, called: Called<'_>) -> (Both, Vec<String>) {
        if now == self.before {
            return (self.after.clone(), Vec::new());
        }
        joined(&self.before, &self.after, now, called)
    }
}

/// What was changed here since `base` joined with what another window has saved, and what both
/// changed differently.
fn joined(base: &Both, ours: &Both, theirs: Both, called: Called<'_>) -> (Both, Vec<String>) {
    let mut clashes = Vec::new();
    if ours.0.home != theirs.0.home && ours.0.home != base.0.home && theirs.0.home != base.0.home {
        clashes.push("the currency".to_owned());
    }
    let alike = home_currency::in_one_currency([base.clone(), ours.clone(), theirs.clone()]);
    let Ok([base, ours, theirs]) = alike else {
        clashes.push("the currency of the books, and with it everything".to_owned());
        return (theirs, clashes);
    };
    let stock = stock_merge::join(&base.0, &ours.0, &theirs.0, called);
    let workshop = workshop_merge::join(&base.1, &ours.1, &theirs.1, called);
    clashes.extend(stock.clashes);
    clashes.extend(workshop.clashes);
    ((stock.stock, workshop.workshop), clashes)
}

/// Stock, workshop and batch records.
pub struct Books {
    folder: Option<PathBuf>,
    stock: Stock,
    workshop: Workshop,
    stamp: Option<Stamp>,
    usage: LotUsage,
    records: Folder,
    open: Option<RecordFile>,
    /// Raised at every change, so that what is shown of it can be kept.
    revision: u64,
    /// The stock could not be read, so it is not written either.
    unreadable: bool,
    /// Names of products and materials, for what is told of them.
    called: BTreeMap<Arc<str>, Arc<str>>,
    /// Own changes of the stock that were made, and those that were taken back.
    made: Vec<Step>,
    taken_back: Vec<Step>,
}

/// Steps back that are kept.
const MOST_STEPS: usize = 100;

impl Books {
    /// Reads stock and records from a folder; without one nothing is kept. What could not
    /// be read is said.
    pub fn read(folder: Option<&Path>) -> (Self, Vec<String>) {
        let mut problems = Vec::new();
        let mut books = Self {
            folder: folder.map(Path::to_path_buf),
            stock: Stock::new(Currency::EUR),
            workshop: Workshop::default(),
            stamp: None,
            usage: LotUsage::default(),
            records: Folder::default(),
            open: None,
            revision: 0,
            unreadable: false,
            called: BTreeMap::new(),
            made: Vec::new(),
            taken_back: Vec::new(),
        };
        if let Some(path) = books.stock_path() {
            match stock_file::open(&path) {
                Ok((stock, workshop, stamp)) => {
                    books.stock = stock;
                    books.workshop = workshop;
                    books.stamp = Some(stamp);
                    if !formula_file::comments_of(&path).is_empty() {
                        problems.push(format!(
                            "The stock file holds comments written by hand; the first change here writes it anew without them, and keeps the file with them as stock.with-comments.ron ({})",
                            path.display()
                        ));
                    }
                }
                Err(FileError::Store(StoreError::Missing { .. })) => {}
                Err(error) => {
                    books.unreadable = true;
                    problems.push(format!(
                        "The stock could not be read and is left as it is: {error}"
                    ));
                }
            }
        }
        books.read_records();
        problems.extend(books.records.problems());
        (books, problems)
    }

    /// The file of the stock.
    pub fn stock_path(&self) -> Option<PathBuf> {
        Some(self.folder.as_ref()?.join("stock.ron"))
    }

    /// The folder of the batch records.
    pub fn record_folder(&self) -> Option<PathBuf> {
        Some(self.folder.as_ref()?.join("batches"))
    }

    fn read_records(&mut self) {
        if let Some(folder) = self.record_folder() {
            self.records = record_file::read_folder(&folder);
        }
        self.count_usage();
    }

    fn count_usage(&mut self) {
        self.usage = trace::usage(self.all_records());
        self.revision += 1;
    }

    /// The stock.
    pub const fn stock(&self) -> &Stock {
        &self.stock
    }
    /// The workshop.
    pub const fn workshop(&self) -> &Workshop {
        &self.workshop
    }
    /// What all batches took from all lots.
    pub const fn usage(&self) -> &LotUsage {
        &self.usage
    }
    /// The lots as they stand on a day, against which a record holds what it takes.
    pub const fn lots(&self, day: Date) -> Lots<'_> {
        Lots {
            stock: &self.stock,
            usage: &self.usage,
            day,
        }
    }
    /// Raised at every change.
    pub const fn revision(&self) -> u64 {
        self.revision
    }
    /// The batch that is open to be worked on.
    pub fn open_record(&self) -> Option<&Record> {
        self.open.as_ref().map(RecordFile::record)
    }
    /// The folder of records as last read, with what is wrong in it.
    pub const fn records(&self) -> &Folder {
        &self.records
    }
    /// The file of the batch that is open.
    pub fn open_path(&self) -> Option<&Path> {
        self.open.as_ref().map(RecordFile::path)
    }
    /// What is wrong with the open record.
    pub fn open_faults(&self) -> &[Fault] {
        self.open.as_ref().map_or(&[], RecordFile::faults)
    }
    /// All records by code, the open one as it stands now.
    pub fn all_records(&self) -> impl Iterator<Item = &Record> + Clone {
        let open = self.open_record();
        self.records
            .records()
            .map(move |r| open.filter(|o| o.code() == r.code()).unwrap_or(r))
    }

    /// Batches that were begun and not closed.
    pub fn unfinished(&self) -> impl Iterator<Item = &Record> {
        self.all_records().filter(|r| !r.is_closed())
    }

    /// Whether a change of the stock can be taken back, and done again.
    pub const fn can_step(&self) -> (bool, bool) {
        (!self.made.is_empty(), !self.taken_back.is_empty())
    }

    /// Takes over what products and materials are called, by what they are kept under.
    pub fn call(&mut self, names: impl IntoIterator<Item = (Arc<str>, Arc<str>)>) {
        self.called = names.into_iter().collect();
    }

    /// The name of a product or material: as it was given, or as the last batch has it.
    fn name_of(&self, key: &str) -> String {
        let given = self.called.get(key).map(ToString::to_string);
        let of_batch = || {
            let formulas = self.all_records().map(|r| &r.opening().formula);
            let named = formulas.filter(|f| f.product().as_ref() == key);
            named.last().map(|f| f.name.to_string())
        };
        given.or_else(of_batch).unwrap_or_else(|| key.to_owned())
    }

    /// Puts a changed stock and workshop in place and saves them.
    pub fn set_stock(&mut self, stock: Stock, workshop: Workshop) -> Result<(), String> {
        let step = Step {
            before: (self.stock.clone(), self.workshop.clone()),
            after: (stock.clone(), workshop.clone()),
        };
        let clashes = self.put_stock(stock, workshop)?;
        if step.before.0 != step.after.0 {
            self.made.push(step);
            let over = self.made.len().saturating_sub(MOST_STEPS);
            self.made.drain(..over);
            self.taken_back.clear();
        }
        told(
            &clashes,
            "everything else of yours is saved; make that change once more",
        )
    }

    /// Takes the last own change of the stock back; what another window changed since stays.
    pub fn undo_stock(&mut self) -> Result<(), String> {
        let Some(step) = self.made.pop() else {
            return Ok(());
        };
        let step = step.back();
        let clashes = self.make(&step)?;
        self.taken_back.push(step.back());
        told(&clashes, "the rest of your change is taken back")
    }

    /// Does the change of the stock again that was taken back last.
    pub fn redo_stock(&mut self) -> Result<(), String> {
        let Some(step) = self.taken_back.pop() else {
            return Ok(());
        };
        let clashes = self.make(&step)?;
        self.made.push(step);
        told(&clashes, "the rest of your change is done again")
    }

    /// Makes a change to the stock as it is now; what another window changed as well.
    fn make(&mut self, step: &Step) -> Result<Vec<String>, String> {
        let now = (self.stock.clone(), self.workshop.clone());
        let ((stock, workshop), mut clashes) = step.applied(now, &|key| self.name_of(key));
        clashes.extend(self.put_stock(stock, workshop)?);
        Ok(clashes)
    }

    /// Saves a stock and workshop together with what another window has saved meanwhile, and
    /// takes them over; what both changed differently, in words.
    fn put_stock(&mut self, stock: Stock, workshop: Workshop) -> Result<Vec<String>, String> {
        if self.unreadable {
            return Err("The stock file could not be read; mend it before changing the stock, so that nothing in it is lost".to_owned());
        }
        let (mut stock, mut workshop) = (stock, workshop);
        let mut clashes = Vec::new();
        if let (Some(folder), Some(path)) = (&self.folder, self.stock_path()) {
            disk::make_folders(folder, disk::Access::Usual)
                .map_err(|e| format!("The stock could not be saved: {e} ({})", folder.display()))?;
            let mut expect = self.stamp.map_or(Expect::Nothing, Expect::Last);
            // Another window may save again between reading and saving; it cannot go on for ever.
            for _ in 0..MOST_TRIES {
                match stock_file::save(&path, &stock, &workshop, expect) {
                    Ok(stamp) => {
                        self.stamp = Some(stamp);
                        self.stock = stock;
                        self.workshop = workshop;
                        self.revision += 1;
                        return Ok(clashes);
                    }
                    Err(FileError::Store(
                        StoreError::ChangedElsewhere { .. } | StoreError::Exists { .. },
                    )) => {
                        let (theirs, shop, stamp) =
                            stock_file::open(&path).map_err(|e| e.to_string())?;
                        let base = (self.stock.clone(), self.workshop.clone());
                        let there = (theirs.clone(), shop.clone());
                        let called = |key: &str| self.name_of(key);
                        let (both, told) = joined(&base, &(stock, workshop), there, &called);
                        (stock, workshop) = both;
                        clashes.extend(told);
                        // From here on the other window's state is what both began with.
                        self.stock = theirs;
                        self.workshop = shop;
                        self.stamp = Some(stamp);
                        self.revision += 1;
                        expect = Expect::Last(stamp);
                    }
                    Err(error) => return Err(error.to_string()),
                }
            }
            return Err("Another window keeps changing the stock; what it wrote is shown now, make your change once more".to_owned());
        }
        self.stock = stock;
        self.workshop = workshop;
        self.revision += 1;
        Ok(clashes)
    }

    /// Reads the stock again if another window has changed it; whether it has.
    pub fn watch_stock(&mut self) -> bool {
        let (Some(path), Some(stamp)) = (self.stock_path(), self.stamp) else {
            return false;
        };
        if !matches!(store::since(&path, &stamp), Ok(Since::Changed)) {
            return false;
        }
        // What cannot be read is told at the next save, which writes nothing then.
        let Ok((stock, workshop, stamp)) = stock_file::open(&path) else {
            return false;
        };
        self.stock = stock;
        self.workshop = workshop;
        self.stamp = Some(stamp);
        self.revision += 1;
        true
    }

    /// Begins the record of a batch and opens it.
    pub fn begin(
        &mut self,
        opening: Opening,
        paper: Paper,
        at: &str,
        by: &str,
    ) -> Result<(), String> {
        let folder = self.record_folder().ok_or(
            "There is no folder for batch records; set HOME or the usual variable of your system",
        )?;
        let product = opening.formula.product().clone();
        let mut workshop = self.workshop.clone();
        let vessel = opening.vessel.as_ref();
        let used = |name: &str| opening.scales.iter().any(|s| &**s.name() == name);
        let all = workshop.scales.iter().map(|s| s.name().clone());
        let idle_scales = all.filter(|name| !used(name)).collect();
        workshop
            .products
            .entry(product)
            .or_default()
            .remember(Habit {
                by: by.trim().into(),
                vessel: vessel.map_or_else(|| "".into(), |v| v.name().clone()),
                idle_scales,
                paper: Some(paper),
                mass: Some(opening.batch),
                containers: opening.filling.map(|f| (f.count, f.contents)),
            });
        workshop.remember_person(by);
        let file = RecordFile::create(&folder, opening, at, by).map_err(|e| e.to_string())?;
        self.open = Some(file);
        self.read_records();
        // The batch is begun; that its size is remembered is a help only.
        self.set_stock(self.stock.clone(), workshop)
            .map_err(|why| format!("The batch is begun, but its size is not remembered: {why}"))
    }

    /// Keeps for a product what is kept for another one, as far as it has nothing of its own.
    pub fn keep_alike(&mut self, from: &str, product: &Arc<str>) -> Result<(), String> {
        let mut workshop = self.workshop.clone();
        let Some(habits) = workshop.products.get(from).cloned() else {
            return Ok(());
        };
        workshop.products.entry(product.clone()).or_insert(habits);
        self.set_stock(self.stock.clone(), workshop)
    }

    /// Opens the record of a batch to go on with it.
    pub fn resume(&mut self, code: &BatchCode) -> Result<(), String> {
        if self.open_record().is_some_and(|r| r.code() == code) {
            return Ok(());
        }
        self.leave();
        let path = self
            .records
            .records
            .iter()
            .find(|(_, l)| l.record.code() == code)
            .map(|(path, _)| path.clone())
            .ok_or_else(|| format!("There is no record of the batch {code}"))?;
        let file = RecordFile::open(&path).map_err(|e| e.to_string())?;
        self.open = Some(file);
        self.revision += 1;
        Ok(())
    }

    /// Lets go of the open record; it stays as it is.
    pub fn leave(&mut self) {
        if self.open.take().is_some() {
            self.read_records();
        }
    }

    /// Records an event in the open batch. When this returns, it is on the disk.
    /// A release is held against the mix as it was weighed.
    pub fn record(
        &mut self,
        event: Event,
        at: &str,
        by: &str,
        as_weighed: Option<&Evaluation>,
    ) -> Result<(), String> {
        let day = number::iso_date(at);
        if let (Some(file), Some(day)) = (&self.open, day)
            && let Some(stop) = file.record().stop(&event, self.lots(day))
        {
            return Err(format!(
                "{}; it can be taken only with a name and a reason",
                stop.against.join("; ")
            ));
        }
        let file = self
            .open
            .as_mut()
            .ok_or("No batch is open; open one first")?;
        file.append_with(at, by, event, as_weighed)
            .map_err(|e| e.to_string())?;
        self.count_usage();
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two windows with one stock: both keep what they did.
    #[test]
    fn two_windows_share_a_stock() {
        let folder = tempfile::tempdir().unwrap();
        let (mut one, _) = Books::read(Some(folder.path()));
        one.set_stock(one.stock().clone(), one.workshop().clone())
            .unwrap();
        let (mut two, _) = Books::read(Some(folder.path()));
        let level = |grams: &str| formulation::mass::read_mass(grams, None).unwrap();
        let id = formulation::material::MaterialId::from_name;
        let mut ours = one.stock().clone();
        ours.reorder.insert(id("glycerin"), level("100 g"));
        one.set_stock(ours, one.workshop().clone()).unwrap();
        let mut theirs = two.stock().clone();
        theirs.reorder.insert(id("shea butter"), level("200 g"));
        two.set_stock(theirs, two.workshop().clone()).unwrap();
        assert_eq!(two.stock().reorder.len(), 2);
        assert!(one.watch_stock());
        assert_eq!(one.stock(), two.stock());
        // The same thing in both: the first stays, and it is said.
        let mut ours = one.stock().clone();
        ours.reorder.insert(id("glycerin"), level("300 g"));
        one.set_stock(ours, one.workshop().clone()).unwrap();
        let mut theirs = two.stock().clone();
        theirs.reorder.insert(id("glycerin"), level("400 g"));
        let said = two.set_stock(theirs, two.workshop().clone()).unwrap_err();
        assert!(said.contains("glycerin"), "{said}");
        assert_eq!(two.stock().reorder[&id("glycerin")], level("300 g"));
        // Taking back undoes what was done here, never what was done there.
        two.undo_stock().unwrap_err();
        assert_eq!(two.stock().reorder[&id("glycerin")], level("300 g"));
        two.undo_stock().unwrap();
        assert_eq!(two.stock().reorder.len(), 1);
        assert!(two.stock().reorder.contains_key(&id("glycerin")));
        two.redo_stock().unwrap();
        assert_eq!(two.stock().reorder[&id("shea butter")], level("200 g"));
        assert_eq!(one.stock(), two.stock());
        // What each changed of the workshop is kept too.
        let mut ours = one.workshop().clone();
        ours.remember_person("Wren");
        one.set_stock(one.stock().clone(), ours).unwrap();
        let mut theirs = two.workshop().clone();
        theirs.second_check = true;
        two.set_stock(two.stock().clone(), theirs).unwrap();
        assert_eq!(two.workshop().people, ["Wren".into()]);
        assert!(one.watch_stock() && one.workshop().second_check);
        one.undo_stock().unwrap();
        assert_eq!(one.stock().reorder[&id("glycerin")], level("100 g"));
        assert_eq!(one.stock().reorder[&id("shea butter")], level("200 g"));
    }

    /// The currency of the books is one change, whose amounts another window's changes follow.
    #[test]
    fn the_currency_is_changed_and_taken_back_as_one() {
        let folder = tempfile::tempdir().unwrap();
        let (mut one, _) = Books::read(Some(folder.path()));
        let pounds = Currency::new("GBP").unwrap();
        let crowns = Currency::new("SEK").unwrap();
        let mut stock = one.stock().clone();
        stock.rates.insert(pounds, "1.25".parse().unwrap());
        let mut workshop = one.workshop().clone();
        let overhead = |name: &str, sum: &str| formulation::cost::Overhead {
            name: name.into(),
            per_batch: Some(sum.parse().unwrap()),
        };
        workshop.costs.overhead.push(overhead("rent", "10"));
        one.set_stock(stock, workshop).unwrap();
        let (mut two, _) = Books::read(Some(folder.path()));
        // The other window enters a rate and a sum in euro meanwhile.
        let (mut stock, mut workshop) = (two.stock().clone(), two.workshop().clone());
        stock.rates.insert(crowns, "0.1".parse().unwrap());
        workshop.costs.overhead.push(overhead("energy", "5"));
        two.set_stock(stock, workshop).unwrap();
        let turned = home_currency::kept_in(one.stock(), one.workshop(), pounds).unwrap();
        one.set_stock(turned.stock, turned.workshop).unwrap();
        assert_eq!(one.stock().home, pounds);
        assert_eq!(one.stock().rate(crowns), Some("0.08".parse().unwrap()));
        let sums = [overhead("rent", "8"), overhead("energy", "4")];
        let kept = &one.workshop().costs.overhead;
        assert_eq!(kept.len(), 2);
        assert!(sums.iter().all(|sum| kept.contains(sum)), "{kept:?}");
        one.undo_stock().unwrap();
        assert_eq!(one.stock().home, Currency::EUR);
        assert_eq!(one.stock().rate(crowns), Some("0.1".parse().unwrap()));
        let sums = [overhead("rent", "10"), overhead("energy", "5")];
        let kept = &one.workshop().costs.overhead;
        assert!(sums.iter().all(|sum| kept.contains(sum)), "{kept:?}");
        one.redo_stock().unwrap();
        assert_eq!(one.stock().home, pounds);
    }

    /// What both windows changed is told by the name of the product, not by what it is kept under.
    #[test]
    fn a_clash_names_the_product() {
        let folder = tempfile::tempdir().unwrap();
        let (mut one, _) = Books::read(Some(folder.path()));
        one.set_stock(one.stock().clone(), one.workshop().clone())
            .unwrap();
        let (mut two, _) = Books::read(Some(folder.path()));
        two.call([("product 1-0-0".into(), "Juniper wash".into())]);
        let made_of = |books: &Books, vessel: &str| {
            let mut workshop = books.workshop().clone();
            let wash = workshop.products.entry("product 1-0-0".into());
            wash.or_default().remember(Habit {
                by: "Ash".into(),
                vessel: vessel.into(),
                ..Habit::default()
            });
            workshop
        };
        one.set_stock(one.stock().clone(), made_of(&one, "pot"))
            .unwrap();
        let said = two
            .set_stock(two.stock().clone(), made_of(&two, "kettle"))
            .unwrap_err();
        assert!(said.contains("how Ash makes Juniper wash"), "{said}");
    }
}
