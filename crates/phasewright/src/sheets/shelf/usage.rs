//! Saved formulas, read in the background: which of them use a material.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use eframe::egui;
use formulation::file::formula_file;
use formulation::formula::Formula;
use formulation::impact::uses;
use formulation::material::MaterialId;
use formulation::progress::Progress;

use crate::state::View;
use crate::state::disk::formulas_near;
use crate::work::Work;

/// Seconds after which they are read again.
const AGAIN_S: f64 = 60.0;

/// A saved formula.
pub struct Saved {
    /// Where it is; `None` if it is only open in the window.
    pub path: Option<PathBuf>,
    /// The formula.
    pub formula: Arc<Formula>,
}

impl Saved {
    /// Its name.
    pub fn name(&self) -> String {
        self.formula.name.to_string()
    }
}

/// Those that have a line of a material.
pub fn using<'a>(
    formulas: &'a [Saved],
    material: &'a MaterialId,
) -> impl Iterator<Item = &'a Saved> {
    formulas.iter().filter(|s| uses(&s.formula, material))
}

/// The formulas lately used and those beside them.
#[derive(Default)]
pub struct SavedFormulas {
    found: Arc<[Saved]>,
    reading: Work<(), Vec<Saved>>,
    next: f64,
}

impl SavedFormulas {
    /// All that were found.
    pub const fn all(&self) -> &Arc<[Saved]> {
        &self.found
    }

    /// Those that have a line of a material.
    pub fn using<'a>(&'a self, material: &'a MaterialId) -> impl Iterator<Item = &'a Saved> {
        using(&self.found, material)
    }

    /// Reads them now and then, without holding up the window.
    pub fn look(&mut self, ctx: &egui::Context, view: &View<'_>) {
        self.take();
        let time = ctx.time();
        if self.reading.is_going() || time < self.next {
            return;
        }
        self.next = time + AGAIN_S;
        let open: Vec<(Option<PathBuf>, Arc<Formula>)> = view
            .state
            .documents()
            .iter()
            .map(|d| (d.path.clone(), Arc::clone(d.formula())))
            .collect();
        let recent = view.state.settings.recent.clone();
        let begun = move |progress: &Progress| read(open, &recent, progress);
        self.reading.begin(ctx, (), begun);
        self.take();
    }

    /// Takes over what was read; until then what was known before stays.
    fn take(&mut self) {
        self.reading.poll();
        if let Some(((), found)) = self.reading.take() {
            self.found = found.into();
        }
    }
}

fn read(
    open: Vec<(Option<PathBuf>, Arc<Formula>)>,
    recent: &[PathBuf],
    progress: &Progress,
) -> Vec<Saved> {
    let known: Vec<&Path> = open
        .iter()
        .filter_map(|(path, _)| path.as_deref())
        .collect();
    let paths = formulas_near(&known, recent);
    let going_on = (paths.into_iter()).take_while(|_| !progress.is_stopped());
    let saved = going_on.filter_map(|path| {
        // What cannot be read is told when it is opened.
        let (formula, _) = formula_file::open(&path).ok()?;
        Some(Saved {
            path: Some(path),
            formula: Arc::new(formula),
        })
    });
    let from_disk: Vec<Saved> = saved.collect();
    let mut all: Vec<Saved> = open
        .into_iter()
        .map(|(path, formula)| Saved { path, formula })
        .chain(from_disk)
        .collect();
    all.sort_by_cached_key(|s| s.formula.name.to_lowercase());
    all
}
