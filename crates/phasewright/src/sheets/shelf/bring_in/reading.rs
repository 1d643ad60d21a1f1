//! Reading what is brought in beside the frame: a long file never stops the window, says how
//! far it is and can be stopped.

use std::path::{Path, PathBuf};

use eframe::egui;
use formulation::file::disk;
use formulation::file::exchange::{self, ShelfImport};
use formulation::file::table::price_list::{self, PriceList};
use formulation::file::table::recipe::{self, RecipeProposal, RecipeSettings};
use formulation::file::table::{Table, read_text};
use formulation::naming::Resolver;
use formulation::progress::Progress;
use formulation::shelf::Shelf;

use crate::work::Work;

/// Files of at most so many bytes are read within the frame: they take no time that anybody
/// would see.
const SHORT_FILE: u64 = 64 << 10;
/// Rows from which on a table is matched with the shelf beside the frame.
const SHORT_TABLE: usize = 200;

/// Something that is there, or is being worked on.
pub(super) enum Now<T> {
    Done(T),
    Working(Work<(), T>),
}

impl<T: Send + 'static> Now<T> {
    /// Does it at once if it is short, else beside the frame.
    fn of(
        ctx: &egui::Context,
        short: bool,
        job: impl FnOnce(&Progress) -> T + Send + 'static,
    ) -> Self {
        if short {
            return Self::Done(job(&Progress::default()));
        }
        let mut work = Work::default();
        work.begin(ctx, (), job);
        Self::Working(work)
    }
}

/// What a file holds, or why it cannot be read.
pub(super) type Opening = Now<Result<ShelfImport, String>>;

/// Opens a file.
pub(super) fn open(ctx: &egui::Context, path: PathBuf) -> Opening {
    let short = disk::look(&path).is_ok_and(|about| about.length() <= SHORT_FILE);
    Now::of(ctx, short, move |_| open_now(&path))
}

fn open_now(path: &Path) -> Result<ShelfImport, String> {
    exchange::open(path).map_err(|e| e.to_string())
}

/// Reads pasted text.
pub(super) fn paste(ctx: &egui::Context, text: String) -> Opening {
    let short = text.len() as u64 <= SHORT_FILE;
    Now::of(ctx, short, move |_| {
        read_text(&text)
            .map(ShelfImport::Tables)
            .map_err(|e| e.to_string())
    })
}

/// A table as it would be taken in.
pub(super) enum Read {
    Recipe(Box<RecipeProposal>),
    Prices(Box<PriceList>),
}

/// A table matched with the shelf, or why it cannot be taken in.
pub(super) type Reading = Now<Result<Read, String>>;

/// That goes on.
pub(super) type Matching = Work<(), Result<Read, String>>;

/// Matches a table with the shelf.
pub(super) fn read(
    ctx: &egui::Context,
    table: &Table,
    title: &str,
    prices: bool,
    settings: &RecipeSettings,
    shelf: &Shelf,
) -> Reading {
    let short = table.rows.len() <= SHORT_TABLE;
    let (table, title, settings) = (table.clone(), title.to_owned(), settings.clone());
    let shelf = shelf.clone();
    Now::of(ctx, short, move |progress| {
        let matcher = Resolver::new(&shelf);
        let mut tell = |done: usize, all: usize| progress.tell(done, all);
        if prices {
            price_list::propose_with(&table, &settings, &matcher, &mut tell)
                .map(|list| Read::Prices(Box::new(list)))
                .map_err(|e| e.to_string())
        } else {
            recipe::propose_with(&table, &title, &settings, &matcher, &mut tell)
                .map(|proposal| Read::Recipe(Box::new(proposal)))
                .map_err(|e| e.to_string())
        }
    })
}
