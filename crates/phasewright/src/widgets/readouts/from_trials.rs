//! The pH as trials narrow it: which readings it comes from, and what they contradict.

use std::sync::Arc;

use eframe::egui::Ui;
use formulation::edit::Edit;
use formulation::finding::Level;
use formulation::formula::Formula;
use formulation::own_shelf::ShelfEdit;
use formulation::quantity::PhRange;
use formulation::stock::LotId;
use formulation::trial::brought_in::{BroughtIn, Gain};

use crate::command::Command;
use crate::state::{DocumentId, View};
use crate::theme;
use crate::widgets::level_mark::level_mark;
use crate::widgets::of_trials::PhRead;

/// What is kept between frames: the gain of one state of the formula.
#[derive(Default)]
pub(super) struct Shown {
    of: Option<(DocumentId, u64, u64, usize)>,
    gain: Option<Gain>,
}

fn range_words(range: PhRange) -> String {
    format!("{} to {}", range.low, range.high)
}

/// Draws the pH that was read on a trial; one of exactly this composition can be taken over as
/// the pH measured.
pub(super) fn read(ui: &mut Ui, view: &View<'_>, read: &PhRead, commands: &mut Vec<Command>) {
    ui.horizontal_wrapped(|ui| {
        if !read.is_of_this {
            ui.label(format!("On trials, pH {}", read.words));
            return;
        }
        ui.label(format!(
            "Measured on exactly this composition: pH {} ({})",
            read.ph, read.words
        ));
        if view.variant.measured.ph != Some(read.ph)
            && theme::main_button(ui, format!("Take pH {} over", read.ph)).clicked()
        {
            let mut measured = view.variant.measured.clone();
            measured.ph = Some(read.ph);
            commands.push(Command::Edit(Edit::SetMeasured(measured)));
        }
    });
}

/// Draws what trials tell of the pH; nothing where they tell nothing.
pub(super) fn ui(ui: &mut Ui, view: &View<'_>, shown: &mut Shown, commands: &mut Vec<Command>) {
    let learnt: &Arc<BroughtIn> = view.state.brought_in();
    let trials = view.state.trials(view.document.id);
    let place = Arc::as_ptr(learnt) as usize;
    let of = (
        view.document.id,
        view.document.revision(),
        trials.revision(),
        place,
    );
    if shown.of != Some(of) {
        shown.gain = learnt.gain(view.formula);
        shown.of = Some(of);
    }
    if learnt.learnt.is_empty() && learnt.contradictions.is_empty() {
        return;
    }
    ui.add_space(theme::GAP);
    ui.label(theme::strong("From trials"));
    match &shown.gain {
        None => {}
        Some(gain) => {
            let before = gain.before.map_or_else(
                || "where nothing was known".to_owned(),
                |range| format!("narrowed from {}", range_words(range)),
            );
            ui.label(format!("pH {}, {before}", range_words(gain.after)));
            for words in gain.from() {
                ui.label(theme::small(ui, words));
            }
            for (one, _) in &gain.materials {
                let words = format!(
                    "{}: unlisted base {:.3} to {:.3} mmol/g instead of {:.3} to {:.3}",
                    one.name, one.after[0], one.after[1], one.before[0], one.before[1]
                );
                ui.label(theme::small(ui, words));
            }
            let keep = ui.button("Keep at these materials").on_hover_text(
                "Puts the narrower range into the materials of this formula and of your shelf, with the readings as its source",
            );
            if keep.clicked() {
                let mut formula: Formula = (**view.formula).clone();
                let mut edits = Vec::new();
                for (_, material) in &gain.materials {
                    formula
                        .materials
                        .insert(material.id.clone(), material.clone());
                    edits.push(ShelfEdit::Put(material.clone()));
                }
                commands.push(Command::Change {
                    what: "Keep what trials tell of the pH".into(),
                    formula: Arc::new(formula),
                });
                commands.push(Command::EditShelf(edits));
            }
        }
    }
    let own = view.state.makers_shelf().own();
    let of_lots = learnt.learnt.iter().filter(|one| {
        let there = view.formula.materials.contains_key(&one.key.0);
        there && one.key.1.is_some()
    });
    for one in of_lots {
        let known = one.key.1.as_deref().and_then(LotId::new);
        let known = known.and_then(|lot| own.lots.get(&lot));
        let Some(values) = one.at_lot(known) else {
            continue;
        };
        if known.is_some_and(|known| known.base_mmol_per_gram == values.base_mmol_per_gram) {
            continue;
        }
        let keep = ui
            .button(format!("Keep at lot {} of {}", values.lot, one.name))
            .on_hover_text(
                "Puts the narrower range beside the certificate of this lot on your shelf; when the lot is weighed, it counts",
            );
        if keep.clicked() {
            commands.push(Command::EditShelf(vec![ShelfEdit::PutLot(values)]));
        }
    }
    for (reading, against) in &learnt.contradictions {
        let against = if against.is_empty() {
            "what is stated of the materials".to_owned()
        } else {
            against.join("; ")
        };
        ui.horizontal_wrapped(|ui| {
            level_mark(ui, Level::Caution);
            ui.label(format!(
                "{reading} contradicts {against}; it narrows nothing. Look at the reading and at the materials"
            ));
        });
    }
}
