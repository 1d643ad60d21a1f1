//! The lot chosen in a table of the stock, and its fields in the panel beside the table.

use std::mem::take;

use eframe::egui::{
    self, Align, Id, Layout, Rangef, Rect, Response, ScrollArea, Sense, Ui, UiBuilder, WidgetInfo,
    vec2,
};
use egui_extras::{Column, TableBuilder};
use formulation::finding::Level;
use formulation::stock::{LotId, Stock};

use crate::sheets::make::{caution, entered};
use crate::theme;
use crate::widgets::focus::region;
use crate::widgets::side_panel::{At, SidePanel};

/// Height of a row, in points.
pub const ROW: f32 = 28.0;
/// Height of the buttons below the fields, in points.
const FOOT: f32 = 50.0;
/// Height of the place where a problem is said, so that nothing moves when one is.
const SAID: f32 = 40.0;

/// Why what is typed is not taken, and the name of the field it is about, if it is about one.
pub struct Wrong {
    pub field: Option<&'static str>,
    pub why: String,
}

impl From<String> for Wrong {
    fn from(why: String) -> Self {
        Self { field: None, why }
    }
}

impl From<&str> for Wrong {
    fn from(why: &str) -> Self {
        why.to_owned().into()
    }
}

/// Says that it is about a field.
pub fn at<E: ToString>(field: &'static str) -> impl Fn(E) -> Wrong {
    move |why| Wrong {
        field: Some(field),
        why: why.to_string(),
    }
}

/// The lot chosen, and its fields as they are typed.
#[derive(Default)]
pub struct Beside<F> {
    chosen: Option<LotId>,
    /// The fields.
    pub form: F,
    /// The fields as they were put in; what differs is not saved.
    kept: F,
    /// Why what was asked for last was not done.
    pub problem: Option<String>,
    /// Enter was pressed in one of the fields, which does what the button below does.
    entered: bool,
    /// The field that gets the cursor: one that was refused, or that is typed next.
    next: Option<&'static str>,
    panel: SidePanel,
}

/// The fields of a lot.
pub trait Fields: Clone + PartialEq + Default {
    /// Everything that is typed, by the name of its field, in the order in which they are drawn.
    fn texts(&mut self) -> Vec<(&'static str, &mut String)>;
    /// Takes over what another window chose where nothing else was chosen here; names what both
    /// chose differently.
    fn join_choices(&mut self, _base: &Self, _theirs: &Self, _both: &mut Vec<&'static str>) {}
    /// They are those of a lot that is not in the stock.
    fn make_new(&mut self) {}
}

/// What is typed here joined with what another window saved since it was put in: what was not
/// touched here is as it is there, and the names of the fields that both changed come with it.
fn joined<F: Fields>(base: &F, ours: &F, theirs: &F) -> (F, Vec<&'static str>) {
    let (mut base, mut theirs, mut joined) = (base.clone(), theirs.clone(), ours.clone());
    let mut both = Vec::new();
    let others = base.texts().into_iter().zip(theirs.texts());
    for ((name, here), ((_, was), (_, there))) in joined.texts().into_iter().zip(others) {
        if here == was {
            here.clone_from(there);
        } else if there != was && there != here {
            both.push(name);
        }
    }
    joined.join_choices(&base, &theirs, &mut both);
    (joined, both)
}

/// One choice of a lot, joined as [`joined`] does it.
pub fn join_choice<T: PartialEq + Clone>(here: &mut T, was: &T, there: &T) -> bool {
    if here == was {
        here.clone_from(there);
    }
    there != was && here != there
}

impl<F: Fields> Beside<F> {
    /// The lot chosen; none while a new one is typed.
    pub const fn chosen(&self) -> Option<&LotId> {
        self.chosen.as_ref()
    }

    /// Whether the fields hold something that is not in the stock.
    pub fn unsaved(&self) -> bool {
        self.form != self.kept
    }

    /// Looks whether Enter was pressed in one of the fields just drawn.
    pub fn listen(&mut self, ui: &Ui, fields: &[Response]) {
        self.entered = entered(ui, fields) && self.unsaved();
        let Some(next) = self.next.take() else {
            return;
        };
        let place = self.form.texts().iter().position(|(name, _)| *name == next);
        if let Some(field) = place.and_then(|place| fields.get(place)) {
            field.request_focus();
            field.scroll_to_me(None);
        }
    }

    /// The field of a name gets the cursor.
    pub const fn type_next(&mut self, field: &'static str) {
        self.next = Some(field);
    }

    /// Puts something into the fields.
    pub fn fill(&mut self, form: F) {
        self.kept = form.clone();
        self.form = form;
        self.problem = None;
    }

    /// Follows what became of the lot chosen elsewhere: undone, or changed by another window.
    /// What is being typed is never lost, and never undoes what was saved there unsaid.
    pub fn follow(&mut self, fields_of: impl FnOnce(&LotId) -> Option<F>) {
        let Some(id) = &self.chosen else { return };
        match fields_of(id) {
            None if self.unsaved() => {
                self.problem = Some(format!(
                    "{id} was taken out of the stock meanwhile; what you typed is kept here as a new lot"
                ));
                self.chosen = None;
                self.kept = F::default();
                self.form.make_new();
            }
            None => {
                self.chosen = None;
                self.fill(F::default());
            }
            Some(now) if now == self.kept => {}
            Some(now) if !self.unsaved() => self.fill(now),
            Some(now) => {
                let (form, both) = joined(&self.kept, &self.form, &now);
                self.problem = Some(if both.is_empty() {
                    "Another window changed this lot meanwhile; what it changed stands here too"
                        .to_owned()
                } else {
                    format!(
                        "Another window changed this lot too: {}. Saving puts what you typed in its place",
                        both.join(", ")
                    )
                });
                self.form = form;
                self.kept = now;
            }
        }
    }

    /// Puts a lot, or none, into the fields; not over something unsaved. Whether it did.
    pub fn choose(&mut self, lot: Option<(&LotId, F)>) -> bool {
        if self.chosen.as_ref() == lot.as_ref().map(|(id, _)| *id) {
            return false;
        }
        if self.unsaved() {
            self.problem = Some("Save what you typed first, or leave it as it was".to_owned());
            return false;
        }
        let (chosen, form) =
            lot.map_or_else(Default::default, |(id, form)| (Some(id.clone()), form));
        self.chosen = chosen;
        self.fill(form);
        true
    }

    /// The button that adds what is typed, and one that empties the fields. Whether to add.
    pub fn add_button(&mut self, ui: &mut Ui, words: &str) -> bool {
        ui.horizontal(|ui| {
            let wanted = theme::main_button(ui, words).clicked() || take(&mut self.entered);
            if self.unsaved() && ui.button("Empty the fields").clicked() {
                self.fill(F::default());
            }
            wanted
        })
        .inner
    }

    /// The buttons for a lot of which fields were changed: `keep` puts them into the stock and
    /// hands them back as they are kept. Whether it did.
    pub fn keep_buttons(
        &mut self,
        ui: &mut Ui,
        lot: &LotId,
        keep: impl FnOnce(&F) -> Result<F, Wrong>,
    ) -> Result<bool, Wrong> {
        let entered = take(&mut self.entered);
        let (save, leave) = ui
            .horizontal_wrapped(|ui| {
                let save = theme::main_button(ui, format!("Save {lot}")).clicked();
                (save || entered, ui.button("Leave it as it was").clicked())
            })
            .inner;
        if leave {
            self.fill(self.kept.clone());
        }
        if save {
            let kept = keep(&self.form)?;
            self.fill(kept);
        }
        Ok(save)
    }
}

/// The button that takes a lot out which nothing was taken from.
pub fn remove_button(ui: &mut Ui, lot: &LotId) -> bool {
    ui.button("Remove lot")
        .on_hover_text(format!("Remove {lot}, entered by mistake"))
        .clicked()
}

/// Whether what is looked for stands in one of the texts; whatever is, if nothing is looked for.
pub fn is_sought(sought: &str, texts: [&str; 4]) -> bool {
    let sought = sought.trim().to_lowercase();
    texts
        .iter()
        .any(|text| text.to_lowercase().contains(&sought))
}

/// A page with a panel of fields.
pub trait HasBeside<F> {
    /// Its lot chosen and fields.
    fn beside(&mut self) -> &mut Beside<F>;
}

/// Takes the place of the panel, so that what stands to its left can be drawn before it, as one
/// reads.
pub fn place<F, P: HasBeside<F>>(ui: &mut Ui, name: &'static str, page: &mut P) -> Rect {
    let range = Rangef::new(330.0, (ui.available_width() - 420.0).max(340.0));
    let panel = &mut page.beside().panel;
    panel.show(ui, (At::Right, name), 400.0, range, |ui| ui.max_rect())
}

/// Fills the panel: the fields by `about`, right below them, always in sight, what went wrong and by
/// `foot` what is done with them. Whether the stock was changed.
pub fn panel<F, P>(
    ui: &mut Ui,
    place: Rect,
    page: &mut P,
    stock: &mut Stock,
    about: impl FnOnce(&mut Ui, &mut P, &mut Stock) -> bool,
    foot: impl FnOnce(&mut Ui, &mut P, &mut Stock) -> Result<bool, Wrong>,
) -> bool
where
    P: HasBeside<F>,
{
    let fill = |ui: &mut Ui| {
        let height = (ui.available_height() - FOOT - SAID).max(ROW);
        let changed = ScrollArea::vertical()
            .id_salt("one lot")
            .max_height(height)
            .auto_shrink([false, true])
            .show(ui, |ui| about(ui, page, stock))
            .inner;
        ui.add_space(theme::TIGHT);
        let said = vec2(ui.available_width(), SAID);
        ui.allocate_ui(said, |ui| {
            ui.set_min_size(said);
            if let Some(problem) = &page.beside().problem {
                caution(ui, Level::Breach, problem.clone());
            }
        });
        foot(ui, page, stock).map(|done| done || changed)
    };
    let done = ui
        .scope_builder(UiBuilder::new().max_rect(place), |ui| {
            region(ui, "One lot", fill)
        })
        .inner;
    done.unwrap_or_else(|wrong| {
        let beside = page.beside();
        (beside.problem, beside.next) = (Some(wrong.why), wrong.field);
        ui.request_repaint();
        false
    })
}

/// Room in a table of the stock for the columns that have no width of their own.
pub fn room(ui: &Ui, fixed: &[f32], columns: f32) -> f32 {
    let spacing = ui.spacing().item_spacing.x;
    let bar = ui.spacing().scroll.bar_width + ui.spacing().scroll.bar_inner_margin + theme::TIGHT;
    ui.available_width() - bar - fixed.iter().sum::<f32>() - (columns - 1.0) * spacing
}

/// A table of the stock whose rows are chosen by a click.
pub fn table<'a>(ui: &'a mut Ui, name: &'static str, widths: &[f32]) -> TableBuilder<'a> {
    let builder = TableBuilder::new(ui)
        .id_salt(name)
        .striped(true)
        .sense(Sense::CLICK)
        .auto_shrink(false)
        .cell_layout(Layout::left_to_right(Align::Center));
    widths.iter().fold(builder, |builder, width| {
        builder.column(Column::exact(*width).clip(true))
    })
}

/// The heading of a column, on the side of its figures.
pub fn heading(ui: &mut Ui, title: &str, of_figures: bool) {
    if of_figures {
        figures(ui, |ui| {
            ui.label(theme::small(ui, title));
        });
    } else {
        ui.label(theme::small(ui, title));
    }
}

/// A cell of figures, on the right.
pub fn figures(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    ui.with_layout(Layout::right_to_left(Align::Center), add);
}

/// The cell with a lot's code, the one stop of its row for the Tab key. Whether it was chosen.
pub fn code(ui: &mut Ui, lot: &LotId, what: &str, is_chosen: bool) -> bool {
    let id = Id::unique(("row of the stock", lot.as_str()));
    let stop = ui.interact(ui.max_rect(), id, Sense::click());
    stop.widget_info(|| {
        let name = format!("{lot}: {what}");
        WidgetInfo::selected(egui::Role::Row, true, is_chosen, name)
    });
    ui.add(egui::Label::new(theme::strong(lot.to_string())).truncate());
    stop.clicked()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(Clone, PartialEq, Default, Debug)]
    struct Two {
        supplier: String,
        price: String,
    }

    impl Fields for Two {
        fn texts(&mut self) -> Vec<(&'static str, &mut String)> {
            vec![("Supplier", &mut self.supplier), ("Price", &mut self.price)]
        }
    }

    fn two(supplier: &str, price: &str) -> Two {
        Two {
            supplier: supplier.to_owned(),
            price: price.to_owned(),
        }
    }

    /// Another window saves a lot while it is typed here: its price stays, and what both changed
    /// is told before it is saved.
    #[test]
    fn what_another_window_saved_is_not_undone_unsaid() {
        let id = LotId::new("A").unwrap();
        let mut beside = Beside::default();
        assert!(beside.choose(Some((&id, two("", "1")))));
        beside.form.supplier = "Fell".to_owned();
        beside.follow(|_| Some(two("", "2")));
        assert_eq!(beside.form, two("Fell", "2"));
        assert!(beside.problem.take().unwrap().contains("stands here too"));
        beside.follow(|_| Some(two("Glen", "2")));
        assert_eq!(beside.form, two("Fell", "2"));
        assert!(beside.problem.take().unwrap().contains("Supplier"));
        // Told once.
        beside.follow(|_| Some(two("Glen", "2")));
        assert_eq!(beside.problem, None);
        // Taken out there: what is typed is kept as a new lot.
        beside.follow(|_| None);
        assert_eq!((beside.chosen(), beside.unsaved()), (None, true));
        assert_eq!(beside.form, two("Fell", "2"));
    }
}
