//! What trials tell of the formula as it stands: measured on exactly this composition, read of
//! an earlier state, and learnt from all readings.

use std::sync::Arc;

use eframe::egui::Ui;
use formulation::finding::Level;
use formulation::formula::Variant;
use formulation::quantity::Ph;
use formulation::trial::book::{RecordedReading, TrialEvent, value_words};
use formulation::trial::known::{Known, Taught, known};
use formulation::trial::learn::Lessons;
use formulation::trial::reading::Quantity;

use super::level_mark::level_mark;
use crate::command::Command;
use crate::state::{DocumentId, View};
use crate::theme;

/// Of which state it is told.
struct Of {
    document: DocumentId,
    trials: u64,
    variant: Arc<Variant>,
    lessons: Lessons,
}

impl Of {
    fn is_now(&self, view: &View<'_>) -> bool {
        self.document == view.document.id
            && self.trials == view.state.trials(view.document.id).revision()
            && Arc::ptr_eq(&self.variant, view.variant)
            && self.lessons == *view.state.lessons()
    }
}

/// Something that is told.
enum Line {
    /// A reading of exactly this composition: number, words, whether it goes with the finished
    /// formula and the recipe.
    Measured(usize, String, bool),
    /// A reading of another composition.
    Earlier(String),
    /// What is expected from what was learnt.
    Learnt(String),
    /// Something to mind at it.
    Mind(String),
    /// A word on the side.
    Aside(String),
}

/// A pH that was read on a trial.
pub struct PhRead {
    /// The mean of the reading.
    pub ph: Ph,
    /// Number of the trial.
    pub trial: usize,
    /// Whether it is of exactly the composition as it stands.
    pub is_of_this: bool,
    /// Where it was read.
    pub words: String,
}

impl PhRead {
    /// The newest of exactly this composition, else of another one.
    fn of(known: &Known<'_>) -> Option<Self> {
        let mean = |kept: &RecordedReading| kept.reading.mean().and_then(Ph::new);
        if let Some(kept) = known.measured.last() {
            return Some(Self {
                ph: mean(kept)?,
                trial: kept.trial,
                is_of_this: true,
                words: kept.source(),
            });
        }
        let earlier = known.earlier?;
        Some(Self {
            ph: mean(earlier.kept)?,
            trial: earlier.trial.number,
            is_of_this: false,
            words: earlier.words(),
        })
    }
}

/// What trials tell, worked out once a state.
#[derive(Default)]
pub struct OfTrials {
    of: Option<Of>,
    lines: Vec<Line>,
    /// Figure of the viscosity, and what it is.
    viscosity: Option<(String, &'static str)>,
    ph: Option<PhRead>,
}

impl OfTrials {
    /// Works it out anew where something has changed.
    pub fn refresh(&mut self, view: &View<'_>) {
        if self.of.as_ref().is_some_and(|of| of.is_now(view)) {
            return;
        }
        let lessons = view.state.lessons();
        let trials = view.state.trials(view.document.id);
        self.of = Some(Of {
            document: view.document.id,
            trials: trials.revision(),
            variant: view.variant.clone(),
            lessons: lessons.clone(),
        });
        let told = known(trials.book(), lessons, view.variant);
        let viscosity = told.iter().find(|k| k.quantity == Quantity::Viscosity);
        self.viscosity = viscosity.and_then(headline);
        let ph = told.iter().find(|k| k.quantity == Quantity::Ph);
        self.ph = ph.and_then(PhRead::of);
        self.lines = told.iter().flat_map(|k| lines(view, k)).collect();
    }

    /// The viscosity as a headline: the figure, and where it is from. None if none was read.
    pub const fn viscosity(&self) -> Option<&(String, &'static str)> {
        self.viscosity.as_ref()
    }

    /// The pH that was read, if any.
    pub const fn ph(&self) -> Option<&PhRead> {
        self.ph.as_ref()
    }

    /// Draws it. With a name, readings of this composition can be let go with the finished
    /// formula and the recipe.
    pub fn ui(&self, ui: &mut Ui, by: Option<&str>, commands: &mut Vec<Command>) {
        if self.lines.is_empty() {
            ui.label("Nothing was read yet.");
        }
        for line in &self.lines {
            match line {
                Line::Measured(reading, words, told) => {
                    ui.label(words);
                    let Some(by) = by else { continue };
                    let mut tell = *told;
                    let name =
                        format!("Reading {reading} goes with the finished formula and the recipe");
                    ui.push_id(("tell", reading), |ui| {
                        ui.indent("tell", |ui| {
                            let words = "Goes with the finished formula and the recipe";
                            if ui
                                .checkbox(&mut tell, theme::small(ui, words))
                                .accessible_name(name)
                                .changed()
                            {
                                let event = TrialEvent::Tell {
                                    reading: *reading,
                                    tell,
                                };
                                commands.push(Command::Note(vec![event], by.trim().to_owned()));
                            }
                        });
                    });
                }
                Line::Learnt(words) => {
                    ui.label(words);
                }
                Line::Earlier(words) | Line::Aside(words) => {
                    ui.add(eframe::egui::Label::new(theme::small(ui, words)).wrap());
                }
                Line::Mind(words) => {
                    ui.horizontal_wrapped(|ui| {
                        level_mark(ui, Level::Caution);
                        ui.colored_label(theme::palette(ui).level(Level::Caution), words);
                    });
                }
            }
        }
    }
}

/// The figure shown in the strip, by the order of truth: measured, learnt, of an earlier state.
fn headline(known: &Known<'_>) -> Option<(String, &'static str)> {
    let quantity = known.quantity;
    if let Some(kept) = known.measured.last() {
        return Some((value_words(&kept.reading), "measured on a trial"));
    }
    let sound = |t: &&Taught<'_>| t.expected.inside && t.strange.is_empty();
    if let Some(taught) = known.taught.first().filter(sound) {
        let measure = quantity.measure();
        let [low, high] = taught.expected.range.map(|v| measure.digits_of(v));
        return Some((format!("{low} – {high}"), "mPa·s, learnt"));
    }
    let earlier = known.earlier?;
    let basis = if earlier.of_formula {
        "of an earlier state"
    } else {
        "of another mixture"
    };
    Some((value_words(&earlier.kept.reading), basis))
}

fn lines(view: &View<'_>, known: &Known<'_>) -> Vec<Line> {
    let label = known.quantity.label();
    let mut out = Vec::new();
    for kept in &known.measured {
        let words = format!(
            "{label}: measured {} ({})",
            value_words(&kept.reading),
            kept.source()
        );
        out.push(Line::Measured(kept.number, words, kept.told));
    }
    out.extend(
        known
            .earlier
            .map(|earlier| Line::Earlier(format!("{label}: {}", earlier.words()))),
    );
    for taught in &known.taught {
        let words = format!("{label}: {}", taught.learnt.words(&taught.expected));
        out.push(if taught.expected.inside {
            Line::Learnt(words)
        } else {
            Line::Mind(words)
        });
        if !taught.strange.is_empty() {
            let shelf = view.state.shelf();
            let name = |id| {
                let known = view.formula.material(id).or_else(|| shelf.get(id));
                known.map_or_else(|| id.to_string(), |m| m.name.to_string())
            };
            let names: Vec<String> = taught.strange.iter().map(name).collect();
            out.push(Line::Mind(format!(
                "No trial of it had as much or as little of {}, so it may not hold",
                names.join("; ")
            )));
        }
        out.push(Line::Aside(taught.learnt.error_words()));
    }
    out
}
