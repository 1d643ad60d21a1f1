//! The sheet Make: scale to containers, weigh sheet, batch record, stock, cost.

mod books;
mod calendar;
mod cost;
mod run;
mod specification;
mod stock;
mod weigh;
mod workshop;

use eframe::egui::{self, Response, ScrollArea, Ui};
use formulation::amount::typed;
use formulation::finding::Level;
use formulation::formula::Date;
use formulation::material::MaterialId;

use crate::command::{BooksCommand, Command};
use crate::state::View;
use crate::theme;
use crate::widgets::choice::choice_row;
use crate::widgets::day_picker::day_picker;
use crate::widgets::entry::line;
use crate::widgets::focus::region;

/// What is shown of the sheet.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
enum Page {
    #[default]
    Weigh,
    Run,
    Books,
    Stock,
    Cost,
    Specification,
    Calendar,
    Workshop,
}

impl MakeSheet {
    /// Shows the batch at the bench.
    pub fn show_batch(&mut self) {
        self.page = Page::Run;
    }

    /// Shows the calendar of the workshop.
    pub fn show_calendar(&mut self) {
        self.begun = true;
        self.page = Page::Calendar;
    }
}

impl Page {
    const ALL: [Self; 8] = [
        Self::Weigh,
        Self::Run,
        Self::Books,
        Self::Stock,
        Self::Cost,
        Self::Specification,
        Self::Calendar,
        Self::Workshop,
    ];
    const fn label(self) -> &'static str {
        match self {
            Self::Weigh => "Weigh sheet",
            Self::Run => "Batch record",
            Self::Books => "All batches",
            Self::Stock => "Stock",
            Self::Cost => "Cost",
            Self::Specification => "Specification",
            Self::Calendar => "Calendar",
            Self::Workshop => "Workshop",
        }
    }
}

/// What the sheet keeps between frames.
#[derive(Default)]
pub struct MakeSheet {
    page: Page,
    by: String,
    weigh: weigh::WeighPage,
    run: run::RunPage,
    books: books::BooksPage,
    stock: stock::StockPage,
    cost: cost::CostPage,
    workshop: workshop::WorkshopPage,
    calendar: calendar::CalendarPage,
    begun: bool,
}

/// Draws the sheet.
pub fn ui(ui: &mut Ui, view: &View<'_>, sheet: &mut MakeSheet, commands: &mut Vec<Command>) {
    if !std::mem::replace(&mut sheet.begun, true) {
        // The one who worked last is likely to go on, and what was begun is offered first.
        let books = &view.state.books;
        if let Some(last) = books.workshop().people.first() {
            sheet.by = last.to_string();
        }
        if books.unfinished().next().is_some() {
            sheet.page = Page::Run;
        }
    }
    region(ui, "Pages of Make", |ui| pages(ui, view, sheet, commands));
    ui.add_space(theme::TIGHT);
    sheet.weigh.refresh(view, &sheet.by);
    let MakeSheet {
        page,
        by,
        weigh,
        run,
        books,
        stock,
        cost,
        workshop,
        calendar,
        begun: _,
    } = sheet;
    match page {
        Page::Weigh => {
            if weigh::ui(ui, view, weigh, by, commands) {
                *page = Page::Run;
            }
        }
        Page::Run => {
            if let Some(other) = run::ui(ui, view, run, by, commands) {
                *page = other;
            }
        }
        Page::Books => {
            let opened = alone(ui, *page, |ui| books::ui(ui, view, books, commands));
            if opened {
                *page = Page::Run;
            }
        }
        Page::Stock => stock::ui(ui, view, stock, weigh.sheet(), commands),
        Page::Cost => {
            let to_offers = alone(ui, *page, |ui| {
                cost::ui(ui, view, cost, weigh.sheet(), commands)
            });
            if to_offers {
                stock.show_offers();
                *page = Page::Stock;
            }
        }
        Page::Specification => alone(ui, *page, |ui| {
            specification::ui(ui, view, commands);
        }),
        Page::Calendar => alone(ui, *page, |ui| {
            calendar::ui(ui, view, calendar, by, commands);
        }),
        Page::Workshop => alone(ui, *page, |ui| {
            workshop::ui(ui, view, workshop, commands);
        }),
    }
}

/// What is to be seen of the sheet, and who works.
fn pages(ui: &mut Ui, view: &View<'_>, sheet: &mut MakeSheet, commands: &mut Vec<Command>) {
    ui.horizontal_wrapped(|ui| {
        let all = &Page::ALL;
        let gone = choice_row(ui, "pages", &mut sheet.page, all, Page::label, |_| "");
        if gone && sheet.page == Page::Calendar {
            commands.push(Command::LookElsewhere);
        }
        ui.separator();
        let label = ui.label(theme::small(ui, "Done by"));
        let who = line(ui, &mut sheet.by, 120.0)
            .labelled_by(label.id)
            .on_hover_text("Your name, as it stands in the batch record");
        if ui
            .data_mut(|d| d.remove_temp::<bool>(who_is_asked()))
            .is_some()
        {
            who.request_focus();
        }
        let people = &view.state.books.workshop().people;
        if people.len() > 1 {
            egui::ComboBox::from_id_salt("people")
                .selected_text("Names")
                .width(70.0)
                .show_ui(ui, |ui| {
                    for one in people {
                        if ui.selectable_label(false, one.as_ref()).clicked() {
                            sheet.by = one.to_string();
                        }
                    }
                })
                .response
                .accessible_name("Names of those who work here");
        }
    });
}

/// Puts the cursor where the name of who works is typed, for it is missing.
pub(super) fn ask_who_works(ui: &Ui) {
    ui.data_mut(|d| d.insert_temp(who_is_asked(), true));
    ui.request_repaint();
}

fn who_is_asked() -> egui::Id {
    egui::Id::unique("who works is asked for")
}

/// A page that is one region and scrolls as a whole.
fn alone<R>(ui: &mut Ui, page: Page, content: impl FnOnce(&mut Ui) -> R) -> R {
    region(ui, page.label(), |ui| scrolled(ui, page.label(), content))
}

fn scrolled<R>(ui: &mut Ui, id: &str, content: impl FnOnce(&mut Ui) -> R) -> R {
    ScrollArea::both()
        .id_salt(id)
        .auto_shrink([false, false])
        .show(ui, content)
        .inner
}

/// Height of a label and the field below it.
const FIELD_HEIGHT: f32 = 44.0;

/// A label with something below it, as wide as the wider of both.
pub(super) fn labelled<R>(
    ui: &mut Ui,
    label: &str,
    width: f32,
    content: impl FnOnce(&mut Ui, Response) -> R,
) -> R {
    let text = egui::WidgetText::from(theme::small(ui, label));
    let galley = text.into_galley(
        ui,
        Some(egui::TextWrapMode::Extend),
        f32::INFINITY,
        egui::TextStyle::Small,
    );
    // A label wider than its field keeps off the next one.
    let least = galley.size().x + theme::TIGHT;
    let size = egui::vec2(least.max(width + theme::TIGHT), FIELD_HEIGHT);
    ui.allocate_ui_with_layout(size, egui::Layout::top_down(egui::Align::Min), |ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        ui.set_min_width(least);
        let name = ui.label(galley);
        content(ui, name)
    })
    .inner
}

/// Most pieces, packs, containers or batches that are counted.
const MOST_COUNTED: u32 = 10_000_000;

/// A text field under its label.
pub(super) fn field(ui: &mut Ui, label: &str, value: &mut String, width: f32) -> Response {
    labelled(ui, label, width, |ui, name| {
        line(ui, value, width).labelled_by(name.id)
    })
}

/// A field for a day, with a calendar to choose it from.
pub(super) fn day_field(ui: &mut Ui, label: &str, value: &mut String, today: Date) -> Response {
    labelled(ui, label, 132.0, |ui, name| {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = theme::TIGHT;
            let typed = line(ui, value, 92.0).labelled_by(name.id);
            let from = typed::day(value).unwrap_or(today);
            if let Some(day) = day_picker(ui, label, from, today) {
                *value = day.to_string();
            }
            typed
        })
        .inner
    })
}

/// Something on the line of the fields beside it, below where their labels are.
fn on_field_line<R>(
    ui: &mut Ui,
    words: &str,
    padding: egui::Vec2,
    content: impl FnOnce(&mut Ui) -> R,
) -> R {
    let text = egui::WidgetText::from(words);
    let style = egui::TextStyle::Button;
    let galley = text.into_galley(ui, Some(egui::TextWrapMode::Extend), f32::INFINITY, style);
    let size = egui::vec2(galley.size().x + 2.0 * padding.x, FIELD_HEIGHT);
    ui.allocate_ui_with_layout(size, egui::Layout::bottom_up(egui::Align::Min), |ui| {
        ui.add_space(padding.y);
        content(ui)
    })
    .inner
}

/// Whether Enter was pressed in one of the fields of a row, which then does what its button does.
pub(super) fn entered(ui: &Ui, fields: &[Response]) -> bool {
    let entered = ui.input(|input| input.key_pressed(egui::Key::Enter))
        && fields.iter().any(Response::lost_focus);
    if entered && let Some(first) = fields.first() {
        // Another of its kind may be typed next.
        first.request_focus();
    }
    entered
}

/// A button on the line of the fields beside it.
pub(super) fn action(ui: &mut Ui, words: &str) -> Response {
    // A field is a little less high than its place.
    let padding = egui::vec2(ui.spacing().button_padding.x, 2.0);
    on_field_line(ui, words, padding, |ui| ui.button(words))
}

/// What is asked for below the fields of something that is added or changed.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Filled {
    /// It is to be kept as typed.
    Taken,
    /// It is to stay as it is.
    Left,
}

/// The buttons beside the fields of something that is added, or changed in its place.
pub(super) fn filled(ui: &mut Ui, what: &str, is_changed: bool) -> Option<Filled> {
    let does = if is_changed { "Keep" } else { "Add" };
    let taken = action(ui, &format!("{does} the {what}")).clicked();
    let left = is_changed && action(ui, &format!("Leave the {what} as it is")).clicked();
    match (taken, left) {
        (true, _) => Some(Filled::Taken),
        (_, true) => Some(Filled::Left),
        _ => None,
    }
}

/// Small buttons that change or remove what stands beside them; what was asked for, true to
/// change it.
pub(super) fn change_or_remove(ui: &mut Ui, what: &str, may_go: bool) -> Option<bool> {
    let change = ui.small_button("Change…");
    let change = change.accessible_name(format!("Change {what}…")).clicked();
    let remove = may_go
        && ui
            .small_button("Remove")
            .accessible_name(format!("Remove {what}"))
            .clicked();
    match (change, remove) {
        (true, _) => Some(true),
        (_, true) => Some(false),
        _ => None,
    }
}

/// Words on the line of the fields beside them.
pub(super) fn aside(ui: &mut Ui, words: &str) {
    on_field_line(ui, words, egui::vec2(0.0, 6.0), |ui| ui.label(words));
}

/// A choice under its label.
pub(super) fn choice<T: PartialEq + Copy>(
    ui: &mut Ui,
    label: &str,
    value: &mut T,
    all: &[T],
    words: impl Fn(T) -> String,
    width: f32,
) {
    labelled(ui, label, width, |ui, _| {
        crate::widgets::choice::choice(ui, label, value, all.iter().copied(), words, width);
    });
}

/// A sentence about something that is not as it should be.
pub(super) fn caution(ui: &mut Ui, level: Level, text: impl Into<String>) {
    let colour = theme::palette(ui).level(level);
    ui.horizontal_top(|ui| {
        // Level with the first line of the words.
        ui.vertical(|ui| {
            ui.add_space(2.0);
            crate::widgets::level_mark::level_mark(ui, level);
        });
        let words = egui::RichText::new(text).color(colour);
        ui.add(egui::Label::new(words).wrap());
    });
}

/// Name of a material of the formula or the shelf; its id if it is on neither any more.
pub(super) fn name_of(view: &View<'_>, id: &MaterialId) -> String {
    view.name_of(id)
}

/// Pushes a command about the workshop.
fn push(commands: &mut Vec<Command>, command: BooksCommand) {
    commands.push(Command::Books(command));
}
