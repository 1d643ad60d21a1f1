//! The stock: lots of materials and of packaging, offers, and what to buy.

mod beside;
mod form;
mod lots;
mod offers;
mod packaging;
mod shopping;

use eframe::egui::{ScrollArea, Ui};
use formulation::batch::weigh_sheet::WeighSheet;

use super::push;
use crate::command::{BooksCommand, Command};
use crate::state::{Books, View};
use crate::widgets::at_right::at_right;
use crate::widgets::choice::choice_row;
use crate::widgets::focus::region;
use crate::widgets::icon::{Icon, icon_button};

/// What is shown of the stock.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
enum Part {
    #[default]
    Lots,
    Packaging,
    Offers,
    ToBuy,
}

impl Part {
    const ALL: [Self; 4] = [Self::Lots, Self::Packaging, Self::Offers, Self::ToBuy];

    const fn label(self) -> &'static str {
        match self {
            Self::Lots => "Lots",
            Self::Packaging => "Packaging",
            Self::Offers => "Offers",
            Self::ToBuy => "What to buy",
        }
    }
}

/// What the page keeps between frames.
#[derive(Default)]
pub struct StockPage {
    part: Part,
    lots: lots::LotsPage,
    packaging: packaging::PackagingPage,
    offers: offers::OffersPage,
    shopping: shopping::ShoppingPage,
}

impl StockPage {
    /// Shows the offers of suppliers next.
    pub const fn show_offers(&mut self) {
        self.part = Part::Offers;
    }
}

/// Draws the page.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut StockPage,
    sheet: Option<&WeighSheet>,
    commands: &mut Vec<Command>,
) {
    let books = &view.state.books;
    region(ui, "Parts of the stock", |ui| {
        parts(ui, books, page, commands);
    });
    ui.separator();
    let mut stock = books.stock().clone();
    let changed = match page.part {
        Part::Lots => lots::ui(ui, view, &mut page.lots, &mut stock),
        Part::Packaging => packaging::ui(ui, view, &mut page.packaging, &mut stock),
        Part::Offers => alone(ui, page.part, |ui| {
            offers::ui(ui, view, &mut page.offers, &mut stock)
        }),
        Part::ToBuy => {
            alone(ui, page.part, |ui| {
                shopping::ui(ui, view, &mut page.shopping, sheet, commands);
            });
            return;
        }
    };
    if changed {
        push(
            commands,
            BooksCommand::SetStock(Box::new((stock, books.workshop().clone()))),
        );
    }
}

/// What is to be seen of the stock, and its steps back and forth.
fn parts(ui: &mut Ui, books: &Books, page: &mut StockPage, commands: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        let all = &Part::ALL;
        choice_row(ui, "part", &mut page.part, all, Part::label, |_| "");
        at_right(ui, "steps back and forth", |ui| {
            steps(ui, books, commands);
        });
    });
}

/// Takes the last change of the stock back, or does it again.
pub(super) fn steps(ui: &mut Ui, books: &Books, commands: &mut Vec<Command>) {
    let (back, forth) = books.can_step();
    if icon_button(ui, Icon::Undo, "Undo in the stock", back).clicked() {
        push(commands, BooksCommand::UndoStock);
    }
    if icon_button(ui, Icon::Redo, "Redo in the stock", forth).clicked() {
        push(commands, BooksCommand::RedoStock);
    }
}

/// A part that is one region and scrolls as a whole.
fn alone<R>(ui: &mut Ui, part: Part, content: impl FnOnce(&mut Ui) -> R) -> R {
    region(ui, part.label(), |ui| {
        ScrollArea::both()
            .id_salt(part.label())
            .auto_shrink([false, false])
            .show(ui, content)
            .inner
    })
}
