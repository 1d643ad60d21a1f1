//! The table as it stands in the file, each cell marked by what it was taken for and each row
//! by what becomes of it.

use std::collections::BTreeMap;

use eframe::egui::{self, Color32, ComboBox, Ui, Vec2};
use egui_extras::{Column, TableBuilder};
use formulation::file::table::columns::{ColumnKind, Layout, why};
use formulation::file::table::questions::Standing;
use formulation::file::table::{Table, TableOrigin};
use formulation::finding::Level;

use super::super::capital;
use super::reading::Read;
use crate::theme::{self, Palette};
use crate::widgets::level_mark::level_mark;

/// Height of a row in points.
const ROW: f32 = 24.0;
/// Most columns shown.
const MOST: usize = 40;

/// What cells are told apart by; each has a colour, and its word in the head of its column.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Group {
    Material,
    Amount,
    Phase,
    Price,
    Other,
}

impl Group {
    const ALL: [Self; 5] = [
        Self::Material,
        Self::Amount,
        Self::Phase,
        Self::Price,
        Self::Other,
    ];

    const fn of(kind: ColumnKind) -> Self {
        match kind {
            ColumnKind::Name
            | ColumnKind::Inci
            | ColumnKind::Cas
            | ColumnKind::Trade
            | ColumnKind::Strength => Self::Material,
            ColumnKind::Percent | ColumnKind::Amount | ColumnKind::Unit | ColumnKind::Filler => {
                Self::Amount
            }
            ColumnKind::Phase | ColumnKind::Procedure => Self::Phase,
            ColumnKind::Price
            | ColumnKind::Currency
            | ColumnKind::Pack
            | ColumnKind::Packs
            | ColumnKind::Gross
            | ColumnKind::TotalPrice
            | ColumnKind::Stock
            | ColumnKind::Lot
            | ColumnKind::Expiry
            | ColumnKind::Dated => Self::Price,
            _ => Self::Other,
        }
    }

    const fn label(self) -> &'static str {
        match self {
            Self::Material => "which material",
            Self::Amount => "how much",
            Self::Phase => "phase and procedure",
            Self::Price => "price, pack and stock",
            Self::Other => "kept beside the line",
        }
    }

    fn colour(self, p: &Palette) -> Color32 {
        let place = Self::ALL.iter().position(|g| *g == self).unwrap_or(0);
        p.phase(place)
    }
}

/// What a table was read as.
#[derive(Clone, Copy)]
pub(super) struct Taken<'p> {
    pub(super) read: Option<&'p Read>,
}

impl<'p> Taken<'p> {
    /// What becomes of a row, counted from 1.
    fn standing(self, row: usize) -> Option<Standing<'p>> {
        match self.read? {
            Read::Recipe(proposal) => proposal.standing(row),
            Read::Prices(list) => list.standing(row),
        }
    }

    /// What a column was taken for; of a list also for a price, whatever its kind.
    fn kind(self, layout: &Layout, column: usize) -> Option<ColumnKind> {
        let prices: &[usize] = match self.read {
            Some(Read::Prices(list)) => &list.price_columns,
            _ => &[],
        };
        let price = prices.contains(&column).then_some(ColumnKind::Price);
        layout.kind(column).or(price)
    }

    /// Whether a column goes into what is made of the table.
    fn takes(self, column: usize) -> bool {
        match self.read {
            Some(Read::Recipe(proposal)) => proposal.takes(column),
            Some(Read::Prices(list)) => list.takes(column),
            None => false,
        }
    }

    /// Why a column was taken for a kind.
    fn why(self, column: usize, kind: Option<ColumnKind>) -> Option<String> {
        let evidence = match self.read? {
            Read::Recipe(proposal) => &proposal.evidence,
            Read::Prices(list) => &list.evidence,
        };
        why(evidence, column, kind?)
    }
}

/// The table as it stands in the file, though its cells may have been put elsewhere to be read.
struct Sheet<'t> {
    table: &'t Table,
    origin: Option<&'t TableOrigin>,
    /// The column as it was read, by that of the file, where cells were put elsewhere.
    columns: BTreeMap<usize, usize>,
    /// Materials stand in columns, so that each row of it is a column as it was read.
    is_turned: bool,
}

impl<'t> Sheet<'t> {
    fn of(read: &'t Table) -> Self {
        let origin = read.origin.as_deref();
        Self {
            table: origin.map_or(read, |origin| &origin.table),
            origin,
            columns: origin.map(TableOrigin::columns).unwrap_or_default(),
            is_turned: origin.is_some() && read.is_turned,
        }
    }

    /// Row and column of a cell as it was read.
    fn place(&self, row: usize, column: usize) -> Option<(usize, usize)> {
        let Some(origin) = self.origin else {
            return Some((row, column));
        };
        origin.place_of(row, column)
    }

    /// The column as it was read of a column, or of a row of one that was turned.
    fn column(&self, at: usize) -> Option<usize> {
        match self.origin {
            None => Some(at),
            Some(_) if self.is_turned => Some(at),
            Some(_) => self.columns.get(&at).copied(),
        }
    }

    /// What becomes of a row, counted from 0, of all lists that stand beside each other in it.
    fn standing<'p>(&self, row: usize, taken: Taken<'p>) -> Option<Standing<'p>> {
        let Some(origin) = self.origin else {
            return taken.standing(row + 1);
        };
        let rows = origin.rows_of(row).into_iter();
        let all: Vec<Standing<'_>> = rows.filter_map(|row| taken.standing(row + 1)).collect();
        let first = |which: fn(&Standing<'_>) -> bool| all.iter().copied().find(which);
        first(|s| *s == Standing::Asked)
            .or_else(|| first(|s| *s == Standing::Taken))
            .or_else(|| all.first().copied())
    }
}

/// Draws the table; what a column holds can be changed in its head.
pub(super) fn ui(ui: &mut Ui, read: &Table, layout: &mut Layout, taken: Taken<'_>) {
    let sheet = Sheet::of(read);
    let table = sheet.table;
    let width = table.width().min(MOST);
    let shown = (0..read.width()).filter(|c| taken.takes(*c));
    legend(ui, shown.filter_map(|c| taken.kind(layout, c)));
    let p = theme::palette(ui);
    // Columns are as wide as what stands in them, within reason.
    let widths: Vec<f32> = (0..width)
        .map(|column| {
            let longest = (0..table.rows.len().min(200))
                .map(|row| table.cell(row, column).words().chars().count())
                .max()
                .unwrap_or(0);
            (longest as f32 * 7.5).clamp(96.0, 240.0)
        })
        .collect();
    let before = layout.clone();
    egui::ScrollArea::horizontal()
        .id_salt("source scroll")
        .auto_shrink(false)
        .show(ui, |ui| {
            let mut builder = TableBuilder::new(ui)
                .id_salt("source table")
                .auto_shrink(false)
                .cell_layout(egui::Layout::left_to_right(egui::Align::Center))
                .column(Column::exact(40.0))
                .column(Column::exact(if sheet.is_turned { 120.0 } else { 84.0 }).clip(true));
            for width in widths {
                builder = builder.column(Column::exact(width).clip(true));
            }
            builder
                .header(ROW + 4.0, |mut header| {
                    header.col(|ui| {
                        ui.label(theme::small(ui, "Row"));
                    });
                    header.col(|ui| {
                        let words = if sheet.is_turned { "Holds" } else { "Becomes" };
                        ui.label(theme::small(ui, words));
                    });
                    for column in 0..width {
                        header.col(|ui| {
                            if sheet.is_turned {
                                mark(ui, taken.standing(column + 1));
                            } else {
                                choose_kind(ui, column, sheet.column(column), taken, layout);
                            }
                        });
                    }
                })
                .body(|body| {
                    body.rows(ROW, table.rows.len(), |mut row| {
                        let n = row.index();
                        row.col(|ui| {
                            ui.label(theme::small(ui, (n + 1).to_string()));
                        });
                        row.col(|ui| {
                            if sheet.is_turned {
                                choose_kind(ui, n, sheet.column(n), taken, layout);
                            } else {
                                mark(ui, sheet.standing(n, taken));
                            }
                        });
                        for column in 0..width {
                            row.col(|ui| {
                                let place = sheet.place(n, column);
                                let standing = place.and_then(|(row, _)| taken.standing(row + 1));
                                let kind = place
                                    .filter(|(_, column)| taken.takes(*column))
                                    .and_then(|(_, column)| taken.kind(&before, column));
                                cell(ui, p, table, (n, column), kind, standing);
                            });
                        }
                    });
                });
        });
}

/// What the colours mean, with the words.
fn legend(ui: &mut Ui, kinds: impl Iterator<Item = ColumnKind>) {
    let shown: std::collections::BTreeSet<Group> = kinds.map(Group::of).collect();
    let p = theme::palette(ui);
    ui.horizontal_wrapped(|ui| {
        for group in shown {
            let (rect, _) = ui.allocate_exact_size(Vec2::splat(12.0), egui::Sense::hover());
            ui.painter().rect_filled(rect, 2.0, group.colour(p));
            ui.label(theme::small(ui, group.label()));
        }
        ui.label(theme::small(
            ui,
            "without colour: left out; the head of each column says what it was taken for",
        ));
    });
}

/// A list of everything that a column can hold, which says why it was taken for what it was;
/// `shown` is its place in the file, `read` that as it was read.
fn choose_kind(
    ui: &mut Ui,
    shown: usize,
    read: Option<usize>,
    taken: Taken<'_>,
    layout: &mut Layout,
) {
    let Some(column) = read else {
        return;
    };
    let before = taken.kind(layout, column);
    let mut kind = before;
    let response = ComboBox::from_id_salt(("kind", shown))
        .selected_text(kind.map_or("left out", ColumnKind::label))
        .width(ui.available_width() - 4.0)
        .show_ui(ui, |ui| {
            ui.selectable_value(&mut kind, None, "left out");
            for one in ColumnKind::ALL {
                ui.selectable_value(&mut kind, Some(one), one.label());
            }
        })
        .response
        .accessible_name(format!("Meaning of column {}", shown + 1));
    if let Some(why) = taken.why(column, kind) {
        response.on_hover_text(capital(&why));
    }
    if kind != before {
        layout.assign(column, kind);
    }
}

/// What becomes of a row, in a word.
fn mark(ui: &mut Ui, standing: Option<Standing<'_>>) {
    let Some(standing) = standing else {
        return;
    };
    if standing == Standing::Asked {
        level_mark(ui, Level::Caution);
    }
    let response = ui.label(theme::small(ui, standing.label()));
    if let Standing::LeftOut(why) = standing {
        response.on_hover_text(why);
    }
}

/// A cell, coloured by what it was taken for.
fn cell(
    ui: &mut Ui,
    p: &Palette,
    table: &Table,
    (row, column): (usize, usize),
    kind: Option<ColumnKind>,
    standing: Option<Standing<'_>>,
) {
    let words = table.cell(row, column).words();
    let left_out = matches!(standing, None | Some(Standing::LeftOut(_)));
    let unused = left_out || kind.is_none();
    if !unused
        && !words.is_empty()
        && let Some(kind) = kind
    {
        ui.painter()
            .rect_filled(ui.max_rect(), 0.0, Group::of(kind).colour(p));
    }
    if words.is_empty() {
        return;
    }
    let text = if unused {
        egui::RichText::new(&words).color(p.faint_ink)
    } else {
        egui::RichText::new(&words).color(p.ink)
    };
    let response = ui.add(egui::Label::new(text).truncate());
    if let Some(Standing::LeftOut(why)) = standing {
        response.on_hover_text(format!("{words}: left out, {why}"));
    } else if let Some(struck) = table.struck_words.get(&(row, column)) {
        response.on_hover_text(format!("“{struck}” is struck through and was left out"));
    } else if words.chars().count() > 20 {
        response.on_hover_text(words);
    }
}
