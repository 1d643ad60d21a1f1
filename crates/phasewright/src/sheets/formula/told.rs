//! What stands under each line: found once for each evaluation, and held still while one
//! drags, so that no row jumps away from the pointer.

use std::collections::BTreeMap;
use std::sync::Arc;

use eframe::egui::{Rect, Ui, UiBuilder, vec2};
use formulation::evaluation::Evaluation;
use formulation::finding::Finding;
use formulation::formula::ItemId;

use crate::command::Command;
use crate::state::View;
use crate::widgets::findings_list::banner;

/// Height of the room for a sentence of one row, in points.
const ONE_ROW: f32 = 26.0;

/// The findings of each line, by their place in the evaluation.
#[derive(Default)]
pub struct Told {
    of: Option<Arc<Evaluation>>,
    worst: BTreeMap<ItemId, usize>,
    under: BTreeMap<ItemId, usize>,
    /// Height of the room for a sentence below lines that have one, in points; as it was before
    /// the drag.
    room: BTreeMap<ItemId, f32>,
    /// Height of the banner before the drag, in points.
    banner: f32,
}

impl Told {
    /// Takes over a new evaluation.
    pub fn follow(&mut self, view: &View<'_>) {
        let known = self.of.as_ref();
        if !known.is_some_and(|known| Arc::ptr_eq(known, view.evaluation)) {
            self.of = Some(view.evaluation.clone());
            self.worst.clear();
            self.under.clear();
            // Gravest first: the first one of a line stays.
            for (place, finding) in view.evaluation.findings.iter().enumerate() {
                if !finding.set_aside && !finding.concerns_whole() {
                    for line in &finding.lines {
                        self.worst.entry(*line).or_insert(place);
                    }
                }
                if let Some(line) = finding.told_at().filter(|_| finding.counts()) {
                    self.under.entry(line).or_insert(place);
                }
            }
        }
        if !view.document.has_draft() {
            let known = std::mem::take(&mut self.room);
            let height = |line: &ItemId| known.get(line).copied().unwrap_or(ONE_ROW);
            self.room = self.under.keys().map(|l| (*l, height(l))).collect();
        }
    }

    /// The gravest finding about a line.
    pub fn worst<'v>(&self, view: &View<'v>, line: ItemId) -> Option<&'v Finding> {
        view.evaluation.findings.get(*self.worst.get(&line)?)
    }

    /// The gravest finding whose words stand under a line. One about several lines is told
    /// where it is mended and marked at the others.
    pub fn under<'v>(&self, view: &View<'v>, line: ItemId) -> Option<&'v Finding> {
        view.evaluation.findings.get(*self.under.get(&line)?)
    }

    /// Height of the room for a sentence below a line, in points; none if it has no sentence.
    pub fn room(&self, line: ItemId) -> Option<f32> {
        self.room.get(&line).copied()
    }

    /// Gives the sentence below a line the room it takes; while one drags, rows hold still.
    pub fn make_room(&mut self, ui: &Ui, view: &View<'_>, line: ItemId, height: f32) {
        let height = height.max(ONE_ROW);
        let Some(room) = self
            .room
            .get_mut(&line)
            .filter(|_| !view.document.has_draft())
        else {
            return;
        };
        if (*room - height).abs() > 0.5 {
            *room = height;
            ui.request_discard("a sentence takes more room");
        }
    }

    /// Draws what concerns the whole formula, always as high as before the drag.
    pub fn banner(&mut self, ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
        if !view.document.has_draft() {
            let top = ui.cursor().top();
            banner(ui, view, commands);
            // Without the space that follows every widget.
            let space = ui.spacing().item_spacing.y;
            self.banner = (ui.cursor().top() - top - space).max(0.0);
            return;
        }
        if self.banner <= 0.0 {
            return;
        }
        let size = vec2(ui.available_width(), self.banner);
        let at = Rect::from_min_size(ui.cursor().min, size);
        let mut inside = ui.new_child(UiBuilder::new().max_rect(at));
        inside.shrink_clip_rect(at);
        banner(&mut inside, view, commands);
        ui.advance_cursor_after_rect(at);
    }
}
